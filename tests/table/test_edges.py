"""Eased edges: where they run, what they take, and what stays sharp for a reason."""

from __future__ import annotations

from math import pi

import pytest
import shapely

from templategen.errors import DesignError
from templategen.fit.solid import part_solid
from templategen.geometry.outline import Outline
from templategen.geometry.refine import fine_polyline
from templategen.parts.part import Part
from templategen.table.pedestal import base_lap
from templategen.view.eased import SAG, _worked, chords, eased_solid
from templategen.view.facets import part_facets
from tests.table.made import table_of


def shape(outline: Outline) -> shapely.Polygon:
    """The outline by fine chords."""
    return shapely.Polygon(fine_polyline(outline, 1e-4))


def strips(part: Part, face: str) -> shapely.Geometry:
    """All that is eased of one face, as the face shows it."""
    return shapely.union_all([shape(f.outline) for f in part.features_on(face) if f.traits.arris])


def test_a_base_rail_is_eased_all_round_but_in_the_crossing_and_under_pads() -> None:
    """Above, a frame 4 mm wide beyond the lap and 10 mm; below, two pairs of strips from there to the pads."""
    table = table_of({"edges.base": 4.0, "base.end_round": 17.0, "base.foot_length": 93.0})
    rail, base = table.part("BASE-MID"), table.profile.base
    wood, start = shape(rail.outline), base_lap(table.sizes).reach + 10
    frame = wood.difference(wood.buffer(-4, join_style="mitre")).difference(shapely.box(-start, -99, start, 99))
    assert strips(rail, "top").symmetric_difference(frame).area < 0.05
    below = strips(rail, "bottom")
    assert below.area == pytest.approx(4 * 4 * (base.length / 2 - 93 - start))
    assert below.bounds == pytest.approx((93 - base.length / 2, -42, base.length / 2 - 93, 42))


def test_a_pad_is_eased_round_its_sole_alone() -> None:
    """A frame as wide as asked, and nothing where it is glued."""
    foot = table_of({"edges.base": 2.5}).part("FOOT")
    wood = shape(foot.outline)
    frame = wood.difference(wood.buffer(-2.5, join_style="mitre"))
    assert strips(foot, "bottom").area == pytest.approx(frame.area, abs=0.02)
    assert not foot.features_on("top")


def test_a_relieved_rail_is_eased_between_its_feet_on_the_floor_of_the_relief() -> None:
    """From past each foot, by the bearing's 10 mm and the bit's size, to 10 mm short of the lap; its solid loses a
    bevel all along, there, round the feet and above."""
    table = table_of(
        {"base.feet": "relieved", "edges.base": 3.5, "edges.shape": "chamfered", "base.end_round": 17.0,
         "base.foot_length": 91.0, "base.foot_thickness": 9.0}
    )  # fmt: skip
    rail, half, start = table.part("BASE-HIGH"), table.profile.base.length / 2, base_lap(table.sizes).reach + 10
    between = [one for one in rail.features_on("bottom") if one.floor]
    assert [one.floor for one in between] == [9.0] * 4
    for one in between:
        box = one.outline.bounds
        assert sorted((abs(box.left), abs(box.right))) == pytest.approx([start, half - 91 - 13.5])
        assert sorted((abs(box.bottom), abs(box.top))) == pytest.approx([38.5, 42])
    lost = part_solid(rail, chords).volume() - eased_solid(rail).volume()
    area = shapely.union_all([shape(one.outline) for one in rail.features_on("bottom") if one.traits.arris]).area
    round_corners = 8 * pi / 2 * 3.5**3 / 12  # a bevel's middle runs further out than its strip's: Pappus
    assert lost == pytest.approx((area + strips(rail, "top").area) * 3.5 / 2 + round_corners, rel=2e-4)
    x = min(one.outline.bounds.left for one in between) + 1
    short = eased_solid(rail).trim_by_plane((1.0, 0.0, 0.0), x).trim_by_plane((-1.0, 0.0, 0.0), -x - 1)
    assert short.slice(9.0 + 1.0).bounds()[1::2] == pytest.approx((2.5 - 42, 42 - 2.5), abs=1e-4)


def test_nothing_asked_leaves_edges_sharp() -> None:
    """With noughts only the rim's outer edge, the slats' upper ones and the legs' are eased."""
    sharp = table_of({"edges.rim": 0.0, "edges.rail": 0.0, "edges.slat": 0.0, "edges.base": 0.0})
    eased = {part.kind for part in sharp.parts for feature in part.features if feature.traits.arris}
    assert eased == {"rim-segment", "slat", "leg"}


@pytest.mark.parametrize(
    ("corner", "takes", "round_share"),
    [("chamfered", 0.5, 0.0), ("rounded", 1 - pi / 4, pi / 2), ("beaded", 3 * 0.16 * (1 - pi / 4) + 0.16, 0.6 * pi)],
)
def test_eased_solids_lose_what_the_cutter_takes(corner: str, takes: float, round_share: float) -> None:
    """Four arrises of a leg between its shoulders, against the closed formula; chords lie in the wood of a round, by
    two thirds of their sag on the mean."""
    table = table_of({"legs.corner": corner, "legs.corner_size": 9.0})
    leg = table.part("LEG")
    lost = part_solid(leg, chords).volume() - eased_solid(leg).volume()
    exact, more = takes * 81, round_share * 9 * SAG * 2 / 3
    assert exact * 0.999 < lost / (4 * table.sizes.leg_height) < (exact + more) * 1.001


def test_facets_are_the_same_whichever_part_was_made_first() -> None:
    """The library numbers solids as they are made and orders what it gives by these numbers."""
    table = table_of({"legs.corner": "rounded", "edges.shape": "rounded", "edges.base": 4.0, "base.end_round": 17.0})
    made = []
    for parts in (table.parts, table.parts[::-1]):
        part_facets.cache_clear()
        _worked.cache_clear()
        named = {part.code: part_facets(part) for part in parts}
        made.append({code: [facets.corners.tobytes(), facets.triangles.tobytes()] for code, facets in named.items()})
    assert made[0] == made[1]


def test_a_bend_tighter_than_the_cutter_is_eased_all_round() -> None:
    """Round a bend of 2 mm a chamfer of 6 mm ends in a corner: the solid loses the frame's share and is whole."""
    table = table_of(
        {"edges.base": 6.0, "base.end_round": 2.0, "base.foot_thickness": 13.0, "base.foot_length": 93.0}
    )
    foot = table.part("FOOT")
    inner = shape(foot.outline).buffer(-6, join_style="mitre")
    lost = part_solid(foot, chords).volume() - eased_solid(foot).volume()
    assert lost == pytest.approx((shape(foot.outline).area - inner.area) * 6 / 2, rel=0.03)
    assert eased_solid(foot).genus() == part_solid(foot, chords).genus()


def test_an_edge_that_takes_the_whole_cheek_is_refused() -> None:
    """The slats' groove leaves 5 mm above it: 5 is too much off the rim, 4.9 isn't, and the refusal names a size."""
    table_of({"edges.rim": 4.9})
    with pytest.raises(DesignError, match=r"edges\.rim.*cheek of 5\.0 mm"):
        table_of({"edges.rim": 5.0})
