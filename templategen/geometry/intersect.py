"""Intersection of two edges: every outcome is a case of its own, never None and never a bare list."""

from dataclasses import dataclass

from templategen.geometry.cross import circle_circle_points, circle_line_points, line_line_shares
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import distance_to
from templategen.geometry.point import Point
from templategen.geometry.tolerance import COINCIDENT, SHORTEST_EDGE


@dataclass(frozen=True, slots=True)
class NoCrossing:
    """The edges have no point in common."""


@dataclass(frozen=True, slots=True)
class Touching:
    """One common point: the edges are tangent there, or one of them ends there.

    Shares run from 0 at the start of the edge to 1 at its end.
    """

    point: Point
    share_a: float
    share_b: float


@dataclass(frozen=True, slots=True)
class Crossing:
    """One common point, inside both edges, where they pass from side to side."""

    point: Point
    share_a: float
    share_b: float


@dataclass(frozen=True, slots=True)
class TwoCrossings:
    """Two common points, in the order of the first edge; either may be a touch."""

    first: Touching | Crossing
    last: Touching | Crossing


@dataclass(frozen=True, slots=True)
class Overlapping:
    """A common stretch from `start` to `end`, in the order of the first edge.

    `shares_a` rise; `shares_b` belong to the same two points, so they fall when the edges run against
    each other.
    """

    start: Point
    end: Point
    shares_a: tuple[float, float]
    shares_b: tuple[float, float]


Meeting = NoCrossing | Touching | Crossing | TwoCrossings | Overlapping
"""What `intersect` answers."""

APART = NoCrossing()


def intersect(edge_a: Edge, edge_b: Edge, within: float = COINCIDENT) -> Meeting:
    """How two edges meet; what comes nearer than `within` counts as met."""
    if not edge_a.bounds.meets(edge_b.bounds, within):
        return APART
    contacts = sorted(_contacts(edge_a, edge_b, within), key=lambda contact: contact.share_a)
    groups = _groups(contacts, edge_a, edge_b, within)
    for group in groups:
        if type(edge_a) is type(edge_b) and _stretch(edge_a, group) > max(SHORTEST_EDGE, within):
            first, last = group[0], group[-1]
            shares_a, shares_b = (first.share_a, last.share_a), (first.share_b, last.share_b)
            return Overlapping(first.point, last.point, shares_a, shares_b)
    if not groups:
        return APART
    if len(groups) == 1:
        return _single(groups[0])
    return TwoCrossings(_single(groups[0]), _single(groups[-1]))


def met_at(meeting: Meeting) -> tuple[tuple[Point, float, float], ...]:
    """The points of a meeting, each with its shares of both edges; the two ends of an overlap."""
    match meeting:
        case NoCrossing():
            return ()
        case Touching() | Crossing():
            return ((meeting.point, meeting.share_a, meeting.share_b),)
        case TwoCrossings():
            return met_at(meeting.first) + met_at(meeting.last)
        case Overlapping():
            ends = (meeting.start, meeting.end)
            return tuple(zip(ends, meeting.shares_a, meeting.shares_b, strict=True))


def _contacts(edge_a: Edge, edge_b: Edge, within: float) -> list[Touching | Crossing]:
    """Every end of one edge that lies on the other, and every tangent or crossing point of both."""
    found: list[Touching | Crossing] = []
    for share, point in ((0.0, edge_a.start), (1.0, edge_a.end)):
        if distance_to(edge_b, point) <= within:
            found.append(Touching(point, share, _share(edge_b, point)))
    for share, point in ((0.0, edge_b.start), (1.0, edge_b.end)):
        if distance_to(edge_a, point) <= within:
            found.append(Touching(point, _share(edge_a, point), share))
    for point in _tangents(edge_a, edge_b, within):
        found.append(Touching(point, _share(edge_a, point), _share(edge_b, point)))
    for point in _carriers_cross(edge_a, edge_b):
        found.append(Crossing(point, _share(edge_a, point), _share(edge_b, point)))
    return [one for one in found if _on_both(one.point, edge_a, edge_b, 2 * within)]


