"""The elevation, by closed formulas and shapely."""

from __future__ import annotations

from math import pi

import pytest
import shapely

from templategen.drawing.drawing import Shape, Stroke, Words
from templategen.drawing.elevation import elevation_drawing
from templategen.geometry.outline import Outline
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from templategen.units import show_length


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
    wanted = (sizes.radius - sizes.inner_apothem) * top.thickness - 2 * (1 - pi / 4) * top.edge_round**2
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
