"""Which engine works for how long: ours for a fixed amount of work, or all of them by the clock."""

from collections.abc import Iterator, Sequence
from contextlib import ExitStack

from templategen.errors import StockError
from templategen.nesting.bound import bound
from templategen.nesting.engines.batches import batch, repeated, share_of, stock_for
from templategen.nesting.engines.column_mix import mixed
from templategen.nesting.engines.progress import Progress
from templategen.nesting.engines.rectangles import Rectangles
from templategen.nesting.engines.timed import LARGE, Best, TimedPortfolio
from templategen.nesting.stock import Item, Layout, Piece

SHARP = 10.0
"""In less time by the clock, s, the sharper bound would take half a second of what the search needs."""


def fixed(
    items: Sequence[Item], pieces: Sequence[Piece], spacing: float, progress: Progress | None = None
) -> Iterator[Layout]:
    """Layouts by a fixed amount of work of our own engine: all at once, for batches also one set, repeated, and by
    their cheapest mix of filled pieces."""
    sets = batch(items)
    first = Rectangles().nest(items, pieces, spacing, None, progress)
    yield first
    if len(first.sheets) == 1:
        # Nothing is left to save but the offcut, which chance decides: it is drawn twice.
        yield Rectangles(seed=2).nest(items, pieces, spacing)
    elif sets == 1:
        yield Rectangles(sections=False, crosscuts=False).nest(items, pieces, spacing)
    if sets > 1:
        one = Rectangles().nest(share_of(items, sets), stock_for(pieces, sets), spacing)
        yield repeated(one, sets, pieces)
    if sum(item.count for item in items) > LARGE and (by_mix := mixed(items, pieces, spacing)) is not None:
        yield by_mix


def portfolio(
    items: Sequence[Item],
    pieces: Sequence[Piece],
    spacing: float,
    seconds: float,
    best: Best,
    progress: Progress | None = None,
    outside: bool = True,
) -> Iterator[Layout]:
    """Better and better layouts until `seconds` have gone by the clock, or the best one meets the bound.

    `outside` False leaves the solver out that works in a process of its own.
    """
    sets = batch(items)
    with ExitStack() as stack:
        race = TimedPortfolio(items, pieces, spacing, seconds, best, sets)
        if outside:
            race.bring(stack)
        race.least = _least(items, pieces, spacing, sharp=seconds >= SHARP)
        if outside:
            race.bring_another(stack)
        yield from race.run(progress)


def _least(items: Sequence[Item], pieces: Sequence[Piece], spacing: float, sharp: bool) -> float:
    try:
        return bound(items, pieces, spacing, scaled=sharp).cost
    except StockError:
        return 0.0
