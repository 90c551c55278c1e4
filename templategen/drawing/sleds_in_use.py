"""Sleds, wooden fences and packing where they stand: on the machine's table, a piece on or at them."""

from collections.abc import Iterator, Sequence
from math import cos

from templategen.catalogue import figured, translated, worded
from templategen.drawing.bench_view import LETTERS
from templategen.drawing.dimension import cross
from templategen.drawing.drawing import Mark, Shape, Stroke, marks_box
from templategen.drawing.jig_marks import JIG_EDGE, made, piece_of
from templategen.drawing.jig_places import along_edges
from templategen.drawing.layers import CENTRE
from templategen.drawing.machine_marks import (
    CUTTER,
    MACHINE,
    MACHINE_EDGE,
    WASTE_EDGE,
    Squeeze,
    along,
    block,
    fixed,
    named,
    pointing,
    wood,
    words,
)
from templategen.drawing.manner import Manner
from templategen.drawing.move import moved
from templategen.geometry.clip import convex_clip, half_plane
from templategen.geometry.edge import Line
from templategen.geometry.outline import circle, polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.jigs.end_hold import JAW, SCRAP, Hold, on_gauge
from templategen.jigs.fences import OFF
from templategen.jigs.fences import fence_face as wooden_face
from templategen.jigs.jig import Jig
from templategen.jigs.lap_sled import PAST, shift_of
from templategen.jigs.push_block import DRAWN, FRONT, TURNED, PushBlock, push_blocks
from templategen.jigs.sled import BEHIND, SCREWED, sled_of
from templategen.parts.part import Part
from templategen.shop.set_ups.cutters import AT_THE_FENCE
from templategen.table.assembly import Table
from templategen.units import length_words

SMALLER = 0.7
"""Capitals beside a rail that is longer than the fence behind it, as a share of the usual."""

HELD = 0.6, 0.85
"""Where the feet of hold-down clamps stand on a piece, as shares of its length from the cut."""


def sled(_: Jig, table: Table) -> Iterator[Mark]:
    """From above, pushed up the sheet: the piece between fence and blade, its point at the fence, which lies at the
    furthest of its lines; where lines and cut lie on the base, and crosses where screws go."""
    own = sled_of(table)
    (angle, codes), box, corner = own.angles[-1], own.base.bounds, own.corner
    letter, units = max(box.width, box.height) / LETTERS * SMALLER, table.profile.units
    part = table.part(codes[-1])
    way = own.along(angle)
    far, aside = corner.plus(way, part.size[0]), way.left.times(-part.size[1])
    ends = [corner.plus(own.along(turn), own.long(parts)) for turn, parts in own.angles]
    yield from made(own.base, "SLED-BASE")
    yield Stroke(CENTRE, Line(Point(0.0, 0.0), Point(0.0, box.top)))
    yield from (Stroke(CENTRE, Line(corner, end)) for end in ends[:-1])
    for low in (0.0, box.top - own.bridge):
        yield Shape(JIG_EDGE, rectangle(box.left, low, box.right, low + own.bridge))
    yield Shape(JIG_EDGE, rectangle(-own.wide, -BEHIND, own.wide, 0.0))
    yield from made(own.fence(angle, codes), f"SLED-FENCE-{len(own.angles)}")
    for from_cut in (SCREWED, (SCREWED + own.long(codes)) / 2, own.long(codes) - SCREWED):
        yield from cross(corner.plus(way, from_cut).plus(way.left, own.wide / 2), letter * 0.4, angle, WASTE_EDGE)
    yield from wood((corner, far, far.plus(aside), Point(0.0, corner.y + part.size[1] / cos(angle))), part.code)
    past = far.plus(way, PAST / 2)
    yield from _stands((far, past, past.plus(aside, 0.5), far.plus(aside, 0.5)))
    feet = [corner.plus(way, part.size[0] * share) for share in HELD]
    for foot in feet:
        yield from _stands([foot.plus(way, at).plus(way.left, off) for at, off in
                            ((-letter / 2, own.wide), (letter / 2, own.wide), (letter / 2, -part.size[1] / 2),
                             (-letter / 2, -part.size[1] / 2))])  # fmt: skip
    yield Stroke(CUTTER, Line(Point(0.0, corner.y), Point(0.0, box.top - own.bridge)))
    across = sorted({0.0, *(end.x - box.left for end in ends), -box.left, box.width})
    up = sorted({0.0, corner.y, *(end.y for end in ends if end.y > corner.y + letter), box.height})
    yield from along_edges(box, across, up, Manner(1.0, units=units), letter)
    yield words(named("blade"), -letter * 0.6, box.top - own.bridge - letter, letter, "end")
    yield words(named("guard"), 0.0, -BEHIND - letter, letter)
    yield words(named("bridge"), box.right + letter * 0.6, own.bridge / 2, letter, "start")
    yield words(named("base"), box.right + letter * 0.6, box.centre.y, letter, "start")
    yield words(named("stop"), past.x + letter, past.y + letter, letter, "start")
    yield words(named("clamp"), *feet[0].plus(way.left, own.wide + letter), letter, "end")
    under = corner.plus(way, own.long(codes) / 2).plus(way.left, own.wide + letter)
    yield words(named("fence"), under.x, under.y, letter, "end")


