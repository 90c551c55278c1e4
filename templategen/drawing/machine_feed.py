"""Grooves and slots as they are cut: along the feed, then from the maker's side, where a piece runs over a cutter
between its blocks, or a router over the piece between its own."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2

from templategen.catalogue import translated, worded
from templategen.drawing.bench_view import BenchView
from templategen.drawing.drawing import Mark, Shape, Stroke, marks_box
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
from templategen.drawing.machine_sections import TABLE, table_under
from templategen.drawing.move import moved
from templategen.geometry.clip import convex_clip, half_plane
from templategen.geometry.edge import Line
from templategen.geometry.outline import polygon
from templategen.geometry.point import Point
from templategen.parts.sides import end_edge
from templategen.shop.set_ups.set_up import SettingName
from templategen.shop.set_ups.words import OF_A_GROOVE

LOW = 9.0
"""A piece seen from the operator's side is drawn no higher, in capital heights."""

HAIR = 1e-6


def groove(view: BenchView) -> Iterator[Mark]:
    """On the worked edge or end, the face at the fence: along the feed, then from the operator's side."""
    thick, fence, width, depth = view.part.thickness, view.value("fence"), view.value("width"), view.value("height")
    high = max(depth * 1.8, thick * 1.2)
    letter = max(thick * 2.2, high * 1.6) / 16
    yield from table_under(-letter * 4, thick + letter * 3, letter, named("table"))
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
    yield from table_under(left - letter * 6, right + letter * 6, letter, view.lain)
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
    corners = [p.x for p in whole if abs(p.y) < HAIR]
    far, way = (max(corners), -wide) if stop_right else (min(corners), wide)
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
        yield from table_under(squeeze(left) - letter * 5, squeeze(right) + letter * 5, letter, view.lain)
    yield from wood(squeeze.points(ring), view.part.code)
    if in_hand and not lying:
        sides = ("start", "end") if stop_right else ("end", "start")
        backed = (max(corners), 1.0, sides[0]), (min(corners), -1.0, sides[1])
        yield from (mark for x, out, name in backed if name not in ends for mark in _backed(ring, x, out, letter))
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
        told, is_last = f"{translated(OF_A_GROOVE[name])} {view.figure(name)}", row == len(ends) - 1
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
    ends = (("block: set down", first, left, -1.0), ("block: stop", last, last + BASE * letter, 1.0))
    for name, end, at, out in ends:
        if any(abs(end - one) < HAIR for one in told):
            yield from fixed(at, 0.0, at + out * letter * 1.4, deep)
            yield words(named(name), at + out * letter * 1.9, deep / 2, letter, "start" if out > 0 else "end")


SCRAP = 3.0
"""How wide the scrap is drawn that backs a corner where a bit runs out, in capital heights."""


def _backed(ring: Sequence[Point], corner: float, out: float, letter: float) -> Iterator[Mark]:
    """The scrap along the edge below that corner of an end, level with the end."""
    below = next(
        other
        for pair in pairwise([*ring, ring[0]])
        for one, other in (pair, pair[::-1])
        if abs(one.y) < HAIR and abs(one.x - corner) < HAIR and other.y > HAIR
    )
    wide = out * SCRAP * letter
    strip = [below, Point(below.x + wide, below.y), Point(corner + wide, 0.0), Point(corner, 0.0)]
    yield from (Shape(layer, polygon(strip[:: -int(out)])) for layer in (MACHINE, MACHINE_EDGE))
    yield words(named("scrap"), (corner + below.x + wide) / 2, below.y / 2, letter)


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
