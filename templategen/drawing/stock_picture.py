"""A piece of stock as a picture for a screen: each part with its code or a key letter, each cut with its number."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import product
from math import fsum, hypot, pi

from templategen.catalogue import worded
from templategen.drawing.callout import Callout, led_out
from templategen.drawing.dimension import overall
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words, words_of
from templategen.drawing.layers import CUT_NUMBER, OFFCUT, SAW_CUT, STOCK_OUTLINE, TEXT, THROUGH_OUTSIDE
from templategen.drawing.lettering import text_width
from templategen.drawing.manner import Manner
from templategen.drawing.roomy import clear_run, roomiest
from templategen.drawing.rows import in_rows
from templategen.drawing.stock_sheet import OFFCUT_TOLD, about, faults_of, margin_of
from templategen.drawing.thin_parts import led_letters, roomy_box
from templategen.drawing.tones import SHOWN
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, rectangle
from templategen.geometry.point import Point
from templategen.geometry.tolerance import SHORTEST_EDGE
from templategen.nesting.stock import Cut, Item, Laid, Piece, Rectangle, Sheet
from templategen.table.profile.choices import Units

LETTERS = 56.0
"""A row of the picture is so many capital heights long."""

LETTERS_OF_SHEETS = 92.0
"""And so many a picture in one row, which holds more and smaller parts."""

SMALLER = 0.8
"""Letters of the second size, as a share of the first."""

SHORT = 1300.0
"""Nor need pieces shorter than this be lettered so small, mm."""

SLENDER = 7.0
"""A piece longer than so many of its widths is shown in rows, one under the other."""

SHARES = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9, 0.05, 0.95)
"""How far along a cut its number is tried."""

BESIDE = 0.3
"""From a cut to its number beside it, in capital heights; further off it is led out."""

BARE = 1.6
"""A number stands on its cut where that shows at both ends: a cut so many times as long as the number."""

ROUND = 0.2
"""Room round a number, in capital heights."""

KEYS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

WITHIN = 0.75
"""Half of what words need across a part, so that its outline shows on both sides, in capital heights."""

BARE = 0.2
"""What stays bare between a letter and its part's outline, in capital heights: pages paint paper there."""

Spot = tuple[Point, float, float, str, bool]
"""Where words stand from a part's own place on the board, their height, their turn, what they say, and whether the
part is wide enough for them."""


@dataclass(frozen=True, slots=True)
class StockPicture:
    """The picture, and what its key letters stand for."""

    drawing: Drawing
    key: Mapping[str, str]


def stock_picture(
    sheet: Sheet,
    items: Mapping[str, Item],
    units: Units = "mm",
    cuts: Sequence[Cut] = (),
    offcuts: Sequence[Rectangle] = (),
) -> StockPicture:
    """The picture: the board, or where it is slender its rows, the left end first; grain along x. Parts too small for
    their code have a letter."""
    piece = sheet.piece
    board = rectangle(0, 0, piece.length, piece.width)
    outlines = [laid.placement.outline(items[laid.code].outline) for laid in sheet.laid]
    rows = 1 if _round(outlines) else max(1, round(piece.length / piece.width / SLENDER))
    letters = LETTERS if rows > 1 or piece.length < SHORT else LETTERS_OF_SHEETS
    manner = Manner(max(piece.length / rows, piece.width) / letters, units=units)
    names = _Names(items, manner.height)
    marks: list[Mark] = [Shape(STOCK_OUTLINE, board), *margin_of(piece), *faults_of(piece, manner.height)]
    for laid, outline in zip(sheet.laid, outlines, strict=True):
        marks += [Shape(SHOWN.tones[0], outline, laid.code), Shape(THROUGH_OUTSIDE, outline, laid.code)]
    title = _title(piece, rows, manner)
    marks += [title] if rows > 1 else []
    taken = [roomy_box(words) for words in words_of(marks)]
    breaks = [piece.length / rows * row for row in range(1, rows)]
    lying = zip(sheet.laid, outlines, strict=True)
    told = [(outline, names.on_one_row(laid, outline.bounds, breaks), names.fits(laid)) for laid, outline in lying]
    marks += _named([words for _, words, fits in told if fits], taken)
    marks += _offcuts(offcuts, manner, taken, breaks)
    ends = [Line(Point(x, 0), Point(x, piece.width)) for x in breaks]
    marks += _cuts(cuts, manner.height * SMALLER, taken, marks, ends)
    marks += led_letters([(outline, words) for outline, words, fits in told if not fits], marks, ends)
    if rows > 1:
        marks = [*in_rows(marks, piece.length, rows, piece.width + manner.height * 3)]
    else:
        marks += overall(board.bounds, manner, manner.height * 2.2, manner.height * 2.2)
    key = {letter: code for code, letter in sorted(names.keys.items(), key=lambda pair: pair[1])}
    return StockPicture(Drawing(f"{piece.name} {sheet.number}", tuple(marks)), key)


