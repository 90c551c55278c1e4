"""Gauges for the other angles: triangles for the slats' ends, and a board to set a sliding bevel by."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import atan2, cos, degrees, pi, radians, sin, tan

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.point import Point, polar
from templategen.jigs.jig import GAUGED, SAWS, Critical, Jig, Scribe, has_any
from templategen.jigs.piece import line, piece
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.pedestal import leg_axis
from templategen.table.profile.choices import Units
from templategen.units import angle_words, show_length

LEG = 180.0
"""Long leg of a slat's triangle, mm."""

LEAST = 0.02
"""Ends closer to square than this need no gauge, degrees."""

ALIKE = 1e-4
"""Angles closer than this count as equal, degrees."""

RAY = 130.0
"""Length of the lines on the bevel board, mm."""

ANGLE = 0.1
"""The accuracy of a good gauge, degrees."""

REACH = {"mm": 300.0, "in": 12 * 25.4}
"""How far out test pieces of an angle are measured, mm."""

PAIR = {"mm": 400.0, "in": 16 * 25.4}
"""How long each of the two is, mm."""

STEEP = 30.0
"""Up to this many degrees off square the fall of an edge shows an angle better than a distance across."""

FALL = (
    "angle: lay the cut ends together, one piece turned over, so that the long edges meet; lay a straightedge along "
    "one, on past the joint; {far} from the joint, along the other's edge, that stands off it by"
)
ACROSS = (
    "angle: lay the cut ends together, one piece turned over, so that the long edges meet; {far} from the joint "
    "along each, the distance across is"
)

WHICH = "Ends at rail and rim differ: take the triangle marked with the angle off square that the set-up tells."

APART = 40.0
"""Sheet beside the lines on the bevel board, mm."""


def slat_gauge(table: Table) -> Iterator[Jig]:
    """A right triangle for each angle off square at which slats end or rails cross."""
    found = by_angle((*_slat_ends(table), *_crossings(table)))
    if not found:
        return
    pieces, scribes, figures = [], [], []
    for number, (angle, codes) in enumerate(found, 1):
        code = f"SLAT-GAUGE-{number}"
        rise = LEG * tan(angle) if angle <= pi / 4 else LEG
        run = LEG if angle <= pi / 4 else LEG / tan(angle)
        shape = polygon(((0, 0), (run, 0), (run, rise)))
        name, notes = said("triangle {angle:deg}", angle=degrees(angle)), (said("for {codes:all}", codes=codes),)
        pieces.append(piece(table.profile, code, name, shape, "gauge", notes=notes))
        words = figured(angle_words(degrees(angle)))
        scribes.append(line(code, Point(0, 0), polar(LEG / 2, angle / 2), words))
        figures.append(
            Critical(
                said("off square: {codes}", codes=_shortly(codes)),
                degrees(angle),
                "deg",
                code,
                how=_how(table, angle),
            )
        )
    saws = has_any(table, GAUGED)
    yield Jig(
        "SLAT-GAUGE",
        "slat angle gauge",
        tuple(dict.fromkeys(code for _, codes in found for code in codes)),
        tuple(pieces),
        tuple(scribes),
        tuple(figures),
        (
            (
                "Saw unplugged, lay the leg that faces the marked angle to the fence or gauge and turn that until "
                "the slope lies along the blade's plate (between teeth); cut one end of a slat, then the other."
                if saws
                else "Knife the line along the slope, the leg that faces the marked angle along the slat's edge; set "
                "the shooting board's fence by the same triangle, that leg along it, its slope along the plane's way."
            ),
            *((said(WHICH),) if len(pieces) > 1 else ()),
        ),
        (
            (
                "Cut two pieces of STRIP-SLAT at one setting and lay their cut ends together, one turned over, so "
                "that the long edges meet: they show the angle twice; what to measure on them the set-up tells."
            ),
        ),
        (
            "Slats are short and slender: clamp them to the gauge, cut off last, fingers out of the blade's line."
            if saws
            else "Slats are short and slender: clamp them while they are sawn, and cut them off last.",
        ),
    )


def end_angles(table: Table) -> tuple[tuple[float, tuple[str, ...]], ...]:
    """Angles off square at which slats or their tongues end, radians, smallest first, each with its slats."""
    return by_angle(_slat_ends(table))


def _slat_ends(table: Table) -> Iterator[tuple[float, str]]:
    slats = (part for part in table.parts if part.kind == "slat")
    return ((angle, part.code) for part in slats for angle in _ends(part))


def _crossings(table: Table) -> Iterator[tuple[float, str]]:
    """How far off square laps cross rails, with these."""
    angle = pi / 2 - pi / table.sizes.rails
    return ((angle, part.code) for part in table.parts if part.cuts("lap") and degrees(angle) > LEAST)


def _ends(part: Part) -> Iterator[float]:
    """How far off square each slanting end of a slat and of its tongues is: at a corner of the ring a tongue may have
    an edge that no shoulder runs along."""
    shapes = (part.body, part.outline) if part.body else (part.outline,)
    return (angle for shape in shapes for angle in _off_square(shape) if degrees(angle) > LEAST)


def off_square(part: Part) -> Iterator[float]:
    """How far off square each straight edge at an end of a part's body is, radians; its grain lies along x."""
    return _off_square(part.body or part.outline)


def _off_square(shape: Outline) -> Iterator[float]:
    for edge in shape.edges:
        if isinstance(edge, Line) and edge.length > 1.0:
            along = edge.direction_at(0)
            angle = atan2(abs(along.x), abs(along.y))
            if degrees(angle) < 90 - LEAST:
                yield angle


