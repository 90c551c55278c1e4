"""A jig's piece as it is drawn: cut lines, work, what is scribed on it, and the distances it stands by."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise, product
from math import atan2, pi

from templategen.drawing.dimension import arrow, cross
from templategen.drawing.drawing import ANCHORS, Mark, Shape, Stroke, Words, edges_of, marks_box, words_of
from templategen.drawing.ink import Ink
from templategen.drawing.layer import Layer
from templategen.drawing.layers import HIDDEN, TEXT, THROUGH_INSIDE, THROUGH_OUTSIDE
from templategen.drawing.leaders import runs_through
from templategen.drawing.lettering import text_width
from templategen.drawing.manner import Manner
from templategen.drawing.pieces import pieces
from templategen.drawing.scribe_words import LETTER, SCRIBES, WIDER, anywhere, boxes_of, crowded, letters_of, near
from templategen.drawing.unseen import fresh_strokes, hidden_in_plan
from templategen.drawing.work import centres, work
from templategen.geometry.bounds import Bounds
from templategen.geometry.centroid import centroid
from templategen.geometry.edge import Edge, Line
from templategen.geometry.placement import OVER
from templategen.geometry.point import Point
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.parts.part import Part

CRITICAL = Layer("CRITICAL", "distances that the jig stands by: measure them before its first use", "purple",
                 "continuous", 0.18)  # fmt: skip

MOST_SHOWN = 6
"""More distances on one piece are scales: they stand in the list and at their marks."""

INK = 4 / 7
"""Lines are told in pieces this long as a share of the letters."""

INSIDE = 0.1
"""A line strikes words where it runs so far inside them, in heights of a capital."""

FINE = 24
SPOTS = sorted(
    product(range(1, FINE), repeat=2), key=lambda cell: ((cell[0] - FINE / 2) ** 2 + (cell[1] - FINE / 2) ** 2, cell)
)
"""Places that a piece's code is tried at, as so fine shares of its box."""

NAME_CLEAR = 0.3
"""Paper left round a piece's code, in heights of its capitals: pages paint some round each."""

MOST_TRIES = 4
"""So often words and the lines of distances make room for each other."""

POINT_RING = 4.0
"""Half the cross of a point, mm."""


def scribed(
    jig: Jig,
    part: Part,
    manner: Manner,
    letter: float = LETTER,
    folded: bool = False,
    clear_of: Sequence[Mark] = (),
) -> tuple[Mark, ...]:
    """All marks of one piece in its own frame: cut lines, work, scribes, words clear of all of them, of the lines of
    its distances and of what else is drawn with it; `letter` is the height of the capitals, mm; long words past the
    end of a line are `folded` in two."""
    bare, led = _scribed(jig, part, manner, letter, clear_of, folded), list[Mark]()
    for _ in range(MOST_TRIES):
        told = [mark for mark in with_distances(jig, part, bare, manner, letter)[len(bare) :] if mark.edges]
        if told == led:
            break
        bare, led = _scribed(jig, part, manner, letter, [*clear_of, *told], folded), told
    return bare


def _scribed(
    jig: Jig, part: Part, manner: Manner, letter: float, clear_of: Sequence[Mark], folded: bool
) -> tuple[Mark, ...]:
    marks = [*_cut(part), *_worked(part, replace(manner, height=letter))]
    own = [scribe for scribe in jig.scribes if scribe.part == part.code]
    marks += [mark for scribe in own if scribe.kind != "name" for mark in _strokes(scribe)]
    for name_first in (False, True):
        ink = Ink(box.grown(0.3) for box in pieces((*marks, *clear_of), letter * INK))
        named = _name(part, ink, letter) if name_first else ()
        told, leaders = list[Mark](), Ink(box for words in named for box in boxes_of(words))
        crowd = crowded(own, letter)
        placed = set[int]()
        for where in (near, anywhere):
            for number, scribe in enumerate(own):
                made = () if number in placed else crowd.get(scribe) or where(scribe, ink, leaders, letter, folded)
                told += made
                placed |= {number} if made else set()
                for room in (ink, leaders):
                    room.take(box for mark in made for box in boxes_of(mark))
        named = named or _name(part, ink, letter)
        if named:
            break
    return (*marks, *named, *told)


