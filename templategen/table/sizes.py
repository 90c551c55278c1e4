"""Sizes that follow from the profile, by the symbols' plain names."""

from dataclasses import dataclass, field
from math import cos, pi, sin, tan

from templategen.joinery.groove import TongueAndGroove
from templategen.table.clearances import Clearances, clearances_of
from templategen.table.profile.model import Profile


@dataclass(frozen=True, slots=True)
class Sizes:
    """The table's derived sizes. Origin at the centre of the top, mm and radians.

    `arms` are numbered anticlockwise from x, arm j at `j * field_angle`; rim segment i is centred on
    `i * segment_angle`, so arm j meets segment `j * segments_per_field`.
    """

    profile: Profile
    clearances: Clearances = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "clearances", clearances_of(self.profile))

    @property
    def rails(self) -> int:
        """How many rails cross."""
        return self.profile.top.rails

    @property
    def segments(self) -> int:
        """How many segments make the ring."""
        return self.profile.top.segments

    @property
    def arms(self) -> int:
        """Half rails that leave the centre."""
        return 2 * self.rails

    @property
    def segments_per_field(self) -> int:
        """Segments that face one field, the two arms' halves counted as one."""
        return self.segments // self.arms

    @property
    def field_angle(self) -> float:
        """Angle between neighbouring arms."""
        return pi / self.rails

    @property
    def mitre(self) -> float:
        """Mitre angle off square, half of what one segment turns."""
        return pi / self.segments

    @property
    def radius(self) -> float:
        """Finished radius of the top (centre to flat for a faceted one)."""
        return self.profile.top.diameter / 2

    @property
    def is_sawn(self) -> bool:
        """Whether the ring is sawn round."""
        return self.profile.top.edge == "sawn"

    @property
    def outer_apothem(self) -> float:
        """Centre to the outer edge of the blanks."""
        return self.radius + (self.profile.top.saw_allowance if self.is_sawn else 0.0)

    @property
    def inner_apothem(self) -> float:
        """Centre to the inner edge of the segments."""
        return self.outer_apothem - self.profile.top.rim_width

    @property
    def inner_length(self) -> float:
        """Length of a segment's inner edge: 2 a tan(pi/N)."""
        return 2 * self.inner_apothem * tan(self.mitre)

    @property
    def outer_length(self) -> float:
        """Length of the blank's outer edge: 2 A tan(pi/N)."""
        return 2 * self.outer_apothem * tan(self.mitre)

    @property
    def joint_face(self) -> float:
        """Length of the mitre before the ring is sawn: W / cos(pi/N)."""
        return self.profile.top.rim_width / cos(self.mitre)

    @property
    def inner_corner(self) -> float:
        """Centre to the inner end of a joint: a / cos(pi/N)."""
        return self.inner_apothem / cos(self.mitre)

    @property
    def wall_at_joint(self) -> float:
        """Wood along the joint in the finished ring."""
        if self.is_sawn:
            return self.radius - self.inner_corner
        return self.joint_face

    @property
    def wall_at_middle(self) -> float:
        """Wood across the middle of a finished segment."""
        return self.radius - self.inner_apothem

    @property
    def half_rail(self) -> float:
        """Half the width of the top's rails."""
        return self.profile.top.rail_width / 2

    @property
    def apex(self) -> float:
        """Centre to where two arm edges meet: b / sin(th/2)."""
        return self.half_rail / sin(self.field_angle / 2)

    @property
    def apex_along_arm(self) -> float:
        """The same corner, measured along the arm: b / tan(th/2)."""
        return self.half_rail / tan(self.field_angle / 2)

    @property
    def field_end(self) -> float:
        """Centre to the field's furthest point along its bisector: a flat or a joint faces the centre there."""
        return self.inner_apothem if self.segments_per_field % 2 == 0 else self.inner_corner

    @property
    def slat_level(self) -> float:
        """Height of the slats' middle above the underside of the rails."""
        top, slats = self.profile.top, self.profile.slats
        if slats.face == "centred":
            return top.thickness / 2
        return top.thickness - slats.thickness / 2

    @property
    def slat_underside(self) -> float:
        """Height of the slats' undersides above the rails': so high they are packed up on a flat board."""
        return self.slat_level - self.profile.slats.thickness / 2

    @property
    def groove(self) -> TongueAndGroove:
        """The one groove of rim and rails, and the rail tenon that is glued into it."""
        return self._groove_for(self.clearances.glue)

    @property
    def slat_groove(self) -> TongueAndGroove:
        """The same groove, and the slat's tongue that slides in it."""
        return self._groove_for(self.clearances.slide)

    def _groove_for(self, clearance: float) -> TongueAndGroove:
        joints = self.profile.joints
        return TongueAndGroove(joints.tongue, joints.groove_depth, self.slat_level, clearance, joints.end_clearance)

    @property
    def tongue_length(self) -> float:
        """Length of a tongue or rail tenon: groove depth less end clearance."""
        return self.groove.tongue_length

    @property
    def top_underside(self) -> float:
        """Height of the underside of the top's rails above the floor."""
        return self.profile.top.height - self.profile.top.thickness

    @property
    def foot_height(self) -> float:
        """How far glides and pads lift the base rails; relieved feet are part of the rail itself."""
        return self.glide_height + (self.profile.base.foot_thickness if self.profile.base.feet == "pads" else 0.0)

    @property
    def glide_height(self) -> float:
        """How far glides lift the wood off the floor."""
        return self.profile.base.glide[1] if self.profile.base.glides != "none" else 0.0

    @property
    def base_top(self) -> float:
        """Height of the upper side of the base rails."""
        return self.foot_height + self.profile.base.thickness

    @property
    def is_glued_on_top(self) -> bool:
        """Whether the legs' upper tenons are glued into the top's rails."""
        return self.profile.legs.top_joint == "glued"

    @property
    def leg_height(self) -> float:
        """Leg between its shoulders: what feet, base and rails leave of the height."""
        return self.top_underside - self.base_top
