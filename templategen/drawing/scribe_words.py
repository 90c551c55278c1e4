"""Words beside what is scribed on a jig's piece: where they stand clear of lines and of each other."""

from collections.abc import Iterator, Sequence
from itertools import chain, pairwise, product
from math import atan2, ceil, cos, hypot, pi, sin
from typing import Literal

from templategen.drawing.drawing import ANCHORS, Mark, Stroke, Words, words_of
from templategen.drawing.ink import Ink
from templategen.drawing.layer import Layer
from templategen.drawing.layers import TEXT
from templategen.drawing.lettering import text_width
from templategen.drawing.pieces import pieces
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Edge, Line
from templategen.geometry.point import Point
from templategen.jigs.jig import Scribe, ScribeKind

LETTER = 3.5
"""Capitals of what is scribed, mm: the least that ISO 3098 reads by in a workshop."""

WITNESS = Layer("SCRIBE_WITNESS", "scribed: where another piece lies", "blue", "long-dash-dot", 0.25)

SCRIBES: dict[ScribeKind, Layer] = {
    "line": Layer("SCRIBE_LINE", "scribed: a line to work to", "black", "continuous", 0.25),
    "witness": WITNESS,
    "scale": Layer("SCRIBE_SCALE", "scribed: a division to set by", "black", "continuous", 0.18),
    "hatch": Layer("SCRIBE_HATCH", "scribed: an area to heed", "vermilion", "continuous", 0.18),
    "point": Layer("SCRIBE_POINT", "scribed: a point to centre on", "blue", "continuous", 0.25),
    "name": WITNESS,
}
"""What is scribed, each kind on a layer of its own; nothing cuts along these."""

WIDER = 1.12
"""Room for words in a face that runs wider than ours."""

CLEAR = 0.3
"""Room round words as a share of the letters: less reads as one word, and pages paint paper round each."""

ON = 3 / 7
"""From the end of a line to words that run on along it, in heights of a capital."""

BESIDE = 0.45
SLANTING = 0.45
"""From a line to words along it, and so much more where it slants: ink is told in boxes, in heights of a capital."""

SHORT = 15.0
"""A division shorter than this has its figure past its end, like the others of its scale, mm."""

CROWD = 4
"""So many divisions of a scale are told together where they stand close."""

FOLDED = 20
"""Words of so many letters are long."""

LINE = 1.7
"""From line to line of folded words, in heights of a capital: tails and the white round letters stand clear."""

LEVEL = (0.95, 0.8, 0.65, 0.5, 0.35, 0.2, 0.05)
"""Shares of a line at which level words are tried."""

IN_PLACE = sorted(product(range(-8, 9), range(-3, 4)), key=lambda step: (hypot(*step), step))
"""How far along and across from its middle a name is tried on what it names, in capital heights."""


def near(scribe: Scribe, ink: Ink, _: Ink, letter: float, folded: bool) -> tuple[Mark, ...]:
    """A scribe's words on it, beside it or past its end, where that is clear."""
    if scribe.kind == "name":
        return next(_in_place(scribe, ink, letter), ())
    tries = _on(scribe, letter, folded) if scribe.words else ()
    return next((made for made in tries if not ink.meets(_room(made, WIDER, letter * CLEAR))), ())


def anywhere(scribe: Scribe, ink: Ink, told: Ink, letter: float, folded: bool) -> tuple[Mark, ...]:
    """The same, or further off with a leader, which crosses nothing that is `told` already where that can be; the
    first place that is clear."""
    if not scribe.words:
        return ()
    tries, roomy = list[tuple[Mark, ...]](), list[tuple[Mark, ...]]()
    for made in chain(_on(scribe, letter, folded), _off(scribe, letter, folded)):
        made = (Stroke(WITNESS, scribe.edge), *made) if scribe.kind == "name" else made
        if not ink.meets(_room(made, WIDER, letter * CLEAR)):
            if not told.meets(box for mark in made if isinstance(mark, Stroke) for box in boxes_of(mark)):
                return made
            roomy.append(made)
        tries.append(made)
    return next(chain(roomy, (made for made in tries if not ink.meets(_room(made)))), tries[0])


