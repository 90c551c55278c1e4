"""How far the wood that slats enter shrinks away from their shoulders."""

from collections import defaultdict

from templategen.geometry.point import Point, polar
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.placed import Placed
from templategen.table.seasons import Swing


def drawn_back(table: Table, swing: Swing) -> float:
    """How far the shoulders of the worst slat are left at both ends together, mm.

    Half a rail's shrinkage and the play drawn there where an end meets an arm, all of the rim's where it meets a
    segment: the ring's joints open inside as it dries, so its outer edge stays. An end that meets two edges counts
    the larger.
    """
    sizes = table.sizes
    beside_rail = sizes.clearances.shoulder - sizes.half_rail * swing.dry
    shrinks = {"rail": beside_rail, "rim-segment": -sizes.wall_at_middle * swing.dry}
    parts = {part.code: part for part in table.parts}
    ends: dict[tuple[int, bool], list[float]] = defaultdict(list)
    for joint in table.joints:
        if joint.kind == "tongue-and-groove":
            mate, slat = parts[joint.parts[0]], table.placed[joint.placed[1]]
            ahead = _is_ahead(table, joint.placed[0], mate, slat, parts[slat.code])
            ends[joint.placed[1], ahead].append(shrinks[mate.kind])
    numbers = {number for number, _ in ends}
    return max((sum(max(ends[n, ahead], default=0.0) for ahead in (True, False)) for n in numbers), default=0.0)


def _is_ahead(table: Table, number: int, mate: Part, slat: Placed, part: Part) -> bool:
    """Whether the mate, copy `number`, lies at the end that the slat's own x points to."""
    middle = part.outline.bounds.centre
    x, y, _ = slat.point(middle.x, middle.y, 0.0)
    along = Point(slat.axes[0].x, slat.axes[0].y)
    if mate.kind == "rim-segment":
        return polar(1, 2 * number * table.sizes.mitre).dot(along) > 0
    rail = Point(table.placed[number].axes[0].x, table.placed[number].axes[0].y)
    foot = rail.times(rail.dot(Point(x, y)))
    return foot.minus(Point(x, y)).dot(along) > 0
