"""How two edges meet: every case by hand, and against the edges' own points."""

from __future__ import annotations

from math import pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.geometry.edge import Arc, Edge, Line, arc_round
from templategen.geometry.intersect import (
    Crossing,
    Meeting,
    NoCrossing,
    Overlapping,
    Touching,
    TwoCrossings,
    intersect,
    met_at,
)
from templategen.geometry.outline import distance_to
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from tests.strategies import placements, points, tenths

O = Point(0.0, 0.0)  # noqa: E741


def line(x0: float, y0: float, x1: float, y1: float) -> Line:
    """A straight edge by its coordinates."""
    return Line(Point(x0, y0), Point(x1, y1))


lines = st.builds(Line, points(), points()).filter(lambda edge: edge.length > 1)
arcs = st.builds(
    arc_round,
    points(40),
    tenths(2, 60),
    st.integers(0, 23).map(lambda n: n * pi / 12),
    st.sampled_from([pi, -pi, pi / 2, -pi / 3, 0.2]),
)
edges = st.one_of(lines, arcs)

CASES: list[tuple[str, Edge, Edge, type, list[tuple[float, float]]]] = [
    ("lines cross", line(0, 0, 10, 10), line(0, 10, 10, 0), Crossing, [(5, 5)]),
    ("lines too short to cross", line(0, 0, 4, 4), line(0, 10, 10, 0), NoCrossing, []),
    ("end on a line", line(0, 0, 5, 5), line(0, 10, 10, 0), Touching, [(5, 5)]),
    ("end on end", line(0, 0, 5, 0), line(5, 0, 9, 7), Touching, [(5, 0)]),
    ("parallel", line(0, 0, 5, 0), line(0, 1, 5, 1), NoCrossing, []),
    ("in line, apart", line(0, 0, 5, 0), line(6, 0, 9, 0), NoCrossing, []),
    ("in line, end on end", line(0, 0, 5, 0), line(5, 0, 9, 0), Touching, [(5, 0)]),
    ("in line, overlapping", line(0, 0, 5, 0), line(3, 0, 9, 0), Overlapping, [(3, 0), (5, 0)]),
    ("in line, against each other", line(0, 0, 5, 0), line(9, 0, 3, 0), Overlapping, [(3, 0), (5, 0)]),
    ("one inside the other", line(0, 0, 9, 0), line(3, 0, 5, 0), Overlapping, [(3, 0), (5, 0)]),
    ("the same line", line(0, 0, 9, 0), line(0, 0, 9, 0), Overlapping, [(0, 0), (9, 0)]),
    ("line through an arc", line(-9, 3, 9, 3), arc_round(O, 5, 0, pi), TwoCrossings, [(-4, 3), (4, 3)]),
    ("line through it once", line(0, 3, 9, 3), arc_round(O, 5, 0, pi), Crossing, [(4, 3)]),
    ("line tangent to an arc", line(-9, 5, 9, 5), arc_round(O, 5, 0, pi), Touching, [(0, 5)]),
    ("line tangent to the rest", line(-9, -5, 9, -5), arc_round(O, 5, 0, pi), NoCrossing, []),
    ("chord of an arc", line(-5, 0, 5, 0), arc_round(O, 5, 0, pi), TwoCrossings, [(-5, 0), (5, 0)]),
    ("tangent at the end", line(5, -5, 5, 5), arc_round(O, 5, 0, pi), Touching, [(5, 0)]),
    ("line inside the circle", line(-1, 1, 1, 1), arc_round(O, 5, 0, pi), NoCrossing, []),
    (
        "arcs cross twice",
        arc_round(O, 5, -pi / 2, pi),
        arc_round(Point(6, 0), 5, pi / 2, pi),
        TwoCrossings,
        [(3, -4), (3, 4)],
    ),
    (
        "unequal arcs cross",
        arc_round(O, 5, 0, pi),
        arc_round(Point(6.25, 0), 3.75, pi / 2, pi),
        Crossing,
        [(4, 3)],
    ),
    ("arcs cross once", arc_round(O, 5, 0, pi), arc_round(Point(6, 0), 5, 0, pi), Crossing, [(3, 4)]),
    ("touch from outside", arc_round(O, 5, -1, 2), arc_round(Point(8, 0), 3, 2, 2), Touching, [(5, 0)]),
    ("touch from inside", arc_round(O, 5, -1, 2), arc_round(Point(2, 0), 3, -1, 2), Touching, [(5, 0)]),
    ("circles apart", arc_round(O, 5, -1, 2), arc_round(Point(9, 0), 3, 2, 2), NoCrossing, []),
    ("concentric", arc_round(O, 5, 0, pi), arc_round(O, 4, 0, pi), NoCrossing, []),
    ("same circle, apart", arc_round(O, 5, 0, 1), arc_round(O, 5, 2, 1), NoCrossing, []),
    (
        "same circle, overlapping",
        arc_round(O, 5, 0, pi / 2 * 1.5),
        arc_round(O, 5, pi / 2, pi),
        Overlapping,
        [(0, 5), (-5 / sqrt(2), 5 / sqrt(2))],
    ),
    ("same circle, end on end", arc_round(O, 5, 0, pi / 2), arc_round(O, 5, pi / 2, 1), Touching, [(0, 5)]),
    (
        "both halves of a circle",
        arc_round(O, 5, 0, pi),
        arc_round(O, 5, pi, pi),
        TwoCrossings,
        [(5, 0), (-5, 0)],
    ),
    ("the same arc", arc_round(O, 5, 0, pi), arc_round(O, 5, 0, pi), Overlapping, [(5, 0), (-5, 0)]),
    ("the same arc back", arc_round(O, 5, 0, pi), arc_round(O, 5, pi, -pi), Overlapping, [(5, 0), (-5, 0)]),
]


