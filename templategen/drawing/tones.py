"""Tones and lines of pictures: three lightnesses of wood, and how heavy a part's edges are drawn."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from templategen.drawing.layer import Layer

LIGHT = (-0.35, 0.55, 0.76)
"""Where the light comes from in the eye's frame: over the left shoulder. Of length one to two digits."""

STEPS = (0.72, 0.35)
"""Faces turned to the light by more than these cosines are light, or middling; the rest are dark."""


@dataclass(frozen=True, slots=True)
class Manners:
    """How parts are drawn in a picture: `contour`, `inner` edges, and `tones` from light to dark."""

    contour: Layer
    inner: Layer
    tones: tuple[Layer, ...]


def _tones(name: str, words: str, colour: str) -> tuple[Layer, ...]:
    return tuple(
        Layer(f"{name}_{step}", f"{words}, {tone}", colour, weight=0.13, filled=True)
        for step, tone in (("LIGHT", "in the light"), ("MIDDLE", "aslant"), ("DARK", "in the shade"))
    )


SHOWN = Manners(
    Layer("SHOWN_CONTOUR", "outer edges of a part", weight=0.35),
    Layer("SHOWN_EDGE", "edges within a part", weight=0.18),
    _tones("WOOD", "wood", "yellow"),
)
"""A part of a finished or an exploded table."""

ADDED = Manners(
    Layer("ADDED_CONTOUR", "outer edges of a part that this step adds", weight=0.5),
    Layer("ADDED_EDGE", "edges within a part that this step adds", weight=0.25),
    _tones("ADDED", "a part that this step adds", "orange"),
)
"""A part that a step adds."""

THERE = Manners(
    Layer("THERE_CONTOUR", "outer edges of a part already there", weight=0.18),
    Layer("THERE_EDGE", "edges within a part already there", weight=0.13),
    _tones("THERE", "a part already there", "black"),
)
"""A part that stands already."""

MOTION = Layer("MOTION", "the way a part comes home", "vermilion", "continuous", 0.5)
LEADER = Layer("LEADER", "from a code to its part", "black", "continuous", 0.13)
CODE = Layer("CODE", "codes of the parts", "black", "continuous", 0.25)


def tone_of(normal: Sequence[float], manners: Manners) -> Layer:
    """The tone of a face by how far it turns to the light."""
    lit = fsum(a * b for a, b in zip(normal, LIGHT, strict=True))
    return manners.tones[sum(lit < step for step in STEPS)]
