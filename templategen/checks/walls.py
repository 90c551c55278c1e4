"""Wood left round joints and edges, measured from the finished parts."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.checks.finding import Finding, Level
from templategen.geometry.point import Point
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.assembly import Table

CHEEK = (3.0, 5.0)
"""Wood beside a groove, slot or mortise, mm: under the first it bursts, under the second take care."""

FLOOR = (4.0, 8.0)
"""Wood under a mortise, mm."""

HOLE_SIDE = (10.0, 20.0)
"""Wood beside the pole hole in a lapped rail, mm: twice 20 and the hole is the usual least rail width."""

MORTISE_TO_LAP = (8.0, 20.0)
"""Wood between a leg's mortise and the lap, mm."""

RING_EDGE = 5.0
"""Wood between the bottom of a groove and where the round-over starts, mm."""

RING_WALL = 40.0
"""Wood along a joint of the ring under which it is easily split, mm."""

SLACK = 1e-6
"""A size this much under a limit still meets it, mm."""


def graded(
    where: str, says: str, measured: float, limits: tuple[float, float], unit: str = "mm"
) -> Iterator[Finding]:
    """A stop under the first limit, a caution under the second, nothing above."""
    if measured < limits[1] - SLACK:
        level: Level = "stop" if measured < limits[0] - SLACK else "caution"
        yield Finding(level, where, says, measured, (limits[1], None), unit)


def wall_findings(table: Table) -> Iterator[Finding]:
    """Every wall that is thinner than it should be."""
    yield from _ring(table)
    yield from _grooves(table)
    yield from _spline_slots(table)
    yield from _mortises(table)
    yield from _laps(table)
    yield from _hole(table)


def _first(table: Table, kind: str) -> Part | None:
    return next((part for part in table.parts if part.kind == kind), None)


def _ring(table: Table) -> Iterator[Finding]:
    segment = _first(table, "rim-segment")
    assert segment is not None
    joint = segment.outline.edges[1].length
    top, depth = table.profile.top, table.profile.joints.groove_depth
    needed = depth + top.edge_round + RING_EDGE
    yield from graded(
        "top.rim_width",
        "wall along the joint of the finished ring: groove, spline and round-over share it",
        joint,
        (needed, max(needed, RING_WALL)),
    )


def _grooves(table: Table) -> Iterator[Finding]:
    groove, thickness = table.sizes.groove, table.profile.top.thickness
    for name, cheek in (("under", groove.bottom), ("over", thickness - groove.top)):
        yield from graded(
            "joints.tongue", f"cheek {name} the groove in rim and rails of {thickness:g} mm", cheek, CHEEK
        )
    slat = table.profile.slats.thickness
    shoulder = (slat - groove.tongue_thickness) / 2
    yield from graded("slats.thickness", "shoulder of the slats' tongues on each face", shoulder, (1.0, 3.0))
    web = table.profile.top.rail_width - 2 * groove.depth
    yield from graded("top.rail_width", "rail left between the grooves of both sides", web, (10.0, 20.0))


def _spline_slots(table: Table) -> Iterator[Finding]:
    joints, thickness = table.profile.joints, table.profile.top.thickness
    if joints.spline == "none":
        return
    cheek = (thickness - joints.spline_thickness) / 2
    yield from graded("joints.spline_thickness", "cheek on each side of a spline slot", cheek, CHEEK)
    half = table.sizes.inner_length / 2
    yield from graded(
        "joints.spline_depth",
        "wood between the spline slots at both ends of a segment's inner edge",
        2 * (half - joints.spline_depth),
        (10.0, 40.0),
    )


def _mortises(table: Table) -> Iterator[Finding]:
    for part in table.parts:
        if part.kind not in ("rail", "base-rail"):
            continue
        mortises = [f for f in part.features if f.kind == "mortise"]
        for mortise in mortises[:1]:
            yield from _mortise(part, mortise)


def _mortise(part: Part, mortise: Feature) -> Iterator[Finding]:
    size = "top.thickness" if part.kind == "rail" else "base.thickness"
    relief = max((f.depth for f in part.features if f.kind == "relief"), default=0.0)
    floor = part.thickness - mortise.depth - relief
    yield from graded(size, f"floor under the leg mortise in {part.code}", floor, FLOOR)
    box = mortise.outline.bounds
    sides = [
        (f.depth, f.outline.bounds)
        for f in part.features
        if f.kind == "groove" and f.outline.bounds.bottom < mortise.depth
    ]
    half = part.blank.bounds.height / 2
    wall = half - max((depth for depth, _ in sides), default=0.0) - box.height / 2
    beside = "grooves" if sides else "sides"
    yield from graded("legs.tenon", f"wall between mortise and the {beside} of {part.code}", wall, CHEEK)
    key = "legs.centre_distance" if part.kind == "rail" else "legs.base_centre_distance"
    laps = [f.outline.bounds for f in part.features if f.kind == "lap"]
    reach = max(max(lap.right, -lap.left) for lap in laps)
    near = min(abs(box.left), abs(box.right)) - reach
    yield from graded(key, f"wood between mortise and lap in {part.code}", near, MORTISE_TO_LAP)


def _laps(table: Table) -> Iterator[Finding]:
    for part in table.parts:
        if part.kind not in ("rail", "base-rail"):
            continue
        cut = {"top": 0.0, "bottom": 0.0}
        for feature in part.features:
            if feature.kind in ("lap", "relief"):
                cut[feature.face] = max(cut[feature.face], feature.depth)
        left = part.thickness - cut["top"] - cut["bottom"]
        key = "top.thickness" if part.kind == "rail" else "base.thickness"
        yield from graded(key, f"wood left in the lap of {part.code}", left, (5.0, 10.0))


def _hole(table: Table) -> Iterator[Finding]:
    for part in table.parts:
        for hole in part.holes:
            _, radius = hole.circle or (Point(0, 0), 0.0)
            side = part.blank.bounds.height / 2 - radius
            key = "top.pole_hole"
            yield from graded(key, f"wood beside the pole hole in {part.code}", side, HOLE_SIDE)

