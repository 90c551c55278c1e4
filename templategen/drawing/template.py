"""Paper templates: the faces of a part that are marked out, without sizes, to print, stick on and cut to."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from math import pi

from templategen.catalogue import translated, worded
from templategen.drawing.drawing import Mark, Shape, Stroke, Words, edges_of, words_of
from templategen.drawing.joint_letters import arms_of
from templategen.drawing.label import labelled
from templategen.drawing.layer import Layer
from templategen.drawing.layers import HIDDEN, TEXT, THROUGH_INSIDE, THROUGH_OUTSIDE
from templategen.drawing.manner import Manner
from templategen.drawing.mates import centre_in, meetings
from templategen.drawing.pattern import Pattern, Sited, Template
from templategen.drawing.pieces import Taken, pieces
from templategen.drawing.tag import tag
from templategen.drawing.template_words import Told, labels_of, leaders
from templategen.drawing.unseen import fresh_strokes, hidden_in_plan, inside, under
from templategen.drawing.view import View
from templategen.drawing.waste import hatched
from templategen.drawing.work import centres, work
from templategen.geometry.bounds import Bounds
from templategen.geometry.coincide import differs
from templategen.geometry.edge import Edge, Line, arc_round
from templategen.geometry.offset import offset
from templategen.geometry.outline import Outline
from templategen.geometry.placement import OVER, Placement
from templategen.geometry.point import Point
from templategen.geometry.region import Region
from templategen.kept.keep import kept
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.table.rim import WITH_THE_RING

LETTER = 3.5
"""Capitals on a template, mm: the least that ISO 3098 reads by in a workshop."""

WEIGHTS = {THROUGH_OUTSIDE.name: 0.35, THROUGH_INSIDE.name: 0.35, "HIDDEN": 0.18, "GRAIN": 0.25, "TEXT": 0.25}
OTHER_WEIGHT = 0.25
"""Lines to cut by stand out, but are fine enough to cut to their middle; mm, ISO 128."""

SAWN_FIRST = Layer("BLANK_OUTLINE", "saw to this line first, before anything is glued", weight=0.35, cuts=True)
SAWN_LATER = Layer(
    THROUGH_OUTSIDE.name, THROUGH_OUTSIDE.title, line_type="long-dash-double-dot", weight=0.35, cuts=True
)
"""The finished line where it is sawn when the ring is glued; told by its words and by its dashes."""

TRACE = Layer("TRACE", "path of a pencil or a bearing, outside the line to saw to", weight=0.18)
DRILL = Layer("DRILL_CENTRE", "prick here: the middle of a hole or a mortise", weight=0.18)
CENTRE_END = Layer("CENTRE_END", "the centre line, carried past the edge", weight=0.18)

DRILL_RING, DRILL_ARM = 2.0, 5.0
"""Radius of the ring round a drill centre and reach of its cross, mm."""

PAST, INTO = 2.0, 8.0
"""How far a centre line runs past the edge and into the wood, mm; past it no further than the waste's shade."""

BETWEEN = 7.0
"""Paper between two faces of one part, mm."""

TINY = 60.0
"""Work smaller than this both ways is kept off seams, mm."""


def is_sawn_later(part: Part) -> bool:
    """Whether the blank is sawn and glued before the finished outline is cut."""
    return part.kind in WITH_THE_RING and differs(part.blank, part.outline)


def template(part: Part, table: Table, revised: str = "", letters: Mapping[int, str] | None = None) -> Template:
    """The top face at the part's own coordinates and, where it carries other lines, the underside.

    `revised` is the part's revision, `letters` the joints' letters by their position in the table's list.
    """
    profile = table.profile
    manner = Manner(LETTER, 0.0, profile.units, layers=profile.dxf.units)
    centre = centre_in(table, part.code)
    met, arms = meetings(table, part, letters or {}), tuple(arms_of(table, part))
    told = Told(part, manner, revised, profile.paper.trace_offset, met, centre, arms)
    apart = bool(tuple(under(part, "top")))
    faces = [_face(told, "top", "" if apart else _unders(part, manner))]
    if apart:
        faces.append(_face(told, "bottom", ""))
    return Template(part.code, part.count, _named(part, profile.units), part.handed, tuple(faces), centre, part.grain)


