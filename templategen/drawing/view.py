"""Views: one face of a part with the work cut into it, in the face's own frame."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import pi

from templategen.catalogue import translated, worded
from templategen.drawing.callout import Callout
from templategen.drawing.dimension import NAME_SHARE, grain_arrow, words_along
from templategen.drawing.drawing import Mark, Shape, Words, edges_of, words_of
from templategen.drawing.edge_sizes import edge_sizes
from templategen.drawing.layers import (
    BLANK_OUTLINE,
    CENTRE,
    FACE_OUTLINE,
    HIDDEN,
    TEXT,
    THROUGH_INSIDE,
    THROUGH_OUTSIDE,
    face_words,
)
from templategen.drawing.leaders import runs_through
from templategen.drawing.lettering import text_width
from templategen.drawing.manner import Manner
from templategen.drawing.reliefs import outline_reliefs, pocket_reliefs
from templategen.drawing.roomy import clear_run, roomiest
from templategen.drawing.unseen import foot_of, fresh_strokes, hidden_in_plan, notches
from templategen.drawing.work import centres, clear_of, frames_of, stops, work
from templategen.drawing.work_sizes import describe_holes
from templategen.geometry.coincide import covered_share, uncovered
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline
from templategen.geometry.placement import OVER
from templategen.geometry.point import Point
from templategen.parts.face import Face
from templategen.parts.feature import Feature
from templategen.parts.part import Part, PartKind
from templategen.parts.sides import side

WASTE = 0.01
"""A face longer than the finished edge by this much is a face of the blank, mm."""


UPRIGHT = 0.999
"""An end stands upright that rises by more than this, as a sine."""

LONGEST_LETTER = 2
"""Letters of work are no longer, all other words are."""

SMALLEST = 0.85
"""No letter of work is smaller than this share of the others."""

SMALLER = 0.6
"""A part's code that finds no room is written so much smaller."""

UNDER = 2.0
"""A part's code and arrow stand this many capital heights under a centre line that runs closely above them."""

ACROSS = 0.5
"""A centre line whose direction is off the grain's by less than this, as a sine, runs with the grain."""

PAST = 4.0
"""So far a part's centre lines run past its wood, mm."""

RUNS: Mapping[PartKind, tuple[str, ...]] = {
    "rail": ("along", "across"), "base-rail": ("along", "across"), "rim-segment": ("across",), "leg": ("along",),
}  # fmt: skip
"""The way that the centre lines of each kind of part run: along its length, across it through its own origin."""


@dataclass(frozen=True, slots=True)
class View:
    """A named picture of one face; `notes` stand under the title, `wood` is what its sizes are taken from."""

    title: str
    notes: tuple[str, ...]
    marks: tuple[Mark, ...]
    wood: Outline
    stops: tuple[Point, ...] = ()
    """Corners and centres of the work, for running dimensions."""
    led: tuple[Callout, ...] = ()
    """Sizes that found no room along their edges."""


def top_view(part: Part, manner: Manner) -> View:
    """The top face in the part's own frame: the only view with the line that cuts the part out."""
    holes = [Shape(THROUGH_INSIDE, hole) for hole in part.holes]
    marks: list[Mark] = [Shape(THROUGH_OUTSIDE, part.outline), *holes, *centres(part.holes)]
    middles = _middle_lines(part, part.outline, marks)
    marks += middles
    features = [feature for feature in part.features_on("top") if not _is_hole(feature, part)]
    unseen = tuple(hidden_in_plan(part, "top"))
    notes, worked = work(features, part.outline, manner, (*edges_of(marks[1:]), *unseen), part)
    hidden = fresh_strokes(HIDDEN, unseen, edges_of((*marks, *worked)))
    cleared = [pocket_reliefs(features, part.outline, manner), outline_reliefs(_through(part), manner)]
    notes, reliefs = _joined((notes, ()), *cleared)
    worked = (*worked, *reliefs)
    lines = [*edges_of((*worked, *hidden, *holes)), *frames_of(worked)]
    named = _name_and_grain(part, manner.height, lines, edges_of(middles), tuple(words_of(worked)))
    names = [*_edge_names(part, manner)]
    marks += [*worked, *hidden, *named, *(one for one in names if isinstance(one, Words))]
    beside = [_edge_under(face, part.outline) for face in part.worked_faces if face.name not in ("top", "bottom")]
    sizes, led = edge_sizes(part.outline, manner, manner.overrun, beside, part.lengthwise, lines)
    corners = (*stops(features, part.holes), *part.outline.points, *_on_middles(part))
    notes = (*notes, *describe_holes(part.holes, part.outline, manner))
    led = *led, *(one for one in names if isinstance(one, Callout))
    return _lettered(View(translated("top face"), notes, (*marks, *sizes), part.outline, corners, led), manner)