def with_distances(
    jig: Jig, part: Part, marks: tuple[Mark, ...], manner: Manner, letter: float = LETTER
) -> tuple[Mark, ...]:
    """The marks of a piece with the distances that it stands by; many are a scale, and stand in the list alone. What
    words on the piece tell is left out, equal ones are told together."""
    spans = [figure for figure in jig.figures if figure.part == part.code and figure.span]
    if len(spans) > MOST_SHOWN:
        return marks
    sizes = Counter(manner.figure(figure.value) for figure in spans)
    told = {word for scribe in jig.scribes if scribe.part == part.code for word in scribe.words.split()}
    alike = {manner.figure(figure.value): figure for figure in reversed(spans)}
    spans = [figure for text, figure in alike.items() if text not in told]
    return (*marks, *_distances(spans, marks, manner, letter, sizes))


def _cut(part: Part) -> Iterator[Mark]:
    yield Shape(THROUGH_OUTSIDE, part.outline)
    yield from (Shape(THROUGH_INSIDE, hole) for hole in part.holes)
    yield from centres([hole for hole in part.holes if hole.circle])


def _worked(part: Part, manner: Manner) -> tuple[Mark, ...]:
    """Pockets of the top face and, dashed, what is worked from below."""
    features = [feature for feature in part.features_on("top") if not (feature.traits.bored and part.holes)]
    drawn = [edge for hole in (part.outline, *part.holes) for edge in hole.edges]
    _notes, marks = work(features, part.outline, manner, drawn)
    hidden = fresh_strokes(HIDDEN, hidden_in_plan(part, "top"), [*drawn, *edges_of(marks)])
    return *marks, *hidden, *_deep_below(part, manner)


def _deep_below(part: Part, manner: Manner) -> Iterator[Mark]:
    """How deep each lap is cut from below, where not all are cut alike."""
    laps = [one for one in part.features_on("bottom") if one.kind == "lap"]
    if len({round(one.depth, 6) for one in laps}) > 1:
        for one in laps:
            at = centroid(OVER.outline(one.outline)).plus(Point(0, -manner.height / 2))
            yield Words(TEXT, at, manner.height, manner.figure(one.depth), "middle")


def muddled(marks: Iterable[Mark]) -> int:
    """How often words lie on each other or a line runs through them, and lines that lead to words cross."""
    marks = tuple(marks)
    lines = [(edge.bounds, _chords(edge)) for mark in marks if not isinstance(mark, Words) for edge in mark.edges]
    found, ink = 0, Ink()
    for words in words_of(marks):
        boxes, room = tuple(letters_of(words, WIDER)), words.box
        found += ink.meets(boxes)
        ink.take(boxes)
        if words.layer is not CRITICAL:
            found += any(box.meets(room) and _strikes(words, chords) for box, chords in lines)
    led = [mark.edge for mark in marks if isinstance(mark, Stroke) and mark.layer is SCRIBES["scale"]]
    return found + sum(_cross(one, other) for one, other in combinations(led, 2))


def _chords(edge: Edge) -> tuple[Point, ...]:
    count = 1 if isinstance(edge, Line) else 8
    return tuple(edge.point_at(step / count) for step in range(count + 1))


def _strikes(words: Words, chords: Sequence[Point]) -> bool:
    """Whether a line runs through the letters, a tenth of their height inside."""
    wide, inside = text_width(words.text, words.height), words.height * INSIDE
    left = -ANCHORS[words.anchor] * wide
    room = Bounds(left + inside, inside, left + wide - inside, words.height - inside)
    level = [point.minus(words.at).turned(-words.turn) for point in chords]
    return any(runs_through(start, end, room) for start, end in pairwise(level))


def _cross(one: Edge, other: Edge) -> bool:
    """Whether two straight lines cross between their ends."""
    sides = [[far.minus(a.start).cross(a.end.minus(a.start)) for far in (b.start, b.end)]
             for a, b in ((one, other), (other, one))]  # fmt: skip
    return all(a * b < -1e-6 for a, b in sides)


def work_notes(part: Part, manner: Manner) -> tuple[str, ...]:
    """What the letters of a piece's pockets mean."""
    features = [feature for feature in part.features_on("top") if not (feature.traits.bored and part.holes)]
    return work(features, part.outline, manner, part=part)[0]


def _strokes(scribe: Scribe) -> Iterator[Mark]:
    layer = SCRIBES[scribe.kind]
    if scribe.kind == "point":
        yield from cross(scribe.edge.point_at(0.5), POINT_RING, pi / 4, layer)
        return
    yield Stroke(layer, scribe.edge)


