"""Jigs put together and in use: each beside the machine or the piece that it works with, as plain shapes."""

from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise
from math import cos, pi, radians, tan

from templategen.catalogue import worded
from templategen.drawing.bench_view import LETTERS
from templategen.drawing.blocks_in_use import bore_block, draw_block, end_block
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, marks_box
from templategen.drawing.jig_marks import JIG_EDGE, made, piece_of
from templategen.drawing.layers import CENTRE
from templategen.drawing.legible import legible
from templategen.drawing.lettering import text_width
from templategen.drawing.machine_marks import CUTTER, WASTE_EDGE, WOOD_EDGE, block, fixed, named, waste, wood, words
from templategen.drawing.plan import EDGE
from templategen.drawing.sleds_in_use import end_sled, fence_face, lap_sled, packing, sled
from templategen.drawing.tall_fence_in_use import tall_fence
from templategen.drawing.toned_plan import toned_plan
from templategen.geometry.edge import Line, arc_round
from templategen.geometry.outline import Outline, circle, polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point, polar
from templategen.jigs.caul import Caul
from templategen.jigs.jig import GAUGED, Jig, has_any
from templategen.jigs.lap_sled import stop_layers
from templategen.jigs.leg_corner import section
from templategen.jigs.setup_block import ARCH
from templategen.jigs.shooting_board import PIVOT, along, angles_shot
from templategen.jigs.stop_strip import off_square
from templategen.jigs.swing import Swing
from templategen.parts.part import Part
from templategen.table.assembly import Table


def is_drawn(jig: Jig) -> bool:
    """Whether there is a picture; the pieces of some say it all."""
    return any(jig.code.startswith(code) for code in DRAWN)


def jig_in_use(jig: Jig, table: Table) -> Drawing:
    """The picture of a jig that is drawn."""
    draw = next(draw for code, draw in DRAWN.items() if jig.code.startswith(code))
    return Drawing(worded("{code} in use", code=jig.code), legible(tuple(draw(jig, table))))


def _first(table: Table, kind: str) -> Part:
    return next(part for part in table.parts if part.kind == kind)


def pivot(jig: Jig, table: Table) -> Iterator[Mark]:
    """From above: the base on the saw's table, the slide at its stop, the top on its pin, as far as it lies there."""
    swing = Swing(table.sizes)
    left, front, right, back = swing.table
    base, slide = (piece_of(jig, f"PIVOT-{name}").outline for name in ("BASE", "SLIDE"))
    pin = Point(swing.radius, 0.0)
    letter = base.bounds.width / LETTERS
    yield from fixed(left, front, right, back)
    yield from (*made(base, "PIVOT-BASE"), *made(slide, "PIVOT-SLIDE"))
    for way in (-1.0, 1.0):
        rim = arc_round(pin, swing.radius, pi, way * 0.6)
        yield Stroke(WOOD_EDGE, rim)
        yield words(named("the top's rim"), rim.end.x + letter, rim.end.y, letter, "start")
    yield Stroke(CUTTER, Line(Point(-swing.kerf / 2, 0.0), Point(-swing.kerf / 2, max(swing.blade, letter))))
    yield Shape(WASTE_EDGE, circle(*pin, letter / 3))
    yield words(named("blade"), -letter * 0.3, letter * 1.4, letter * 0.65, "end")
    yield words(named("saw's table"), left - letter * 0.6, back - letter, letter, "end")
    yield words(named("slide at its stop"), base.bounds.right + letter * 0.6, slide.bounds.centre.y, letter, "start")
    yield words(named("base"), base.bounds.right - letter * 2.5, base.bounds.top - letter, letter)
    yield words(named("pin"), pin.x, letter * 1.1, letter)


def triangle(jig: Jig, table: Table) -> Iterator[Mark]:
    """From above: the leg across from the marked angle at the fence, the slope at the blade, or at the plane."""
    own = jig.parts[0].outline
    run, rise = own.bounds.right, own.bounds.top
    letter = max(run, rise * 2) / 18
    over = Point(rise, run).unit.times(letter * 3)
    yield from fixed(-rise * 0.6 - letter, 0.0, rise + letter, letter * 1.9)
    yield words(named("fence"), -letter, letter * 0.95, letter)
    yield from made(polygon((p.y, p.x - run) for p in reversed(own.anticlockwise.points)), jig.parts[0].code)
    yield Stroke(CUTTER, Line(Point(0.0, -run).minus(over), Point(rise, 0.0).plus(over)))
    led = named("blade") if has_any(table, GAUGED) else named("the plane's way")
    yield words(led, rise + over.x + letter * 0.6, over.y, letter, "start")
    yield words(named("marked angle"), -letter * 0.6, -run + letter * 0.6, letter, "end")


