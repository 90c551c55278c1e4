"""What a router in the hand cuts along a straightedge clamped across the pieces: rebates at their ends."""

from collections.abc import Iterator

from templategen.catalogue import worded
from templategen.drawing.bench_view import BenchView, lies_up
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
    upright,
    waste,
    wood,
    words,
)
from templategen.drawing.machine_sections import TABLE
from templategen.drawing.move import moved
from templategen.geometry.clip import convex_clip, half_plane
from templategen.geometry.edge import Line
from templategen.geometry.outline import polygon
from templategen.geometry.point import Point
from templategen.parts.sides import end_edge

OFF = 4.0
"""From a line to the straightedge, which is measured on a trial groove, as drawn in capital heights."""

BAR = 1.6
"""How wide a straightedge is drawn, in capital heights."""

WIDE = 8.0
"""How wide a piece with a slanting end is drawn, in capital heights, and how long."""
LONG = 14.0


def rebate_led(view: BenchView) -> Iterator[Mark]:
    """From the side, the worked face up: straightedge, router's base, and bit at the shoulder; an end that slants
    from above, too."""
    thick, far, depth = view.part.thickness, view.value("fence"), view.value("height")
    long = max(thick * 2.4, far * 3)
    letter = max(long, thick * 2) / 18
    cutter, stand = min(view.value("cutter"), far), far + OFF * letter
    long = max(long, stand + (BAR + 3) * letter)
    yield from wood(block(0.0, -thick, long, 0.0), view.part.code)
    yield from waste(block(0.0, -depth, far, 0.0), letter)
    for x in (far - cutter, far):
        yield Stroke(CUTTER, Line(Point(x, 0.0), Point(x, -depth)))
    yield Stroke(CUTTER, Line(Point(far - cutter, -depth), Point(far, -depth)))
    for aside in (-0.05, 0.05):
        x = long + aside * thick
        yield Stroke(BREAK, Line(Point(x - 0.04 * thick, -thick), Point(x + 0.04 * thick, 0.0)))
    half = OFF * letter + cutter / 2
    yield from fixed(far - cutter / 2 - half, 0.0, stand, TABLE * letter)
    yield words(named("table"), far - cutter / 2, TABLE * letter / 2, letter)
    yield from fixed(stand, 0.0, stand + BAR * letter, letter * (TABLE + 0.6))
    yield words(named("straightedge"), stand + letter * (BAR + 0.5), letter * TABLE / 2, letter, "start")
    yield words(named("end"), letter * 0.8, letter - thick, letter, "start")
    yield words(lies_up(view, view.lay.up), (far + long) / 2 + letter, min(-letter, -thick / 2), letter)
    foot = letter * (TABLE + 0.2)
    yield from along(far, stand, letter * 4.6, named("as measured"), letter, foot)
    yield from along(0.0, far, letter * 7.1, view.figure("fence"), letter, foot)
    yield from upright(-depth, 0.0, long + letter * 2.4, view.figure("height"), letter, far)
    if view.value("angle"):
        plan = tuple(_slanting(view, letter))
        yield from moved(plan, Point(long / 2 - marks_box(plan).centre.x, -thick - letter * 3 - marks_box(plan).top))


def _slanting(view: BenchView, letter: float) -> Iterator[Mark]:
    """From above, the end at the left: the straightedge along it, scrap beside the piece whose ends slant so too."""
    lay, blank = view.lay, view.part.blank.bounds
    scale = WIDE * letter / blank.height
    across, up = (-1.0 if lay.against.startswith("right") else 1.0), (-1.0 if lay.up == "bottom" else 1.0)

    def lying(point: Point) -> Point:
        return Point(across * point.x, across * up * (point.y - blank.centre.y)).times(scale)

    edge = end_edge(view.part.blank, lay.against)
    assert edge is not None
    low, high = sorted(map(lying, edge), key=lambda one: one.y)
    way = high.minus(low).unit
    inward = way.left.times(-1)
    left, half = min(low.x, high.x), WIDE * letter / 2

    def at(y: float, in_: float) -> Point:
        """On a line along the end, so far in from it, at a height."""
        foot = low.plus(inward.times(in_))
        return foot.plus(way.times((y - foot.y) / way.y))

    right = max(at(half, 0.0).x, at(-half, 0.0).x) + LONG * letter
    ring = [lying(one) for one in view.part.blank.anticlockwise.points]
    ring = ring if up > 0 else ring[::-1]
    piece = list(convex_clip(ring, (half_plane(Point(right, 0.0), Point(-1.0, 0.0)),)))
    yield from wood(piece, view.part.code)
    for one in (1.0, -1.0):
        beside = [at(one * half, 0.0), Point(right, one * half), Point(right, one * (half + 2.2 * letter)),
                  at(one * (half + 2.2 * letter), 0.0)]  # fmt: skip
        yield from (Shape(layer, polygon(beside[:: int(one)])) for layer in (MACHINE, MACHINE_EDGE))
        yield words(named("scrap"), right - letter * 3, one * (half + 1.1 * letter), letter)
    far = view.value("fence") * scale
    band = convex_clip(piece, (half_plane(at(0.0, far), inward.times(-1)),))
    yield from waste(list(band), letter)
    yield Stroke(CUTTER, Line(at(-half, far), at(half, far)))
    reach, near = half + 4 * letter, far + OFF * letter
    bar = [at(-reach, near), at(-reach, near + BAR * letter), at(reach, near + BAR * letter), at(reach, near)]
    yield from (Shape(layer, polygon(bar)) for layer in (MACHINE, MACHINE_EDGE))
    yield words(named("straightedge"), bar[2].x + letter * 0.6, reach - letter * 0.6, letter, "start")
    told = worded("{angle} off square", angle=view.figure("angle"))
    yield words(told, (left + right) / 2, -reach - letter * 1.2, letter)
