"""What a picture of a jig in use is drawn with besides machine and wood: the jig's own pieces."""

from collections.abc import Iterator

from templategen.drawing.drawing import Mark, Shape, Stroke
from templategen.drawing.layer import Layer
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.jigs.jig import Jig
from templategen.parts.part import Part

JIG = Layer("ADDED_MIDDLE", "the jig", "orange", weight=0.13, filled=True)
JIG_EDGE = Layer("JIG_EDGE", "edges of the jig", weight=0.5)


def piece_of(jig: Jig, code: str) -> Part:
    """The piece of that code."""
    return next(part for part in jig.parts if part.code == code)


def made(outline: Outline, code: str = "") -> Iterator[Mark]:
    """A piece of the jig."""
    yield Shape(JIG, outline, code)
    yield Shape(JIG_EDGE, outline, code)


def laid(jig: Jig, code: str, at: Point) -> Iterator[Mark]:
    """A piece with its holes and its scribed lines, its own origin at a place."""
    part, way = piece_of(jig, code), Placement(at.x, at.y)
    yield from made(way.outline(part.outline), code)
    yield from (Shape(JIG_EDGE, way.outline(hole)) for hole in part.holes)
    yield from (Stroke(JIG_EDGE, way.edge(one.edge)) for one in jig.scribes if one.part == code)
