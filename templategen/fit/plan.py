"""The plan: an order in which every part moves home along a straight line, or what locks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from templategen.fit.apart import taken_apart
from templategen.fit.bench import GROUND, TOP, Bench, Move
from templategen.fit.ring import chained, drawn_together, in_two_halves
from templategen.fit.way import DOWN, UP, Copy, Vector
from templategen.joinery.joint import Joint
from templategen.table.assembly import Table


@dataclass(frozen=True, slots=True)
class Step:
    """One stage: these copies come home, one after another in this order, or all at once when `together`.

    `glued` are the glued joints that the stage closes (positions in the table's list), `at_once` how many of
    them close in one go.
    """

    does: str
    moves: tuple[Move, ...]
    together: bool
    glued: tuple[int, ...]
    at_once: int

    @property
    def along(self) -> Vector:
        """The one way of all moves, or no way when they differ."""
        ways = {move.way for move in self.moves}
        return next(iter(ways)) if len(ways) == 1 else (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Plan:
    """Steps in working order, how the ring closes, and pairs of copies (each other's blockers) where it locks."""

    steps: tuple[Step, ...]
    ring: str
    locked: tuple[tuple[str, str], ...] = ()


RING_WAYS = {
    "one by one": "the segments come on one at a time, straight inwards",
    "two halves": "two half rings, glued beforehand, close on the cross from both sides",
    "all together": "all segments are drawn in at once, as a band clamp does",
    "locked": "the ring can't be closed",
}


@dataclass(frozen=True, slots=True)
class _Round:
    """Moves of one stage in working order; `place` is the sub-assembly that they join."""

    does: str
    moves: tuple[Move, ...]
    together: bool = False
    place: str = "top"


def plan_assembly(table: Table) -> Plan:
    """The order of assembly.

    Pedestal and top are put together each by itself, then the top is let down on the legs. The ring is closed
    one segment at a time if that goes, else in two halves, else all at once.
    """
    bench = Bench.of(table)
    top, ground = bench.of_kinds(TOP), bench.of_kinds(GROUND)
    pedestal = taken_apart(bench, ground, GROUND)
    way, ring_rounds, rest = _ring_on(bench, top)
    core = taken_apart(bench, rest, TOP)
    lift = bench.blockers(top, ground, UP)
    left = (*pedestal.left, *core.left)
    if left or lift or way == "locked":
        return Plan((), way, _locks(bench, left or _ring_copies(top), top, ground, lift))
    rounds = [*_backwards(pedestal.rounds, "pedestal"), *_backwards(core.rounds, "top"), *ring_rounds]
    down = tuple(Move(copy.index, copy.code, DOWN) for copy in top)
    rounds.append(_Round("let the top down on the legs", down, True, "pedestal"))
    return Plan(tuple(_steps(table, rounds)), way)


def _ring_on(bench: Bench, top: Sequence[Copy]) -> tuple[str, list[_Round], tuple[Copy, ...]]:
    """How the ring comes on, in which rounds, and what then stands already."""
    single = taken_apart(bench, top, ("spline", "rim-segment"))
    inside = tuple(copy for copy in top if copy.kind in ("slat", "rail"))
    if {copy.index for copy in single.left} == {copy.index for copy in inside}:
        return "one by one", _backwards(single.rounds, "top"), inside
    halves = in_two_halves(bench)
    if halves is not None:
        chains = [chained(bench, half) for half in (halves.first, halves.second)]
        if all(chains):
            rounds = [
                _Round(f"glue half ring {number} flat on a board", chain, False, f"half {number}")
                for number, chain in enumerate(chains, 1)
            ]
            back = tuple(move.back for move in (*halves.first, *halves.second))
            return "two halves", [*rounds, _Round("close the two half rings on the cross", back, True)], inside
    drawn = drawn_together(bench)
    if drawn:
        back = tuple(move.back for move in drawn)
        return "all together", [_Round("draw the whole ring in with its splines", back, True)], inside
    return "locked", [], inside


def _ring_copies(top: Sequence[Copy]) -> tuple[Copy, ...]:
    return tuple(copy for copy in top if copy.kind in ("rim-segment", "spline"))


def _backwards(rounds: Sequence[tuple[Move, ...]], place: str) -> list[_Round]:
    """Rounds of a taking-apart, turned into rounds of assembly."""
    return [
        _Round(_words(moves), tuple(move.back for move in reversed(moves)), False, place)
        for moves in reversed(rounds)
    ]


def _words(moves: Sequence[Move]) -> str:
    codes = sorted({move.code for move in moves})
    return "add " + ", ".join(codes)


def _steps(table: Table, rounds: Iterable[_Round]) -> Iterator[Step]:
    """The rounds with the glued joints that each closes: those whose two copies then stand in one sub-assembly."""
    place: dict[int, str] = {}
    waiting = {number: joint for number, joint in enumerate(table.joints) if joint.traits.glued}
    for stage in rounds:
        closed: list[int] = []
        at_once = 0
        for moves in (stage.moves,) if stage.together else tuple((move,) for move in stage.moves):
            place.update((move.index, stage.place) for move in moves)
            now = [number for number, joint in waiting.items() if _is_closed(joint, place)]
            for number in now:
                del waiting[number]
            closed += now
            at_once = max(at_once, len(now))
        yield Step(stage.does, stage.moves, stage.together, tuple(closed), at_once)


def _is_closed(joint: Joint, place: dict[int, str]) -> bool:
    """Whether both copies of the joint stand in one sub-assembly."""
    one, other = (place.get(index) for index in joint.placed)
    return one is not None and one == other


def _locks(
    bench: Bench,
    left: Sequence[Copy],
    top: Sequence[Copy],
    ground: Sequence[Copy],
    lift: Sequence[tuple[Copy, Copy]],
) -> tuple[tuple[str, str], ...]:
    """Which kinds of part hold which, each pair once."""
    pairs = {(one.code, other.code) for one, other in lift}
    standing = (*top, *ground)
    for copy in left:
        ways = bench.ways(copy)
        others = [o for o in standing if o.index != copy.index]
        for way in ways[:1]:
            pairs |= {(copy.code, other.code) for other in others if bench.blocks(copy, other, way)}
    return tuple(sorted(pairs))
