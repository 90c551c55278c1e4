"""The sheet of one part: every worked face as a view of its own, true size, with what the maker must know."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import inf

from templategen.catalogue import figured, translated, worded
from templategen.drawing.callout import led_out
from templategen.drawing.cautions import cautions
from templategen.drawing.dimension import overall, running
from templategen.drawing.drawing import Drawing, Mark, Shape, Words, edges_of, marks_box, words_of
from templategen.drawing.joint_letters import Pointed, pointing
from templategen.drawing.layers import DIMENSION, FRAME, SIZE_CHECK, TEXT, VIEW_TITLE
from templategen.drawing.leaders import runs_through
from templategen.drawing.lettering import LINE_FEED, height_for
from templategen.drawing.manner import Manner
from templategen.drawing.move import moved
from templategen.drawing.title_block import Around, boxed, header, scale_bar
from templategen.drawing.view import SMALLEST, View, blank_view, bottom_view, side_view, top_view
from templategen.geometry.bounds import Bounds
from templategen.geometry.coincide import differs
from templategen.geometry.edge import Line
from templategen.geometry.outline import circle, rectangle
from templategen.geometry.overrun import OVERRUN
from templategen.geometry.point import Point
from templategen.kept.keep import kept
from templategen.parts.part import Part
from templategen.table.profile.choices import Units

CHECK_SIDE = 100.0
"""The square that shows whether a file or print is true to size, mm."""

SCREEN_LETTERS = 42.0
"""A view on a screen is so many capital heights long."""

LEAST_ON_SCREEN = 2.5
"""Smallest capital height of such a view, mm of the part."""

DATUM = 0.4
"""Radius of the ring round the corner that sizes count from, in capital heights."""

ALONE = Around()

NARROWEST_ROW = 320.0
"""Views go side by side while they fit in the width of the top view or in this, mm."""


def part_drawing(
    part: Part,
    title: str,
    revision: str = "",
    by: float = OVERRUN,
    units: Units = "mm",
    relief: str = "none",
    layers: Units = "mm",
    around: Around = ALONE,
) -> Drawing:
    """The sheet. The top view stands at the part's own coordinates, so its outline is the part's outline.

    `by` is how far open pockets run past the wood, half a cutter's diameter, mm; `units` is what the
    figures are in; `relief` is how inside corners are cleared ("none", "corner" or "edge"); `layers` are the
    units of the file, in which its layers tell depths; `around` is what is told of the table.
    """
    box = part.outline.bounds
    manner = Manner(height_for(max(box.width, box.height)), by, units, relief, layers)
    top, *others = _views(part, manner)
    first = block(top, manner, around.pointed)
    marks = [*first, *flow([block(view, manner) for view in others], marks_box(first), manner.height)]
    lines = header(part, title, revision, manner, around.tolerances, translated("True size"))
    marks = boxed(marks, lines, manner.height)
    square = size_check(marks_box(marks), manner.height)
    under = marks_box(square)
    bar = Point(under.left, under.bottom - manner.height * 4)
    marks += [*square, *scale_bar(bar, units, min(manner.height, 7.0), worded("scale {scale}", scale="1:1"))]
    marks = [*footed(marks, cautions(part, around.machines), manner.height)]
    return Drawing(f"{title} {part.code}".strip(), (*marks, _frame(marks, manner.height)))


@dataclass(frozen=True, slots=True)
class FaceView:
    """One view of a part for a screen: the drawing with its sizes, what it is called and what is to know, as text."""

    drawing: Drawing
    title: str
    notes: tuple[str, ...]


@kept
def face_views(
    part: Part,
    by: float = OVERRUN,
    units: Units = "mm",
    layers: Units = "mm",
    pointed: tuple[Pointed, ...] = (),
) -> tuple[FaceView, ...]:
    """The part's views, each a drawing of its own, lettered by its own size for a screen; the first has the joints
    that are `pointed` at."""
    views = []
    for number, (box, make) in enumerate(makers(part)):
        manner = Manner(max(LEAST_ON_SCREEN, max(box.width, box.height) / SCREEN_LETTERS), by, units, layers=layers)
        views.append(_face_view(part, make(manner), manner, () if number else pointed))
    return tuple(views)


def _face_view(part: Part, view: View, manner: Manner, pointed: Sequence[Pointed]) -> FaceView:
    least = manner.height * SMALLEST
    sized = _sized(view, manner, pointed)
    marks = tuple(replace(enlarged(mark, least), part=part.code) for mark in sized)
    return FaceView(Drawing(f"{part.code}: {view.title}", marks), view.title, view.notes)


def enlarged(mark: Mark, least: float) -> Mark:
    """Words that are at least so tall; they grow about their middle."""
    if not isinstance(mark, Words) or mark.height >= least:
        return mark
    up = Point(0.0, (mark.height - least) / 2).turned(mark.turn)
    return replace(mark, at=mark.at.plus(up), height=least)


def _views(part: Part, manner: Manner) -> Iterable[View]:
    for _, make in makers(part):
        yield make(manner)


def makers(part: Part) -> Iterator[tuple[Bounds, Callable[[Manner], View]]]:
    """For each view the part needs, how large it is and what makes it."""
    worked = {face.name: face for face in part.worked_faces}
    yield part.outline.bounds, partial(top_view, part)
    if "bottom" in worked:
        yield part.outline.bounds, partial(bottom_view, part)
    if differs(part.blank, part.outline):
        yield part.blank.bounds, partial(blank_view, part)
    for name in sorted((name for name in worked if name not in ("top", "bottom")), key=_edge_before_end):
        yield worked[name].outline.bounds, partial(side_view, part, worked[name])


def _edge_before_end(name: str) -> tuple[str, int, str]:
    kind, _, number = name.partition("-")
    return kind, int(number) if number.isdecimal() else 0, name


def _sized(view: View, manner: Manner, pointed: Sequence[Pointed], widest: float = inf) -> tuple[Mark, ...]:
    """A view with its sizes below and to the left, its joint letters, and what is led out of it clear of all that."""
    wood, height, by = view.wood.bounds, manner.height, manner.overrun
    run = running(wood, view.stops, manner, by + height * 2)
    deep = max(wood.bottom - marks_box((*run, *view.marks)).bottom, by + height)
    corner = Shape(DIMENSION, circle(wood.left, wood.bottom, height * DATUM))
    beside = _beside_rays(view.marks, run, wood, height)
    marks = *beside, *run, *overall(wood, manner, deep + height * 2.5, by + height * 4), corner
    marks = *marks, *pointing(pointed, view.wood, marks, height)
    return *marks, *led_out(view.led, marks, height, widest)


def _beside_rays(marks: Sequence[Mark], run: Sequence[Mark], wood: Bounds, height: float) -> Iterator[Mark]:
    """The marks, of which level words under the wood step aside, along it, to a place clear of running sizes."""
    rays = [edge for edge in edges_of(run) if isinstance(edge, Line)]
    told = [words for words in words_of(marks) if words.turn == 0.0]
    steps = sorted(range(-round(wood.width / height), round(wood.width / height)), key=abs)
    for mark in marks:
        if not isinstance(mark, Words) or mark not in told or mark.box.top > wood.bottom:
            yield mark
            continue
        others = [words.box for words in told if words is not mark]
        ways = (replace(mark, at=mark.at.plus(Point(step * height / 2, 0.0))) for step in steps)
        clear = (
            way
            for way in ways
            if wood.left < way.box.left and way.box.right < wood.right and _is_clear(way, rays, others)
        )
        yield next(clear, mark)


def _is_clear(words: Words, rays: Sequence[Line], others: Sequence[Bounds]) -> bool:
    """Whether no line comes within a good half of a letter, and no other words as near."""
    box = words.box.grown(words.height * 0.6)
    return not any(runs_through(ray.start, ray.end, box) for ray in rays) and not any(map(box.meets, others))


def block(view: View, manner: Manner, pointed: Sequence[Pointed] = (), widest: float = inf) -> tuple[Mark, ...]:
    """A view with its sizes, its joint letters, its title and notes above; what is led out makes it no wider than
    `widest` where there is room elsewhere."""
    height, sized = manner.height, _sized(view, manner, pointed, widest)
    box = marks_box(sized)
    lines = [(VIEW_TITLE, view.title), *((TEXT, note) for note in view.notes)]
    words = []
    for i, (layer, text) in enumerate(reversed(lines)):
        at = Point(box.left if widest < inf else view.wood.bounds.left, box.top + height * (1.2 + i * LINE_FEED))
        words.append(Words(layer, at, height, text))
    return *sized, *reversed(words)


def flow(
    blocks: Sequence[tuple[Mark, ...]], above: Bounds, height: float, width: float = NARROWEST_ROW
) -> list[Mark]:
    """The blocks in rows under what stands above, left sides in line, as far as that or `width` reaches."""
    gap = height * 4
    width = max(above.width, width)
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


def footed(marks: Sequence[Mark], lines: Iterable[str], height: float, title: str = "Take care") -> tuple[Mark, ...]:
    """The lines under everything drawn, told apart by a title of their own."""
    box = marks_box(marks)
    words = (
        Words(TEXT, Point(box.left, box.bottom - height * (4 + i * LINE_FEED)), height, line)
        for i, line in enumerate(map(translated, (title, *lines)))
    )
    return *marks, *words


def size_check(box: Bounds, height: float) -> tuple[Mark, ...]:
    """The test square to the right of what is drawn, with its words inside."""
    left, low = box.right + height * 4, box.top - CHECK_SIDE
    middle = Point(left + CHECK_SIDE / 2, low + CHECK_SIDE / 2)
    square = Shape(SIZE_CHECK, rectangle(left, low, left + CHECK_SIDE, low + CHECK_SIDE))
    small = min(height, 7.0)
    lines = (*map(translated, ("this square", "measures 100 mm")), figured("(3.937 in)"))
    feed = small * LINE_FEED
    words = (
        Words(SIZE_CHECK, Point(middle.x, middle.y + (0.6 - i) * feed), small, line, "middle")
        for i, line in enumerate(lines)
    )
    return square, *words


def _frame(marks: list[Mark], height: float) -> Shape:
    box = marks_box(marks).grown(height * 2)
    return Shape(FRAME, rectangle(*box))
