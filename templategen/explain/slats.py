"""Every slat's body and tongues: which two lines meet at each of its ends, and what that makes of its blank."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, hypot, radians, sin

from templategen.catalogue import translated, worded
from templategen.explain.book import Book
from templategen.explain.given import because
from templategen.explain.line import Corner, ExplainedLine, around, corners, furthest, line_of, on, write_along
from templategen.table.profile.model import Profile

GRAZE = 0.01
"""A band that reaches less than this into a field makes no slat there, mm."""

SHORTEST_EDGE = 1e-3
"""An end shorter than this is a corner, mm."""

FLAT = 1e-6
STEEPEST = 20.0
"""An edge is no end if it runs more than this many times as far along the slat as across it."""


@dataclass(frozen=True, slots=True)
class ExplainedSlat:
    """One slat of a field: the lines that bound it with its tongues, its corners, the sides its tongues go through.

    `name` begins the names of its quantities, `run` and `rise` are the quantities of the directions along and across
    it.
    """

    name: str
    field: int
    number: int
    run: str
    rise: str
    lines: tuple[ExplainedLine, ...]
    corners: tuple[Corner, ...]
    ends: tuple[ExplainedLine, ...]


ARM_EDGES = {"left": "the left edge of arm {number}", "right": "the right edge of arm {number}"}


def fields_that_differ(profile: Profile) -> int:
    """How many fields are not turned copies of others."""
    return profile.top.rails if profile.slats.run == "straight" else 1


def write_slats(book: Book, profile: Profile, count: int) -> tuple[ExplainedSlat, ...]:
    """The slats of the fields that differ, in the order of their bands."""
    made = []
    for field in range(fields_that_differ(profile)):
        sides = _Sides.of(book, profile, field)
        for number in range(1, count + 1):
            slat = _slat(book, sides, number)
            if slat is not None:
                made.append(slat)
    return tuple(made)


@dataclass(frozen=True, slots=True)
class _Sides:
    """The lines round a field: shoulders, and the same pushed out by a tongue (the apex isn't)."""

    field: int
    run: str
    rise: str
    fall: str
    plain: tuple[ExplainedLine, ...]
    pushed: tuple[ExplainedLine, ...]
    apex: ExplainedLine

    @classmethod
    def of(cls, book: Book, profile: Profile, field: int) -> _Sides:
        run, rise, fall, away = _directions(book, profile, field)
        plain, pushed = [], []
        for says, faces, kind, index, side in _borders(book, profile, field):
            here, out = ("top.arm_line", "top.arm_tongue_line") if kind == "arm" else _RIM
            plain.append(line_of(book, says, faces, here, kind, index, side))
            pushed.append(
                line_of(book, worded("{edge} moved out by the tongue", edge=says), faces, out, kind, index, side)
            )
        apex = line_of(book, translated("the line through the apex"), away, "top.behind_apex", "apex")
        return cls(field, run, rise, fall, tuple(plain), tuple(pushed), apex)


_RIM = ("top.inner_apothem", "top.rim_tongue_line")


def _directions(book: Book, profile: Profile, field: int) -> tuple[str, str, str, str]:
    """The quantities of a field's directions: along a slat, across it both ways, and inwards along the bisector."""
    name, words = f"field.{field}", because(profile, "slats.run")
    says = worded("direction of the middle of field {number}", number=field)
    book.add(f"{name}.bisector", says, "deg", f"{field + 0.5} * th")
    says = "direction in which slats run"
    if profile.slats.run == "straight":
        book.given(f"{name}.run", says, 0.0, "deg", worded("{words}: along the first rail", words=words))
    else:
        formula = "bisector - 90" if profile.slats.run == "across" else "bisector"
        book.add(f"{name}.run", says, "deg", formula, words, bisector=f"{name}.bisector")
    book.add(f"{name}.rise", "across them, from one slat to the next", "deg", "run + 90", run=f"{name}.run")
    book.add(f"{name}.fall", "across them, backwards", "deg", "run - 90", run=f"{name}.run")
    says = "inwards along the bisector"
    book.add(f"{name}.inwards", says, "deg", "bisector + 180", bisector=f"{name}.bisector")
    if "top.behind_apex" not in book:
        source = "no tongue goes behind it: the rails cross there"
        book.add("top.behind_apex", "the apex, measured inwards", "mm", "-u0", source, u0="top.apex")
    return f"{name}.run", f"{name}.rise", f"{name}.fall", f"{name}.inwards"


def _borders(book: Book, profile: Profile, field: int) -> Iterator[tuple[str, str, str, int, int]]:
    """Words, direction, kind, number and side of each side of a field."""
    arms, segments = 2 * profile.top.rails, profile.top.segments
    for arm, side, word in ((field, 1, "left"), (field + 1, -1, "right")):
        number = arm % arms
        says = worded(ARM_EDGES[word], number=number)
        yield says, _arm_faces(book, number, word, arm), "arm", number, side
    each = segments // arms
    for index in range(field * each, (field + 1) * each + 1):
        says = worded("the inner edge of segment {number}", number=index % segments)
        yield says, segment_faces(book, index), "rim", index % segments, 0


def _arm_faces(book: Book, number: int, word: str, arm: int) -> str:
    """The direction in which an arm's edge bounds the field beside it."""
    name = f"arm.{number}.{word}_faces"
    if name not in book:
        turn = "- 90" if word == "left" else "+ 90"
        says = worded("direction out of the field through {edge}", edge=worded(ARM_EDGES[word], number=number))
        book.add(name, says, "deg", f"{arm} * th {turn}")
    return name


def segment_faces(book: Book, index: int) -> str:
    """The direction in which a segment faces outwards."""
    name = f"segment.{index}.faces"
    if name not in book:
        says = worded("direction of segment {number} from the table's axis", number=index)
        book.add(name, says, "deg", f"{index} * turn", turn="top.segment_angle")
    return name


def _slat(book: Book, sides: _Sides, number: int) -> ExplainedSlat | None:
    """One slat of a field, or None where its band misses the field."""
    band = (
        line_of(
            book, worded("slat {number}'s nearer edge", number=number), sides.fall, f"slats.{number}.behind", "band"
        ),
        line_of(
            book, worded("slat {number}'s further edge", number=number), sides.rise, f"slats.{number}.high", "band"
        ),
    )
    body = corners((*band, *sides.plain))
    rise = radians(book.value(sides.rise))
    if len(body) < 3 or _breadth(body, rise) < GRAZE:
        return None
    touched = tuple(line for line in sides.plain if _is_side(line, body))
    lines = [*band, sides.apex]
    for plain, pushed in zip(sides.plain, sides.pushed, strict=True):
        lines.append(pushed if plain.kind == "arm" or plain in touched else plain)
    whole = corners(lines)
    ends = tuple(line for line in touched if max(line.past(c.x, c.y) for c in whole) > FLAT)
    name = f"slat.{sides.field}.{number}"
    slat = ExplainedSlat(name, sides.field, number, sides.run, sides.rise, tuple(lines), whole, ends)
    _write(book, slat, body)
    return slat


def _breadth(found: tuple[Corner, ...], angle: float) -> float:
    heights = [corner.along(angle) for corner in found]
    return max(heights) - min(heights)


def _is_side(line: ExplainedLine, found: tuple[Corner, ...]) -> bool:
    """Whether a side of the shape with these corners lies along the line."""
    here = on(line, found)
    return any(hypot(a.x - b.x, a.y - b.y) > FLAT for a in here for b in here)


def _write(book: Book, slat: ExplainedSlat, body: tuple[Corner, ...]) -> None:
    name, run, rise = slat.name, slat.run, slat.rise
    _extent(book, f"{name}.length", "length of the blank, tongues included", slat.corners, run)
    _extent(book, f"{name}.width", "width of the blank", slat.corners, rise)
    _extent(book, f"{name}.body_length", "length between the shoulders' furthest corners", body, run)
    _extent(book, f"{name}.body_width", "width that shows", body, rise)
    for place, (line, side) in enumerate(_end_sides(book, slat), 1):
        _angle(book, f"{name}.end_angle_{place}", line, side, run)


def _extent(book: Book, name: str, says: str, found: tuple[Corner, ...], direction: str) -> None:
    """A size along a direction: the furthest corner less the nearest."""
    angle = radians(book.value(direction))
    most, least = furthest(found, angle), furthest(found, angle + radians(180))
    high = write_along(book, f"{name}.to", "its far end", most, direction)
    low = write_along(book, f"{name}.from", "its near end", least, direction)
    book.add(name, says, "mm", "to - start", to=high, start=low)


def _end_sides(book: Book, slat: ExplainedSlat) -> Iterator[tuple[ExplainedLine, float]]:
    """The sides of the blank that are ends, with their angle off square in degrees, the squarest first; of ends
    that show the same angle one."""
    run = radians(book.value(slat.run))
    ring = around(slat.corners)
    seen: dict[str, tuple[ExplainedLine, float]] = {}
    for one, other in zip(ring, (*ring[1:], *ring[:1]), strict=True):
        along = abs(other.along(run) - one.along(run))
        across = abs(-sin(run) * (other.x - one.x) + cos(run) * (other.y - one.y))
        if across <= FLAT or along >= across * STEEPEST or hypot(along, across) <= SHORTEST_EDGE:
            continue
        line = next(side for side in slat.lines if _holds(side, one) and _holds(side, other))
        off = _off_square(book.value(line.faces), book.value(slat.run))
        seen.setdefault(f"{off:.2f}", (line, off))
    yield from sorted(seen.values(), key=lambda pair: pair[1])


def _holds(line: ExplainedLine, corner: Corner) -> bool:
    return abs(line.past(corner.x, corner.y)) <= FLAT


def _off_square(faces: float, run: float) -> float:
    turn = (faces - run) % 180.0
    return min(turn, 180.0 - turn)


def _angle(book: Book, name: str, line: ExplainedLine, off: float, run: str) -> None:
    """An end's angle off square: how far its line's direction is from the run's, half turns taken off."""
    turns = round((book.value(line.faces) - book.value(run)) / 180.0)
    back = f" - {180 * turns}" if turns > 0 else f" + {-180 * turns}" if turns < 0 else ""
    says = worded("angle off square of the end along {edge}", edge=line.says)
    book.add(name, says, "deg", f"abs(faces - run{back})", faces=line.faces, run=run)
