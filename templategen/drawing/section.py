"""Sections cut from the solids: cut faces hatched, what stands beyond drawn thin, with sizes."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from templategen.catalogue import worded
from templategen.drawing.balloons import balloons, parts_list
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words, marks_box
from templategen.drawing.elevation import BEYOND, CUT, FLOOR, HATCH, heights, widths
from templategen.drawing.hatch import hatch, styles
from templategen.drawing.layers import CENTRE, TEXT
from templategen.drawing.lettering import LINE_FEED
from templategen.drawing.projection import FRONT, PLAN
from templategen.drawing.section_wood import glides_seen
from templategen.geometry.bounds import Bounds
from templategen.geometry.coincide import uncovered
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline, polygon
from templategen.geometry.point import Point, Vertex
from templategen.geometry.rounded import QUARTER_BULGE
from templategen.table.assembly import Table
from templategen.view.runs import SHORTEST, runs
from templategen.view.sight import see
from templategen.view.slice import Plane, Slice, beyond, slices

LETTERS = 56.0
"""The table is so many capital heights wide."""

GAP_SHARE = 110.0
"""Hatch lines are one in so many of the longer side apart."""

CORNER = 0.1
"""The rim's outer edge is known to this in a slice, whose arcs are told by chords, mm; it is drawn where it is."""


def section_drawing(table: Table) -> Drawing:
    """The table cut through its axis along the first arm: x outwards, y up from the floor, true size."""
    height = max(4.0, table.profile.top.diameter / LETTERS)
    return Drawing(worded("{title} section", title=table.profile.title), (*_section(table, height),))


def elevation_sheet(table: Table, revision: str) -> Drawing:
    """The same as a sheet of its own: lettered for paper, with balloons, parts list and title."""
    height = max(4.0, table.profile.top.diameter / 120)
    marks = [*_section(table, height)]
    spots: dict[str, list[Point]] = {}
    for mark in marks:
        if isinstance(mark, Shape) and mark.part:
            spots.setdefault(mark.part, []).append(_inside(mark.outline))
    marks += balloons(table, marks_box(marks), spots, height, left_only=True)
    left, low = -table.sizes.radius, -12 * height
    half = table.sizes.arms // 2
    lines = (
        table.profile.title,
        worded(
            "section through arm 1 (right) and arm {other} (left), true size; hatched: wood that is cut",
            other=half + 1,
        ),
        worded("thin: wood beyond; long dash and dot: the table's axis. Revision {revision}", revision=revision),
    )
    marks += (Words(TEXT, Point(left, low - i * LINE_FEED * height), height, line) for i, line in enumerate(lines))
    marks += parts_list(table, Point(left, low - (len(lines) + 1) * LINE_FEED * height), height * 0.7)
    return Drawing(worded("{title} elevation", title=table.profile.title), tuple(marks))


def _inside(outline: Outline) -> Point:
    """The middle of a face, or where that lies in a groove a point of the wood beside it."""
    box = outline.bounds
    spots = (box.centre, Point(box.centre.x, (box.centre.y + box.top) / 2), outline.edges[0].point_at(0.5))
    return next((spot for spot in spots if outline.contains(spot)), spots[-1])


def _section(table: Table, height: float) -> Iterator[Mark]:
    plane = Plane(FRONT)
    faces = slices(table, plane)
    marks: list[Mark] = [*hatched(table, faces, table.profile.top.diameter / GAP_SHARE)]
    outlines = [(face.index, _with_rounds(table, face.index, ring)) for face in faces for ring in face.rings]
    drawn = [edge for _, outline in outlines for edge in outline.edges]
    marks += standing_beyond(table, plane, drawn)
    marks += [Shape(CUT, outline, table.placed[index].code) for index, outline in outlines]
    marks += (Shape(BEYOND, glide) for glide in glides_seen(table.sizes))
    reach, top = table.sizes.radius * 1.08, table.profile.top.height
    marks.append(Stroke(FLOOR, Line(Point(-reach, 0), Point(reach, 0))))
    marks.append(Stroke(CENTRE, Line(Point(0, -3 * height), Point(0, top + 3 * height))))
    yield from (*marks, *heights(table, height), *widths(table, height))


def _with_rounds(table: Table, index: int, ring: Sequence[tuple[float, float]]) -> Outline:
    """A face's outline; the rim's outer rounds, which a slice tells by chords, as the arcs that they are."""
    if table.part(table.placed[index].code).kind != "rim-segment":
        return polygon(ring)
    r, top = table.profile.top.edge_round, table.profile.top.height
    side = 1.0 if ring[0][0] > 0 else -1.0
    x, low, high = table.sizes.radius - r, table.sizes.top_underside + r, top - r
    corners = [(Point(side * x, level), up) for level, up in ((low, -1.0), (high, 1.0))] if r else []
    vertices = [Vertex(*at) for at in polygon(ring).points]
    for middle, up in corners:
        vertices = _rounded(vertices, middle, r, side, up)
    return Outline(tuple(vertices))


def _rounded(vertices: list[Vertex], middle: Point, r: float, side: float, up: float) -> list[Vertex]:
    """The vertices with those along a quarter round drawn as its two ends and one arc."""
    on = [
        abs(Point(v.x, v.y).distance(middle) - r) < CORNER
        and (v.x - middle.x) * side > -CORNER
        and (v.y - middle.y) * up > -CORNER
        for v in vertices
    ]
    start = next((i for i, here in enumerate(on) if here and not on[i - 1]), None)
    if start is None:
        return vertices
    turned, flags = vertices[start:] + vertices[:start], on[start:] + on[:start]
    count = next((i for i, here in enumerate(flags) if not here), len(flags))
    ends = [middle.plus(Point(side * r, 0.0)), middle.plus(Point(0.0, up * r))]
    first, last = ends if Point(turned[0].x, turned[0].y).distance(ends[0]) < r / 2 else ends[::-1]
    bend = QUARTER_BULGE if first.minus(middle).cross(last.minus(middle)) > 0 else -QUARTER_BULGE
    return [Vertex(*first, bend), Vertex(*last), *turned[count:]]


def hatched(table: Table, faces: Sequence[Slice], gap: float) -> Iterator[Mark]:
    """Lines over every face, neighbours unlike."""
    rings = [face.rings for face in faces]
    for face, own, style in zip(faces, rings, styles(rings), strict=True):
        for line in hatch(own, style, gap):
            yield Stroke(HATCH, line, table.placed[face.index].code)


def standing_beyond(table: Table, plane: Plane, drawn: Sequence[Edge]) -> Iterator[Stroke]:
    """Visible edges behind the plane that no cut face draws already."""
    bodies = beyond(table, plane)
    boxed = [(edge.bounds, edge) for edge in drawn]
    lines = runs(see([body for _, body in bodies], PLAN))
    for (index, _), own in zip(bodies, lines, strict=True):
        for run in own:
            for one, other in pairwise(run.points):
                for piece in _not_drawn(Line(Point(*one), Point(*other)), boxed):
                    if piece.length > SHORTEST:
                        yield Stroke(BEYOND, piece, table.placed[index].code)


def _not_drawn(edge: Line, drawn: Sequence[tuple[Bounds, Edge]]) -> tuple[Edge, ...]:
    box = edge.bounds
    return uncovered(edge, [other for around, other in drawn if box.meets(around, CORNER)])
