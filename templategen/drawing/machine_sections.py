"""Set-ups seen along the feed or from the side: planing, ripping, rebates, grooves, arrises, feet, spline ends."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan, atan2, cos, pi, radians, tan

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
from templategen.geometry.clip import convex_clip, half_plane
from templategen.geometry.edge import Line
from templategen.geometry.outline import circle, polygon
from templategen.geometry.point import Point, polar
from templategen.parts.sides import end_edge, tip_edge
from templategen.shop.set_ups.set_up import SettingName
from templategen.units import off_square_words

TABLE = 2.2
"""How thick a machine's table is drawn, in capital heights."""

LOW = 9.0
"""A piece seen from the operator's side is drawn no higher, in capital heights."""

HAIR = 1e-6


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
    yield from _table(-letter * 3, width + letter * 6, letter, named("table"))
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


def _table(left: float, right: float, letter: float, text: str) -> Iterator[Mark]:
    yield from fixed(left, 0.0, right, -letter * TABLE)
    yield words(text, (left + right) / 2, -letter * TABLE / 2, letter)


def rebate(view: BenchView) -> Iterator[Mark]:
    """The end against the fence, the cutter under the piece: from the end to the shoulder."""
    thick, fence, depth = view.part.thickness, view.value("fence"), view.value("height")
    long = max(thick * 2.4, fence * 3)
    letter = max(long, thick * 2) / 18
    yield from _table(-letter * 3, long + letter, letter, view.lain)
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
    edge = view.side("high" if is_over == at_left else "low")
    above = max(high.y, high.plus(far).y) + letter * 3.2
    yield words(named("LAP-SLED, {lies}", lies=edge), letter, above, letter, "start")
    yield words(off_square_words(view.value("angle")), 0.0, low.y - letter * 3.6, letter, "start")
    yield from pointing(high.plus(Point(-letter * 3.4, 0.0)), low.plus(Point(-letter * 3.4, 0.0)), letter)


def _torn(x: float, high: float) -> Iterator[Mark]:
    """Where the rest of a long piece isn't shown."""
    for aside in (-0.05, 0.05):
        yield Stroke(BREAK, Line(Point(x + (aside - 0.04) * high, 0.0), Point(x + (aside + 0.04) * high, high)))


def groove(view: BenchView) -> Iterator[Mark]:
    """On the worked edge or end, the face at the fence: along the feed, then from the operator's side."""
    thick, fence, width, depth = view.part.thickness, view.value("fence"), view.value("width"), view.value("height")
    high = max(depth * 1.8, thick * 1.2)
    letter = max(thick * 2.2, high * 1.6) / 16
    yield from _table(-letter * 4, thick + letter * 3, letter, named("table"))
    yield from fixed(-letter * 2, 0.0, 0.0, high + letter)
    yield words(named("fence"), -letter * 2.6, high + letter * 0.2, letter, "end")
    yield from wood(block(0.0, 0.0, thick, high), view.part.code)
    yield from waste(block(fence, 0.0, fence + width, depth), letter)
    yield words(view.side(view.lay.against), letter * 0.4, high + letter * 1.1, letter, "start")
    yield from along(fence, fence + width, -letter * 4.4, view.figure("width"), letter, -letter * 2.4)
    yield from along(0.0, fence, -letter * 6.9, view.figure("fence"), letter, -letter * 2.4)
    yield from upright(0.0, depth, thick + letter * 1.6, view.figure("height"), letter, fence + width)
    run = tuple(_run(view, depth, letter) if view.set_up.way != "machine" else fed(view, depth, letter))
    yield from moved(run, Point(-letter * 5 - marks_box(run).left, -letter * 21))


def _scaled(view: BenchView, whole: Sequence[Point], letter: float) -> tuple[list[Point], list[Point], float, float]:
    """A piece on its edge or end as drawn, what of it is drawn, and by how much it is drawn lower and narrower: what
    lies with square ends is drawn lower than it is, what is mitred in proportion."""
    tall, lying = max(p.y for p in whole), view.lay.worked in ("low", "high")
    low = min(1.0, letter * LOW / tall) if lying else 1.0
    wide = 1.0 if _is_square(whole) else low
    drawn = [Point(x * wide, y * low) for x, y in whole]
    if lying:
        return drawn, drawn, low, wide
    # on its end, of which the angle is to be seen: only the lower part
    return drawn, list(convex_clip(drawn, (half_plane(Point(0.0, letter * LOW), Point(0.0, -1.0)),))), low, wide


