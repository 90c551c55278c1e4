"""What a file draws, whatever its format: closed outlines, open strokes and words by layer; mm, y up."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from math import isfinite
from typing import Any, NamedTuple

from templategen.catalogue import translated
from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point


class Word(NamedTuple):
    """A line of words: where its `anchor` (start, middle, end) stands, capital height in mm, turn in degrees."""

    at: Point
    height: float
    text: str
    anchor: str
    turn: float


def finite(text: Any) -> float:
    """A coordinate as written; what is no number, or none that is finite, is a ValueError."""
    value = float(text)
    if not isfinite(value):
        raise ValueError(translated("a coordinate that is no number"))
    return value


@dataclass(slots=True)
class Drawn:
    """The lines and words of one file."""

    rings: dict[str, list[Outline]] = field(default_factory=lambda: defaultdict(list))
    strokes: dict[str, list[Edge]] = field(default_factory=lambda: defaultdict(list))
    words: dict[str, list[Word]] = field(default_factory=lambda: defaultdict(list))

    @property
    def layers(self) -> list[str]:
        """Every layer that something is drawn on, in the order of the file's kinds of mark."""
        return [*dict.fromkeys((*self.rings, *self.strokes, *self.words))]

    def edges(self, layers: Iterable[str] | None = None) -> list[Edge]:
        """Every line and arc of the layers, of all of them where none are named; those of rings too."""
        named = self.layers if layers is None else list(layers)
        lone = [edge for layer in named for edge in self.strokes.get(layer, ())]
        return lone + [edge for layer in named for ring in self.rings.get(layer, ()) for edge in ring.edges]