def _stands(points: Sequence[Point]) -> Iterator[Mark]:
    """What is set or bought, not made."""
    yield from (Shape(layer, polygon(points)) for layer in (MACHINE, MACHINE_EDGE))


def lap_sled(jig: Jig, table: Table) -> Iterator[Mark]:
    """From the rail's side: the fence on its edge behind the rail, the stop at its end, the cutter under both; above
    it a rail's end over the cutter, seen from above."""
    fence, stop = (piece_of(jig, f"LAP-SLED-{name}").outline for name in ("FENCE", "STOP"))
    box, letter = fence.bounds, fence.bounds.width / LETTERS * SMALLER
    laps = [part for part in table.parts if part.cuts("lap")]
    if laps:
        rail = max(laps, key=lambda part: part.size[0])
        half, deep = rail.size[0] / 2, max(f.depth for f in rail.cuts("lap"))
        yield from fixed(box.left - letter * 8, -letter * 2, box.right + letter * 2, 0.0)
        yield from made(fence, "LAP-SLED-FENCE")
        yield from wood(block(box.left - letter * 6, 0.0, half, rail.thickness), rail.code)
        yield from made(Placement(half).outline(stop), "LAP-SLED-STOP")
        yield Shape(CUTTER, rectangle(-table.profile.shop.groove_cutter, -letter * 2, 0.0, deep))
        cutter = table.profile.shop.groove_cutter
        for at, low in ((0.0, box.top - deep), *((-shift_of(table), up) for up in (0.0, box.top - deep))):
            yield Shape(WASTE_EDGE, rectangle(at - cutter, low, at, low + deep))
        between = (rail.thickness + box.top - deep) / 2
        yield words(named("next cuts"), -(shift_of(table) + cutter) / 2, between, letter)
        for at in (-OFF, OFF):
            yield from fixed(at - JAW / 2, box.top - letter * 2, at + JAW / 2, box.top)
        yield words(named("clamp"), OFF + JAW, box.top - letter, letter, "start")
        near = figured(length_words(-box.left, table.profile.units))
        yield from along(box.left, 0.0, -letter * 6, near, letter, -letter * 2)
        yield words(named("fence on the mitre gauge, you behind it"), box.left, box.top + letter, letter, "start")
        yield words(named("stop"), half + stop.bounds.width / 2, -letter * 3, letter)
        yield words(named("rail"), half / 2, rail.thickness / 2, letter)
        yield words(named("table"), half / 2, -letter, letter)
        yield words(named("cutter"), 0.0, -letter * 3, letter)
    ends = [part for part in table.parts if part.cuts("tongue", "tenon") and on_gauge(part)]
    if ends:
        part = max(ends, key=lambda part: part.size[0])
        above = box.top + letter * 8 + part.size[1] if laps else 0.0
        bare = any(not _faced(table, _end_cut(one)) for one in ends)
        yield from moved(_end_on_gauge(jig, part, table, bare), Point(box.left, above))


def _end_cut(part: Part) -> float:
    """How far in from a part's end what is cut there ends, mm."""
    return min(min(f.outline.bounds.width, f.outline.bounds.height) for f in part.cuts("tongue", "tenon"))


