"""The elevation: the table cut through arm 0, seen from the side, each line once."""

from collections.abc import Iterable, Iterator
from math import cos, pi, sin

from templategen.catalogue import figured, worded
from templategen.drawing.dimension import arrow
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words, edges_of
from templategen.drawing.layer import Layer
from templategen.drawing.layers import CENTRE, DIMENSION, HIDDEN
from templategen.drawing.section_wood import glides_seen, rims_cut, wood_beyond, wood_cut
from templategen.drawing.unseen import fresh_strokes, inside
from templategen.geometry.coincide import uncovered
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.table.assembly import Table
from templategen.units import show_length

CUT = Layer("SECTION_CUT", "wood that the section cuts", weight=0.5)
BEYOND = Layer("SECTION_BEYOND", "wood that shows beyond the section", weight=0.25)
FLOOR = Layer("FLOOR", "the floor", weight=0.7)
HATCH = Layer("SECTION_HATCH", "end grain that the section cuts", weight=0.13)

HATCH_GAP = 6.0
"""Distance between hatch lines, mm."""


def elevation_drawing(table: Table, letters: float = 120.0) -> Drawing:
    """Section through arm 0, by sizes alone: x outwards along the arm, y up from the floor, true size; the table is
    `letters` capital heights wide.

    It needs no solids, so that it follows a size that is dragged; `section.elevation_sheet` is cut from them.
    """
    height = max(4.0, table.profile.top.diameter / letters)
    cut = tuple(wood_cut(table))
    marks: list[Mark] = [Shape(CUT, outline) for outline in cut]
    marks += fresh_strokes(HIDDEN, tuple(_hidden(table)), edges_of(marks))
    marks += fresh_strokes(BEYOND, tuple(_seen_past(tuple(wood_beyond(table)), cut)), edges_of(marks))
    marks += _hatched(rims_cut(table.sizes))
    marks += (Shape(BEYOND, glide) for glide in glides_seen(table.sizes))
    reach = table.sizes.radius * 1.08
    marks.append(Stroke(FLOOR, Line(Point(-reach, 0), Point(reach, 0))))
    marks += [
        Stroke(CENTRE, Line(Point(x, -3 * height), Point(x, table.profile.top.height + 3 * height))) for x in (0.0,)
    ]
    marks += heights(table, height)
    marks += widths(table, height)
    return Drawing(worded("{title} elevation", title=table.profile.title), tuple(marks))


def _seen_past(outlines: Iterable[Outline], cut: Iterable[Outline]) -> Iterator[Edge]:
    """The edges where no wood that is cut stands before them."""
    solid = tuple(cut)
    for outline in outlines:
        edges = list(outline.edges)
        for before in solid:
            hidden = [piece for edge in edges for piece in inside((edge,), before)]
            edges = [piece for edge in edges for piece in _without(edge, hidden)]
        yield from edges


def _without(edge: Edge, pieces: Iterable[Edge]) -> list[Edge]:
    return list(uncovered(edge, tuple(pieces)))


def _hidden(table: Table) -> Iterator[Edge]:
    """The pole hole through both crosses, and the tenons inside the rim's groove."""
    sizes, top = table.sizes, table.profile.top
    if top.pole_hole > 0:
        for low, high in ((sizes.top_underside, top.height), (sizes.foot_height, sizes.base_top)):
            for side in (-1, 1):
                x = side * top.pole_hole / 2
                yield Line(Point(x, low), Point(x, high))
    middle, half = sizes.top_underside + sizes.slat_level, table.profile.joints.tongue / 2
    for side in (-1, 1):
        inner, outer = side * sizes.inner_apothem, side * (sizes.inner_apothem + table.profile.joints.groove_depth)
        for z in (middle - half, middle + half):
            yield Line(Point(inner, z), Point(outer, z))
        yield Line(Point(outer, middle - half), Point(outer, middle + half))


def _hatched(outlines: Iterable[Outline]) -> Iterator[Mark]:
    """Lines at 45 degrees over end grain."""
    for outline in outlines:
        box = outline.bounds
        count = int((box.width + box.height) / HATCH_GAP)
        for step in range(1, count + 1):
            x = box.left - box.height + step * HATCH_GAP
            line = Line(Point(x, box.bottom), Point(x + box.height, box.top))
            for piece in inside((line,), outline):
                if piece.length > 1.0:
                    yield Stroke(HATCH, piece)


def heights(table: Table, height: float) -> Iterator[Mark]:
    """Heights from the floor, in a row to the right."""
    sizes, top = table.sizes, table.profile.top
    told = (top.height, sizes.top_underside, sizes.base_top)
    for number, level in enumerate(sorted(set(told))):
        x = sizes.radius * 1.08 + (number + 1) * 3.5 * height
        yield from dimension(Point(x, 0), Point(x, level), figured(show_length(level, table.profile.units)), height)
        yield Stroke(DIMENSION, Line(Point(_edge_at(table, level), level), Point(x + height / 2, level)))


def _edge_at(table: Table, level: float) -> float:
    """Where a level's witness line starts, clear of the wood."""
    top_level = level > table.sizes.base_top + 1e-6
    return (table.sizes.radius if top_level else table.profile.base.length / 2) + 4.0


def widths(table: Table, height: float) -> Iterator[Mark]:
    """Across the top, above it; across the ground cross, below the floor."""
    top, base, units = table.profile.top, table.profile.base, table.profile.units
    for half, y, start in (
        (top.diameter / 2, top.height + 5 * height, top.height + height / 2),
        (base.length / 2, -5 * height, -height / 2),
        (table.profile.legs.base_centre_distance, -8.5 * height, -height / 2),
    ):
        yield from dimension(Point(-half, y), Point(half, y), figured(show_length(2 * half, units)), height)
        for side in (-1, 1):
            past = y + (height / 2 if y > 0 else -height / 2)
            yield Stroke(DIMENSION, Line(Point(side * half, start), Point(side * half, past)))


def dimension(first: Point, last: Point, text: str, height: float) -> Iterator[Mark]:
    """A size between two points, its figure over the line."""
    upright = abs(first.x - last.x) < 1e-9
    yield from arrow(DIMENSION, first, last, height * 0.8)
    middle = first.plus(last.minus(first), 0.5)
    turn = pi / 2 if upright else 0.0
    at = middle.plus(Point(-sin(turn), cos(turn)), height * 0.45)
    yield Words(DIMENSION, at, height, text, "middle", turn)
