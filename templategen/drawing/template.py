"""Paper templates: the faces of a part that are marked out, without sizes, to print, stick on and cut to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from math import atan2, degrees, pi

from templategen.drawing.drawing import Mark, Shape, Stroke, Words, edges_of, words_of
from templategen.drawing.label import Label, labelled
from templategen.drawing.layer import Layer
from templategen.drawing.layers import CENTRE, GRAIN, HIDDEN, TEXT, THROUGH_INSIDE, THROUGH_OUTSIDE
from templategen.drawing.manner import Manner
from templategen.drawing.mates import Meeting, centre_in, meetings, spoken
from templategen.drawing.pattern import Pattern, Sited, Template
from templategen.drawing.pieces import Taken, pieces
from templategen.drawing.unseen import OVER, foot_of, fresh_strokes, hidden_in_plan, inside
from templategen.drawing.view import View
from templategen.drawing.work import centres, work
from templategen.geometry.bounds import Bounds
from templategen.geometry.coincide import covered_share, uncovered
from templategen.geometry.edge import Edge, Line, arc_round
from templategen.geometry.offset import offset
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.parts.kinds import KINDS
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.units import angle_words

LETTER = 3.5
"""Capitals on a template, mm: the least that ISO 3098 reads by in a workshop."""

WEIGHTS = {THROUGH_OUTSIDE.name: 0.35, THROUGH_INSIDE.name: 0.35, "HIDDEN": 0.18, "GRAIN": 0.25, "TEXT": 0.25}
OTHER_WEIGHT = 0.25
"""Lines to cut by stand out, but are fine enough to cut to their middle; mm, ISO 128."""

TRACE = Layer("TRACE", "run a pencil or a bearing along this line", weight=0.18)
DRILL = Layer("DRILL_CENTRE", "middle of a hole", weight=0.18)
TO_CENTRE = Layer("TO_CENTRE", "the table's centre lies this way", weight=0.25)

DRILL_RING, DRILL_ARM = 2.0, 5.0
"""Radius of the ring round a drill centre and reach of its cross, mm."""

BETWEEN = 7.0
"""Paper between two faces of one part, mm."""

TINY = 60.0
"""Work smaller than this both ways is kept off seams, mm."""

SQUARE = 0.005
"""Ends nearer square than this carry no angle, degrees."""


def template(part: Part, table: Table) -> Template:
    """The top face at the part's own coordinates and, where it carries other lines, the underside."""
    profile = table.profile
    manner = Manner(LETTER, 0.0, profile.units, layers=profile.dxf.units)
    met = meetings(table, part)
    top = _bare_view(part, manner, "top")
    centre = centre_in(table, part.code)
    faces = [_face(part, top, met, centre, profile.paper.trace_offset, Placement())]
    legend = [*_legend(top)]
    if _has_own_lines(part):
        below = _bare_view(part, manner, "bottom")
        faces.append(_face(part, below, met, None, profile.paper.trace_offset, OVER))
        legend += ["Underside, turned over left to right:", *_legend(below)]
    else:
        legend += _unders(part, manner)
    return Template(part.code, part.count, _named(part, profile.units), part.handed, tuple(faces), tuple(legend),
                    centre, part.grain)  # fmt: skip


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
    thick = Manner(LETTER, units=units).figure(part.thickness)
    return f"{part.name}, {part.wood}, {thick} {units} thick"


def _legend(view: View) -> Iterator[str]:
    """The view's notes without the names of the router's layers."""
    return (_plain(note.partition(" [")[0]) for note in view.notes)


def _plain(note: str) -> str:
    """The note without what it says twice."""
    words = note.split(", ")
    return ", ".join(
        word for i, word in enumerate(words) if not any(word in earlier.replace("-", " ") for earlier in words[:i])
    )


def _unders(part: Part, manner: Manner) -> list[str]:
    """Depths on the underside where its lines are those of the top."""
    found = {(f.kind, manner.depth(f.depth)): None for f in part.features_on("bottom")}
    return [f"underside, same lines: {kind.replace('-', ' ')}, {depth}" for kind, depth in found]


def _has_own_lines(part: Part) -> bool:
    """Whether work on the underside has a line in plan that neither the cut nor the top's work has."""
    cut = [OVER.outline(f.outline) for f in part.features_on("bottom") if not f.traits.arris]
    known = [edge for feature in part.features_on("top") for edge in feature.outline.edges]
    known += [edge for ring in (part.outline, *part.holes) for edge in ring.edges]
    return any(uncovered(edge, known) for outline in cut for edge in inside(outline.edges, part.outline))


def _face(
    part: Part, view: View, met: Iterable[Meeting], centre: Point | None, trace: float, way: Placement
) -> Pattern:
    """One face: clean lines, then words where they are clear of them; the cut line last, on top of all."""
    region = way.region(part.region)
    cut = [Shape(_fine(THROUGH_OUTSIDE), region.outer), *(Shape(_fine(THROUGH_INSIDE), h) for h in region.holes)]
    lines = [
        *_clean(view, region.outer, cut),
        *_drill_centres(part, way),
        *_traces(region.outer, region.holes, trace),
    ]
    taken = Taken(box.grown(0.6) for box in pieces((*cut, *lines), 4.0))
    letters = [Label(words.box.centre, (words.text,)) for words in words_of(view.marks) if _is_letter(words)]
    words = labelled((*letters, *_labels(part, met, way, centre)), region, taken, LETTER)
    dear = [box.grown(1.0) for box in _dear(part, way)]
    return Pattern(
        (*lines, *words, *cut),
        (region,),
        tuple(dear),
        (Sited(part.code, "bottom" if way.turned_over else "top", way),),
    )


