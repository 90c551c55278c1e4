"""Paths of SVG: what edges walk along, as text with true arcs, y turned down."""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from math import pi

from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.output.numbers import digits

MOST_TURN = 2 * pi / 3
"""Arcs that turn further are written as two: near half a circle a radius rounded to 1e-6 moves the middle
of the arc by hundredths of a millimetre."""


class LongPath:
    """A track of absolute steps with six decimals."""

    def __init__(self, start: Point) -> None:
        self.steps = [f"M {_at(start)}"]

    def line(self, line: Line) -> None:
        self.steps.append(f"L {_at(line.end)}")

    def arc(self, arc: Arc) -> None:
        radius = digits(arc.radius)
        for piece in _short(arc):
            self.steps.append(f"A {radius} {radius} 0 0 {0 if arc.sweep > 0 else 1} {_at(piece.end)}")


def long_path(edges: Sequence[Edge]) -> str:
    """A walk along edges that follow each other."""
    path = LongPath(edges[0].start)
    for edge in edges:
        edge.walk(path)
    return " ".join(path.steps)


class ShortPath:
    """A track of steps told from where the last rounded one ended, so that no error adds up.

    Corners are whole numbers of the last of so many `places`.
    """

    def __init__(self, start: Point, places: int) -> None:
        self._places, self._fine = places, 10**places
        self._x, self._y = self._whole(start)
        self._steps = ["M" + self._move(self._x, self._y)]
        self._letter = ""

    def line(self, line: Line) -> None:
        if self._whole(line.end) != (self._x, self._y):
            self._step("l", "", line.end)

    def arc(self, arc: Arc) -> None:
        radius = digits(arc.radius, self._places)
        for piece in _short(arc):
            self._step("a", f"{radius} {radius} 0 0 {0 if arc.sweep > 0 else 1} ", piece.end)

    @property
    def text(self) -> str:
        """The walk so far; one that went nowhere still has a step."""
        return "".join(self._steps) if len(self._steps) > 1 else self._steps[0] + "h0"

    def _whole(self, at: Point) -> tuple[int, int]:
        return round(at.x * self._fine), round(-at.y * self._fine)

    def _step(self, letter: str, how: str, end: Point) -> None:
        x, y = self._whole(end)
        text = how + self._move(x - self._x, y - self._y)
        gap = "" if text.startswith("-") else " "
        self._steps.append((gap if letter == self._letter else letter) + text)
        self._letter, self._x, self._y = letter, x, y

    def _move(self, across: int, down: int) -> str:
        """Two whole numbers of the last decimal; a minus sign parts them by itself."""
        second = _decimal(down, self._places)
        return f"{_decimal(across, self._places)}{'' if second.startswith('-') else ' '}{second}"


def short_ring(outline: Outline, places: int) -> str:
    """A closed walk; a straight last edge is drawn by closing it."""
    path = ShortPath(outline.edges[0].start, places)
    for edge in outline.edges if outline.edges[-1].bulge else outline.edges[:-1]:
        edge.walk(path)
    return path.text + "Z"


def _at(point: Point) -> str:
    return f"{digits(point.x)} {digits(-point.y)}"


def _short(arc: Arc) -> Iterable[Arc]:
    return (arc.between(0.0, 0.5), arc.between(0.5, 1.0)) if abs(arc.sweep) > MOST_TURN else (arc,)


@lru_cache(maxsize=1 << 14)
def _decimal(count: int, places: int) -> str:
    """So many of the last decimal as a number."""
    whole, rest = divmod(abs(count), 10**places)
    text = f"{whole}.{rest:0{places}d}".rstrip("0").rstrip(".")
    return f"-{text}" if count < 0 else text
