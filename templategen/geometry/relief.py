"""Relief: the cut past an inside corner that lets a square mate seat where a round bit can't reach.

The corner is inside for the bit that cuts the void: the void is a pocket where the outline turns
left, and lies outside where it turns right. Both are relieved into the wood.
"""

from __future__ import annotations

from math import cos, inf, pi

from templategen.errors import Fault, GeometryError
from templategen.geometry.corner import corner_turn
from templategen.geometry.edge import Arc, Line
from templategen.geometry.outline import Outline, outline_of
from templategen.geometry.tolerance import COINCIDENT

KINDS = ("corner", "edge")


def relief(outline: Outline, corner: int, radius: float, kind: str = "corner") -> Outline:
    """The outline with the corner of two lines at vertex `corner` relieved by a bit of `radius`.

    "corner": the bit's circle passes through the corner, its centre on the bisector. At a square
    corner the centre stands radius / sqrt 2 from both edges. "edge": the circle's centre stands on
    the longer edge, at `radius` from the corner, so that the shorter edge stays whole.

    Raises:
        GeometryError: no corner of two lines there, or edges too short for the relief.
    """
    index = corner % len(outline)
    return _relief(outline, index, radius, kind, _first_longer(outline, index))


def relieve(outline: Outline, radius: float, kind: str = "corner", void: str = "inside") -> Outline:
    """Every corner of two lines relieved that a bit can't reach when it cuts the void on that side.

    `void` is "inside" for a pocket, "outside" for a part sawn from its board.

    Raises:
        GeometryError: as `relief`, or an unknown side.
    """
    if void not in ("inside", "outside"):
        raise GeometryError(Fault("void", f"the void can't lie {void}", "use inside or outside"))
    outline = outline.cleaned
    left = outline.is_anticlockwise == (void == "inside")
    edges, relieved = outline.edges, outline
    for index in reversed(range(len(outline))):
        before, after = edges[index - 1], edges[index]
        if isinstance(before, Line) and isinstance(after, Line):
            turn = corner_turn(before, after)
            if abs(turn) > COINCIDENT and (turn > 0) == left:
                relieved = _relief(relieved, index, radius, kind, _first_longer(outline, index))
    return relieved


def _first_longer(outline: Outline, index: int) -> bool:
    """Whether the edge that arrives at the corner is at least as long as the one that leaves it."""
    return outline.edges[index - 1].length > outline.edges[index].length - COINCIDENT


def _relief(outline: Outline, index: int, radius: float, kind: str, on_first: bool) -> Outline:
    before, after = outline.edges[index - 1], outline.edges[index]
    where = f"corner {index}"
    if kind not in KINDS or not 0 < radius < inf:
        raise GeometryError(Fault(where, f"no {kind} relief of radius {radius:g}", "use corner or edge"))
    if not isinstance(before, Line) or not isinstance(after, Line):
        raise GeometryError(Fault(where, "an arc meets this corner", "relieve corners of straight edges"))
    turn = corner_turn(before, after)
    if not COINCIDENT < abs(turn) < pi - COINCIDENT:
        raise GeometryError(Fault(where, "the edges don't enclose a corner here"))
    bite = _on_bisector(before, after, radius, turn)
    if kind == "edge":
        bite = _on_edge(before, after, radius, turn, on_first)
    needs = bite.start.distance(before.end), bite.end.distance(before.end)
    if needs[0] > before.length + COINCIDENT or needs[1] > after.length + COINCIDENT:
        found = f"edges of {before.length:.3f} and {after.length:.3f} are too short for radius {radius:g}"
        raise GeometryError(Fault(where, found, f"they need {needs[0]:.3f} and {needs[1]:.3f}"))
    return _relieved(outline, index, bite)


def _on_bisector(before: Line, after: Line, radius: float, turn: float) -> Arc:
    """The relief arc of a circle through the corner with its centre on the bisector.

    With the void's angle v = pi - |turn| the circle cuts both edges at 2 r cos(v/2) from the corner,
    and its arc outside the void turns by 2 pi - 2 v.
    """
    vertex, heading, onward = after.start, before.direction_at(1.0), after.direction_at(0.0)
    reach = 2 * radius * cos((pi - abs(turn)) / 2)
    centre = vertex.plus(onward.minus(heading).unit, radius)
    return Arc(vertex.plus(heading, -reach), vertex.plus(onward, reach), centre, radius, 2 * turn)


def _on_edge(before: Line, after: Line, radius: float, turn: float, on_first: bool) -> Arc:
    """The relief arc of a circle through the corner with its centre on one of the edges.

    A square or obtuse void leaves the other edge whole; in an acute one the circle crosses it.
    """
    vertex, heading, onward = after.start, before.direction_at(1.0), after.direction_at(0.0)
    acute = abs(turn) > pi / 2 + COINCIDENT
    other, sweep = (-2 * radius * cos(turn), 2 * turn) if acute else (0.0, pi if turn > 0 else -pi)
    reaches = (2 * radius, other) if on_first else (other, 2 * radius)
    centre = vertex.plus(heading, -radius) if on_first else vertex.plus(onward, radius)
    return Arc(vertex.plus(heading, -reaches[0]), vertex.plus(onward, reaches[1]), centre, radius, sweep)


def _relieved(outline: Outline, index: int, bite: Arc) -> Outline:
    edges = list(outline.edges)
    edges[index - 1] = Line(edges[index - 1].start, bite.start)
    edges[index] = Line(bite.end, edges[index].end)
    whole = abs(bite.sweep) <= pi + COINCIDENT
    arcs = (bite,) if whole else (bite.between(0.0, 0.5), bite.between(0.5, 1.0))
    return outline_of([*edges[:index], *arcs, *edges[index:]])
