"""How a half ring lies while its ends are trimmed straight: batten, what holds it, bit or plane, blocks behind."""

from collections.abc import Iterator
from math import cos, pi

from templategen.catalogue import figured, worded
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke
from templategen.drawing.jig_marks import JIG_EDGE, made
from templategen.drawing.layers import CENTRE
from templategen.drawing.legible import legible
from templategen.drawing.machine_marks import (
    CUTTER,
    MACHINE,
    MACHINE_EDGE,
    block,
    fixed,
    named,
    pointing,
    upright,
    waste,
    wood,
    words,
)
from templategen.geometry.edge import arc_round
from templategen.geometry.outline import circle, polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point, polar
from templategen.table.assembly import Table
from templategen.table.rim import blank_outline
from templategen.units import length_words
from templategen.work.trimming import (
    BATTEN_WIDE,
    BEARING,
    batten_long,
    batten_thick,
    bit_reach,
    blocked_corners,
    corners_that_stay,
    goes_twice,
    half_deep,
    is_routed,
)

BIT = 19.0
"""Diameter of the bit and its bearing as drawn, mm."""

PLANED = (70.0, 24.0)
"""Width and thickness of a batten that a plane runs along, as drawn, mm."""

SCREW = 35.0
"""How far from its edge the batten is held, as drawn, mm."""

PROUD = 3.0
"""How far an end is drawn to stand out before it is trimmed, mm: more than it ever does."""

PACKED = (30.0, 20.0)
"""How far in from an end the packing begins that the half ring lies on, and its height, as drawn, mm."""

CLAMPED = 0.65
"""How far off its middle a segment is clamped, as drawn, as a share of the angle to its end."""

LETTERS = 44.0
"""The batten is about so many capital heights long."""


def half_trimmed(table: Table) -> Drawing:
    """From above: the half ring face down, its ends towards whoever trims them, the batten over both."""
    title = worded("{title} trimming a half ring", title=table.profile.title)
    return Drawing(title, legible(tuple(_from_above(table, batten_long(table) / LETTERS))))


