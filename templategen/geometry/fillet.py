"""Fillets: a corner rounded by a true arc tangent to both its edges."""

from dataclasses import dataclass
from math import inf, pi, tan

from templategen.errors import Fault, GeometryError
from templategen.geometry.corner import corner_turn, turn_between
from templategen.geometry.cross import circle_circle_points, circle_line_points, line_line_shares
from templategen.geometry.edge import TURN, Arc, Edge, Line
from templategen.geometry.outline import Outline, outline_of
from templategen.geometry.point import Point
from templategen.geometry.tolerance import COINCIDENT


@dataclass(frozen=True, slots=True)
class _Fit:
    """A fillet that fits: where it leaves the first edge and joins the second, as shares of them."""

    centre: Point
    leaves: float
    joins: float


def fillet(outline: Outline, corner: int, radius: float) -> Outline:
    """The outline with the corner at vertex `corner` rounded to `radius`; the other corners stay.

    That vertex becomes the two ends of the arc, so later vertices count one on. Works between
    lines and arcs of any kind, on corners that turn either way.

    Raises:
        GeometryError: there is no corner at that vertex, or the radius doesn't fit between its edges.
    """
    count = len(outline)
    before, after = outline.edges[corner % count - 1], outline.edges[corner % count]
    turn = corner_turn(before, after)
    side = 1 if turn > 0 else -1
    where = f"corner {corner % count}"
    if not 0 < radius < inf or abs(turn) <= COINCIDENT:
        found = f"no fillet of radius {radius:g} can be cut here"
        raise GeometryError(Fault(where, found, "give a radius over 0 and a vertex that is a corner"))
    fit = _fit(before, after, radius, side)
    if fit is None:
        found = f"a fillet of {radius:g} doesn't fit between its edges"
        raise GeometryError(Fault(where, found, _remedy(before, after, turn)))
    return _rounded(outline, corner % count, fit, radius, side)


def spandrel(outline: Outline, corner: int, radius: float) -> Outline | None:
    """What lies between a corner and its fillet: what a round bit of that radius leaves there. None where none fits.

    It is walked from where the fillet leaves the first edge by way of the corner to where it joins the second.
    """
    before, after = outline.edges[corner % len(outline) - 1], outline.edges[corner % len(outline)]
    side = 1 if corner_turn(before, after) > 0 else -1
    fit = _fit(before, after, radius, side)
    if fit is None:
        return None
    legs = before.between(fit.leaves, 1.0), after.between(0.0, fit.joins)
    sweep = turn_between(legs[0].direction_at(0.0), legs[1].direction_at(1.0))
    sweep += TURN * side if sweep * side < 0 else 0.0
    return outline_of((*legs, Arc(legs[1].end, legs[0].start, fit.centre, radius, -sweep)))


def _fit(before: Edge, after: Edge, radius: float, side: int) -> _Fit | None:
    """The fillet nearest to the corner, on the side (1 left, -1 right) to which the corner turns."""
    fits = [
        _Fit(centre, before.share_of(centre), after.share_of(centre))
        for centre in _centres(before, after, radius, side)
    ]
    fits = [fit for fit in fits if _on(before, fit.leaves) and _on(after, fit.joins)]
    fits = [fit for fit in fits if fit.leaves < 1 and fit.joins > 0]
    return max(fits, key=lambda fit: fit.leaves, default=None)


def _on(edge: Edge, share: float) -> bool:
    return -COINCIDENT <= share * edge.length <= edge.length + COINCIDENT


def _centres(before: Edge, after: Edge, radius: float, side: int) -> tuple[Point, ...]:
    """Where the two edges' paths, moved by `radius` to that side, cross."""
    if isinstance(before, Line) and isinstance(after, Line):
        one, other = _moved_line(before, radius * side), _moved_line(after, radius * side)
        return tuple(one.point_at(s) for s in line_line_shares(one, other.start, other.direction_at(0.0)))
    if isinstance(before, Arc) and isinstance(after, Arc):
        radii = _moved_radius(before, radius, side), _moved_radius(after, radius, side)
        if min(radii) <= 0:
            return ()
        return circle_circle_points(before.centre, radii[0], after.centre, radii[1])
    arc, line = (before, after) if isinstance(before, Arc) else (after, before)
    assert isinstance(arc, Arc) and isinstance(line, Line)
    moved, own = _moved_line(line, radius * side), _moved_radius(arc, radius, side)
    return circle_line_points(arc.centre, own, moved.start, moved.direction_at(0.0)) if own > 0 else ()


def _moved_line(line: Line, to_left: float) -> Line:
    across = line.direction_at(0.0).left
    return Line(line.start.plus(across, to_left), line.end.plus(across, to_left))


def _moved_radius(arc: Arc, radius: float, side: int) -> float:
    """The radius on which the fillet's centre travels: inside the arc when it bends to that side."""
    return arc.radius - radius if arc.sweep * side > 0 else arc.radius + radius


def _remedy(before: Edge, after: Edge, turn: float) -> str:
    if isinstance(before, Line) and isinstance(after, Line) and abs(turn) < pi - COINCIDENT:
        most = min(before.length, after.length) / tan(abs(turn) / 2)
        return f"at most {most:.3f} fits"
    return "try a smaller radius"


def _rounded(outline: Outline, corner: int, fit: _Fit, radius: float, side: int) -> Outline:
    edges = list(outline.edges)
    leaves, joins = max(0.0, fit.leaves), min(1.0, fit.joins)
    before, after = edges[corner - 1], edges[corner]
    first, last = before.point_at(leaves), after.point_at(joins)
    sweep = turn_between(before.direction_at(leaves), after.direction_at(joins))
    if sweep * side < 0:
        sweep += TURN * side
    edges[corner - 1] = edges[corner - 1].between(0.0, leaves)
    edges[corner] = edges[corner].between(joins, 1.0)
    arc = Arc(first, last, fit.centre, radius, sweep)
    halves = [arc] if abs(sweep) <= pi else [arc.between(0.0, 0.5), arc.between(0.5, 1.0)]
    return outline_of([*edges[:corner], *halves, *edges[corner:]])
