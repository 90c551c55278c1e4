"""What is written in a template, so that it still tells all when it lies on the wood alone."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import atan2, degrees, pi

from templategen.catalogue import meant, translated, worded
from templategen.drawing.drawing import Mark, Stroke, Words, words_of
from templategen.drawing.label import Label, word_room
from templategen.drawing.layer import Layer
from templategen.drawing.layers import GRAIN, HIDDEN, face_words
from templategen.drawing.lettering import in_lines
from templategen.drawing.manner import Manner
from templategen.drawing.mates import Meeting, spoken
from templategen.drawing.tag import nearest
from templategen.drawing.unseen import foot_of, under
from templategen.geometry.coincide import covered_share
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.parts.part import Part
from templategen.units import off_square_words

TO_CENTRE = Layer("TO_CENTRE", "the table's centre lies this way", weight=0.25)
FIRST = Layer("SAW_FIRST", "leads to the line that is sawn first", weight=0.25)
LATER = Layer("SAW_LATER", "leads to the line that is sawn when the ring is glued", weight=0.25)
OTHER_SIDE = replace(HIDDEN, name="OTHER_SIDE", title="work on the other side, not to be cut from this one")

STAGES = {FIRST.name: ("1 saw first, before gluing", "1 saw first"),
          LATER.name: ("2 saw when the ring is glued", "2 after gluing")}  # fmt: skip
"""The words at the two lines of a template whose last outline is sawn later, whole and short."""

CENTRE = "centre"

SMALL = 0.72
"""Height of what is read only once, as a share of a template's letters."""

WRAPS = (46, 30, 20, 14)
"""Letters to a line, the first that finds room."""

SQUARE = 0.005
"""Ends nearer square than this carry no angle, degrees."""

NEAR = 72.0
"""The same words to the same mate aren't written twice so near each other, mm."""

UPRIGHT = (0.0, pi / 2)


@dataclass(frozen=True, slots=True)
class Told:
    """A part and what is known of it for its template."""

    part: Part
    manner: Manner
    revised: str
    trace: float
    met: Sequence[Meeting]
    centre: Point | None
    arms: Sequence[tuple[Point, int]] = ()


def labels_of(
    told: Told, way: Placement, letters: Iterable[Words], notes: Sequence[str], finished: Outline | None
) -> Iterator[Label]:
    """What is written in the wood of one face, the most needed first; `finished` is the line that is sawn later."""
    part = told.part
    box = way.outline(part.outline).bounds
    yield from (Label(words.box.centre, (words.text,), shrinks=True) for words in letters)
    grain = way.direction(part.grain)
    turns = UPRIGHT[::-1] if abs(grain.y) > abs(grain.x) and box.height > box.width else UPRIGHT
    yield from _name(told, way, box.centre, turns)
    if finished is not None:
        yield from _stages(finished)
    yield Label(box.centre, sign="grain", along=grain, layer=replace(GRAIN, weight=0.25), roams=True,
                need=(_by_edge(way.outline(part.outline), grain),))  # fmt: skip
    if told.centre is not None and way.point(told.centre).distance(box.centre) > max(box.width, box.height) / 2:
        along = way.point(told.centre).minus(box.centre).unit
        yield Label(box.centre, (translated(CENTRE),), sign="arrow", along=along, layer=TO_CENTRE, roams=True)
    if told.trace:
        off = told.manner.figure(told.trace)
        notes = (*notes, worded("thin outer line: path of the pencil, {off} off", off=off))
    yield from (Label(box.centre, wrapped(note), turns, SMALL, shrinks=True, roams=True, need=(note,))
                for note in notes)  # fmt: skip
    yield from _other_side(part, way)
    if not way.turned_over:
        yield from _ends(part)
        yield from _mates(told.met)
        yield from (Label(at, (worded("arm {arm}", arm=arm),), UPRIGHT, 0.85, shrinks=True) for at, arm in told.arms)


def _name(told: Told, way: Placement, at: Point, turns: tuple[float, ...]) -> Iterator[Label]:
    """Code and count, tall; then what it is, of what wood and how thick, which side is up, which revision."""
    part = told.part
    count = f" × {part.count}" + (f" {meant(part.handed, f'{part.handed} hand')}" if part.handed else "")
    yield Label(at, (f"{part.code}{count}",), turns, 1.3, shrinks=True, need=(f"{part.code}{count}",))
    thick = worded("{size} thick", size=told.manner.size(part.thickness))
    side = translated("other side up" if way.turned_over else "this side up: top")
    revised = [worded("revision {revision}", revision=told.revised)] if told.revised else ()
    lines = (part.name, translated(part.wood), thick, side, *revised)
    pairs = ", ".join(lines[:3]), ", ".join(lines[3:])
    threes = ", ".join(lines[:2]), ", ".join(lines[2:4]), *lines[4:]
    shapes = ("\n".join(pairs), "\n".join(threes), "\n".join(lines), ", ".join(lines), *wrapped(", ".join(lines)))
    yield Label(at, shapes, turns, SMALL, shrinks=True, roams=True, need=pairs)