def shooting(jig: Jig, table: Table) -> Iterator[Mark]:
    """From above: the fence along the first line off square, a piece at it, its end at the bed's edge, the plane."""
    base, bed, fence = (piece_of(jig, f"SHOOTING-{name}").outline for name in ("BASE", "BED", "FENCE"))
    letter = bed.bounds.width / LETTERS
    angle, (code, *_) = next(iter(angles_shot(table)), (0.0, jig.serves))
    part, way = table.part(code), along(angle)
    yield from made(base, "SHOOTING-BASE")
    yield from made(bed, "SHOOTING-BED")
    wide, long = part.size[1], min(part.size[0], bed.bounds.top * 1.2)
    far = Point(PIVOT.x - wide / cos(angle), 0.0)
    foot = Point(PIVOT.x, 0.0)
    yield from wood((foot, foot.plus(way, long), far.plus(way, long), far), code)
    yield from made(Placement(PIVOT.x, PIVOT.y, angle).outline(turned_up(fence)), "SHOOTING-FENCE")
    low = base.bounds.bottom
    yield from fixed(letter, low * 0.8, bed.bounds.width * 0.55, 0.0)
    yield words(named("plane on its side"), bed.bounds.width * 0.3, low * 0.4, letter * 0.7)
    yield words(named("fence"), PIVOT.x + letter, bed.bounds.top + letter, letter)


def turned_up(outline: Outline) -> Outline:
    """A fence with its long face upwards from the origin, its body to the right."""
    box = outline.bounds
    return rectangle(0.0, 0.0, box.height, box.width)


def bevel(jig: Jig, _: Table) -> Iterator[Mark]:
    """The bevel's stock along the lower edge, its blade along a line."""
    board, ray = jig.parts[0].outline, jig.scribes[0].edge
    letter = board.bounds.width / LETTERS
    yield from made(board, jig.code)
    way = ray.end.minus(ray.start).unit
    stock = named("stock of the bevel")
    long = text_width(stock, letter * 0.9) + letter * 4
    yield from fixed(ray.start.x - letter * 2, -letter * 1.9, ray.start.x - letter * 2 + long, 0.0)
    yield Stroke(CUTTER, Line(ray.start.minus(way.times(letter)), ray.end.plus(way, letter * 1.5)))
    yield words(stock, ray.start.x - letter + long / 2, -letter * 0.95, letter * 0.9)
    yield words(named("its blade"), ray.point_at(0.5).x + letter * 1.2, ray.point_at(0.5).y, letter, "start")


def strip(jig: Jig, table: Table) -> Iterator[Mark]:
    """From above: the longest slat along the strip, its other end at the stop, the blade, which has sawn the strip's
    end at its own angle; apart from that the strip's lined face."""
    own, thick, at = jig.parts[0].outline.bounds, table.profile.jigs.thickness, jig.scribes[-1].edge.start.x
    letter, lean, wide = own.right / LETTERS, tan(radians(jig.angle or 0.0)), own.right / LETTERS * 4
    longest = max(map(table.part, jig.serves), key=lambda part: part.size[0])
    stopped = tan(radians(min(off_square(longest))))
    back = thick + letter * 1.6
    yield from fixed(letter, thick, own.right, back)
    sawn = (Point(0.0, 0.0), Point(own.right, 0.0), Point(own.right, thick), Point(-lean * thick, thick))
    yield Shape(JIG_EDGE, polygon(sawn))
    below = Point(lean * wide, -wide), Point(at - stopped * wide, -wide)
    yield from wood((*below, Point(at, 0.0), Point(0.0, 0.0)), "")
    left = -letter * 3
    yield from waste((Point(left, -wide), Point(lean * wide, -wide), Point(0.0, 0.0), Point(left, 0.0)), letter)
    yield from fixed(at, -wide, at + letter * 1.4, 0.0)
    over = thick + letter
    yield Stroke(CUTTER, Line(Point(-lean * over, over), Point(lean * letter * 5, -letter * 5)))
    face = back + letter * 2
    yield from made(rectangle(0.0, face, own.right, face + own.top), jig.code)
    yield Stroke(JIG_EDGE, Line(Point(at, face), Point(at, face + own.top)))
    yield words(named("fence"), own.right / 2, thick + letter * 0.8, letter)
    yield words(named("strip"), own.right + letter * 0.6, thick / 2, letter, "start")
    yield words(named("its lined face"), own.right + letter * 0.6, face + own.top / 2, letter, "start")
    yield words(named("slat"), at / 2, -letter * 2, letter)
    yield words(named("stop at its line"), at - letter * 2, -letter * 5.2, letter)
    yield words(named("blade"), lean * letter * 5, -letter * 6.2, letter)


