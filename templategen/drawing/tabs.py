"""Holding tabs: where a routed part stays joined to its sheet, never on the face of a joint."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import Outline, distance_to
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ON_EDGE
from templategen.parts.face import plan_point
from templategen.parts.feature import Feature
from templategen.parts.part import Part

TAB_WIDTH = 8.0
"""Along the outline, mm (6 to 10 is usual; unverified)."""

TAB_HEIGHT = 2.5
"""Left standing on the sheet's lower face, mm (2 to 3 is usual; unverified)."""

LEAST_TABS = 3

SPACING = 200.0
"""About one tab for so much outline, mm."""

STEP = 10.0
"""Tabs are tried so far apart, mm."""

LEAST_RADIUS = 60.0
"""A curve this wide or wider takes a tab where straight edges don't do, mm (unverified)."""

APART = 2.5
"""Least distance between two tabs, in widths of a tab."""


@dataclass(frozen=True, slots=True)
class Tab:
    """A tab's middle on the outline, and which way the outline runs there with the part to its left."""

    at: Point
    along: Point


def tabs(outline: Outline, joints: Iterable[Line]) -> tuple[Tab, ...]:
    """At least three tabs on the straight runs that no joint's face takes, else on these and on wide curves.

    They are spread as far as they go. None where no three find room: then the part is held another way.
    """
    ring, kept = outline.anticlockwise, tuple(joints)
    straight = [run for edge in ring.edges if isinstance(edge, Line) for run in free_runs(edge, kept)]
    wide = [edge for edge in ring.edges if isinstance(edge, Arc) and edge.radius >= LEAST_RADIUS]
    wanted = max(LEAST_TABS, ceil(ring.length / SPACING))
    return _spread(straight, wanted) or _spread([*straight, *wide], wanted)


def _spread(runs: Sequence[Edge], wanted: int) -> tuple[Tab, ...]:
    spots, chosen = list(_spots(runs)), list[Tab]()
    while spots and len(chosen) < wanted:
        best = max(spots, key=lambda spot: _room(spot, chosen))
        chosen.append(best)
        spots = [spot for spot in spots if spot.at.distance(best.at) >= APART * TAB_WIDTH]
    return tuple(chosen) if len(chosen) >= LEAST_TABS else ()


def _room(spot: Tab, chosen: Sequence[Tab]) -> float:
    return round(min((spot.at.distance(other.at) for other in chosen), default=0.0), 6)


def _spots(runs: Sequence[Edge]) -> Iterator[Tab]:
    """Places every few millimetres along the runs, those of the longest run first, from its middle outwards."""
    for run in sorted(runs, key=lambda run: -round(run.length, 6)):
        half = run.length / 2 - TAB_WIDTH
        if half < 0:
            continue
        away = [
            0.0,
            *(side * step * STEP for step in range(1, int(half / STEP) + 1) for side in (-1, 1)),
            -half,
            half,
        ]
        for off in dict.fromkeys(away):
            share = 0.5 + off / run.length
            yield Tab(run.point_at(share), run.direction_at(share))


def free_runs(edge: Line, joints: Sequence[Line]) -> tuple[Line, ...]:
    """The stretches of an edge on which no joint's face lies."""
    taken = sorted(span for joint in joints if (span := _on(edge, joint)) is not None)
    runs, at = [], 0.0
    for first, last in taken:
        if first > at + ON_EDGE:
            runs.append(edge.between(at, first))
        at = max(at, last)
    if at < 1.0 - ON_EDGE:
        runs.append(edge.between(at, 1.0))
    return tuple(runs)


def _on(edge: Line, joint: Line) -> tuple[float, float] | None:
    along = edge.direction_at(0.0)
    if any(abs(along.cross(end.minus(edge.start))) > ON_EDGE for end in (joint.start, joint.end)):
        return None
    shares = sorted((edge.share_of(joint.start), edge.share_of(joint.end)))
    first, last = max(0.0, shares[0]), min(1.0, shares[1])
    return (first, last) if (last - first) * edge.length > ON_EDGE else None


def joint_lines(part: Part) -> Iterator[Line]:
    """The stretches of a part's blank that are or become the face of a joint: its ends, edges that are grooved or
    slotted (shoulders bear beside a groove), and wherever joints of the flat faces meet the edge."""
    for face in part.faces:
        upright = face.name not in ("top", "bottom")
        if upright and (face.name.startswith("end-") or part.features_on(face.name)):
            yield Line(plan_point(face, 0.0), plan_point(face, face.outline.bounds.right))
    for feature in part.features:
        if feature.is_flat and feature.traits.bears:
            plan = [_plan(feature, edge) for edge in feature.outline.edges]
            yield from (edge for edge in plan if isinstance(edge, Line) and _along_ring(edge, part.blank))


def _plan(feature: Feature, edge: Edge) -> Edge:
    """The edge of flat work as it lies in the part's own frame."""
    from templategen.joinery.underside import TURN_OVER

    return TURN_OVER.edge(edge) if feature.face == "bottom" else edge


def _along_ring(edge: Line, ring: Outline) -> bool:
    return any(
        isinstance(side, Line) and all(distance_to(side, end) < ON_EDGE for end in (edge.start, edge.end))
        for side in ring.edges
    )
