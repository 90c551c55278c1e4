"""What holds the parts of a sheet, read from the written DXF: two tabs on opposite sides, or a skin that is told."""

from __future__ import annotations

import io
from itertools import combinations
from math import atan2, degrees
from typing import Any

import ezdxf
import ezdxf.path
import pytest
import shapely

from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.packet.share_files import STOCK_FILES
from templategen.packet.shipped import shipped_text
from templategen.packet.table_stages import begun
from templategen.router.tabs import borne_by, enough
from templategen.table.profile.read import profile_from_text

SHEET = """
[[stock]]
name = "plywood"
kind = "sheet"
wood = "plywood"
length = 1830
width = 915
thickness = 12
price = 30
"""


@pytest.mark.parametrize(
    ("name", "more", "unit", "times"),
    [
        pytest.param("towpath-side", SHEET, 1.0, 5),
        pytest.param("towpath-dining", "", 1.0, 6, marks=pytest.mark.wide),
        pytest.param("towpath-inch", "", 25.4, 3, marks=pytest.mark.wide),
    ],
)
def test_every_part_that_is_cut_free_hangs_by_tabs_on_opposite_sides(
    name: str, more: str, unit: float, times: int
) -> None:
    """Of a plywood sheet as it is written: seen from a part's middle two tabs stand 120 degrees apart or more, half
    its length from each other; no tab bears more than a kilogram. The rest are cut to a skin, and the sheet tells to
    lay them on suction or tape; those that hang are so many times as many, fewest where two sheets are full."""
    files = begun(profile_from_text(shipped_text(name) + more, name), ("stock", "jigs"))[STOCK_FILES]
    free = skinned = 0
    for path, data in files.items():
        if "plywood" not in path or not path.endswith(".dxf"):
            continue
        drawing = ezdxf.read(io.StringIO(data.decode()))
        tabs, parts = rings(drawing, "HOLDING_TAB"), rings(drawing, "THROUGH_OUTSIDE")
        on_skin = [one for layer in layers(drawing) if "_OUTSIDE_" in layer for one in rings(drawing, layer)]
        assert not on_skin or "on suction or tape" in words(drawing)
        assert all(by_two_sides(part, tabs, unit) for part in parts)
        free, skinned = free + len(parts), skinned + len(on_skin)
    assert free > times * skinned and free > 30


def by_two_sides(part: Any, tabs: list[Any], unit: float) -> bool:
    """Whether tabs stand on opposite sides of a part, far enough apart, and are enough for its weight."""
    own = [tab.centroid for tab in tabs if tab.intersects(part)]
    middle, (left, low, right, high) = part.centroid, part.bounds
    ways = [degrees(atan2(one.y - middle.y, one.x - middle.x)) for one in own]
    rounds = [abs((one - two + 180) % 360 - 180) for one, two in combinations(ways, 2)]
    across = max((one.distance(two) for one, two in combinations(own, 2)), default=0.0)
    kilos = part.area * unit**2 * 12.7 * 0.8e-6
    return max(rounds, default=0.0) > 115 and across > 0.45 * max(right - left, high - low) and kilos <= len(own)


def rings(drawing: Any, layer: str) -> list[Any]:
    """The closed lines of a layer as polygons."""
    lines = drawing.modelspace().query(f'LWPOLYLINE POLYLINE[layer=="{layer}"]')
    return [shapely.Polygon([(at.x, at.y) for at in ezdxf.path.make_path(line).flattening(0.01)]) for line in lines]


def layers(drawing: Any) -> list[str]:
    """The names of its layers."""
    return [layer.dxf.name for layer in drawing.layers]


def words(drawing: Any) -> str:
    """All that is written on it."""
    return " ".join(text.dxf.text for text in drawing.modelspace().query("TEXT"))


def test_tabs_on_one_side_are_not_enough() -> None:
    """Three at one end of a strip let it swing; one at the other end holds it; a heavy part asks for more."""
    strip = rectangle(0, 0, 210, 70)
    at_one_end = [Point(210, 10), Point(210, 35), Point(210, 60)]
    assert not enough(strip, at_one_end)
    assert enough(strip, [*at_one_end[:1], Point(0, 35)])
    heavy = rectangle(0, 0, 700, 90)
    spots = [Point(0, 45), Point(350, 0), Point(700, 45)]
    assert borne_by(heavy, 12.0, (8.0, 2.5)) == 1 and borne_by(heavy, 90.0, (8.0, 2.5)) == 5
    assert enough(heavy, spots, 1) and not enough(heavy, spots, 5)