def _end_on_gauge(jig: Jig, part: Part, table: Table, bare: bool) -> Iterator[Mark]:
    """From above: the fence of the gauge on the far side, the piece's end at the machine's fence on the left; `bare`
    where others than this piece come to that without its wooden face."""
    box, wide = jig.parts[0].outline.bounds, part.size[1]
    letter = box.width / LETTERS * SMALLER
    deep = _end_cut(part)
    thick, cutter = 2 * table.profile.jigs.thickness, table.profile.shop.groove_cutter
    faced = _faced(table, deep)
    if faced:
        yield Shape(JIG_EDGE, rectangle(-faced, -wide - letter * 4, 0.0, thick + letter * 2))
        name = named("face where its card has one" if bare else "face")
        yield words(name, -faced / 2, thick + letter * 3, letter)
    yield from fixed(-faced - letter * 2, -wide - letter * 4, -faced, thick + letter * 2)
    yield from wood(block(0.0, -wide, part.size[0], 0.0), part.code)
    yield Shape(JIG_EDGE, rectangle(0.0, 0.0, box.width, thick), "LAP-SLED-FENCE")
    yield Shape(CUTTER, rectangle(deep - cutter, -wide - letter * 4, deep, -wide - letter))
    yield from fixed(part.size[0] - letter * 3, -wide - letter * 3, part.size[0] - letter, thick)
    yield words(named("fence"), -faced - letter * 2.6, -wide / 2, letter, "end")
    yield words(named("cutter"), deep + letter, -wide - letter * 2.5, letter, "start")
    yield words(named("fence on the mitre gauge, you behind it"), box.width / 2, thick + letter, letter)
    yield words(named("stand"), part.size[0] - letter * 2, thick + letter, letter)
    yield words(part.code, part.size[0] / 2, -wide / 2, letter)
    yield from pointing(Point(part.size[0] / 2, -wide - letter), Point(part.size[0] / 2, -wide - letter * 4), letter)


def _faced(table: Table, deep: float) -> float:
    """How thick the wooden face is that stands before the machine's fence where a cut `deep` mm brings the cutter to
    it, 0 where none does."""
    (face,) = (piece for jig in wooden_face(table) for piece in jig.parts)
    return face.count * face.thickness if deep - table.profile.shop.groove_cutter < AT_THE_FENCE else 0.0


def end_sled(_: Jig, table: Table) -> Iterator[Mark]:
    """From above, pushed to the left: for a block that carries several pieces that at which it stands as drawn, and
    beside it one that is held between two, turned over if it can be; else one at which a block is turned over."""
    every = [(number, own, one) for number, own in enumerate(push_blocks(table), 1) for one in own.holds]
    plain = max(every, key=lambda one: (one[2].scrap is None, one[2].lean > 0, one[2].clamp, len(one[1].holds)))
    other = max(every, key=lambda one: (one[2].scrap is not None, one[2].lean < 0))
    drawn = [plain] if other[2].scrap is None and other[2].lean >= 0 else [plain, other]
    left = 0.0
    for number, own, one in drawn:
        marks = tuple(_at_the_fence(number, own, one, table, len(drawn)))
        box = marks_box(marks)
        yield from moved(marks, Point(left - box.left, 0.0))
        left += box.width + FRONT / 4