def _title(piece: Piece, rows: int, manner: Manner) -> Words:
    """The size of a slender board, above it."""
    sizes = manner.sizes(piece.length, piece.width)
    told = worded("{sizes}, in {rows} rows from the left", sizes=sizes, rows=rows)
    return Words(TEXT, Point(0.0, piece.width + manner.height * 1.2), manner.height, told)


def _off_breaks(words: Words, within: Bounds, breaks: Sequence[float]) -> Words | None:
    """Lying words that a break between rows would cross, in the middle of the longer side of what they stand in; None
    where even that is too short for them."""
    box = roomy_box(words)
    for at in breaks:
        if words.turn == 0.0 and box.left < at < box.right:
            before = max([within.left, *(other for other in breaks if other < at)]), at
            behind = at, min([within.right, *(other for other in breaks if other > at)])
            low, high = max(before, behind, key=lambda side: side[1] - side[0])
            fits = high - low >= box.right - box.left
            return replace(words, at=Point((low + high) / 2, words.at.y)) if fits else None
    return words


def _named(words: Sequence[Words], taken: list[Bounds]) -> Iterator[Words]:
    """Each part's words; among parts too small for theirs a kind that is told already is passed over."""
    told: set[str] = set()
    for one in words:
        box = roomy_box(one)
        if one.part in told and any(box.meets(other) for other in taken):
            continue
        told.add(one.part)
        taken.append(box)
        yield one


def _round(outlines: Iterable[Outline]) -> bool:
    """Whether any has an arc, which rows don't divide."""
    return any(vertex.bulge for outline in outlines for vertex in outline)


