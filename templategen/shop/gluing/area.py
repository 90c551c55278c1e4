"""The area of a joint as it is glued."""

from __future__ import annotations

from templategen.joinery.joint import Joint
from templategen.table.assembly import Table
from templategen.table.rim import rounded_off_mitre


def glued_area(table: Table, joint: Joint) -> float:
    """What is spread with glue on one side, mm2: the contact, and of a mitre also what sawing and rounding the ring
    take off later, less a through slot there."""
    if joint.kind != "mitre":
        return joint.contact_mm2
    sizes, profile = table.sizes, table.profile
    slot = profile.joints.spline_thickness if profile.joints.spline == "through" else 0.0
    later = (sizes.joint_face - sizes.wall_at_joint) * (profile.top.thickness - slot)
    return joint.contact_mm2 + later + rounded_off_mitre(sizes)
