"""The area of a joint as it is glued."""

from math import asin, sin, sqrt

from templategen.joinery.joint import Joint
from templategen.table.assembly import Table
from templategen.table.pedestal import base_lap
from templategen.table.rails import lap_of
from templategen.table.rim import dripped_off_mitre, rounded_off_mitre

LAPS = ("half-lap", "three-way-lap")


def glued_area(table: Table, joint: Joint) -> float:
    """What is spread with glue on one side, mm2: the contact, of a lap the middle third of its floor alone, and of a
    mitre also what sawing and rounding the ring take off later, less a through slot there."""
    if joint.kind != "mitre":
        return bonded_area(table, joint)
    sizes, profile = table.sizes, table.profile
    slot = profile.joints.spline_thickness if profile.joints.spline == "through" else 0.0
    later = (sizes.joint_face - sizes.wall_at_joint) * (profile.top.thickness - slot)
    return joint.contact_mm2 + later + rounded_off_mitre(sizes) + dripped_off_mitre(sizes)


def bonded_area(table: Table, joint: Joint) -> float:
    """What glue covers in the finished table on one side, mm2."""
    if joint.kind not in LAPS:
        return joint.contact_mm2
    lap = (lap_of if table.part(joint.parts[0]).kind == "rail" else base_lap)(table.sizes)
    if all("-MID" not in code for code in joint.parts) and table.sizes.rails > 2:
        return 0.0  # two tips of the lowest and the highest of three, far from the middle
    width = 2 * lap.half_width
    return width**2 / sin(table.sizes.field_angle) / 3 - _in_band(table.profile.top.pole_hole / 2, width / 6)


def _in_band(radius: float, half: float) -> float:
    """What of a circle lies within `half` of its diameter."""
    if radius <= half:
        return asin(1.0) * 2 * radius**2
    return 2 * (half * sqrt(radius**2 - half**2) + radius**2 * asin(half / radius))
