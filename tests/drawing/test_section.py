"""Sections cut from the solids, by closed formulas and shapely."""

from __future__ import annotations

import re
from fractions import Fraction
from math import atan2, degrees, pi

import pytest
import shapely

from templategen.drawing.drawing import Shape, Stroke, Words
from templategen.drawing.elevation import CUT, HATCH, elevation_drawing
from templategen.drawing.hatch import hatch, styles
from templategen.drawing.joint_details import detail
from templategen.drawing.plan import plan_drawing
from templategen.drawing.projection import FRONT
from templategen.drawing.section import section_drawing
from templategen.packet.shipped import shipped_names
from templategen.table.assembly import Table
from templategen.view.slice import Plane, slices
from tests.drawing.details import all_details
from tests.drawing.shipped_tables import overlapping, table_of
from tests.table.made import table_of as changed_table

NAMES = shipped_names()


@pytest.mark.parametrize("name", NAMES)
def test_the_section_cuts_what_the_profile_says(name: str) -> None:
    """The ring's two cut faces have the area of the rim less its groove and its eased corners."""
    table = table_of(name)
    top, joints, sizes = table.profile.top, table.profile.joints, table.sizes
    cut = [m for m in section_drawing(table).marks if isinstance(m, Shape) and m.layer == CUT]
    rims = [m.outline for m in cut if table.part(m.part).kind == "rim-segment"]
    width = sizes.radius - sizes.inner_apothem
    groove = joints.tongue * joints.groove_depth
    wanted = width * top.thickness - groove - 2 * (1 - pi / 4) * top.edge_round**2 - table.profile.edges.rim**2
    assert [rim.area for rim in rims] == pytest.approx([wanted] * 2, rel=6e-4)
    assert max(m.outline.bounds.top for m in cut) == pytest.approx(top.height)
    assert min(m.outline.bounds.bottom for m in cut) == pytest.approx(0.0, abs=1e-6)
    assert max(m.outline.bounds.right for m in cut) == pytest.approx(sizes.radius, abs=0.06)


@pytest.mark.parametrize("name", NAMES)
def test_cut_faces_do_not_overlap(name: str) -> None:
    """No two cut faces share more than a trace of area."""
    faces = slices(table_of(name), Plane(FRONT))
    shapes = [shapely.Polygon(face.rings[0]) for face in faces for ring in face.rings[:1]]
    for i, one in enumerate(shapes):
        assert all(one.intersection(other).area < 0.5 for other in shapes[:i])


@pytest.mark.parametrize("name", NAMES)
def test_hatching_stays_on_its_wood_at_45_degrees(name: str) -> None:
    """Every hatch line slopes by 45 degrees and lies on a cut face of the part that it names."""
    drawing = section_drawing(table_of(name))
    wood: dict[str, list[shapely.Polygon]] = {}
    for mark in drawing.marks:
        if isinstance(mark, Shape) and mark.layer == CUT:
            ring = [edge.point_at(i / 8) for edge in mark.outline.edges for i in range(8)]
            wood.setdefault(mark.part, []).append(shapely.Polygon(ring).buffer(0.05))
    lines = [mark for mark in drawing.marks if isinstance(mark, Stroke) and mark.layer == HATCH]
    assert len(lines) > 100
    for mark in lines:
        across = mark.edge.end.minus(mark.edge.start)
        assert abs(degrees(atan2(across.y, across.x))) == pytest.approx(45)
        assert shapely.union_all(wood[mark.part]).contains(shapely.LineString([mark.edge.start, mark.edge.end]))


def test_hatch_lines_are_evenly_apart_and_leave_holes() -> None:
    """Over a square with a square hole the lines are the named distance apart and cover its area."""
    square = ((0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0))
    hole = ((10.0, 10.0), (10.0, 30.0), (30.0, 30.0), (30.0, 10.0))
    lines = list(hatch((square, hole), (1, 1.0), 0.5))
    assert sum(line.length for line in lines) * 0.5 == pytest.approx(40**2 - 20**2, rel=0.01)
    inside = shapely.Polygon(hole).buffer(-1e-6)
    assert not any(inside.intersects(shapely.LineString([line.start, line.end])) for line in lines)


def test_neighbours_are_hatched_unlike() -> None:
    """Faces that touch get styles of their own; one far off may have the first again."""
    boxes = [(((x, 0.0), (x + 10.0, 0.0), (x + 10.0, 10.0), (x, 10.0)),) for x in (0.0, 10.0, 20.0, 500.0)]
    chosen = styles(boxes)
    assert chosen[0] != chosen[1] != chosen[2]
    assert chosen[3] == chosen[0]


