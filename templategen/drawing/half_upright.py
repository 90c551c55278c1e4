"""How a half ring stands while its ends are slotted: its arch on a box, before a bench whose top carries a balk."""

from collections.abc import Iterator
from math import cos, pi

from templategen.catalogue import figured, worded
from templategen.drawing.drawing import Drawing, Mark
from templategen.drawing.jig_marks import made
from templategen.drawing.legible import legible
from templategen.drawing.machine_marks import along, block, fixed, named, upright, wood, words
from templategen.geometry.outline import polygon
from templategen.geometry.placement import Placement
from templategen.geometry.point import polar
from templategen.table.assembly import Table
from templategen.table.rim import blank_outline
from templategen.units import length_by_rule
from templategen.work.closing import BALK, half_high

PAST = 100.0
"""How far a balk reaches past either corner of an end, as drawn, mm: a router's base rests on it there."""

LETTERS = (40.0, 22.0)
"""The half ring, and an end from the side, are about so many capital heights wide."""


def half_upright(table: Table) -> Drawing:
    """From in front of the bench: the half ring on its box, balks on the bench's top behind its ends."""
    title = worded("{title} a half ring stood up to be slotted", title=table.profile.title)
    return Drawing(title, legible(tuple(_in_front(table))))


def _in_front(table: Table) -> Iterator[Mark]:
    sizes, units = table.sizes, table.profile.units
    high, over = half_high(table), BALK[units][1]
    inner, outer = sizes.inner_corner, sizes.outer_apothem / cos(sizes.mitre)
    letter = 2 * outer / LETTERS[0]
    yield from fixed(-outer - letter * 7, -over - letter * 2.5, outer + letter * 7, -over)
    for side in (-1, 1):
        low, far = sorted((side * (inner - PAST), side * (outer + PAST)))
        yield from made(polygon(block(low, -over, far, 0.0)))
    for number in range(sizes.segments // 2):
        angle = -(2 * number + 1) * sizes.mitre
        at = polar(sizes.inner_apothem, angle)
        yield from wood(Placement(at.x, at.y, angle - pi / 2).outline(blank_outline(sizes)), "")
    yield from fixed(-inner / 2, -high - letter * 4, inner / 2, -high)
    yield words(named("firm box"), 0.0, -high - letter * 2, letter)
    yield words(named("bench's front"), 0.0, -over - letter * 1.25, letter)
    yield words(named("balk"), -outer - PAST - letter * 0.5, letter * 1.2, letter)
    yield from upright(-high, 0.0, outer + letter * 9, _told(high, table), letter, outer + PAST)


def end_upright(table: Table) -> Drawing:
    """An end from the side: bench, balk and ring below a router's base."""
    title = worded("{title} a half ring's end seen along the bench", title=table.profile.title)
    return Drawing(title, legible(tuple(_from_the_side(table))))


def _from_the_side(table: Table) -> Iterator[Mark]:
    thick, (wide, over) = table.profile.top.thickness, BALK[table.profile.units]
    letter = (wide + thick) * 1.6 / LETTERS[1]
    foot = -over - letter * 6
    yield from fixed(-wide * 1.7, -over - letter * 3, 0.0, -over)
    yield from made(polygon(block(-wide, -over, 0.0, 0.0)))
    yield from wood(block(0.0, foot, thick, 0.0), "")
    yield from fixed(thick, -over - letter * 2.5, thick + letter, -over - letter)
    yield from fixed(-wide * 0.6, 0.0, thick + letter, letter)
    yield from fixed(thick, -letter * 1.6, thick + letter, 0.0)
    yield words(named("router's base"), -wide * 0.3, letter / 2, letter)
    yield words(named("guide"), thick + letter * 1.5, -letter * 0.8, letter, "start")
    yield words(named("clamp"), thick + letter * 1.5, -over - letter * 1.75, letter, "start")
    yield words(named("balk"), -wide / 2, -over / 2, letter)
    yield words(named("bench's top"), -wide * 0.85, -over - letter * 1.5, letter)
    yield words(named("ring"), thick / 2, (foot - over) / 2, letter)
    yield from upright(-over, 0.0, -wide - letter * 1.2, _told(over, table), letter, -wide)
    yield from along(-wide, 0.0, letter * 2.6, _told(wide, table), letter, letter * 1.2)


def _told(size: float, table: Table) -> str:
    return figured(length_by_rule(size, table.profile.units))
