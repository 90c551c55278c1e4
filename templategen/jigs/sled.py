"""The sled of a table saw: for pieces too short for the hand, and for angles that no gauge of the saw reaches."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, cos, degrees, pi, sin, sqrt

from templategen.catalogue import figured
from templategen.checks.describe import said
from templategen.checks.wording import format_size
from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.point import Point, polar
from templategen.jigs.angle_gauge import ShownTwice, angles_of, by_angle
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, line, piece, shown, tidy
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.units import angle_words

PAST = 60.0
"""Fence beyond the stop, and the stop's own length, mm."""

POINTED = 2.0
"""A stop stands no further past a piece's length than so many of its widths: the point of an end at 60 degrees."""

WIDE = 50.0
"""Width of a fence and of the guard, mm."""

ASIDE = 70.0
"""Base on the offcut's side of the blade, mm."""

BLADE = {"mm": 315.0, "in": 12 * 25.4}
"""The largest blade that the base is long enough for, mm."""

TOOTH = 3.0
"""How far it stands over the piece, mm."""

BARE = 25.0
"""Base before the back bridge that neither the blade nor a square fence reaches, mm."""

MARGIN = 25.0
"""Base beyond a fence's far end, mm."""

OVER = 40.0
"""Wood of a bridge over the piece, which holds both halves of the base together, mm."""

BEHIND = 36.0
"""How far the guard stands out behind the sled: what the blade comes out into, mm."""

HANDS = 220.0
"""Room on the back bridge for both hands beside its guard, mm (assumed)."""

SCREWED = 60.0
"""From the cut to the nearest screw, along a fence, mm."""

PULL, SAFE = 150.0, 2.0
"""What the teeth pull a piece with, N: at 50 m/s a motor of 3 kW gives 60 N, two and a half times as much before it
stalls; and how many times that must be held (assumed)."""

PRESSES, GRIP = 500.0, 0.5
"""What a hold-down clamp presses with, N, of which coarse paper under the piece bears that share along it (assumed;
the sled's proof pulls at a piece)."""

CLAMPS = ceil(PULL * SAFE / (PRESSES * GRIP))
"""How many hold a piece."""

RUNNER = 30.0
"""Width that the runner is sawn to before it is planed to the slot, mm."""


@dataclass(frozen=True, slots=True)
class Sled:
    """Seen from above: the cut along y through x = 0, pushed towards positive y, the fences to the left of it, as a
    piece lies whose point is at the fence; `angles` off square, radians, each with the parts that are sawn at it."""

    table: Table
    angles: tuple[tuple[float, tuple[str, ...]], ...]

    @property
    def parts(self) -> tuple[Part, ...]:
        """What is sawn on it."""
        return tuple(map(self.table.part, dict.fromkeys(code for _, codes in self.angles for code in codes)))

    @property
    def bridge(self) -> float:
        """Thickness of a bridge."""
        return self.table.profile.jigs.thickness

    @property
    def corner(self) -> Point:
        """Where the fences meet the cut."""
        return Point(0.0, self._tidy(self.bridge + max(self.wide, self.run_out) + BARE))

    @property
    def thick(self) -> float:
        """The thickest piece."""
        return max(part.thickness for part in self.parts)

    @property
    def run_out(self) -> float:
        """How far past a fence's line the largest blade has cut into the base's underside as it comes through the
        thickest piece there."""
        radius, over = BLADE[self.table.profile.units] / 2, self.bridge + self.thick
        axle = over + TOOTH - radius
        return sqrt(radius**2 - axle**2) - sqrt(radius**2 - (over - axle) ** 2)

    @property
    def wide(self) -> float:
        """Width of a fence, and half that of the guard."""
        return self._tidy(WIDE)

    @property
    def aside(self) -> float:
        """Base on the offcut's side of the blade."""
        return self._tidy(ASIDE)

    def _tidy(self, mm: float) -> float:
        return tidy(self.table.profile, mm)

    def long(self, codes: tuple[str, ...]) -> float:
        """A fence from the cut to its far end."""
        sizes = (self.table.part(code).size for code in codes)
        return self._tidy(max(length + POINTED * width for length, width, _ in sizes) + PAST)

    @staticmethod
    def along(angle: float) -> Point:
        """The way of the fence at an angle, away from the cut."""
        return polar(1.0, pi - angle)

    def fence(self, angle: float, codes: tuple[str, ...]) -> Outline:
        """The fence at an angle: the piece lies between it and the blade, its point at the fence."""
        aside, far = self.along(angle).left.times(self.wide), self.corner.plus(self.along(angle), self.long(codes))
        return polygon((self.corner, far, far.plus(aside), self.corner.plus(aside)))

    @property
    def base(self) -> Outline:
        """As large as fences, pieces and hands beside the guard ask for."""
        rooms = [(angle, self.long(codes), max(self.table.part(code).size[1] for code in codes))
                 for angle, codes in self.angles]  # fmt: skip
        left = max(HANDS + self.wide, *(long * cos(a) + self.wide * sin(a) + MARGIN for a, long, _ in rooms))
        top = max(max(long * sin(a) + wide * cos(a), wide / cos(a)) for a, long, wide in rooms) + MARGIN
        high = self._tidy(self.corner.y + top + self.bridge)
        return rectangle(self.aside - self._tidy(left + self.aside), 0.0, self.aside, high)


def sled_of(table: Table) -> Sled:
    """The sled of a table: for ends further off square than the saws turn, and for all ends of what is too short for
    the hand where no mitre saw holds it."""
    shop = table.profile.shop
    ends = ((angle, part) for part in table.parts for angle in angles_of(table, part)
            if part.kind in ("rim-segment", "slat", "spline", "foot", "leg"))  # fmt: skip
    asked = (
        (angle, part.code) for angle, part in ends
        if degrees(angle - shop.mitre_reach) > 1e-6
        or ("mitre saw" not in shop.machines and part.size[0] < shop.holding)
    )  # fmt: skip
    return Sled(table, by_angle(asked))