def _on_both(point: Point, edge_a: Edge, edge_b: Edge, within: float) -> bool:
    return distance_to(edge_a, point) <= within and distance_to(edge_b, point) <= within


def _share(edge: Edge, point: Point) -> float:
    return min(1.0, max(0.0, edge.share_of(point))) if edge.length > 0 else 0.0


def _carriers_cross(edge_a: Edge, edge_b: Edge) -> tuple[Point, ...]:
    """Where the endless lines and whole circles of two edges cross."""
    if isinstance(edge_a, Line) and isinstance(edge_b, Line):
        if edge_b.length <= COINCIDENT:
            return ()
        shares = line_line_shares(edge_a, edge_b.start, edge_b.direction_at(0.0))
        return tuple(edge_a.point_at(share) for share in shares)
    if isinstance(edge_a, Arc) and isinstance(edge_b, Arc):
        return circle_circle_points(edge_a.centre, edge_a.radius, edge_b.centre, edge_b.radius)
    arc, line = (edge_a, edge_b) if isinstance(edge_a, Arc) else (edge_b, edge_a)
    assert isinstance(arc, Arc)
    if line.length <= COINCIDENT:
        return ()
    return circle_line_points(arc.centre, arc.radius, line.start, line.direction_at(0.0))


def _tangents(edge_a: Edge, edge_b: Edge, within: float) -> tuple[Point, ...]:
    """Where the whole circles and endless lines of two edges touch."""
    if isinstance(edge_a, Line) and isinstance(edge_b, Line):
        return ()
    if isinstance(edge_a, Arc) and isinstance(edge_b, Arc):
        return _circles_touch(edge_a, edge_b, within)
    arc, line = (edge_a, edge_b) if isinstance(edge_a, Arc) else (edge_b, edge_a)
    assert isinstance(arc, Arc)
    if line.length <= COINCIDENT:
        return ()
    along = line.direction_at(0.0)
    foot = line.start.plus(along, arc.centre.minus(line.start).dot(along))
    return (foot,) if abs(foot.distance(arc.centre) - arc.radius) <= within else ()


def _circles_touch(edge_a: Arc, edge_b: Arc, within: float) -> tuple[Point, ...]:
    gap = edge_a.centre.distance(edge_b.centre)
    if gap <= within:
        return ()
    along = edge_b.centre.minus(edge_a.centre).unit
    if abs(gap - edge_a.radius - edge_b.radius) <= within:
        return (edge_a.centre.plus(along, edge_a.radius),)
    if abs(gap - abs(edge_a.radius - edge_b.radius)) <= within:
        sign = 1.0 if edge_a.radius > edge_b.radius else -1.0
        return (edge_a.centre.plus(along, sign * edge_a.radius),)
    return ()


def _groups(
    contacts: list[Touching | Crossing], edge_a: Edge, edge_b: Edge, within: float
) -> list[list[Touching | Crossing]]:
    """Contacts between which the first edge never leaves the second belong together."""
    groups: list[list[Touching | Crossing]] = []
    for contact in contacts:
        if groups:
            last = groups[-1][-1]
            middle = edge_a.point_at((last.share_a + contact.share_a) / 2)
            near = last.point.distance(contact.point) <= within
            if near or distance_to(edge_b, middle) <= within:
                groups[-1].append(contact)
                continue
        groups.append([contact])
    return groups


def _stretch(edge: Edge, group: list[Touching | Crossing]) -> float:
    return edge.length * (group[-1].share_a - group[0].share_a)


def _single(group: list[Touching | Crossing]) -> Touching | Crossing:
    """The one contact that stands for a group: an end or tangent before a crossing."""
    return next((contact for contact in group if isinstance(contact, Touching)), group[0])
