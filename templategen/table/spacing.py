"""Spacing: how many slats, how wide, how far apart."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, sin

from templategen.errors import DesignError
from templategen.table.limits.bound import Bound, faults_of, mm
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
        DesignError: not even the fewest slats fit.
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
    count = round((span - extra * slats.gap) / (slats.width + slats.gap))
    width, gap, count = _solve(slats, _Room(span, extra, fewest=1, step=1), count)
    first = start + extra * gap
    bands = ((first + i * (width + gap), first + i * (width + gap) + width) for i in range(count))
    return Spacing(width, gap, tuple(bands))


def _about_bisector(slats: Slats, half_span: float) -> Spacing:
    """n slats and n + 1 gaps from corner to corner; the apex is open where a gap lies on the bisector (n even),
    closed where a slat does (n odd)."""
    span = 2 * half_span
    odd = 0 if slats.apex == "open" else 1
    pairs = round(((span - slats.gap) / (slats.width + slats.gap) - odd) / 2)
    width, gap, count = _solve(slats, _Room(span, 1, fewest=2 - odd, step=2), 2 * pairs + odd)
    first = gap - half_span
    bands = ((first + i * (width + gap), first + i * (width + gap) + width) for i in range(count))
    return Spacing(width, gap, tuple(bands))


@dataclass(frozen=True, slots=True)
class _Room:
    """A span to fill with n slats and n + `extra` gaps, n at least `fewest` and in steps of `step`."""

    span: float
    extra: int
    fewest: int
    step: int

    def holds(self, slats: Slats, count: int) -> bool:
        """Whether `count` slats leave something of the size that isn't held."""
        held = count * slats.width if slats.hold == "width" else (count + self.extra) * slats.gap
        return count >= self.fewest and held < self.span


def _solve(slats: Slats, room: _Room, count: int) -> tuple[float, float, int]:
    """Width, gap and number; one step fewer than the rounded `count` where rounding up leaves no room."""
    if count > room.fewest and not room.holds(slats, count):
        count -= room.step
    if not room.holds(slats, count):
        raise _no_room(slats, room)
    gaps = count + room.extra
    if slats.hold == "width":
        return slats.width, (room.span - count * slats.width) / gaps, count
    return (room.span - gaps * slats.gap) / count, slats.gap, count


def _no_room(slats: Slats, room: _Room) -> DesignError:
    """The refusal of slats so wide that not even the fewest fit with their gaps."""
    what = "no slat" if room.fewest == 1 else f"no {room.fewest} slats"
    found = f"{what} of {mm(slats.width)} with gaps of {mm(slats.gap)} fit into {mm(room.span)}"
    most = (room.span - (room.fewest + room.extra) * slats.gap) / room.fewest
    other = "a smaller slats.gap, narrower rails or rim, or a larger diameter"
    return DesignError(faults_of([Bound("slats.width", slats.width, found, below=most, closed=True, other=other)]))
