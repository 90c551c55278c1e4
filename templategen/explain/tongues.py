"""Where tongues and tenons enter rails and rim: the lines round each, how far it reaches, its area."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import radians

from templategen.catalogue import worded
from templategen.explain.book import Book
from templategen.explain.line import Corner, ExplainedLine, area, around, corners, furthest, line_of, on, write_along
from templategen.explain.slats import ExplainedSlat, segment_faces

EMPTY = 1e-9
"""A tongue of less area than this isn't there, mm2."""

JOINTS_OF = {"after": "the joint after segment {number}", "before": "the joint before segment {number}"}
OUT_THROUGH = {
    "after": "direction out of segment {number} through the joint after it",
    "before": "direction out of segment {number} through the joint before it",
}
STARTS = {
    "left": "along an arm from the table's axis, where the groove on its left beside field {number} begins",
    "right": "along an arm from the table's axis, where the groove on its right beside field {number} begins",
}


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a tongue or tenon reaches along an edge: quantities' names and values, and whether it runs out through
    the joint at either end. Along a segment's inner edge from its middle, anticlockwise positive."""

    start_name: str
    end_name: str
    start: float
    end: float
    from_joint: bool = False
    to_joint: bool = False


def write_tongues(book: Book, slats: Sequence[ExplainedSlat]) -> dict[tuple[int, int], list[Reach]]:
    """Writes every tongue's area; gives how far tongues in the rim reach, by field and segment, for the fields that
    differ."""
    owed: dict[tuple[int, int], list[Reach]] = {}
    for slat in slats:
        arms = [line for line in slat.ends if line.kind == "arm"]
        rims = [line for line in slat.ends if line.kind == "rim"]
        for line in arms:
            found = corners((*slat.lines, inside_arm(book, line), *rims))
            _write_area(book, slat, f"arm_{line.index}", line, found)
        for line in rims:
            found = corners((*slat.lines, back_of(book, line), *joint_lines(book, line.index)))
            if len(found) < 3 or area(found) <= EMPTY:
                continue
            _write_area(book, slat, f"segment_{line.index}", line, found)
            owed.setdefault((slat.field, line.index), []).append(_reach(book, slat, line, found))
    return owed


def inside_arm(book: Book, line: ExplainedLine) -> ExplainedLine:
    """The edge of the arm that a slat's shoulder stands beside; what lies in the arm is inside."""
    return back_of(book, line_of(book, line.says, line.faces, "top.arm_edge", "arm", line.index, line.side))


def back_of(book: Book, line: ExplainedLine) -> ExplainedLine:
    """The same line, facing the other way."""
    faces, distance = f"{line.faces}_back", f"{line.distance}_back"
    if faces not in book:
        book.add(faces, worded("the other way from {edge}", edge=line.says), "deg", "faces + 180", faces=line.faces)
    if distance not in book:
        book.add(distance, "the same distance, seen from the other side", "mm", "-d", d=line.distance)
    return line_of(book, line.says, faces, distance, "back", line.index)


def joint_lines(book: Book, index: int) -> tuple[ExplainedLine, ExplainedLine]:
    """The lines of the joints at both ends of a segment; they run through the table's axis."""
    if "top.axis" not in book:
        book.given("top.axis", "distance of a joint's line from the table's axis", 0.0, "mm", "mitres run through it")
    faces, lines = segment_faces(book, index), []
    for word, sign in (("after", "+"), ("before", "-")):
        name = f"segment.{index}.joint_{word}_faces"
        if name not in book:
            says = worded(OUT_THROUGH[word], number=index)
            book.add(name, says, "deg", f"faces {sign} (mitre + 90)", faces=faces)
        lines.append(line_of(book, worded(JOINTS_OF[word], number=index), name, "top.axis", "joint", index))
    return lines[0], lines[1]