def spacer(jig: Jig, table: Table) -> Iterator[Mark]:
    """Two slats on their ends, a spacer's tongue between them, as deep as the board under them lets it."""
    tee, gap = jig.parts[0].outline, table.spacing.gap
    slat = _first(table, "slat")
    wide, thick = slat.size[1], slat.thickness
    floor = -_first(table, "rail").thickness
    tee = Placement(0.0, max(0.0, floor - tee.bounds.bottom)).outline(tee)
    letter = (2 * wide + gap) / 22
    yield from wood(block(-gap / 2 - wide, -thick, -gap / 2, 0.0), slat.code)
    yield from wood(block(gap / 2, -thick, gap / 2 + wide, 0.0), slat.code)
    yield from made(tee, "SPACER")
    yield words(named("slat"), -gap / 2 - wide / 2, -thick / 2, letter)
    yield words(named("slat"), gap / 2 + wide / 2, -thick / 2, letter)
    yield words(named("spacer"), 0.0, tee.bounds.top - letter, letter)


def stick(jig: Jig, table: Table) -> Iterator[Mark]:
    """The stick along the edge of its part, lines pricked over from it."""
    part, own = table.part(jig.serves[0]), jig.parts[0].outline.bounds
    box = part.blank.bounds
    letter = own.width / 34
    yield from wood(part.blank, part.code)
    yield from made(rectangle(own.left, box.top, own.right, box.top + own.height), jig.code)
    for scribe in jig.scribes:
        x = scribe.edge.start.x
        yield Stroke(JIG_EDGE, Line(Point(x, box.top), Point(x, box.top + own.height)))
        yield Stroke(CUTTER, Line(Point(x, box.top), Point(x, box.top - letter * 0.8)))
    yield words(jig.code, box.left + letter * 7, box.top + own.height + letter, letter)
    yield words(named("lines pricked on the part with a knife"), box.centre.x, box.bottom - letter * 1.2, letter)


def rounding(jig: Jig, table: Table) -> Iterator[Mark]:
    """The plate on a rail's end, its nose inside the finished round, the fences on both edges."""
    plate = piece_of(jig, "ROUND-PLATE").outline
    half, box, size = table.profile.base.rail_width / 2, plate.bounds, table.profile.base.end_round
    letter = (box.width + 60.0) / 24
    yield from wood(block(box.left - letter * 4, -half, 0.0, half), "")
    for side in (1, -1):
        arc = [Point(-size, side * (half - size)).plus(polar(size, side * k * 0.19635)) for k in range(9)]
        yield from waste([Point(0.0, side * half), *(arc if side < 0 else arc[::-1])][::-side], letter)
    yield from made(plate, "ROUND-PLATE")
    fence = piece_of(jig, "ROUND-FENCE").outline.bounds
    for low in (half, -half - fence.height):
        yield Shape(CENTRE, rectangle(box.left, low, box.left + fence.width, low + fence.height))
    yield words(named("plate"), box.left + letter * 3, 0.0, letter)
    yield words(named("fence below"), box.left + letter * 0.5, half + letter * 0.9, letter * 0.8, "start")
    yield words(named("rail"), box.left - letter * 2.2, 0.0, letter)


def corner(jig: Jig, table: Table) -> Iterator[Mark]:
    """The gauge on a corner of the leg, seen on its end."""
    own, half = piece_of(jig, "LEG-CORNER-GAUGE").outline, table.profile.legs.section / 2
    letter = (own.bounds.width + 2 * half) / 22
    yield from wood(Placement(half, half).outline(section(table.profile.legs)), "LEG")
    yield from made(own, "LEG-CORNER-GAUGE")
    yield words(named("leg, on its end"), 2 * half + letter * 0.6, half, letter, "start")
    yield words(named("gauge"), own.bounds.right + letter * 0.6, own.bounds.bottom + letter, letter, "start")