def bottom_view(part: Part, manner: Manner) -> View:
    """The underside, turned over left to right: x runs the other way."""
    wood = OVER.outline(part.outline)
    holes = tuple(OVER.outline(hole) for hole in part.holes)
    marks: list[Mark] = [*(Shape(FACE_OUTLINE, ring) for ring in (wood, *holes)), *centres(holes)]
    marks += _middle_lines(part, wood, marks)
    unseen = tuple(hidden_in_plan(part, "bottom"))
    notes, worked = work(part.features_on("bottom"), wood, manner, (*edges_of(marks[1:]), *unseen), part)
    hidden = fresh_strokes(HIDDEN, unseen, edges_of((*marks, *worked)))
    corners = stops(part.features_on("bottom"), holes)
    notes, reliefs = _joined((notes, ()), pocket_reliefs(part.features_on("bottom"), wood, manner))
    title = translated("underside (turned over left to right)")
    return _lettered(View(title, notes, (*marks, *worked, *reliefs, *hidden), wood, corners), manner)


def side_view(part: Part, face: Face, manner: Manner) -> View:
    """An upright face, seen from outside, the bottom of the part downward."""
    marks: list[Mark] = [Shape(FACE_OUTLINE, face.outline)]
    notes, worked = work(part.features_on(face.name), face.outline, manner, part=part)
    beside = fresh_strokes(FACE_OUTLINE, notches(part, face), edges_of((*marks, *worked)))
    corners = stops(part.features_on(face.name))
    notes, reliefs = _joined((notes, ()), pocket_reliefs(part.features_on(face.name), face.outline, manner))
    worked = (*worked, *reliefs)
    if _outlasts(face, part.outline):
        notes = (*notes, translated("This face is the blank's: work it before the finished outline is cut."))
    view = View(named_face(part, face), notes, (*marks, *worked, *beside), face.outline, corners)
    return _lettered(view, manner)


def blank_view(part: Part, manner: Manner) -> View:
    """The blank, where it is more than the finished outline."""
    note = translated("cut this first, the finished outline later")
    sizes, led = edge_sizes(part.blank, manner, manner.height * 0.4, lengthwise=part.lengthwise)
    marks = Shape(BLANK_OUTLINE, part.blank), *sizes
    return View(translated("blank"), (note,), marks, part.blank, part.blank.points, led)


def _lettered(view: View, manner: Manner) -> View:
    """The view with the letters of its work led out that would be too small to read where they belong, or that a line
    runs through."""
    lines = [edge for edge in edges_of(view.marks) if isinstance(edge, Line)]
    crowded = [
        words for words in words_of(view.marks)
        if words.layer == TEXT and len(words.text) <= LONGEST_LETTER
        and (words.height < manner.height * SMALLEST
             or any(runs_through(line.start, line.end, words.box.grown(-words.height / 8)) for line in lines))
    ]  # fmt: skip
    middle, spots = view.wood.bounds.centre.y, [(words.text, words.box.centre) for words in crowded]
    led = (Callout(at, Point(0.0, 1.0 if at.y > middle else -1.0), (letter,), across=True) for letter, at in spots)
    marks = tuple(mark for mark in view.marks if mark not in crowded)
    return replace(view, marks=marks, led=(*view.led, *led))


def _middle_lines(part: Part, wood: Outline, drawn: Sequence[Mark]) -> tuple[Mark, ...]:
    """The part's long centre lines on its face `wood`, where none stands yet."""
    box = wood.bounds.grown(PAST)
    lines = {
        "across": Line(Point(0.0, box.bottom), Point(0.0, box.top)),
        "along": Line(Point(box.left, _level(part)), Point(box.right, _level(part))),
    }
    own = [mark for mark in drawn if mark.layer == CENTRE]
    return fresh_strokes(CENTRE, [lines[way] for way in RUNS.get(part.kind, ())], edges_of(own))