def is_told(table: Table, mm: float, words: list[str]) -> bool:
    """Whether one of the words is the length, in the profile's unit, to its last digit."""
    unit, last = (25.4, 0.0006) if table.profile.units == "in" else (1.0, 0.006)
    shown = [word for word in words if re.fullmatch(r"[\d ./]+", word)]
    figures = [float(sum(map(Fraction, word.split()))) for word in shown]
    return any(abs(figure - mm / unit) < last for figure in figures)


@pytest.mark.parametrize("name", NAMES)
def test_details_tell_the_sizes_of_the_profile(name: str) -> None:
    """A tongue's detail tells its length and the groove's depth, a spline's its slot; a leg is shown at both ends."""
    table = table_of(name)
    joints = table.profile.joints
    told = {}
    for drawing in all_details(table):
        told[drawing.title] = [mark.text for mark in drawing.marks if isinstance(mark, Words)]
        assert list(overlapping(drawing)) == []
    tongues = [words for title, words in told.items() if title.endswith(": tongue in groove")]
    assert len(tongues) == 2 or name == "towpath-inch"
    for words in tongues:
        beside_rail = joints.groove_depth + table.sizes.clearances.shoulder
        assert is_told(table, joints.groove_depth, words) or is_told(table, beside_rail, words)
        assert is_told(table, joints.groove_depth - joints.end_clearance, words)
    (spline,) = [words for title, words in told.items() if title.endswith("spline across the mitre")]
    assert is_told(table, 2 * joints.spline_depth, spline)
    legs = [words for title, words in told.items() if title.endswith("leg tenon in its mortise")]
    assert len(legs) == 2


@pytest.mark.parametrize("name", NAMES)
def test_details_show_both_parts(name: str) -> None:
    """Each detail shows wood of both parts that the joint joins."""
    table = table_of(name)
    seen = set()
    for joint in table.joints:
        key = (joint.kind, *joint.parts)
        if key in seen:
            continue
        seen.add(key)
        marks = detail(table, joint, joint.parts[0]).marks
        assert set(joint.parts) <= {mark.part for mark in marks if mark.layer == CUT}


@pytest.mark.parametrize(
    ("diameter", "edge_round"), [(556.0, 5.0), (566.0, 5.0), (560.0, 9.0), (560.0, 13.9), (571.0, 4.97)]
)
def test_a_round_that_ends_level_with_a_slot_leaves_no_edge_without_length(
    diameter: float, edge_round: float
) -> None:
    """A slot's solid leaves points on the rim's straight side; the outline's edges all have a length, none runs back
    over another, and its area is the sharp section's less two rounds and two chamfers."""
    sizes = {"top.diameter": diameter, "top.edge_round": edge_round}
    table = changed_table(sizes, "towpath-side")
    top, joints = table.profile.top, table.profile.joints
    marks = [m for m in section_drawing(table).marks if isinstance(m, Shape) and m.layer == CUT]
    rims = [m.outline for m in marks if table.part(m.part).kind == "rim-segment"]
    wanted = top.rim_width * top.thickness - joints.tongue * joints.groove_depth
    wanted -= 2 * (1 - pi / 4) * edge_round**2 + table.profile.edges.rim**2
    assert [rim.area for rim in rims] == pytest.approx([wanted] * 2, rel=6e-4)
    for rim in rims:
        assert all(edge.length > 1e-5 for edge in rim.edges)
        steps = [edge.point_at(i / 40) for edge in rim.edges for i in range(40)]
        assert shapely.Polygon(steps).is_valid


LEVEL = (526, 556, 564, 596, 632)
"""Where something comes level with something else, and one where nothing does."""


@pytest.mark.parametrize(
    "diameter", [pytest.param(one, marks=() if one in LEVEL else pytest.mark.slow) for one in range(520, 641, 2)]
)
def test_every_even_diameter_is_drawn(diameter: int) -> None:
    """Section, elevation and plan of the side table hold no edge without length, whatever comes level with what."""
    table = changed_table({"top.diameter": float(diameter)}, "towpath-side")
    for drawing in (section_drawing(table), elevation_drawing(table), plan_drawing(table)):
        marks = [mark for mark in drawing.marks if isinstance(mark, Shape | Stroke)]
        edges = [edge for mark in marks for edge in (mark.outline.edges if isinstance(mark, Shape) else (mark.edge,))]
        assert len(edges) > 50 and min(edge.length for edge in edges) > 1e-2
