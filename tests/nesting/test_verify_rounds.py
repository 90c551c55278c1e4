"""How the proof of a layout takes curves, turns and counts: nothing is let through by a corner cut off."""

from __future__ import annotations

from math import cos, inf, nan, pi, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.geometry.outline import Outline, circle, rectangle
from templategen.geometry.placement import Placement
from templategen.nesting.stock import Item, Laid, Layout, Piece, Sheet
from templategen.nesting.verify import ROUND_OUT, _circumscribed, verify
from tests.strategies import outlines, placements, shape

OPEN = Piece("sheet", 1000, 600, grain=False, mode="routed")


def said(laid: list[Laid], items: list[Item], piece: Piece = OPEN, spacing: float = 3.0) -> list[str]:
    """The faults of one piece with these parts."""
    layout = Layout((Sheet(piece, 1, tuple(laid)),))
    return [str(fault) for fault in verify(layout, items, [piece], spacing)]


@settings(max_examples=150, deadline=None)
@given(outline=outlines(), way=placements())
def test_the_polygon_holds_the_outline_and_hardly_more(outline: Outline, way: Placement) -> None:
    """The stand-in of any outline covers all of it, is at most the permitted excess larger, and its box is true."""
    ring = way.outline(outline)
    stand_in = _circumscribed(ring)
    fine = shape(ring, 1e-4)
    assert stand_in.is_valid
    assert fine.difference(stand_in.buffer(1.1e-4)).area < 1e-6
    assert stand_in.area - abs(ring.area) <= ROUND_OUT * 1.01 * ring.length + 1e-6
    assert stand_in.difference(fine.buffer(ROUND_OUT * 1.01 + 2e-4)).area < 1e-6
    box = ring.bounds
    assert stand_in.bounds == pytest.approx((box.left, box.bottom, box.right, box.top), abs=1e-6)


@pytest.mark.parametrize("angle", [0.0, 0.3, pi / 4, 1.1, pi / 2, 2.5])
def test_discs_keep_their_distance_in_every_direction(angle: float) -> None:
    """Two discs a kerf apart pass, whichever way they lie from each other; a twentieth nearer and they don't."""
    disc = Item("disc", circle(0, 0, 80), 2)
    for gap, good in ((3.0 + 2 * ROUND_OUT, True), (2.95, False)):
        reach = 160 + gap
        laid = [
            Laid("disc", Placement(500, 300, 0.1)),
            Laid("disc", Placement(500 + reach * cos(angle), 300 + reach * sin(angle), 0.7)),
        ]
        assert (said(laid, [disc]) == []) is good, (angle, gap)


def test_a_curve_may_touch_the_margin_and_no_more() -> None:
    """A disc against each margin passes; a hundredth over it doesn't, and the edge is named."""
    disc = Item("disc", circle(0, 0, 80), 1)
    piece = Piece("sheet", 1000, 600, margin=10, grain=False, mode="routed")
    for x, y, edge in ((90, 300, "left"), (910, 300, "right"), (500, 90, "bottom"), (500, 510, "top")):
        assert said([Laid("disc", Placement(x, y, 0.3))], [disc], piece) == []
        step = {"left": (-0.01, 0), "right": (0.01, 0), "bottom": (0, -0.01), "top": (0, 0.01)}[edge]
        (fault,) = said([Laid("disc", Placement(x + step[0], y + step[1], 0.3))], [disc], piece)
        assert edge in fault


@pytest.mark.parametrize("turn", [0.5, -0.5, 0.5 + pi, 2.0])
def test_grain_is_followed_whichever_way_a_part_is_told(turn: float) -> None:
    """A part whose grain lies aslant is turned by its own angle, and turned over by the opposite one."""
    part = Item("part", rectangle(0, 0, 200, 60), 1, grain_turn=0.5, may_turn_over=True)
    board = Piece("board", 1000, 600)
    for over, wanted in ((False, 0.5), (True, -0.5)):
        right = abs((turn - wanted) % pi) < 1e-9 or abs((turn - wanted) % pi - pi) < 1e-9
        found = said([Laid("part", Placement(500, 300, turn, over))], [part], board)
        assert (found == []) is right, (turn, over, found)
        if not right:
            assert f"is turned by {turn * 180 / pi:.3f} degrees" in found[0]


