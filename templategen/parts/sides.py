"""The sides of a piece as its drawing lies: their edges, and what they are called."""

from collections.abc import Iterator

from templategen.catalogue import meant
from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point

SIDES = {
    "top": "top",
    "bottom": "underside",
    "low": "lower edge",
    "high": "upper edge",
    "left": "left end",
    "right": "right end",
}
"""As the part's drawing lies."""

RIM_SIDES = {**SIDES, "low": "inner edge", "high": "outer edge"}

NTH = {"1": "first", "2": "second", "3": "third", "4": "fourth", "5": "fifth", "6": "sixth"}

OF_A_PIECE = "{} of a piece"
"""What a translator is asked for a side."""

CLEAR = 0.3
"""An edge belongs to an end of the piece whose way its outward normal goes by more than this."""

STRAIGHT = 0.999
"""And to a long edge by more than this: a segment's mitres look inwards, too, the more the fewer its ring has."""


def side_as_drawn(name: str, kind: str = "") -> str:
    """A face, edge or end in words; the cuts of an end with several are counted from below."""
    sides = RIM_SIDES if kind == "rim-segment" else SIDES
    base, _, number = name.partition("-")
    return f"{NTH[number]} edge from below of the {sides[base]}" if number else sides[base]


def side(name: str, kind: str = "") -> str:
    """The same in the language that is spoken."""
    return of_a_piece(side_as_drawn(name, kind))


def of_a_piece(told: str) -> str:
    """A side that is named in English."""
    return meant(told, OF_A_PIECE.format(told))


def ends_of(outline: Outline) -> Iterator[str]:
    """The names of the edges of both ends."""
    for base in ("left", "right"):
        count = len(_edges(outline, base))
        yield from (base,) if count == 1 else (f"{base}-{number}" for number in range(1, count + 1))


def end_edge(outline: Outline, name: str) -> tuple[Point, Point] | None:
    """A long edge, or the edge of an end, start and end as the outline runs anticlockwise; those of one end are
    counted from the low edge. None where the outline has no such edge, or several and no number says which."""
    base, _, number = name.partition("-")
    edges = _edges(outline, base)
    if not number and len(edges) > 1:
        return None
    at = int(number or 1) - 1
    return edges[at] if at < len(edges) else None


def tip_edge(outline: Outline, base: str) -> tuple[Point, Point]:
    """Of the edges of an end that which lies furthest out, as wide as the whole piece, for it may lean."""
    start, end = max(_edges(outline, base), key=lambda edge: abs(edge[0].x + edge[1].x - 2 * outline.bounds.centre.x))
    box, slope = outline.bounds, (end.x - start.x) / (end.y - start.y)
    low, high = (Point(start.x + (y - start.y) * slope, y) for y in (box.bottom, box.top))
    return (low, high) if base == "right" else (high, low)


def _edges(outline: Outline, base: str) -> list[tuple[Point, Point]]:
    way = {"left": Point(-1, 0), "right": Point(1, 0), "low": Point(0, -1), "high": Point(0, 1)}[base]
    across = base in ("left", "right")
    edges = [(edge.start, edge.end) for edge in outline.anticlockwise.edges if _faces(edge, way, across)]
    return sorted(edges, key=lambda edge: edge[0].y + edge[1].y)


def _faces(edge: Edge, way: Point, across: bool) -> bool:
    """Whether its outward normal goes that way: a long edge's straight, that of an end, which may lean, mostly."""
    out = edge.direction_at(0.5).left.times(-1)
    return out.dot(way) > CLEAR and abs(out.x) > 0.1 if across else out.dot(way) > STRAIGHT