def _at_the_fence(number: int, own: PushBlock, one: Hold, table: Table, beside: int) -> Iterator[Mark]:
    """A piece held, its end at the fence on the far side, the cutter before it."""
    letter, code, deep = FRONT / 22 * beside, f"END-SLED-{number}", table.sizes.tongue_length
    lies, *second = own.lying(one)
    far = (one.clamp if one.scrap is None else one.scrap + SCRAP) + letter * 4
    kept = convex_clip(one.ring, (half_plane(one.at(far, 0.0), one.along.times(-1)),))
    marks = [mark for each in (lies, *second) for mark in made(each, code)]
    marks += wood(kept, one.code)
    front = one.wide + (one.back if second else 0.0)
    if one.scrap is not None:
        marks += wood([one.at(one.scrap + a, b) for a, b in _corners(SCRAP, one.wide)], "")
        marks.append(words("c", *one.at(one.scrap + SCRAP / 2, one.wide / 2), letter))
    for before, out in ((-one.back, -1.0), (front, 1.0)):
        jaw = polygon(one.at(one.clamp - JAW / 2 + a, before + out * b) for a, b in _corners(JAW, letter))
        marks += [Shape(layer, jaw) for layer in (MACHINE, MACHINE_EDGE)]
    marks.append(Stroke(CENTRE, Line(one.at(one.clamp, -one.back), one.at(one.clamp, front))))
    marks.append(words(named("clamp"), *one.at(one.clamp, -one.back - letter * 1.8), letter, "start"))
    marks.append(words("a", *one.at(one.clamp * 0.6, -one.back / 2), letter))
    inside = (one.both[0] + one.both[1]) / 2 if second else one.clamp - JAW / 2 - letter
    marks.append(words("b", *one.at(inside, one.wide / 2), letter))
    box = marks_box(tuple(marks))
    faced = _faced(table, deep)
    if faced:
        yield Shape(JIG_EDGE, rectangle(box.left - letter * 9, 0.0, box.right, faced))
        yield words(named("face"), box.right + letter / 2, faced / 2, letter, "start")
    yield from fixed(box.left - letter * 9, faced, box.right, faced + letter * 2)
    if faced:
        left_out = (box.left - letter * 7.5, 1.0)
        yield from Squeeze((left_out,)).breaks(0.0, faced + letter * 2)
    yield from marks
    yield words(named("fence"), box.centre.x, faced + letter, letter)
    reach = min(deep, table.profile.shop.groove_cutter)
    yield Shape(CUTTER, rectangle(box.left - letter * 6, -deep, box.left - letter, reach - deep))
    yield words(named("cutter"), box.left - letter * 3.5, -deep - letter, letter)
    low = box.bottom - letter * 2
    yield from pointing(Point(letter, low), Point(-letter * 8, low), letter)
    yield words(named("pushed this way"), letter * 2, low, letter, "start")
    lying = translated(TURNED if one.lean < 0 else DRAWN) if own.lean else ""
    block_told = " ".join(filter(None, (worded("block {number}", number=number), lying)))
    told = f"a {block_told}, b {one.code}" + (f", c {named('scrap')}" if second else "")
    yield words(told, box.left - letter * 9, low - letter * 2.5, letter, "start")


def _corners(long: float, wide: float) -> tuple[tuple[float, float], ...]:
    return (0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide)


def fence_face(jig: Jig, table: Table) -> Iterator[Mark]:
    """From the front: the face on the machine's fence, the cutter up in the room that it has cut itself."""
    own = piece_of(jig, "FENCE-FACE").outline
    box, deep = own.bounds, min(f.depth for part in table.parts for f in part.cuts("tongue", "tenon"))
    letter = box.width / LETTERS
    yield from fixed(-letter * 2, 0.0, box.right + letter * 2, box.top + letter * 2)
    yield from made(own, "FENCE-FACE")
    yield from fixed(-letter * 2, -letter * 2.4, box.right + letter * 2, 0.0)
    yield Shape(CUTTER, circle(box.centre.x, deep - letter * 3, letter * 3))
    yield words(named("fence"), box.centre.x, box.top + letter, letter)
    yield words(named("face"), box.right / 5, box.top / 2, letter)
    yield words(named("table"), box.right / 5, -letter * 1.2, letter)
    yield words(named("cutter"), box.centre.x, deep - letter * 7, letter)


def packing(jig: Jig, table: Table) -> Iterator[Mark]:
    """From the cut's side: the packing in it, the bore over its middle."""
    own, part = jig.parts[0].outline, table.part(jig.serves[0])
    box, wide = own.bounds, max(part.size[1], jig.parts[0].outline.bounds.height)
    letter = box.width / 6
    left = -letter * 8 if jig.code == "PACK-MORTISE" else 0.0
    low, high = box.centre.y - wide / 2, box.centre.y + wide / 2
    yield from wood(block(box.left + left, low, box.right + letter * 8, high), "")
    yield from made(own, jig.parts[0].code)
    yield Shape(CUTTER, circle(*box.centre, letter * 0.7))
    yield words(named("packing in the cut, seen from below"), box.right, low - letter, letter)
    yield words(named("piece"), box.right + letter * 4, box.centre.y, letter)
    yield words(named("bit"), box.centre.x, box.centre.y + letter * 1.6, letter)
