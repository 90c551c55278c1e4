"""The plan: an order in which every part moves home along a straight line, or what locks."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from templategen.catalogue import translated, worded
from templategen.fit.apart import taken_apart
from templategen.fit.bench import GROUND, TOP, Bench, Move
from templategen.fit.ring import all_at_once, chained, in_two_halves
from templategen.fit.way import DOWN, UP, Copy, Vector
from templategen.joinery.joint import Joint
from templategen.table.assembly import Table

Closing = Literal["stop", "scrap", "measure", "halves"]
"""All segments to a stop; to a stop set by a ring of scrap; the last one to measure; two halves trimmed straight."""


@dataclass(frozen=True, slots=True)
class Step:
    """One stage: these copies come home, one after another in this order, or all at once when `together`.

    `glued` are the glued joints that the stage closes (positions in the table's list), `at_once` how many of
    them close in one go. `last` says that it is the first stage of those that make the ring's last joints: what is
    trimmed or cut to measure for them is done before it, `lets_down` that the closed top comes down on its legs.
    """

    does: str
    moves: tuple[Move, ...]
    together: bool
    glued: tuple[int, ...]
    at_once: int
    last: bool = False
    lets_down: bool = False

    @property
    def along(self) -> Vector:
        """The one way of all moves, or no way when they differ."""
        ways = {move.way for move in self.moves}
        return next(iter(ways)) if len(ways) == 1 else (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Plan:
    """Steps in working order, how the ring closes, and pairs of copies (each other's blockers) where it locks.

    `closing` is the way of working the ring's last joints: the first of those wished for that its parts allow.
    """

    steps: tuple[Step, ...]
    ring: str
    locked: tuple[tuple[str, str], ...] = ()
    closing: Closing = "stop"


LET_DOWN = "let the top down on the legs"
"""What the last step of a table does."""

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
    last: bool = False
    lets_down: bool = False


def plan_assembly(table: Table, wishes: Sequence[Closing] = ("stop",)) -> Plan:
    """The order of assembly.

    Pedestal and top are put together each by itself, then the top is let down on the legs. Half rings are glued
    before the cross that they close on, since both lie on one board. The ring is closed in the
    first of the ways wished for that its parts allow: one segment at a time, the last one by itself where it is cut
    to measure; in two halves. Where it goes in no way wished for, in halves all the same, else all at once.
    """
    bench = Bench.of(table)
    top, ground = bench.of_kinds(TOP), bench.of_kinds(GROUND)
    pedestal = taken_apart(bench, ground, GROUND)
    on = _ring_on(bench, top, wishes)
    core = taken_apart(bench, bench.of_kinds(("slat", "rail")), TOP)
    lift = bench.blockers(top, ground, UP)
    left = (*pedestal.left, *core.left)
    if left or lift or not on.rounds:
        return Plan((), on.ring, _locks(bench, left or _ring_copies(top), top, ground, lift), on.closing)
    apart = [one for one in on.rounds if one.place != "top"]
    first = [*_backwards(pedestal.rounds, "pedestal"), *apart]
    rounds = [*first, *_backwards(core.rounds, "top"), *(one for one in on.rounds if one.place == "top")]
    down = tuple(Move(copy.index, copy.code, DOWN) for copy in top)
    rounds.append(_Round(translated(LET_DOWN), down, True, "pedestal", lets_down=True))
    return Plan(tuple(_steps(table, rounds)), on.ring, (), on.closing)


@dataclass(frozen=True, slots=True)
class _RingOn:
    """How the ring comes on: its name among `RING_WAYS`, the rounds, none where it can't; how it is closed."""

    ring: str
    rounds: tuple[_Round, ...]
    closing: Closing


def _ring_on(bench: Bench, top: Sequence[Copy], wishes: Sequence[Closing]) -> _RingOn:
    """How the ring comes on over what then stands already."""
    single = halves = None
    for wish in wishes:
        if wish == "halves":
            halves = _in_halves(bench) if halves is None else halves
            if halves:
                return _RingOn("two halves", halves, wish)
            continue
        single = _one_by_one(bench, top) if single is None else single
        if single:
            return _RingOn("one by one", _last_alone(bench, single) if wish == "measure" else single, wish)
    if halves is None and (halves := _in_halves(bench)):
        return _RingOn("two halves", halves, "halves")
    plain: Closing = next((wish for wish in wishes if wish in ("stop", "scrap")), "stop")
    back = tuple(move.back for move in all_at_once(bench))
    if back:
        drawn = _Round(translated("draw the whole ring in with its splines"), back, True, last=True)
        return _RingOn("all together", (drawn,), plain)
    return _RingOn("locked", (), plain)


def _one_by_one(bench: Bench, top: Sequence[Copy]) -> tuple[_Round, ...]:
    """The rounds in which segments and splines come on singly; none where they can't."""
    single = taken_apart(bench, top, ("spline", "rim-segment"))
    if {copy.index for copy in single.left} != {copy.index for copy in top if copy.kind in ("slat", "rail")}:
        return ()
    rounds = _backwards(single.rounds, "top")
    at = _last_segments(bench, rounds)
    return (*rounds[:at], replace(rounds[at], last=True), *rounds[at + 1 :])


def _last_segments(bench: Bench, rounds: Sequence[_Round]) -> int:
    """The round in which the last segment comes on."""
    kinds = [bench.copies[one.moves[-1].index].kind for one in rounds]
    return len(kinds) - 1 - kinds[::-1].index("rim-segment")


def _last_alone(bench: Bench, rounds: Sequence[_Round]) -> tuple[_Round, ...]:
    """The same, the last segment by itself: one that no rail's tenon goes into, if there is one."""
    at = _last_segments(bench, rounds)
    arms = {index for joint in bench.table.joints if joint.kind == "rail-tenon" for index in joint.placed}
    last = max(rounds[at].moves, key=lambda move: move.index not in arms)
    others = [move for move in rounds[at].moves if move is not last]
    first = _Round(_words(others), tuple(others))
    closes = worded("close the ring with the last {code}", code=last.code)
    return (*rounds[:at], first, _Round(closes, (last,), last=True), *rounds[at + 1 :])


def _in_halves(bench: Bench) -> tuple[_Round, ...]:
    """The rounds of two half rings, each put together flat; the splines between them go in once its ends are true."""
    halves = in_two_halves(bench)
    chains = [chained(bench, half) for half in (halves.first, halves.second)] if halves else []
    if not halves or not all(chains):
        return ()
    between = [move for move in chains[1] if _is_between(bench, move, chains[1])]
    own = tuple(move for move in chains[1] if move not in between)
    glued = (worded("glue half ring {number} flat on a board", number=number) for number in (1, 2))
    rounds = [_Round(does, moves, False, f"half {number}")
              for number, (does, moves) in enumerate(zip(glued, (chains[0], own), strict=True), 1)]  # fmt: skip
    if between:
        rounds.append(
            _Round(translated("glue the last splines into half ring 2"), tuple(between), False, "half 2", True)
        )
    back = tuple(move.back for move in (*halves.first, *halves.second))
    rounds.append(_Round(translated("close the two half rings on the cross"), back, True, last=not between))
    return tuple(rounds)


def _is_between(bench: Bench, move: Move, half: Sequence[Move]) -> bool:
    """Whether it is a spline of a joint between the halves: it touches but one segment of its own half."""
    if bench.copies[move.index].kind != "spline":
        return False
    own = {one.index for one in half}
    mates = [joint.placed for joint in bench.table.joints if joint.kind == "spline" and move.index in joint.placed]
    return sum(len(own.intersection(pair)) == 2 for pair in mates) < 2


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
    return worded("add {codes}", codes=", ".join(codes))


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
        yield Step(stage.does, stage.moves, stage.together, tuple(closed), at_once, stage.last, stage.lets_down)


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
