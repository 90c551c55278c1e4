"""Which share of an edge lies on another."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.geometry.coincide import covered_share, pieces, uncovered
from templategen.geometry.edge import Line, arc_round
from templategen.geometry.point import Point

shares = st.floats(0, 1)


def along(first: float, last: float) -> Line:
    return Line(Point(first, 3.0), Point(last, 3.0))


@given(st.tuples(shares, shares), st.tuples(shares, shares))
@settings(max_examples=60, deadline=None)
def test_lines_cover_what_intervals_cover(one: tuple[float, float], other: tuple[float, float]) -> None:
    """On one line the covered length is the overlap of two intervals, whichever way each is walked."""
    if abs(one[0] - one[1]) < 0.01 or abs(other[0] - other[1]) < 0.01:
        return
    a, b = along(100 * one[0], 100 * one[1]), along(100 * other[0], 100 * other[1])
    overlap = min(max(one), max(other)) - max(min(one), min(other))
    span = covered_share(a, b)
    found = 0.0 if span is None else (span[1] - span[0]) * a.length
    assert found == pytest.approx(max(0.0, 100 * overlap), abs=2e-5)


@given(st.floats(-3, 3), st.floats(0.1, 3.1), st.floats(-3, 3), st.floats(-3.1, -0.1))
@settings(max_examples=80, deadline=None)
def test_arcs_cover_what_angles_cover(a0: float, sweep: float, b0: float, back: float) -> None:
    """On one circle the covered length agrees with counting fine steps."""
    a, b = arc_round(Point(5, 5), 40, a0, sweep), arc_round(Point(5, 5), 40, b0, back)
    steps = 2000
    inside = sum(((b0 - (a0 + sweep * (i + 0.5) / steps)) % (2 * pi)) <= -back for i in range(steps))
    span = covered_share(a, b)
    found = 0.0 if span is None else span[1] - span[0]
    assert found == pytest.approx(inside / steps, abs=2e-3)


def test_parallel_and_other_edges_cover_nothing() -> None:
    """A line beside, a line across, an arc on the same ends and a larger arc leave the edge free."""
    line = along(0, 10)
    assert covered_share(line, Line(Point(0, 3.001), Point(10, 3.001))) is None
    assert covered_share(line, Line(Point(5, 0), Point(5, 9))) is None
    assert covered_share(line, arc_round(Point(5, 3), 5, 0, pi)) is None
    arc = arc_round(Point(0, 0), 5, 0, 1)
    assert covered_share(arc, arc_round(Point(0, 0), 5.1, 0, 1)) is None
    assert covered_share(along(0, 10), along(10, 20)) is None


def test_pieces_come_in_order_and_make_the_edge() -> None:
    """Covered and free pieces alternate from start to end and add up to the whole length."""
    line = along(0, 100)
    found = pieces(line, [along(60, 70), along(20, 10), along(15, 30)])
    assert [is_covered for _, is_covered in found] == [False, True, True, False, True, False]
    assert sum(piece.length for piece, _ in found) == pytest.approx(100, abs=1e-9)
    assert [piece.length for piece in uncovered(line, [along(-5, 105)])] == []


def test_an_edge_without_length_covers_nothing() -> None:
    """A stop instead of an edge neither covers nor is covered, and breaks nothing."""
    spot = Line(Point(40, 3), Point(40, 3))
    assert covered_share(along(0, 100), spot) is None and covered_share(spot, along(0, 100)) is None
    assert uncovered(along(0, 100), [spot]) == (along(0, 100),)
