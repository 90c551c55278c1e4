"""The plan of work as it is written in the record: operations, their figures, and how each piece lies."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from templategen.catalogue import translated, worded
from templategen.proof.read_record import Record


class Misfit(Exception):  # noqa: N818 - the trade's word
    """Figures of one operation that contradict each other, or that can't be worked."""


@dataclass(frozen=True, slots=True)
class Lay:
    """How pieces of one part lie in a cut; sides are told as the part's drawing lies, `over` that the tool goes over
    the piece, `led` that it is led over it by hand, along what is clamped there."""

    code: str
    pieces: int
    worked: str
    up: str
    against: str
    stop_at: str
    swung: bool
    over: bool = False
    led: bool = False


@dataclass(frozen=True)
class Cut:
    """One cut of one operation, with every figure that holds for it."""

    does: str
    figures: Mapping[str, float]
    lays: tuple[Lay, ...]
    ring: tuple[str, float] = ("", 0.0)
    """A part of the ring that is cut beside it, and how far from the pivot the middle of its inner edge lies."""

    def value(self, name: str) -> float:
        """A figure that must be there."""
        if name not in self.figures:
            raise Misfit(worded("no {name} is told", name=name))
        return self.figures[name]


@dataclass(frozen=True)
class Doing:
    """One operation of the plan."""

    record: Record

    @cached_property
    def does(self) -> str:
        """What is done."""
        return str(self.record["operation"])

    @property
    def name(self) -> str:
        """Its place in the plan."""
        return worded("operation {number}, {does}", number=self.record["number"], does=translated(self.does))

    @property
    def cuts(self) -> Iterator[Cut]:
        """Its cuts by figures, none where it has none."""
        set_up = self.record.get("set_up", {})
        goes = {"over": set_up.get("way") not in ("auto", "machine"), "led": set_up.get("way") == "hand-held"}
        shared, ring = _figures(set_up), ("", 0.0)
        for cut in sorted(set_up.get("cuts", ()), key=lambda one: "pivot" not in _figures(one)):
            figures, lays = {**shared, **_figures(cut)}, tuple(Lay(**lay, **goes) for lay in cut["lays"])
            ring = (lays[0].code, figures["pivot"]) if "pivot" in figures and lays else ring
            yield Cut(self.does, figures, lays, ring)

    @property
    def machine(self) -> str:
        """The machine that its figures are set at."""
        return str(self.record.get("set_up", {}).get("machine", ""))

    @property
    def cutter(self) -> str:
        """What cuts in it."""
        return str(self.record.get("set_up", {}).get("cutter", ""))

    def warns_of(self, code: str) -> bool:
        """Whether a caution names the part."""
        return any(code in told for told in self.record["cautions"])


def _figures(entry: Record) -> dict[str, float]:
    return {one["name"]: float(one["value"]) for one in entry.get("settings", ())}