def heights(jig: Jig, table: Table) -> Iterator[Mark]:
    """On the saw's table, seen along the cutter's plane: the bridge on its feet across the cutter, which is raised
    until it brushes the opening's roof."""
    own = jig.parts[0].outline
    spans = [figure.span for figure in jig.figures if figure.part == jig.parts[0].code and figure.span]
    x, high = spans[len(spans) // 3][1]
    letter = own.bounds.width / 26
    yield from fixed(-letter * 2, -letter * 2.2, own.bounds.right + letter * 2, 0.0)
    yield from made(own, jig.parts[0].code)
    wide = min(table.profile.shop.groove_cutter, ARCH * 0.8) / 2
    yield Shape(CUTTER, rectangle(x - wide, -letter * 4, x + wide, high))
    clear = letter if x > own.bounds.centre.x else own.bounds.right - letter
    yield words(named("table"), clear, -letter * 1.1, letter)
    yield words(named("cutter"), x, -letter * 5.0, letter)
    yield words(named("bridge"), own.bounds.centre.x, own.bounds.top + letter, letter)


def stops(jig: Jig, table: Table) -> Iterator[Mark]:
    """From above: the block on edge between the stop and the rail's end, its tenon, for the first pass, away for the
    last."""
    own, rail = jig.parts[0].outline.bounds, _first(table, "rail")
    wide, thick, layers = rail.blank.bounds.height, jig.parts[0].thickness, stop_layers(table)
    letter, low = (own.width * 3) / 26, wide - layers * thick
    end = [point.minus(Point(rail.outline.bounds.right, -wide / 2)) for point in rail.outline.points]
    beyond = sorted((p for p in end if p.x > -own.width), key=lambda p: (p.y, p.x if p.y < wide / 2 else -p.x))
    yield from wood((Point(-own.width * 2, 0.0), *beyond, Point(-own.width * 2, wide)), rail.code)
    yield from fixed(-own.width * 2 - letter, wide, own.width + letter * 3, wide + letter * 1.9)
    yield from made(rectangle(0.0, low, own.width, low + thick), jig.parts[0].code)
    yield from fixed(own.width, low, own.width + letter * 1.4, wide)
    yield words(named("fence"), -own.width / 2, wide + letter * 0.95, letter)
    yield words(named("rail"), -own.width, wide / 2, letter)
    yield words(named("block"), own.width / 2, low - letter * 0.9, letter)
    yield words(named("stop"), own.width + letter * 2.0, low + letter, letter, "start")
    yield words(named("first pass; for the last the rail touches the stop"), -own.width / 2, -letter * 2.8, letter)


def caul(jig: Jig, table: Table) -> Iterator[Mark]:
    """Two segments at their joint, a spline in it that comes out there, the caul over it, the band along its back."""
    own, sizes = jig.parts[0].outline, table.sizes
    axis, segment = Point(0.0, -Caul(sizes).corner), _first(table, "rim-segment")
    letter = own.bounds.width / 11
    for side in (-1, 1):
        turn = side * sizes.mitre
        at = axis.plus(Point(0.0, sizes.inner_apothem).turned(turn))
        yield from wood(Placement(at.x, at.y, turn).outline(segment.blank), segment.code)
    spline = next((part.blank for part in table.parts if part.kind == "spline"), None)
    if spline and table.profile.joints.spline == "through":
        yield from wood(Placement(0.0, -spline.bounds.top, 0.0).outline(spline), "SPLINE")
    yield from made(own, jig.code)
    top, out = own.bounds.top, letter * 3
    band = [Point(-own.bounds.width / 2 - out, top - out * tan(2 * sizes.mitre)), Point(-own.bounds.width / 2, top)]
    band += [Point(-p.x, p.y) for p in reversed(band)]
    yield from (Stroke(CUTTER, Line(a, b)) for a, b in pairwise(band))
    yield words(named("band"), 0.0, top + letter * 0.9, letter)
    yield words(named("caul"), -own.bounds.width * 0.3, top - letter * 1.2, letter)
    for side in (-1, 1):
        middle = Point(0.0, sizes.inner_apothem + table.profile.top.rim_width / 2).turned(side * sizes.mitre)
        yield words(named("segment"), axis.x + middle.x, axis.y + middle.y, letter * 0.8)


def board(jig: Jig, table: Table) -> Iterator[Mark]:
    """All pieces joined, the top lying on its lines."""
    pieces = [part for part in jig.parts if part.code != "ASSEMBLY-BATTEN"]
    for part in pieces:
        yield from made(part.outline, part.code)
    yield from (mark for mark in toned_plan(table).marks if mark.layer.filled or mark.layer is EDGE)
    for part in pieces:
        yield Shape(JIG_EDGE, part.outline, part.code)
    box = marks_box(tuple(mark for part in pieces for mark in made(part.outline)))
    told = named("the top on its lines, face up, on the joined board")
    yield words(told, box.centre.x, box.bottom - box.width / 30, box.width / 36)


DRAWN: Mapping[str, Callable[[Jig, Table], Iterator[Mark]]] = {
    "PIVOT": pivot, "MITRE-GAUGE": triangle, "SLAT-GAUGE": triangle, "BEVEL": bevel, "STOP-STRIP": strip,
    "SHOOTING-BOARD": shooting,
    "SPACERS": spacer, "STICK": stick, "ROUND": rounding, "LEG-CORNER": corner, "HEIGHTS": heights, "STOPS": stops,
    "SLED": sled, "LAP-SLED": lap_sled, "END-SLED": end_sled, "TALL-FENCE": tall_fence,
    "FENCE-FACE": fence_face, "PACK": packing, "CAUL": caul, "ASSEMBLY": board, "DRAW-BLOCK": draw_block,
    "BORE-BLOCK": bore_block, "END-BLOCK": end_block,
}  # fmt: skip
