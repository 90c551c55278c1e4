"""Set-ups seen from above, the fence on the far side: sawing off, laps, shoulders, corners, the ring sawn round."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import cos, pi, radians, sin, tan

from templategen.catalogue import translated, worded
from templategen.drawing.bench_view import BenchView, lies_up
from templategen.drawing.drawing import Mark, Shape, Stroke
from templategen.drawing.layers import CENTRE
from templategen.drawing.lettering import text_width
from templategen.drawing.machine_marks import (
    CUTTER,
    MACHINE,
    MACHINE_EDGE,
    WASTE_EDGE,
    along,
    block,
    fixed,
    named,
    squeezed,
    upright,
    waste,
    wood,
    words,
)
from templategen.drawing.machine_stage import Stage, box_of
from templategen.drawing.machine_straightedge import BAR, OFF
from templategen.drawing.move import mirrored, upended
from templategen.geometry.bounds import Bounds
from templategen.geometry.clip import convex_clip, half_plane
from templategen.geometry.edge import Line
from templategen.geometry.outline import circle, polygon
from templategen.geometry.point import Point, polar
from templategen.jigs.stop_strip import STOP_STRIP
from templategen.parts.sides import end_edge, tip_edge
from templategen.shop.set_ups.set_up import SettingName
from templategen.shop.set_ups.words import is_along_a_straightedge, is_scribed
from templategen.units import off_square_words

STRIP_SHOWN = 2.5
"""How much of a strip is drawn beside the piece that comes off it, in its widths."""


def _spots(points: Sequence[Point]) -> list[float]:
    return [point.x for point in points]


def saw_off(view: BenchView) -> Iterator[Mark]:
    """An end sawn off, square or at an angle: all past the blade is waste."""
    ring = view.lying(view.part.blank)
    box, way = box_of(ring), 1.0 if view.is_right(view.lay.worked) else -1.0
    leans_out = view.has("beyond")
    lean, width = radians(view.value("angle")) * (-1 if leans_out else 1), box.height
    ends = [p.x for p in ring if abs(p.y - box.top) < 1e-6]
    far = box.left if way > 0 else box.right
    told: SettingName = "length" if is_scribed(view.set_up) else "beyond" if leans_out else "stop"
    crossing = far + way * view.value(told) if view.lay.stop_at else (max(ends) if way > 0 else min(ends))
    strip = view.off_a_strip and bool(view.lay.stop_at)
    apart = 0.0 if view.lay.stop_at else way * view.value("apart")
    over = apart + way * width * (1.6 if strip else 0.55)
    bar = view.squared(min(far, crossing + over), max(far, crossing + over))
    foot = Point(crossing - way * tan(lean) * width, box.bottom)
    out = Point(way * cos(lean), -sin(lean))
    cut_off, kept = (convex_clip(bar, (half_plane(foot, side),)) for side in (out, out.times(-1)))
    beside = (crossing + apart, foot.x + apart, crossing - way * width * STRIP_SHOWN) if apart else ()
    squeeze = squeezed([*_spots(bar), crossing, foot.x, *beside], width)
    lined = next((code for code in view.set_up.jigs if code.startswith(STOP_STRIP)), "")
    stage = Stage(view, squeeze, box_of(bar), lined)
    if apart:
        clean = foot.plus(Point(apart, 0.0))
        off, cut_off = (convex_clip(cut_off, (half_plane(clean, side),)) for side in (out.times(-1), out))
        yield from _off_its_strip(stage, squeeze.points(off), squeeze.points(kept))
        yield from stage.over(squeeze(crossing + apart), squeeze(crossing), view.figure("apart"))
    yield from _sawn(stage, () if apart else squeeze.points(kept), squeeze.points(cut_off), strip)
    yield from squeeze.breaks(box.bottom, box.top)
    letter, at, end = stage.letter, squeeze(crossing), squeeze(foot.x)
    past = Point(way * tan(lean), 1.0).times(letter * 1.6)
    yield Stroke(CUTTER, Line(Point(at, box.top).plus(past), Point(end, box.bottom).plus(past, -1.0)))
    clear = at - way * letter * 0.8
    yield from stage.strip(at, way * tan(lean), stage.right + letter)
    yield from stage.fence(*((stage.left - letter, clear) if way > 0 else (clear, stage.right + letter)))
    if view.lay.stop_at:
        if told == "stop":
            yield from stage.stop(squeeze(far), way < 0, "loose block" if strip else "stop")
        yield from stage.over(squeeze(far), at, view.figure(told))
    yield from stage.up(squeeze.points(kept), end)
    if "table saw" in view.set_up.needs:
        yield from stage.feed(min(stage.left, at, end) - abs(past.x), end - at)
    angle = off_square_words(view.value("angle")) if abs(lean) > 1e-9 else translated("square")
    yield words(named("blade {angle}", angle=angle), end, box.bottom - letter * 3.2, letter)


def _off_its_strip(stage: Stage, piece: Sequence[Point], strip: Sequence[Point]) -> Iterator[Mark]:
    """A piece that comes off its strip to a line, its own end clean: what is wanted lies past the blade."""
    yield from wood(strip, "")
    yield from wood(piece, stage.view.part.code)
    for ring, told in ((strip, named("strip, clamped")), (piece, named("piece"))):
        yield words(told, box_of(ring).centre.x, box_of(ring).bottom + stage.letter, stage.letter * 0.9)


def _sawn(stage: Stage, kept: Sequence[Point], cut_off: Sequence[Point], strip: bool) -> Iterator[Mark]:
    """What is kept, and what comes off or, if it is a strip that the piece comes off, stays in the clamp."""
    yield from wood(kept, stage.view.part.code) if kept else ()
    if len(cut_off) > 2 and strip:
        yield from wood(cut_off, "")
        box = box_of(cut_off)
        yield words(named("strip, clamped"), box.centre.x, box.centre.y, stage.letter)
    elif len(cut_off) > 2:
        yield from waste(cut_off, stage.letter)


def trench(view: BenchView) -> Iterator[Mark]:
    """A lap across the piece, whose worked face lies down on the cutter, on a sled."""
    ring = view.squared(*view.ends)
    box, way = box_of(ring), -1.0 if view.is_right(view.lay.stop_at) else 1.0
    lean = radians(view.value("angle"))
    far = box.left if way > 0 else box.right
    near, width = far + way * view.value("stop"), view.value("width") / cos(lean)
    slip = way * tan(lean) * box.height
    band = [Point(near, box.top), Point(near - slip, box.bottom),
            Point(near - slip + way * width, box.bottom), Point(near + way * width, box.top)]  # fmt: skip
    soled = _channel(view, far, near) if view.has("channel") else []
    squeeze = squeezed([*_spots(ring), *_spots(band), *_spots(soled)], box.height)
    stage, drawn = Stage(view, squeeze, box), squeeze.points(band)
    yield from wood(squeeze.points(ring), view.part.code)
    yield from waste(drawn, stage.letter)
    if soled:
        cut = squeeze.points(soled)
        yield from waste(cut, stage.letter / 2)
        told = worded("channel {deep} deep", deep=view.figure("channel"))
        yield words(told, (cut[0].x + cut[1].x) / 2, (cut[0].y + cut[2].y) / 2 + stage.letter / 10, stage.letter)
    yield from squeeze.breaks(box.bottom, box.top)
    if is_along_a_straightedge(view.set_up):
        yield from _straightedges(view, stage, drawn if way > 0 else [drawn[at] for at in (3, 2, 1, 0)])
    else:
        yield from stage.fence(stage.left - stage.letter, stage.right + stage.letter)
        yield from stage.stop(squeeze(far), way < 0)
    yield from stage.over(squeeze(far), squeeze(near), view.figure("stop"))
    yield from stage.feed(stage.left, -slip) if view.set_up.way == "machine" else ()
    yield from _across_band(view, stage, drawn, box)
    yield from under_cutter(view, stage)


def _straightedges(view: BenchView, stage: Stage, band: Sequence[Point]) -> Iterator[Mark]:
    """What leads a router in the hand along either side of a trench, off that by what a trial groove shows; beside it
    the edge along which the trench is told. `band` has its left side first."""
    letter, told = stage.letter, view.side(view.lay.against)
    yield words(told, (stage.left + stage.right) / 2, stage.top + letter * 0.95, letter)
    for side, (top, low) in ((-1.0, (band[0], band[1])), (1.0, (band[3], band[2]))):
        run = low.minus(top).times(letter / (top.y - low.y))
        top, low = top.minus(run), low.plus(run)
        near, past = (Point(side * letter * off, 0.0) for off in (OFF, OFF + BAR))
        ring = [top.plus(near), low.plus(near), low.plus(past), top.plus(past)]
        bar = polygon(ring if side > 0 else ring[::-1])
        yield from (Shape(layer, bar) for layer in (MACHINE, MACHINE_EDGE))
    left = band[1].x - letter * (OFF + BAR)
    yield words(named("straightedge"), left, stage.low - letter * 2.4, letter)


def _channel(view: BenchView, far: float, near: float) -> list[Point]:
    """What is chiselled into the sole at the stop, from its drain hole to where the foot ends."""
    low, high = sorted((far, near))
    middles = ((box_of(view.lying(hole)).centre, hole.bounds.width / 2) for hole in view.part.holes)
    middle, radius = next((at, radius) for at, radius in middles if low < at.x < high)
    left, right = sorted((middle.x, near))
    return block(left, middle.y - radius, right, middle.y + radius)


def _across_band(view: BenchView, stage: Stage, band: Sequence[Point], box: Bounds) -> Iterator[Mark]:
    """What lies up, the trench's width square to it, and how the gauge stands, under the piece."""
    letter = stage.letter
    yield words(lies_up(view, view.lay.up), (stage.left + stage.right) / 2, box.bottom - letter * 1.1, letter)
    swung = view.lay.swung and not view.set_up.is_marked
    turned = off_square_words(view.value("angle")) + (translated(", swung") if swung else "")
    told = worded("{size} wide", size=view.figure("width")) + (f", {turned}" if view.value("angle") else "")
    yield words(told, (band[1].x + band[2].x) / 2, box.bottom - letter * 3.0, letter)


