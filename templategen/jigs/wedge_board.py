"""Stops and wedges: what draws the cauls inwards on the assembly board where no clamp spans the ring."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan, degrees

from templategen.checks.describe import said
from templategen.geometry.outline import polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.jigs.caul import Caul
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, hole, line, piece, shown
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.units import trimmed

SLOPE = 0.1
"""Rise of a wedge to its length: 1 in 10 holds by itself (friction of wood on wood is over 0.2; unverified)."""

WEDGE = 120.0
"""Length of a wedge, mm."""

THIN = 12.0
"""Width of a wedge's thin end, mm."""

DRIVEN = 0.75
"""Overlap of a pair when the joints are closed, as a share of its length; the rest is travel for tightening."""

STOP = (120.0, 40.0)
"""Size of a stop, mm: along its face, and outwards from it."""

SCREW = 5.0
"""Diameter of the stops' screw holes, mm."""


@dataclass(frozen=True, slots=True)
class Wedges:
    """A pair of wedges between a caul's back and its stop."""

    caul: Caul

    @property
    def thick(self) -> float:
        """Width of the thick end."""
        return THIN + SLOPE * WEDGE

    @property
    def gap(self) -> float:
        """Width of a pair that overlaps by DRIVEN of its length: the room between back and stop, joints closed."""
        return THIN + self.thick - SLOPE * WEDGE * (1 - DRIVEN)

    @property
    def travel(self) -> float:
        """How much wider a pair can still become."""
        return THIN + self.thick - self.gap

    @property
    def reach(self) -> float:
        """From the table's axis to the stops' faces."""
        return self.caul.corner + self.caul.back + self.gap

    def stop_placement(self, joint: int) -> Placement:
        """Where the stop of a joint lies: its face's middle at the origin, y outwards."""
        turned = self.caul.placement(joint)
        out = Placement(turn=turned.turn).direction(Point(0, 1)).times(self.reach)
        return Placement(out.x, out.y, turned.turn)


def wedge_board(table: Table) -> Iterator[Jig]:
    """The stops for the assembly board and the wedges; the board itself is the assembly board."""
    wedges, profile, count = Wedges(Caul(table.sizes)), table.profile, table.sizes.segments
    yield Jig(
        "WEDGES",
        "stops and wedges for gluing the ring on the board",
        tuple(part.code for part in table.parts if part.kind == "rim-segment"),
        tuple(_pieces(wedges, profile, count)),
        tuple(_scribes()),
        tuple(_figures(wedges)),
        tuple(_use(wedges, profile)),
        (
            said("One pair dry between a caul and its stop: tight when the wedges overlap by {overlap}, each side "
                 "flat on its neighbour.", overlap=shown(DRIVEN * WEDGE, profile)),
            said("All pairs dry: every joint closed, diagonals across opposite corners of the ring alike within "
                 "{near}.", near=shown(0.5, profile)),
        ),
        (
            "Wedges: light taps with a mallet, eye protection on; a wedge that is struck out flies.",
            "Never saw wedges one by one by hand on a machine: cut them by router from the sheet, or in a sled.",
        ),
    )  # fmt: skip


def _pieces(wedges: Wedges, profile: Profile, count: int) -> Iterator[Part]:
    along, out = STOP
    holes = tuple(hole(Point(x, out / 2), SCREW) for x in (-along / 4, along / 4))
    layers = wedges.caul.layers
    glued = said("{layers} glued together for each stop, screwed to the board", layers=layers)
    notes = (glued,) if layers > 1 else ()
    face = rectangle(-along / 2, 0, along / 2, out)
    yield piece(profile, "WEDGES-STOP", "stop on the board", face, "jig", count * layers, holes, notes=notes)
    taper = polygon(((0, 0), (WEDGE, 0), (WEDGE, wedges.thick), (0, THIN)))
    notes = ("two to a joint, slopes together, thin ends opposite; wax them",)
    yield piece(profile, "WEDGE", "wedge", taper, "jig", 2 * count, notes=notes)


def _scribes() -> Iterator[Scribe]:
    yield line("WEDGES-STOP", Point(0, 0), Point(0, STOP[1]), "joint", "witness")
    at = WEDGE * (1 - DRIVEN)
    yield line("WEDGE", Point(at, 0), Point(at, THIN + SLOPE * at), "", "witness")


def _figures(wedges: Wedges) -> Iterator[Critical]:
    thin, thick = (Point(0, 0), Point(0, THIN)), (Point(WEDGE, 0), Point(WEDGE, wedges.thick))
    yield distance("thin end", "WEDGE", *thin, "")
    yield distance("thick end", "WEDGE", *thick, "thin end + length / 10")
    yield Critical("slope of a wedge", degrees(atan(SLOPE)), "deg", "WEDGE", how="atan(1 / 10)")
    yield Critical(
        "caul's back to the stop, joints closed", wedges.gap, "mm", how="two wedges three quarters overlapped"
    )
    yield Critical("stop to opposite stop", 2 * wedges.reach, "mm", how="2 (corner + back + gap)")


def _use(wedges: Wedges, profile: Profile) -> Iterator[str]:
    yield "Screw the stops to their places on the assembly board, each face on its line, its mark on the joint's ray."
    yield (
        "Lay plastic film on the board under every joint; screw from below or sink the heads, so the ring lies flat."
    )
    yield (
        "Segments, cauls, then wedges in pairs, slopes together, thin ends opposite; the ring's level at half height."
    )
    yield said(
        "Tap the pairs up in turn, opposite joints after each other: a pair closes {travel} more than where its "
        "marks meet, {rise} mm for every 10 mm of driving.",
        travel=shown(wedges.travel, profile),
        rise=trimmed(SLOPE * 10, 1),
    )
    yield "Hold the segments down by battens across the ring, so that it can't rise."
