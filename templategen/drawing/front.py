"""The elevation from outside: the table as it stands, hidden edges removed, with its sizes."""

from __future__ import annotations

from templategen.drawing.drawing import Drawing, Mark, Stroke
from templategen.drawing.elevation import FLOOR, heights, widths
from templategen.drawing.hidden import Subject, pictured
from templategen.drawing.layers import CENTRE
from templategen.drawing.projection import FRONT
from templategen.drawing.section import LETTERS
from templategen.geometry.edge import Line
from templategen.geometry.point import Point
from templategen.table.assembly import Table
from templategen.view.sight import table_bodies


def front_drawing(table: Table) -> Drawing:
    """The elevation square to the first arm: x along that arm, y up from the floor, true size."""
    height = max(4.0, table.profile.top.diameter / LETTERS)
    bodies = table_bodies(table, range(len(table.placed)))
    subjects = [Subject(body, placed.code) for body, placed in zip(bodies, table.placed, strict=True)]
    reach, top = table.sizes.radius * 1.08, table.profile.top.height
    marks: list[Mark] = [*pictured(subjects, FRONT).marks]
    marks.append(Stroke(FLOOR, Line(Point(-reach, 0), Point(reach, 0))))
    marks.append(Stroke(CENTRE, Line(Point(0, -3 * height), Point(0, top + 3 * height))))
    marks += [*heights(table, height), *widths(table, height)]
    return Drawing(f"{table.profile.title}: elevation", tuple(marks))
