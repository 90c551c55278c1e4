"""A layout at once, for what isn't worth a long search: the pieces of jigs on cheap sheet."""

from collections.abc import Sequence

from templategen.errors import StockError
from templategen.nesting.engines.rectangles import Rectangles
from templategen.nesting.nest import sawn
from templategen.nesting.stock import Item, Layout, Piece
from templategen.nesting.verify import verify

EFFORT = 0.001
"""Effort of our own engine, seconds of an ordinary machine: a fixed amount of work, a few dozen fillings."""


def nest_at_once(items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> Layout:
    """One proved layout, every item in its own box; the same call gives the same layout everywhere.

    Raises:
        StockError: the layout can't be proved.
    """
    layout = Rectangles(plain=True).nest(items, pieces, spacing, EFFORT)
    faults = verify(layout, items, pieces, spacing)
    layout, refused = sawn(layout, items, spacing)
    if faults or refused:
        raise StockError((*faults, *(fault for told in refused.values() for fault in told)))
    return layout
