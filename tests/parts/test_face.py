"""Faces: seen from outside, their frames in the part."""

from __future__ import annotations

from itertools import pairwise

import pytest

from templategen.geometry.outline import polygon
from templategen.geometry.point import Point
from templategen.parts.face import flat_faces, plan_point, side_faces

CORNERS = tuple(Point(*p) for p in ((0, 0), (120, 10), (90, 70), (-20, 50)))
OUTLINE = polygon(CORNERS)
SIDES = side_faces(((f"edge-{i}", a, b) for i, (a, b) in enumerate(pairwise((*CORNERS, CORNERS[0])), 1)), 22.0)


def test_normals_look_out_of_the_wood() -> None:
    """A point a little inside any face is in the part, one a little outside is not."""
    for face in (*flat_faces(OUTLINE, 22.0), *SIDES):
        middle = face.outline.bounds
        u, v = (middle.left + middle.right) / 2, (middle.bottom + middle.top) / 2
        for depth, inside in ((0.01, True), (-0.01, False)):
            at = face.point(u, v, depth)
            assert (OUTLINE.contains(Point(at.x, at.y)) and 0 <= at.z <= 22) is inside, face.name


def test_normals_have_length_one() -> None:
    """Frames are orthonormal, so depths are true."""
    for face in (*flat_faces(OUTLINE, 22.0), *SIDES):
        assert sum(c * c for c in face.normal) == pytest.approx(1)
        assert sum(a * b for a, b in zip(face.along, face.up, strict=True)) == pytest.approx(0)


def test_the_bottom_is_seen_turned_over() -> None:
    """A point of the bottom face at (u, v) lies at (-u, v) of the part, at its lower side."""
    top, bottom = flat_faces(OUTLINE, 22.0)
    assert bottom.point(-90, 70) == pytest.approx((90, 70, 0))
    assert bottom.point(-90, 70, 5) == pytest.approx((90, 70, 5))
    assert top.point(90, 70, 5) == pytest.approx((90, 70, 17))
    assert {(-x, y) for x, y in bottom.outline.points} == set(top.outline.points)
    assert bottom.outline.is_anticlockwise


def test_side_faces_run_along_their_edges() -> None:
    """u runs from the edge's start to its end, v from the bottom up."""
    for i, face in enumerate(SIDES):
        start, end = CORNERS[i], CORNERS[(i + 1) % 4]
        length = start.distance(end)
        assert plan_point(face, 0) == pytest.approx(start)
        assert plan_point(face, length) == pytest.approx(end)
        assert face.outline.bounds.right == pytest.approx(length)
        assert face.point(0, 22).z == 22
