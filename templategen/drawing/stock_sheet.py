"""The sheet of one piece of stock: where each part lies on the board."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import floor, pi

from templategen.catalogue import meant, translated, worded
from templategen.drawing.callout import Callout, led_out
from templategen.drawing.cautions import ALL, ROUTING, sawing
from templategen.drawing.dimension import cross, grain_arrow, overall
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words, marks_box
from templategen.drawing.layer import Layer
from templategen.drawing.layers import (
    BLANK_OUTLINE,
    CUT_NUMBER,
    FAULT,
    FRAME,
    GRAIN,
    OFFCUT,
    SAW_CUT,
    STOCK_OUTLINE,
    TEXT,
    TRIM_MARGIN,
    VIEW_TITLE,
)
from templategen.drawing.lettering import HEIGHTS, LINE_FEED, height_for, in_lines, text_width
from templategen.drawing.manner import Manner
from templategen.drawing.part_sheet import footed, size_check
from templategen.drawing.roomy import cells, clear_run, roomiest
from templategen.drawing.routed_notes import routed_notes
from templategen.drawing.routed_sheet import underside_marks, upper_marks
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline, circle, distance_to, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.geometry.tolerance import MET, SHORTEST_EDGE
from templategen.nesting.stock import Cut, Item, Piece, Rectangle, Sheet
from templategen.router.sheet import SheetWork, turned
from templategen.table.profile.choices import HandTool, Machine, Units
from templategen.units import MM_PER_INCH, in_one_unit

ALONG = Point(1.0, 0.0)
UP = Point(0.0, 1.0)

NUMBERS = 0.7
"""Capital height of the cuts' numbers, as a share of the others'."""

EIGHTHS = 8
"""Parts of an inch to which offcuts are told."""


def stock_drawing(
    sheet: Sheet,
    items: Mapping[str, Item],
    title: str,
    units: Units = "mm",
    cuts: Sequence[Cut] = (),
    offcuts: Sequence[Rectangle] = (),
    routed: SheetWork | None = None,
    underside: bool = False,
    layers: Units = "mm",
    told: Sequence[str] = (),
    machines: Sequence[Machine] = ALL,
    hand_tools: Sequence[HandTool] = (),
) -> Drawing:
    """The sheet, in the frame of the board: lower left corner at the origin, grain along x.

    `cuts` are drawn along the middle of their kerfs, each with its number, what is `told` of them stands below;
    `offcuts` are worth keeping. Of a `routed` sheet this is the clamping in which the parts are freed, or the one
    before it with the `underside` up.
    """
    piece = turned_piece(sheet.piece) if underside else sheet.piece
    height = height_for(max(piece.length, piece.width))
    manner = Manner(height, units=units, layers=layers, by_machine=routed is not None)
    board = rectangle(0, 0, piece.length, piece.width)
    marks: list[Mark] = [Shape(STOCK_OUTLINE, board), *margin_of(piece), *faults_of(piece, height)]
    over = turned(piece.width) if underside else Placement()
    rings = [over.outline(laid.placement.outline(items[laid.code].outline)) for laid in sheet.laid]
    if routed:
        marks += underside_marks(routed, rings, manner) if underside else upper_marks(routed, manner)
    lines = [(edge.bounds, edge) for mark in marks for edge in mark.edges] if routed else []
    for laid, ring in zip(sheet.laid, rings, strict=True):
        marks += [] if routed else [Shape(BLANK_OUTLINE, ring)]
        marks.append(_named(laid.code, ring, height, lines))
    told = tuple(routed_notes(routed, underside, manner, piece.grain)) if routed else told
    cuts = [cut for cut in cuts if cut.start.distance(cut.end) > SHORTEST_EDGE]
    marks += (Stroke(SAW_CUT, Line(cut.start, cut.end)) for cut in cuts)
    marks += () if underside else _offcuts(offcuts, manner)
    marks += led_out([_numbered(cut, height) for cut in cuts], marks, height * NUMBERS, layer=CUT_NUMBER)
    marks += overall(board.bounds, manner, height * 3, height * 3)
    marks += _grain(piece, height)
    marks += _title(sheet, items, title, manner)
    marks += size_check(marks_box(marks), height)
    told_of = footed(marks, told, height, "On the machine" if routed else "Cuts") if told else marks
    marks = [
        *footed(
            told_of,
            ROUTING if routed else [in_one_unit(translated(line), units) for line in sawing(machines, hand_tools)],
            height,
        )
    ]
    frame = Shape(FRAME, rectangle(*marks_box(marks).grown(height * 2)))
    return Drawing(f"{title} {piece.name} {sheet.number}".strip(), (*marks, frame))


def turned_piece(piece: Piece) -> Piece:
    """The piece as it is seen turned over about its middle line along x."""
    left, right, bottom, top = piece.margins
    knots = tuple((x, piece.width - y, across) for x, y, across in piece.defects)
    areas = tuple((x, piece.width - y - wide, long, wide) for x, y, long, wide in piece.defect_areas)
    return replace(piece, margin=(left, right, top, bottom), defects=knots, defect_areas=areas)


def margin_of(piece: Piece) -> Iterator[Mark]:
    """What is trimmed off."""
    left, right, bottom, top = piece.margins
    across, up = piece.length - right, piece.width - top
    if any(piece.margins) and left < across and bottom < up:
        yield Shape(TRIM_MARGIN, rectangle(left, bottom, across, up))


def faults_of(piece: Piece, height: float) -> Iterator[Mark]:
    """Knots, bad areas and bad ends, lettered by `height`."""
    for x, y, diameter in piece.defects:
        if diameter > 0:
            yield Shape(FAULT, circle(x, y, diameter / 2))
            yield from cross(Point(x, y), diameter / 2, 0.7853981633974483, FAULT)
            yield Words(FAULT, Point(x, y + diameter / 2 + height * 0.4), height * 0.7, translated("knot"), "middle")

    for x, y, length, width in piece.defect_areas:
        area = rectangle(x, y, x + length, y + width)
        yield Shape(FAULT, area)
        yield Stroke(FAULT, Line(Point(x, y), Point(x + length, y + width)))
        yield Words(
            FAULT, Point(x + length / 2, y + width + height * 0.4), height * 0.7, translated("fault"), "middle"
        )
    left, right = piece.bad_ends
    for x in ([left] if left > 0 else []) + ([piece.length - right] if right > 0 else []):
        yield Stroke(FAULT, Line(Point(x, 0), Point(x, piece.width)))


def _numbered(cut: Cut, height: float) -> Callout:
    """The number of a cut, to be led out of its middle, a rip's out of its beginning."""
    along = cut.end.minus(cut.start)
    share = min(0.5, height * 2 / along.length) if cut.kind == "rip" else 0.5
    return Callout(cut.start.plus(along, share), along.unit.left, (str(cut.number),))


