"""Thin wood anywhere: finished parts are sliced wherever their work changes, and what is left between two cuts, or
between a cut and an edge, is measured in every slice and from slice to slice."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import atan2, pi, tan
from typing import Any

from templategen.checks.finding import Finding, Spot
from templategen.checks.levels import if_short
from templategen.fit.layers import Layer, part_layers, taken
from templategen.geometry.point import Point
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.assembly import Table

LONG = 1.5
"""A wall is at least so many times as long as it is thick; what is shorter is the tip of a corner."""

SHARP = 0.2
"""Share by which a residue may differ from that of a plain corner, mostly for the chords of arcs."""

ALIKE = 0.02
"""Two measures of one wall, or a wall and nothing, differ by less, mm: chords leave an arc by this."""

SMALL = 400.0
"""A wafer of a smaller face than this, mm2, holds nothing and is pared away."""

STEPS = 12
"""Halvings by which a wall is measured."""

LEAVES = ("tongue", "tenon")
"""Work that leaves something thin by intent, which has sizes and checks of its own."""

KEYS = {
    "lap": "top.rails",
    "spline-slot": "joints.spline_depth",
    "groove": "joints.groove_depth",
    "mortise": "legs.tenon",
    "relief": "base.relief",
    "tongue": "joints.tongue_shoulder",
    "tenon": "legs.tenon",
}
"""The key to look at first beside each kind of work, the first that has part in it."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A feature, and what it takes of its part."""

    feature: Feature
    takes: Layer


@dataclass(frozen=True, slots=True)
class Thin:
    """A thin place: how thick, the plan that it covers, between which heights, and the work that leaves it."""

    size: float
    plan: Any
    low: float
    high: float
    beside: tuple[Feature, ...]


def thin_findings(table: Table, told: Iterable[Finding]) -> Iterator[Finding]:
    """The thinnest place between each two kinds of work of a part, unless a finding in `told` has measured it."""
    known = [one.measured for one in told if one.unit == "mm"]
    limits = table.profile.limits.cheek
    for part in table.parts:
        worst: dict[tuple[str, ...], Thin] = {}
        for thin in thin_places(part, limits[1]):
            if not any(abs(thin.size - size) < ALIKE for size in known):
                work = _work(thin)
                worst[work] = min(worst.get(work, thin), thin, key=lambda one: one.size)
        for work, thin in worst.items():
            yield from _judged(part, work, thin, limits)


def _judged(part: Part, work: tuple[str, ...], thin: Thin, limits: tuple[float, float]) -> Iterator[Finding]:
    """As grave as it is, with its place."""
    at = thin.plan.representative_point()
    spot = Spot(part.code, round(at.x, 1), round(at.y, 1), round(thin.low, 3), round(thin.high, 3))
    kinds = [feature.kind for feature in thin.beside]
    where = next((key for kind, key in KEYS.items() if kind in kinds), "top.thickness")
    small = thin.plan.length / 2 * (thin.high - thin.low) < SMALL and thin.size < limits[0]
    for one in if_short("thin-wood", where, round(thin.size, 2), limits, work=work, parts=part.code):
        yield replace(one, kind="wafer", level="caution", spot=spot) if small else replace(one, spot=spot)


def _work(thin: Thin) -> tuple[str, ...]:
    """The cuts on both sides."""
    names = tuple(sorted({feature.traits.words for feature in thin.beside}))
    return names if len(names) > 1 else (*names, "the next cut or edge")


def thin_places(part: Part, least: float) -> Iterator[Thin]:
    """Every wall and floor of a part that is thinner than `least`, mm."""
    cuts = [Cut(feature, taken(part, feature)) for feature in part.features if feature.traits.is_pocket]
    if not cuts:
        return
    layers = part_layers(part)
    walls: list[Thin] = []
    for low, high, plan in layers:
        beside = [cut for cut in cuts if cut.takes.low < high - ALIKE and cut.takes.high > low + ALIKE]
        for size, wall in _walls(plan, least) if beside else ():
            for thin in _placed(size, wall, low, high, beside):
                _stacked(walls, thin)
    yield from walls
    yield from _floors(layers, cuts, least)


def _stacked(walls: list[Thin], thin: Thin) -> None:
    """Adds a wall, or lets the one under it rise if they are one."""
    for place, under in enumerate(walls):
        level = abs(under.high - thin.low) < ALIKE and abs(under.size - thin.size) < ALIKE
        if level and under.beside == thin.beside and under.plan.intersects(thin.plan):
            walls[place] = replace(under, high=thin.high)
            return
    walls.append(thin)


