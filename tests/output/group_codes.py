"""A second reader of DXF, from the text alone: group codes in, plain numbers out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from math import atan, hypot, sin

Pair = tuple[int, str]


@dataclass
class Entity:
    """An entity of the drawing: its name, layer and group codes; `points` of a polyline are (x, y, bulge)."""

    name: str
    codes: list[Pair]
    points: list[list[float]] = field(default_factory=list)

    def number(self, code: int) -> float:
        return float(next(value for c, value in self.codes if c == code))

    def text(self, code: int) -> str:
        return next((value for c, value in self.codes if c == code), "")

    @property
    def layer(self) -> str:
        return self.text(8)

    @property
    def closed(self) -> bool:
        return bool(int(self.text(70) or "0") & 1)

    @property
    def sides(self) -> list[tuple[list[float], list[float]]]:
        return list(zip(self.points, self.points[1:] + self.points[:1], strict=True))

    @property
    def area(self) -> float:
        """Shoelace and the circle segments on the chords."""
        total = 0.0
        for (x0, y0, bulge), (x1, y1, _) in self.sides:
            total += (x0 * y1 - x1 * y0) / 2
            if bulge:
                angle = 4 * atan(bulge)
                radius = hypot(x1 - x0, y1 - y0) / 2 / sin(angle / 2)
                total += radius * radius * (angle - sin(angle)) / 2
        return total


def pairs(content: bytes, encoding: str = "utf-8") -> list[Pair]:
    lines = content.decode(encoding).replace("\r\n", "\n").split("\n")
    return [(int(lines[i]), lines[i + 1]) for i in range(0, len(lines) - 1, 2)]


def section(content: bytes, name: str) -> list[Pair]:
    found = pairs(content)
    start = found.index((2, name))
    return found[start + 1 : found.index((0, "ENDSEC"), start)]


def header(content: bytes) -> dict[str, tuple[float | str, ...]]:
    """Header variables; numbers where they read as such."""
    result: dict[str, tuple[float | str, ...]] = {}
    name = ""
    for code, value in section(content, "HEADER"):
        if code == 9:
            name = value
            result[name] = ()
        else:
            result[name] = (
                *result[name],
                value if code in (1, 2, 3, 5, 6, 7, 8) or 300 <= code <= 399 else float(value),
            )
    return result


def _raw(codes: list[Pair]) -> Iterator[Entity]:
    block: list[Pair] = []
    for pair in codes:
        if pair[0] == 0 and block:
            yield Entity(block[0][1], block[1:])
            block = []
        block.append(pair)
    if block:
        yield Entity(block[0][1], block[1:])


def layers(content: bytes) -> dict[str, Entity]:
    """The layer table."""
    return {e.text(2): e for e in _raw(section(content, "TABLES")) if e.name == "LAYER"}


def entities(content: bytes) -> list[Entity]:
    """The entities, vertices of old polylines gathered into their polyline."""
    result: list[Entity] = []
    for entity in _raw(section(content, "ENTITIES")):
        if entity.name == "VERTEX":
            result[-1].points.append([entity.number(10), entity.number(20), float(entity.text(42) or 0)])
        elif entity.name != "SEQEND":
            if entity.name == "LWPOLYLINE":
                entity.points = _light_points(entity.codes)
            result.append(entity)
    return result


def _light_points(codes: list[Pair]) -> list[list[float]]:
    points: list[list[float]] = []
    for code, value in codes:
        if code == 10:
            points.append([float(value), 0.0, 0.0])
        elif code in (20, 42) and points:
            points[-1][1 if code == 20 else 2] = float(value)
    return points


def names(content: bytes) -> Counter[str]:
    return Counter(entity.name for entity in entities(content))
