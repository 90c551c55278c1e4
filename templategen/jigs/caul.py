"""Gluing cauls: one over each joint, seated on both blanks, its back square to the pull across the ring."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, cos, degrees, floor, hypot, pi, sin

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.geometry.edge import Line, arc_round
from templategen.geometry.outline import Outline, outline_of
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point, polar
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, line, piece, shown
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.table.sizes import Sizes

NOTCH = 12.0
"""Radius of the notch over the joint, mm: glue comes out there and the joint can be seen."""

SPLINE_ROOM = 3.0
"""How much wider than a slot that comes out there the notch is on each side, mm: a spline may lie to one side of its
slot and, its corners then in a round notch, stand out by several times as much."""

LEAST_SEAT = 8.0
"""What a notch leaves of a seat at the least, mm (assumed): as much as slots that almost meet leave of a blank."""

BACK = 30.0
"""Wood between the notch and the back, mm."""

LONGEST_SEAT = 110.0
"""The longest seat of a caul on one blank, mm."""

SEAT_SHARE = 0.42
"""The longest seat as a share of the blank's outer edge, so that neighbouring cauls don't meet."""

LEAST_PACKED = 1.0
"""How far a caul may sit off the middle of the ring's edge without packing, mm."""

HEIGHT_SHARE = 0.7
"""Height of a stack of cauls as a share of the ring's thickness."""


@dataclass(frozen=True, slots=True)
class Caul:
    """A caul in the frame of its joint: the blanks' outer corner at the origin, y outwards along the joint's ray."""

    sizes: Sizes

    @property
    def corner(self) -> float:
        """From the table's axis to the blanks' outer corner: A / cos(pi/N)."""
        return self.sizes.outer_apothem / cos(self.sizes.mitre)

    @property
    def seat(self) -> float:
        """How far the caul reaches along each blank from the corner."""
        return max(self._wished, self.notch + LEAST_SEAT)

    @property
    def free(self) -> float:
        """What two neighbouring cauls leave free between them of a blank's outer edge."""
        return self.sizes.outer_length - 2 * self.seat

    @property
    def _wished(self) -> float:
        """The seat's reach where no notch asks for more."""
        return min(LONGEST_SEAT, SEAT_SHARE * self.sizes.outer_length)

    @property
    def notch(self) -> float:
        """Radius of the notch: over the spline too, where slots come out under the caul."""
        joints = self.sizes.profile.joints
        over = joints.spline_depth + SPLINE_ROOM if joints.spline == "through" else 0.0
        return max(over, min(NOTCH, self._wished / 3))

    @property
    def back(self) -> float:
        """From the corner to the back."""
        return self.notch + BACK

    @property
    def across(self) -> float:
        """From back to back of two opposite cauls: what the clamps must open to."""
        return 2 * (self.corner + self.back)

    @property
    def around(self) -> float:
        """Once round the backs of all cauls, mm: as a band lies that is drawn tight, on each back and straight to the
        next."""
        out, half = self.corner + self.back, self.seat * cos(self.sizes.mitre)
        between = 2 * hypot(out, half) * sin(self.sizes.mitre - atan2(half, out))
        return self.sizes.segments * (2 * half + between)

    @property
    def packed(self) -> float:
        """What lifts it to the middle of the ring's edge, 0 where it needs nothing."""
        profile = self.sizes.profile
        beside = (profile.top.thickness - self.layers * profile.jigs.thickness) / 2
        return beside if beside > LEAST_PACKED else 0.0

    @property
    def layers(self) -> int:
        """Thicknesses of the sheet in one caul: about as high as the ring, never higher."""
        thick, ring = self.sizes.profile.jigs.thickness, self.sizes.profile.top.thickness
        return max(1, min(round(HEIGHT_SHARE * ring / thick), floor(ring / thick)))

    @property
    def outline(self) -> Outline:
        """Two seats, the notch between them, upright sides and a straight back."""
        m, r = self.sizes.mitre, self.notch
        right, left = Point(cos(m), -sin(m)), Point(-cos(m), -sin(m))
        half, top = self.seat * cos(m), self.back
        low_right, low_left = right.times(self.seat), left.times(self.seat)
        # Anticlockwise: up the right side, back, down the left, in along the left seat, over the notch, out again.
        arc = arc_round(Point(0, 0), r, pi + m, -(pi + 2 * m))
        return outline_of(
            (
                Line(low_right, Point(half, top)), Line(Point(half, top), Point(-half, top)),
                Line(Point(-half, top), low_left), Line(low_left, arc.start),
                arc.between(0.0, 0.5), arc.between(0.5, 1.0), Line(arc.end, low_right),
            )
        )  # fmt: skip

    def placement(self, joint: int) -> Placement:
        """Where the caul of joint `joint` lies round the table's axis."""
        angle = (2 * joint + 1) * self.sizes.mitre
        at = polar(self.corner, angle)
        return Placement(at.x, at.y, angle - pi / 2)


