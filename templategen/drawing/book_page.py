"""A part's sheet as a page of the book: all of it on one sheet of paper, at the largest scale that takes it."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

from templategen.catalogue import figured, translated, worded
from templategen.drawing.cautions import cautions
from templategen.drawing.drawing import Mark, marks_box
from templategen.drawing.joint_letters import Pointed
from templategen.drawing.lettering import LINE_FEED, WIDTH_OF_LETTER, in_lines
from templategen.drawing.manner import Manner
from templategen.drawing.part_sheet import block, flow, footed, makers
from templategen.drawing.title_block import Around, boxed, header, scale_bar
from templategen.drawing.view import View
from templategen.geometry.bounds import Bounds
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

COLUMNS = (3, 2, 1)
"""So many views stand in a row at most, as is tried: the fewer, the longer are the lines of their notes."""

CLOSER = 0.5
"""Views stand so much closer than on the sheets full size."""

ACROSS = 0.98
"""So much of a page's width views take at most."""

BETWEEN = 8.0
"""Capital heights that stand empty between title block, views and cautions, at the least."""

SAME = 0.01
"""What agrees to so much is drawn once, mm."""

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
    lying: bool = False
    """Whether the paper lies on its long side."""


@dataclass(frozen=True, slots=True)
class Told:
    """What a page says besides its part: the table's title, the part's revision, what is told of the table."""

    title: str
    revision: str
    units: Units
    around: Around


def book_page(part: Part, told: Told, rooms: Sequence[tuple[float, float]]) -> BookPage:
    """The page; `rooms` are the width and height that it may take of upright paper and of paper that lies, mm: it
    lies where that takes a larger scale. The smallest scale takes any part."""
    scales = SCALES[told.units]
    largest = next((times for times in scales if any(_may_fit(part, own, times) for own in rooms)), scales[-1])
    manner = Manner(LETTERS * largest, units=told.units)
    views = _views(part, manner)
    shapes = [_shape(view, manner, () if i else told.around.pointed) for i, view in enumerate(views)]
    for times, (width, high) in product(scales[scales.index(largest) :], rooms):
        columns = next((most for most in COLUMNS if _goes_on(shapes, part, told, times, (width, high), most)), 0)
        if times != scales[-1] and not columns:
            continue
        drawn = views if times == largest else _views(part, Manner(LETTERS * times, units=told.units))
        marks = tuple(_page(part, drawn, told, times, width * times, columns or COLUMNS[0]))
        box = marks_box(marks)
        if box.width <= width * times and box.height <= high * times:
            break
    bar = scale_bar(
        Point(0, 0),
        told.units,
        LETTERS * times,
        worded("scale {scale}", scale=_scale(times)),
        round(times / 2) or 0.5,
    )
    return BookPage(part, marks, times, _scale(times), bar, (width, high) != rooms[0])


def _may_fit(part: Part, room: tuple[float, float], times: float) -> bool:
    """Whether it is worth drawing: its wood alone fits."""
    boxes = [box for box, _ in makers(part)]
    area = sum(box.width * box.height for box in boxes)
    return max(box.width for box in boxes) < room[0] * times and area < room[0] * room[1] * times**2


@dataclass(frozen=True, slots=True)
class _Shape:
    """A view as a page has to find room for it: what stands beside its wood and above and below it, in capital
    heights."""

    view: View
    beside: float
    over: float

    def size(self, height: float, width: float, columns: int) -> tuple[float, float]:
        """Its width and height, lettered at a height on a page so wide, at most so many in a row."""
        lines = len(_with_notes_within(self.view, height, width, columns).notes)
        wood = self.view.wood.bounds
        return wood.width + self.beside * height, wood.height + (self.over + lines * LINE_FEED) * height


def _shape(view: View, manner: Manner, pointed: Sequence[Pointed]) -> _Shape:
    """Of a view drawn once, without what is led out, which is what costs."""
    box, wood = marks_box(block(replace(view, led=(), notes=()), manner, pointed)), view.wood.bounds
    return _Shape(view, (box.width - wood.width) / manner.height, (box.height - wood.height) / manner.height)


def _goes_on(
    shapes: Sequence[_Shape], part: Part, told: Told, times: float, room: tuple[float, float], columns: int
) -> bool:
    """Whether the views go on a page, by their sizes alone, in rows as `flow` has them."""
    height, width = LETTERS * times, room[0] * times
    gap = height * 4 * CLOSER
    x = top = low = 0.0
    for wide, high in (shape.size(height, width, columns) for shape in shapes):
        if x and x + wide > width * ACROSS:
            x, top = 0.0, low + gap
        x, low = x + wide + gap, max(low, top + high)
        if wide > width:
            return False
    lines = len(_headed(part, told, times, width)) + len(_care(part, told, width, height))
    return low + (lines * LINE_FEED + BETWEEN) * height <= room[1] * times


