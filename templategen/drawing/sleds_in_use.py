"""Sleds, wooden fences and packing where they stand: on the machine's table, a piece on or at them."""

from collections.abc import Iterator
from math import cos, pi, sin, tan

from templategen.drawing.bench_view import LETTERS
from templategen.drawing.drawing import Mark, Shape, Stroke
from templategen.drawing.jig_marks import JIG_EDGE, made, piece_of
from templategen.drawing.layers import CENTRE, DIMENSION
from templategen.drawing.machine_marks import CUTTER, MACHINE, MACHINE_EDGE, block, fixed, named, wood, words
from templategen.geometry.edge import Line
from templategen.geometry.outline import circle, polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point, polar
from templategen.jigs.fences import PAST
from templategen.jigs.jig import Jig
from templategen.jigs.push_block import BACK, FRONT, end_angles
from templategen.jigs.sled import BEHIND, WIDE, sled_of
from templategen.parts.kinds import FeatureKind
from templategen.table.assembly import Table


def sled(_: Jig, table: Table) -> Iterator[Mark]:
    """From above, pushed up the sheet: the piece between fence and blade, its point at the fence."""
    own = sled_of(table)
    (angle, codes), box, corner = own.angles[-1], own.base.bounds, own.corner
    letter = max(box.width, box.height) / LETTERS
    part = table.part(codes[-1])
    far, aside = corner.plus(polar(part.size[0], angle)), polar(part.size[1], angle + pi / 2)
    yield from made(own.base, "SLED-BASE")
    yield Stroke(CENTRE, Line(Point(0.0, 0.0), Point(0.0, box.top)))
    for low in (0.0, box.top - own.bridge):
        yield Shape(JIG_EDGE, rectangle(box.left, low, box.right, low + own.bridge))
    yield Shape(JIG_EDGE, rectangle(-WIDE, -BEHIND, WIDE, 0.0))
    yield from made(own.fence(angle, codes), f"SLED-FENCE-{len(own.angles)}")
    yield from wood((corner, far, far.plus(aside), Point(0.0, corner.y + part.size[1] / cos(angle))), part.code)
    stop = polygon((far, far.plus(polar(PAST / 2, angle)), far.plus(polar(PAST / 2, angle)).plus(aside, 0.5),
                    far.plus(aside, 0.5)))  # fmt: skip
    yield from (Shape(layer, stop) for layer in (MACHINE, MACHINE_EDGE))
    yield Stroke(CUTTER, Line(Point(0.0, corner.y), Point(0.0, box.top - own.bridge)))
    yield words(named("blade"), 0.0, box.top + letter, letter)
    yield words(named("guard"), 0.0, -BEHIND - letter, letter)
    yield words(named("bridge"), box.left - letter * 0.6, own.bridge / 2, letter, "end")
    yield words(named("base"), box.left - letter * 0.6, box.centre.y, letter, "end")
    yield words(named("stop"), box.right + letter * 0.6, far.y, letter, "start")
    yield words(
        named("fence"), box.right + letter * 0.6, corner.y + (far.y - corner.y) / 2 - WIDE / 2, letter, "start"
    )


def lap_sled(jig: Jig, table: Table) -> Iterator[Mark]:
    """From the front: the fence on its edge behind the rail, the stop at its end, the cutter under both."""
    fence, stop = (piece_of(jig, f"LAP-SLED-{name}").outline for name in ("FENCE", "STOP"))
    box, rail = fence.bounds, max((p for p in table.parts if p.cuts("lap")), key=lambda p: p.size[0])
    letter, half = box.width / LETTERS, rail.size[0] / 2
    depth, wide = max(f.depth for f in rail.cuts("lap")), table.profile.shop.groove_cutter
    yield from fixed(box.left - letter * 2, -letter * 2, box.right + letter * 8, 0.0)
    yield from made(fence, "LAP-SLED-FENCE")
    yield from wood(block(-half, 0.0, box.right + letter * 6, rail.thickness), rail.code)
    yield from made(Placement(-half - PAST).outline(stop), "LAP-SLED-STOP")
    yield Shape(CUTTER, rectangle(0.0, -letter * 2, wide, depth))
    yield words(named("fence on the mitre gauge"), letter - half, box.top + letter, letter, "start")
    yield words(named("stop"), -half - PAST / 2, box.top + letter, letter)
    yield words(named("rail"), -half / 2, rail.thickness / 2, letter)
    yield words(named("table"), -half / 2, -letter, letter)
    yield words(named("cutter"), wide / 2, -letter * 3, letter)


