"""Parts in holes: they fit, they are counted, and none is put where a saw would have to reach it."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from templategen.geometry.outline import circle, rectangle
from templategen.nesting.engines.holes import fill_holes
from templategen.nesting.nest import nest, proved
from templategen.nesting.stock import Item, Piece

RING = Item("ring", circle(0, 0, 230), 2, holes=(circle(0, 0, 150),))
DISC = Item("disc", circle(0, 0, 140), 3)
BAR = Item("bar", rectangle(0, 0, 90, 30), 4, grain_turn=pi / 2)
PLY = Piece("ply", 950, 480, None, 10.0, margin=5, grain=False)


def test_discs_lie_in_rings_and_save_a_sheet() -> None:
    """Two rings with a disc in each take one sheet on which the four would not lie side by side."""
    items = [RING, replace(DISC, count=2)]
    layout = nest(items, [PLY], 6.0)
    assert layout.unplaced == {}
    assert len(layout.sheets) == 1
    assert proved(layout, items, [PLY], 6.0) == ()
    bare = [replace(RING, holes=()), replace(DISC, count=2)]
    assert len(nest(bare, [PLY], 6.0).sheets) > 1


def test_every_copy_is_still_there() -> None:
    """What was put in holes and what was not adds up to what is wanted, in sheets and in what is left over."""
    items = [RING, DISC, BAR]
    for piece in (PLY, replace(PLY, count=0), replace(PLY, grain=True)):
        layout = nest(items, [piece], 6.0)
        assert proved(layout, items, [piece], 6.0) == ()


@pytest.mark.parametrize("radius", [143.9, 144.1])
def test_a_hole_takes_what_it_can_hold(radius: float) -> None:
    """A disc a kerf smaller than the hole all round goes in, one larger does not."""
    filled = fill_holes([replace(RING, count=1), Item("disc", circle(0, 0, radius), 1)], [PLY], 6.0)
    assert bool(filled.inside) is (radius < 144)


def test_saws_reach_no_holes() -> None:
    """On sawn stock, or where any stock is sawn, holes stay empty."""
    assert fill_holes([RING, DISC], [PLY, replace(PLY, mode="sawn")], 6.0).inside == {}


def test_fibres_run_alike_in_the_hole() -> None:
    """On stock with grain a part in a hole lies along the grain of the part that holds it."""
    items = [replace(RING, count=1, grain_turn=pi / 3), BAR]
    sheet = replace(PLY, grain=True)
    layout = nest(items, [sheet], 6.0)
    assert fill_holes(items, [sheet], 6.0).inside
    assert proved(layout, items, [sheet], 6.0) == ()