def _views(part: Part, manner: Manner) -> list[View]:
    """The views of the page; of faces that look alike, or alike in a mirror, the first alone."""
    told: list[View] = []
    for view in (make(manner) for _, make in makers(part)):
        alike = ((i, _likeness(one, view)) for i, one in enumerate(told) if _plain(one) == _plain(view) != [])
        i, like = next((pair for pair in alike if pair[1]), (0, ""))
        if like:
            told[i] = replace(told[i], title=f"{told[i].title}; {view.title} {like}")
        elif not _is_plain_blank(part, view):
            told.append(view)
    return told


def _likeness(one: View, other: View) -> str:
    """Whether what is drawn on one face is drawn on the other: by the corners of its work from the lower left."""
    box, far = one.wood.bounds, other.wood.bounds
    if abs(box.width - far.width) > SAME or abs(box.height - far.height) > SAME:
        return ""
    own, ways = _corners(one, False), ((translated("the same"), False), (translated("mirrored"), True))
    return next((says for says, over in ways if _agree(own, _corners(other, over))), "")


def _corners(view: View, mirrored: bool) -> list[Point]:
    """The corners from the lower left, or in a mirror."""
    box = view.wood.bounds
    return [Point(box.right - at.x if mirrored else at.x - box.left, at.y - box.bottom) for at in view.stops]


def _agree(own: Sequence[Point], others: Sequence[Point]) -> bool:
    """Whether each has one of the others where it is, and the other way round."""
    pairs = ((own, others), (others, own))
    return all(any(one.distance(far) < SAME for far in there) for here, there in pairs for one in here)


def _page(part: Part, views: Sequence[View], told: Told, times: float, width: float, columns: int) -> Iterator[Mark]:
    """All marks, notes in lines no longer than the page is wide."""
    manner = Manner(LETTERS * times, units=told.units)
    height = manner.height
    within = [_with_notes_within(view, height, width, columns) for view in views]
    blocks = [block(view, manner, () if i else told.around.pointed, width * ACROSS) for i, view in enumerate(within)]
    marks = flow(blocks, Bounds(0.0, 0.0, 0.0, 0.0), height * CLOSER, width * ACROSS)
    yield from footed(
        boxed(marks, _headed(part, told, times, width), height), _care(part, told, width, height), height
    )


def _headed(part: Part, told: Told, times: float, width: float) -> tuple[str, ...]:
    """The title block's lines."""
    manner = Manner(LETTERS * times, units=told.units)
    words = header(
        part, told.title, told.revision, manner, told.around.tolerances, worded("Scale {scale}", scale=_scale(times))
    )
    return _lines(words, _most(width, manner.height) + MARGIN // 2)


def _care(part: Part, told: Told, width: float, height: float) -> tuple[str, ...]:
    """The cautions, as they stand at the foot."""
    return _lines([" ".join(map(translated, cautions(part, told.around.machines)))], _most(width, height))


def _most(width: float, height: float) -> int:
    """So many letters go on a line."""
    return int(width / (height * WIDTH_OF_LETTER)) - MARGIN


def _in_a_row(view: View, width: float, height: float, columns: int) -> int:
    """How many such views stand in a row."""
    return max(1, min(columns, int(width / (view.wood.bounds.width + 14 * height))))


def _with_notes_within(view: View, height: float, width: float, columns: int) -> View:
    """The view, its notes without layers, in lines as wide as itself or as its share of a page so wide."""
    least = _most(width, height) // _in_a_row(view, width, height, columns)
    most = max(least - MARGIN, int(view.wood.bounds.width / (height * WIDTH_OF_LETTER)))
    return replace(view, notes=_lines(_plain(view), most))


def _plain(view: View) -> list[str]:
    """Its notes without layers."""
    return [note.partition(" [")[0] for note in view.notes]


def _is_plain_blank(part: Part, view: View) -> bool:
    """Whether a view is of a square blank, whose size stands in the title block."""
    box = part.blank.bounds
    return view.title == translated("blank") and not differs(part.blank, rectangle(*box))


def _lines(texts: Iterable[str], most: int) -> tuple[str, ...]:
    return tuple(line for text in texts for line in in_lines(text, most, "   "))


def _scale(times: float) -> str:
    return f"1:{figured(trimmed(times, 1))}"
