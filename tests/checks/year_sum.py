"""What a year does to gaps and joints, summed from a written table alone: outlines, work and places as packet.json
has them, plain geometry, and the handbook's formulas. Nothing of the product's own sums is used."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from math import atan, hypot
from statistics import median
from typing import Any

from shapely import Point, Polygon
from shapely.ops import unary_union

Record = Mapping[str, Any]
At = tuple[float, float]

FIGURES = {
    "european larch": (3.3, 7.8, 30.0),
    "robinia": (4.2, 6.9, 22.0),
    "white oak": (5.6, 10.5, 30.0),
    "iroko": (3.5, 5.4, 23.0),
}
"""Shrinkage along a radius and along the rings, % green to ovendry, and fibre saturation, %."""

ALIKE = 1e-6


def moisture(humidity: float, warmth: float) -> float:
    """Moisture of wood in air of so many % and degrees: the Wood Handbook's equation 4-5 (USDA), in Celsius."""
    h, t = humidity / 100, warmth
    w, k = 349 + 1.29 * t + 0.0135 * t**2, 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1, k2 = 6.27 - 0.00938 * t - 0.000303 * t**2, 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * h
    return 1800 / w * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2))


@dataclass(frozen=True)
class Air:
    """The air a table lives in: driest and dampest, %, degrees Celsius, moisture when built (0: half way between)."""

    driest: float = 45.0
    dampest: float = 85.0
    warmth: float = 15.0
    built: float = 0.0

    def swing(self, shrinkage: float, saturation: float) -> At:
        """Change of a size from built to the driest and the wettest, as shares of it, a fifth added."""
        ends = moisture(self.driest, self.warmth), moisture(self.dampest, self.warmth)
        dry = ((saturation - min(m, saturation)) / saturation for m in (self.built or sum(ends) / 2, *ends))
        now, *then = (1 - shrinkage / 100 * share for share in dry)
        return 1.2 * (then[0] / now - 1), 1.2 * (then[1] / now - 1)


def across(points: Sequence[Sequence[float]], way: At = (0.0, 1.0)) -> float:
    """How wide a shape is along a direction."""
    reach = [x * way[0] + y * way[1] for x, y, *_ in points]
    return max(reach) - min(reach)


def sides(points: Sequence[Sequence[float]]) -> Iterator[tuple[At, At]]:
    """The edges of an outline."""
    for (ax, ay, *_), (bx, by, *_) in zip(points, (*points[1:], points[0]), strict=True):
        yield (ax, ay), (bx, by)


def direction(edge: tuple[At, At]) -> At:
    """Which way an edge runs."""
    (ax, ay), (bx, by) = edge
    long = hypot(bx - ax, by - ay)
    return (bx - ax) / long, (by - ay) / long


def off(point: Sequence[float], way: At) -> float:
    """How far a point lies to the left of the line through the axis along `way`."""
    return way[0] * point[1] - way[1] * point[0]


@dataclass(frozen=True)
class Slat:
    """A slat in its place: its body between the shoulders, all of it with its tongues, its grain."""

    body: Polygon
    whole: Polygon
    grain: At

    @property
    def shoulders(self) -> Iterator[tuple[At, At, float]]:
        """The middle of each shoulder, which way it looks, how far a tongue stands out of it."""
        centre = self.body.centroid
        for edge in sides(list(self.body.exterior.coords)[:-1]):
            middle = (edge[0][0] + edge[1][0]) / 2, (edge[0][1] + edge[1][1]) / 2
            if self.whole.exterior.distance(Point(middle)) < 1e-3:
                continue
            (wx, wy), out = direction(edge), 1.0
            if -wy * (middle[0] - centre.x) + wx * (middle[1] - centre.y) < 0:
                out = -1.0
            normal = -wy * out, wx * out
            ends = [(x - middle[0]) * normal[0] + (y - middle[1]) * normal[1] for x, y in self.whole.exterior.coords]
            yield middle, normal, max(ends)


@dataclass(frozen=True)
class Rail:
    """A rail in its place: where it runs, how wide it is, and its trenches in plan."""

    way: At
    width: float
    trenches: tuple[tuple[At, ...], ...]


