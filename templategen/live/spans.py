"""Sizes drawn on a picture as dimensions, and what dragging an end of one makes of its key.

A span is in the picture's own frame (mm, y up). Its `moved` end may be drawn about along the line; the key's value is
`times` its distance from `fixed`: once for a size measured from there, twice for one that grows to both sides.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import cos, pi, sin

from templategen.geometry.point import Point
from templategen.table.assembly import Table


@dataclass(frozen=True, slots=True)
class Span:
    """A key's size in a picture."""

    key: str
    fixed: Point
    moved: Point
    times: int = 1

    @property
    def value(self) -> float:
        """What it measures, mm."""
        return self.times * self.fixed.distance(self.moved)

    @property
    def plain(self) -> dict[str, object]:
        """As plain values."""
        numbers = (self.fixed.x, self.fixed.y, self.moved.x, self.moved.y)
        return {"key": self.key, "at": [round(one, 3) + 0.0 for one in numbers], "times": self.times}


def plan_spans(table: Table) -> tuple[Span, ...]:
    """Those that show from above."""
    profile, sizes = table.profile, table.sizes
    low = -sizes.outer_apothem * 1.03
    aslant = pi / sizes.arms

    def along(distance: float, angle: float = 0.0) -> Point:
        return Point(distance * cos(angle), distance * sin(angle))

    half = sizes.inner_apothem / 2
    segment = 2 * sizes.mitre
    leg = profile.legs
    return (
        Span("top.diameter", Point(0, low), Point(sizes.radius, low), 2),
        Span("top.rim_width", along(sizes.outer_apothem, segment), along(sizes.inner_apothem, segment)),
        Span("top.rail_width", along(half), along(half).plus(Point(0, profile.top.rail_width / 2)), 2),
        Span("top.pole_hole", Point(0, 0), Point(profile.top.pole_hole / 2, 0), 2),
        Span("base.length", Point(0, 0), along(profile.base.length / 2), 2),
        Span("base.rail_width", along(profile.base.length * 0.42),
             along(profile.base.length * 0.42).plus(Point(0, profile.base.rail_width / 2)), 2),
        Span("legs.centre_distance", Point(0, 0), along(leg.centre_distance)),
        Span("legs.section", along(leg.centre_distance),
             along(leg.centre_distance).plus(Point(0, leg.section / 2)), 2),
        *_slats(table),
        Span("joints.groove_depth", along(sizes.inner_apothem, aslant),
             along(sizes.inner_apothem + profile.joints.groove_depth, aslant)),
    )  # fmt: skip


def _slats(table: Table) -> Iterator[Span]:
    """The width of the longest slat of a field and the gap beside it, between neighbours that run the same way."""
    ways = [placed for placed in table.placed if table.part(placed.code).kind == "slat"]
    if not ways:
        return
    turn = ways[0].turn
    middles = []
    for placed in ways:
        body = table.part(placed.code).body
        if body is None or abs(placed.turn - turn) > 1e-6:
            continue
        box = body.bounds
        there = placed.point(box.centre.x, box.centre.y, 0)
        middles.append((there.x * -sin(turn) + there.y * cos(turn), box.height, Point(there.x, there.y)))
    middles.sort(key=lambda one: one[0])
    across = Point(-sin(turn), cos(turn))
    _, width, at = middles[len(middles) // 2]
    yield Span("slats.width", at, at.plus(across, width / 2), 2)
    for (low, one, at), (high, other, _) in pairwise(middles):
        gap = (high - other / 2) - (low + one / 2)
        if 0.5 < gap < one:
            edge = at.plus(across, one / 2)
            yield Span("slats.gap", edge, edge.plus(across, gap))
            return


def section_spans(table: Table) -> tuple[Span, ...]:
    """Those that show where the table is cut through its first arm."""
    profile, sizes = table.profile, table.sizes
    top, base, legs = profile.top, profile.base, profile.legs
    out, rim = sizes.radius * 1.04, sizes.radius - top.rim_width / 2
    foot = base.length / 2
    middle = sizes.top_underside + sizes.slat_level
    lean = (sizes.top_underside + sizes.base_top) / 2
    return (
        Span("top.height", Point(out, 0), Point(out, top.height)),
        Span("top.diameter", Point(0, top.height + 14), Point(sizes.radius, top.height + 14), 2),
        Span("top.thickness", Point(rim, top.height), Point(rim, sizes.top_underside)),
        Span("top.pole_hole", Point(0, top.height + 6), Point(top.pole_hole / 2, top.height + 6), 2),
        Span("joints.tongue", Point(-sizes.inner_apothem, middle),
             Point(-sizes.inner_apothem, middle + profile.joints.tongue / 2), 2),
        Span("joints.groove_depth", Point(sizes.inner_apothem, middle),
             Point(sizes.inner_apothem + profile.joints.groove_depth, middle)),
        Span("legs.centre_distance", Point(0, sizes.top_underside - 12),
             Point(legs.centre_distance, sizes.top_underside - 12)),
        Span("legs.base_centre_distance", Point(0, sizes.base_top + 12),
             Point(legs.base_centre_distance, sizes.base_top + 12)),
        Span("legs.section", Point((legs.centre_distance + legs.base_centre_distance) / 2, lean),
             Point((legs.centre_distance + legs.base_centre_distance) / 2 + legs.section / 2, lean), 2),
        Span("base.length", Point(0, -16), Point(foot, -16), 2),
        Span("base.thickness", Point(0, sizes.foot_height), Point(0, sizes.base_top)),
        Span("base.foot_thickness", Point(foot + 14, 0), Point(foot + 14, base.foot_thickness)),
        Span("base.foot_length", Point(foot, -6), Point(foot - base.foot_length, -6)),
    )  # fmt: skip
