"""Glides under the feet: where they stand, clear of eased edges and of a drain hole through the foot."""

from collections.abc import Iterator
from math import cos, sin

from templategen.geometry.outline import Outline, circle
from templategen.table.sizes import Sizes

INSIDE = 5.0
"""A glide stays so far inside what is eased off its foot's ends, mm (assumed)."""


def sole(sizes: Sizes) -> tuple[float, float]:
    """From the axis to the inner and to the outer end of where glides may stand under a foot, mm."""
    base, less = sizes.profile.base, sizes.profile.edges.base + INSIDE
    return base.length / 2 - base.foot_length + less, base.length / 2 - less


def glides_at(sizes: Sizes) -> tuple[float, ...]:
    """From the axis to the middles of the glides under one foot, mm, the outermost first; none without glides.

    One stands at the foot's outer end, or at its inner one where it would cover the drain hole.
    """
    base, half = sizes.profile.base, sizes.profile.base.glide[0] / 2
    if base.glides == "none":
        return ()
    inner, outer = sole(sizes)
    ends = (outer - half, inner + half)
    if base.glides_each > 1:
        return ends
    reach, leg = half + base.drain_hole / 2, sizes.profile.legs.base_centre_distance
    return (ends[1] if base.drain_hole > 0 and abs(ends[0] - leg) < reach else ends[0],)


def glide_outlines(sizes: Sizes) -> Iterator[Outline]:
    """All glides on the floor, seen from above."""
    for arm in range(sizes.arms):
        turn = arm * sizes.field_angle
        for out in glides_at(sizes):
            yield circle(out * cos(turn), out * sin(turn), sizes.profile.base.glide[0] / 2)
