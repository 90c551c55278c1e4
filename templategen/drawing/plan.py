"""The plan: the table from above, each line once; hidden joints dashed, the pedestal in its own line type."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from math import cos, pi, sin

from templategen.catalogue import figured, translated, worded
from templategen.drawing.balloons import balloons, parts_list
from templategen.drawing.drawing import Drawing, Mark, Stroke, Words
from templategen.drawing.label import boxes_of
from templategen.drawing.layer import Layer
from templategen.drawing.layers import CENTRE, DIMENSION, HIDDEN, TEXT
from templategen.drawing.lettering import text_width
from templategen.drawing.pieces import Taken, pieces
from templategen.drawing.unseen import fresh_strokes
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline, circle, distance_to
from templategen.geometry.placement import OVER, Placement
from templategen.geometry.point import Point, polar
from templategen.parts.part import Part, PartKind
from templategen.table.assembly import Table
from templategen.table.pins import PIN_OF, pin_from_end, pinned_ends
from templategen.table.placed import Placed
from templategen.units import show_length

EDGE = Layer("PLAN_EDGE", "edges of the top that show from above", weight=0.5)
EASED = Layer("PLAN_EASED", "where round-overs and chamfers of the top's upper edges end", weight=0.18)
PEDESTAL = Layer("PLAN_PEDESTAL", "legs, ground cross and feet below", "blue", "long-dash-double-dot", 0.25)
PINS = Layer("PLAN_PIN", "pins of the slats, bored from below", "vermilion", "continuous", 0.25)

ASIDE: Mapping[PartKind, tuple[float, float]] = {
    "rim-segment": (0.3, 0.0), "slat": (0.2, 0.0), "spline": (0.0, 0.3), "rail": (0.46, 0.2),
    "base-rail": (0.36, -0.25), "foot": (0.3, 0.3),
}  # fmt: skip
"""Where on a flat part its balloon's line may end, on either side of its middle: shares of its length and width."""

SLID = (0, *(side * aside for aside in range(1, 12) for side in (1, -1)))
"""How far along its part a code may stand from where it belongs, in capital heights."""

BESIDE = tuple(side * aside for aside in range(4, 25, 2) for side in (1, -1))
"""How far beside its arm an arm's number may stand, in capital heights, the first that no line crosses."""

ALONG = tuple(side * share / 25 for side in (1, -1) for share in (18, 19, 17, 20, 16, 21, 15, 22, 14, 13, 12, 11, 10))
"""Where along a rail its code is tried, shares of its half, the first end's first."""

SHOWN = "plan from above, true size; thin: where eased edges end; slats are named by their number alone"
LINES = (
    "dashed: tongues, tenons and splines; circles: pins, bored from below; long dash, two dots: pedestal below;"
    " (A): letter of a joint"
)

SAME = 1e-4
"""Edges whose ends agree to this are one edge, mm."""


CODES = 0.7
"""Codes of parts are so much smaller than other words."""


def plan_letters(table: Table, letters: float = 120.0) -> float:
    """The height of capitals on a plan that is `letters` of them wide, mm."""
    return max(4.0, table.profile.top.diameter / letters)


def plan_drawing(table: Table, revision: str = "", letters: float = 120.0, titled: bool = True) -> Drawing:
    """The plan, centre at the origin, true size; the table is `letters` capital heights wide; words under it where
    `titled`."""
    height = plan_letters(table, letters)
    marks: list[Mark] = []
    seen: set[tuple[int, ...]] = set()
    for stroke in (*_shown(table), *_eased(table), *_hidden(table), *_pins(table), *_below(table)):
        key = _key(stroke.edge)
        if stroke.edge.length > SAME and key not in seen:
            seen.add(key)
            marks.append(stroke)
    marks += _centre_lines(table)
    numbered = tuple(balloons(table, _around(table, height), _spots(table), height)) if titled else ()
    lines = Taken(pieces((*marks, *numbered), height * 0.7), height * 0.7 / 3)
    marks += [*_codes(table, height * CODES, lines), *_rail_codes(table, height * CODES, lines)]
    marks += _sizes(table, height)
    marks += (*numbered, *_sheet_marks(table, numbered, revision, height)) if titled else ()
    return Drawing(worded("{title} plan", title=table.profile.title), tuple(marks))


