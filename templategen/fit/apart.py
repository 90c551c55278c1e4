"""Taking apart: round after round, whatever can leave leaves; put together is the same backwards."""

from collections.abc import Sequence
from dataclasses import dataclass

from templategen.fit.bench import Bench, Move
from templategen.fit.way import UP, Copy


@dataclass(frozen=True, slots=True)
class Apart:
    """Rounds in the order of taking apart, each the moves of copies of one kind; `left` is what can't leave."""

    rounds: tuple[tuple[Move, ...], ...]
    left: tuple[Copy, ...]


def taken_apart(bench: Bench, copies: Sequence[Copy], kinds: Sequence[str]) -> Apart:
    """Takes `copies` apart, kinds in the order given, one copy at a time.

    Taking one away never blocks another, so whatever is left in the end can't leave in any order of single moves
    along the bench's ways.
    """
    left = list(copies)
    rounds: list[tuple[Move, ...]] = []
    while left:
        moves = next((found for kind in kinds if (found := _round(bench, left, kind))), ())
        if not moves:
            break
        rounds.append(moves)
        gone = {move.index for move in moves}
        left = [copy for copy in left if copy.index not in gone]
    return Apart(tuple(rounds), tuple(left))


def _round(bench: Bench, left: Sequence[Copy], kind: str) -> tuple[Move, ...]:
    """The copies of one kind that can leave as things stand; rails leave upwards as long as one can."""
    moves = []
    for copy in (copy for copy in left if copy.kind == kind):
        way = bench.way_out(copy, left)
        if way is not None:
            moves.append(Move(copy.index, copy.code, way))
    up = [move for move in moves if move.way == UP]
    return tuple(up if up and kind.endswith("rail") else moves)
