"""A pocket as a bit is led round it: run out of the wood where it is open there."""

from collections.abc import Sequence

from templategen.geometry.outline import Outline
from templategen.geometry.overrun import adjoins, overrun
from templategen.parts.feature import Feature

STAGGER = 0.5
"""How much further a pocket runs out than a deeper one that it meets, mm."""


def run_out(feature: Feature, features: Sequence[Feature], wood: Outline, by: float) -> Outline:
    """The outline of a feature, its open sides moved `by` mm out of the wood, half a bit's width.

    Of pockets that come near each other each runs out a little further than the deeper ones, so that no two
    edges coincide.
    """
    deeper = _deeper(feature, features, by)
    against = tuple(outline for outline in deeper if adjoins(feature.outline, outline))
    return overrun(feature.outline, wood, by + STAGGER * len(deeper), against)


def _deeper(feature: Feature, features: Sequence[Feature], by: float) -> tuple[Outline, ...]:
    """The pockets near this one that leave no wood at its depth; of two alike the earlier."""
    this, box = features.index(feature), feature.outline.bounds
    return tuple(
        other.outline
        for i, other in enumerate(features)
        if (other.depth, -i) > (feature.depth, -this)
        and not other.traits.arris
        and box.meets(other.outline.bounds, 4 * by)
    )