def _key(edge: Edge) -> tuple[int, ...]:
    """The same for an edge walked either way."""
    ends = sorted((round(p.x / SAME), round(p.y / SAME)) for p in (edge.start, edge.end))
    middle = edge.point_at(0.5)
    return (*ends[0], *ends[1], round(middle.x / SAME), round(middle.y / SAME))


def _laid(table: Table, *kinds: str) -> Iterator[tuple[Part, Placed, Placement]]:
    """The flat parts of those kinds, each with its placement in plan."""
    parts = {part.code: part for part in table.parts}
    for placed in table.placed:
        part = parts[placed.code]
        if part.kind in kinds:
            yield part, placed, Placement(placed.at.x, placed.at.y, placed.turn, placed.turned_over)


def _shown(table: Table) -> Iterator[Stroke]:
    for part, _, way in _laid(table, "rim-segment"):
        for edge in way.outline(part.outline).edges:
            yield Stroke(EDGE, edge, part.code)
    for part, _, way in _laid(table, "rail"):
        yield from (Stroke(EDGE, way.edge(edge), part.code) for edge in _rail_edges(table, part))
    top_rail = [part for part, _, _ in _laid(table, "rail")][-1]
    for hole in top_rail.holes:
        yield from (Stroke(EDGE, edge, top_rail.code) for edge in hole.edges)
    for part, _, way in _laid(table, "slat"):
        assert part.body is not None
        sides = (edge for edge in part.body.edges if _is_long_side(edge, part.body))
        yield from (Stroke(EDGE, way.edge(edge), part.code) for edge in sides)


def _eased(table: Table) -> Iterator[Stroke]:
    """The lines on which shaped cutters end on the faces that lie up."""
    for part, placed, way in _laid(table, "rim-segment", "rail", "slat"):
        for edge in _cutter_ends(part, placed.turned_over):
            yield Stroke(EASED, way.edge(edge), part.code)


@lru_cache(maxsize=128)
def _cutter_ends(part: Part, turned_over: bool) -> tuple[Edge, ...]:
    """Those lines of one face, in the part's frame, without what edges of the wood draw."""
    strips = [f.outline for f in part.features_on("bottom" if turned_over else "top") if f.traits.arris]
    edges = [edge for strip in strips for edge in (OVER.outline(strip) if turned_over else strip).edges]
    wood = (*part.outline.edges, *(part.body.edges if part.body else ()))
    return tuple(stroke.edge for stroke in fresh_strokes(EASED, edges, wood))


def _rail_edges(table: Table, rail: Part) -> Iterator[Edge]:
    """The rail's long edges where no rail crosses above it."""
    reach, b = table.sizes.inner_apothem, table.sizes.half_rail
    for y in (-b, b):
        covered = [(-reach, -reach)]
        for lap in rail.cuts("lap"):
            if lap.face != "top":
                continue
            spots = [p.x for p in lap.outline.points if abs(p.y - y) < SAME]
            covered += [(min(spots), max(spots))] if len(spots) > 1 else []
        covered.append((reach, reach))
        for (_, start), (end, _) in pairwise(covered):
            yield Line(Point(start, y), Point(end, y))


def _is_long_side(edge: Edge, body: Outline) -> bool:
    """Whether the edge runs along the slat, on its lower or upper side."""
    box = body.bounds
    flat = abs(edge.start.y - edge.end.y) < SAME
    return flat and min(abs(edge.start.y - box.bottom), abs(edge.start.y - box.top)) < SAME


def _hidden(table: Table) -> Iterator[Stroke]:
    """Tongues, tenons and splines inside their grooves and slots."""
    for part, _, way in _laid(table, "slat"):
        assert part.body is not None
        for edge in part.outline.edges:
            if not _along(part.body, edge):
                yield Stroke(HIDDEN, way.edge(edge), part.code)
    for part, _, way in _laid(table, "rail"):
        for edge in part.outline.edges:
            if min(abs(edge.start.x), abs(edge.end.x)) > table.sizes.inner_apothem - SAME:
                yield Stroke(HIDDEN, way.edge(edge), part.code)
    for part, _, way in _laid(table, "spline"):
        yield from (Stroke(HIDDEN, edge, part.code) for edge in way.outline(part.outline).edges)


