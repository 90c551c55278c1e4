"""The table's year as a picture: two slats side by side, driest, as built and wettest, and the gap between them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from templategen.catalogue import figured, translated, worded
from templategen.drawing.dimension import arrow
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.drawing.layers import CENTRE, DIMENSION, TEXT
from templategen.drawing.manner import Manner
from templategen.geometry.edge import Line
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.table.profile.choices import Units

SLATS = Layer("WOOD_MIDDLE", "slats, seen on their ends", weight=0.13, filled=True)
EDGES = Layer("YEAR_EDGES", "edges of the slats", weight=0.35)
LEAST = Layer("YEAR_LEAST", "the least gap that drains, limits.drain_gap", "vermilion", "dashed", 0.35)


@dataclass(frozen=True, slots=True)
class Season:
    """A time of the year: moisture in %, widths of a slat and of the rim and the gap, mm."""

    name: str
    moisture: float
    width: float
    gap: float
    rim: float


def year_picture(seasons: Sequence[Season], drains: float, units: Units = "mm") -> Drawing:
    """A row for each season, true size across; slats stay on their centre lines. `drains` is the least gap that
    drains, drawn through all rows about the middle of the gap."""
    pitch = seasons[0].width + seasons[0].gap
    manner = Manner(max(2.2, pitch / 24), units=units)
    row = manner.height * 6
    marks: list[Mark] = []
    for number, season in enumerate(seasons):
        marks += _row(season, -number * row, pitch, manner)
    low, high = -(len(seasons) - 1) * row - manner.height, manner.height * 3.6
    for x in (-drains / 2, drains / 2):
        marks.append(Stroke(LEAST, Line(Point(x, low), Point(x, high))))
    return Drawing(translated("Gaps over the year"), tuple(marks))


def _row(season: Season, low: float, pitch: float, manner: Manner) -> Iterator[Mark]:
    thick, height = manner.height * 2.4, manner.height
    for sign in (-1, 1):
        inner, outer = sign * season.gap / 2, sign * (season.gap / 2 + season.width)
        slat = rectangle(min(inner, outer), low, max(inner, outer), low + thick)
        yield Shape(SLATS, slat)
        yield Shape(EDGES, slat)
        middle = sign * pitch / 2
        yield Stroke(CENTRE, Line(Point(middle, low - height * 0.6), Point(middle, low + thick + height * 0.6)))
        at = Point(middle + sign * height * 0.8, low + thick / 2 - height / 2)
        yield Words(DIMENSION, at, height, manner.figure(season.width), "start" if sign > 0 else "end")
    gap = season.gap / 2
    if gap > 0:
        yield from arrow(DIMENSION, Point(-gap, low + thick / 2), Point(gap, low + thick / 2), height * 0.6)
    far = pitch / 2 + max(season.width, pitch) / 2 + height
    words = figured(f"{translated(season.name)}, {season.moisture:.1f} %")
    yield Words(TEXT, Point(-far, low + thick / 2 - height / 2), height, words, "end")
    told = worded("gap {size}", size=manner.figure(season.gap))
    yield Words(TEXT, Point(far, low + thick / 2 - height / 2), height, told)