def end_sled(jig: Jig, table: Table) -> Iterator[Mark]:
    """From above, pushed to the right: the piece's end on the fence, its edge at the block's front."""
    number, (angle, codes) = max(enumerate(end_angles(table), 1), key=lambda one: (len(one[1][1]), one[0]))
    own, part = piece_of(jig, f"END-SLED-{number}").outline, table.part(codes[-1])
    wide, along, ahead = part.size[1], Point(sin(angle), -cos(angle)), Point(cos(angle), sin(angle))
    end, letter = Point(wide / cos(angle), 0.0), FRONT / 20
    out = along.times(FRONT * 1.2)
    cuts = (feature.outline.bounds for one in table.parts for feature in one.cuts("tongue", "tenon"))
    shoulder = min(min(box.width, box.height) for box in cuts)
    start = end.x + shoulder * tan(angle) + letter * 2
    right = start + letter * 10
    yield from fixed(-BACK - letter * 2, 0.0, right + letter, letter * 2)
    yield from made(own, f"END-SLED-{number}")
    yield from wood((Point(0.0, 0.0), out, out.plus(ahead, wide), end), part.code)
    reach = min(shoulder, table.profile.shop.groove_cutter)
    yield Shape(CUTTER, rectangle(start, -shoulder, start + letter * 4, reach - shoulder))
    yield words(named("fence"), -BACK / 2, letter, letter)
    yield words(named("block"), -BACK / 2, own.bounds.bottom / 2, letter)
    yield words(named("cutter"), start + letter * 4.6, -letter, letter, "start")
    low = own.bounds.bottom - letter * 1.5
    tip = Point(-BACK / 3, low)
    for foot in (Point(-BACK, low), Point(tip.x - letter, low + letter / 3), Point(tip.x - letter, low - letter / 3)):
        yield Stroke(DIMENSION, Line(foot, tip))
    yield words(named("pushed this way"), -BACK, low - letter * 1.4, letter, "start")


def tall_fence(jig: Jig, table: Table) -> Iterator[Mark]:
    """From the end: the face before the machine's fence, a rib behind it, the piece against it over the cutter."""
    kind: FeatureKind = "groove" if jig.code == "TALL-FENCE" else "spline-slot"
    way = 1 if kind == "groove" else 0
    part = max((p for p in table.parts if p.cuts(kind)), key=lambda p: p.size[way])
    cut, standing, thick = part.cuts(kind)[0], part.size[way], table.profile.jigs.thickness
    face, rib = (piece_of(jig, f"{jig.code}-{name}").outline.bounds for name in ("FACE", "RIB"))
    letter = max(standing, face.height) / 16
    near, behind, low = part.thickness - cut.outline.bounds.top, -thick - rib.width, face.height - rib.height
    yield from fixed(behind - letter * 4, -letter * 2, part.thickness + letter * 6, 0.0)
    yield from fixed(behind, 0.0, -thick, low)
    yield Shape(JIG_EDGE, rectangle(-thick, 0.0, 0.0, face.height))
    yield from made(rectangle(behind, low, -thick, face.height), f"{jig.code}-RIB")
    yield from wood(block(0.0, 0.0, part.thickness, standing), part.code)
    yield Shape(CUTTER, rectangle(near, -letter * 2, near + cut.outline.bounds.height, cut.depth))
    yield words(named("piece"), part.thickness + letter * 0.6, standing / 2, letter, "start")
    yield words(named("cutter"), near, -letter * 3, letter, "start")
    yield words(named("table"), behind - letter, -letter, letter)
    yield words(named("fence"), behind - letter * 0.6, low / 2, letter, "end")
    yield words(named("rib"), behind - letter * 0.6, low + rib.height / 2, letter, "end")
    yield words(named("face"), -letter * 2, max(standing, face.height) + letter, letter, "end")


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
