"""Corner relief on part sheets, when the profile asks for it."""

from __future__ import annotations

from typing import Any

import pytest
import shapely

from templategen.drawing.part_sheet import part_drawing
from templategen.parts.part import Part
from tests.drawing.flat import flat
from tests.drawing.samples import leg, rail, rim_segment, top_rail

R = 4.0


def reliefs(part: Part, kind: str) -> list[Any]:
    """The relief holes of the part's sheet."""
    drawing = part_drawing(part, "Towpath", by=R, relief=kind)
    return [shape for shape in drawing.shapes if "_CORNER_RELIEF_" in shape.layer.name]


def test_without_asking_there_is_no_relief() -> None:
    """The default sheet has none."""
    for part in (leg(), rail(), rim_segment(), top_rail()):
        assert not reliefs(part, "none")


@pytest.mark.parametrize("kind", ["corner", "edge"])
def test_the_shoulders_of_a_leg_seat_square(kind: str) -> None:
    """Holes through at the four inside corners of its outline, each touching its corner, the bit's size."""
    part = leg()
    holes = reliefs(part, kind)
    assert {hole.layer.name for hole in holes} == {"TOP_CORNER_RELIEF_THROUGH"} and len(holes) == 4
    corners = [shapely.Point(x, y) for x in (-300, 300) for y in (-20, 20)]
    for corner in corners:
        assert min(abs(flat(hole.outline).exterior.distance(corner)) for hole in holes) < 1e-3
    for hole in holes:
        assert hole.layer.cuts
        box = hole.outline.bounds
        assert min(box.width, box.height) == pytest.approx(2 * R)
        assert (hole.outline.circle is not None) == (kind == "corner")


@pytest.mark.parametrize("kind", ["corner", "edge"])
def test_a_routed_mortise_takes_a_square_tenon(kind: str) -> None:
    """Pocket as the bit leaves it and holes together hold the whole rectangle."""
    part = rail()
    holes = [hole for hole in reliefs(part, kind) if hole.layer.name == "BOTTOM_CORNER_RELIEF_18MM"]
    assert len(holes) == 8
    drawing = part_drawing(part, "Towpath", by=R, relief=kind)
    pockets = [flat(s.outline) for s in drawing.shapes if s.layer.name == "BOTTOM_MORTISE_18MM"]
    bored = shapely.union_all([flat(hole.outline) for hole in holes])
    for pocket in pockets:
        routed = pocket.buffer(-R).buffer(R, quad_segs=180)
        assert pocket.difference(routed.union(bored)).area < 0.05


def test_open_pockets_and_corners_that_meet_another_pocket_stay_as_they_are() -> None:
    """A lap runs out of the wood, and where two laps meet there is no corner to clear."""
    assert not [hole for hole in reliefs(top_rail(), "corner") if "THROUGH" not in hole.layer.name]
