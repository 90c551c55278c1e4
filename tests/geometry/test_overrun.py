"""Open pockets run past the wood and take nothing more from it."""

from __future__ import annotations

from itertools import combinations, pairwise
from math import atan2, cos, pi, radians, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point as Point2
from shapely.ops import unary_union

from templategen.geometry.coincide import covered_share
from templategen.geometry.edge import Arc, Line, arc_round
from templategen.geometry.outline import Outline, circle, outline_of, polygon, rectangle
from templategen.geometry.overrun import adjoins, overrun
from templategen.geometry.point import Point
from tests.drawing import samples
from tests.drawing.flat import flat, flat_edge
from tests.strategies import starting_at

BOARD = rectangle(0, 0, 200, 60)
BOW = outline_of([Line(Point(-60, 0), Point(60, 0)), Line(Point(60, 0), Point(60, 80)),
                  arc_round(Point(0, 80), 60, 0, pi), Line(Point(-60, 80), Point(-60, 0))])  # fmt: skip
_bow = arc_round(Point(0, -80), 100, radians(126.8698976458), -radians(73.7397952917))
_part = arc_round(Point(0, -80), 100, radians(110), -radians(50))
HOLLOW = outline_of([_bow, *(Line(a, b) for a, b in pairwise((_bow.end, Point(60, 80), Point(-60, 80), _bow.start)))])
HOLLOW_POCKET = outline_of(
    [_part, *(Line(a, b) for a, b in pairwise((_part.end, Point(50, 60), Point(-40, 60), _part.start)))]
)
TENON = samples.leg().outline