def under_cutter(view: BenchView, stage: Stage) -> Iterator[Mark]:
    """Below a plan: the piece seen along the fence, how far the cutter stands above the table."""
    letter, thick = stage.letter, min(view.part.thickness, 8 * stage.letter)
    depth = view.value("height") * thick / view.part.thickness
    room = letter * (6.5 if view.is_over else 5.2)
    low, middle = stage.low - room - thick, (stage.left + stage.right) / 2
    half = (stage.right - stage.left) / 4
    left = middle + half - max(2 * half + letter * 2, text_width(view.lain, letter * 0.9) + letter)
    marks = (
        *wood(block(middle - half, low, middle + half, low + thick), view.part.code),
        *waste(block(middle - half / 2, low, middle + half / 2, low + depth), letter),
        *fixed(left, low, middle + half, low - letter * 1.9),
        words(view.lain, (left + middle + half) / 2, low - letter * 0.95, letter * 0.9),
        *upright(low, low + depth, middle + half + letter * 1.2, view.figure("height"), letter, middle + half),
    )
    yield from upended(marks, low + thick / 2) if view.is_over else marks


def shoulder(view: BenchView) -> Iterator[Mark]:
    """A tenon's narrow edge on a bandsaw's table: in along the shoulder with the end at a block on the fence that
    ends before the blade, then along the cheek with the other edge at the fence: what falls off lies free. Either
    end is drawn at the right, a left one turned over, since the length goes away from the column, on the left; by
    hand a left end lies on the left, as on the part's drawing."""
    marks = _shoulder(view)
    yield from mirrored(marks) if view.lay.against == "left" and view.set_up.way != "machine" else marks