@dataclass(slots=True)
class _Names:
    """Finds each kind of part's place for its code once for each way it lies."""

    items: Mapping[str, Item]
    height: float
    spots: dict[tuple[str, float, bool], Spot] = field(default_factory=dict)
    keys: dict[str, str] = field(default_factory=dict)

    def words(self, laid: Laid) -> Words:
        """The code of a part, or its letter, in its clearest place."""
        spot, height, turn, text, _ = self._found(laid)
        at = Point(laid.placement.x, laid.placement.y).plus(spot)
        return Words(TEXT, at, height, text, "middle", turn, laid.code)

    def fits(self, laid: Laid) -> bool:
        """Whether the part is wide enough for them."""
        return self._found(laid)[4]

    def _found(self, laid: Laid) -> Spot:
        way = (laid.code, round(laid.placement.turn, 6), laid.placement.turned_over)
        if way not in self.spots:
            self.spots[way] = self._spot(laid)
        return self.spots[way]

    def on_one_row(self, laid: Laid, within: Bounds, breaks: Sequence[float]) -> Words:
        """The same where breaks between rows cross the part: the code, smaller if need be, or else its letter."""
        full = self.words(laid)
        for words in self._ways(full, laid.code):
            if (found := _off_breaks(words, within, breaks)) is not None:
                return found
        return full

    def _ways(self, words: Words, code: str) -> Iterator[Words]:
        """Words that take less and less room."""
        yield words
        height = self.height * SMALLER
        small = replace(words, at=words.at.plus(Point(0.0, (words.height - height) / 2)), height=height)
        yield small
        yield replace(small, text=self._key(code))

    def _spot(self, laid: Laid) -> Spot:
        outline = laid.placement.outline(self.items[laid.code].outline)
        middle, room = roomiest(outline, [])
        home = Point(laid.placement.x, laid.placement.y)
        for height in (self.height, self.height * SMALLER):
            half = text_width(laid.code, height) / 2
            for along, turn in ((Point(1.0, 0.0), 0.0), (Point(0.0, 1.0), pi / 2)):
                if height * WITHIN > room:
                    continue
                if clear_run(middle, along, outline, (), height * 0.55, half + height) >= half:
                    return middle.minus(home).plus(along.left, -height / 2), height, turn, laid.code, True
        height, key = self.height * SMALLER, self._key(laid.code)
        spot = middle.minus(home).plus(Point(0.0, -height / 2))
        reach = hypot(text_width(key, height), height) / 2
        return spot, height, 0.0, key, max(height * WITHIN, reach + height * BARE) <= room

    def _key(self, code: str) -> str:
        number = len(self.keys)
        return self.keys.setdefault(code, KEYS[number % 26] + (str(number // 26) if number >= 26 else ""))


def _cuts(
    cuts: Sequence[Cut], height: float, taken: list[Bounds], marks: Sequence[Mark], breaks: Sequence[Line]
) -> Iterator[Mark]:
    """Each cut with its number on it or close beside it, clear of words, of other cuts and of other numbers, or led
    out to where it is clear; short ones choose first, since they have the least room."""
    drawn = [cut for cut in cuts if cut.start.distance(cut.end) > SHORTEST_EDGE]
    lines = {cut.number: Line(cut.start, cut.end) for cut in drawn}
    made: list[Mark] = [Stroke(SAW_CUT, line) for line in lines.values()]
    rings = (mark.outline for mark in marks if isinstance(mark, Shape) and mark.layer is THROUGH_OUTSIDE)
    corners = [
        *(point for ring in rings for point in ring.points),
        *(end for cut in drawn for end in (cut.start, cut.end)),
    ]
    led: list[Callout] = []
    for cut in sorted(drawn, key=lambda cut: (round(lines[cut.number].length, 3), cut.number)):
        others = [*breaks, *(line for number, line in lines.items() if number != cut.number)]
        number = _number(cut, height, taken, others, corners)
        if number:
            taken.append(roomy_box(number))
            made.append(number)
        else:
            middle = lines[cut.number].point_at(0.5)
            out = lines[cut.number].end.minus(lines[cut.number].start).unit.left
            led.append(Callout(middle, out, (str(cut.number),)))
            led.append(Callout(middle, out.times(-1), (str(cut.number),)))
    yield from made
    fixed = [*marks, *made, *(Stroke(SAW_CUT, line) for line in breaks)]
    yield from _nearer(led, fixed, height)


def _nearer(led: Sequence[Callout], fixed: Sequence[Mark], height: float) -> Iterator[Mark]:
    """The numbers led out, each to the side of its cut where its line is shorter."""
    made: list[Mark] = []
    for sides in zip(led[::2], led[1::2], strict=True):
        ways = [led_out([side], [*fixed, *made], height, layer=CUT_NUMBER) for side in sides]
        made += min(ways, key=lambda way: fsum(mark.edge.length for mark in way if isinstance(mark, Stroke)))
    yield from made


def _number(
    cut: Cut, height: float, taken: Sequence[Bounds], others: Sequence[Line], corners: Sequence[Point]
) -> Words | None:
    """The number at the first clear place along the cut (upright cuts have it upright, too), else close beside it;
    None where there is none: it covers no other cut, no corner of a part and no end of a cut."""
    line, along = Line(cut.start, cut.end), cut.end.minus(cut.start)
    for side, turn in product((0, 1, -1), (0.0, pi / 2) if abs(along.y) > abs(along.x) else (0.0,)):
        for share in SHARES:
            words = _beside(cut, share, side, turn, height)
            box = roomy_box(words)
            room = box.grown(height * ROUND)
            if any(_covers(box, corner) for corner in corners) or any(room.meets(other) for other in taken):
                continue
            if side == 0 and along.length < BARE * _within(room, line):
                continue
            if not any(_within(room, other) for other in others):
                return words
    return None


def _beside(cut: Cut, share: float, side: int, turn: float, height: float) -> Words:
    """A cut's number on it, or on one `side`, clear of it."""
    along = cut.end.minus(cut.start)
    words = Words(CUT_NUMBER, Point(0.0, -height / 2).turned(turn), height, str(cut.number), "middle", turn)
    box, out = roomy_box(words), along.unit.left
    off = side * (abs(out.x) * box.width / 2 + abs(out.y) * box.height / 2 + BESIDE * height)
    return replace(words, at=words.at.plus(cut.start).plus(along, share).plus(out, off))


def _covers(box: Bounds, at: Point) -> bool:
    return box.left < at.x < box.right and box.bottom < at.y < box.top


def _within(box: Bounds, line: Line) -> float:
    """How much of a line lies in a box, mm."""
    low, high = 0.0, 1.0
    run = line.end.minus(line.start)
    for at, way, least, most in (
        (line.start.x, run.x, box.left, box.right),
        (line.start.y, run.y, box.bottom, box.top),
    ):
        if abs(way) < SHORTEST_EDGE:
            low, high = (low, high) if least < at < most else (1.0, 0.0)
        else:
            first, last = sorted(((least - at) / way, (most - at) / way))
            low, high = max(low, first), min(high, last)
    return max(0.0, high - low) * run.length


def _offcuts(
    offcuts: Sequence[Rectangle], manner: Manner, taken: list[Bounds], breaks: Sequence[float]
) -> Iterator[Mark]:
    """What is worth keeping, with its size where that fits."""
    height = manner.height * SMALLER
    for number, (x, y, length, width) in enumerate(offcuts, 1):
        yield Shape(OFFCUT, rectangle(x, y, x + length, y + width))
        sizes = about(length, width, manner)
        lying = length >= width
        long, short = max(length, width), min(length, width)
        for text in (worded(OFFCUT_TOLD, number=number, size=sizes), f"{number}: {sizes}", sizes):
            if text_width(text, height) <= long and height * 1.3 <= short:
                at, turn = Point(x + length / 2, y + width / 2), 0.0 if lying else pi / 2
                foot = at.plus(Point(0.0, 1.0) if lying else Point(-1.0, 0.0), -height / 2)
                within = Bounds(x, y, x + length, y + width)
                words = _off_breaks(Words(OFFCUT, foot, height, text, "middle", turn), within, breaks)
                if words is not None and not any(roomy_box(words).meets(other) for other in taken):
                    taken.append(roomy_box(words))
                    yield words
                    break
