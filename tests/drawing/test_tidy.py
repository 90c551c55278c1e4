"""What a drawing is cleared of before it is written."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.drawing.layers import FACE_OUTLINE, THROUGH_OUTSIDE
from templategen.drawing.tidy import printable, tidied, without_short_edges
from templategen.geometry.edge import Line, arc_round
from templategen.geometry.outline import Outline, circle, polygon, rectangle
from templategen.geometry.point import Point, Vertex
from tests.strategies import starting_at

OTHER = Layer("TOP_LAP_5MM", "lap", cuts=True)
SQUARE = rectangle(0, 0, 30, 20)


def kept(*marks: Mark) -> tuple[Mark, ...]:
    return tidied(Drawing("t", marks)).marks


@pytest.mark.parametrize("start", range(4))
@pytest.mark.parametrize("back", [False, True])
@pytest.mark.parametrize(
    "ring", [SQUARE, Outline((Vertex(0, 0, 0.3), Vertex(9, 1), Vertex(8, 9, -0.2), Vertex(0, 5)))]
)
def test_a_contour_drawn_twice_is_kept_once(start: int, back: bool, ring: Outline) -> None:
    """The same ring told from another corner or walked the other way is the same cut."""
    again = starting_at(ring, start)
    assert kept(Shape(THROUGH_OUTSIDE, ring), Shape(THROUGH_OUTSIDE, again.reversed if back else again)) == (
        Shape(THROUGH_OUTSIDE, ring),
    )


def test_a_contour_is_cut_on_one_layer_only() -> None:
    """A ring cut on one layer isn't drawn again on another, but a cut may follow a mere picture of it."""
    cut, pocket, picture = Shape(THROUGH_OUTSIDE, SQUARE), Shape(OTHER, SQUARE), Shape(FACE_OUTLINE, SQUARE)
    assert kept(cut, pocket) == (cut,)
    assert kept(cut, picture) == (cut,)
    assert kept(picture, cut) == (picture, cut)


def test_likeness_is_not_sameness() -> None:
    """Rings that differ in one bulge, circles of other radii and arcs of other bend are all kept."""
    bent = Outline((Vertex(0, 0, 0.1), *SQUARE.vertices[1:]))
    marks = (
        Shape(THROUGH_OUTSIDE, SQUARE),
        Shape(THROUGH_OUTSIDE, bent),
        Shape(THROUGH_OUTSIDE, circle(0, 0, 5)),
        Shape(THROUGH_OUTSIDE, circle(0, 0, 5.001)),
        Stroke(OTHER, arc_round(Point(0, 0), 5, 0, 1)),
        Stroke(OTHER, arc_round(Point(0, 0), 5, 0, 1.1)),
    )
    assert kept(*marks) == marks


def test_a_stroke_walked_back_is_the_same_stroke() -> None:
    """A line or arc drawn from both ends is kept once; so are circles told by different arcs."""
    quarter = 2**0.5 - 1
    four = Outline(tuple(Vertex(x, y, quarter) for x, y in ((0, 7), (-7, 0), (0, -7), (7, 0))))
    for edge in (Line(Point(0, 0), Point(3, 4)), arc_round(Point(0, 0), 5, 2, -2.5)):
        assert len(kept(Stroke(OTHER, edge), Stroke(OTHER, edge.reversed))) == 1
    assert len(kept(Shape(OTHER, four), Shape(OTHER, circle(0, 0, 7)))) == 1


@given(st.lists(st.floats(1e-7, 0.02), min_size=1, max_size=4), st.integers(0, 7))
@settings(max_examples=50, deadline=None)
def test_short_edges_go_and_the_shape_stays(steps: list[float], start: int) -> None:
    """Splinters at a corner vanish, the ring stays closed and its area changes by splinters only."""
    points = [(0.0, 0.0), (30.0, 0.0)]
    for step in steps:
        points.append((points[-1][0] + step * 0.6, points[-1][1] + step * 0.8))
    ring = polygon((*points, (30, 20), (0, 20)))
    ring = starting_at(ring, start)
    clean = without_short_edges(ring)
    assert clean is not None
    assert min(edge.length for edge in clean.edges) >= 0.01
    assert clean.area == pytest.approx(ring.area, abs=30 * sum(steps))


def test_what_is_nothing_is_left_out() -> None:
    """A ring of splinters, a stroke under 0.01 mm and empty words draw nothing."""
    speck = Shape(OTHER, circle(0, 0, 0.001))
    dot = Stroke(OTHER, Line(Point(0, 0), Point(0.009, 0)))
    blank = Words(FACE_OUTLINE, Point(0, 0), 5, " \n\t ")
    square = Shape(THROUGH_OUTSIDE, SQUARE)
    assert kept(square, speck, dot, blank) == (square,)


def test_flat_arcs_are_lines() -> None:
    """An arc under a thousandth of a millimetre deep becomes a line, a deeper one stays an arc."""
    flat = Outline((Vertex(0, 0, 2 * 0.0009 / 100), Vertex(100, 0, 2 * 0.0011 / 50), Vertex(100, 50), Vertex(0, 50)))
    (shape,) = kept(Shape(OTHER, flat))
    assert isinstance(shape, Shape)
    assert [bool(v.bulge) for v in shape.outline] == [False, True, False, False]
    (stroke,) = kept(Stroke(OTHER, arc_round(Point(0, 0), 1e5, 0, 1e-4)))
    assert isinstance(stroke, Stroke)
    assert isinstance(stroke.edge, Line)


def test_text_is_made_fit_to_print() -> None:
    """Breaks and control characters become single spaces, letters of every script stay."""
    assert printable("a\r\nb\x00\x1b c\u2028d\ud800e") == "a b c d e"
    assert printable("Tisch Ø 1,20 m 桌") == "Tisch Ø 1,20 m 桌"


def test_half_circles_are_kept_whole() -> None:
    """A slot with two half-round ends passes untouched."""
    slot = Outline((Vertex(0, 0), Vertex(50, 0, 1), Vertex(50, 10), Vertex(0, 10, 1)))
    (shape,) = kept(Shape(OTHER, slot))
    assert isinstance(shape, Shape)
    assert shape.outline.area == pytest.approx(500 + pi * 25)