@dataclass(frozen=True)
class Year:
    """A written table through its year; `parts` and `placed` are packet.json's."""

    parts: Sequence[Record]
    placed: Sequence[Record]
    air: Air
    wood: str
    sawn: str = "plain"

    @cached_property
    def part(self) -> Mapping[str, Record]:
        """By code."""
        return {one["code"]: one for one in self.parts}

    @cached_property
    def board(self) -> At:
        """What the width of a board does, sawn as it is, to the driest and to the wettest."""
        radial, rings, saturation = FIGURES[self.wood]
        shrinkage = {"plain": rings, "rift": (radial + rings) / 2, "quarter": radial}[self.sawn]
        return self.air.swing(shrinkage, saturation)

    @cached_property
    def rings(self) -> tuple[At, At]:
        """What wood does along a radius and along its rings."""
        radial, rings, saturation = FIGURES[self.wood]
        return self.air.swing(radial, saturation), self.air.swing(rings, saturation)

    def laid(self, copy: Record, points: Sequence[Sequence[float]], under: bool = False) -> tuple[At, ...]:
        """Points of a part's face where the copy lies, seen from above."""
        (x0, y0, _), (along, over, _) = copy["at"], copy["axes"]
        return tuple(
            (x0 + x * along[0] + y * over[0], y0 + x * along[1] + y * over[1])
            for x, y in ((-u if under else u, v) for u, v, *_ in points)
        )

    def of(self, kind: str) -> Iterator[tuple[Record, Record]]:
        """Every copy of parts of a kind, with its part."""
        for copy in self.placed:
            if self.part[copy["code"]]["kind"] == kind:
                yield copy, self.part[copy["code"]]

    @cached_property
    def slats(self) -> tuple[Slat, ...]:
        """All in place."""
        return tuple(self._slat(copy, part) for copy, part in self.of("slat"))

    def _slat(self, copy: Record, part: Record) -> Slat:
        zones = [
            Polygon(self.laid(copy, one["outline"], one["face"] == "bottom"))
            for one in part["features"]
            if one["kind"] == "tongue"
        ]
        whole = Polygon(self.laid(copy, part["outline"]))
        body = whole.difference(unary_union(zones).buffer(ALIKE, join_style="mitre"))
        assert isinstance(body, Polygon)
        return Slat(body, whole, tuple(copy["axes"][0][:2]))

    def rails(self, kind: str) -> list[Rail]:
        """The top's or the ground cross's."""
        found = []
        for copy, part in self.of(kind):
            laps = (one for one in part["features"] if one["kind"] == "lap")
            trenches = tuple(self.laid(copy, one["outline"], one["face"] == "bottom") for one in laps)
            found.append(Rail(tuple(copy["axes"][0][:2]), across(part["outline"]), trenches))
        return found

    def gaps(self) -> At:
        """Between neighbours held on their middles: the widest at the driest, the narrowest at the wettest."""
        width = max(across(part["outline"]) for _, part in self.of("slat"))
        between = [one.body.distance(other.body) for one, other in combinations(self.slats, 2)]
        apart = min(width, self.rails("rail")[0].width) - ALIKE
        gaps = [gap for gap in between if gap < apart]
        assert len(gaps) >= len(self.slats) / 2 and max(gaps) - min(gaps) < 0.01
        return max(gaps) - width * self.board[0], min(gaps) - width * self.board[1]

    def laps(self) -> tuple[float, float]:
        """What the rail that is pressed most outgrows its trench by at the wettest, and the most play at the driest
        there."""
        crossings = []
        for kind in ("rail", "base-rail"):
            rails = self.rails(kind)
            rooms = [
                (mate.width * (1 + self.board[1]) - room, room - mate.width * (1 + self.board[0]))
                for own in rails
                for mate in rails
                if own is not mate
                for room in _room(own, mate)
            ]
            crossings.append((max(over for over, _ in rooms), max(loose for _, loose in rooms)))
        return max(crossings, key=lambda one: round(one[0], 6))

    def tenons(self) -> tuple[float, float]:
        """The same of the legs' tenons along their mortises."""
        leg = next(part for _, part in self.of("leg"))
        zones = [one["outline"] for one in leg["features"] if one["kind"] == "tenon"]
        sizes = {round(hypot(b[0] - a[0], b[1] - a[1]), 9) for zone in zones for a, b in sides(zone)}
        _, grown = self.rings
        found = []
        for kind in ("rail", "base-rail"):
            for _, part in self.of(kind):
                for one in (one for one in part["features"] if one["kind"] == "mortise"):
                    room = across(one["outline"], (1.0, 0.0))
                    width = min(sizes, key=lambda size: abs(room - size))
                    found.append((width * (1 + grown[1]) - room, room - width * (1 + grown[0])))
        return max(found)

    def shoulders(self) -> tuple[float, float]:
        """The least play of a slat's shoulder beside a rail, and what half a rail grows into it."""
        rails = self.rails("rail")
        play = min(
            beside for slat in self.slats for at, way, _ in slat.shoulders for beside in _beside(at, way, rails)
        )
        return play, max(0.0, rails[0].width / 2 * self.board[1])

    def sliding(self) -> tuple[float, float]:
        """What a slat's tongue is thinner than its groove, and what it outgrows it by where rings cross, with the
        least by which it slides."""
        grooves = [one for _, part in self.of("rail") for one in part["features"] if one["kind"] == "groove"]
        groove = min(across(one["outline"]) for one in grooves)
        thick = max(self._tongue(part) for _, part in self.of("slat"))
        radius, rings = self.rings
        return groove - thick, 0.2 + max(0.0, groove * (rings[1] - radius[1]))

    def _tongue(self, part: Record) -> float:
        depths = {one["face"]: one["depth"] for one in part["features"] if one["kind"] == "tongue"}
        return float(part["size"][2] - sum(depths.values()))

    def tongues(self) -> tuple[float, float]:
        """What is left at the driest of the tongue of the slat that rails and rim leave most, of a rail's tenon."""
        rails, shrunk = self.rails("rail"), -self.wall * self.board[0]
        long = median(reach for slat in self.slats for *_, reach in slat.shoulders)
        worst = 0.0
        for slat in self.slats:
            ends: dict[bool, list[float]] = defaultdict(list)
            for at, way, _ in slat.shoulders:
                beside = list(_beside(at, way, rails))
                back = beside[0] - rails[0].width / 2 * self.board[0] if beside else shrunk
                ends[way[0] * slat.grain[0] + way[1] * slat.grain[1] > 0].append(back)
            worst = max(worst, sum(max(backs) for backs in ends.values()))
        return long - worst, long - max(0.0, shrunk)

    @cached_property
    def segment(self) -> Record:
        """One of the rim's."""
        return next(part for _, part in self.of("rim-segment"))

    @cached_property
    def wall(self) -> float:
        """Across the middle of a segment, from its inner edge to the top of its outer edge's arc."""
        ring = self.segment["outline"]
        pairs = zip(ring, (*ring[1:], ring[0]), strict=True)
        (ax, ay, bulge), (bx, by, _) = next((a, b) for a, b in pairs if a[0] * b[0] < 0 and a[1] > 1)
        return (ay + by) / 2 + abs(bulge) * hypot(bx - ax, by - ay) / 2

    def mitres(self) -> At:
        """What a mitre that nothing held would open inside at the driest, outside at the wettest."""
        ring = self.segment["outline"]
        foot = max((x, y) for x, y, _ in ring if abs(y) < ALIKE)
        (tip,) = [b if a == foot else a for a, b in sides(ring) if foot in (a, b) and max(a[1], b[1]) > 1]
        wall, lean = hypot(tip[0] - foot[0], tip[1] - foot[1]), abs((tip[0] - foot[0]) / (tip[1] - foot[1]))
        shares = min(0.0, self.board[0]), max(0.0, self.board[1])  # what is built drier, or wetter, never gets there
        dry, wet = (2 * wall * abs(atan(lean / (1 + share)) - atan(lean)) for share in shares)
        return dry, wet


def _room(own: Rail, mate: Rail) -> Iterator[float]:
    """How wide each of a rail's trenches is between the walls beside a mate."""
    for trench in own.trenches:
        walls = [off(a, mate.way) for a, b in sides(trench) if abs(off(direction((a, b)), mate.way)) < ALIKE]
        if walls and min(walls) < 0 < max(walls):
            yield max(walls) - min(walls)


def _beside(at: At, way: At, rails: Sequence[Rail]) -> Iterator[float]:
    """How far a shoulder that looks at a rail stands off it."""
    for rail in rails:
        beside = abs(off(at, rail.way)) - rail.width / 2
        if abs(way[0] * rail.way[0] + way[1] * rail.way[1]) < ALIKE and beside < 5:
            yield beside
