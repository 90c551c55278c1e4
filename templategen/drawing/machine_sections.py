"""Set-ups seen along the feed or from the side: planing, ripping, rebates, grooves, arrises, feet, spline ends."""

from collections.abc import Iterator
from math import atan, cos, pi, radians, tan

from templategen.catalogue import translated, worded
from templategen.drawing.bench_view import BenchView, lies_up
from templategen.drawing.drawing import Mark, Shape, Stroke, marks_box
from templategen.drawing.lettering import text_width
from templategen.drawing.machine_marks import (
    BREAK,
    CUTTER,
    MACHINE,
    MACHINE_EDGE,
    along,
    block,
    fixed,
    named,
    pointing,
    squeezed,
    upright,
    waste,
    wood,
    words,
)
from templategen.drawing.move import moved
from templategen.geometry.edge import Line
from templategen.geometry.outline import circle, polygon
from templategen.geometry.point import Point, polar
from templategen.parts.sides import tip_edge
from templategen.shop.set_ups.set_up import SettingName
from templategen.units import off_square_words

TABLE = 2.2
"""How thick a machine's table is drawn, in capital heights."""


def plane(view: BenchView) -> Iterator[Mark]:
    """Under the cutter block: the bed, the piece on it, and how high the cutters stand."""
    thick = view.value("height")
    long, letter = thick * 4, thick * 6 / 21
    yield from fixed(-letter, 0.0, long + letter, -letter * TABLE)
    yield words(named("bed"), long / 2, -letter * TABLE / 2, letter)
    yield from wood(block(0.0, 0.0, long, thick), view.part.code)
    yield from waste(block(0.0, thick, long / 2, thick + letter), letter)
    yield words(lies_up(view, view.lay.up), long * 0.5, thick / 2, letter)
    radius = letter * 2.6
    yield Shape(CUTTER, circle(long / 2, thick + radius, radius))
    yield words(named("cutter block"), long / 2, thick + radius, letter)
    yield from upright(0.0, thick, long + letter * 2.2, view.figure("height"), letter, long)


def rip(view: BenchView) -> Iterator[Mark]:
    """From the front of the saw: fence, piece, blade."""
    width, thick = view.value("fence"), view.part.thickness
    letter = max(width * 1.5, thick * 3) / 20
    yield from table_under(-letter * 3, width + letter * 6, letter, named("table"))
    yield from fixed(-letter * 2.4, 0.0, 0.0, max(thick, letter * 2) + letter * 2)
    lies = named("fence, {lies}", lies=view.side(view.lay.against))
    yield words(lies, -letter * 2.9, max(thick, letter * 2) + letter, letter, "end")
    yield from wood(block(0.0, 0.0, width, thick), view.part.code)
    told = lies_up(view, view.lay.up)
    over = thick if text_width(told, letter) + letter * 0.8 <= width else max(thick, letter * 2) + letter * 2
    yield words(told, width / 2, over + letter, letter)
    yield from waste(block(width, 0.0, width + letter * 3.5, thick), letter)
    yield Stroke(CUTTER, Line(Point(width, -letter * 0.2), Point(width, thick + letter * 1.5)))
    yield words(named("blade"), width + letter * 0.8, thick + letter * 1.2, letter, "start")
    yield from along(0.0, width, -letter * 4.4, view.figure("fence"), letter, -letter * 2.4)


def table_under(left: float, right: float, letter: float, text: str) -> Iterator[Mark]:
    yield from fixed(left, 0.0, right, -letter * TABLE)
    yield words(text, (left + right) / 2, -letter * TABLE / 2, letter)


def rebate(view: BenchView) -> Iterator[Mark]:
    """The end against the fence, the cutter under the piece: from the end to the shoulder."""
    thick, fence, depth = view.part.thickness, view.value("fence"), view.value("height")
    long = max(thick * 2.4, fence * 3)
    letter = max(long, thick * 2) / 18
    yield from table_under(-letter * 3, long + letter, letter, view.lain)
    yield from fixed(-letter * 2, 0.0, 0.0, thick + letter * 2)
    yield words(named("fence"), -letter * 2.6, thick + letter, letter, "end")
    yield from wood(block(0.0, 0.0, long, thick), view.part.code)
    yield from waste(block(0.0, 0.0, fence, depth), letter)
    yield from _torn(long, thick)
    cutter = min(view.value("cutter"), fence)
    for x in (fence - cutter, fence):
        yield Stroke(CUTTER, Line(Point(x, 0.0), Point(x, depth)))
    yield Stroke(CUTTER, Line(Point(fence - cutter, depth), Point(fence, depth)))
    yield words(named("end"), letter * 0.8, thick - letter * 1.0, letter, "start")
    told = "" if view.is_over else lies_up(view, view.lay.up)
    yield words(
        told,
        min((fence + long) / 2, long - thick * 0.1 - letter * 0.4 - text_width(told, letter) / 2),
        thick - letter * 1.0 if depth > thick / 2 else thick / 2,
        letter,
    )
    yield from along(0.0, fence, -letter * 4.6, view.figure("fence"), letter, -letter * 2.4)
    yield from upright(0.0, depth, long + letter * 2.4, view.figure("height"), letter, fence)
    if view.has("gauge") and view.set_up.way == "machine":
        plan = tuple(_on_the_gauge(view, long, letter))
        yield from moved(plan, Point(0.0, -letter * 7.0 - marks_box(plan).top))
    elif view.value("angle"):
        swung = translated(", swung") if view.lay.swung and view.set_up.way != "by hand" else ""
        yield words(off_square_words(view.value("angle")) + swung, long / 2, -letter * 7.0, letter)


