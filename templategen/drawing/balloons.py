"""Balloons: the numbers of a drawing's parts list, in rings beside the drawing, each on a line to its part."""

from collections.abc import Iterable, Iterator, Mapping
from math import ceil

from templategen.catalogue import worded
from templategen.drawing.drawing import Mark, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.drawing.leaders import columns
from templategen.drawing.lettering import LINE_FEED, text_width
from templategen.drawing.manner import Manner
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.outline import circle
from templategen.geometry.point import Point
from templategen.table.assembly import Table

BALLOON = Layer("ITEM_NUMBER", "number of a part in the parts list of the drawing", weight=0.25)

RADIUS = 1.3
"""A balloon's, in capital heights."""

LISTS = 3
"""Columns of a parts list under a drawing of the table."""


def items(table: Table) -> dict[str, int]:
    """The number of each part, counted on in the order of the cut list."""
    return {part.code: number for number, part in enumerate(table.parts, 1)}


def balloons(
    table: Table, box: Bounds, spots: Mapping[str, Iterable[Point]], height: float, left_only: bool = False
) -> Iterator[Mark]:
    """A balloon beside what is drawn in `box` for each code; its line goes to the nearest of the code's spots."""
    numbers = items(table)
    places = {code: sorted(own) for code, own in spots.items()}
    ends = {code: (own[0], own[-1]) for code, own in places.items() if own}
    for sign, code, foot, end in columns(box, ends, height * RADIUS * 1.4, left_only):
        middle = Point(foot.x + sign * height * RADIUS, foot.y)
        yield Shape(BALLOON, circle(middle.x, middle.y, height * RADIUS), code)
        yield Words(BALLOON, middle.plus(Point(0, -height / 2)), height, str(numbers[code]), "middle", 0.0, code)
        yield Stroke(BALLOON, Line(foot, end), code)
        yield Shape(BALLOON, circle(end.x, end.y, height / 6), code)


def parts_list(table: Table, at: Point, height: float) -> Iterator[Words]:
    """The list under a drawing, its upper left corner at `at`: number, code, name, how many, finished size."""
    manner = Manner(height, units=table.profile.units)
    rows = [
        f"{number}  {part.code}  {part.name}, {worded('{count} off', count=part.count)}, {manner.sizes(*part.size)}"
        for part, number in zip(table.parts, items(table).values(), strict=True)
    ]
    most = ceil(len(rows) / LISTS)
    x = at.x
    for first in range(0, len(rows), most):
        column = rows[first : first + most]
        for row, text in enumerate(column):
            yield Words(BALLOON, Point(x, at.y - row * height * LINE_FEED), height, text)
        x += max(text_width(text, height) for text in column) + height
