"""Planes through joints: where each kind of joint is cut for its detail, and how much of it is shown."""

from collections.abc import Sequence
from math import fsum, sin

from templategen.geometry.point import Point
from templategen.joinery.joint import LEG_TENONS, Joint
from templategen.parts.face import Point3
from templategen.table.assembly import Table
from templategen.view.sight import Sight, Vector
from templategen.view.slice import Plane

INSIDE = 1.0
"""Corners further than this inside a mate are of what it takes in, mm."""

ENTERING = ("tongue-and-groove", "rail-tenon")
"""Joints told from the shoulder at which one part enters the other."""

BESIDE_PIN = 0.3
"""Where a tongue is cut, as a share of its width: a pin goes through its middle."""

Window = tuple[float, float, float, float]


def plane_of(table: Table, joint: Joint, code: str) -> tuple[Plane, Window]:
    """The plane of a joint's section, its origin in the joint, and how much of it is shown."""
    top, sizes = table.profile.top, table.sizes
    thick = top.thickness
    if joint.kind in ENTERING:
        reach = 2.0 * table.profile.joints.groove_depth
        return _into(table, *joint.placed), (-reach * 1.2, -0.6 * thick, reach * 1.2, 0.6 * thick)
    if joint.kind == "mitre":
        reach = top.rim_width * 0.62
        return _level(table, joint), (-reach, -top.rim_width * 0.75, reach, top.rim_width * 0.75)
    if joint.kind == "spline":
        reach = 1.6 * table.profile.joints.spline_depth
        return _across_spline(table, joint.placed[1]), (-reach, -0.6 * thick, reach, 0.6 * thick)
    index = joint.placed[joint.parts.index(code)] if joint.kind.endswith("lap") else joint.placed[0]
    plane = _along(table, index, joint)
    depth = table.part(table.placed[index].code).thickness
    if joint.kind.endswith("lap"):
        reach = 2.3 * sizes.half_rail / sin(sizes.field_angle)
        return plane, (-reach, -0.62 * depth, reach, 0.62 * depth)
    if joint.kind == "foot":
        reach = table.profile.base.foot_length
        return plane, (-0.9 * reach, -0.62 * depth - table.profile.base.foot_thickness, 0.75 * reach, 0.62 * depth)
    reach = table.profile.legs.section
    top_end = table.part(table.placed[index].code).kind == "rail"
    low, high = (-1.3, 0.62) if top_end else (-0.62, 1.3)
    return plane, (-reach, low * depth, reach, high * depth)


def _upright(right: Sequence[float], origin: Vector) -> Plane:
    """The upright plane along a level direction."""
    x, y = right[0], right[1]
    return Plane(Sight((x, y, 0.0), (0.0, 0.0, 1.0), (y, -x, 0.0)), origin)


def _into(table: Table, mate: int, index: int) -> Plane:
    """Square to the shoulder at which one copy enters another: x into the mate, from its edge on."""
    home = table.placed[mate]
    points = [(p.x - home.at.x, p.y - home.at.y) for p in _middles(table, index)]
    own = [(x * home.axes[0].x + y * home.axes[0].y, x * home.axes[1].x + y * home.axes[1].y) for x, y in points]
    box, rim = table.part(home.code).outline.bounds, table.part(home.code).kind == "rim-segment"
    within = [p for p in own if box.left < p[0] < box.right and box.bottom + INSIDE < p[1] < box.top - INSIDE]
    side = 1.0 if rim or fsum(y for _, y in own) < 0 else -1.0
    ends = [x for x, _ in within] or [0.0]
    along = min(ends) + BESIDE_PIN * (max(ends) - min(ends))
    edge = box.bottom if side > 0 else box.top
    level = home.point(along, edge, table.part(home.code).thickness / 2)
    return _upright((side * home.axes[1].x, side * home.axes[1].y), (level.x, level.y, level.z))


def _middles(table: Table, index: int) -> list[Point3]:
    """The corners of a copy half way up its thickness."""
    placed = table.placed[index]
    part = table.part(placed.code)
    return [placed.point(v.x, v.y, part.thickness / 2) for v in part.outline]


def _across_spline(table: Table, index: int) -> Plane:
    """Square to a joint of the ring, through the middle of its spline."""
    placed = table.placed[index]
    part = table.part(placed.code)
    middle = placed.point(0.0, part.outline.bounds.centre.y, part.thickness / 2)
    level = table.sizes.top_underside + table.profile.top.thickness / 2
    return _upright(placed.axes[0], (middle.x, middle.y, level))


def _level(table: Table, joint: Joint) -> Plane:
    """Level through a joint of the ring at its spline's height, y outwards along the joint."""
    first, second = (table.placed[index] for index in joint.placed)
    out = Point(first.axes[1].x + second.axes[1].x, first.axes[1].y + second.axes[1].y).unit
    spline = next((p for p in table.placed if table.part(p.code).kind == "spline"), None)
    level = table.sizes.top_underside + table.profile.top.thickness / 2
    if spline is not None:
        level = spline.at.z + table.part(spline.code).thickness / 2
    far = (table.sizes.inner_corner + table.sizes.radius) / 2
    sight = Sight((out.y, -out.x, 0.0), (out.x, out.y, 0.0), (0.0, 0.0, 1.0))
    return Plane(sight, (out.x * far, out.y * far, level))


def _along(table: Table, index: int, joint: Joint) -> Plane:
    """Upright along a rail: through the table's axis for a lap, through the leg or foot it meets for others; across
    it, along the peg, where a leg is draw-bored."""
    placed = table.placed[index]
    thick = table.part(placed.code).thickness
    level = placed.point(0, 0, thick / 2).z
    axis = placed.axes[0]
    if joint.kind.endswith("lap"):
        return _upright(axis, (0.0, 0.0, level))
    mate = _middles(table, joint.placed[1])
    if joint.kind in LEG_TENONS:
        up = max if table.part(placed.code).kind == "rail" else min
        end = up(point[2] for point in mate)
        mate = [point for point in mate if abs(point[2] - end) < table.profile.legs.section / 2]
    x, y = (fsum(point[k] for point in mate) / len(mate) for k in range(2))
    sign = 1.0 if x * axis.x + y * axis.y > 0 else -1.0
    if joint.kind == "draw-bored-tenon":
        return _upright((-sign * axis.y, sign * axis.x), (x, y, level))
    return _upright((sign * axis.x, sign * axis.y), (x, y, level))
