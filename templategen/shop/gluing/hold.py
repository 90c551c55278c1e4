"""What holds a joint while its glue sets: how hard it must be pressed, and with what."""

from collections.abc import Mapping
from dataclasses import dataclass

from templategen.checks.gluing import glue_of
from templategen.joinery.joint import JOINTS, JointKind
from templategen.shop.gluing.area import glued_area
from templategen.table.assembly import Table
from templategen.wood.glue import pressure_for
from templategen.wood.species import figures_of


@dataclass(frozen=True, slots=True)
class Hold:
    """How one step's joints are held: the force on the largest pressed joint, N, from least to most pressure, MPa;
    clamps and cauls in number; `band` that a band goes round the ring, `band_pressure` what the maker's own band
    gives on a mitre (0: not known)."""

    pressure: tuple[float, float]
    force: tuple[float, float]
    clamps: int
    cauls: int
    band: bool
    band_pressure: float

    @property
    def band_is_enough(self) -> bool:
        """Whether the maker's own band presses the mitres as the glue asks."""
        return self.band_pressure >= self.pressure[0] - 1e-9

    @property
    def wedged(self) -> bool:
        """Whether wedges on the assembly board press the ring, since the maker's own band is too weak for it."""
        return self.band and self.band_pressure > 0 and not self.band_is_enough


def hold_of(table: Table, joints: Mapping[int, JointKind], closes: bool) -> Hold:
    """How the joints (positions, and their kinds) of one step are held; `closes` says that it closes the ring.

    A band drawn to a tension T presses every mitre with T, whatever the diameter: pressure is T by the mitre's area.
    The flats of unsawn blanks take no pressure from a band, so each segment gets a caul.
    """
    profile = table.profile
    pressure = pressure_for(glue_of(profile), figures_of(profile.wood, profile.woods).density)
    areas = [glued_area(table, table.joints[number]) for number, kind in joints.items() if JOINTS[kind].pressed]
    largest = max(areas, default=0.0)
    mitres = [number for number, kind in joints.items() if kind == "mitre"]
    ring = len({index for number in mitres for index in table.joints[number].placed})
    clamps = sum(JOINTS[kind].clamps for kind in joints.values() if kind != "rail-tenon" or not closes)
    clamps += 0 if closes else 2 * len(mitres)
    face = max((glued_area(table, table.joints[number]) for number in mitres), default=0.0)
    own = profile.shop.band / face if mitres and face else 0.0
    force = (pressure[0] * largest, pressure[1] * largest)
    cauls = profile.top.segments if closes else ring
    return Hold(pressure, force, clamps, cauls, closes, own if closes else 0.0)