def _in_place(scribe: Scribe, ink: Ink, letter: float) -> Iterator[tuple[Mark, ...]]:
    """A name on what it names: nothing that is drawn stands between it and the place where it belongs; along it, else
    level."""
    middle, along = scribe.edge.point_at(0.5), scribe.edge.direction_at(0.5)
    turn = atan2(along.y, along.x)
    for turned in dict.fromkeys((turn, 0.0)):
        for far, aside in IN_PLACE:
            way = along.times(far * letter).plus(along.left, aside * letter)
            at = middle.plus(way).plus(Point(0.0, -letter / 2).turned(turned))
            made = (Words(TEXT, at, letter, scribe.words, "middle", turned).upright,)
            if not ink.meets(_room(made, WIDER, letter * CLEAR)) and not ink.meets(_walk(middle, way, letter)):
                yield made


def _walk(start: Point, way: Point, letter: float) -> Iterator[Bounds]:
    """Boxes along a straight way."""
    if way.length:
        yield from pieces((Stroke(TEXT, Line(start, start.plus(way))),), letter / 2)


def _room(marks: tuple[Mark, ...], wider: float = 1.0, clear: float = 0.0) -> Iterator[Bounds]:
    """Boxes along the words among marks, in a `wider` face and with so much `clear` round each."""
    for words in words_of(marks):
        yield from (box.grown(clear) for box in letters_of(words, wider))


def crowded(scribes: Sequence[Scribe], letter: float) -> dict[Scribe, tuple[Mark, ...]]:
    """Figures of a scale whose divisions stand closer than its letters are high: fanned out in their order."""
    short = [one for one in scribes if one.kind == "scale" and one.words and one.edge.length < SHORT]
    if len(short) < CROWD:
        return {}
    along = short[0].edge.direction_at(1.0)
    short = [one for one in short if one.edge.direction_at(1.0).dot(along) > 1 - 1e-9]
    spots = sorted((one.edge.end.dot(along.left), place) for place, one in enumerate(short))
    feed = letter * 1.4
    if len(spots) < CROWD or min(b - a for (a, _), (b, _) in pairwise(spots)) >= feed:
        return {}
    first = (spots[0][0] + spots[-1][0] - feed * (len(spots) - 1)) / 2
    made: dict[Scribe, tuple[Mark, ...]] = {}
    for number, (at, place) in enumerate(spots):
        end = short[place].edge.end
        foot = end.plus(along, letter * 3.0).plus(along.left, first + number * feed - at)
        words = _from(foot.plus(along, 1.0).plus(along.left, -letter / 2), along, short[place].words, letter)
        made[short[place]] = Stroke(SCRIBES["scale"], Line(end, foot)), words
    return made


def _on(scribe: Scribe, letter: float, folded: bool) -> Iterator[tuple[Mark, ...]]:
    """Words beside a point or a line, or past its end, or either end where it is no division of a scale."""
    edge, text = scribe.edge, scribe.words
    width = text_width(text, letter)
    if scribe.kind == "point":
        at = edge.point_at(0.5)
        one = letter / LETTER
        for aside in (Point(7, -letter / 2), Point(7, 5 * one), Point(7, -9 * one), Point(-7 - width, -letter / 2),
                      Point(-width / 2, 8 * one), Point(-width / 2, -12 * one), Point(-7 - width, 5 * one),
                      Point(-7 - width, -9 * one)):  # fmt: skip
            yield (Words(TEXT, at.plus(aside), letter, text),)
        return
    if edge.length >= width * 0.9 and not (scribe.kind == "scale" and edge.length < SHORT):
        for share in (0.5, 0.3, 0.7, 0.4, 0.6, 0.2, 0.8):
            if min(share, 1 - share) * edge.length >= width / 2:
                for side in (1, -1):
                    yield (_beside(edge, share, side, text, letter),)
    lines = _in_two(text) if folded else (text,)
    yield from _folded_beside(edge, lines, letter)
    for way in (edge,) if scribe.kind == "scale" else (edge, edge.reversed):
        along = way.direction_at(1.0)
        yield tuple(_column(way.end.plus(along, letter * ON), along, lines, letter))


def _off(scribe: Scribe, letter: float, folded: bool) -> Iterator[tuple[Mark, ...]]:
    """Words on a leader from a line's end, and level ones on the line."""
    if scribe.kind == "point":
        return
    edge, lines = scribe.edge, _in_two(scribe.words) if folded else (scribe.words,)
    yield from _past(edge, lines, letter)
    yield from _level(edge, scribe.words, letter)
    yield from _past(edge.reversed, lines, letter)


