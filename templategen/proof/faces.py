"""One face of a part as a drawing shows it, held against the record: its wood, its work, and work seen through it."""

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property

from templategen.catalogue import meant, translated, worded
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline
from templategen.geometry.placement import OVER, Placement
from templategen.geometry.point import Point
from templategen.proof.drawn import Drawn
from templategen.proof.lines import Lines
from templategen.proof.outlines import TRUE, apart, describe_miss, places, worst_off
from templategen.proof.pockets import ON, Ground, parted, pocket_off
from templategen.proof.recorded import BOTTOM, TOP, Recorded, RecordedWork

OUTSIDE, INSIDE, WOOD, HIDDEN = "THROUGH_OUTSIDE", "THROUGH_INSIDE", "FACE_OUTLINE", "HIDDEN"

WORKED = re.compile(
    r"(TOP|BOTTOM|EDGE\d+|END\d+)_(GROOVE|TONGUE|TENON|MORTISE|LAP|SPLINE_SLOT|HOLE|ROUND_OVER|CHAMFER|BEAD|RELIEF"
    r"|DRIP_GROOVE|COUNTERBORE|CROSS_BORE|BOLT_HOLE|PIN_SLOT|PEG_HOLE)_(\d+)(?:_(\d+))?(MM|IN)"
)
"""A layer of work: its face, its kind, its depth with the decimals behind an underscore, and the unit."""

UNIT = {"MM": (1.0, 0.0005), "IN": (25.4, 0.00005)}
"""Millimetres to a unit, and how far a depth told in it may be rounded."""

ABOUT = 70.0
"""Work is drawn no further from its wood, mm."""


def shows(layer: str, work: RecordedWork) -> bool:
    """Whether the layer's name tells the work's face, its kind and its depth, to the last digit that it carries."""
    match = WORKED.fullmatch(layer)
    told = f"{work.face.replace('-', '')}_{work.kind.replace('-', '_')}".upper()
    if match is None or f"{match[1]}_{match[2]}" != told:
        return False
    unit, rounded = UNIT[match[5]]
    return abs(float(f"{match[3]}.{match[4] or 0}") - work.depth / unit) <= rounded + 1e-9


@dataclass(frozen=True)
class Site:
    """A face of a part where it stands on a drawing: its own origin lies at `at`."""

    part: Recorded
    face: str
    at: Point

    @cached_property
    def _way(self) -> Placement:
        return Placement(*self.at)

    def moved(self, outline: Outline) -> Outline:
        """An outline of the face where the drawing has it."""
        return self._way.outline(outline)

    @cached_property
    def wood(self) -> Outline:
        """The face's own outline."""
        wood = self.part.wood(self.face)
        return self.moved(wood if wood is not None else self.part.outline)

    @cached_property
    def holes(self) -> tuple[Outline, ...]:
        """What goes through, as this face shows it; nothing on upright faces."""
        if self.face not in (TOP, BOTTOM):
            return ()
        return tuple(self.moved(OVER.outline(hole) if self.face == BOTTOM else hole) for hole in self.part.holes)

    @cached_property
    def works(self) -> tuple[RecordedWork, ...]:
        """What is cut into the face."""
        return tuple(replace(work, outline=self.moved(work.outline)) for work in self.part.on(self.face))

    def lines_of(self, work: RecordedWork) -> list[Edge]:
        """Where work has lines: all round, but not where work along the rim only goes on as the next."""
        edges = list(work.outline.edges)
        if not work.runs_along:
            return edges
        beside = [one.outline for one in self.works if one.runs_along and one.number != work.number]
        pieces = parted(edges, [edge for ring in beside for edge in ring.edges])
        return [one for one in pieces if all(ring.distance(one.point_at(0.5)) > ON for ring in beside)]

    @cached_property
    def dashed(self) -> tuple[Edge, ...]:
        """Work on other faces: seen through the top and the underside, open at upright ones."""
        if self.face in (TOP, BOTTOM):
            lines = [edge for ring in self.part.seen_through(self.face) for edge in self.moved(ring).edges]
            return tuple(inside(lines, self.wood))
        return tuple(self._way.edge(edge) for edge in _notches(self.part, self.face))


@dataclass(slots=True)
class Seen:
    """What a face was found to be: its misses, the outlines that belong to it, which strokes each layer may have
    besides, and how much was measured by kind of work."""

    misses: list[tuple[str, str]] = field(default_factory=list)
    rings: set[int] = field(default_factory=set)
    strokes: dict[str, list[Edge]] = field(default_factory=lambda: defaultdict(list))
    measured: Counter[tuple[str, str]] = field(default_factory=Counter)


def see(site: Site, drawn: Drawn) -> Seen:
    """Measures one face."""
    seen = Seen()
    box = site.wood.bounds.grown(ABOUT)
    lines = Lines([edge for edge in drawn.edges() if edge.bounds.meets(box)])
    _rings(site, drawn, seen)
    ground = Ground(site.wood, site.works)
    for work in site.works:
        miss = _along(work, site, lines, seen, drawn) if work.runs_along else _pocket(work, ground, drawn, seen)
        if miss:
            seen.misses.append((worded("{what} on {face}", what=translated(work.kind), face=site.face), miss))
        seen.measured[work.kind, plainly(site.face)] += 1
    layer = HIDDEN if site.face in (TOP, BOTTOM) else WOOD
    seen.strokes[layer] += site.dashed
    off, at = lines.worst(list(places(site.dashed)))
    if off > TRUE:
        seen.misses.append((worded("{face}, work of other faces", face=site.face), describe_miss(off, at)))
    return seen


def named(face: str) -> str:
    """A face as drawings name it in the language that is spoken."""
    kind, _, number = face.partition("-")
    return translated(VIEWS[face]) if face in VIEWS else f"{translated(kind)} {number}"


