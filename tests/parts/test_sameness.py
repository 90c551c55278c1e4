"""When shapes and faces are the same."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.geometry.outline import circle, polygon
from templategen.parts.sameness import same_outline
from tests.strategies import starting_at
from tests.table.made import table_of

SHAPE = polygon(((0, 0), (70, 0), (60, 30), (10, 40)))


@settings(max_examples=30)
@given(start=st.integers(0, 3), off=st.floats(-5e-7, 5e-7))
def test_the_same_ring_from_another_start_is_the_same(start: int, off: float) -> None:
    """An outline equals itself told from any vertex, up to a nanometre."""
    moved = polygon((x + off, y) for x, y in starting_at(SHAPE, start).points)
    assert same_outline(SHAPE, moved)


def test_other_shapes_are_not_the_same() -> None:
    """A mirrored, a moved and a rounded outline are others."""
    assert not same_outline(SHAPE, polygon((70 - x, y) for x, y in reversed(SHAPE.points)))
    assert not same_outline(SHAPE, polygon((x + 0.01, y) for x, y in SHAPE.points))
    assert not same_outline(circle(0, 0, 5), polygon(((5, 0), (0, 5), (-5, 0))))


def test_parts_that_may_be_turned_over_are_told() -> None:
    """A chamfer or a lap makes faces differ; a spline and a middle rail's rim round-over do not."""
    table = table_of({"slats.chamfer": 0.0, "edges.slat": 0.0})
    assert table.part("SPLINE").alike_both_faces
    assert table.part("SLAT-01").alike_both_faces
    assert not table.part("RAIL-LOW").alike_both_faces
    assert not table_of().part("SLAT-01").alike_both_faces


def test_a_groove_off_the_middle_makes_faces_differ() -> None:
    """A segment grooved out of the middle has an upper face."""
    assert not table_of().part("RIM-A").alike_both_faces
    assert table_of({"slats.face": "centred"}).part("RIM-A").alike_both_faces


def test_missing_work_on_one_face_is_noticed() -> None:
    """Take one rebate from a slat and its faces differ."""
    slat = table_of({"slats.chamfer": 0.0, "edges.slat": 0.0}).part("SLAT-01")
    assert not replace(slat, features=slat.features[1:]).alike_both_faces
