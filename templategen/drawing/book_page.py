"""A part's sheet as a page of the book: all of it on one sheet of paper, at the largest scale that takes it."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from textwrap import wrap

from templategen.catalogue import translated
from templategen.drawing.cautions import cautions
from templategen.drawing.drawing import Mark, marks_box
from templategen.drawing.lettering import WIDTH_OF_LETTER
from templategen.drawing.manner import Manner
from templategen.drawing.part_sheet import block, flow, footed, makers
from templategen.drawing.title_block import Around, boxed, header, scale_bar
from templategen.drawing.view import View
from templategen.geometry.coincide import differs
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.parts.part import Part
from templategen.table.profile.choices import Units
from templategen.units import trimmed

SCALES: Mapping[Units, tuple[float, ...]] = {
    "mm": (1, 2, 2.5, 4, 5, 8, 10, 15, 20, 30, 50), "in": (1, 2, 3, 4, 6, 8, 12, 16, 24, 48),
}  # fmt: skip
"""How many times smaller than the wood a page may be drawn, the largest scale first."""

LETTERS = 1.8
"""Capital height on paper, mm: the least of ISO 3098, which a printer still prints well."""

MOST_IN_A_ROW = 3
"""So many views stand in a row at most."""

CLOSER = 0.5
"""Views stand so much closer than on the sheets full size."""

MARGIN = 8
"""So many letters of the width are left beside lines of words, which stand in from the left."""


@dataclass(frozen=True, slots=True)
class BookPage:
    """A page of one part: `marks` in mm of wood, `times` as large as on paper, which `scale` tells; `bar` about its
    own left end."""

    part: Part
    marks: tuple[Mark, ...]
    times: float
    scale: str
    bar: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """What a page says besides its part: the table's title, the part's revision, what is told of the table."""

    title: str
    revision: str
    units: Units
    around: Around


def book_page(part: Part, told: Told, room: tuple[float, float]) -> BookPage:
    """The page; `room` is the width and height of paper that it may take, mm. The smallest scale takes any part."""
    scales, bare = SCALES[told.units], replace(told, around=replace(told.around, pointed=()))
    wood, words = sum(box.height for box, _ in makers(part)), 0.0
    for times in scales:
        size = room[0] * times, room[1] * times
        if times != scales[-1]:
            if not _may_fit(part, size) or words + wood / times > room[1]:
                continue
            box = marks_box(_page(part, bare, times, size[0], False))
            if box.width > size[0] or box.height > size[1]:
                words = (box.height - wood) / times
                continue
        marks = tuple(_page(part, told, times, size[0]))
        box = marks_box(marks)
        if box.width <= size[0] and box.height <= size[1]:
            break
    bar = scale_bar(Point(0, 0), told.units, LETTERS * times, f"scale {_scale(times)}", round(times / 2) or 0.5)
    return BookPage(part, marks, times, _scale(times), bar)


def _may_fit(part: Part, size: tuple[float, float]) -> bool:
    """Whether it is worth drawing: its wood alone fits."""
    boxes = [box for box, _ in makers(part)]
    return (
        max(box.width for box in boxes) < size[0] and sum(box.width * box.height for box in boxes) < size[0] * size[1]
    )


def _page(part: Part, told: Told, times: float, width: float, whole: bool = True) -> Iterator[Mark]:
    """All marks, notes in lines no longer than the page is wide; without what is led out where not `whole`."""
    manner = Manner(LETTERS * times, units=told.units)
    height, most = manner.height, int(width / (LETTERS * times * WIDTH_OF_LETTER)) - MARGIN
    views = [view for view in (make(manner) for _, make in makers(part)) if not _is_plain_blank(part, view)]
    top, *others = (
        _with_notes_within(view, most // (_in_a_row(view, width, height) if i else 1), height, whole)
        for i, view in enumerate(views)
    )
    first = block(top, manner, told.around.pointed)
    marks = [*first, *flow([block(view, manner) for view in others], marks_box(first), height * CLOSER, width * 0.98)]
    scale = f"Scale {_scale(times)}"
    words = header(part, told.title, told.revision, manner, told.around.tolerances, scale)
    marks = boxed(marks, _lines(words, most + MARGIN // 2), height)
    yield from footed(marks, _lines([" ".join(map(translated, cautions(part)))], most), height)


def _in_a_row(view: View, width: float, height: float) -> int:
    """How many such views stand in a row."""
    return max(1, min(MOST_IN_A_ROW, int(width / (view.wood.bounds.width + 14 * height))))


def _with_notes_within(view: View, least: int, height: float, whole: bool) -> View:
    """The view, its notes without layers, in lines as wide as itself or of so many letters."""
    most = max(least - MARGIN, int(view.wood.bounds.width / (height * WIDTH_OF_LETTER)))
    return replace(
        view, led=view.led if whole else (), notes=_lines((note.partition(" [")[0] for note in view.notes), most)
    )


def _is_plain_blank(part: Part, view: View) -> bool:
    """Whether a view is of a square blank, whose size stands in the title block."""
    box = part.blank.bounds
    return view.title == "blank" and not differs(part.blank, rectangle(*box))


def _lines(texts: Iterable[str], most: int) -> tuple[str, ...]:
    return tuple(line for text in texts for line in wrap(text, most, subsequent_indent="   "))


def _scale(times: float) -> str:
    return f"1:{trimmed(times, 1)}"