def title_of(part: Recorded, face: str) -> str:
    """What stands over a face's view: its name, and of an upright face which edge or end of the part it is."""
    side = part.sides.get(face)
    if side is None:
        return named(face)
    low, high = ("inner", "outer") if part.record["kind"] == "rim-segment" else ("lower", "upper")
    across = f"{'right' if side.along.y > 0 else 'left'} end"
    told = across if face.startswith("end") else f"{low if side.along.x > 0 else high} edge"
    return f"{named(face)} ({meant(told, f'{told} of a piece')})"


VIEWS = {TOP: "top face", BOTTOM: "underside (turned over left to right)"}


def plainly(face: str) -> str:
    """The kind of face: top, bottom, edge, end."""
    return face.partition("-")[0]


def _rings(site: Site, drawn: Drawn, seen: Seen) -> None:
    """The wood and its holes, on the layers that cut them out or only show them."""
    cut = site.face == TOP
    wanted = [("outline", site.wood, OUTSIDE if cut else WOOD)]
    wanted += [("hole", hole, INSIDE if cut else WOOD) for hole in site.holes]
    for what, ring, layer in wanted:
        found = [(apart(ring, other), id(other)) for other in drawn.rings.get(layer, ())]
        (off, at), which = min(found, key=lambda one: one[0][0], default=((float("inf"), ring.edges[0].start), 0))
        if off > TRUE:
            seen.misses.append(
                (worded("{what} on {face}", what=translated(what), face=site.face), describe_miss(off, at))
            )
        seen.rings.add(which)


def _pocket(work: RecordedWork, ground: Ground, drawn: Drawn, seen: Seen) -> str:
    """What is wrong with a pocket, "" for nothing."""
    near = ground.wood.bounds.grown(ABOUT)
    rings = [
        ring
        for layer, rings in drawn.rings.items()
        if shows(layer, work)
        for ring in rings
        if id(ring) not in seen.rings and ring.bounds.meets(near)
    ]
    found = [(pocket_off(work, ring, ground), id(ring)) for ring in rings]
    if not found:
        known = (other for layer, rings in drawn.rings.items() if WORKED.fullmatch(layer) for other in rings)
        again = any(apart(work.outline, other)[0] <= TRUE for other in known if other.bounds.meets(near))
        alike = sum(1 for other in ground.pockets if apart(work.outline, other.outline)[0] <= TRUE)
        return (
            ""
            if again and alike > 1
            else worded("isn't drawn on a layer of its kind and {depth:g} mm", depth=work.depth)
        )
    (off, at), which = min(found, key=lambda one: one[0][0])
    seen.rings.add(which)
    return describe_miss(off, at) if off > TRUE else ""


def _along(work: RecordedWork, site: Site, lines: Lines, seen: Seen, drawn: Drawn) -> str:
    """The same of work along the rim: the line on which its cutter ends, where no other line lies already."""
    for layer in drawn.strokes:
        if shows(layer, work):
            seen.strokes[layer] += work.outline.edges
    off, at = lines.worst(list(places(site.lines_of(work))))
    return describe_miss(off, at) if off > TRUE else ""


def strays(drawn: Drawn, faces: Iterable[Seen]) -> Iterator[tuple[str, str]]:
    """Outlines and strokes on layers of wood and work that no face has."""
    known = list(faces)
    rings = {ring for seen in known for ring in seen.rings}
    for layer in drawn.layers:
        if layer in (OUTSIDE, INSIDE, WOOD, HIDDEN) or WORKED.fullmatch(layer):
            for ring in drawn.rings.get(layer, ()):
                if id(ring) not in rings:
                    yield (
                        layer,
                        worded("an outline at {spot} that the record doesn't have", spot=_spot(ring.edges[0].start)),
                    )
            allowed = [edge for seen in known for edge in seen.strokes.get(layer, ())]
            for stroke in drawn.strokes.get(layer, ()):
                off, at = worst_off([stroke], allowed)
                if off > TRUE and at is not None:
                    yield layer, worded("a line at {spot} that the record doesn't have", spot=_spot(at))


def _spot(point: Point) -> str:
    return f"({point.x:.2f}, {point.y:.2f})"


def inside(edges: Iterable[Edge], wood: Outline) -> Iterator[Edge]:
    """The pieces of the edges that lie in the wood."""
    for piece in parted(edges, wood.edges):
        if wood.contains(piece.point_at(0.5), ON):
            yield piece


def _notches(part: Recorded, face: str) -> Iterator[Edge]:
    """Floors and sides, in an upright face's frame, of pockets of top and bottom that are open there."""
    side = part.sides[face]
    foot = Line(side.start, side.start.plus(side.along, side.wood.bounds.width))
    for work in part.works:
        if work.face not in (TOP, BOTTOM) or work.runs_along:
            continue
        top = part.thickness if work.face == TOP else 0.0
        floor = part.thickness - work.depth if work.face == TOP else work.depth
        for first, last in _shared(foot, part.from_above(work)):
            yield Line(Point(first, floor), Point(last, floor))
            yield from (Line(Point(u, floor), Point(u, top)) for u in (first, last))


def _shared(foot: Line, ring: Outline) -> Iterator[tuple[float, float]]:
    """From where to where along the foot the ring runs on it."""
    along = foot.direction_at(0.0)
    for edge in ring.edges:
        ends = [end.minus(foot.start) for end in (edge.start, edge.end)]
        if isinstance(edge, Line) and all(abs(end.cross(along)) < ON for end in ends):
            first, last = sorted(end.dot(along) for end in ends)
            first, last = max(first, 0.0), min(last, foot.length)
            if last - first > ON:
                yield first, last
