"""Cutting orders: complete, right through, and caught when they are not."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from templategen.geometry.outline import polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.nesting.cutting_order import cutting_order
from templategen.nesting.nest import nest
from templategen.nesting.offcuts import keepers
from templategen.nesting.stock import Cut, Item, Laid, Piece, Sheet
from templategen.nesting.verify_cuts import verify_cuts
from tests.nesting.cases import random_job, soon, trapezoid

BOARD = Piece("board", 1000, 110, margin=5, mode="sawn")
RIM = Item("rim", trapezoid(300, 100, 40), 3)
ROW = Sheet(
    BOARD,
    1,
    (
        Laid("rim", Placement(5, 5)),
        Laid("rim", Placement(5 + 560 + 3 * (1 + 0.4**2) ** 0.5, 105, pi)),
    ),
)


def order(sheet: Sheet, items: list[Item], kerf: float = 3.0) -> tuple[Cut, ...]:
    """The cuts of a sheet that can be sawn."""
    cuts = cutting_order(sheet, items, kerf)
    assert cuts is not None
    return cuts


def test_mitred_neighbours_share_a_cut() -> None:
    """Two blanks head to tail take two rips, and three mitres at one setting: one of them is shared."""
    cuts = order(ROW, [RIM])
    assert verify_cuts(ROW, [RIM], cuts, 3.0) == ()
    assert [cut.kind for cut in cuts] == ["rip", "rip", "mitre", "mitre", "mitre"]
    assert len({round(abs(cut.angle), 3) for cut in cuts if cut.kind == "mitre"}) == 1
    assert [cut.number for cut in cuts] == [1, 2, 3, 4, 5]


@pytest.mark.parametrize(("over", "kinds"), [(3e-5, []), (0.04, []), (0.2, ["rip", "crosscut"])])
def test_no_cut_cuts_nothing(over: float, kinds: list[str]) -> None:
    """A blank that lies a hair inside its board's edges is left as it is; with more beside it, it is sawn off."""
    item = Item("slat", rectangle(0, 0, 640, 57), 1)
    sheet = Sheet(Piece("board", 640 + over, 57 + over, mode="sawn"), 1, (Laid("slat", Placement(0, 0)),))
    cuts = order(sheet, [item])
    assert [cut.kind for cut in cuts] == kinds and verify_cuts(sheet, [item], cuts, 3.0) == ()
    past = Cut(1, "rip", Point(0, 59 + over), Point(640, 59 + over), Point(320, 30))
    assert any("cuts nothing" in fault.found for fault in verify_cuts(sheet, [item], [past], 3.0))


def test_a_whirl_of_four_cannot_be_sawn() -> None:
    """Four parts laid round a middle one leave no cut that goes right through."""
    long, core = rectangle(0, 0, 200, 97), rectangle(0, 0, 97, 97)
    items = [Item("side", long, 2), Item("up", rectangle(0, 0, 97, 200), 2), Item("core", core, 1)]
    laid = (
        Laid("side", Placement(0, 0)),
        Laid("up", Placement(203, 0)),
        Laid("side", Placement(100, 203)),
        Laid("up", Placement(0, 100)),
        Laid("core", Placement(103, 103)),
    )
    sheet = Sheet(Piece("sheet", 300, 300, grain=False), 1, laid)
    assert cutting_order(sheet, items, 3.0) is None


def test_a_part_as_large_as_its_board_needs_no_cut() -> None:
    """Nothing is sawn where nothing is waste."""
    sheet = Sheet(Piece("b", 300, 40), 1, (Laid("slat", Placement(0, 0)),))
    assert order(sheet, [Item("slat", rectangle(0, 0, 300, 40), 1)]) == ()