def _fine(layer: Layer) -> Layer:
    return replace(layer, weight=WEIGHTS.get(layer.name, OTHER_WEIGHT))


def _clean(view: View, wood: Outline, cut: Sequence[Shape]) -> Iterator[Mark]:
    """The view's work inside the wood, each line once, without sizes and names that stand elsewhere."""
    drawn: list[Edge] = edges_of(cut)
    for mark in view.marks:
        if not _is_work(mark.layer.name):
            continue
        strokes = fresh_strokes(_fine(mark.layer), inside(mark.edges, wood), drawn)
        drawn += edges_of(strokes)
        yield from strokes


def _is_work(layer: str) -> bool:
    return layer in (CENTRE.name, HIDDEN.name) or any(f"_{kind}_" in layer for kind in WORKED)


def _is_letter(words: Words) -> bool:
    """Whether it is the letter of some work, which the legend explains."""
    return words.layer.name == TEXT.name and len(words.text) <= 2


WORKED = tuple(kind.upper().replace("-", "_") for kind in KINDS)
"""How layers call the kinds of work."""


def _traces(outer: Outline, holes: Iterable[Outline], by: float) -> Iterator[Mark]:
    """The second line, outside the part and inside its holes."""
    if by == 0:
        return
    for outline, way in ((outer, by), *((hole.anticlockwise, -by) for hole in holes)):
        for ring in offset(outline, way, "rounded"):
            yield Shape(TRACE, ring)


def _drill_centres(part: Part, way: Placement) -> Iterator[Mark]:
    """A fine cross with a ring in the middle of everything round."""
    rounds = [hole for hole in part.holes if hole.circle]
    rounds += [f.outline for f in part.features_on("top") if f.traits.bored and f.outline.circle]
    seen: set[tuple[int, int]] = set()
    for outline in rounds:
        assert outline.circle is not None
        at = way.point(outline.circle[0])
        if (round(at.x), round(at.y)) in seen:
            continue
        seen.add((round(at.x), round(at.y)))
        for turn in (0.0, pi / 2):
            ray = Point(DRILL_ARM, 0).turned(turn)
            yield Stroke(DRILL, Line(at.minus(ray), at.plus(ray)))
        for start in (0.0, pi):
            yield Stroke(DRILL, arc_round(at, DRILL_RING, start, pi))


def _labels(part: Part, met: Iterable[Meeting], way: Placement, centre: Point | None) -> Iterator[Label]:
    """What is written in the wood, the most needed first."""
    box = way.outline(part.outline).bounds
    count = f" × {part.count}" + (f" {part.handed}" if part.handed else "")
    grain = way.direction(part.grain)
    turn = pi / 2 if abs(grain.y) > abs(grain.x) and box.height > box.width else 0.0
    side = " underside" if way.turned_over else ""
    yield Label(box.centre, (f"{part.code}{count}{side}", f"{part.code}{side}", part.code), turn, 1.3)
    yield Label(box.centre, sign="grain", along=grain, layer=_fine(GRAIN))
    if centre is not None and centre.distance(box.centre) > max(box.width, box.height) / 2:
        yield Label(box.centre, ("centre",), sign="arrow", along=centre.minus(box.centre).unit, layer=TO_CENTRE)
    if not way.turned_over:
        yield from _ends(part)
        yield from _mate_labels(met)


def _ends(part: Part) -> Iterator[Label]:
    """The angle of each mitred edge, and which edge or end is which."""
    faces = [face for face in part.worked_faces if face.name not in ("top", "bottom")]
    for edge in part.outline.anticlockwise.edges:
        name = next((f.name.replace("-", " ") for f in faces if covered_share(edge, foot_of(f)) is not None), "")
        angle = _off_square(edge, part.grain)
        told = f"{angle_words(angle)} off square" if angle > SQUARE else ""
        if not name and (not told or edge.length < 20):
            continue
        inward = edge.direction_at(0.5).left
        at = edge.point_at(0.5).plus(inward, LETTER * 2)
        along = edge.direction_at(0.5)
        turn = atan2(along.y, along.x)
        turn = turn + pi if not -pi / 2 < turn <= pi / 2 + 1e-9 else turn
        both = ", ".join(word for word in (name, told) if word)
        yield Label(at, tuple(dict.fromkeys(word for word in (both, told, name) if word)), turn, slide=along)


def _off_square(edge: Edge, grain: Point) -> float:
    """Degrees between a straight edge and the square across the grain; 0 for arcs, and along the grain."""
    if not isinstance(edge, Line):
        return 0.0
    along = edge.direction_at(0)
    off = degrees(atan2(abs(along.dot(grain)), abs(along.cross(grain))))
    return off if off < 80 else 0.0


def _mate_labels(met: Iterable[Meeting]) -> Iterator[Label]:
    """The mates' codes at each joint, like ones not twice side by side."""
    written: list[tuple[str, Point]] = []
    for meeting in met:
        text = "to " + spoken(meeting.codes)
        if any(text == other and at.distance(meeting.at) < TINY * 1.2 for other, at in written):
            continue
        written.append((text, meeting.at))
        yield Label(meeting.at, (text, text.removeprefix("to ")), 0.0, 0.85)


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
