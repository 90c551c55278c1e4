"""Corners: how an outline turns from one edge into the next."""

from math import atan2, pi

from templategen.geometry.edge import Edge
from templategen.geometry.point import Point
from templategen.geometry.tolerance import SHORTEST_EDGE


def turn_between(heading: Point, onward: Point) -> float:
    """The angle from one direction to another, radians, left positive, at most pi either way."""
    return atan2(heading.cross(onward), heading.dot(onward))


def corner_turn(before: Edge, after: Edge) -> float:
    """The turn from one edge into the next, radians, left positive.

    A full turn back goes to the side on which the edges part.
    """
    turn = turn_between(before.direction_at(1.0), after.direction_at(0.0))
    if pi - abs(turn) > SHORTEST_EDGE:
        return turn
    into = before.end.minus(before.point_at(0.5))
    return pi if into.cross(after.point_at(0.5).minus(after.start)) > 0 else -pi