def _from_above(table: Table, letter: float) -> Iterator[Mark]:
    sizes = table.sizes
    for number in range(sizes.segments // 2):
        angle = (2 * number + 1) * sizes.mitre
        at = polar(sizes.inner_apothem, angle)
        yield from wood(Placement(at.x, at.y, angle - pi / 2).outline(blank_outline(sizes)), "")
    half = batten_long(table) / 2
    yield from made(polygon(block(-half, 0.0, half, _batten(table)[0])))
    yield words(named("batten"), -letter * 6, _batten(table)[0] / 2, letter)
    yield words(named("half ring, face down"), 0.0, half_deep(table) + sizes.profile.top.rim_width / 2, letter)
    if sizes.is_sawn:
        yield Stroke(CENTRE, arc_round(Point(0, 0), sizes.radius, 0, pi))
    yield from _held(table, letter)
    yield from _clamped(table, letter)
    for side in (-1, 1):
        yield from _end(table, side, letter)
    text = figured(length_words(half_deep(table), table.profile.units))
    yield from upright(0.0, half_deep(table), letter, text, letter, 0.0)


def _batten(table: Table) -> tuple[float, float]:
    """Width and thickness of the batten, mm."""
    return (BATTEN_WIDE[table.profile.units], batten_thick(table)) if is_routed(table) else PLANED


def _corners(table: Table, side: int) -> dict[str, Point]:
    """The corners of the end on one side."""
    out = table.sizes.outer_apothem / cos(table.sizes.mitre)
    return {"inner": Point(side * table.sizes.inner_corner, 0.0), "outer": Point(side * out, 0.0)}


def _held(table: Table, letter: float) -> Iterator[Mark]:
    """Screws through the waste outside the circle, or clamps where there is none."""
    sizes, corner = table.sizes, _corners(table, 1)
    inside = sizes.radius if sizes.is_sawn else corner["inner"].x
    out, across = (inside + corner["outer"].x) / 2, letter * (0.35 if sizes.is_sawn else 0.9)
    for side in (-1, 1):
        yield Shape(JIG_EDGE, circle(side * out, SCREW, across))
    told = named("screw in the waste") if sizes.is_sawn else named("clamp")
    yield words(told, letter * 2 - corner["outer"].x, _batten(table)[0] + letter * 1.1, letter, "end")


def _clamped(table: Table, letter: float) -> Iterator[Mark]:
    """Two clamps beside the half's middle, on its one middle segment or on the two next to its middle joint."""
    sizes = table.sizes
    aside = sizes.mitre * (CLAMPED if sizes.segments // 2 % 2 else 1.0)
    out = (sizes.inner_apothem + sizes.outer_apothem) / 2
    for side in (-1, 1):
        along = polar(out / cos(aside) if aside < sizes.mitre else out, pi / 2 - side * aside)
        yield Shape(JIG_EDGE, circle(along.x, along.y, letter * 0.9))
    yield words(named("clamp"), along.x + letter * 2, sizes.outer_apothem + letter * 1.2, letter, "start")


def _end(table: Table, side: int, letter: float) -> Iterator[Mark]:
    """One end: what goes, where the tool begins and the way it runs, the block where it would break out."""
    corners, routed = _corners(table, side), is_routed(table)
    low, high = sorted((corners["inner"].x, corners["outer"].x))
    yield from waste(block(low, -PROUD, high, 0.0), letter)
    first, last = (low, high) if routed else (corners["inner"].x, corners["outer"].x)
    foot = -BIT - letter
    if routed:
        yield Shape(CUTTER, circle(first, -BIT / 2, BIT / 2))
    yield from pointing(Point(first, foot), Point(last, foot), letter)
    told = named("bit, left to right") if routed else named("plane, outwards")
    yield words(told, (first + last) / 2, foot - letter * 1.1, letter)
    blocked = blocked_corners(table, "left" if side < 0 else "right")
    for name in corners_that_stay(table) if goes_twice(table) else blocked:
        yield from _block(table, side, name, letter, "block" if name in blocked else "block for the second go")


def _block(table: Table, side: int, name: str, letter: float, told: str) -> Iterator[Mark]:
    """A block in a corner where the tool comes out or its bearing would roll round, level with the end, its one side
    along the ring's edge."""
    at, turn = _corners(table, side)[name], 2 * table.sizes.mitre
    along = Point(0.0, 1.0).turned(side * turn / 2)
    wide, away = letter * 3.5, -side if name == "inner" else side
    high = letter * 4
    top = at.plus(along, high / along.y)
    ring = (at, Point(at.x + away * wide, 0.0), Point(top.x + away * wide, high), top)
    yield Shape(MACHINE, polygon(ring))
    yield Shape(MACHINE_EDGE, polygon(ring))
    yield words(named(told), (at.x + top.x + away * wide) / 2, high + letter, letter)


def end_trimmed(table: Table) -> Drawing:
    """Along the batten's edge: the bit's bearing on the batten, how deep it reaches."""
    title = worded("{title} trimming a half ring, an end seen along the batten", title=table.profile.title)
    return Drawing(title, legible(tuple(_across(table))))


def end_trimmed_on(table: Table) -> Drawing:
    """The same in the second go: the batten off, the bearing on what is trimmed."""
    title = worded("{title} trimming a half ring, the rest of an end", title=table.profile.title)
    return Drawing(title, legible(tuple(_second(table))))


def _laid(table: Table, gone: float) -> Iterator[Mark]:
    """The end on its packing, of which waste is left up to a height."""
    thick = table.profile.top.thickness
    across = _batten(table)[0]
    wide, letter = across * 1.3, across / 16
    yield from wood(block(0.0, 0.0, wide, thick), "")
    yield from waste(block(-PROUD, 0.0, 0.0, gone), letter)
    yield from fixed(PACKED[0], -PACKED[1], wide, 0.0)
    yield from fixed(-BIT - letter * 4, -PACKED[1] - letter * 2, wide, -PACKED[1])
    yield words(named("packing"), (PACKED[0] + wide) / 2, -PACKED[1] / 2, letter)
    yield words(named("bench"), wide / 2, -PACKED[1] - letter, letter)
    yield words(named("half ring, face down"), wide / 2, thick / 2, letter)


def _second(table: Table) -> Iterator[Mark]:
    thick, reach, across = table.profile.top.thickness, bit_reach(table), _batten(table)[0]
    letter, low = across / 16, -PACKED[1] / 4
    yield from _laid(table, thick - reach)
    top = min(low + reach + 1.0 + BEARING, thick)
    yield from fixed(-BIT - letter * 4, thick, across, thick + letter)
    yield Shape(CUTTER, rectangle(-BIT, low, 0.0, low + reach))
    yield Shape(CUTTER, rectangle(-BIT, top - BEARING, 0.0, top))
    yield Shape(CUTTER, rectangle(-BIT * 0.75, top, -BIT * 0.25, thick))
    yield words(named("router's base"), across + letter, thick + letter / 2, letter, "start")
    yield words(named("bearing"), -BIT - letter, top - BEARING / 2, letter, "end")


def _across(table: Table) -> Iterator[Mark]:
    thick, reach = table.profile.top.thickness, bit_reach(table)
    across, deep = _batten(table)
    letter = across / 16
    yield from _laid(table, thick)
    yield from made(polygon(block(0.0, thick, across, thick + deep)))
    yield from fixed(-BIT - letter * 4, thick + deep, across, thick + deep + letter)
    yield Shape(CUTTER, rectangle(-BIT, thick - reach, 0.0, thick))
    yield Shape(CUTTER, rectangle(-BIT, thick + 1.0, 0.0, thick + 1.0 + BEARING))
    yield Shape(CUTTER, rectangle(-BIT * 0.75, thick + 1.0 + BEARING, -BIT * 0.25, thick + deep))
    yield words(named("router's base"), across + letter, thick + deep + letter / 2, letter, "start")
    yield words(named("batten"), across / 2, thick + deep / 2, letter)
    yield words(named("bearing"), -BIT - letter, thick + BEARING / 2, letter, "end")
    text = figured(length_words(reach, table.profile.units))
    yield from upright(thick - reach, thick, -BIT - letter * 2, text, letter, -BIT)
