"""Thin wood anywhere: seeded walls and floors are found and measured as arithmetic gives, and nothing else is."""

from __future__ import annotations

from math import cos, radians

import pytest

from templategen.checks.run import check_table
from templategen.checks.thin import Thin, thin_findings, thin_places
from templategen.drawing.drawing import Shape, Stroke
from templategen.drawing.spot_drawing import RING, spot_drawing
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.point import Point
from templategen.packet.shipped import shipped_names
from templategen.parts.face import side_face
from templategen.parts.feature import Feature
from templategen.parts.kinds import FeatureKind
from templategen.parts.part import Part
from tests.table.made import table_of


def board(*features: Feature, outline: Outline | None = None, thickness: float = 30.0) -> Part:
    """A board of 200 by 90 mm with that work."""
    shape = outline or rectangle(0, 0, 200, 90)
    face = side_face("edge-1", Line(Point(0, 0), Point(200, 0)), thickness)
    return Part("B", "board", "rail", 1, "larch", thickness, shape, shape, features, faces=(face,))


def cut(kind: FeatureKind, face: str, box: tuple[float, float, float, float], depth: float) -> Feature:
    """A square pocket."""
    return Feature(kind, face, rectangle(*box), depth, "rout")


def sizes(places: list[Thin]) -> list[float]:
    """How thick each is."""
    return [round(one.size, 2) for one in places]


def test_a_wall_between_two_pockets_is_measured() -> None:
    """Two mortises 2.3 mm apart, of unequal depth: one wall, as high as the shallower."""
    part = board(cut("mortise", "top", (20, 20, 61, 55), 22.0), cut("lap", "top", (63.3, 31, 120, 75), 9.0))
    (wall,) = thin_places(part, 5.0)
    assert wall.size == pytest.approx(2.3, abs=0.02) and (wall.low, wall.high) == (21.0, 30.0)
    left, bottom, right, top = wall.plan.bounds
    assert left == pytest.approx(61, abs=0.1) and right == pytest.approx(63.3, abs=0.1)
    assert bottom > 31 - 2.5 and top < 55 + 2.5
    assert {feature.kind for feature in wall.beside} == {"mortise", "lap"}


def test_a_wall_to_an_edge_is_measured() -> None:
    """A mortise 0.6 mm from the board's end."""
    (wall,) = thin_places(board(cut("mortise", "top", (160, 20, 199.4, 60), 12.0)), 5.0)
    assert wall.size == pytest.approx(0.6, abs=0.02) and (wall.low, wall.high) == (18.0, 30.0)


def test_a_floor_is_measured_from_cut_to_cut() -> None:
    """A pocket from above over a wider one from below: a floor of 3.5 mm where they overlap, no more."""
    part = board(cut("mortise", "top", (30, 20, 80, 60), 14.0), cut("relief", "bottom", (-150, 10, -40, 75), 12.5))
    (floor,) = thin_places(part, 5.0)
    assert floor.size == pytest.approx(3.5) and (floor.low, floor.high) == (12.5, 16.0)
    left, _, right, _ = floor.plan.bounds
    assert left >= 40 and right <= 80


def test_a_cheek_beside_a_side_groove_is_measured() -> None:
    """A groove in an edge 4.2 mm under the top."""
    part = board(cut("groove", "edge-1", (15, 17.8, 185, 25.8), 12.0))
    assert sizes(list(thin_places(part, 5.0))) == [4.2]


def test_corners_and_tongues_are_no_thin_wood() -> None:
    """Sharp corners of 20 to 90 degrees, pockets with room round them and a thin tongue leave nothing to tell."""
    for angle in (20, 35, 50, 75):
        slant = 90 / radians(angle) * cos(radians(angle))
        shape = polygon([(0, 0), (400, 0), (400, 90), (slant, 90)])
        part = board(cut("lap", "top", (250, 20, 330, 70), 12.0), outline=shape)
        assert not list(thin_places(part, 5.0)), angle
    tongue = board(
        cut("tongue", "top", (180, -1, 201, 91), 13.0), cut("tongue", "bottom", (-201, -1, -180, 91), 13.0)
    )
    assert not list(thin_places(tongue, 5.0))


def test_a_wafer_between_lap_and_groove_is_told_with_its_place() -> None:
    """Two rails, slats along, an open apex: the groove ends 0.47 mm beside the lap's side, and 22 mm off the axis."""
    table = table_of({"top.rails": 2, "slats.run": "along", "slats.apex": "open"})
    (wafer,) = (one for one in check_table(table) if one.says == "wood between groove and lap in RAIL-LOW")
    rail = table.part("RAIL-LOW")
    lap = rail.cuts("lap")[0].outline.bounds.right
    ends = [rail.face(one.face).point(one.outline.bounds.left, 0, 0)[0] for one in rail.cuts("groove")]
    ends += [rail.face(one.face).point(one.outline.bounds.right, 0, 0)[0] for one in rail.cuts("groove")]
    between = min(abs(end) for end in ends) - lap
    assert wafer.level == "caution" and wafer.do and wafer.measured == pytest.approx(between, abs=0.02) and wafer.why
    assert wafer.spot is not None and wafer.spot.part == "RAIL-LOW"
    assert lap - 0.01 < abs(wafer.spot.x) < lap + between + 2.0
    drawn = spot_drawing(rail, wafer.spot, "mm")
    (ring,) = (mark for mark in drawn.marks if isinstance(mark, Shape) and mark.layer == RING)
    assert ring.box.centre.x == pytest.approx(wafer.spot.x) and ring.box.centre.y == pytest.approx(wafer.spot.y)
    assert sum(isinstance(mark, Stroke) for mark in drawn.marks) > 20


@pytest.mark.parametrize("name", shipped_names())
def test_shipped_tables_have_no_thin_wood(name: str) -> None:
    """What other checks leave is sound."""
    assert not list(thin_findings(table_of({}, name), ()))