def _name(part: Part, ink: Ink, letter: float) -> tuple[Words, ...]:
    """The piece's code where there is room for it, on a grid from the middle outwards."""
    box = part.outline.bounds
    turn = pi / 2 if box.height > 2 * box.width else 0.0
    for height in (2 * letter, letter, letter * 0.7):
        for i, j in SPOTS:
            at = Point(box.left + box.width * i / FINE, box.bottom + box.height * j / FINE)
            words = Words(TEXT, at.plus(Point(0, -height / 2).turned(turn)), height, part.code, "middle", turn)
            if not ink.meets(box.grown(height * NAME_CLEAR) for box in boxes_of(words)) and part.region.contains(at):
                ink.take(boxes_of(words))
                return (words,)
    return ()


def _corners(box: Bounds) -> Iterator[tuple[float, float]]:
    yield from ((x, y) for x in (box.left, box.right) for y in (box.bottom, box.top))


@dataclass(frozen=True, slots=True)
class _Distance:
    """A distance as it is drawn: its points on the piece, the ends of its line outside, its figure."""

    feet: tuple[Point, Point]
    ends: tuple[Point, Point]
    text: str

    @property
    def along(self) -> Point:
        """The way that it runs."""
        return self.ends[1].minus(self.ends[0]).unit

    @property
    def span(self) -> tuple[float, float]:
        """Where it runs from and to, along its way."""
        return self.ends[0].dot(self.along), self.ends[1].dot(self.along)


def _distances(
    figures: Sequence[Critical], marks: Sequence[Mark], manner: Manner, letter: float, times: Mapping[str, int]
) -> Iterator[Mark]:
    """Each distance between two points as a line outside the piece, one beside the other; `times` is how often some
    are there. A figure on which lines of those further out would lie, or that is longer than its line, is led past
    all of them."""
    told = list(_laid_out(figures, marks, manner, letter))
    for place, one in enumerate(told):
        out, level = one.along.left.times(-1), [far for far in told if far.along.dot(one.along) > 0.999]
        yield from arrow(CRITICAL, *one.ends, letter * 0.8)
        yield from (
            Stroke(CRITICAL, Line(a, b.plus(out, letter / 2))) for a, b in zip(one.feet, one.ends, strict=True)
        )
        text = f"{times[one.text]} x {one.text}" if times.get(one.text, 1) > 1 else one.text
        turn, aside = atan2(one.along.y, one.along.x), out.times(-letter * 0.4)
        (low, high), half = one.span, text_width(text, letter) / 2
        crossing = (spot for far in told[place + 1 :] if far in level for spot in far.span)
        if high - low > 2 * half + letter * 0.6 and not any(abs(spot - (low + high) / 2) < half for spot in crossing):
            middle = one.ends[0].plus(one.along, (high - low) / 2).plus(aside)
            yield Words(CRITICAL, middle, letter, text, "middle", turn)
            continue
        past = max(spot for far in level for spot in far.span) + letter * 0.8 - high
        yield Stroke(CRITICAL, Line(one.ends[1], one.ends[1].plus(one.along, past + 2 * half)))
        yield Words(CRITICAL, one.ends[1].plus(one.along, past).plus(aside), letter, text, "start", turn)


def _laid_out(
    figures: Sequence[Critical], marks: Sequence[Mark], manner: Manner, letter: float
) -> Iterator[_Distance]:
    """The distances, the shortest next to the piece."""
    box, feed = marks_box(marks), letter * 2.4
    for figure in sorted(figures, key=lambda f: f.value):
        assert figure.span is not None
        first, last = figure.span
        along = last.minus(first)
        if along.length < 0.5 or figure.unit != "mm":
            continue
        if along.x < -1e-9 or (abs(along.x) <= 1e-9 and along.y < 0):
            first, last, along = last, first, along.times(-1)
        out = along.unit.left.times(-1)
        reach = max(Point(x, y).minus(first).dot(out) for x, y in _corners(box)) + feed
        ends = first.plus(out, reach), last.plus(out, reach)
        box = Bounds.around((box, *(Line(end, end.plus(out, letter / 2)).bounds for end in ends)))
        yield _Distance((first, last), ends, manner.figure(figure.value))