def cauls(table: Table) -> Iterator[Jig]:
    """One jig: as many cauls as the ring has joints."""
    caul, profile = Caul(table.sizes), table.profile
    count = table.sizes.segments * caul.layers
    yield Jig(
        "CAUL",
        "cauls for gluing the ring",
        tuple(part.code for part in table.parts if part.kind == "rim-segment"),
        (piece(profile, "CAUL", "caul over a joint", caul.outline, "caul", count),),
        tuple(_scribes(caul)),
        tuple(_figures(caul)),
        tuple(_use(caul, profile)),
        tuple(_proof(caul, profile)),
        (
            "What slips hits hard: hands out of the line of pull, two persons to turn a held ring.",
            "Glue on the skin and in the eyes harms: gloves, and what the glue's own data sheet says.",
        ),
    )


def _scribes(caul: Caul) -> Iterator[Scribe]:
    yield line("CAUL", Point(0, caul.notch), Point(0, caul.back), "joint", "witness")


def _figures(caul: Caul) -> Iterator[Critical]:
    m = caul.sizes.mitre
    opening = degrees(pi - 2 * m)
    yield Critical("between the two seats", opening, "deg", "CAUL", how="180 - 360 / segments")
    yield distance(
        "corner of the ring to the back", "CAUL", Point(0, 0), Point(0, caul.back), "notch + wood behind it"
    )
    seats = Point(-caul.seat * cos(m), -caul.seat * sin(m)), Point(caul.seat * cos(m), -caul.seat * sin(m))
    yield distance("from end to end of the seats", "CAUL", *seats, "2 seat cos(180 / segments)")
    for side, name in ((-1, translated("left seat")), (1, translated("right seat"))):
        along = Point(side * cos(m), -sin(m))
        ends = along.times(caul.notch), along.times(caul.seat)
        yield distance(name, "CAUL", *ends, "seat - notch")
    how = "2 (apothem / cos(180 / segments) + back)"
    yield Critical("back to back of opposite cauls, joints closed", caul.across, "mm", how=how)


def _use(caul: Caul, profile: Profile) -> Iterator[str]:
    if caul.layers > 1:
        yield said(
            "Glue {layers} together for each of the {cauls} cauls, seats level.",
            layers=caul.layers,
            cauls=caul.sizes.segments,
        )
    if caul.packed > 0:
        yield said(
            "Lay each on packing of {beside}, so that it presses on the middle of the ring's edge.",
            beside=shown(caul.packed, profile),
        )
    yield "Face the seats with thin cork or card, all alike, and cover them with tape that glue doesn't hold to."
    yield "Lay the ring out dry on the board, a caul over every joint, its witness line on the joint."
    yield (
        "Draw the ring up as its step tells, a little at a time, each caul knocked home in turn, until every notch "
        "shows glue."
    )
    across = shown(caul.across, profile)
    yield said(
        "Check the ring flat and round before the glue sets: {across} over every pair of opposite cauls.",
        across=across,
    )


def _proof(caul: Caul, profile: Profile) -> Iterator[str]:
    yield (
        "Lay a caul on two dry segments pushed together: no light under either seat. Light at the corner means "
        "an angle too small, light at the ends too great."
    )
    yield said(
        "Ring closed dry: {across} from back to back over every pair, cork not counted; pairs may differ by {near}.",
        across=shown(caul.across, profile),
        near=shown(0.5, profile),
    )