def fed(view: BenchView, depth: float, letter: float) -> Iterator[Mark]:
    """The same from the maker's side, as it is let down or, where it comes from its open end, where it stops: the
    blocks, each told to the far side of the cutter, and which way it is fed."""
    standing, _ = _standing(view)
    whole, ring, low, wide = _scaled(view, standing, letter)
    first, last = min(p.x for p in whole), max(p.x for p in whole)
    reach: dict[SettingName, float] = {name: view.value(name) * wide for name in BLOCK_WORDS if view.has(name)}
    begins = last - reach["rear"] if "rear" in reach else first
    ends = first + reach["front"] if "front" in reach else last - reach.get("line", 0.0)
    cutter = min(view.value("cutter") * wide, ends - begins)
    bit = begins if "rear" in reach else ends - cutter
    before = bit + cutter - reach["front"] if "front" in reach else first
    shortened = view.lay.worked in ("low", "high") and _is_square(whole)
    inside = [*(p.x for p in ring), begins, ends] if shortened else []
    squeeze = squeezed([before, first, *inside], 5 * letter)
    high, left, right = max(p.y for p in ring), squeeze(before), squeeze(max(p.x for p in ring))
    yield from _table(left - letter * 6, right + letter * 6, letter, view.lain)
    yield from wood(squeeze.points(ring), view.part.code)
    within = (half_plane(a, b.minus(a).left) for a, b in pairwise([*ring, ring[0]]))
    yield from waste(squeeze.points(convex_clip(block(begins, 0.0, ends, depth * low), within)), letter)
    for x in (bit, bit + cutter):
        yield Stroke(CUTTER, Line(Point(squeeze(x), 0.0), Point(squeeze(x), depth * low)))
    yield from squeeze.breaks(0.0, high, first)
    yield from squeeze.breaks(-letter * TABLE, 0.0, to=first)
    yield from () if view.lay.worked in ("low", "high") else _torn_off(ring, letter)
    for row, (name, far) in enumerate(reach.items()):
        at, to, out = (last, bit, 1.0) if name in ("rear", "line") else (before, bit + cutter, -1.0)
        if name != "line":
            yield from fixed(squeeze(at), 0.0, squeeze(at) + out * letter * 1.4, high)
        told = worded(BLOCK_WORDS[name], size=view.figure(name))
        to = last - far if name == "line" else to
        y, is_last = -letter * (4.4 + 2.5 * row), row == len(reach) - 1
        yield from along(squeeze(to), squeeze(at), y, told, letter, -letter * 2.4, is_last)
    yield from _feed((squeeze(first) + right) / 2, high + letter * 1.6, letter)


BLOCK_WORDS: dict[SettingName, str] = {
    "line": "line {size}", "rear": "rear block {size}", "front": "front block {size}"
}  # fmt: skip


def _feed(x: float, y: float, letter: float, way: float = 1.0) -> Iterator[Mark]:
    """An arrow the way the piece is fed, from right to left, or the router, from left to right (-1)."""
    yield from pointing(Point(x + way * letter * 4, y), Point(x - way * letter * 4, y), letter)
    yield words(named("feed"), x + letter * 4.6, y, letter, "start")


def _run(view: BenchView, depth: float, letter: float) -> Iterator[Mark]:
    """The same for what goes over the piece: where the cut starts and stops, told from the stop, with lengths of what
    has square ends left out."""
    standing, stop_right = _standing(view)
    lying = view.lay.worked in ("low", "high")
    whole, ring, low, wide = _scaled(view, standing, letter)
    left, right, high = min(p.x for p in ring), max(p.x for p in ring), max(p.y for p in ring)
    far, way = (max(p.x for p in whole), -wide) if stop_right else (min(p.x for p in whole), wide)
    ends: dict[SettingName, float] = {name: far + way * view.value(name) for name in RUN if view.has(name)}
    start, end = ends.get("start", far), ends.get("end", left if stop_right else right)
    shortened = lying and _is_square(whole)
    squeeze = squeezed([*(p.x for p in ring), start, end] if shortened else [], 5 * letter)
    first, last = min(start, end), max(start, end)
    in_hand = view.set_up.way == "hand-held"
    if in_hand:
        at = [squeeze(x) for x in (first, last)]
        yield from _led(at[0], at[1], [squeeze(x) for x in ends.values()], view.value("cutter") * wide, letter)
    else:
        yield from _table(squeeze(left) - letter * 5, squeeze(right) + letter * 5, letter, view.lain)
    yield from wood(squeeze.points(ring), view.part.code)
    within = (half_plane(a, b.minus(a).left) for a, b in pairwise([*ring, ring[0]]))
    yield from waste(squeeze.points(convex_clip(block(first, 0.0, last, depth * low), within)), letter)
    if in_hand:
        for x in (squeeze(first), squeeze(first) + view.value("cutter") * wide):
            yield Stroke(CUTTER, Line(Point(x, 0.0), Point(x, depth * low)))
        yield from _feed((squeeze(first) + squeeze(last)) / 2, high + letter * 1.6, letter, -1.0)
    yield from squeeze.breaks(0.0, high)
    yield from () if lying else _torn_off(ring, letter)
    if view.lay.stop_at and not in_hand:
        out = 1.0 if stop_right else -1.0
        yield from fixed(squeeze(far), 0.0, squeeze(far) + out * letter * 1.4, high)
        anchor = "start" if stop_right else "end"
        yield words(named("stop"), squeeze(far) + out * letter * 1.9, letter * 3, letter, anchor)
    for row, (name, to) in enumerate(ends.items()):
        y = -letter * (4.4 + 2.5 * row)
        told, is_last = f"{translated(RUN_WORDS[name])} {view.figure(name)}", row == len(ends) - 1
        yield from along(squeeze(to), squeeze(far), y, told, letter, -letter * 2.4, is_last)


