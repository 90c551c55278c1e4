"""The re-fitted ring as a picture: where its segments stand off the drawing, gaps and slides drawn enlarged."""

from collections.abc import Iterator, Sequence
from math import atan2, cos, pi, sin

from templategen.catalogue import figured, translated, worded
from templategen.drawing.dimension import arrow
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.drawing.layers import CENTRE, TEXT
from templategen.drawing.lettering import HEIGHTS
from templategen.drawing.manner import Manner
from templategen.geometry.edge import Line
from templategen.geometry.outline import polygon
from templategen.geometry.point import Point, polar
from templategen.shop.refit.piece import Joint, Laid, lay, regular, start
from templategen.shop.refit.refit import Refit
from templategen.table.sizes import Sizes
from templategen.units import decimal_figure

CUT = Layer("AS_CUT", "segments already cut, as measured", "black", weight=0.7)
TO_CUT = Layer("TO_CUT", "segments still to cut, re-fitted", "blue", "dashed", 0.5)
RECUT = Layer("TO_RECUT", "segments to make anew, or the ring can't close", "vermilion", "long-dash-double-dot", 0.7)
GAP = Layer("GAP", "gap left at a mitre", "vermilion", weight=0.35)
SLIDE = Layer("SLIDE", "how far a segment slides along the line through its middle", "green", weight=0.35)
DRAWN = Layer("AS_DRAWN", "inner edge as first drawn", "black", "dotted", 0.25)

SHOWN = 0.25
"""The largest change is drawn about this share of the rim's width."""

TIMES = (1, 2, 5, 10, 20, 50, 100, 200, 500)
"""By how much changes may be enlarged."""

SMALL = 0.005
"""Less is told as nothing, mm."""


def refit_picture(found: Refit, revision: str = "") -> Drawing:
    """The ring in plan, each corner as far off its drawn place as it is, times a round number."""
    sizes = found.rebuilt.table.sizes
    drawn = regular(sizes.segments, sizes.inner_length, sizes.profile.top.rim_width)
    nominal, _ = lay(drawn, (Joint(),) * len(drawn), start(len(drawn), drawn[0]))
    times = _times(sizes, nominal, found.seated.laid)
    height = _height(sizes)
    marks: list[Mark] = list(_centre_lines(sizes))
    rings = [_enlarged(a, b, times) for a, b in zip(nominal, found.seated.laid, strict=True)]
    recut = {place - 1 for code, place in found.recut if found.drawn.part(code).kind == "rim-segment"}
    for index, ring in enumerate(rings):
        piece = found.seated.closed.pieces[index]
        layer = RECUT if index in recut else CUT if piece.cut else TO_CUT
        marks.append(Shape(layer, polygon(ring)))
        marks.append(Stroke(DRAWN, Line(nominal[index].corner, nominal[index].left_corner)))
    marks += _names(found, nominal, height)
    marks += _gaps(found, rings, height)
    marks += _slides(found, height)
    marks += _words(found, times, height, revision)
    return Drawing(worded("{title} re-fit", title=sizes.profile.title), tuple(marks))


def _height(sizes: Sizes) -> float:
    return min(HEIGHTS[-1] * 2, max(HEIGHTS[0], sizes.outer_apothem / 36))


def _times(sizes: Sizes, nominal: Sequence[Laid], laid: Sequence[Laid]) -> int:
    """The largest round number that keeps the picture readable."""
    pairs = zip(nominal, laid, strict=True)
    most = max(a.distance(b) for one, other in pairs for a, b in zip(one.corners, other.corners, strict=True))
    room = SHOWN * sizes.profile.top.rim_width
    return next((times for times in reversed(TIMES) if times * most <= room), 1) if most > SMALL else 1


def _enlarged(nominal: Laid, laid: Laid, times: int) -> list[Point]:
    """The corners, anticlockwise."""
    corners = zip(nominal.corners, laid.corners, strict=True)
    moved = [a.plus(b.minus(a), float(times)) for a, b in corners]
    return [moved[0], moved[3], moved[2], moved[1]]


def _centre_lines(sizes: Sizes) -> Iterator[Mark]:
    for rail in range(sizes.rails):
        way = polar(sizes.outer_apothem * 1.02, rail * sizes.field_angle)
        yield Stroke(CENTRE, Line(way.times(-1), way))
    for arm in range(sizes.arms):
        at = polar(sizes.inner_apothem * 0.3, arm * sizes.field_angle)
        yield Words(TEXT, at.plus(Point(2, 2)), _height(sizes) * 0.8, worded("arm {arm}", arm=arm + 1))