@pytest.mark.parametrize(
    ("corner", "kinds"),
    [((12, 21), []), ((12, 41), ["mitre"]), ((160, 21), ["mitre"])],
)
def test_a_small_corner_stays_on(corner: tuple[float, float], kinds: list[str]) -> None:
    """One that a blank's finished end takes off anyway isn't sawn; one over half a blank's width or length is, and
    where it stays that is told."""
    x, y = corner
    item = Item("slat", polygon(((0, 0), (300, 0), (300, 60 - y), (300 - x, 60), (0, 60))), 1)
    sheet = Sheet(Piece("board", 300, 60, mode="sawn"), 1, (Laid("slat", Placement(0, 0)),))
    cuts = order(sheet, [item])
    assert [cut.kind for cut in cuts] == kinds and verify_cuts(sheet, [item], cuts, 3.0) == ()
    told = "; ".join(fault.found for fault in verify_cuts(sheet, [item], (), 3.0))
    assert ("isn't trimmed" in told) == bool(kinds)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda cuts: cuts[:-1], "isn't trimmed"),
        (lambda cuts: (*cuts[:2], *cuts[3:]), "isn't parted from its neighbour"),
        (
            lambda cuts: (
                replace(cuts[0], start=cuts[0].start.plus(cuts[0].start, 0), end=cuts[0].through),
                *cuts[1:],
            ),
            "cut 1",
        ),
        (lambda cuts: (*cuts[:-1], replace(cuts[-1], end=cuts[-1].start)), "has no length"),
    ],
)
def test_a_wrong_order_is_caught(change, words: str) -> None:  # type: ignore[no-untyped-def]
    """A cut left out, a cut bent into a part and a cut of no length are all told."""
    cuts = change(order(ROW, [RIM]))
    assert words in "; ".join(map(str, verify_cuts(ROW, [RIM], cuts, 3.0)))


def test_a_shifted_cut_is_caught() -> None:
    """A cut a tenth of a millimetre further in goes into the part."""
    cuts = order(ROW, [RIM])
    lift = replace(
        cuts[0],
        start=cuts[0].start._replace(y=cuts[0].start.y + 0.1),
        end=cuts[0].end._replace(y=cuts[0].end.y + 0.1),
    )
    assert "goes into rim" in str(verify_cuts(ROW, [RIM], (lift, *cuts[1:]), 3.0)[0])


@pytest.mark.parametrize("seed", range(60, 85))
def test_sawn_layouts_can_be_sawn(seed: int) -> None:
    """Every sheet of a random job on sawn stock has an order of cuts that another library saws through."""
    items, pieces, spacing = random_job(seed)
    spacing = max(spacing, 1.0)
    layout = nest(items, [replace(piece, mode="sawn") for piece in pieces], spacing, 0.05)
    for sheet in layout.sheets:
        assert verify_cuts(sheet, items, order(sheet, items, spacing), spacing) == ()


def test_turning_over_lays_closer_where_both_faces_are_alike() -> None:
    """Blanks with one square and one slanted end lie closer when every other one may be turned over."""
    half = polygon(((0, 0), (300, 0), (200, 100), (0, 100)))
    board = Piece("board", 790, 100, None, mode="sawn")
    apart = nest([Item("end", half, 3)], [board], 3.0)
    close = nest([Item("end", half, 3, may_turn_over=True)], [replace(board, length=780)], 3.0)
    assert apart.unplaced == close.unplaced == {}
    assert all(not laid.placement.turned_over for sheet in apart.sheets for laid in sheet.laid)


@pytest.mark.parametrize("seed", range(60, 75))
def test_offcuts_that_are_kept_come_off_whole(seed: int) -> None:
    """With offcuts to be kept the order still frees every part, and no kerf runs through an offcut."""
    from shapely import LineString, box

    items, pieces, spacing = random_job(seed)
    kerf = max(spacing, 1.0)
    for sheet in soon(items, [replace(piece, mode="sawn") for piece in pieces], kerf).sheets:
        kept = keepers(sheet, items, kerf)
        cuts = cutting_order(sheet, items, kerf, kept)
        while cuts is None:
            kept.pop()
            cuts = cutting_order(sheet, items, kerf, kept)
        assert verify_cuts(sheet, items, cuts, kerf) == ()
        for cut in cuts:
            dust = LineString([cut.start, cut.end]).buffer(kerf / 2 - 1e-6, cap_style="flat")
            assert all(dust.intersection(box(x, y, x + w, y + h)).area < 1e-3 for x, y, w, h in kept)


def test_an_offcut_is_crosscut_before_lanes_are_ripped() -> None:
    """A board's free end as wide as the board comes off by the first crosscut, not in strips."""
    board = Piece("board", 1000, 103, mode="sawn")
    slat = Item("slat", rectangle(0, 0, 300, 50), 2)
    sheet = Sheet(board, 1, (Laid("slat", Placement(0, 0)), Laid("slat", Placement(0, 53))))
    plain, kept = order(sheet, [slat]), cutting_order(sheet, [slat], 3.0, [(303, 0, 697, 103)])
    assert [cut.kind for cut in plain] == ["rip", "crosscut", "crosscut"]
    assert kept is not None
    assert [cut.kind for cut in kept] == ["crosscut", "rip"]
