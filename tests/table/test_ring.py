"""The ring: blanks that close, grooves where owed, splines that clear them."""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, pi

import pytest
from shapely.affinity import rotate
from shapely.geometry import Polygon

from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.rim import SPLINE_WALL, segment_placement
from tests.table.made import RUNS, SHAPES, shaped, table_of


def closes(table: Table) -> None:
    """Asserts that the placed blanks' joint faces coincide, each with its neighbour's."""
    rings = []
    for i in range(table.sizes.segments):
        blank = table.part(table.placed[i].code).blank
        rings.append([table.placed[i].point(p.x, p.y, 0) for p in blank.points])
    for i, ring in enumerate(rings):
        after = rings[(i + 1) % len(rings)]
        assert ring[0] == pytest.approx(after[1], abs=1e-9)
        assert ring[3] == pytest.approx(after[2], abs=1e-9)


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("edge", ["sawn", "faceted"])
def test_blanks_close_to_a_full_turn(shape: tuple[int, int], edge: str) -> None:
    """All N blanks in place meet along whole joint faces, and their mitres add up to a full turn."""
    table = shaped(*shape, {"top.edge": edge})
    closes(table)
    _, inner, outer, _ = table.part(table.placed[0].code).blank.points
    off_square = atan2(outer.x - inner.x, outer.y - inner.y)
    assert 2 * table.sizes.segments * off_square == pytest.approx(2 * pi)


@pytest.mark.parametrize("shape", SHAPES)
def test_the_finished_rim_is_round(shape: tuple[int, int]) -> None:
    """Outer corners and the middle of every placed segment lie on the finished circle."""
    table = shaped(*shape)
    for i in range(table.sizes.segments):
        outline = segment_placement(table.sizes, i).outline(table.part(table.placed[i].code).outline)
        arc = outline.edges[2]
        for share in (0.0, 0.3, 0.5, 1.0):
            assert arc.point_at(share).length == pytest.approx(670.0)


def plan_of(outline: Outline) -> Polygon:
    """The outline's corners as a polygon."""
    return Polygon(outline.points)


def grooves_in_plan(table: Table, index: int) -> list[Polygon]:
    """The grooves of segment `index` in the table's plan."""
    part, place = table.part(table.placed[index].code), segment_placement(table.sizes, index)
    face, found = part.face("edge-1"), []
    for groove in part.features_on("edge-1"):
        box_ = groove.outline.bounds
        spots = ((box_.left, 0), (box_.right, 0), (box_.right, groove.depth), (box_.left, groove.depth))
        ring = [face.point(u, 0, depth) for u, depth in spots]
        found.append(Polygon([place.point(Point(at.x, at.y)) for at in ring]))
    return found


def tongues_in_plan(table: Table) -> list[tuple[int, Polygon]]:
    """Outlines of slats and rails that meet a segment, with its number."""
    met = []
    for joint in table.joints:
        if joint.kind in ("tongue-and-groove", "rail-tenon") and joint.placed[0] < table.sizes.segments:
            spot = table.placed[joint.placed[1]]
            ring = [spot.point(p.x, p.y, 0)[:2] for p in table.part(spot.code).outline.points]
            met.append((joint.placed[0], Polygon(ring)))
    return met


def beyond_inner_edge(table: Table, index: int) -> Polygon:
    """A segment's blank in plan."""
    return plan_of(segment_placement(table.sizes, index).outline(table.part(table.placed[index].code).blank))


@pytest.mark.parametrize("run", RUNS)
@pytest.mark.parametrize("shape", [(2, 8), (2, 12), (3, 6), (3, 12), (3, 18)])
def test_grooves_are_where_they_are_owed(shape: tuple[int, int], run: str) -> None:
    """Every tongue and tenon lies in grooves of its segment; a segment that nothing meets has none."""
    table = shaped(*shape, {"slats.run": run})
    met = tongues_in_plan(table)
    for index, tongue in met:
        wood = tongue.intersection(beyond_inner_edge(table, index))
        for groove in grooves_in_plan(table, index):
            wood = wood.difference(groove.buffer(1e-6))
        assert wood.area < 1e-3
    for index in range(table.sizes.segments):
        if index not in {number for number, _ in met}:
            assert grooves_in_plan(table, index) == []