def _write_area(book: Book, slat: ExplainedSlat, place: str, line: ExplainedLine, found: Sequence[Corner]) -> None:
    """A tongue's area in plan, from its corners' coordinates by the surveyor's formula."""
    if len(found) < 3 or area(found) <= EMPTY:
        return
    name, terms, sums = f"{slat.name}.tongue_{place}", {}, []
    ring = around(found)
    for number, corner in enumerate(ring):
        for letter, direction in (("x", slat.run), ("y", slat.rise)):
            symbol = f"{letter}{number}"
            terms[symbol] = write_along(
                book, f"{name}.{symbol}", worded("corner {number}", number=number), corner, direction
            )
        after = (number + 1) % len(ring)
        sums.append(f"x{number} * y{after} - x{after} * y{number}")
    says = worded("the tongue past {edge}, seen from above", edge=line.says)
    book.add(f"{name}.area", says, "mm2", f"({' + '.join(sums)}) / 2", "the surveyor's formula", **terms)
    book.add(f"{name}.contact", "wood to wood on both its cheeks", "mm2", "2 * area", area=f"{name}.area")


def _reach(book: Book, slat: ExplainedSlat, line: ExplainedLine, found: Sequence[Corner]) -> Reach:
    """How far a tongue reaches along the segment that it enters."""
    along, name = segment_along(book, line.index), f"{slat.name}.on_segment_{line.index}"
    turn = radians(book.value(along))
    after, before = joint_lines(book, line.index)
    ends = worded("along segment {number} from its middle, where the tongue ends", number=line.index)
    begins = worded("along segment {number} from its middle, where the tongue begins", number=line.index)
    end = write_along(book, f"{name}.to", ends, furthest(found, turn), along)
    start = write_along(book, f"{name}.from", begins, furthest(found, turn + radians(180)), along)
    out = bool(on(before, found)), bool(on(after, found))
    return Reach(start, end, book.value(start), book.value(end), *out)


def segment_along(book: Book, index: int) -> str:
    """The direction along a segment's inner edge, anticlockwise."""
    name = f"segment.{index}.along"
    if name not in book:
        says = worded("direction along segment {number}, anticlockwise", number=index)
        book.add(name, says, "deg", "faces + 90", faces=segment_faces(book, index))
    return name


def arm_starts(book: Book, slats: Sequence[ExplainedSlat]) -> dict[tuple[int, int], str]:
    """Where the groove on each side of an arm begins, by the field beside it and the arm's side."""
    starts: dict[tuple[int, int], tuple[float, str]] = {}
    for slat, line in _arm_ends(slats):
        found = corners((*slat.lines, inside_arm(book, line)))
        if len(found) < 3 or area(found) <= EMPTY:
            continue
        along = _arm_along(book, line.index)
        says = worded("along arm {number} from the table's axis, where the tongue begins", number=line.index)
        near = furthest(found, radians(book.value(along)) + radians(180))
        name = write_along(book, f"{slat.name}.on_arm_{line.index}.from", says, near, along)
        key, value = (slat.field, line.side), book.value(name)
        if key not in starts or value < starts[key][0]:
            starts[key] = (value, name)
    return {key: _groove_start(book, key, name) for key, (_, name) in starts.items()}


def _arm_ends(slats: Sequence[ExplainedSlat]) -> Iterator[tuple[ExplainedSlat, ExplainedLine]]:
    for slat in slats:
        yield from ((slat, line) for line in slat.ends if line.kind == "arm")


def _arm_along(book: Book, index: int) -> str:
    name = f"arm.{index}.direction"
    if name not in book:
        book.add(name, worded("direction of arm {number}", number=index), "deg", f"{index} * th")
    return name


def _groove_start(book: Book, key: tuple[int, int], first: str) -> str:
    field, side = key
    word = "left" if side > 0 else "right"
    says = worded(STARTS[word], number=field)
    terms = {"first": first, "corner": "top.apex_along_arm"}
    source = "the first tongue's, with play"
    return book.add(f"groove.{field}.{word}.start", says, "mm", "max(first - ce, corner)", source, **terms)