def wrapped(words: str) -> tuple[str, ...]:
    """The words in lines of fewer and fewer letters, each way once."""
    return tuple(dict.fromkeys("\n".join(in_lines(words, width)) for width in WRAPS))


def _stages(finished: Outline) -> Iterator[Label]:
    """Which line is sawn when: by the last edge that is sawn later."""
    late = max(finished.anticlockwise.edges, key=lambda edge: (not isinstance(edge, Line), edge.length))
    along = late.direction_at(0.5)
    turn = _upright(along)
    for layer, off, share in ((LATER, 7.0, 0.72), (FIRST, 7.0, 0.28)):
        at = late.point_at(share).plus(late.direction_at(share).left, off)
        slide, said = late.direction_at(share), tuple(map(translated, STAGES[layer.name]))
        yield Label(at, said, (turn, 0.0), SMALL, slide=slide, layer=layer, shrinks=True, need=said[:1])  # fmt: skip


def leaders(marks: Iterable[Mark], first: Outline, later: Outline) -> Iterator[Mark]:
    """From the words that say when a line is sawn to that line, where blank and finished line part."""
    for words in words_of(marks):
        if words.layer.name not in STAGES:
            continue
        ring, other = (first, later) if words.layer.name == FIRST.name else (later, first)
        apart = [edge for edge in ring.edges if other.distance(edge.point_at(0.5)) > 0.05]
        middle = words.at.plus(Point(0, words.height * 0.5).turned(words.turn))
        tip = nearest(apart or ring.edges, middle)
        start = middle.plus(tip.minus(middle).unit, _out_of(words, tip.minus(middle)))
        if start.distance(middle) < tip.distance(middle):
            yield Stroke(words.layer, Line(start, tip))


def _out_of(words: Words, way: Point) -> float:
    """How far from their middle a line that way is clear of words, mm."""
    along = way.unit.turned(-words.turn)
    half = word_room(words.text, words.height) / 2
    return min(half / max(abs(along.x), 1e-9), words.height * 0.9 / max(abs(along.y), 1e-9))


def _other_side(part: Part, way: Placement) -> Iterator[Label]:
    """A word at each piece of work that is cut from the other face, where its lines aren't this face's too."""
    written: list[Point] = []
    for outline in under(part, "bottom" if way.turned_over else "top"):
        at = outline.bounds.centre
        if any(at.distance(other) < 12 for other in written):
            continue
        written.append(at)
        yield Label(at, (translated("other side"),), UPRIGHT, SMALL, layer=OTHER_SIDE, shrinks=True)


def _ends(part: Part) -> Iterator[Label]:
    """The angle of each mitred edge, and which edge or end is which."""
    faces = [face for face in part.worked_faces if face.name not in ("top", "bottom")]
    for edge in part.outline.anticlockwise.edges:
        name = next((face_words(f.name) for f in faces if covered_share(edge, foot_of(f)) is not None), "")
        angle = _off_square(edge, part.lengthwise)
        told = off_square_words(angle) if angle > SQUARE else ""
        if not name and (not told or edge.length < 20):
            continue
        along = edge.direction_at(0.5)
        at = edge.point_at(0.5).plus(along.left, 7.0)
        both = ", ".join(word for word in (name, told) if word)
        rows = told.replace(" (", "\n(")
        words = tuple(dict.fromkeys(word for word in (both, told, rows, name) if word))
        yield Label(at, words, (_upright(along),), slide=along, shrinks=True)


def _by_edge(outline: Outline, grain: Point) -> str:
    """How the grain runs by the longest straight edge."""
    longest = max((edge for edge in outline.edges if isinstance(edge, Line)), key=lambda edge: edge.length)
    along = abs(longest.direction_at(0.0).dot(grain)) > 0.7
    return translated("grain along the longest edge" if along else "grain across the longest edge")


def _upright(along: Point) -> float:
    """The turn of words along a direction that can be read from below or from the right."""
    turn = atan2(along.y, along.x)
    return turn + pi if not -pi / 2 < turn <= pi / 2 + 1e-9 else turn


def _off_square(edge: Edge, lengthwise: Point) -> float:
    """Degrees between a straight edge and the square across the piece; 0 for arcs, and along it."""
    if not isinstance(edge, Line):
        return 0.0
    along = edge.direction_at(0)
    off = degrees(atan2(abs(along.dot(lengthwise)), abs(along.cross(lengthwise))))
    return off if off < 80 else 0.0


def _mates(met: Iterable[Meeting]) -> Iterator[Label]:
    """The mates' codes at each joint with the joint's letters, like ones not twice side by side."""
    written: list[tuple[str, Point]] = []
    for meeting in met:
        text = worded("to {codes}", codes=spoken(meeting.codes))
        if any(text == other and at.distance(meeting.at) < NEAR for other, at in written):
            continue
        written.append((text, meeting.at))
        joint = worded("joint {letters}", letters=meeting.letters) if meeting.letters else ""
        shapes, need = ((f"{text}\n{joint}", joint), (f"{text}, {joint}",)) if joint else ((text,), ())
        yield Label(meeting.at, shapes, UPRIGHT, 0.85, shrinks=True, need=need)