def _on_the_gauge(view: BenchView, long: float, letter: float) -> Iterator[Mark]:
    """From above, the machine's fence at the left as in the section: the end that leans flat on it, and so the fence
    on the mitre gauge turned; which edge lies along that."""
    start, end = tip_edge(view.part.outline, view.lay.against)
    is_over, at_left = view.lay.up == "top", view.lay.against == "left"
    turn = atan((end.x - start.x) / (end.y - start.y)) * (1 if is_over else -1)
    half, run, fence = (
        view.part.blank.bounds.height / 2 / cos(turn),
        Point(long, long * tan(turn)),
        view.value("fence"),
    )
    low, high = Point(0.0, -half), Point(0.0, half)
    in_, thick = run.times(letter * 0.4 / long), run.left.unit.times(letter * 1.9)
    far = run.times((long + letter) / long)
    rail = polygon([high.plus(in_), high.plus(far), high.plus(far).plus(thick), high.plus(in_).plus(thick)])
    yield from (Shape(layer, rail) for layer in (MACHINE, MACHINE_EDGE))
    yield from fixed(-letter * 2, low.y - letter * 2, 0.0, high.y + letter * 4)
    yield from wood([low, low.plus(run), high.plus(run), high], view.part.code)
    cut = run.times(fence / long)
    yield from waste([low, low.plus(cut), high.plus(cut), high], letter)
    yield Stroke(CUTTER, Line(low.plus(cut), high.plus(cut)))
    edges = view.side("high" if is_over == at_left else "low"), view.side("low" if is_over == at_left else "high")
    above = max(high.y, high.plus(far).y) + letter * 3.2
    alike = [
        lay for cut in view.set_up.cuts for lay in cut.lays if (lay.code, lay.up) == (view.lay.code, view.lay.up)
    ]
    other = next((lay.against for lay in alike if lay.against != view.lay.against), None)
    if other:
        yield words(f"{view.side(other)}: {edges[1]}", letter, above, letter, "start")
        above += letter * 1.7
    yield words(named("LAP-SLED, {lies}", lies=edges[0]), letter, above, letter, "start")
    yield words(off_square_words(view.value("angle")), 0.0, low.y - letter * 3.6, letter, "start")
    yield from pointing(high.plus(Point(-letter * 3.4, 0.0)), low.plus(Point(-letter * 3.4, 0.0)), letter)


def _torn(x: float, high: float) -> Iterator[Mark]:
    """Where the rest of a long piece isn't shown."""
    for aside in (-0.05, 0.05):
        yield Stroke(BREAK, Line(Point(x + (aside - 0.04) * high, 0.0), Point(x + (aside + 0.04) * high, high)))


def _round(size: float) -> list[list[Point]]:
    """What a round-over bit takes of a corner at the origin."""
    return [[*_arc(size, 0.0), Point(0.0, 0.0)]]


def _chamfer(size: float) -> list[list[Point]]:
    return [[Point(-size, 0.0), Point(0.0, -size), Point(0.0, 0.0)]]


def _bead(size: float) -> list[list[Point]]:
    """Round the corner, and a quirk beside the bead in either face."""
    wide = size * BEAD
    top = [*_arc(wide / 2, pi / 2), Point(-size, -wide / 2), Point(-size, 0.0)]
    return [[*_arc(wide / 2, 0.0), Point(0.0, 0.0)], top, [Point(y, x) for x, y in reversed(top)]]


def _arc(radius: float, start: float) -> list[Point]:
    """A quarter of the circle that touches both faces."""
    return [Point(-radius, -radius).plus(polar(radius, start + pi / 2 * k / 16)) for k in range(17)]


BEAD = 0.8
"""A bead's share of what its bit takes of a face, as drawn; the rest is the quirk."""

TAKEN = {"chamfer": _chamfer, "bead": _bead}