OFFCUT_TOLD = "offcut {number}: {size}"
"""As lists name it."""


def _offcuts(offcuts: Sequence[Rectangle], manner: Manner) -> Iterator[Mark]:
    for number, (x, y, length, width) in enumerate(offcuts, 1):
        area = rectangle(x, y, x + length, y + width)
        told = worded(OFFCUT_TOLD, number=number, size=about(length, width, manner))
        yield Shape(OFFCUT, area)
        yield _fitted(OFFCUT, told, [area.bounds.centre], area, manner.height, (), ALONG if length >= width else UP)


def about(length: float, width: float, manner: Manner) -> str:
    """The sizes of an offcut, each to the next smaller millimetre or eighth of an inch."""
    step = float(MM_PER_INCH) / EIGHTHS if manner.units == "in" else 1.0
    return " x ".join(manner.figure(floor(size / step + MET) * step) for size in (length, width))


def _named(code: str, outline: Outline, height: float, drawn: Sequence[tuple[Bounds, Edge]]) -> Words:
    """A part's code where that is clear of its outline and of what is drawn in it, level or upright."""
    around = outline.bounds
    lines = [edge for box, edge in drawn if box.meets(around)]
    at, _ = roomiest(outline, lines)
    return _fitted(TEXT, code, [at, *cells(outline)], outline, height, lines, ALONG)


