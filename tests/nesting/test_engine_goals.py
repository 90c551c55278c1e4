"""What makes a layout better: cost first, then offcuts, then saw settings."""

from __future__ import annotations

from templategen.geometry.outline import rectangle
from templategen.geometry.placement import Placement
from templategen.nesting.cutting_order import cutting_order
from templategen.nesting.engines.objective import goal, saw_settings
from templategen.nesting.stock import Item, Laid, Layout, Piece, Sheet

BOARD = Piece("board", 1000, 200, None, 8.0, mode="sawn")
SLAT = Item("slat", rectangle(0, 0, 400, 45), 3)


def layout(*spots: tuple[float, float], piece: Piece = BOARD) -> Layout:
    """Slats at these places on one board."""
    return Layout((Sheet(piece, 1, tuple(Laid("slat", Placement(x, y)) for x, y in spots)),))


def test_the_cheaper_layout_is_better_whatever_is_left_of_it() -> None:
    """A cheaper board beats a larger offcut."""
    dear = Piece("dear", 3000, 200, None, 9.0, mode="sawn")
    spots = ((0, 0), (0, 48), (0, 96))
    assert goal(layout(*spots), [SLAT], 3.0) < goal(layout(*spots, piece=dear), [SLAT], 3.0)


def test_one_large_offcut_is_better_than_two_halves() -> None:
    """Slats together leave more of use than slats spread over the board."""
    together = goal(layout((0, 0), (0, 48), (0, 96)), [SLAT], 3.0)
    spread = goal(layout((0, 0), (500, 48), (0, 155)), [SLAT], 3.0)
    assert together < spread
    assert together[:3] == spread[:3]


def test_slats_of_one_width_need_one_fence_position() -> None:
    """Three lanes of one width are ripped at one setting, lanes of other distances at more."""
    even, uneven = (cutting_order(layout(*spots).sheets[0], [SLAT], 3.0) for spots in (
        ((0, 0), (0, 48), (0, 96)), ((0, 0), (0, 60), (0, 130)),
    ))  # fmt: skip
    assert even is not None
    assert uneven is not None
    assert saw_settings(even) < saw_settings(uneven)