@kept
def _face(told: Told, face: str, unders: str) -> Pattern:
    """One face: clean lines, then words where they are clear of them; the cut line last, on top of all."""
    part, way = told.part, OVER if face == "bottom" else Placement()
    first = replace(part, outline=part.blank) if is_sawn_later(part) else part
    view = _bare_view(first, told.manner, face)
    region, finished = way.region(first.region), way.outline(part.outline)
    cut = _cut_lines(region, finished, is_sawn_later(part))
    lines = [
        *_clean(view, region.outer, cut),
        *_drill_centres(part, way, face),
        *_traces(region.outer, region.holes, told.trace),
    ]
    ends = tuple(_centre_ends(region.outer))
    taken = Taken((box.grown(0.6) for box in pieces((*cut, *lines, *ends), 4.0)), 1.5)
    notes = (*(_plain(note.partition(" [")[0]) for note in view.notes), *filter(None, unders.split("\n")))
    letters = [words for words in words_of(view.marks) if _is_letter(words)]
    labels = labels_of(told, way, letters, notes, finished if is_sawn_later(part) else None)
    words, left = labelled(labels, replace(region, outer=finished), taken, LETTER)
    if is_sawn_later(part):
        words += tuple(leaders(words, region.outer, finished))
    pockets = [(one.outline, one.depth) for one in part.features_on(face) if one.traits.is_pocket]
    marks = [*hatched(pockets, region.outer, words), *lines, *words]
    beside = tuple(tag(left, region.outer, (*cut, *lines)))
    dear = [box.grown(1.0) for box in _dear(part, way)]
    return Pattern((*marks, *beside, *cut), (region,), tuple(dear), (Sited(part.code, face, way),), past=ends)


def _cut_lines(region: Region, finished: Outline, later: bool) -> list[Mark]:
    """The lines to saw to: one, or the blank's and what of the finished line lies inside it."""
    outer: list[Mark] = [Shape(_fine(THROUGH_OUTSIDE), region.outer)]
    if later:
        outer = [
            *fresh_strokes(SAWN_LATER, finished.edges, region.outer.edges),
            Shape(SAWN_FIRST, region.outer),
        ]
    return [*outer, *(Shape(_fine(THROUGH_INSIDE), hole) for hole in region.holes)]


def _centre_ends(outline: Outline) -> Iterator[Stroke]:
    """The ends of every axis that halves the outline, over its edge."""
    box, middle = outline.bounds, outline.bounds.centre
    for along, half in ((Point(1, 0), box.width / 2), (Point(0, 1), box.height / 2)):
        if not all(_is_on(outline, _mirrored(point, middle, along)) for point in outline.points):
            continue
        for way in (along, along.times(-1)):
            yield Stroke(
                CENTRE_END, Line(middle.plus(way, half - min(INTO, half / 3)), middle.plus(way, half + PAST))
            )


def _mirrored(point: Point, middle: Point, along: Point) -> Point:
    away = point.minus(middle)
    return middle.plus(along, 2 * away.dot(along)).minus(away)


def _is_on(outline: Outline, point: Point) -> bool:
    return outline.distance(point) < 0.01


def _bare_view(part: Part, manner: Manner, face: str) -> View:
    """A face with its work and nothing else: no names, no sizes."""
    way = OVER if face == "bottom" else Placement()
    wood = way.outline(part.outline)
    holes = [Shape(THROUGH_INSIDE, way.outline(hole)) for hole in part.holes]
    features = [feature for feature in part.features_on(face) if not (feature.traits.bored and part.holes)]
    notes, worked = work(features, wood, manner, edges_of(holes))
    marks = (*centres([hole.outline for hole in holes]), *worked)
    hidden = fresh_strokes(HIDDEN, hidden_in_plan(part, face), edges_of((*holes, *marks)))
    return View(face, notes, (*marks, *hidden), wood)