def angles_of(table: Table, part: Part) -> Iterator[float]:
    """The angles off square at which a part ends, radians; those of a leg are its rake, both ends alike."""
    return iter((abs(leg_axis(table.sizes).rake),)) if part.kind == "leg" else off_square(part)


def by_angle(found: Iterable[tuple[float, str]]) -> tuple[tuple[float, tuple[str, ...]], ...]:
    """Angles with the codes that have them, smallest first; what is nearer than can be measured is one."""
    kept: dict[float, dict[str, None]] = {}
    for angle, code in found:
        key = next((a for a in kept if abs(degrees(a - angle)) < ALIKE), angle)
        kept.setdefault(key, {})[code] = None
    return tuple((angle, tuple(codes)) for angle, codes in sorted(kept.items()))


def _shortly(codes: tuple[str, ...]) -> str:
    return ", ".join(codes[:3]) + (translated(" and {} more").format(len(codes) - 3) if len(codes) > 3 else "")


def _how(table: Table, angle: float) -> str:
    """The formula where it is the usual one: an end at a rail, or at a flat of the rim."""
    half = table.sizes.field_angle / 2
    if abs(angle - half) < 1e-9:
        return translated("180° / (2 rails)")
    steps = angle / table.sizes.mitre
    return f"{round(steps)} x 180° / N" if abs(steps - round(steps)) < 1e-6 else ""


@dataclass(frozen=True, slots=True)
class ShownTwice:
    """How an angle of so many `degrees` off square is measured on two pieces cut alike: laid end to end they are
    straight whatever it is, with one turned over they show it twice. Up to 30 degrees the second edge's fall from the
    first's line tells it best, beyond that the distance across."""

    degrees: float
    units: Units

    @property
    def is_fall(self) -> bool:
        """Whether the fall is measured."""
        return self.degrees <= STEEP

    @property
    def far(self) -> float:
        """How far from the joint, mm."""
        return REACH[self.units]

    @property
    def long(self) -> str:
        """The length of each piece, in words."""
        return figured(show_length(PAIR[self.units], self.units))

    @property
    def measure(self) -> str:
        """What to do, up to the size that is wanted."""
        return said(FALL if self.is_fall else ACROSS, far=figured(show_length(round(self.far, 1), self.units)))

    @property
    def wanted(self) -> float:
        """That size, mm."""
        angle = radians(self.degrees)
        return self.far * (sin(2 * angle) if self.is_fall else 2 * cos(angle))

    @property
    def off(self) -> float:
        """How far off that a good gauge's angle brings it, mm."""
        angle = radians(self.degrees)
        return 2 * self.far * (cos(2 * angle) if self.is_fall else sin(angle)) * radians(ANGLE)


def bevel_gauge(table: Table) -> Iterator[Jig]:
    """A board with one straight edge and a line for each angle of the table, to set a sliding bevel by."""
    angles = table_angles(table)
    name, width = "BEVEL", 0.0
    scribes: list[Scribe] = []
    figures = []
    for words, angle in angles:
        foot = Point(APART + width, 0)
        ray = polar(RAY, pi / 2 - angle)
        told = f"{figured(angle_words(degrees(angle)))}, {words}"
        scribes.append(replace(line(name, foot, foot.plus(ray), told), placed=True))
        figures.append(
            Critical(
                said("{words}, off square to the edge", words=words),
                degrees(angle),
                "deg",
                name,
                (foot, foot.plus(ray)),
            )
        )
        width += APART + 18 * sin(angle)
    right = 2 * APART + width + max(RAY * sin(angle) for _, angle in angles)
    shape = rectangle(0, 0, right, RAY * cos(min(angle for _, angle in angles)) + 15)
    notes = ("the lower edge is the reference: plane it straight before the lines are scribed",)
    board = piece(table.profile, name, "bevel board", shape, "gauge", notes=notes)
    saws = has_any(table, SAWS)
    yield Jig(
        name,
        "bevel-setting board",
        tuple(part.code for part in table.parts if part.kind in ("rim-segment", "slat", "leg")),
        (board,),
        tuple(scribes),
        tuple(figures),
        (
            "Hold the stock of the bevel against the lower edge, its blade along the line; tighten, and look again.",
            *(("The same lines set a saw's blade or a table's tilt through the bevel.",) if saws else ()),
        ),
        (
            ("Scribe each line once from the other side with the bevel turned over: where both are one the edge "
            "is straight and the angle true."),
        ),
        ("Unplug a saw before a bevel is held to its blade.",) if saws else (),
    )  # fmt: skip


def table_angles(table: Table) -> tuple[tuple[str, float], ...]:
    """Every angle off square of the table, radians, each once: mitre, slat ends, rake of the legs."""
    named: list[tuple[str, float]] = [(translated("rim mitre"), table.sizes.mitre)]
    named += [(translated("slat end"), angle) for angle, _ in end_angles(table)]
    rake = abs(leg_axis(table.sizes).rake)
    if degrees(rake) > LEAST:
        named.append((translated("leg shoulder"), rake))
    kept: list[tuple[str, float]] = []
    for words, angle in named:
        same = next((i for i, (_, other) in enumerate(kept) if abs(degrees(other - angle)) < ALIKE), None)
        if same is None:
            kept.append((words, angle))
        elif words not in kept[same][0]:
            kept[same] = (f"{kept[same][0]}, {words}", kept[same][1])
    return tuple(sorted(kept, key=lambda item: item[1]))
