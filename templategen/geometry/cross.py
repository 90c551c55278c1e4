"""Where an edge crosses an endless line or a whole circle."""

from math import sqrt

from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.point import Point
from templategen.geometry.tolerance import COINCIDENT


def line_line_shares(edge: Line, point: Point, along: Point) -> tuple[float, ...]:
    """The share at which a straight edge crosses the line through `point`; none when parallel."""
    across = along.left
    first, last = edge.start.minus(point).dot(across), edge.end.minus(point).dot(across)
    if first == last or abs(first - last) <= COINCIDENT:
        return ()
    return (first / (first - last),)


def circle_line_points(centre: Point, radius: float, point: Point, along: Point) -> tuple[Point, ...]:
    """Where a circle crosses the line through `point` in unit direction `along`; in the order of travel.

    A line that only touches the circle doesn't cross it.
    """
    foot = point.plus(along, centre.minus(point).dot(along))
    off = centre.distance(foot)
    if off >= radius - COINCIDENT:
        return ()
    half = sqrt((radius - off) * (radius + off))
    return foot.plus(along, -half), foot.plus(along, half)


def circle_circle_points(centre: Point, radius: float, other_centre: Point, other_radius: float) -> tuple[Point, ...]:
    """The two points where two circles cross; none when they touch, coincide or keep apart."""
    gap = centre.distance(other_centre)
    if gap >= radius + other_radius - COINCIDENT or gap <= abs(radius - other_radius) + COINCIDENT:
        return ()
    along = other_centre.minus(centre).unit
    foot = (gap + (radius - other_radius) * (radius + other_radius) / gap) / 2
    half = sqrt(max(0.0, (radius - foot) * (radius + foot)))
    middle = centre.plus(along, foot)
    return middle.plus(along.left, -half), middle.plus(along.left, half)


def line_crossings(edge: Edge, point: Point, along: Point) -> tuple[float, ...]:
    """The shares, rising, at which the inside of `edge` crosses the line through `point`, unit `along`."""
    if isinstance(edge, Line):
        return _inside(edge, line_line_shares(edge, point, along))
    points = circle_line_points(edge.centre, edge.radius, point, along)
    return _inside(edge, tuple(edge.share_of(p) for p in points))


def circle_crossings(edge: Edge, centre: Point, radius: float) -> tuple[float, ...]:
    """The shares, rising, at which the inside of `edge` crosses the circle."""
    if isinstance(edge, Arc):
        points = circle_circle_points(edge.centre, edge.radius, centre, radius)
    elif edge.length <= COINCIDENT:
        return ()
    else:
        points = circle_line_points(centre, radius, edge.start, edge.direction_at(0.0))
    return _inside(edge, tuple(edge.share_of(p) for p in points))


def _inside(edge: Edge, shares: tuple[float, ...]) -> tuple[float, ...]:
    """Those shares that are further than COINCIDENT from both ends."""
    length = edge.length
    return tuple(sorted(s for s in shares if COINCIDENT < s * length < length - COINCIDENT))
