"""The first pages: how to print true and join the sheets, what every line means, which template is on which page."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from templategen.catalogue import translated, worded
from templategen.drawing.drawing import Drawing
from templategen.drawing.layer import DASHES, INKS, Layer
from templategen.drawing.layers import GRAIN, HIDDEN, THROUGH_OUTSIDE
from templategen.drawing.tag import TAG
from templategen.drawing.template import CENTRE_END, DRILL, SAWN_FIRST, SAWN_LATER, TRACE
from templategen.drawing.template_words import TO_CENTRE
from templategen.drawing.waste import WASTE
from templategen.output.pdf_canvas import GREY, Ink
from templategen.output.pdf_marks import SHADE, draw_marks
from templategen.output.typeset import fitted, text_length, wrapped
from templategen.paper.grid import paper_size
from templategen.table.profile.choices import Units
from templategen.table.profile.model_of_shop import Paper
from templategen.units import in_one_unit

HEAD, BODY, SMALL = 3.5, 2.5, 1.8
"""Capital heights of headings, words and the plan's letters, mm."""

FEED = 1.75
SAMPLE = 22.0
"""Room for the sample of a line, mm."""

WIDEST = 190.0
"""Lines of words are no wider than this on large paper, mm."""

LEAST_PICTURE = 60.0
"""A plan is drawn no smaller than this, mm."""

SMALLER = 85.0
"""Both plans go on with the list's page where each has this, mm; else on a page of their own."""

AROUND = HEAD * FEED * 1.2 + 7.0
"""A plan's heading and the paper round it, mm."""

TOLD = tuple(
    """
Printing
Print 1-test-sheet.pdf first, measure it, and do what it says. Then print this file at 100 %, never fitted to \
the page, on the same paper, on one side.
On every sheet measure both rulers. Where one is off by more than 0.2 mm (1/128 in) in 100 mm (4 in), stop and \
measure the test sheet again.
Joining the sheets
Sheets are named by a letter for the column and a number for the row, A1 at the top left. The small map in the \
foot shows which of them each is.
Cut each sheet along the full line at its right and at its upper edge, marked "cut here". Lay it on its \
neighbour, up to the dashed line there: crosses on each other, two half diamonds of one letter a whole one, the \
slanting line unbroken. Tape it, and measure across the seam before anything is stuck on wood.
Using a template
Cut it out roughly, outside its grey edge, with its tag if it has one. Stick it on the face that it names, its \
grain arrow along the grain, its centre lines on yours. Prick the centres first, then saw to the middle of the \
line.
Mirrored pieces have a template each, left and right: go by the name, and never turn a template over.
""".strip().splitlines()
)
"""A heading has no full stop; each other line is a paragraph."""


@dataclass(frozen=True, slots=True)
class Listed:
    """A template in the list: code, what it is, how many are wanted, on which pages it is."""

    code: str
    name: str
    count: int
    pages: str


@dataclass(frozen=True, slots=True)
class Cover:
    """What the first pages say: the table's title, its templates and `plans`, which makes plans to be shown with a
    given larger side and words of a given height, mm. `later` says that some wood is sawn after gluing, `trace` that
    a pencil's path is drawn."""

    title: str
    templates: tuple[Listed, ...]
    plans: Callable[[float, float], Sequence[Drawing]]
    later: bool
    trace: bool
    units: Units = "mm"


@dataclass(frozen=True, slots=True)
class _Block:
    """Something `height` tall that is drawn from its upper left corner down; `close` to what follows; `kind` and
    `alt` are for whoever hears it."""

    height: float
    draw: Callable[[Ink, float, float], None]
    close: bool = False
    kind: str = "P"
    alt: str = ""


@dataclass(frozen=True, slots=True)
class Front:
    """The first pages, laid out for one paper."""

    width: float
    height: float
    margin: float
    blocks: tuple[tuple[_Block, ...], ...]

    @property
    def pages(self) -> int:
        """How many they are."""
        return len(self.blocks)

    def draw(self, ink: Ink, of: int) -> None:
        """All of them, as the first of so many pages."""
        for number, blocks in enumerate(self.blocks, start=1):
            ink.begin_page((self.width, self.height))
            ink.bookmark(translated("Read this first") + (f", {number}" if number > 1 else ""))
            top = self.height - self.margin
            for block in blocks:
                with ink.tagged(block.kind, block.alt):
                    block.draw(ink, self.margin, top)
                top -= block.height
            ink.pen(0.13)
            ink.text(self.margin, self.margin, worded("{number} of {all}", number=number, all=of), BODY, bold=True)
            ink.end_page()


