"""Made-up parts of the Towpath tables, each with the work its kind carries."""

from __future__ import annotations

from math import cos, pi, sin, sqrt, tan

from templategen.geometry.edge import Line, arc_round
from templategen.geometry.outline import Outline, circle, outline_of, polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.parts.face import Face, bottom_face, side_face, top_face
from templategen.parts.feature import Feature
from templategen.parts.part import Part

OVER = Placement(turned_over=True)
THICK = 28.0


def faces(outline: Outline, thickness: float, **sides: int) -> tuple[Face, ...]:
    """Top and bottom, and the straight edges named by keyword (edge_1=0 is edge 0 of the outline)."""
    upright = []
    for name, index in sides.items():
        edge = outline.edges[index]
        assert isinstance(edge, Line)
        upright.append(side_face(name.replace("_", "-"), edge, thickness))
    return (top_face(outline, thickness), bottom_face(outline), *upright)


def rim_segment() -> Part:
    """A sawn segment of twelve: inner edge grooved, a spline slot in each end, rim rounded over."""
    radius, inner, outer, half = 670.0, 549.0, 675.0, pi / 12
    low, high = inner * tan(half), radius * sin(half)
    start, end = Point(low, inner), Point(-low, inner)
    right, left = Point(high, radius * cos(half)), Point(-high, radius * cos(half))
    arc = arc_round(Point(0, 0), radius, pi / 2 - half, 2 * half)
    outline = outline_of([Line(end, start), Line(start, right), arc, Line(left, end)])
    blank = polygon(((-low, inner), (low, inner), (outer * tan(half), outer), (-outer * tan(half), outer)))
    joint = start.distance(right)
    rim = outline_of(
        [
            arc,
            Line(arc.end, arc.end.plus(Point(0, 0).minus(arc.end).unit, 6)),
            arc_round(Point(0, 0), radius - 6, pi / 2 + half, -2 * half),
            Line(arc.start.plus(Point(0, 0).minus(arc.start).unit, 6), arc.start),
        ]
    )
    slot = [
        Feature("spline-slot", "end-1", rectangle(20, 10, joint - 16, 18), 24, "slot", ("SP",)),
        Feature("spline-slot", "end-2", rectangle(16, 10, joint - 20, 18), 24, "slot", ("SP",)),
    ]
    features = (
        Feature("groove", "edge-1", rectangle(0, 8.5, 2 * low, 19.5), 14, "groove", ("SL-1", "SL-2"), 0.3),
        *slot,
        Feature("round-over", "top", rim, 6, "rout with a bearing"),
    )
    sides = faces(outline, THICK, edge_1=0, end_1=1, end_2=3)
    return Part("RS", "rim segment", "rim-segment", 12, "iroko", THICK, blank, outline, features, faces=sides)


def slat() -> Part:
    """A slat with mitred ends, a tongue at each end left by rebates on both faces, arrises chamfered."""
    slope = tan(pi / 6)
    outline = polygon(((-200, 0), (200, 0), (200 - 58 * slope, 58), (-200 + 58 * slope, 58)))
    right = polygon(((185, 0), (200, 0), (200 - 58 * slope, 58), (185 - 58 * slope, 58)))
    left = Outline(OVER.outline(right).vertices)
    zones = (left, right)
    features = tuple(
        Feature("tongue", face, zone, 5.05, "rebate", ("RL-1", "RL-2"), 0.1)
        for face in ("top", "bottom")
        for zone in (zones if face == "top" else tuple(OVER.outline(z) for z in zones))
    )
    edge = Feature(
        "chamfer", "top", polygon(((-185, 0), (185, 0), (185 - 2 * slope, 2), (-185 + 2 * slope, 2))), 2, "plane"
    )
    return Part(
        "SL-3", "slat", "slat", 24, "iroko", 21.0, outline, outline, (*features, edge),
        faces=faces(outline, 21.0),
    )  # fmt: skip