CASES: dict[str, tuple[Outline, Outline, float]] = {
    "groove right through": (rectangle(0, 20, 200, 34), BOARD, 2 * 5 * 14),
    "groove from one end": (rectangle(0, 20, 90, 34), BOARD, 5 * 14),
    "corner": (rectangle(0, 0, 50, 30), BOARD, 5 * 80 + 25),
    "whole face": (BOARD, BOARD, 210 * 70 - 200 * 60),
    "tenon shoulder": (rectangle(300, -20, 350, 20), TENON, 2 * 5 * 55 + 5 * 40),
    "slanting trench": (
        polygon(((50, 0), (80, 0), (110, 60), (80, 60))),
        BOARD,
        2 * 5 * (1 + cos(atan2(60, 30))) * 30,
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_the_pocket_gains_exactly_the_strip_outside(case: str) -> None:
    """Area grows by the strips a sketch gives: width times overrun, plus corners."""
    pocket, wood, gain = CASES[case]
    assert overrun(pocket, wood, 5).area - pocket.area == pytest.approx(gain, abs=1e-9)


def shapes() -> list[tuple[str, Outline, Outline, tuple[Outline, ...]]]:
    found = [(name, pocket, wood, ()) for name, (pocket, wood, _) in CASES.items()]
    found += [
        ("rim of a round end", rectangle(-10, 20, 10, 150), BOW, ()),
        ("across a round end", outline_of([Line(Point(-60, 80), Point(60, 80)), arc_round(Point(0, 80), 60, 0, pi)]),
         BOW, ()),
        ("hollow side", HOLLOW_POCKET, HOLLOW, ()),
        ("closed", rectangle(20, 20, 60, 40), BOARD, ()),
        ("end at 30 degrees", polygon(((0, 0), (17.4, 0), (104.35, 50.2), (86.96, 50.2))),
         polygon(((0, 0), (300, 0), (283, 50.2), (86.96, 50.2))), ()),
        ("round", circle(100, 30, 10), BOARD, ()),
    ]  # fmt: skip
    for make in samples.ALL:
        part = make()
        for face in part.faces:
            pockets = [f for f in part.features_on(face.name) if f.kind not in ("round-over", "chamfer")]
            for f in pockets:
                deeper = tuple(o.outline for o in pockets if o.depth > f.depth)
                found.append((f"{part.code} {face.name} {f.kind}", f.outline, face.outline, deeper))
    return found


@pytest.mark.parametrize(
    ("name", "pocket", "wood", "deeper"), shapes(), ids=lambda v: v if isinstance(v, str) else ""
)
@pytest.mark.parametrize("by", [0.5, 3.0, 5.0, 12.0])
def test_no_more_wood_is_taken(
    name: str, pocket: Outline, wood: Outline, deeper: tuple[Outline, ...], by: float
) -> None:
    """Inside what wood is left at its depth, the pocket is what it was."""
    drawn, ground = flat(overrun(pocket, wood, by, deeper)), flat(wood)
    for hole in deeper:
        ground = ground.difference(flat(hole))
    assert drawn.is_valid
    assert drawn.intersection(ground).symmetric_difference(flat(pocket).intersection(ground)).area < 1e-2
    assert drawn.buffer(1e-3).contains(flat(pocket))


@pytest.mark.parametrize(
    ("name", "pocket", "wood", "deeper"), shapes(), ids=lambda v: v if isinstance(v, str) else ""
)
def test_no_line_of_a_pocket_lies_on_a_line_of_the_wood(
    name: str, pocket: Outline, wood: Outline, deeper: tuple[Outline, ...]
) -> None:
    """Pocket and outline cross but never run along each other, but where a side of the pocket runs straight on."""
    for edge in overrun(pocket, wood, 5, deeper).edges:
        if any(covered_share(side, edge) for side in pocket.edges):
            continue
        for line in wood.edges:
            strip = flat_edge(line).buffer(1e-4)
            assert flat_edge(edge).intersection(strip).length < 0.01


@given(st.floats(5, 175), st.floats(5, 175), st.floats(25, 155), st.floats(0.1, 8), st.booleans())
@settings(max_examples=60, deadline=None)
def test_trenches_at_any_angle_run_out_cleanly(a: float, width: float, angle: float, by: float, up: bool) -> None:
    """A trench across a board at 25 to 155 degrees takes what it took, whatever the overrun."""
    slope = 60 / tan(radians(angle))
    trench = polygon(((a, 0), (a + width, 0), (a + width + slope, 60), (a + slope, 60)))
    board = rectangle(-500, 0, 700, 60)
    drawn, ground = flat(overrun(trench, board, by)), flat(board)
    assert drawn.is_valid
    assert drawn.intersection(ground).area == pytest.approx(trench.area, abs=1e-6)
    assert drawn.area > trench.area


@given(st.floats(8, 80), st.floats(0.5, 12))
@settings(max_examples=40, deadline=None)
def test_wood_close_by_shortens_the_overrun(slit: float, by: float) -> None:
    """Where another limb stands across a narrow slit the overrun is halved until it clears it."""
    slit /= 10
    wood = polygon(((0, 0), (100, 0), (100, 60), (50 + slit, 60), (50 + slit, 10), (50, 10), (50, 60), (0, 60)))
    pocket = rectangle(20, 30, 50, 45)
    drawn = flat(overrun(pocket, wood, by))
    assert drawn.intersection(flat(wood)).area == pytest.approx(pocket.area, abs=1e-6)
    assert drawn.area > pocket.area


SHARP = {
    "acute slat end": (polygon(((0, 0), (15, 0), (49.4, 59.6), (34.4, 59.6))),
                       polygon(((0, 0), (255, 0), (221, 59.6), (34.4, 59.6)))),
    "lap at 60 degrees": (polygon(((20, 0), (117, 0), (165.5, 84), (68.5, 84))), rectangle(-400, 0, 500, 84)),
    "lap the other way": (polygon(((68.5, 0), (165.5, 0), (117, 84), (20, 84))), rectangle(-400, 0, 500, 84)),
    "needle": (polygon(((0, 0), (60, 0), (170, 40), (110, 40))), rectangle(-90, 0, 400, 40)),
}  # fmt: skip
"""Pockets whose sides leave the wood aslant: a slat's tongue, both trenches of a three-way lap, a very flat one."""


@pytest.mark.parametrize("radius", [3.0, 4.0, 6.0])
@pytest.mark.parametrize("case", [*SHARP, "groove from one end", "corner"])
def test_a_bit_clears_the_pocket(case: str, radius: float) -> None:
    """Swept inside the widened pocket a bit takes all of the pocket's wood but the corners inside the wood."""
    pocket, wood = SHARP[case] if case in SHARP else CASES[case][:2]
    bit = flat(overrun(pocket, wood, radius)).buffer(-radius, 128).buffer(radius, 128)
    left = flat(pocket).intersection(flat(wood)).difference(bit)
    inside = [p for p in pocket.points if flat(wood).boundary.distance(Point2(*p)) > 1e-6]
    corners = unary_union([Point2(*p).buffer(1.5 * radius) for p in inside])
    assert left.difference(corners).area < 2e-2
    assert left.area < 0.6 * radius**2 * max(1, len(inside))


def test_a_hollow_edge_is_followed_too() -> None:
    """Where the wood's edge is hollow the pocket ends on a smaller circle round the same centre."""
    (arc,) = [edge for edge in overrun(HOLLOW_POCKET, HOLLOW, 5).edges if isinstance(edge, Arc)]
    # Its sides stand about 60 degrees to the edge there, so a radius of 5 asks for half as much again.
    assert arc.radius == pytest.approx(100 - 5 * 1.5, abs=0.05)
    assert arc.centre == pytest.approx((0, -80), abs=1e-6)


def test_turning_the_part_turns_the_pocket() -> None:
    """The answer doesn't depend on where the wood lies or at which vertex the pocket starts."""
    from templategen.geometry.placement import Placement

    place = Placement(31.0, -17.0, 0.7)
    for pocket, wood, _ in CASES.values():
        for start in range(len(pocket)):
            again = overrun(place.outline(starting_at(pocket, start)), place.outline(wood), 5)
            assert again.area == pytest.approx(overrun(pocket, wood, 5).area, abs=1e-6)


def test_two_pockets_side_by_side_share_no_line() -> None:
    """A shallow pocket that meets a deeper one reaches into it, so their common line is drawn once."""
    part = samples.top_rail()
    trench, *corners = (feature.outline for feature in part.features_on("bottom"))
    wood = part.face("bottom").outline
    drawn = [overrun(trench, wood), *(overrun(corner, wood, 5.5, (trench,)) for corner in corners)]
    assert all(adjoins(corner, trench) for corner in corners)
    assert not adjoins(corners[0], corners[1])
    for one, other in combinations(drawn, 2):
        for a in one.edges:
            for b in other.edges:
                assert flat_edge(a).intersection(flat_edge(b).buffer(1e-4)).length < 0.01


def test_a_round_edge_is_followed_at_its_own_centre() -> None:
    """Past a round edge the pocket ends on an arc round the same centre, larger by the overrun."""
    half = pi / 12
    rim = outline_of([arc_round(Point(0, 0), 600, pi / 2 - half, 2 * half),
                      Line(Point(-600 * sin(half), 600 * cos(half)), Point(-100, 500)),
                      Line(Point(-100, 500), Point(100, 500)),
                      Line(Point(100, 500), Point(600 * sin(half), 600 * cos(half)))])  # fmt: skip
    a = pi / 2 - 0.02
    pocket = outline_of([arc_round(Point(0, 0), 600, a, 0.04),
                         Line(Point(-600 * sin(0.02), 600 * cos(0.02)), Point(-12, 560)),
                         Line(Point(-12, 560), Point(12, 560)),
                         Line(Point(12, 560), Point(600 * sin(0.02), 600 * cos(0.02)))])  # fmt: skip
    (arc,) = [edge for edge in overrun(pocket, rim, 5).edges if isinstance(edge, Arc)]
    assert arc.radius == pytest.approx(605, abs=1e-6)
    assert arc.centre == pytest.approx((0, 0), abs=1e-6)
