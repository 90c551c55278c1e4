"""Pieces of jigs, and the marks scribed on them."""

from collections.abc import Sequence
from math import atan2, ceil

from templategen.catalogue import figured
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline, circle, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.jigs.jig import Critical, Scribe, ScribeKind
from templategen.parts.face import flat_faces
from templategen.parts.feature import Feature
from templategen.parts.part import Part, PartKind
from templategen.table.profile.model import Profile
from templategen.units import MM_PER_INCH, length_figure, length_words

EXACT = 1e-9
"""A size that misses a step by such a share is on it."""

SMALLER = 0.9
"""A box turned with a piece is told where it has no more than this share of the area of the one as it lies."""

POINT_ARM = 4.0
"""How far the short line of a point reaches to either side, mm."""


def piece(
    profile: Profile,
    code: str,
    name: str,
    outline: Outline,
    kind: PartKind = "jig",
    count: int = 1,
    holes: Sequence[Outline] = (),
    features: Sequence[Feature] = (),
    notes: Sequence[str] = (),
) -> Part:
    """A piece cut out of the jigs' sheet, its top the face that is scribed."""
    sheet, ring = profile.jigs, outline.anticlockwise
    return Part(
        code, name, kind, count, sheet.wood, sheet.thickness, ring, ring, tuple(features), tuple(holes),
        flat_faces(ring, sheet.thickness), notes=tuple(notes),
    )  # fmt: skip


def of_offcut(
    profile: Profile,
    code: str,
    name: str,
    thickness: float,
    outline: Outline,
    features: Sequence[Feature] = (),
    notes: Sequence[str] = (),
) -> Part:
    """A piece of the table's own wood; it is no part of the sheet."""
    ring = outline.anticlockwise
    return Part(
        code, name, "gauge", 1, profile.wood, thickness, rectangle(*ring.bounds), ring, tuple(features),
        faces=flat_faces(ring, thickness), notes=tuple(notes),
    )  # fmt: skip


def sizes_of(part: Part) -> tuple[float, float, float]:
    """Length, width and thickness of the strip or the sheet that a piece comes out of, mm: one that lies aslant, as
    it is used, is measured along its longest edge."""
    longest = max(part.blank.edges, key=lambda edge: round(edge.length, 6)).direction_at(0.5)
    box = Placement(turn=-atan2(longest.y, longest.x)).outline(part.blank).bounds
    length, width, thickness = part.size
    if box.width * box.height > length * width * SMALLER:
        return length, width, thickness
    return max(box.width, box.height), min(box.width, box.height), thickness


def hole(at: Point, diameter: float) -> Outline:
    """A round hole."""
    return circle(at.x, at.y, diameter / 2)


def line(part: str, start: Point, end: Point, words: str = "", kind: ScribeKind = "line") -> Scribe:
    """A straight scribed line."""
    return Scribe(part, kind, Line(start, end), words)


def mark(part: str, kind: ScribeKind, edge: Edge, words: str = "") -> Scribe:
    """Any other mark."""
    return Scribe(part, kind, edge, words)


def point(part: str, at: Point, words: str = "") -> Scribe:
    """A point to centre on."""
    return Scribe(part, "point", Line(Point(at.x - POINT_ARM, at.y), Point(at.x + POINT_ARM, at.y)), words)


def distance(name: str, part: str, start: Point, end: Point, how: str = "") -> Critical:
    """A critical distance between two points of one piece."""
    return Critical(name, start.distance(end), "mm", part, (start, end), how)


def tidy(profile: Profile, mm: float) -> float:
    """The next size up that is told without a fraction of a millimetre, or in quarters of an inch, mm: for what no
    figure of the table dictates."""
    return ceil(mm / step_of(profile) - EXACT) * step_of(profile)


def step_of(profile: Profile) -> float:
    """What such sizes are whole steps of, mm."""
    return 5.0 if profile.units == "mm" else float(MM_PER_INCH) / 4


def shown(mm: float, profile: Profile) -> str:
    """A length as the jig's sheet says it, in the maker's unit."""
    return figured(length_words(mm, profile.units))


def figure(mm: float, profile: Profile) -> str:
    """The same without its unit, for scales."""
    return figured(length_figure(mm, profile.units))
