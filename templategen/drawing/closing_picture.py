"""The closing study as a picture: how wide the widest joint of a ring opens, a diagram for each way of working."""

from collections.abc import Iterator
from itertools import pairwise

from templategen.catalogue import figured, translated, worded
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.drawing.layers import TEXT
from templategen.drawing.move import moved
from templategen.geometry.edge import Line
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.shop.closing.formula import chance
from templategen.shop.closing.simulate import Trial
from templategen.shop.closing.study import ClosingStudy
from templategen.shop.closing.ways import WAYS, Way
from templategen.table.profile.choices import Units
from templategen.units import decimal_figure, length_words, trimmed

BARS = Layer("TRIAL", "share of rings drawn at random, by how wide their widest joint opens", "blue", weight=0.25)
CURVE = Layer("FORMULA", "the same by closed formula", "vermilion", weight=0.5)
LIMIT = Layer("LIMIT", "what glue bridges, limits.joint_gap", "black", "long-dash-dot", 0.5)
AXIS = Layer("AXIS", "scales of the diagram", "black", "continuous", 0.25)

WIDE, TALL = 160.0, 30.0
"""A diagram's width and height, mm."""

COLUMNS, COLUMN, ROW = 2, 215.0, 62.0
"""So many stand side by side; from one to the next across and down, mm."""

HEAD = (
    "their cuts scatter and the saw's setting is off by as much as one cut",
    "across: widest opening of a ring's joints; up: share of rings",
    "bars: by trial; bold line: by closed formula",
)

LETTER, SMALL, FEED = 4.8, 4.0, 1.6
"""Heights of capitals, mm; from line to line, as a share of them."""


def closing_picture(study: ClosingStudy, title: str, units: Units = "mm") -> Drawing:
    """Histograms in rows, all on one scale, the limit drawn through them; the setting is off in all."""
    marks: list[Mark] = []
    for number, way in enumerate(WAYS):
        row, column = divmod(number, COLUMNS)
        marks += moved(tuple(_diagram(study, way, units)), Point(column * COLUMN, -row * ROW))
    marks += _head(study, title, units)
    return Drawing(worded("{title} closing the ring", title=title), tuple(marks))


def _diagram(study: ClosingStudy, way: Way, units: Units) -> Iterator[Mark]:
    trial = study.trial(way.name, True)
    tallest, wide = _tallest(trial), WIDE / len(trial.bins)
    for number, count in enumerate(trial.bins):
        if count:
            tall = TALL * min(count / tallest, 1.1)
            yield Shape(BARS, rectangle(number * wide, 0.0, (number + 1) * wide, max(tall, 0.05)))
    yield from _curve(study, way, trial)
    yield from _axes(trial, 100 * _tallest(trial) / trial.rings, units)
    yield from _limit(study, trial, units)
    figures = study.figure(way.name, True)
    title = translated(way.title)
    told = worded(
        "{chance} under the limit (by trial {share})", chance=figured(f"{100 * figures.chance:.3g} %"),
        share=figured(f"{100 * trial.share:.3g} %"),
    )  # fmt: skip
    named = worded("{way}, advised:", way=title) if way == study.advised else f"{title}:"
    yield Words(TEXT, Point(0, TALL + 5.0 + LETTER * FEED), LETTER, named)
    yield Words(TEXT, Point(0, TALL + 5.0), LETTER, told)
    beyond = trial.bins[-1] / trial.rings
    if beyond >= 0.0005:
        yield Words(TEXT, Point(WIDE + 2, TALL / 2), SMALL, figured(f"{100 * beyond:.2g} %"))
        yield Words(TEXT, Point(WIDE + 2, TALL / 2 - SMALL * FEED), SMALL, translated("wider"))


def _tallest(trial: Trial) -> int:
    """The count that reaches the top of the scale; what is wider than all steps may stand above it."""
    return max(*trial.bins[:-1], 1)


def _curve(study: ClosingStudy, way: Way, trial: Trial) -> Iterator[Mark]:
    """The formula's share of each step, at the step's middle; what is wider than the scale is left to the bars."""
    wide, tallest = WIDE / len(trial.bins), _tallest(trial) / trial.rings
    shares = [chance(study.ring, way.name, True, number * trial.step) for number in range(len(trial.bins))]
    spots = [
        Point((number + 0.5) * wide, TALL * min((after - before) / tallest, 1.0))
        for number, (before, after) in enumerate(pairwise(shares))
    ]
    for start, end in pairwise(spots):
        yield Stroke(CURVE, Line(start, end))


def _axes(trial: Trial, percent: float, units: Units) -> Iterator[Mark]:
    yield Stroke(AXIS, Line(Point(0, 0), Point(WIDE, 0)))
    yield Stroke(AXIS, Line(Point(0, 0), Point(0, TALL)))
    yield Words(AXIS, Point(-2, TALL - SMALL), SMALL, figured(f"{trimmed(percent, 1)} %"), "end")
    yield Words(AXIS, Point(-2, 0), SMALL, "0", "end")
    wide = WIDE / len(trial.bins)
    for number in range(0, len(trial.bins), 5):
        x = number * wide
        yield Stroke(AXIS, Line(Point(x, 0), Point(x, -1.2)))
        value = number * trial.step
        figure = figured(decimal_figure(value, units, (3, 4)))
        yield Words(AXIS, Point(x, -2.0 - SMALL), SMALL, figure, "middle")
    yield Words(AXIS, Point(WIDE + 8, -2.0 - SMALL), SMALL, units)


def _limit(study: ClosingStudy, trial: Trial, units: Units) -> Iterator[Mark]:
    x = WIDE / len(trial.bins) * study.ring.limit / trial.step
    yield Stroke(LIMIT, Line(Point(x, -1.0), Point(x, TALL + 2.0)))
    figure = figured(f"{decimal_figure(study.ring.limit, units, (2, 4))} {units}")
    yield Words(LIMIT, Point(x + 1.5, TALL - 1.0), SMALL, worded("limit {size}", size=figure))


def _head(study: ClosingStudy, title: str, units: Units) -> Iterator[Mark]:
    lines = (
        title,
        worded("Will the ring close? {rings} rings of {segments} segments:", rings=study.trials[0].rings,
               segments=study.ring.segments),
        *map(translated, HEAD),
    )  # fmt: skip
    for number, line in enumerate(reversed(lines)):
        yield Words(TEXT, Point(0, TALL + 14.0 + (number + 1) * LETTER * FEED), LETTER, line)
    foot = -((len(WAYS) - 1) // COLUMNS) * ROW - 18.0
    size = figured(length_words(study.outer.whole, units, (1, 2)))
    told = worded("scatters by {size} at its outer end, {share} of it from angles", size=size,
                  share=f"{100 * study.outer.angle_share:.0f} %")  # fmt: skip
    yield Words(TEXT, Point(0, foot), SMALL, translated("all to a stop, laid corner to corner: the last gap"))
    yield Words(TEXT, Point(0, foot - SMALL * FEED), SMALL, told)
