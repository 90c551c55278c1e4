"""The sheet of one part: every worked face as a view of its own, true size, with what the maker must know."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from templategen.drawing.cautions import cautions
from templategen.drawing.coincide import uncovered
from templategen.drawing.dimension import overall, running
from templategen.drawing.drawing import Drawing, Mark, Shape, Words
from templategen.drawing.layers import FRAME, SIZE_CHECK, TEXT, VIEW_TITLE
from templategen.drawing.lettering import LINE_FEED, height_for, marks_box
from templategen.drawing.manner import Manner, Units
from templategen.drawing.move import moved
from templategen.drawing.overrun import OVERRUN
from templategen.drawing.view import View, blank_view, bottom_view, side_view, top_view
from templategen.geometry.bounds import Bounds
from templategen.geometry.outline import Outline, rectangle
from templategen.geometry.point import Point
from templategen.parts.part import Part

CHECK_SIDE = 100.0
"""The square that shows whether a file or print is true to size, mm."""

NARROWEST_ROW = 320.0
"""Views go side by side while they fit in the width of the top view or in this, mm."""


def part_drawing(part: Part, title: str, revision: str = "", by: float = OVERRUN, units: Units = "mm") -> Drawing:
    """The sheet. The top view stands at the part's own coordinates, so its outline is the part's outline.

    `by` is how far open pockets run past the wood, half a cutter's diameter, mm; `units` is what the
    figures are in.
    """
    box = part.outline.bounds
    manner = Manner(height_for(max(box.width, box.height)), by, units)
    first, *others = [_block(view, manner) for view in _views(part, manner)]
    marks = [*first, *_flow(others, marks_box(first), manner.height)]
    marks = _headed(marks, _header(part, title, revision, manner), manner.height)
    marks += size_check(marks_box(marks), manner.height)
    marks = [*footed(marks, cautions(part), manner.height)]
    return Drawing(f"{title} {part.code}".strip(), (*marks, _frame(marks, manner.height)))


def _views(part: Part, manner: Manner) -> Iterable[View]:
    yield top_view(part, manner)
    worked = {face.name: face for face in part.worked_faces}
    if "bottom" in worked:
        yield bottom_view(part, manner)
    if _differs(part.blank, part.outline):
        yield blank_view(part, manner)
    for name in sorted((name for name in worked if name not in ("top", "bottom")), key=_edge_before_end):
        yield side_view(part, worked[name], manner)


def _edge_before_end(name: str) -> tuple[str, int, str]:
    kind, _, number = name.partition("-")
    return kind, int(number) if number.isdecimal() else 0, name


def _differs(blank: Outline, outline: Outline) -> bool:
    """Whether the two rings part anywhere."""
    return any(uncovered(edge, outline.edges) for edge in blank.edges) or any(
        uncovered(edge, blank.edges) for edge in outline.edges
    )


def _block(view: View, manner: Manner) -> tuple[Mark, ...]:
    """A view with its sizes below and to the left, its title and notes above."""
    wood, height, by = view.wood.bounds, manner.height, manner.overrun
    run = running(wood, view.stops, manner, by + height * 2)
    deep = max(wood.bottom - marks_box((*run, *view.marks)).bottom, by + height)
    sized = (*view.marks, *run, *overall(wood, manner, deep + height * 2.5, by + height * 4))
    box = marks_box(sized)
    lines = [(VIEW_TITLE, view.title), *((TEXT, note) for note in view.notes)]
    words = []
    for i, (layer, text) in enumerate(reversed(lines)):
        at = Point(view.wood.bounds.left, box.top + height * (1.2 + i * LINE_FEED))
        words.append(Words(layer, at, height, text))
    return *sized, *reversed(words)


def _flow(blocks: list[tuple[Mark, ...]], above: Bounds, height: float) -> list[Mark]:
    """The blocks in rows under what stands above, left sides in line."""
    gap = height * 4
    width = max(above.width, NARROWEST_ROW)
    marks: list[Mark] = []
    x, y, floor = above.left, above.bottom - gap, above.bottom
    for block in blocks:
        box = marks_box(block)
        if x > above.left and x + box.width > above.left + width:
            x, y = above.left, floor - gap
        marks += moved(block, Point(x - box.left, y - box.top))
        x += box.width + gap
        floor = min(floor, y - box.height)
    return marks


def _header(part: Part, title: str, revision: str, manner: Manner) -> list[str]:
    length, width, thickness = (manner.figure(value) for value in part.size)
    number = f"{part.count} to make" + (f", {part.handed} hand" if part.handed and "hand" not in part.name else "")
    lines = [
        title,
        f"{part.code}  {part.name}, {number}",
        f"{part.wood}; blank {length} x {width} x {thickness} {manner.units}, length along the grain",
        *part.notes,
        f"True size, figures in {manner.unit_name}. Open pockets are drawn past the edge of the wood.",
        f"Revision {revision}" if revision else "",
    ]
    return [line for line in lines if line.strip()]


def _headed(marks: list[Mark], lines: list[str], height: float) -> list[Mark]:
    box = marks_box(marks)
    at = box.top + height * 3
    words: list[Mark] = []
    for i, line in enumerate(reversed(lines)):
        words.append(Words(TEXT, Point(box.left, at + i * height * LINE_FEED), height, line))
    return [*marks, *reversed(words)]


def footed(marks: Sequence[Mark], lines: Iterable[str], height: float) -> tuple[Mark, ...]:
    """The lines under everything drawn, told apart by a word of their own."""
    box = marks_box(marks)
    words = (
        Words(TEXT, Point(box.left, box.bottom - height * (4 + i * LINE_FEED)), height, line)
        for i, line in enumerate(("Take care", *lines))
    )
    return *marks, *words


def size_check(box: Bounds, height: float) -> tuple[Mark, ...]:
    """The test square to the right of what is drawn, with its words inside."""
    left, low = box.right + height * 4, box.top - CHECK_SIDE
    middle = Point(left + CHECK_SIDE / 2, low + CHECK_SIDE / 2)
    square = Shape(SIZE_CHECK, rectangle(left, low, left + CHECK_SIDE, low + CHECK_SIDE))
    small = min(height, 7.0)
    lines = ("this square", "measures 100 mm", "(3.937 in)")
    feed = small * LINE_FEED
    words = (
        Words(SIZE_CHECK, Point(middle.x, middle.y + (0.6 - i) * feed), small, line, "middle")
        for i, line in enumerate(lines)
    )
    return square, *words


def _frame(marks: list[Mark], height: float) -> Shape:
    box = marks_box(marks).grown(height * 2)
    return Shape(FRAME, rectangle(*box))
