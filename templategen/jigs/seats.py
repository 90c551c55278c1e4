"""The edges by which a jig's piece does its work: nothing may be left standing on them."""

from collections.abc import Iterable, Iterator

from templategen.geometry.edge import Line
from templategen.geometry.outline import distance_to
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ON_EDGE
from templategen.jigs.jig import Critical, Jig
from templategen.parts.part import Part


def seats(jigs: Iterable[Jig]) -> dict[str, tuple[Line, ...]]:
    """By the piece's code, its straight edges that a critical distance runs along, or starts or ends on."""
    return {part.code: tuple(_seats(jig, part)) for jig in jigs for part in jig.parts}


def _seats(jig: Jig, part: Part) -> Iterator[Line]:
    spans = [figure for figure in jig.figures if figure.part == part.code]
    for edge in part.outline.edges:
        if isinstance(edge, Line) and any(_works(edge, figure) for figure in spans):
            yield edge


def _works(edge: Line, figure: Critical) -> bool:
    """Whether both ends of the distance lie on the edge, or one lies between its ends."""
    if figure.span is None:
        return False
    on = [distance_to(edge, end) < ON_EDGE for end in figure.span]
    return all(on) or any(is_on and _between(edge, end) for is_on, end in zip(on, figure.span, strict=True))


def _between(edge: Line, point: Point) -> bool:
    return min(point.distance(edge.start), point.distance(edge.end)) > ON_EDGE
