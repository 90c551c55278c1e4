"""Where fence and stop stand: boards sawn by the told settings alone give the parts that were laid on them."""

from __future__ import annotations

from math import cos, pi, sin

import pytest
from shapely import Point as Spot
from shapely import Polygon, box
from shapely.affinity import translate

from templategen.drawing.cut_words import cut_words
from templategen.geometry.outline import polygon
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.nesting.cutting_order import cutting_order
from templategen.nesting.saw_settings import SawSetting, saw_settings
from templategen.nesting.stock import Cut, Item, Laid, Piece, Sheet

KERF = 3.2
BOARD = Piece("board", 1210, 118, margin=(9, 4, 6, 2), mode="sawn")
LEANING = Item("leaning", polygon(((0, 0), (331, 0), (270, 83), (0, 83))), 2)
"""Square at its left end, off square at its right one."""

WEDGE = Item("wedge", polygon(((40, 0), (260, 0), (305, 71), (0, 71))), 1)
ITEMS = [LEANING, WEDGE]
SHEET = Sheet(
    BOARD,
    1,
    (Laid("leaning", Placement(15, 11)), Laid("leaning", Placement(700, 101, pi)), Laid("wedge", Placement(741, 9))),
)


WANTED = {"rip": (True, False, 0), "crosscut": (False, True, 0), "mitre": (True, True, 2)}


def sawn(cuts: tuple[Cut, ...], settings: tuple[SawSetting, ...]) -> list[Polygon]:
    """The board after all cuts, each made from fence and stop by hand; the drawn lines give the angle alone."""
    wood = [box(0, 0, BOARD.length, BOARD.width)]
    for cut, one in zip(cuts, settings, strict=True):
        held = next(piece for piece in wood if piece.contains(Spot(cut.through)))
        wood.remove(held)
        wood += _halves(held, cut, one)
    return wood


def _halves(held: Polygon, cut: Cut, one: SawSetting) -> list[Polygon]:
    left, low, right, high = held.bounds
    if cut.kind == "rip":
        if one.edge == "lower edge":
            face = low + one.distance
            strips = box(left, low, right, face), box(left, face + KERF, right, high)
        else:
            face = high - one.distance
            strips = box(left, face, right, high), box(left, low, right, face - KERF)
        return [held.intersection(strip) for strip in strips]
    out = 1 if one.end == "left end" else -1
    x = left + one.distance if out > 0 else right - one.distance
    turn = cut.angle * pi / 180
    along = (cos(turn), sin(turn))
    foot = (x, high if one.edge == "upper edge" else low)
    aside = KERF / abs(along[1])
    far = 4000.0
    ahead, back = ((foot[0] + way * along[0] * far, foot[1] + way * along[1] * far) for way in (1, -1))
    near = Polygon([back, ahead, (ahead[0] - out * far, ahead[1]), (back[0] - out * far, back[1])])
    gone = translate(near, out * aside)
    return [piece for piece in (held.intersection(near), held.difference(gone)) if piece.area > 1]


def test_a_board_sawn_by_the_settings_gives_its_parts() -> None:
    """Each part is one of the pieces, to a hundredth of a millimetre."""
    cuts = cutting_order(SHEET, ITEMS, KERF)
    assert cuts is not None and {cut.kind for cut in cuts} == {"rip", "crosscut", "mitre"}
    pieces = sawn(cuts, saw_settings(BOARD, cuts, KERF))
    outlines = {item.code: item.outline for item in ITEMS}
    for laid in SHEET.laid:
        part = Polygon([(p.x, p.y) for p in laid.placement.outline(outlines[laid.code]).points])
        assert min(part.symmetric_difference(piece).area for piece in pieces) < 0.05, laid


@pytest.mark.parametrize("turn", [0.0, pi])
@pytest.mark.parametrize(
    "corners",
    [
        ((0, 0), (331, 0), (331, 30), (300, 83), (0, 83)),
        ((0, 0), (331, 0), (350, 50), (310, 83), (0, 83)),
        ((0, 0), (300, 0), (340, 35), (260, 83), (0, 83)),
    ],
)
def test_an_end_of_two_edges_is_told_along_an_edge_that_it_meets(
    corners: tuple[tuple[float, float], ...], turn: float
) -> None:
    """A mitre that takes a corner alone is measured where it meets an edge: sawn so, the blank is left."""
    item = Item("slat", polygon(corners), 1)
    at = Placement(20, 11) if not turn else Placement(400, 100, pi)
    sheet = Sheet(BOARD, 1, (Laid("slat", at),))
    cuts = cutting_order(sheet, [item], KERF)
    assert cuts is not None and any(cut.kind == "mitre" for cut in cuts)
    part = Polygon([(p.x, p.y) for p in at.outline(item.outline).points])
    pieces = sawn(cuts, saw_settings(BOARD, cuts, KERF))
    assert min(part.symmetric_difference(piece).area for piece in pieces) < 0.05


def test_settings_in_words() -> None:
    """A rip tells the fence, a crosscut the stop, a mitre both with its two readings; inches as a rule shows them."""
    cuts = cutting_order(SHEET, ITEMS, KERF)
    assert cuts is not None
    told = cut_words(cuts, saw_settings(BOARD, cuts, KERF), "mm")
    for line in told:
        assert ("fence" in line, "stop" in line, line.count("°")) == WANTED[line.split(": ")[1].split(",")[0]]
    x = 331 + KERF / 2
    square = Cut(1, "crosscut", Point(x, 0), Point(x, 118), Point(100, 50))
    (line,) = cut_words([square], saw_settings(BOARD, [square], KERF), "mm")
    assert line == "cut 1: crosscut, left end to the stop at 331 mm"
    (line,) = cut_words([square], saw_settings(BOARD, [square], KERF), "in")
    assert line == "cut 1: crosscut, left end to the stop at 13-1/32 in"
