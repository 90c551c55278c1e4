"""When two shapes, or two faces of one part, are the same."""

from __future__ import annotations

from typing import TYPE_CHECKING

from templategen.geometry.outline import Outline
from templategen.geometry.placement import OVER
from templategen.geometry.tolerance import EQUAL

if TYPE_CHECKING:
    from templategen.parts.feature import Feature
    from templategen.parts.part import Part


def same_outline(one: Outline, other: Outline, within: float = EQUAL) -> bool:
    """Whether two outlines have the same vertices, whichever they start at."""
    if len(one) != len(other):
        return False
    return any(_agree(one, other, shift, within) for shift in range(len(one)))


def _agree(one: Outline, other: Outline, shift: int, within: float) -> bool:
    ring = other.vertices
    return all(
        abs(a - b) <= within
        for i, vertex in enumerate(one.vertices)
        for a, b in zip(vertex, ring[(i + shift) % len(ring)], strict=True)
    )


def same_turned_over(part: Part) -> bool:
    """Whether the top of `part` carries just what its underside does, and its edges are alike upside down."""
    tops = [(f, f.outline) for f in part.features_on("top") if not (f.traits.bored or f.traits.through)]
    bottoms = [(f, OVER.outline(f.outline)) for f in part.features_on("bottom")]
    if len(tops) != len(bottoms):
        return False
    faces_match = all(any(_same_cut(top, bottom) for bottom in bottoms) for top in tops)
    return faces_match and all(_level(part, f) for f in part.features if not f.is_flat)


def _same_cut(one: tuple[Feature, Outline], other: tuple[Feature, Outline]) -> bool:
    a, b = one[0], other[0]
    alike = abs(a.depth - b.depth) < EQUAL and abs(a.floor - b.floor) < EQUAL
    return a.kind == b.kind and alike and same_outline(one[1], other[1])


def _level(part: Part, feature: Feature) -> bool:
    box = feature.outline.bounds
    return abs(box.bottom + box.top - part.thickness) < EQUAL