@pytest.mark.parametrize("bad", [nan, inf, -inf])
@pytest.mark.parametrize("field", ["x", "y", "turn"])
def test_a_part_that_lies_nowhere_is_named(bad: float, field: str) -> None:
    """A placement that is no number is a fault of its own, whichever of its three it is."""
    disc = Item("disc", circle(0, 0, 20), 1)
    place = Placement(**{"x": 300.0, "y": 300.0, "turn": 0.0, field: bad})
    (fault,) = said([Laid("disc", place)], [disc])
    assert "lies nowhere" in fault


@settings(max_examples=60, deadline=None)
@given(
    first=st.integers(0, 200), second=st.integers(0, 200), deep=st.sampled_from([0.0, 0.001, 0.5, 30.0, 120.0]),
)  # fmt: skip
def test_without_a_kerf_parts_meet_but_never_share_wood(first: int, second: int, deep: float) -> None:
    """With no kerf wanted, parts edge to edge pass, and any that bite into each other don't, wholly covered too."""
    block = Item("block", rectangle(0, 0, 120, 40), 2)
    laid = [Laid("block", Placement(first, 100)), Laid("block", Placement(first + 120 - deep, 100 + second / 10))]
    assert (said(laid, [block], spacing=0.0) == []) is (deep < 1e-5 or second >= 400)


def test_stock_listed_twice_may_be_used_twice() -> None:
    """A kind of stock with a count is there as often as its entries say together, and no more."""
    piece = Piece("board", 400, 100, 2)
    item = Item("slat", rectangle(0, 0, 300, 45), 5)
    sheets = tuple(Sheet(piece, number, (Laid("slat", Placement(0, 0)),)) for number in range(1, 6))
    used = Layout(sheets[:4], {"slat": 1})
    assert [str(fault) for fault in verify(used, [item], [piece, piece], 3.0)] == []
    faults = [str(fault) for fault in verify(Layout(sheets), [item], [piece, piece], 3.0)]
    assert any("5 pieces used" in fault for fault in faults)
    assert verify(used, [item], [piece], 3.0)


def test_each_bad_end_is_kept_clear_of() -> None:
    """A part that reaches into the left or the right bad end is a fault; against both it isn't."""
    piece = Piece("board", 1000, 100, bad_ends=(50, 120))
    slat = Item("slat", rectangle(0, 0, 300, 45), 1)
    for x, good in ((50, True), (49.9, False), (580, True), (580.1, False)):
        found = said([Laid("slat", Placement(x, 0))], [slat], piece)
        assert (found == []) is good, x
        assert good or "bad end" in found[0]


@pytest.mark.parametrize("turn", [5e-10, -5e-10, pi - 5e-10, pi + 5e-10])
def test_rounding_of_a_turn_is_no_fault(turn: float) -> None:
    """A turn off by rounding lies along the grain, from whichever side."""
    slat = Item("slat", rectangle(-150, -20, 150, 20), 1)
    assert said([Laid("slat", Placement(500, 50, turn))], [slat], Piece("board", 1000, 100)) == []


def test_nothing_left_over_may_be_told_as_nought() -> None:
    """A layout that names a part with none left over is whole."""
    slat = Item("slat", rectangle(0, 0, 300, 45), 1)
    piece = Piece("board", 1000, 100)
    layout = Layout((Sheet(piece, 1, (Laid("slat", Placement(0, 0)),)),), {"slat": 0})
    assert verify(layout, [slat], [piece], 3.0) == ()
