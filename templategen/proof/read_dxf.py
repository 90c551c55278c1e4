"""Reads the lines of a DXF from its group codes alone (DXF reference: HEADER and ENTITIES)."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import cos, isfinite, radians, sin

from templategen.errors import Fault, OutputError
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import Outline, circle
from templategen.geometry.point import Point
from templategen.geometry.vertex import Vertex
from templategen.proof.drawn import Drawn

Pair = tuple[int, str]

MM_PER_UNIT = {"1": 25.4, "4": 1.0}
"""By $INSUNITS: inches, millimetres."""

SQUARE_LAYER, SQUARE_SIDE = "SIZE_CHECK", 100.0
"""Where a file carries no unit, its test square tells it."""


def read_dxf(data: bytes) -> Drawn:
    """The lines, in mm.

    Raises:
        OutputError: the text is no DXF, or a line lies nowhere.
    """
    try:
        pairs = _pairs(data)
        drawn = Drawn()
        for name, codes in _entities(_section(pairs, "ENTITIES")):
            _add(drawn, name, codes)
        return _scaled(drawn, _unit(pairs, drawn))
    except (ValueError, IndexError, ArithmeticError) as trouble:
        raise OutputError(Fault("", f"can't be read as DXF ({trouble})")) from trouble


def _pairs(data: bytes) -> list[Pair]:
    lines = data.decode("utf-8", "replace").replace("\r\n", "\n").split("\n")
    return [(int(code), value.strip()) for code, value in zip(lines[::2], lines[1::2], strict=False)]


def _section(pairs: list[Pair], name: str) -> list[Pair]:
    if (2, name) not in pairs:
        raise ValueError(f"no section {name}")
    start = pairs.index((2, name))
    return pairs[start + 1 : pairs.index((0, "ENDSEC"), start)]


def _entities(pairs: list[Pair]) -> Iterator[tuple[str, list[Pair]]]:
    """Each entity with its codes; the vertices of an old polyline are gathered in it."""
    starts = [i for i, (code, _) in enumerate(pairs) if code == 0]
    old: list[Pair] | None = None
    for first, last in pairwise([*starts, len(pairs)]):
        name, codes = pairs[first][1], pairs[first + 1 : last]
        if name == "POLYLINE":
            old = [pair for pair in codes if pair[0] not in (10, 20, 30)]
        elif name == "VERTEX" and old is not None:
            old += [pair for pair in codes if pair[0] in (10, 20, 42)]
        elif name == "SEQEND" and old is not None:
            yield "LWPOLYLINE", old
            old = None
        else:
            yield name, codes


def _add(drawn: Drawn, name: str, codes: list[Pair]) -> None:
    layer = next((value for code, value in codes if code == 8), "")
    if name == "LWPOLYLINE":
        _add_polyline(drawn, layer, codes)
    elif name == "CIRCLE":
        drawn.add_ring(layer, circle(_number(codes, 10), _number(codes, 20), _number(codes, 40)))
    elif name == "LINE":
        start, end = (Point(_number(codes, x), _number(codes, x + 10)) for x in (10, 11))
        drawn.add_edge(layer, Line(start, end))
    elif name == "ARC":
        drawn.add_edge(layer, _arc(codes))


def _add_polyline(drawn: Drawn, layer: str, codes: list[Pair]) -> None:
    corners: list[list[float]] = []
    for code, value in codes:
        if code == 10:
            corners.append([_finite(value), 0.0, 0.0])
        elif code in (20, 42) and corners:
            corners[-1][1 if code == 20 else 2] = _finite(value)
    if not int(next((value for code, value in codes if code == 70), "0")) & 1:
        raise ValueError(f"an open outline on {layer}")
    drawn.add_ring(layer, Outline(tuple(Vertex(*corner) for corner in corners)))


def _arc(codes: list[Pair]) -> Arc:
    centre, radius = Point(_number(codes, 10), _number(codes, 20)), _number(codes, 40)
    first, last = radians(_number(codes, 50)), radians(_number(codes, 51))
    sweep = (last - first) % radians(360.0)
    start, end = (Point(centre.x + radius * cos(angle), centre.y + radius * sin(angle)) for angle in (first, last))
    return Arc(start, end, centre, radius, sweep)


def _number(codes: list[Pair], wanted: int) -> float:
    return _finite(next((value for code, value in codes if code == wanted), "nan"))


def _finite(text: str) -> float:
    value = float(text)
    if not isfinite(value):
        raise ValueError("a coordinate that is no number")
    return value


def _unit(pairs: list[Pair], drawn: Drawn) -> float:
    """Millimetres to one unit of the file."""
    header = _section(pairs, "HEADER") if (2, "HEADER") in pairs else []
    place = next((i for i, pair in enumerate(header) if pair == (9, "$INSUNITS")), None)
    named = MM_PER_UNIT.get(header[place + 1][1]) if place is not None else None
    if named is not None:
        return named
    square = drawn.rings.get(SQUARE_LAYER)
    if not square:
        raise ValueError("it names no unit and has no test square")
    return 1.0 if square[0].bounds.width > SQUARE_SIDE / 2 else 25.4


def _scaled(drawn: Drawn, unit: float) -> Drawn:
    if unit == 1.0:
        return drawn
    grown = Drawn()
    for layer, edges in drawn.edges.items():
        grown.edges[layer] = [_grown(edge, unit) for edge in edges]
    for layer, rings in drawn.rings.items():
        grown.rings[layer] = [Outline(tuple(Vertex(v.x * unit, v.y * unit, v.bulge) for v in ring)) for ring in rings]
    return grown


def _grown(edge: Edge, unit: float) -> Edge:
    start, end = (Point(point.x * unit, point.y * unit) for point in (edge.start, edge.end))
    if isinstance(edge, Line):
        return Line(start, end)
    return Arc(start, end, Point(edge.centre.x * unit, edge.centre.y * unit), edge.radius * unit, edge.sweep)