def front_of(cover: Cover, paper: Paper) -> Front:
    """The first pages on the profile's paper, upright; on a roll as tall as they are wide."""
    across, up = paper_size(paper)
    width, height = (across, across) if up is None else (min(across, up), max(across, up))
    room, full = width - 2 * paper.margin, height - 2 * paper.margin - BODY * FEED
    pages: list[list[_Block]] = [[]]
    wide = min(room, WIDEST)
    left = _lay(pages, list(_blocks(cover, wide)), full, full)
    beside = left / 2 - AROUND
    side = beside if beside >= SMALLER else full / 2 - AROUND
    _lay(pages, list(_plans(cover, wide, max(LEAST_PICTURE, min(wide, side)))), left, full)
    return Front(width, height, paper.margin, tuple(tuple(page) for page in pages))


def _lay(pages: list[list[_Block]], blocks: Sequence[_Block], left: float, full: float) -> float:
    """Adds the blocks to the last page, which has so much room left, and to new ones; the room that is left then."""
    for number, block in enumerate(blocks):
        needed = block.height + (blocks[number + 1].height if block.close and number + 1 < len(blocks) else 0.0)
        if pages[-1] and needed > left:
            pages.append([])
            left = full
        pages[-1].append(block)
        left -= block.height
    return left


def _blocks(cover: Cover, width: float) -> Iterator[_Block]:
    yield _heading(worded("{title}: templates on paper, read this first", title=cover.title), width, 1)
    for told in TOLD:
        told = in_one_unit(translated(told), cover.units)
        yield from _words(told, width) if told.endswith(".") else (_heading(told, width),)
    yield _heading(translated("What the lines and marks mean"), width)
    for layer, meaning in _key(cover):
        yield from _sample(layer, translated(meaning), width)
    yield _heading(translated("The templates: tick each when its sheets are joined and measured"), width)
    yield from (_row(one, width) for one in cover.templates)


def _plans(cover: Cover, width: float, side: float) -> Iterator[_Block]:
    for plan in cover.plans(side, SMALL):
        yield _heading(worded("{title}: codes of the parts, (letters) of the joints", title=plan.title), width)
        yield _picture(plan, side)


def _heading(words: str, width: float, level: int = 2) -> _Block:
    def draw(ink: Ink, left: float, top: float) -> None:
        ink.pen(0.18)
        ink.text(left, top - HEAD * 1.5, fitted(words, HEAD, width, bold=True), HEAD, bold=True)

    return _Block(HEAD * FEED * 1.2, draw, close=True, kind=f"H{level}")


def _words(words: str, width: float, indent: float = 0.0) -> Iterator[_Block]:
    for line in wrapped(words, BODY, width - indent):

        def draw(ink: Ink, left: float, top: float, line: str = line) -> None:
            ink.pen(0.18)
            ink.text(left + indent, top - BODY * 1.25, line, BODY)

        yield _Block(BODY * FEED, draw)


def _key(cover: Cover) -> Iterator[tuple[Layer, str]]:
    """Every kind of line on the templates, and what it says."""
    yield THROUGH_OUTSIDE, "saw to the middle of this line; the wood lies on the side that isn't grey"
    if cover.later:
        yield SAWN_FIRST, '"1 saw first": the blank of a ring\'s segment, sawn before it is glued'
        yield SAWN_LATER, '"2 after gluing": sawn when the ring is glued and dry, never before'
    yield SHADED, "grey band: waste beside the line"
    yield WASTE, "hatched: waste inside a joint; its letter is explained inside the template, with its depth"
    yield WORK, "thin, full, dotted or with dots: edges of work on the face that is up, each with its letter"
    yield (
        HIDDEN,
        'thin and dashed: work on the other side or an edge, marked "other side"; don\'t cut it from this face',
    )
    yield CENTRE_END, "short, over the edge: the end of a centre line"
    yield DRILL, "ring and cross: prick here, the middle of a mortise or a hole"
    if cover.trace:
        yield TRACE, "thin line outside: the path of a pencil or a bearing; don't saw to it"
    yield GRAIN, "arrow with two heads: the grain"
    yield TO_CENTRE, "arrow with one head: towards the table's centre"
    yield TAG, "frame on the waste: speaks of the part its line leads to; cut it out with the template"
    yield CUT_HERE, "full, on a sheet's right or upper edge: cut the sheet here"
    yield LAY_HERE, "dashed, beside short strokes: the other sheet lies up to this line"