def _placed(size: float, plan: Any, low: float, high: float, cuts: Iterable[Cut]) -> Iterator[Thin]:
    """The place, where cuts lie beside it."""
    beside = tuple(cut.feature for cut in cuts if cut.takes.plan.distance(plan) < max(3 * ALIKE, size))
    if beside and size > ALIKE:
        yield Thin(size, plan, low, high, beside)


def _walls(plan: Any, least: float) -> Iterator[tuple[float, Any]]:
    """What a disc of that diameter can't reach within the plan, but for the tips of corners."""
    for wall in _narrow(plan, least):
        low, high = 0.0, least
        near = plan.intersection(wall.buffer(3 * least))
        for _ in range(STEPS):
            size = (low + high) / 2
            if any(one.intersects(wall) for one in _narrow(near, size)):
                high = size
            else:
                low = size
        yield high, wall


def _narrow(plan: Any, least: float) -> list[Any]:
    """The pieces of the plan that a disc of that diameter can't enter, without the tips of corners."""
    opened = plan.buffer(-least / 2).buffer(least / 2)
    rest = plan.difference(opened.buffer(ALIKE))
    pieces = [one for one in getattr(rest, "geoms", [rest]) if one.geom_type == "Polygon" and not one.is_empty]
    return [one for one in pieces if _is_long(one, opened, least) and not _is_tip(one, plan, least / 2)]


def _is_long(piece: Any, opened: Any, least: float) -> bool:
    from shapely import distance, points

    rim = points(piece.exterior.segmentize(least / 4).coords)
    return bool(opened.is_empty or distance(opened, rim).max() > LONG * least)


def _is_tip(piece: Any, plan: Any, radius: float) -> bool:
    """Whether it is all that a disc leaves in one corner of the plan: r^2 (cot(a/2) - (pi - a)/2)."""
    from shapely import Point

    near = piece.buffer(ALIKE)
    for before, corner, after in _corners(plan):
        if near.covers(Point(corner)):
            turn = atan2(after.cross(before), after.dot(before)) % (2 * pi)
            tip = radius**2 * (1 / tan(turn / 2) - (pi - turn) / 2)
            if turn < pi / 2 and abs(piece.area - tip) < SHARP * tip + ALIKE * piece.length:
                return True
    return False


def _corners(plan: Any) -> Iterator[tuple[Point, tuple[float, float], Point]]:
    """Every corner of the plan, with the ways from it back and on; wood lies to the left."""
    from shapely.geometry.polygon import orient

    for polygon in getattr(plan, "geoms", [plan]):
        whole = orient(polygon)
        for ring in (whole.exterior, *whole.interiors):
            at = [Point(x, y) for x, y in ring.coords[:-1]]
            for one, two, three in zip(at[-1:] + at[:-1], at, at[1:] + at[:1], strict=True):
                yield one.minus(two), (two.x, two.y), three.minus(two)


def _floors(layers: list[tuple[float, float, Any]], cuts: list[Cut], least: float) -> Iterator[Thin]:
    """Wood between a cut above and a cut below, or a face: the slices from one to the other are thin together."""
    from shapely import unary_union

    left = unary_union([cut.takes.plan for cut in cuts if cut.feature.kind in LEAVES])
    for first, (low, _, _) in enumerate(layers):
        for last in range(first, len(layers)):
            high = layers[last][1]
            if high - low > least or (first, last) == (0, len(layers) - 1):
                break
            plan = _only(layers, first, last).difference(left.buffer(ALIKE))
            floor = plan.buffer(-max(high - low, 1.0) / 2)
            if not floor.is_empty:
                beside = [cut for cut in cuts if min(abs(cut.takes.low - high), abs(cut.takes.high - low)) < ALIKE]
                yield from _placed(high - low, floor, low, high, beside)


def _only(layers: list[tuple[float, float, Any]], first: int, last: int) -> Any:
    """Where these slices are wood and those next to them aren't."""
    plan = layers[first][2]
    for _, _, other in layers[first + 1 : last + 1]:
        plan = plan.intersection(other)
    for place in (first - 1, last + 1):
        if 0 <= place < len(layers):
            plan = plan.difference(layers[place][2].buffer(ALIKE))
    return plan