def _on_middles(part: Part) -> Iterator[Point]:
    """Where the centre lines cross a view's lower and left edge, for its running sizes."""
    box, runs = part.outline.bounds, RUNS.get(part.kind, ())
    yield Point(0.0 if "across" in runs else box.left, _level(part) if "along" in runs else box.bottom)


def _level(part: Part) -> float:
    return part.outline.bounds.centre.y if part.kind == "leg" else 0.0


def _through(part: Part) -> tuple[tuple[Outline, str], ...]:
    """What is cut right through, each with the side on which the void lies."""
    return (part.outline, "outside"), *((hole, "inside") for hole in part.holes)


def _joined(*told: tuple[tuple[str, ...], tuple[Mark, ...]]) -> tuple[tuple[str, ...], tuple[Mark, ...]]:
    """Notes and marks of several, one after the other."""
    notes, marks = zip(*told, strict=True)
    return tuple(note for some in notes for note in some), tuple(mark for some in marks for mark in some)


def _is_hole(feature: Feature, part: Part) -> bool:
    """Whether the feature only says again what is already cut right through."""
    return any(not any(uncovered(edge, hole.edges) for edge in feature.outline.edges) for hole in part.holes)


def _name_and_grain(
    part: Part, height: float, lines: list[Edge], middles: Sequence[Edge], told: Sequence[Words]
) -> Iterator[Mark]:
    """The part's code and the grain arrow in the clearest place, beside a centre line that runs with the grain; what
    doesn't fit is left to the title."""
    with_grain = [line for line in middles if abs(line.direction_at(0).cross(part.grain)) < ACROSS]
    lines = [*lines, *(line for line in middles if line not in with_grain)]
    at, room = roomiest(part.outline, lines)
    for above in (line.point_at(0.5).minus(at).dot(part.grain.left) for line in with_grain):
        if abs(above) < height / 2:
            at = at.plus(part.grain.left, min(height, room / 3))
        elif height / 2 < above < height * UNDER:
            at = at.plus(part.grain.left, above - height * UNDER)
    gap = min(height * 1.5, room * 0.7)
    run = clear_run(at, part.grain, part.outline, lines, gap, most=height * 12)
    if run > height:
        yield from grain_arrow(at, part.grain, run, min(height * 1.2, run / 2))
    upright = abs(part.grain.y) > abs(part.grain.x)
    turn = pi / 2 if upright else 0.0
    along = Point(0, 1) if upright else Point(1, 0)
    foot = at.plus(along.left, height * 0.5)
    for tall in (height, height * SMALLER):
        half = text_width(part.code, tall) / 2
        line = foot.plus(along.left, tall * 0.5)
        words = Words(TEXT, foot, tall, part.code, "middle", turn)
        if clear_of(words, told) and clear_run(line, along, part.outline, lines, tall * 0.6, half + tall) >= half:
            yield words
            break


def _edge_names(part: Part, manner: Manner) -> Iterator[Words | Callout]:
    """Which side is edge 1, which end is end 2: written along it, outside the wood; led out of an upright right end,
    beside which the running sizes stand."""
    for face in part.worked_faces:
        if face.name not in ("top", "bottom"):
            edge = _edge_under(face, part.outline)
            if edge.direction_at(0).y > UPRIGHT:
                yield Callout(edge.point_at(NAME_SHARE), Point(1.0, 0.0), (face_words(face.name),))
            else:
                yield words_along(TEXT, edge, NAME_SHARE, face_words(face.name), manner.height, manner.overrun)


def _outlasts(face: Face, outline: Outline) -> bool:
    """Whether part of the face is cut away with the blank's waste."""
    return any(piece.length > WASTE for piece in uncovered(foot_of(face), outline.edges))


def named_face(part: Part, face: Face) -> str:
    """An upright face as its sheet names it, and as set-ups and labels do: `edge 1 (inner edge)`."""
    return worded("{face} ({side})", face=face_words(face.name), side=side(side_of(part, face), part.kind))


def side_of(part: Part, face: Face) -> str:
    """Which edge or end of the part an upright face is, as its drawing lies."""
    way = _edge_under(face, part.outline).direction_at(0.5)
    if face.name.startswith("edge"):
        return "low" if way.x > 0 else "high"
    return "right" if way.y > 0 else "left"


def _edge_under(face: Face, outline: Outline) -> Edge:
    """The edge of the outline that an upright face stands on, or the face's own foot on the blank."""
    foot = foot_of(face)
    return next((edge for edge in outline.anticlockwise.edges if covered_share(foot, edge) is not None), foot)