def _shoulder(view: BenchView) -> Iterator[Mark]:
    points = view.part.blank
    end = tip_edge(view.part.outline, view.lay.against) if view.value("angle") else end_edge(points, view.lay.against)
    assert end is not None
    box = points.bounds
    if view.lay.against == "left":
        end = (Point(-end[1].x, end[1].y), Point(-end[0].x, end[0].y))
        box = Bounds(-box.right, box.bottom, -box.left, box.top)
    inward = end[1].minus(end[0]).left.unit
    rise = inward.left.times(-1)
    edge, other, way = (box.bottom, box.top, 1.0) if view.lay.worked == "low" else (box.top, box.bottom, -1.0)
    on = end[0].plus(inward, view.value("fence"))
    foot = on.plus(rise, (edge - on.y) / rise.y)
    corner = end[0].plus(rise, (edge - end[0].y) / rise.y)
    cheek = rise.times(way * view.value("height"))
    reach = max(box.height * 1.3, view.value("fence") * 3)
    far_off = max(box.right, end[0].x, end[1].x)
    near = far_off - reach
    bar = convex_clip(block(near, box.bottom, far_off, box.top), (half_plane(end[0], inward),))
    letter = max(reach, box.height) / 20
    at = max(p.x for p in bar)
    far = max(end, key=lambda spot: way * spot.y)
    yield from _on_a_block(corner, corner.plus(cheek).plus(cheek.unit, letter), far, inward.times(-letter))
    against, lies = view.side(view.lay.against), view.side("high" if view.lay.worked == "low" else "low")
    if view.has("edge"):
        yield from fixed(near, other, far_off, other + way * letter * 1.9)
        yield words(
            named("fence for 2, {lies}", lies=lies), (near + far_off) / 2, other + way * letter * 0.95, letter
        )
        low, high = sorted((other, other - way * view.value("edge")))
        yield from upright(low, high, near - letter, view.figure("edge"), letter, near)
    yield words(f"{named('block for 1')},", at + letter * 3.0, box.centre.y + letter * 0.8, letter, "start")
    yield words(against, at + letter * 3.0, box.centre.y - letter * 0.8, letter, "start")
    yield from wood(bar, view.part.code)
    yield from waste([corner, foot, foot.plus(cheek), corner.plus(cheek)], letter)
    yield Stroke(CUTTER, Line(foot, foot.plus(cheek)))
    yield Stroke(CUTTER, Line(foot.plus(cheek), corner.plus(cheek)))
    yield words("1", foot.x - letter, edge + way * view.value("height") * 0.5, letter)
    yield words("2", (foot.x + corner.x) / 2, edge + way * (view.value("height") + letter * 1.1), letter)
    below = edge - way * letter * 4.2
    yield from along(corner.x, foot.x, below, view.figure("fence"), letter, edge - way * letter * 2.1)
    low, high = sorted((edge, edge + way * view.value("height")))
    yield from upright(low, high, at + letter * 3.6, view.figure("height"), letter, at + letter * 2.6)
    if view.value("angle"):
        told = off_square_words(view.value("angle"))
        yield words(told, (near + far_off) / 2, below - way * letter * 2.2, letter)


