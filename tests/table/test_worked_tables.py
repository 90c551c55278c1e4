"""The figures worked by hand for two tables, from half-plane clipping independent of the tool."""

from __future__ import annotations

from math import hypot

import pytest

from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text

TWELVE = """
format = 1
[top]
diameter = 1340
rails = 3
segments = 12
rail_width = 84
rim_width = 126
saw_allowance = 5
[slats]
width = 58
gap = 6
hold = "width"
[joints]
groove_depth = 14
end_clearance = 1
shoulder_clearance = 0
"""

EIGHT = """
format = 1
[top]
diameter = 1260
rails = 2
segments = 8
rail_width = 92
rim_width = 138
saw_allowance = 5
[slats]
width = 54
gap = 6
hold = "width"
[joints]
groove_depth = 14
end_clearance = 1
shoulder_clearance = 0
"""

WORKED = {
    TWELVE: {
        "inner apothem": 549.0,
        "blank": (294.208213, 361.731410),
        "area": 36761.590635,
        "wall": 101.633377,
        "joint face": 130.444799,
        "between shoulders": 1098.0,
        "gap": 7.375,
        "bodies": (75.489, 150.977, 226.466, 301.954, 377.443, 452.931, 476.254),
        "with tongues": (105.511, 180.999, 256.488, 331.976, 407.465, 482.954, 511.771),
    },
    EIGHT: {
        "inner apothem": 497.0,
        "blank": (411.728281, 526.051224),
        "area": 53547.787698,
        "wall": 92.051076,
        "joint face": 149.370124,
        "between shoulders": 994.0,
        "gap": 6.743272,
        "bodies": (121.487, 242.973, 364.460, 485.946, 607.433, 637.810, 533.215),
        "with tongues": (158.256, 279.743, 401.229, 522.716, 644.202, 674.580, 569.984),
    },
}


def table_of(text: str) -> Table:
    """The table of a short profile."""
    return build_table(profile_from_text(text, "worked"))


@pytest.mark.parametrize("text", WORKED)
def test_ring_comes_out_as_worked(text: str) -> None:
    """Blank, finished area, wall and joint face of a segment agree with the worked table to its last digit."""
    worked, table = WORKED[text], table_of(text)
    segment = table.part("RIM-A")
    ring = segment.blank.points
    assert table.sizes.inner_apothem == worked["inner apothem"]
    assert ring[1].x - ring[0].x == pytest.approx(worked["blank"][0], abs=5e-7)
    assert ring[2].x - ring[3].x == pytest.approx(worked["blank"][1], abs=5e-7)
    assert segment.outline.area == pytest.approx(worked["area"], abs=5e-7)
    corner, end = segment.outline.points[1:3]
    assert hypot(end.x - corner.x, end.y - corner.y) == pytest.approx(worked["wall"], abs=5e-7)
    assert hypot(ring[2].x - ring[1].x, ring[2].y - ring[1].y) == pytest.approx(worked["joint face"], abs=5e-7)


@pytest.mark.parametrize("text", WORKED)
def test_slats_come_out_as_worked(text: str) -> None:
    """Number, gap and lengths of the slats agree with the worked table to half a unit in its last digit."""
    worked, table = WORKED[text], table_of(text)
    slats = [part for part in table.parts if part.kind == "slat"]
    assert table.spacing.gap == pytest.approx(worked["gap"], abs=5e-7)
    assert [part.body.bounds.width for part in slats if part.body] == pytest.approx(worked["bodies"], abs=5e-4)
    assert [part.outline.bounds.width for part in slats] == pytest.approx(worked["with tongues"], abs=5e-4)


@pytest.mark.parametrize("text", WORKED)
def test_rails_come_out_as_worked(text: str) -> None:
    """Rails measure 2a between shoulders and their tenons are the rail less both grooves wide."""
    worked, table = WORKED[text], table_of(text)
    rail = table.part("RAIL-LOW")
    shoulders = sorted({round(abs(p.x), 9) for p in rail.outline.points})
    assert 2 * shoulders[0] == worked["between shoulders"]
    assert shoulders[1] - shoulders[0] == pytest.approx(13)
    top = table.profile.top
    ends = [p.y for p in rail.outline.points if abs(p.x) > shoulders[0] + 1]
    assert max(ends) - min(ends) == pytest.approx(top.rail_width - 2 * 14)