BASE = 6.0
"""How far a router's base is drawn to reach past the bit's side, in capital heights."""


def _led(first: float, last: float, told: Sequence[float], bit: float, letter: float) -> Iterator[Mark]:
    """A router set down over the left of a cut, whose guide runs on the face toward the maker: its base, and a block
    for each end that is told, at which the base stops."""
    deep = -letter * TABLE
    left, right = first - BASE * letter, min(first + bit, last) + BASE * letter
    yield from fixed(left, 0.0, right, deep)
    yield words(named("table"), (left + right) / 2, deep / 2, letter)
    for end, at, out in ((first, left, -1.0), (last, last + BASE * letter, 1.0)):
        if any(abs(end - one) < HAIR for one in told):
            yield from fixed(at, 0.0, at + out * letter * 1.4, deep)
            yield words(named("stop"), at + out * letter * 1.9, deep / 2, letter, "start" if out > 0 else "end")


def _is_square(ring: Sequence[Point]) -> bool:
    return all(min(abs(a.x - b.x), abs(a.y - b.y)) < HAIR for a, b in pairwise([*ring, ring[0]]))


def _torn_off(ring: Sequence[Point], letter: float) -> Iterator[Mark]:
    """Where the rest of a piece that stands on its end isn't shown: across it, below the edge of the picture."""
    top = max(p.y for p in ring)
    left, right = (pick(p.x for p in ring if p.y > top - HAIR) for pick in (min, max))
    for down in (1.1, 1.6):
        y = top - letter * down
        yield Stroke(BREAK, Line(Point(left, y - letter * 0.25), Point(right, y + letter * 0.25)))


RUN: tuple[SettingName, ...] = ("start", "end")
RUN_WORDS = {"start": "start", "end": "end"}


def _standing(view: BenchView) -> tuple[list[Point], bool]:
    """The piece standing on its worked edge or end, the fence behind it, and whether the stop is to the right."""
    lay, blank = view.lay, view.part.blank
    edge = end_edge(blank, lay.worked)
    assert edge is not None
    mirrored = lay.against == "top"
    way = edge[1].minus(edge[0])
    turn = -atan2(way.y, way.x)
    ring = [point.minus(edge[0]).turned(turn) for point in blank.anticlockwise.points]
    to = {"left": Point(-1, 0), "right": Point(1, 0), "low": Point(0, -1), "high": Point(0, 1)}
    lies = to[lay.stop_at.partition("-")[0]].turned(turn).x if lay.stop_at else -1.0
    if mirrored:
        return [Point(-x, y) for x, y in ring][::-1], lies < 0
    return ring, lies > 0


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
    """A corner taken round or aslant, seen along the edge."""
    name: SettingName = "radius" if view.set_up.setting("radius") else "size"
    size, thick = view.value(name), view.part.thickness
    reach = max(size * 3.2, min(thick, size * 8))
    letter = reach / 12
    yield from wood(block(-reach, -reach, 0.0, 0.0), view.part.code)
    yield from (mark for taken in TAKEN.get(view.set_up.operation, _round)(size) for mark in waste(taken, letter))
    wide, foot = max(size * 0.5, letter * 1.2), -size - letter * 0.4
    yield from fixed(0.0, foot - letter * 2.4, wide, foot)
    yield words(named("bearing"), wide + letter * 0.6, foot - letter * 1.2, letter, "start")
    yield from along(-size, 0.0, letter * 1.6, view.figure(name), letter, 0.0)
    told = view.side(view.lay.worked)
    fits = text_width(told, letter) + letter * 1.4 <= reach - size
    yield words(told, -reach + letter, -letter * 1.4 if fits else -size - letter * 1.2, letter, "start")
    yield words(view.side(view.lay.against), letter * 0.6, -reach + letter * 1.4, letter, "start")
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
