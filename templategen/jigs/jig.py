"""The jig: the pieces it is made of, what is scribed on them, the figures it stands by and how to prove it."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from templategen.catalogue import translated
from templategen.english import language
from templategen.errors import DesignError, Fault
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import distance_to
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ON_EDGE
from templategen.parts.part import Part, PartKind
from templategen.parts.revision import named, point_figures, wood_figures
from templategen.table.assembly import Table
from templategen.table.profile.choices import Machine

SAWS: tuple[Machine, ...] = ("table saw", "mitre saw", "circular saw", "bandsaw")

GAUGED: tuple[Machine, ...] = ("table saw", "mitre saw")
"""Saws whose fence or gauge is set to an angle."""

ROUTERS: tuple[Machine, ...] = ("router table", "hand router")

KINDS: frozenset[PartKind] = frozenset({"jig", "gauge", "template", "caul", "spacer"})
"""Kinds of parts that are pieces of jigs, made once however many tables are."""

ScribeKind = Literal["line", "witness", "scale", "hatch", "point", "name"]
"""A line to work to; a mark that two pieces share; a division of a scale; an area to heed; a point to centre on; a
name, which stands along the line on what it names: drawn is that only where the words are led away from it."""


def has_any(table: Table, machines: tuple[Machine, ...]) -> bool:
    """Whether the shop has one of these: what is said of machines is said where they are."""
    return any(one in table.profile.shop.machines for one in machines)


@dataclass(frozen=True, slots=True)
class Scribe:
    """A line on the top of one of the jig's pieces, in that piece's frame, mm; nothing cuts along it.

    `words` stand beside its middle. A `point` is a short line whose middle is meant. Where level and upright lines
    lie is told anyway; both ends of a slanting one are where it is `placed`.
    """

    part: str
    kind: ScribeKind
    edge: Edge
    words: str = ""
    placed: bool = False


@dataclass(frozen=True, slots=True)
class Critical:
    """A dimension that the jig's accuracy depends on.

    `value` is in `unit` ("mm" or "deg"). `span` are the two points of the piece's frame it is measured between, where
    it is a distance on one piece. `how` is the formula it comes from, in the words of `explain`.
    """

    name: str
    value: float
    unit: str
    part: str = ""
    span: tuple[Point, Point] | None = None
    how: str = ""


@dataclass(frozen=True)
class Jig:
    """One jig. `parts` are its pieces, of a kind that a packet knows for jigs; `serves` the codes of the parts made
    with it, `angle` the one in degrees off square at whose cuts to a stop it serves, where it is for one alone.

    `use` are the steps in order, `ways` is a table of how each piece lies in it, its first row the heads, `proof` the
    test cut or measure before its first use, `cautions` stand where the step is.
    """

    code: str
    name: str
    serves: tuple[str, ...]
    parts: tuple[Part, ...]
    scribes: tuple[Scribe, ...] = ()
    figures: tuple[Critical, ...] = ()
    use: tuple[str, ...] = ()
    proof: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    angle: float | None = None
    ways: tuple[tuple[str, ...], ...] = ()

    @property
    def told(self) -> tuple[str, ...]:
        """Its use in lines, the table's rows after the steps."""
        return (*self.use, *(" | ".join(row) for row in self.ways))

    @cached_property
    def revision(self) -> str:
        """A short name for its pieces and what is scribed on them; it changes when one of these does."""
        scribed = (
            f"{one.part} {one.kind} {point_figures((e.start, e.point_at(0.5), e.end))} {one.words}"
            for one, e in ((one, one.edge) for one in self.scribes)
        )
        return named((*wood_figures(*self.parts), *scribed))


def seats(jigs: Iterable[Jig]) -> dict[str, tuple[Line, ...]]:
    """By the piece's code, its straight edges that a critical distance runs along, or starts or ends on."""
    return {part.code: tuple(_seats(jig, part)) for jig in jigs for part in jig.parts}


def _seats(jig: Jig, part: Part) -> Iterator[Line]:
    spans = [figure for figure in jig.figures if figure.part == part.code]
    for edge in part.outline.edges:
        if isinstance(edge, Line) and any(_works(edge, figure) for figure in spans):
            yield edge


def _works(edge: Line, figure: Critical) -> bool:
    """Whether both ends of the distance lie on the edge, or one lies between its ends."""
    if figure.span is None:
        return False
    on = [distance_to(edge, end) < ON_EDGE for end in figure.span]
    return all(on) or any(
        is_on and min(end.distance(edge.start), end.distance(edge.end)) > ON_EDGE
        for is_on, end in zip(on, figure.span, strict=True)
    )


Builder = Callable[[Table], Iterable[Jig]]
"""One kind of jig: none, one or several for a table."""


def jigs_that_go(table: Table, builders: Iterable[Builder]) -> tuple[tuple[Jig, ...], tuple[Fault, ...]]:
    """The jigs that the shop's tools can make, and why it can't make the others; the table can still be built."""
    jigs: list[Jig] = []
    faults: list[Fault] = []
    for build in builders:
        try:
            jigs.extend(map(_told, build(table)))
        except DesignError as refusal:
            faults.extend(refusal.faults)
    return tuple(jigs), tuple(dict.fromkeys(faults))


def _told(jig: Jig) -> Jig:
    """The jig with its fixed words in the language that is spoken."""
    if language() == "english":
        return jig
    parts = (replace(one, name=translated(one.name), notes=tuple(map(translated, one.notes))) for one in jig.parts)
    figures = (replace(one, name=translated(one.name), how=translated(one.how)) for one in jig.figures)
    scribes = (replace(one, words=translated(one.words)) if one.words else one for one in jig.scribes)
    use, proof = tuple(map(translated, jig.use)), tuple(map(translated, jig.proof))
    return replace(
        jig,
        name=translated(jig.name),
        parts=tuple(parts),
        scribes=tuple(scribes),
        figures=tuple(figures),
        use=use,
        proof=proof,
    )
