"""The elevation, by closed formulas and shapely."""

from __future__ import annotations

from math import pi

import pytest
import shapely

from templategen.drawing.drawing import Shape, Stroke, Words
from templategen.drawing.elevation import elevation_drawing
from templategen.drawing.projection import FRONT
from templategen.drawing.section_wood import wood_beyond
from templategen.fit.solid import placed_solid
from templategen.geometry.outline import Outline
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from templategen.units import show_length
from templategen.view.eased import SAG, eased_solid
from templategen.view.slice import Plane, slices
from tests.table.made import table_of as changed_table


def table_of(name: str) -> Table:
    """A shipped table."""
    return build_table(profile_from_text(shipped_text(name), name))


def polygon(outline: Outline) -> shapely.Polygon:
    """The outline finely stepped."""
    return shapely.Polygon([edge.point_at(i / 64) for edge in outline.edges for i in range(64)])


@pytest.mark.parametrize("name", shipped_names())
def test_the_section_stands_from_floor_to_top(name: str) -> None:
    """Cut wood reaches from the floor to the table's height and from rim to rim, each with its own section."""
    table = table_of(name)
    top, sizes = table.profile.top, table.sizes
    cut = [mark.outline for mark in elevation_drawing(table).marks if isinstance(mark, Shape)]
    assert min(outline.bounds.bottom for outline in cut) == pytest.approx(0, abs=1e-9)
    assert max(outline.bounds.top for outline in cut) == pytest.approx(top.height)
    assert max(outline.bounds.right for outline in cut) == pytest.approx(top.diameter / 2)
    rims = [outline for outline in cut if abs(outline.bounds.right - top.diameter / 2) < 1e-9]
    eased = 2 * (1 - pi / 4) * top.edge_round**2 + table.profile.edges.rim**2
    wanted = (sizes.radius - sizes.inner_apothem) * top.thickness - eased
    assert [rim.area for rim in rims] == pytest.approx([wanted])


@pytest.mark.parametrize("name", shipped_names())
def test_legs_stand_between_their_shoulders(name: str) -> None:
    """A leg's outline fills the height between ground cross and rails, and its tenons reach into both."""
    table = table_of(name)
    tenon = table.profile.legs.tenon[2]
    legs = [
        mark.outline
        for mark in elevation_drawing(table).marks
        if isinstance(mark, Shape)
        and mark.outline.bounds.top < table.profile.top.height - 1
        and mark.outline.bounds.height > table.sizes.leg_height
    ]
    assert len(legs) == 2
    for leg in legs:
        assert leg.bounds.height <= table.sizes.leg_height + 2 * tenon + 1
        assert leg.contains(leg.bounds.centre)


@pytest.mark.parametrize("name", shipped_names())
def test_what_is_beyond_shows_only_past_the_cut_wood(name: str) -> None:
    """No thin line of the legs and feet behind runs inside wood that stands before it; hatching stays in the rim."""
    table = table_of(name)
    marks = elevation_drawing(table).marks
    solid = shapely.union_all([polygon(mark.outline) for mark in marks if isinstance(mark, Shape)])
    seen = 0
    for mark in marks:
        if isinstance(mark, Stroke) and mark.layer.name in ("SECTION_BEYOND", "SECTION_HATCH"):
            line = shapely.LineString([mark.edge.point_at(i / 8) for i in range(9)])
            inside = line.intersection(solid.buffer(-1e-3)).length
            wanted = 0.0 if mark.layer.name == "SECTION_BEYOND" else line.length
            assert inside == pytest.approx(wanted, abs=0.3)
            seen += 1
    assert seen > 20


def test_overall_heights_are_written() -> None:
    """Height, clear height under the rails, diameter and the ground cross's length stand on the drawing."""
    table = table_of("towpath-dining")
    words = {mark.text for mark in elevation_drawing(table).marks if isinstance(mark, Words)}
    top = table.profile.top
    for size in (top.height, top.height - top.thickness, top.diameter, table.profile.base.length):
        assert show_length(size, "mm") in words


@pytest.mark.parametrize(("feet", "corner"), [("pads", "rounded"), ("relieved", "beaded"), ("pads", "chamfered")])
def test_what_stands_in_the_section_is_eased_as_the_solids_are(feet: str, corner: str) -> None:
    """The ends of the ground rail, pads and the rims' faces are cut as the solids are, but for the chords of two
    rounds of 5 mm; so do legs beyond show."""
    table = changed_table(
        {"base.feet": feet, "legs.corner": corner, "legs.corner_size": 9.0, "edges.base": 5.0, "edges.rim": 3.0,
         "legs.base_centre_distance": 171.0, "edges.shape": "chamfered" if feet == "pads" else "rounded"}
    )  # fmt: skip
    drawn = shapely.union_all([polygon(m.outline) for m in elevation_drawing(table).marks if isinstance(m, Shape)])
    faces = [face for face in slices(table, Plane(FRONT)) if table.part(table.placed[face.index].code).kind != "leg"]
    solid = shapely.union_all([shapely.Polygon(ring) for face in faces for ring in face.rings])
    low, high, past = table.sizes.top_underside, table.profile.top.height, table.sizes.inner_apothem - 5
    for window in ((270, -9, 999, low - 99), (past, low - 9, 999, low + 5), (past, high - 5, 999, high + 9)):
        for side in (1, -1):
            seen = shapely.transform(shapely.box(*window), lambda xy, side=side: xy * (side, 1))
            assert seen.intersection(drawn).symmetric_difference(seen.intersection(solid)).area < 1.3
    assert len(leg_silhouettes(table)) == 2


def leg_silhouettes(table: Table) -> list[shapely.Geometry]:
    """For each leg behind its silhouette as drawn, equal between the shoulders to its solid's but for chords."""
    found = []
    low, high = round(table.sizes.base_top, 2), round(table.sizes.top_underside, 2)
    for placed in table.placed:
        part = table.part(placed.code)
        if part.kind == "leg" and placed.point(0, 0, part.thickness / 2).y > 1.0:
            corners = placed_solid(eased_solid(part), placed).to_mesh().vert_properties
            legs = [(x, z) for x, _, z in corners[:, :3] if low <= round(z, 2) <= high]
            flat = shapely.MultiPoint(legs).convex_hull
            drawn = next(o for o in map(polygon, wood_beyond(table)) if o.intersection(flat).area > 0.5 * flat.area)
            assert drawn.intersection(shapely.box(-999, low, 999, high)).symmetric_difference(flat).area < SAG * (
                high - low
            )
            found.append(drawn)
    return found
