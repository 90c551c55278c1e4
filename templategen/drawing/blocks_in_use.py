"""Blocks that guide a drill where they are clamped: on a rail, on a leg's side, on its tenon or astride it."""

from collections.abc import Iterator
from math import cos, tan

from templategen.catalogue import worded
from templategen.drawing.drawing import Mark, Shape, Stroke
from templategen.drawing.jig_marks import laid, piece_of
from templategen.drawing.layers import CENTRE, HIDDEN
from templategen.drawing.machine_marks import CUTTER, Squeeze, block, fixed, named, wood, words
from templategen.geometry.edge import Line
from templategen.geometry.outline import circle, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.jigs.bore_block import SHORT
from templategen.jigs.jig import Jig
from templategen.table.assembly import Table
from templategen.table.pedestal import leg_axis
from templategen.table.rails import top_bolt, top_leg_joint, top_peg


def draw_block(jig: Jig, table: Table) -> Iterator[Mark]:
    """RAIL level with the underside of a rail whose edge lies up, LEG against a leg's shoulder."""
    peg, code = top_peg(table.sizes), "DRAW-BLOCK-PLATE"
    assert peg is not None
    box, thick = piece_of(jig, code).outline.bounds, table.profile.top.thickness
    letter, reach = min(box.width / 11, peg.in_tenon * 0.7), box.width * 0.75
    x, low = reach + max(table.profile.legs.section, box.width) * 0.9, peg.rise - thick
    yield from wood(block(-reach, low, reach, peg.rise), "")
    yield from fixed(-reach, peg.rise, reach, peg.rise + letter * 1.9)
    yield from _upper_end(table, Point(x, -peg.in_tenon), -peg.in_tenon - low)
    for at in (Point(0.0, 0.0), Point(x, 0.0)):
        yield from laid(jig, code, at)
        yield Shape(CUTTER, circle(at.x, 0.0, peg.thickness / 2))
        yield words("RAIL", at.x + box.left / 2, peg.rise / 2, letter)
        yield words("LEG", at.x + box.left / 2, -peg.in_tenon / 2, letter)
    tenon = top_leg_joint(table.sizes)
    end, wide = tenon.length - peg.in_tenon, tenon.width / 2
    yield Shape(HIDDEN, rectangle(x - wide, -peg.in_tenon, x + wide, end))
    yield Stroke(CENTRE, Line(Point(0.0, low - letter), Point(0.0, peg.rise)))
    yield Stroke(CENTRE, Line(Point(x, -peg.in_tenon), Point(x, peg.rise + letter * 2)))
    yield words(named("strip on the underside"), 0.0, peg.rise + letter * 0.95, letter * 0.9)
    yield words(named("rail, an edge up"), 0.0, low - letter * 1.8, letter)
    yield words(named("leg, a cheek of its tenon up"), x, low - letter * 1.8, letter)


def bore_block(jig: Jig, table: Table) -> Iterator[Mark]:
    """Each block's lines on two knife lines: both for the bolt on a rail, that for the nut on a leg's side."""
    bolt, half = top_bolt(table.sizes), table.profile.top.rail_width / 2
    assert bolt is not None
    first, second, third = (piece_of(jig, f"BORE-BLOCK-{number}").outline.bounds.right for number in (1, 2, 3))
    letter = first / 4.5
    spots = (Point(0.0, 0.0), Point(first + second + letter * 3, 0.0))
    end, tall = spots[1].x + second + letter * 2, max(half, first) + letter
    leg = Point(end + third + letter * 3, bolt.below)
    yield from wood(block(-first - letter * 2, -half, end, half), "")
    yield from Squeeze(((first + letter * 1.5, 0.0),)).breaks(-half, half)
    yield from _upper_end(table, leg, bolt.below + tall)
    for number, at, wide in ((1, spots[0], first), (2, spots[1], second), (3, Point(leg.x, 0.0), third)):
        code = f"BORE-BLOCK-{number}"
        yield from laid(jig, code, at)
        yield from (Shape(CUTTER, Placement(at.x).outline(hole)) for hole in piece_of(jig, code).holes)
        yield Stroke(CENTRE, Line(Point(at.x - wide - letter, 0.0), Point(at.x + wide + letter, 0.0)))
        yield Stroke(CENTRE, Line(Point(at.x, -tall), Point(at.x, tall)))
        yield words(worded("block {number}", number=number), at.x, tall + letter * 0.9, letter)
    yield Shape(HIDDEN, circle(spots[1].x, 0.0, bolt.counterbore / 2))
    yield words(named("rail, its top up: 1, then 2"), spots[1].x / 2, -tall - letter, letter)
    yield words(named("leg, a side up"), leg.x, -tall - letter, letter)


def end_block(jig: Jig, table: Table) -> Iterator[Mark]:
    """From the side: its cheeks on the tenon's faces, the bit down through it; from above: its plate on the end."""
    bolt, tenon, legs = top_bolt(table.sizes), top_leg_joint(table.sizes), table.profile.legs
    assert bolt is not None
    cheek, wide = piece_of(jig, "END-BLOCK-CHEEK").outline.bounds, tenon.width / 2
    foot, letter = tenon.length - bolt.bore, (cheek.height + bolt.bore) / 18
    top, half = SHORT + cheek.height, bolt.hole / 2
    yield from _upper_end(table, Point(0.0, 0.0), letter * 3 - foot)
    yield from laid(jig, "END-BLOCK-CHEEK", Point(-wide, SHORT))
    yield Stroke(HIDDEN, Line(Point(-wide, tenon.length), Point(wide, tenon.length)))
    yield Shape(HIDDEN, circle(0.0, -bolt.below, bolt.nut / 2))
    yield from (Stroke(HIDDEN, Line(Point(x, foot), Point(x, top))) for x in (-half, half))
    yield Stroke(HIDDEN, Line(Point(-half, foot), Point(half, foot)))
    yield Shape(CUTTER, rectangle(-half, top, half, top + letter * 3))
    aside, low = legs.section / 2 + letter, foot - letter * 4.2
    yield words(named("bit"), half + letter * 0.6, top + letter * 2, letter, "start")
    yield words(named("block"), wide + letter * 0.6, top - letter, letter, "start")
    yield words(named("leg, from its side"), 0.0, low, letter)
    x, y, sheet = aside + legs.section + letter * 5, top / 2, table.profile.jigs.thickness
    yield from wood(block(x - aside + letter, y - aside + letter, x + aside - letter, y + aside - letter), "LEG")
    yield from laid(jig, "END-BLOCK-PLATE", Point(x - wide, y - tenon.thickness / 2))
    for under in (y - tenon.thickness / 2 - sheet, y + tenon.thickness / 2):
        yield Shape(CENTRE, rectangle(x - wide, under, x + wide, under + sheet))
    yield words(named("on its end"), x, y - aside - letter * 0.2, letter)


def _upper_end(table: Table, at: Point, deep: float) -> Iterator[Mark]:
    """A leg's upper end from its side, its shoulder's middle `at` a place, down to so far under that."""
    tenon, lean = top_leg_joint(table.sizes), leg_axis(table.sizes).rake
    half, wide, back = table.profile.legs.section / 2 / cos(lean), tenon.width / 2, deep * tan(lean)
    spots = ((-half, 0.0), (-half - back, -deep), (half - back, -deep), (half, 0.0), (wide, 0.0),
             (wide, tenon.length), (-wide, tenon.length), (-wide, 0.0))  # fmt: skip
    yield from wood([at.plus(Point(*spot)) for spot in spots], "LEG")