def _pins(table: Table) -> Iterator[Stroke]:
    """The pins, and the slots in which they slide, less the ends of tongues."""
    tongue, pin, deep = table.sizes.tongue_length, PIN_OF[table.profile.units], pin_from_end(table.sizes)
    for part, _, way in _laid(table, "slat"):
        assert part.body is not None
        for end in pinned_ends(part.body, part.outline, tongue, pin):
            at = way.point(end.inside(deep))
            yield from (Stroke(PINS, edge, part.code) for edge in circle(at.x, at.y, pin.thick / 2).edges)
        for slot in part.cuts("pin-slot"):
            sides = (edge for edge in slot.outline.edges if not _along(part.outline, edge))
            yield from (Stroke(HIDDEN, way.edge(edge), part.code) for edge in sides)


def _along(body: Outline, edge: Edge) -> bool:
    """Whether the whole edge lies on the body's ring."""
    return all(min(distance_to(e, edge.point_at(share)) for e in body.edges) < SAME for share in (0.25, 0.5, 0.75))


def _below(table: Table) -> Iterator[Stroke]:
    for part, placed, way in _laid(table, "base-rail", "foot"):
        if part.kind == "base-rail" or placed.at.z < SAME:
            yield from (Stroke(PEDESTAL, edge, part.code) for edge in way.outline(part.outline).edges)
    half, distance = table.profile.legs.section / 2, table.profile.legs.centre_distance
    for arm in range(table.sizes.arms):
        way = Placement(turn=arm * table.sizes.field_angle)
        spots = [Point(distance + dx * half, dy * half) for dx, dy in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
        for i, spot in enumerate(spots):
            yield Stroke(PEDESTAL, way.edge(Line(spots[i - 1], spot)), "LEG")


def _centre_lines(table: Table) -> Iterator[Mark]:
    reach = table.sizes.outer_apothem * 1.03
    for rail in range(table.sizes.rails):
        angle = rail * table.sizes.field_angle
        yield Stroke(CENTRE, Line(polar(-reach, angle), polar(reach, angle)))


def _codes(table: Table, height: float, lines: Taken) -> Iterator[Mark]:
    """Each part's code along its run, so that it reads from below or from the right, clear of lines."""
    for part, _, way in _laid(table, "rim-segment", "slat"):
        box = (part.body or part.outline).bounds
        middle = box.centre
        if part.kind == "rim-segment":
            middle = Point(table.sizes.inner_length * 0.22, table.profile.top.rim_width * 0.4)
        code = part.code.removeprefix("SLAT-")
        room = (box.width - text_width(code, height)) / 2
        spots = [way.point(middle.plus(Point(aside * height, 0))) for aside in SLID if abs(aside) * height <= room]
        words = _clear(
            [_words(TEXT, spot, height, code, way.turn, box.width) for spot in spots or [way.point(middle)]], lines
        )
        yield replace(words, part=part.code)


def _clear(tried: Sequence[Words], lines: Taken) -> Words:
    """The first that no line crosses nor other such words meet."""
    found = next((words for words in tried if not lines.meets_any(boxes_of(words), 0.0, 0.0)), tried[0])
    for box in boxes_of(found):
        lines.take(box)
    return found


def _rail_codes(table: Table, height: float, lines: Taken) -> Iterator[Mark]:
    """Each rail's code along it, between its middle and its groove, the nearest place that no line crosses."""
    aside = (table.sizes.half_rail - table.profile.joints.groove_depth) / 2
    for part, _, way in _laid(table, "rail"):
        spots = [Point(share * table.sizes.inner_apothem, side * aside) for share in ALONG for side in (1, -1)]
        tried = [_words(TEXT, way.point(spot), height, part.code, way.turn, 1e9) for spot in spots]
        yield replace(_clear(tried, lines), part=part.code)


def _words(layer: Layer, at: Point, height: float, text: str, turn: float, room: float) -> Words:
    upright = (turn + pi / 2 - 1e-9) % (2 * pi) < pi
    turn = turn if upright else turn + pi
    height = min(height, room / max(len(text), 1))
    down = Point(sin(turn), -cos(turn)).times(height / 2)
    return Words(layer, at.plus(down), height, text, "middle", turn)


def _sizes(table: Table, height: float) -> Iterator[Mark]:
    """The diameter under the plan."""
    radius, low = table.profile.top.diameter / 2, -table.sizes.outer_apothem * 1.03 - 3 * height
    yield Stroke(DIMENSION, Line(Point(-radius, low), Point(radius, low)))
    for side in (-1, 1):
        end = Point(side * radius, low)
        yield Stroke(DIMENSION, Line(end.plus(Point(0, -height)), end.plus(Point(0, height))))
        for rise in (-1, 1):
            barb = Point(-side * 1.2 * height, rise * 0.35 * height)
            yield Stroke(DIMENSION, Line(end, end.plus(barb)))
    size = figured(show_length(table.profile.top.diameter, table.profile.units))
    text = worded("{size} across the finished rim" if table.sizes.is_sawn else "{size} across the flats", size=size)
    yield Words(DIMENSION, Point(0, low + 0.5 * height), height, text, "middle")


def _around(table: Table, height: float) -> Bounds:
    """What balloons stand beside."""
    reach = table.sizes.outer_apothem * 1.03
    return Bounds(-reach, -reach, reach, reach).grown(4 * height)


def _sheet_marks(table: Table, numbered: Sequence[Mark], revision: str, height: float) -> Iterator[Mark]:
    """What only a sheet of its own tells besides: the arms' numbers, the balloons' parts list, the title."""
    yield from arm_numbers(table, numbered, height)
    title = tuple(_title(table, revision, height))
    yield from title
    yield from parts_list(table, title[-1].at.plus(Point(0, -3 * height)), height * 0.7)


def arm_numbers(table: Table, beside: Sequence[Mark], height: float) -> Iterator[Mark]:
    """The arms' numbers past the rim, from the first anticlockwise, clear of what stands there."""
    reach = table.sizes.outer_apothem * 1.03
    sizes = (mark for mark in _sizes(table, height) if isinstance(mark, Words))
    lines = Taken(pieces((*beside, *sizes), height), height / 3)
    for arm in range(table.sizes.arms):
        way = polar(1.0, arm * table.sizes.field_angle)
        spots = (way.times(reach + 2 * height).plus(way.left, aside * height) for aside in BESIDE)
        tried = [_words(TEXT, spot, height, worded("arm {arm}", arm=arm + 1), 0.0, 1e9) for spot in spots]
        yield _clear(tried, lines)


def _spots(table: Table) -> dict[str, list[Point]]:
    """Points of each copy where its balloon's line may end, off its middle, where its code or a centre line is."""
    spots: dict[str, list[Point]] = {}
    for part, placed, way in _laid(table, *ASIDE):
        along, across = ASIDE[part.kind]
        box = (part.body or part.outline).bounds
        for side in (-1, 1):
            at = box.centre.plus(Point(side * along * box.width, across * box.height))
            spots.setdefault(placed.code, []).append(way.point(at))
    distance, half = table.profile.legs.centre_distance, table.profile.legs.section / 2
    for placed in table.placed:
        if table.part(placed.code).kind == "leg":
            out = polar(1.0, placed.turn + pi / 2)
            spots.setdefault(placed.code, []).append(out.times(distance).plus(out.left, half / 2))
    return spots


def _title(table: Table, revision: str, height: float) -> Iterator[Words]:
    left, low = -table.sizes.outer_apothem, -table.sizes.outer_apothem * 1.03 - 6 * height
    told = f". {worded('Revision {revision}', revision=revision)}" if revision else ""
    lines = (table.profile.title, f"{translated(SHOWN)}{told}", translated(LINES))
    for i, line in enumerate(lines):
        yield Words(TEXT, Point(left, low - i * 1.8 * height), height, line)