def leg() -> Part:
    """A leg lying along x: shoulders of two sides in the outline, of the other two as rebates."""
    w, t, long, tenon = 35.0, 20.0, 300.0, 50.0
    outline = polygon(
        ((-long, -w), (long, -w), (long, -t), (long + tenon, -t), (long + tenon, t), (long, t), (long, w),
         (-long, w), (-long, t), (-long - tenon, t), (-long - tenon, -t), (-long, -t))
    )  # fmt: skip
    zones = (rectangle(long, -t, long + tenon, t), rectangle(-long - tenon, -t, -long, t))
    features = tuple(
        Feature("tenon", face, zone, 15.0, "saw cheeks and shoulders", ("RL-1",), 0.2)
        for face in ("top", "bottom")
        for zone in zones
    )
    blank = rectangle(-long - tenon, -w, long + tenon, w)
    return Part("LG", "leg", "leg", 6, "iroko", 70.0, blank, outline, features, faces=faces(outline, 70.0))


def rail() -> Part:
    """The lowest of three rails: hourglass lap, grooved edges, tenons, pole hole, mortises below."""
    b, a, tenon = 42.0, 549.0, 13.0
    far, waist = (b + b / 2) / (sqrt(3) / 2), b / (sqrt(3) / 2)
    lap = polygon(((-far, -b), (far, -b), (waist, 0), (far, b), (-far, b), (-waist, 0)))
    outline = rectangle(-a - tenon, -b, a + tenon, b)
    zones = (rectangle(a, -b, a + tenon, b), rectangle(-a - tenon, -b, -a, b))
    hole = circle(0, 0, 20)
    length = 2 * (a + tenon)
    features = (
        Feature("lap", "top", lap, 2 * THICK / 3, "saw and pare", ("RL-2", "RL-3"), 0.2),
        *(
            Feature("tenon", face, zone, 9.05, "rebate", ("RS",))
            for face in ("top", "bottom")
            for zone in zones
        ),
        *(
            Feature("groove", edge, rectangle(first, 9, last, 19), 14, "groove", ("SL-3",))
            for edge in ("edge-1", "edge-2")
            for first, last in ((0.0, length / 2 - far - 4), (length / 2 + far + 4, length))
        ),
        *(
            Feature("mortise", "bottom", rectangle(x - 25, -20, x + 25, 20), 18, "mortise", ("LG",))
            for x in (-330, 330)
        ),
        Feature("hole", "top", hole, THICK, "bore"),
    )  # fmt: skip
    return Part(
        "RL-1", "lowest rail", "rail", 1, "iroko", THICK, outline, outline, features, (hole,),
        faces(outline, THICK, edge_1=0, edge_2=2, end_1=1, end_2=3),
    )  # fmt: skip


def top_rail() -> Part:
    """The highest of three rails: underside with a slanting trench and two shallower corners against it."""
    b, s = 42.0, sqrt(3) / 2
    far, near, waist = (b + b / 2) / s, (b - b / 2) / s, b / s
    trench = polygon(((near, b), (-far, b), (-near, -b), (far, -b)))
    corner = polygon(((near, b), (waist, 0), (far, b)))
    opposite = polygon(((-near, -b), (-waist, 0), (-far, -b)))
    outline = rectangle(-562, -b, 562, b)
    features = tuple(
        Feature("lap", "bottom", OVER.outline(plan.anticlockwise), depth, "saw and pare")
        for plan, depth in ((trench, 18.67), (corner, 9.33), (opposite, 9.33))
    )
    return Part(
        "RL-3", "highest rail", "rail", 1, "iroko", THICK, outline, outline, features,
        faces=faces(outline, THICK),
    )  # fmt: skip


def spline() -> Part:
    """A small part: grain across, nothing worked."""
    outline = rectangle(0, -21, 94, 21)
    return Part(
        "SP",
        "spline",
        "spline",
        12,
        "ash",
        7.8,
        outline,
        outline,
        faces=faces(outline, 7.8),
        grain=Point(0, 1),
    )


ALL = (rim_segment, slat, leg, rail, top_rail, spline)
