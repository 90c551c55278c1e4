"""Relief holes: where a round bit is plunged or run to clear an inside corner that it can't reach in passing."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf, pi, sin

from templategen.errors import Fault, GeometryError
from templategen.geometry.corner import corner_turn
from templategen.geometry.edge import Arc, Line
from templategen.geometry.outline import Outline, circle, outline_of
from templategen.geometry.point import Point
from templategen.geometry.tolerance import COINCIDENT


@dataclass(frozen=True, slots=True)
class ReliefHole:
    """What clears one corner: the bit's circle of `radius` swept from `start` to `end`, which may be one place."""

    corner: Point
    start: Point
    end: Point
    radius: float

    @property
    def outline(self) -> Outline:
        """The hole: a circle, or a slot with round ends."""
        if self.start.distance(self.end) <= COINCIDENT:
            return circle(*self.end, self.radius)
        side = self.end.minus(self.start).unit.left.times(self.radius)
        right, left = self.start.minus(side), self.start.plus(side)
        ahead_right, ahead_left = self.end.minus(side), self.end.plus(side)
        return outline_of(
            (
                Line(right, ahead_right), Arc(ahead_right, ahead_left, self.end, self.radius, pi),
                Line(ahead_left, left), Arc(left, right, self.start, self.radius, pi),
            )
        )  # fmt: skip


def relief_holes(
    outline: Outline, radius: float, kind: str = "corner", void: str = "inside"
) -> tuple[ReliefHole, ...]:
    """The hole that clears each inside corner of two lines.

    "corner": one plunge, its circle through the corner, its centre on the bisector. "edge": the bit runs on along the
    shorter edge until its centre stands on the longer one, so that the shorter edge stays whole. Both clear a square
    corner altogether. `void` is "inside" for a pocket, "outside" for a part sawn from its board.

    Raises:
        GeometryError: an unknown kind or side, or no radius.
    """
    if kind not in ("corner", "edge") or void not in ("inside", "outside") or not 0 < radius < inf:
        found = f"no {kind} relief of radius {radius:g} with the void {void}"
        raise GeometryError(Fault("relief", found, "use corner or edge, inside or outside"))
    return tuple(_holes(outline.cleaned, radius, kind, outline.is_anticlockwise == (void == "inside")))


def _holes(outline: Outline, radius: float, kind: str, left: bool) -> Iterator[ReliefHole]:
    for index, after in enumerate(outline.edges):
        before = outline.edges[index - 1]
        if not isinstance(before, Line) or not isinstance(after, Line):
            continue
        turn = corner_turn(before, after)
        if (turn > 0) != left or not COINCIDENT < abs(turn) < pi - COINCIDENT:
            continue
        vertex, back, ahead = after.start, before.direction_at(1.0).times(-1), after.direction_at(0.0)
        if kind == "corner":
            centre = vertex.plus(ahead.plus(back).unit, radius)
            yield ReliefHole(vertex, centre, centre, radius)
            continue
        first = before.length > after.length - COINCIDENT
        longer, shorter = (back, ahead) if first else (ahead, back)
        # As far along the longer edge as the circle touches the shorter one.
        end = vertex.plus(longer, radius / sin(abs(turn)))
        yield ReliefHole(vertex, end.plus(shorter, radius / sin(abs(turn))), end, radius)