def _level(edge: Edge, text: str, letter: float) -> Iterator[tuple[Mark, ...]]:
    """Level words that begin or end at a line, the nearest to its end first."""
    for share in LEVEL:
        at = edge.point_at(share)
        yield (Words(TEXT, at.plus(Point(letter * 0.6, -letter / 2)), letter, text),)
        yield (Words(TEXT, at.plus(Point(-letter * 0.6, -letter / 2)), letter, text, "end"),)


def _folded_beside(edge: Edge, lines: tuple[str, ...], letter: float) -> Iterator[tuple[Mark, ...]]:
    """Lines of words along the middle of an edge that is long enough for them."""
    if len(lines) < 2 or max(text_width(text, letter) for text in lines) > edge.length:
        return
    along = edge.direction_at(0.5)
    told = lines if -pi / 2 < atan2(along.y, along.x) <= pi / 2 + 1e-9 else lines[::-1]
    for side in (1, -1):
        rows = told[::-1] if side > 0 else told
        yield tuple(_beside(edge, 0.5, side, text, letter, row * LINE) for row, text in enumerate(rows))


def _beside(edge: Edge, share: float, side: int, text: str, letter: float, further: float = 0.0) -> Words:
    """Words along an edge, `further` off by so many capital heights."""
    along = edge.direction_at(share)
    turn = atan2(along.y, along.x)
    gap = letter * (BESIDE + SLANTING * abs(sin(2 * turn)) + further)
    off = gap if side > 0 else -letter - gap
    return Words(TEXT, edge.point_at(share).plus(along.left, off), letter, text, "middle", turn).upright


def _in_two(text: str) -> tuple[str, ...]:
    """Long words in two lines, parted behind the comma nearest their middle."""
    commas = [place for place, sign in enumerate(text) if sign == ","]
    if len(text) < FOLDED or not commas:
        return (text,)
    best = min(commas, key=lambda place: abs(place - len(text) / 2))
    return text[: best + 1], text[best + 2 :]


def _past(edge: Edge, lines: tuple[str, ...], letter: float) -> Iterator[tuple[Mark, ...]]:
    """Past the end of a short line, pushed aside, with a leader from the line's end."""
    along = edge.direction_at(1.0)
    end = edge.end
    for reach in (letter * share for share in (12 / 7, 4.0, 44 / 7)):
        for step in range(1, 9):
            for side in (1, -1):
                foot = end.plus(along, reach).plus(along.left, side * step * letter * 1.3)
                leader = Stroke(SCRIBES["scale"], Line(end, foot))
                yield leader, *_column(foot.plus(along, 1.0), along, lines, letter)


def _column(foot: Point, along: Point, lines: tuple[str, ...], letter: float) -> Iterator[Words]:
    """Lines of words that run on along a line, their middle at its `foot`."""
    down = along.left.times(-1 if -pi / 2 < atan2(along.y, along.x) <= pi / 2 + 1e-9 else 1)
    for number, text in enumerate(lines):
        at = foot.plus(down, letter * LINE * (number - (len(lines) - 1) / 2))
        yield _from(at.plus(along.left, -letter / 2), along, text, letter)


def _from(at: Point, along: Point, text: str, letter: float) -> Words:
    """Words that run on along a line, or end where they would read upside down."""
    turn = atan2(along.y, along.x)
    if -pi / 2 < turn <= pi / 2 + 1e-9:
        return Words(TEXT, at, letter, text, "start", turn)
    back = along.times(-1)
    anchor: Literal["end"] = "end"
    return Words(TEXT, at.plus(along.left, letter), letter, text, anchor, atan2(back.y, back.x))


def boxes_of(mark: Mark) -> Iterator[Bounds]:
    """Small boxes along a line of words; of a stroke its pieces."""
    if not isinstance(mark, Words):
        yield from pieces((mark,), 6.0)
        return
    yield from letters_of(mark)


def letters_of(words: Words, wider: float = 1.0) -> Iterator[Bounds]:
    """Small boxes along a line of words, as high as they would stand in a `wider` face."""
    height = words.height * wider
    width = text_width(words.text, height)
    cx, cy = cos(words.turn), sin(words.turn)
    x0, y0 = words.at.plus(Point(cx, cy), -ANCHORS[words.anchor] * width)
    count = max(1, ceil(width / height))
    half, up = height * 0.55 / (abs(cx) + abs(cy)), height / 2
    for i in range(count):
        along = width * (i + 0.5) / count
        x, y = x0 + along * cx + up * -cy, y0 + along * cy + up * cx
        yield Bounds(x - half, y - half, x + half, y + half)