def _fitted(
    layer: Layer,
    told: str,
    places: Sequence[Point],
    outline: Outline,
    height: float,
    lines: Sequence[Edge],
    last: Point,
) -> Words:
    """Words at the first of the places where they are clear of lines, as large as they can be there up to `height`,
    level or upright; small along `last`, at the first place, where none is clear."""
    sizes = [size for size in reversed(HEIGHTS) if size <= height]
    every = (*outline.edges, *lines)
    for at, size in ((at, size) for at in places for size in sizes):
        if any(distance_to(line, at) < size for line in every):
            continue
        half = text_width(told, size) / 2
        for along in (ALONG, UP):
            if clear_run(at, along, outline, lines, size * 0.6, half + size) >= half:
                return _centred(layer, told, at, size, along)
    return _centred(layer, told, places[0], HEIGHTS[0], last)


def _centred(layer: Layer, told: str, at: Point, size: float, along: Point) -> Words:
    """Words read along that way, the middle of their capitals at the place."""
    return Words(layer, at.plus(along.left, -size / 2), size, told, "middle", 0.0 if along is ALONG else pi / 2)


def _grain(piece: Piece, height: float) -> tuple[Mark, ...]:
    if not piece.grain:
        return ()
    at = Point(piece.length / 2, -height * 5.5)
    half = min(height * 12, piece.length / 2)
    words = Words(GRAIN, at.plus(ALONG, half + height), height, translated("grain"))
    return *grain_arrow(at, ALONG, half, height * 1.2), words


OF_A_BOARD = {
    "left": "left of a board", "right": "right of a board", "bottom": "bottom of a board", "top": "top of a board",
}  # fmt: skip
"""Its edges, and what a translator is asked for each."""


def _trim(piece: Piece, manner: Manner) -> str:
    """What to trim off, in words."""
    if len(set(piece.margins)) == 1:
        return worded("trim {size} off every edge", size=manner.size(piece.margins[0]))
    edges = zip(OF_A_BOARD, piece.margins, strict=True)
    told = ", ".join(f"{meant(edge, OF_A_BOARD[edge])} {manner.figure(margin)}" for edge, margin in edges if margin)
    return worded("trim {edges}", edges=f"{told} {manner.units}")


def blanks(item: Item, count: int) -> str:
    """So many blanks of an item, or strips with what comes off each."""
    told = f"{item.code} x {count}" if count > 1 else item.code
    deep = worded("sawn flatwise into {count}", count=item.layers) if item.layers > 1 else ""
    strip = worded("strip of {count}", count=item.pieces) if item.pieces > item.layers else ""
    held = ", ".join(words for words in (strip, deep) if words)
    return f"{told} ({held})" if held else told


def _title(sheet: Sheet, items: Mapping[str, Item], title: str, manner: Manner) -> Iterator[Words]:
    piece, height = sheet.piece, manner.height
    sizes = manner.sizes(piece.length, piece.width)
    counts: dict[str, int] = {}
    for laid in sheet.laid:
        counts[laid.code] = counts.get(laid.code, 0) + 1
    found = ", ".join(blanks(items[code], count) for code, count in sorted(counts.items()))
    margin = f"; {_trim(piece, manner)}" if any(piece.margins) else ""
    columns = max(60, int(piece.length / text_width("x", height)))
    lines = [
        (VIEW_TITLE, title),
        (
            TEXT,
            worded(
                "{name}, piece {number}, {sizes}{margin}",
                name=piece.name,
                number=sheet.number,
                sizes=sizes,
                margin=margin,
            ),
        ),
        *(
            (TEXT, line)
            for line in in_lines(
                worded("parts: {parts}", parts=found) if found else translated("parts: none"),
                columns,
                "  ",
            )
        ),
    ]
    for i, (layer, text) in enumerate(reversed(lines)):
        yield Words(layer, Point(0, piece.width + height * (2 + i * LINE_FEED)), height, text)