@pytest.mark.parametrize(("edge_a", "edge_b", "case", "met"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_each_case_is_told_from_the_others(
    edge_a: Edge, edge_b: Edge, case: type, met: list[tuple[float, float]]
) -> None:
    """The case and its points are as drawn, whichever edge comes first and whichever way they run."""
    for one in (edge_a, edge_a.reversed):
        for other in (edge_b, edge_b.reversed):
            for first, second in ((one, other), (other, one)):
                meeting = intersect(first, second)
                assert type(meeting) is case
                found = sorted(point for point, _, _ in met_at(meeting))
                assert len(found) == len(met)
                for point, wanted in zip(found, sorted(met), strict=True):
                    assert point == pytest.approx(wanted, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(st.sampled_from(CASES), placements())
def test_cases_survive_any_placement(
    case: tuple[str, Edge, Edge, type, list[tuple[float, float]]], placement: Placement
) -> None:
    """Turned over, turned and moved, each case stays what it was, and its points go along."""
    _, edge_a, edge_b, kind, met = case
    meeting = intersect(placement.edge(edge_a), placement.edge(edge_b), 1e-8)
    assert type(meeting) is kind
    for point, _, _ in met_at(meeting):
        assert min(point.distance(placement.point(Point(*wanted))) for wanted in met) < 1e-4


def _parts(meeting: Meeting) -> list[Touching | Crossing]:
    if isinstance(meeting, TwoCrossings):
        return [meeting.first, meeting.last]
    return [meeting] if isinstance(meeting, Touching | Crossing) else []


@settings(max_examples=120, deadline=None)
@given(edges, edges)
def test_what_is_met_lies_on_both(edge_a: Edge, edge_b: Edge) -> None:
    """Every point met lies on both edges at the shares told, which rise along the first edge."""
    meeting = intersect(edge_a, edge_b)
    shares = [share for _, share, _ in met_at(meeting)]
    assert shares == sorted(shares)
    for point, share_a, share_b in met_at(meeting):
        assert distance_to(edge_a, point) < 1e-8 and distance_to(edge_b, point) < 1e-8
        assert edge_a.point_at(share_a).distance(point) < 1e-8
        assert edge_b.point_at(share_b).distance(point) < 1e-8
    if isinstance(meeting, Overlapping):
        middle = edge_a.point_at(sum(meeting.shares_a) / 2)
        assert middle.distance(edge_b.point_at(sum(meeting.shares_b) / 2)) < 1e-8


@settings(max_examples=120, deadline=None)
@given(edges, edges)
def test_nothing_that_passes_through_is_missed(edge_a: Edge, edge_b: Edge) -> None:
    """Walking the first edge, its side of the second changes only at points that were met."""
    met = [share for _, share, _ in met_at(intersect(edge_a, edge_b))]
    steps = [i / 200 for i in range(201)]
    sides = [_side(edge_b, edge_a.point_at(step)) for step in steps]
    for i in range(200):
        a, b = sides[i], sides[i + 1]
        if a * b < 0 and min(abs(a), abs(b)) > 1e-6:
            point = edge_a.point_at((steps[i] + steps[i + 1]) / 2)
            if 0.02 < edge_b.share_of(point) < 0.98 and abs(a - b) < 1:
                assert any(steps[i] - 1e-9 <= share <= steps[i + 1] + 1e-9 for share in met)


def _side(edge: Edge, point: Point) -> float:
    if isinstance(edge, Arc):
        return point.distance(edge.centre) - edge.radius
    return edge.direction_at(0).cross(point.minus(edge.start))


@settings(max_examples=100, deadline=None)
@given(edges, edges)
def test_crossings_pass_through_and_touches_do_not_need_to(edge_a: Edge, edge_b: Edge) -> None:
    """A crossing lies inside both edges and the first one changes sides there."""
    for part in _parts(intersect(edge_a, edge_b)):
        if isinstance(part, Crossing):
            assert 0 < part.share_a < 1 and 0 < part.share_b < 1
            step = 1e-3 * min(part.share_a, 1 - part.share_a)
            before = _side(edge_b, edge_a.point_at(part.share_a - step))
            after = _side(edge_b, edge_a.point_at(part.share_a + step))
            assert before * after < 0