def _names(found: Refit, nominal: Sequence[Laid], height: float) -> Iterator[Mark]:
    """Each segment's code and place along its middle."""
    table = found.rebuilt.table
    for index, laid in enumerate(nominal):
        code = table.placed[index].code
        spot = laid.middle.plus(laid.outward, table.profile.top.rim_width * 0.55)
        told = code if code == f"RIM-{index + 1:02d}" else f"{code}, {index + 1}"
        yield _upright(TEXT, spot, laid.heading, height, told)


def _upright(layer: Layer, at: Point, direction: float, height: float, text: str) -> Words:
    turn = direction % (2 * pi)
    turn = turn - pi if pi / 2 - 1e-9 < turn <= 3 * pi / 2 - 1e-9 else turn
    down = Point(sin(turn), -cos(turn)).times(height / 2)
    return Words(layer, at.plus(down), height, text, "middle", turn)


def _figure(found: Refit, value: float) -> str:
    return figured(decimal_figure(value, found.drawn.profile.units, (2, 4), fixed=True))


def _gaps(found: Refit, rings: Sequence[Sequence[Point]], height: float) -> Iterator[Mark]:
    """The figure of each gap outside its joint, and of each step inside it."""
    closed, sizes = found.seated.closed, found.rebuilt.table.sizes
    for index, (joint, gap) in enumerate(zip(closed.joints, closed.gaps, strict=True)):
        way = (2 * index + 1) * sizes.mitre
        if gap >= SMALL:
            here, after = rings[index], rings[(index + 1) % len(rings)]
            yield Shape(GAP, polygon((here[3], after[0], after[1], here[2])))
        open_ = "gap {size} outside" if joint.wedge > 0 else "gap {size} inside"
        told = worded(open_, size=_figure(found, gap)) if gap >= SMALL else translated("closed")
        corner = sizes.inner_corner + sizes.joint_face
        yield _out(GAP if gap >= SMALL else TEXT, polar(corner + height * 2.2, way), way, height * 0.8, told)
        if abs(joint.slide) >= SMALL:
            at = polar(sizes.inner_corner - height * 1.5, way)
            yield _out(TEXT, at, way + pi, height * 0.7, worded("step {size}", size=_figure(found, abs(joint.slide))))


def _out(layer: Layer, at: Point, way: float, height: float, text: str) -> Words:
    """Words that begin at a point and run away from it, never upside down."""
    turn = atan2(sin(way), cos(way))
    back = abs(turn) > pi / 2 + 1e-9
    down = Point(sin(turn), -cos(turn)).times(-height / 2 if back else height / 2)
    turn = turn - pi if back and turn > 0 else turn + pi if back else turn
    return Words(layer, at.plus(down), height, text, "end" if back else "start", turn)


def _slides(found: Refit, height: float) -> Iterator[Mark]:
    """An arrow within each segment that slides, with its figure."""
    sizes = found.rebuilt.table.sizes
    for index, slide in enumerate(found.seated.slides):
        if abs(slide) < SMALL:
            continue
        way = polar(1, 2 * index * sizes.mitre)
        near, far = way.times(sizes.inner_apothem - 5.5 * height), way.times(sizes.inner_apothem - 2.5 * height)
        ends = (near, far) if slide > 0 else (far, near)
        yield from arrow(SLIDE, *ends, height * 0.7)[:3]
        told = worded("{size} out" if slide > 0 else "{size} in", size=_figure(found, abs(slide)))
        at = way.times(sizes.inner_apothem - 7 * height)
        yield _upright(SLIDE, at, 2 * index * sizes.mitre + pi / 2, height, told)


def _words(found: Refit, times: int, height: float, revision: str) -> Iterator[Mark]:
    sizes = found.rebuilt.table.sizes
    left = -sizes.outer_apothem
    top = sizes.inner_corner + sizes.joint_face + 16 * height
    unit = Manner(height, units=found.drawn.profile.units).unit_name
    limit = _figure(found, sizes.profile.limits.joint_gap)
    title = "The ring re-fitted, from above; revision {revision}" if revision else "The ring re-fitted, from above"
    lines = [
        sizes.profile.title,
        worded(title, revision=revision),
        worded(
            "gaps, steps and slides drawn {times} times too large; figures true, in {unit}", times=times, unit=unit
        ),
        worded("glue bridges {limit}; bold: cut, dashed: still to cut, dotted: inner edge as drawn", limit=limit),
    ]
    if found.recut:
        places = (worded("{code} at place {place}", code=code, place=place) for code, place in found.recut)
        lines.append(worded("make anew: {places}", places=", ".join(places)))
    for number, line in enumerate(lines):
        yield Words(TEXT, Point(left, top - number * 1.8 * height), height, line)