@pytest.mark.parametrize("run", RUNS)
def test_a_groove_stops_near_the_last_tongue(run: str) -> None:
    """The end of a stopped groove holds a tongue within the end clearance, so no length of it is for nothing."""
    table = shaped(3, 18, {"slats.run": run})
    met = tongues_in_plan(table)
    for index in range(table.sizes.segments):
        blank = beyond_inner_edge(table, index)
        for groove in grooves_in_plan(table, index):
            turn = -degrees(2 * index * pi / table.sizes.segments)
            left, low, right, high = rotate(groove, turn, origin=(0, 0)).bounds
            held = [rotate(tongue.intersection(blank), turn, origin=(0, 0)).bounds for i, tongue in met if i == index]
            half = table.sizes.inner_length / 2
            ends = [bounds for bounds in held if bounds[1] < high and bounds[3] > low]
            assert max(low, -half) >= min(b[1] for b in ends) - 1.0 - 1e-6
            assert min(high, half) <= max(b[3] for b in ends) + 1.0 + 1e-6
            assert right - left == pytest.approx(14.0)


@pytest.mark.parametrize("spline", ["through", "stopped"])
@pytest.mark.parametrize("run", RUNS)
@pytest.mark.parametrize("shape", [(2, 8), (2, 12), (3, 6), (3, 12), (3, 18)])
def test_splines_clear_every_groove(shape: tuple[int, int], run: str, spline: str) -> None:
    """Seen from above, no slot comes nearer to a groove at its own height than a wall."""
    table = shaped(*shape, {"slats.run": run, "joints.spline": spline})
    for index in range(table.sizes.segments):
        part, place = table.part(table.placed[index].code), segment_placement(table.sizes, index)
        slots = []
        for slot in (f for f in part.features if f.kind == "spline-slot"):
            face, span = part.face(slot.face), slot.outline.bounds
            spots = ((span.left, 0), (span.right, 0), (span.right, slot.depth), (span.left, slot.depth))
            ring = [face.point(u, 0, depth) for u, depth in spots]
            slots.append(Polygon([place.point(Point(at.x, at.y)) for at in ring]))
        assert len(slots) == 2
        assert slots[0].distance(slots[1]) > 0
        for groove in grooves_in_plan(table, index):
            blank = beyond_inner_edge(table, index)
            assert all(groove.intersection(blank).distance(slot) >= SPLINE_WALL - 1e-6 for slot in slots)


def test_a_stopped_spline_stays_inside_the_finished_rim() -> None:
    """Both ends of a stopped spline keep 10 mm from the ring's edges, the outer one past the round-over too."""
    table = table_of({"joints.spline": "stopped"})
    spline = table.part("SPLINE").outline.bounds
    for i in range(12, 24):
        spot = table.placed[i]
        inner, outer = spot.point(0, spline.bottom, 0), spot.point(0, spline.top, 0)
        assert hypot(inner.x, inner.y) >= table.sizes.inner_apothem / cos(pi / 12) + 10
        assert hypot(outer.x, outer.y) <= 670 - 8 - 10


def test_a_through_spline_shows_at_the_finished_rim() -> None:
    """A through spline ends on the finished circle, not past it."""
    table = table_of()
    outline = table.part("SPLINE").outline
    spot = table.placed[12]
    radii = [hypot(*spot.point(p.x, p.y, 0)[:2]) for p in outline.points]
    assert max(radii) == pytest.approx(670)
    assert table.part("SPLINE").blank.bounds.top > outline.bounds.top + 4


def test_mirrored_segments_are_left_and_right() -> None:
    """Grooves of left and right segments mirror each other, and neither is its own mirror."""
    table = shaped(3, 18)
    rims = {part.handed: part for part in table.parts if part.kind == "rim-segment"}
    length = table.sizes.inner_length

    def ends(part: Part) -> list[float]:
        boxes = (f.outline.bounds for f in part.features_on("edge-1"))
        return sorted(end for b in boxes for end in (b.left, b.right))

    left, right = ends(rims["left"]), ends(rims["right"])
    assert left == pytest.approx(sorted(length - end for end in right))
    assert left != pytest.approx(right)
    assert rims["left"].count == rims["right"].count


def test_finished_outline_touches_the_blank_only_inside_it() -> None:
    """The finished segment lies in its blank."""
    for name in ("sawn", "faceted"):
        part = table_of({"top.edge": name}).part("RIM-A")
        corners = Polygon(part.outline.points)
        assert corners.difference(plan_of(part.blank).buffer(1e-9)).area < 1e-9
