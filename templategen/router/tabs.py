"""Places for holding tabs on the line that frees a part, never on the face of a joint."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import atan2, ceil, degrees

from templategen.geometry.centroid import centroid
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import Outline, distance_to
from templategen.geometry.placement import OVER
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ON_EDGE
from templategen.parts.face import plan_point
from templategen.parts.feature import Feature
from templategen.parts.part import Part

LEAST_TABS = 3

SHORT = 600.0
"""An outline this long or shorter may do with two tabs, mm (unverified)."""

OPPOSITE = 120.0
"""Seen from the part's middle two of its tabs stand so far apart, degrees (unverified)."""

HEAVY = 0.8e-3
"""What wood and plywood weigh at the most, g/mm3."""

BEARS = 50.0
"""What hangs on a tab, g for each mm2 of its width by its height: 1 kg on one of 8 by 2.5 mm. The bit pushes
harder than a part of that size weighs, and wood bears several times as much as both (unverified)."""

SPACING = 200.0
"""About one tab for so much outline, mm."""

STEP = 10.0
MOST = 30
"""Tabs are tried so far apart, mm, but at no more than about so many places of an edge."""

LEAST_RADIUS = 60.0
"""A curve this wide or wider takes a tab, mm (unverified)."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a tab may stand: its middle on the outline, and which way the outline runs there, part to the left."""

    at: Point
    along: Point

    @property
    def out(self) -> Point:
        """Square away from the part."""
        return self.along.left.times(-1)


def enough(outline: Outline, tabs: Sequence[Point], borne: int = 0) -> bool:
    """Whether so many tabs hold a part: three, or two of a short one, and as many as its weight asks for; on opposite
    sides, half its length apart. On one side alone they let the bit swing it about them."""
    box, middle = outline.bounds, centroid(outline)
    if len(tabs) < max(2 if outline.length <= SHORT else LEAST_TABS, borne):
        return False
    pairs = list(combinations(tabs, 2))
    across = any(_apart_round(middle, one, other) >= OPPOSITE for one, other in pairs)
    return across and max(one.distance(other) for one, other in pairs) >= max(box.width, box.height) / 2


def _apart_round(middle: Point, one: Point, other: Point) -> float:
    """The angle between two spots as seen from the middle, degrees."""
    to_one, to_other = one.minus(middle), other.minus(middle)
    return degrees(abs(atan2(to_one.cross(to_other), to_one.dot(to_other))))


def borne_by(outline: Outline, thickness: float, tab: tuple[float, float]) -> int:
    """How many tabs so wide and high a part's weight asks for."""
    return ceil(abs(outline.area) * thickness * HEAVY / (BEARS * tab[0] * tab[1]))


def wanted_tabs(outline: Outline, borne: int = 0) -> int:
    """How many tabs a part has at the best."""
    return max(LEAST_TABS, ceil(outline.length / SPACING), borne)


def spots(outline: Outline, clean: Sequence[Line], room: float) -> Iterator[Spot]:
    """Places every few millimetres along the straight edges and wide curves of an outline, off the stretches that
    must stay `clean`; `room` is what a tab takes to either side, mm. The longest run comes first, each from its
    middle outwards."""
    ring = outline.anticlockwise
    runs: list[Edge] = [run for edge in ring.edges if isinstance(edge, Line) for run in free_runs(edge, clean)]
    runs += [edge for edge in ring.edges if isinstance(edge, Arc) and edge.radius >= LEAST_RADIUS and edge.sweep > 0]
    for run in sorted(runs, key=lambda run: -round(run.length, 6)):
        half = run.length / 2 - room
        step = max(STEP, run.length / MOST)
        steps = range(1, int(half / step) + 1) if half >= 0 else ()
        away = (0.0, *(side * number * step for number in steps for side in (-1, 1)), -half, half)
        for off in dict.fromkeys(away if half >= 0 else ()):
            share = 0.5 + off / run.length
            yield Spot(run.point_at(share), run.direction_at(share))


def free_runs(edge: Line, clean: Sequence[Line]) -> tuple[Line, ...]:
    """The stretches of an edge that needn't stay clean."""
    taken = sorted(span for line in clean if (span := _on(edge, line)) is not None)
    runs, at = [], 0.0
    for first, last in taken:
        if first > at + ON_EDGE:
            runs.append(edge.between(at, first))
        at = max(at, last)
    if at < 1.0 - ON_EDGE:
        runs.append(edge.between(at, 1.0))
    return tuple(runs)


def _on(edge: Line, line: Line) -> tuple[float, float] | None:
    along = edge.direction_at(0.0)
    if any(abs(along.cross(end.minus(edge.start))) > ON_EDGE for end in (line.start, line.end)):
        return None
    shares = sorted((edge.share_of(line.start), edge.share_of(line.end)))
    first, last = max(0.0, shares[0]), min(1.0, shares[1])
    return (first, last) if (last - first) * edge.length > ON_EDGE else None


def joint_lines(part: Part, ring: Outline) -> Iterator[Line]:
    """The stretches of a part's `ring`, blank or finished, that are or become the face of a joint: its ends, edges
    that are grooved or slotted (shoulders bear beside a groove), and wherever joints of the flat faces meet it."""
    for face in part.faces:
        upright = face.name not in ("top", "bottom")
        if upright and (face.name.startswith("end-") or part.features_on(face.name)):
            yield Line(plan_point(face, 0.0), plan_point(face, face.outline.bounds.right))
    for feature in part.features:
        if feature.is_flat and feature.traits.bears:
            plan = [_plan(feature, edge) for edge in feature.outline.edges]
            yield from (edge for edge in plan if isinstance(edge, Line) and _along_ring(edge, ring))


def _plan(feature: Feature, edge: Edge) -> Edge:
    """The edge of flat work as it lies in the part's own frame."""

    return OVER.edge(edge) if feature.face == "bottom" else edge


def _along_ring(edge: Line, ring: Outline) -> bool:
    return any(
        isinstance(side, Line) and all(distance_to(side, end) < ON_EDGE for end in (edge.start, edge.end))
        for side in ring.edges
    )