SHADED = Layer("SHADED", "waste")
WORK = Layer("WORK", "work", "blue", weight=0.25)
CUT_HERE = Layer("CUT_HERE", "cut")
LAY_HERE = Layer("LAY_HERE", "lay", line_type="dashed", weight=0.13)


def _sample(layer: Layer, words: str, width: float) -> Iterator[_Block]:
    """A line as it is drawn, and its words."""
    first, *rest = _words(words, width, SAMPLE)

    def draw(ink: Ink, left: float, top: float) -> None:
        _line(ink, layer, left, top - BODY * 0.75)
        first.draw(ink, left, top)

    yield replace(first, draw=draw)
    yield from rest


def _line(ink: Ink, layer: Layer, x: float, y: float) -> None:
    end = x + SAMPLE - 4
    ink.pen(layer.weight, INKS[layer.colour], [share * layer.weight for share in DASHES[layer.line_type]])
    if layer in (CUT_HERE, LAY_HERE):
        ink.pen(layer.weight, GREY, () if layer is CUT_HERE else (1.5, 1.0))
    if layer is SHADED:
        ink.pen(2.0, SHADE)
    if layer is WASTE:
        ink.lines((x + 3 * i, y - 1.2, x + 3 * i + 2.4, y + 1.2) for i in range(6))
        return
    if layer is DRILL:
        ink.lines(((x + 4, y, x + 9, y), (x + 6.5, y - 1.6, x + 6.5, y + 1.6)))
        ink.canvas.circle(x + 6.5, y, 1.0, stroke=1, fill=0)
        return
    if layer is TAG:
        ink.rectangle(x, y - 1.3, 9.0, 2.6)
        ink.line(x + 9, y, end, y)
        return
    ink.line(x, y, end, y)
    if layer in (GRAIN, TO_CENTRE):
        ink.lines((end, y, end - 2, y + side) for side in (-0.8, 0.8))
    if layer is GRAIN:
        ink.lines((x, y, x + 2, y + side) for side in (-0.8, 0.8))


def _row(one: Listed, width: float) -> _Block:
    """A box to tick, the code, how many, the pages, the name."""

    def draw(ink: Ink, left: float, top: float) -> None:
        ink.pen(0.18)
        low = top - BODY * 1.4
        ink.rectangle(left, low, BODY * 1.1, BODY * 1.1)
        name = worded("{code}, {count} wanted: ", code=one.code, count=one.count)
        x = left + BODY * 2
        ink.text(x, low, name, BODY, bold=True)
        x += text_length(name, BODY, bold=True) + 1
        words = f"{one.pages} · {one.name}"
        ink.text(x, low, fitted(words, BODY, left + width - x), BODY)

    return _Block(BODY * FEED * 1.1, draw)


def _picture(plan: Drawing, side: float) -> _Block:
    box = plan.bounds
    share = side / max(box.width, box.height)

    def draw(ink: Ink, left: float, top: float) -> None:
        ink.canvas.saveState()
        ink.canvas.translate(left - box.left * share, top - 2 - box.top * share)
        ink.canvas.scale(share, share)
        draw_marks(ink, (_thin(plan, share)).marks)
        ink.canvas.restoreState()

    alt = worded("{title}, with the codes of the parts and the letters of the joints", title=plan.title)
    return _Block(box.height * share + 6, draw, kind="Figure", alt=alt)


def _thin(plan: Drawing, share: float) -> Drawing:
    """The plan with lines that are thin when it is shown at its share."""
    marks = (replace(mark, layer=replace(mark.layer, weight=0.5 * mark.layer.weight / share)) for mark in plan.marks)
    return Drawing(plan.title, tuple(marks))