def arris(view: BenchView) -> Iterator[Mark]:
    """A corner taken round or aslant, seen along the edge; on the floor of a relief the router stands on the edge."""
    name: SettingName = "radius" if view.set_up.setting("radius") else "size"
    size, thick = view.value(name), view.part.thickness
    reach = max(size * 3.2, min(thick, size * 8))
    letter = reach / 12
    yield from wood(block(-reach, -reach, 0.0, 0.0), view.part.code)
    yield from (mark for taken in TAKEN.get(view.set_up.operation, _round)(size) for mark in waste(taken, letter))
    wide, foot = max(size * 0.5, letter * 1.2), -size - letter * 0.4
    yield from fixed(0.0, foot - letter * 2.4, wide, foot)
    yield words(named("bearing"), wide + letter * 0.6, foot - letter * 1.2, letter, "start")
    told, beside, over = view.side(view.lay.worked), view.side(view.lay.against), 0.0
    if view.set_up.relieved:
        told, beside, over = beside, told, letter * TABLE
        yield from fixed(-reach - letter, over, letter * 4, 0.0)
        yield words(named("table"), -reach / 2, over / 2, letter)
        yield words(named("on the relief's floor"), wide + letter * 0.6, foot - letter * 2.8, letter, "start")
    yield from along(-size, 0.0, over + letter * 1.6, view.figure(name), letter, over)
    fits = text_width(told, letter) + letter * 1.4 <= reach - size
    yield words(told, -reach + letter, -letter * 1.4 if fits else -size - letter * 1.2, letter, "start")
    yield words(beside, letter * 0.6, -reach + letter * 1.4, letter, "start")
    if view.has("stop"):
        yield from _eased_run(view, -reach - letter * 6, letter)


def _eased_run(view: BenchView, top: float, letter: float) -> Iterator[Mark]:
    """The same from the side, under a height: from each end to where it stops, or from where it starts."""
    box, start, stop, low = view.part.blank.bounds, view.value("start"), view.value("stop"), top - letter * 3
    ends = [(start, stop), (box.width - stop, box.width - start)]
    squeeze = squeezed([0.0, box.width, *(x for pair in ends for x in pair)], 3 * letter)
    right = squeeze(box.width)
    shift = Point(-(right + letter * 14) / 2, 0.0)
    marks = [*wood(block(0.0, low, right, top), view.part.code)]
    for first, last in ends:
        marks += waste(block(squeeze(first), top - letter, squeeze(last), top), letter)
    marks += squeeze.breaks(low, top - letter)
    marks += along(
        0.0, squeeze(stop), top + letter * 1.6, worded("stop {size}", size=view.figure("stop")), letter, top, True
    )
    under = low - letter * 1.4
    if view.has("start"):
        marks += along(
            0.0,
            squeeze(start),
            low - letter * 1.6,
            worded("start {size}", size=view.figure("start")),
            letter,
            low,
            True,
        )
        under = low - letter * 4.6
    marks.append(words(translated("likewise from the other end"), right / 2, under, letter))
    yield from moved(marks, shift)


def drip(view: BenchView) -> Iterator[Mark]:
    """The groove beside the rim's edge, across it; the underside lies up."""
    near, width, deep, thick = view.value("fence"), view.value("width"), view.value("height"), view.part.thickness
    reach = (near + width) * 2.4
    letter = reach / 15
    yield from wood(block(-reach, -thick, 0.0, 0.0), view.part.code)
    yield from waste(block(-near - width, -deep, -near, 0.0), letter)
    yield from along(-near, 0.0, letter * 1.6, view.figure("fence"), letter, 0.0)
    yield from along(-near - width, -near, letter * 4.4, view.figure("width"), letter, 0.0)
    yield from upright(-deep, 0.0, letter * 1.6, view.figure("height"), letter, 0.0)
    yield words(lies_up(view, view.lay.up), -reach * 0.705, -letter * 1.8, letter)
    yield words(view.side(view.lay.against), letter * 0.6, -thick + letter, letter, "start")


def trim(view: BenchView) -> Iterator[Mark]:
    """A spline's outer end pared to the facets of the ring."""
    box, lean = view.part.blank.bounds, radians(view.value("angle"))
    half, tip = box.width / 2, view.value("length")
    letter = max(box.width * 1.6, box.height) / 18
    drop = half * tan(lean)
    x = box.centre.x
    yield from wood(block(x - half, 0.0, x + half, tip + letter), view.part.code)
    for way in (-1.0, 1.0):
        side, high = x + way * half, tip + letter
        yield from waste([Point(x, tip), Point(side, tip - drop), Point(side, high), Point(x, high)], letter)
        end = Point(x + way * (half + letter), tip - drop - letter * tan(lean))
        yield Stroke(CUTTER, Line(Point(x, tip), end))
    yield from upright(0.0, tip, x + half + letter * 3, view.figure("length"), letter, x + half + letter * 1.4)
    yield words(worded("{angle} off square, both sides", angle=view.figure("angle")), x, -letter * 1.4, letter)