def stacked(faces: Sequence[Pattern], beside: bool = False) -> tuple[Pattern, ...]:
    """The faces below each other, or beside each other, the first where it is."""
    placed = [faces[0]]
    for face in faces[1:]:
        last, box = placed[-1].box, face.box
        at = Point(last.left - box.left, last.bottom - box.top - BETWEEN)
        if beside:
            at = Point(last.right - box.left + BETWEEN, last.bottom - box.bottom)
        placed.append(face.placed(Placement(*at)))
    return tuple(placed)


def _named(part: Part, units: Units) -> str:
    thick = Manner(LETTER, units=units).size(part.thickness)
    return worded("{name}, {wood}, {thick} thick", name=part.name, wood=translated(part.wood), thick=thick)


def _plain(note: str) -> str:
    """The note without what it says twice."""
    words = note.split(", ")
    return ", ".join(
        word for i, word in enumerate(words) if not any(word in earlier.replace("-", " ") for earlier in words[:i])
    )


def _unders(part: Part, manner: Manner) -> str:
    """Depths on the underside where its lines are those of the top, a line each."""
    found = {(f.kind, manner.depth(f.depth)): None for f in part.features_on("bottom")}
    return "\n".join(
        worded("other side, same lines: {what}, {depth}", what=translated(kind.replace("-", " ")), depth=depth)
        for kind, depth in found
    )


def _fine(layer: Layer) -> Layer:
    return replace(layer, weight=WEIGHTS.get(layer.name, OTHER_WEIGHT))


def _clean(view: View, wood: Outline, cut: Sequence[Mark]) -> Iterator[Mark]:
    """The view's work inside the wood, each line once, without sizes and names that stand elsewhere."""
    drawn: list[Edge] = edges_of(cut)
    for mark in view.marks:
        strokes = fresh_strokes(_fine(mark.layer), inside(mark.edges, wood), drawn)
        drawn += edges_of(strokes)
        yield from strokes


def _is_letter(words: Words) -> bool:
    """Whether it is the letter of some work, which the legend explains."""
    return words.layer.name == TEXT.name and len(words.text) <= 2


def _traces(outer: Outline, holes: Iterable[Outline], by: float) -> Iterator[Mark]:
    """The second line, outside the part and inside its holes."""
    if by == 0:
        return
    for outline, way in ((outer, by), *((hole.anticlockwise, -by) for hole in holes)):
        for ring in offset(outline, way, "rounded"):
            yield Shape(TRACE, ring)


def _drill_centres(part: Part, way: Placement, face: str) -> Iterator[Mark]:
    """A fine cross with a ring in the middle of every hole and mortise, so that one prick marks it."""
    middles = [way.point(hole.bounds.centre) for hole in part.holes]
    middles += [feature.outline.bounds.centre for feature in part.features_on(face) if feature.traits.centred]
    seen: set[tuple[int, int]] = set()
    for at in middles:
        if (round(at.x), round(at.y)) in seen:
            continue
        seen.add((round(at.x), round(at.y)))
        for turn in (0.0, pi / 2):
            ray = Point(DRILL_ARM, 0).turned(turn)
            yield Stroke(DRILL, Line(at.minus(ray), at.plus(ray)))
        for start in (0.0, pi):
            yield Stroke(DRILL, arc_round(at, DRILL_RING, start, pi))


def _dear(part: Part, way: Placement) -> Iterator[Bounds]:
    """Boxes of work that is small enough to be spared by seams, and of holes."""
    for hole in part.holes:
        yield way.outline(hole).bounds
    for feature in part.features:
        if feature.face == "top" or feature.face == "bottom":
            outline = way.outline(OVER.outline(feature.outline) if feature.face == "bottom" else feature.outline)
            box = outline.bounds
            if box.width < TINY and box.height < TINY * 2:
                yield box