def sled(table: Table) -> Iterator[Jig]:
    """Base, runner, a fence for each angle, two bridges, a guard behind; none where nothing asks for it."""
    made = sled_of(table)
    if not made.angles:
        return
    yield Jig(
        "SLED",
        "sled for the table saw",
        tuple(part.code for part in made.parts),
        tuple(_pieces(made)),
        tuple(_scribes(made)),
        tuple(_figures(made)),
        tuple(_use(made)),
        (
            *_proof(made),
            "Pushed by hand, the saw unplugged: no play in the slot, and it doesn't stick.",
        ),
        (
            (
                "The saw's guard comes off, its riving knife stays. Both hands on the back bridge, left of the guard;"
                " the piece under both hold-down clamps: the teeth pull it along the fence, off the stop, and paper"
                " and clamps alone hold it."
            ),
            "Push until the cut is through and no further; take the piece off once the blade stands still.",
        ),
    )  # fmt: skip


def _pieces(made: Sled) -> Iterator[Part]:
    profile, base, thick = made.table.profile, made.base, made.thick
    high, layers = tidy(profile, thick + OVER), max(2, ceil(thick / profile.jigs.thickness))
    yield piece(profile, "SLED-BASE", "sled's base", base)
    yield piece(profile, "SLED-RUNNER", "runner, sawn to be planed to your saw's slot",
                rectangle(0, 0, base.bounds.height, tidy(profile, RUNNER)))  # fmt: skip
    glued = said("{layers} glued together", layers=layers)
    for number, (_, codes) in enumerate(made.angles, 1):
        strip = rectangle(0, 0, made.long(codes), made.wide)
        yield piece(profile, f"SLED-FENCE-{number}", "fence", strip, count=layers, notes=(glued,))
    yield piece(profile, "SLED-BRIDGE", "bridge across the cut, front and back",
                rectangle(0, 0, base.bounds.width, high), count=2)  # fmt: skip
    deep = ceil(BEHIND / profile.jigs.thickness)
    yield piece(profile, "SLED-GUARD", "guard behind the back bridge, over the cut",
                rectangle(0, 0, made.wide * 2, high), count=deep,
                notes=(said("{layers} glued together", layers=deep),))  # fmt: skip


def _scribes(made: Sled) -> Iterator[Scribe]:
    box = made.base.bounds
    yield line("SLED-BASE", Point(0, 0), Point(0, box.top), "saw cut", "witness")
    for number, (angle, codes) in enumerate(made.angles, 1):
        end = made.corner.plus(made.along(angle), made.long(codes))
        words = said("fence {number}, {angle} off square", number=number, angle=figured(angle_words(degrees(angle))))
        yield line("SLED-BASE", made.corner, end, words)


def _figures(made: Sled) -> Iterator[Critical]:
    for number, (angle, codes) in enumerate(made.angles, 1):
        told = said("fence {number}, off square to the cut: {codes:all}", number=number, codes=codes)
        yield Critical(told, degrees(angle), "deg", "SLED-BASE")
        ends = Point(0, 0), Point(made.long(codes), 0)
        yield distance(said("fence {number}, from the cut", number=number), f"SLED-FENCE-{number}", *ends,
                       "longest piece + room for a stop")  # fmt: skip


def _use(made: Sled) -> Iterator[str]:
    profile = made.table.profile
    yield said(
        "Measure the slot of the saw's table: the runner is planed to its width, a hair thinner than it is deep, of"
        " hard wood where the sheet is too thick. Lay it in, glue on it, the base over it, its right edge along the"
        " saw's fence, that {aside} off the blade; screw it from above.",
        aside=shown(made.aside, profile),
    )
    yield (
        "Bridges stand on edge, level with the base's front and back,"
        " glued and screwed from below, off the cut; the guard on edge behind the back one, at your side. A fence"
        " lies flat."
    )
    yield said(
        "Raise the blade, {blade} at most, a tooth over {high}, base and piece; push the sled on to it, through the"
        " front bridge's foot until the cut in the base reaches the fence's line, never through the back bridge; stop"
        " the saw there.",
        blade=shown(BLADE[profile.units], profile),
        high=shown(profile.jigs.thickness + made.thick, profile),
    )
    yield said(
        "Glue coarse abrasive paper on the fence's face and on the base before it; screw the fence to its line from"
        " below, no screw nearer to the cut than {screwed}, its end in the cut, its angle tried from the cut. Screw"
        " two hold-down clamps on it, their feet over the half of the piece that lies at the stop; that is clamped to"
        " it at the distance told, measured along the paper from the cut.",
        screwed=shown(tidy(profile, SCREWED), profile),
    )


def _proof(made: Sled) -> Iterator[str]:
    """An angle shown twice at each fence, and what holds a piece pulled at."""
    profile = made.table.profile
    for number, (angle, _) in enumerate(made.angles, 1):
        twice = ShownTwice(degrees(angle), profile.units)
        yield said(
            "Two scraps of {long}, cut at fence {number}; {measure} {wanted} (±{off}).",
            long=twice.long,
            number=number,
            measure=twice.measure,
            wanted=shown(twice.wanted, profile),
            off=shown(twice.off, profile),
        )  # fmt: skip
    pull = figured(format_size(PULL * SAFE, "N", profile.units))
    yield said(
        "A piece clamped, the saw unplugged, stays at the stop while a luggage scale on a clamp at its cut end pulls"
        " it along the fence with {pull}.",
        pull=pull,
    )
