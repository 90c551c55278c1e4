"""Where a part stands: a small plan of the table with its copies filled in."""

from collections.abc import Iterable, Iterator

from templategen.catalogue import worded
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke
from templategen.drawing.layer import Layer
from templategen.drawing.section_wood import silhouette
from templategen.fit.bench import GROUND
from templategen.geometry.outline import Outline, circle
from templategen.geometry.placement import Placement
from templategen.table.assembly import Table
from templategen.table.placed import Placed

HIGHLIGHT = Layer("HIGHLIGHT", "the part of this sheet", "orange", weight=0.13, filled=True)
HIGHLIGHT_EDGE = Layer("HIGHLIGHT_EDGE", "outline of the part of this sheet", weight=0.5)
OTHERS = Layer("PLACE_OTHERS", "the other parts", weight=0.13)
ABOVE = Layer("PLACE_ABOVE", "edge of the top above", "black", "long-dash-double-dot", 0.18)


def place_drawing(table: Table, code: str) -> Drawing:
    """The plan of the top, or of the pedestal for a part of that, from above; copies of `code` filled in."""
    ground = table.part(code).kind in GROUND
    same = [placed for placed in table.placed if (table.part(placed.code).kind in GROUND) == ground]
    marks: list[Mark] = [*_others(table, (placed for placed in same if placed.code != code))]
    for outline in (in_plan(table, placed) for placed in same if placed.code == code):
        marks.append(Shape(HIGHLIGHT, outline, code))
        marks += [Stroke(HIGHLIGHT_EDGE, edge, code) for edge in outline.edges]
    if ground:
        marks.append(Shape(ABOVE, circle(0.0, 0.0, table.sizes.radius)))
    title = worded("Where {code} stands, {count} of them, from above", code=code, count=table.part(code).count)
    return Drawing(title, tuple(marks))


def _others(table: Table, others: Iterable[Placed]) -> Iterator[Mark]:
    for placed in others:
        if table.part(placed.code).kind != "spline":
            yield Shape(OTHERS, in_plan(table, placed), placed.code)


def in_plan(table: Table, placed: Placed) -> Outline:
    """What a copy covers in plan: its outline (a slat's between its shoulders), the hull of one that stands."""
    part = table.part(placed.code)
    if abs(placed.axes[0].z) < 0.5:
        return Placement(placed.at.x, placed.at.y, placed.turn, placed.turned_over).outline(part.body or part.outline)
    corners = (placed.point(v.x, v.y, z) for v in part.outline for z in (0.0, part.thickness))
    return silhouette((corner.x, corner.y) for corner in corners)
