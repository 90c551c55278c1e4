"""A joint while its glue sets: the area that is glued, how hard it must be pressed, and with what."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from math import asin, ceil, sin, sqrt

from templategen.catalogue import figured
from templategen.checks.describe import said
from templategen.checks.gluing import glue_of
from templategen.geometry.tolerance import EQUAL
from templategen.jigs.caul import Caul
from templategen.joinery.joint import JOINTS, Joint, JointKind
from templategen.table.assembly import Table
from templategen.table.pedestal import base_lap
from templategen.table.profile.choices import Units
from templategen.table.rails import lap_of
from templategen.table.rim import dripped_off_mitre, rounded_off_mitre
from templategen.units import length_by_rule
from templategen.wood.glue import pressure_for
from templategen.wood.species import figures_of

LAPS = ("half-lap", "three-way-lap")

JAWS = 40.0
"""What a clamp must open besides, for a piece of waste under either jaw and to set it over them, mm (assumed)."""

UNDER = {"mm": 50.0, "in": 50.8}
"""How high the battens are under the arms of a cross while its laps are glued, mm: a clamp's fixed jaw and a piece of
waste go in under the crossing (assumed). The clamp doesn't take hold of them, so that its opening needs no more."""

UNDER_FOOT = {"mm": (10.0, 50.0), "in": (9.525, 50.8)}
"""Between what distances from an arm's end a batten lies under its foot, mm: where the foot ends inwards the relief
begins, on whose step a batten tips (assumed)."""

ANY_CLAMP = 80.0
"""How far in any clamp presses, mm (assumed)."""

OPENING = {"mm": 10.0, "in": 25.4}
"""What a clamp's opening is rounded up to, mm."""


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


@dataclass(frozen=True, slots=True)
class Hold:
    """How one step's joints are held: the force on the largest pressed joint, N, from least to most pressure, MPa;
    clamps and cauls in number; `band` that a band goes round the ring, `band_pressure` what the maker's own band
    gives on a mitre (0: not known); `opening` how wide the clamps open at least, mm (0 where there are none), `reach`
    how far in from their bar they press at least, mm (0 where any does); `weights` how many legs have a weight laid
    over them, where no clamp reaches."""

    pressure: tuple[float, float]
    force: tuple[float, float]
    clamps: int
    cauls: int
    band: bool
    band_pressure: float
    opening: float = 0.0
    reach: float = 0.0
    weights: int = 0

    @property
    def band_is_enough(self) -> bool:
        """Whether the maker's own band presses the mitres as the glue asks."""
        return self.band_pressure >= self.pressure[0] - 1e-9

    @property
    def wedged(self) -> bool:
        """Whether wedges on the assembly board press the ring, since the maker's own band is too weak for it."""
        return self.band and self.band_pressure > 0 and not self.band_is_enough


def hold_of(table: Table, joints: Mapping[int, JointKind], closes: bool, down: bool = False) -> Hold:
    """How the joints (positions, and their kinds) of one step are held; `closes` says that it closes the ring, `down`
    that it lets the closed top down on its legs, which no clamp reaches from its rim.

    A band drawn to a tension T presses every mitre with T, whatever the diameter: pressure is T by the mitre's area.
    The flats of unsawn blanks take no pressure from a band, so each segment gets a caul.
    """
    profile = table.profile
    pressure = pressure_for(glue_of(profile), figures_of(profile.wood, profile.woods).density)
    areas = [glued_area(table, table.joints[number]) for number, kind in joints.items() if JOINTS[kind].pressed]
    largest = max(areas, default=0.0)
    mitres = [number for number, kind in joints.items() if kind == "mitre"]
    ring = len({index for number in mitres for index in table.joints[number].placed})
    kinds = set(joints.values())
    clamps = sum(
        JOINTS[kind].clamps
        for number, kind in joints.items()
        if (kind != "rail-tenon" or not closes) and glued_area(table, table.joints[number])
    )
    clamps += 0 if closes else 2 * len(mitres)
    face = max((glued_area(table, table.joints[number]) for number in mitres), default=0.0)
    own = profile.shop.band / face if mitres and face else 0.0
    force = (pressure[0] * largest, pressure[1] * largest)
    cauls = profile.top.segments if closes else ring
    weights = len(joints) if down else 0
    clamps = 0 if down else clamps
    wide = opening(table, kinds) if clamps else 0.0
    far = reach(table) if clamps and not kinds.isdisjoint(LAPS) else 0.0
    return Hold(pressure, force, clamps, cauls, closes, own if closes else 0.0, wide, far, weights)


def opening(table: Table, kinds: Collection[JointKind]) -> float:
    """How wide the clamps for joints of these kinds open at least, mm: over a leg from the cross to the rail that
    lies on it, across the ring from caul to caul, else over the thickest of the table's laps and pads, so that one
    lot of clamps does for all of those."""
    profile = table.profile
    if "leg-tenon" in kinds:
        over = profile.top.height
    elif "mitre" in kinds or "rail-tenon" in kinds:
        over = Caul(table.sizes).across
    else:
        over = max(_stacked(table, joint) for joint in table.joints if joint.traits.clamps and joint.traits.pressed)
    step = OPENING[profile.units]
    return ceil((over + JAWS) / step - EQUAL) * step


def reach(table: Table) -> float:
    """How far in a clamp presses at least that comes to a crossing's middle between two of its arms, mm: from the
    corner that they make, of the table's laps the widest, so that one lot of clamps does for all; 0 where any
    reaches."""
    sizes, step = table.sizes, OPENING[table.profile.units]
    laps = (lap_of(sizes), *([base_lap(sizes)] if any(part.kind == "base-rail" for part in table.parts) else []))
    corner = max(lap.half_width for lap in laps) / sin(sizes.field_angle / 2)
    return ceil(corner / step - EQUAL) * step if corner > ANY_CLAMP else 0.0


def _stacked(table: Table, joint: Joint) -> float:
    """What lies on each other at a lap, whose bars are cut into each other, or at a pad, mm."""
    thick = [table.part(code).thickness for code in joint.parts]
    return max(thick) if joint.kind in LAPS else sum(thick)


def under_told(units: Units) -> str:
    """How high those battens are, in words."""
    return said("{high} high", high=figured(length_by_rule(UNDER[units], units, 0, 32)))


def opening_told(hold: Hold, units: Units) -> str:
    """How wide the clamps open and how far in they press, in words."""
    wide, far = (figured(length_by_rule(size, units, 0, 32)) if size else "" for size in (hold.opening, hold.reach))
    return said("opening {wide} or wider[, reaching in {far} or further]", wide=wide, far=far)