def _on_a_block(near: Point, start: Point, far: Point, back: Point) -> Iterator[Mark]:
    """Behind an end, from `near` to `far`, a fence, and between them a block from where it may `start`; `back` is the
    way to them, as long as the block is thick."""
    rings = ((start, far, Point(0.0, 0.0), back), (near, far, back, back.times(2.4)))
    for layer in (MACHINE, MACHINE_EDGE):
        for first, last, face, behind in rings:
            ring = [first.plus(face), first.plus(behind), last.plus(behind), last.plus(face)]
            yield Shape(layer, polygon(ring))


def corner(view: BenchView) -> Iterator[Mark]:
    """A corner sawn round: all outside the arc is waste."""
    radius, right = view.value("radius"), view.lay.worked == "right"
    box = view.part.blank.bounds
    reach = max(radius * 3, box.height)
    low = view.lay.against == "low"
    x, in_x = (box.right, -1.0) if right else (box.left, 1.0)
    y, in_y = (box.bottom, 1.0) if low else (box.top, -1.0)
    letter = reach / 18
    span = sorted((x, x + in_x * reach))
    yield from wood(block(span[0], box.bottom, span[1], box.top), view.part.code)
    centre = Point(x + in_x * radius, y + in_y * radius)
    turns = (polar(radius, pi / 2 * k / 16) for k in range(17))
    arc = [Point(centre.x - in_x * turn.x, centre.y - in_y * turn.y) for turn in reversed(list(turns))]
    yield from waste([Point(x, y), *arc], letter)
    yield Stroke(CENTRE, Line(centre, arc[8]))
    anchor = "start" if in_x > 0 else "end"
    yield words(f"R {view.figure('radius')}", centre.x + in_x * letter * 0.5, centre.y, letter, anchor)
    yield words(
        worded("every corner of {code}", code=view.part.code), sum(span) / 2, box.bottom - letter * 1.4, letter
    )


def saw_round(view: BenchView) -> Iterator[Mark]:
    """The ring's circle sawn about a pivot, one segment shown."""
    box, radius = view.part.blank.bounds, view.value("radius")
    pivot = Point(box.centre.x, box.bottom - view.value("pivot"))
    letter = box.width / 13
    yield from wood(view.part.blank, view.part.code)
    half = box.width * 0.5
    arc = [pivot.plus(polar(radius, pi / 2 + (half / radius) * (1 - k / 12))) for k in range(25)]
    inside = [p for p in arc if box.left < p.x < box.right]
    top = max(box.top, *(p.y for p in inside))
    yield from waste([*inside, Point(inside[-1].x, top), Point(inside[0].x, top)], letter)
    yield from (Stroke(CUTTER, Line(a, b)) for a, b in pairwise(arc))
    short = Point(pivot.x, box.bottom - box.height * 1.4)
    yield Stroke(CENTRE, Line(short, Point(pivot.x, box.bottom)))
    yield Shape(WASTE_EDGE, circle(short.x, short.y, letter * 0.5))
    yield words(named("pivot"), short.x + letter, short.y, letter, "start")
    yield words(
        worded("inner edges {size} off", size=view.figure("pivot")),
        short.x + letter,
        short.y + letter * 3.4,
        letter,
        "start",
    )
    yield words(
        worded("blade {size} off", size=view.figure("radius")),
        short.x + letter,
        short.y + letter * 1.7,
        letter,
        "start",
    )
