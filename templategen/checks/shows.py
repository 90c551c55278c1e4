"""What shows and what is weak once the ring is sawn: splines against groove and edge, short grain, points."""

from collections.abc import Iterator
from math import atan2, degrees, pi, tan
from typing import Any

from templategen.checks.finding import Finding
from templategen.checks.levels import if_short, noted
from templategen.geometry.outline import Outline
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.edge_room import gave_way, room_for_edges

SHORT_GRAIN = 2.0
"""Run of the grain at a rim segment's end, as length to rise: under 1 in this, horns break in handling."""

POINT_DEG = 25.0
"""Angle of a slat's point, degrees, under which it breaks off or splinters."""


WOOD_AT = {
    "edges.rim": "the cheek beside the groove",
    "edges.rail": "the cheek beside the groove",
    "edges.slat": "half a slat",
    "edges.base": "half of the ground cross's thinnest wood",
    "top.edge_round": "the rim beside groove, spline and drip groove",
    "slats.chamfer": "the shoulder over a slat's tongue",
    "legs.corner_size": "the shoulder at a tenon's corner",
}
"""What room an eased edge has, by its key."""


def show_findings(table: Table) -> Iterator[Finding]:
    """The ring's splines and grain, and the slats' points."""
    yield from _spline_to_groove(table)
    yield from _spline_to_edge(table)
    yield from _grain(table)
    yield from _points(table)
    yield from _gave_way(table)


def _gave_way(table: Table) -> Iterator[Finding]:
    """Eased edges that are smaller than by default, since nobody asked for a size and the wood has no room."""
    room = room_for_edges(table.sizes)
    for path, usual in gave_way(table.profile).items():
        section, _, name = path.partition(".")
        size = getattr(getattr(table.profile, section), name)
        yield noted("edge-gave-way", path, size, usual=usual, beside=WOOD_AT[path], room=room[path])


def _spline_to_groove(table: Table) -> Iterator[Finding]:
    """Least wood between a slot and a groove of one segment where they share height."""
    for part in table.parts:
        slots = part.cuts("spline-slot")
        grooves = part.cuts("groove")
        walls = [_apart(part, slot, groove) for slot in slots for groove in grooves]
        if walls:
            yield from if_short(
                "slot-to-groove", "joints.spline", min(walls), table.profile.limits.cheek, parts=part.code
            )


def _apart(part: Part, slot: Feature, groove: Feature) -> float:
    """Distance of two side cuts: in plan where they share height, else at least their difference in height."""
    one, other = slot.outline.bounds, groove.outline.bounds
    rise = max(one.bottom - other.top, other.bottom - one.top)
    level = float(_cut(part, slot).distance(_cut(part, groove)))
    return level if rise < 0 else (level**2 + rise**2) ** 0.5


def _cut(part: Part, feature: Feature) -> Any:
    """What a side cut takes in plan, inside the blank."""
    from shapely import Polygon

    return Polygon(part.side_cut(feature).points)


def _spline_to_edge(table: Table) -> Iterator[Finding]:
    """Whether the splines show at the rim, and how they meet its round-over."""
    joints, top = table.profile.joints, table.profile.top
    if joints.spline == "none":
        return
    splines = [part for part in table.parts if part.kind == "spline"]
    cheek = (top.thickness - joints.spline_thickness) / 2 - top.edge_round
    if joints.spline == "through":
        yield noted("splines-show", "joints.spline", float(sum(part.count for part in splines)))
        if cheek < 0:
            yield Finding("spline-in-round-over", "caution", "top.edge_round", cheek, (0.0, None))
        return
    ends = [_slot_end(part, slot, table) for part in table.parts for slot in part.cuts("spline-slot")]
    yield from if_short("spline-to-rim", "joints.spline", min(ends), table.profile.limits.cheek)


def _slot_end(part: Part, slot: Feature, table: Table) -> float:
    """Wood along the joint from the slot's outer end to the finished rim."""
    box = slot.outline.bounds
    end = box.right if slot.face == "end-1" else table.sizes.joint_face - box.left
    return table.sizes.wall_at_joint - end


def is_steep(table: Table) -> bool:
    """Whether the segments' points have short grain."""
    return 1 / tan(table.sizes.mitre) < SHORT_GRAIN


def _grain(table: Table) -> Iterator[Finding]:
    run = 1 / tan(table.sizes.mitre)
    if is_steep(table):
        yield noted("steep-grain", "top.segments", run, (SHORT_GRAIN, None))


def _points(table: Table) -> Iterator[Finding]:
    """Slats that end in a sharp point."""
    sharp = {
        part.code: angle
        for part in table.parts
        if part.kind == "slat" and (angle := sharpest(part.outline)) < POINT_DEG
    }
    if sharp:
        yield noted("sharp-points", "slats.run", min(sharp.values()), (POINT_DEG, None), parts=tuple(sharp))


def sharpest(outline: Outline) -> float:
    """The smallest inside angle at a corner of straight edges, degrees."""
    ring = outline.anticlockwise.points
    angles = []
    for i, corner in enumerate(ring):
        back, ahead = ring[i - 1].minus(corner), ring[(i + 1) % len(ring)].minus(corner)
        angles.append(degrees(atan2(ahead.cross(back), ahead.dot(back)) % (2 * pi)))
    return min(angles)
