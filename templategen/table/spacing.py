"""Spacing: how many slats, how wide, how far apart."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, sin

from templategen.errors import DesignError, Fault
from templategen.table.profile.model import Slats
from templategen.table.sizes import Sizes


@dataclass(frozen=True, slots=True)
class Spacing:
    """Slats as bands `(low, high)` across their run, mm, and the width and gap that fill the span evenly.

    For an across run the bands are measured along the field's bisector from the table's centre, for an along
    run sideways from the bisector, for a straight run sideways from the axis of the first rail.
    """

    width: float
    gap: float
    bands: tuple[tuple[float, float], ...]

    @property
    def count(self) -> int:
        """Slats side by side."""
        return len(self.bands)


def spacing_of(sizes: Sizes) -> Spacing:
    """The spacing that the profile asks for, solved.

    Raises:
        DesignError: no slat fits, or the solved gap or width vanishes.
    """
    slats = sizes.profile.slats
    if slats.run == "across":
        return _from_apex(slats, sizes.apex, sizes.field_end)
    if slats.run == "straight":
        return _from_apex(slats, sizes.half_rail, straight_end(sizes))
    return _about_bisector(slats, sideways_end(sizes))


def straight_end(sizes: Sizes) -> float:
    """How far the fields reach sideways of the first rail: a flat or a joint faces square to it."""
    faces_flat = sizes.segments % 4 == 0
    return sizes.inner_apothem if faces_flat else sizes.inner_corner


def sideways_end(sizes: Sizes) -> float:
    """How far a field reaches sideways of its bisector: its corner between arm and rim."""
    half = sizes.field_angle / 2
    return sizes.inner_apothem * sin(half) - sizes.half_rail * cos(half)


def _from_apex(slats: Slats, start: float, end: float) -> Spacing:
    """n slats and n + 1 gaps with an open apex, n gaps where the first slat fills the apex."""
    extra = 1 if slats.apex == "open" else 0
    span = end - start
    count = _fitting(slats, span, round((span - extra * slats.gap) / (slats.width + slats.gap)), 1)
    width, gap = _solve(slats, span, count, extra)
    first = start + extra * gap
    bands = ((first + i * (width + gap), first + i * (width + gap) + width) for i in range(count))
    return Spacing(width, gap, tuple(bands))


def _about_bisector(slats: Slats, half_span: float) -> Spacing:
    """n slats and n + 1 gaps from corner to corner; the apex is open where a gap lies on the bisector (n even),
    closed where a slat does (n odd)."""
    span = 2 * half_span
    odd = 0 if slats.apex == "open" else 1
    pairs = round(((span - slats.gap) / (slats.width + slats.gap) - odd) / 2)
    count = _fitting(slats, span, 2 * pairs + odd, 2)
    width, gap = _solve(slats, span, count, 1)
    first = gap - half_span
    bands = ((first + i * (width + gap), first + i * (width + gap) + width) for i in range(count))
    return Spacing(width, gap, tuple(bands))


def _fitting(slats: Slats, span: float, count: int, step: int) -> int:
    """The rounded count, or `step` fewer where rounding up leaves no gap between slats of the width held."""
    crowded = slats.hold == "width" and count * slats.width >= span and count > step
    return count - step if crowded else count


def _solve(slats: Slats, span: float, count: int, extra: int) -> tuple[float, float]:
    if span <= 0:
        raise DesignError(
            Fault(
                "top.rim_width",
                f"the fields vanish: {span:.1f} mm are left between rails and rim",
                "make the table larger, the rim or the rails narrower",
            )
        )
    if count < 1 or (slats.hold == "width" and slats.width >= span):
        raise DesignError(
            Fault(
                "slats.width",
                f"no slat of {slats.width:g} mm with gaps of {slats.gap:g} mm fits into {span:.1f} mm",
                f"try {max(span - 2 * slats.gap, span / 3) * 0.9:.0f} mm or less",
            )
        )
    if slats.hold == "width":
        width, gap = slats.width, (span - count * slats.width) / (count + extra)
    else:
        width, gap = (span - (count + extra) * slats.gap) / count, slats.gap
    if gap <= 0 or width <= 0:
        key, size = ("gap", gap) if gap <= 0 else ("width", width)
        raise DesignError(
            Fault(
                f"slats.{key}",
                f"{count} slats leave a {key} of {size:.2f} mm in {span:.1f} mm",
                "change slats.width or slats.gap, or hold the other of the two",
            )
        )
    return width, gap
