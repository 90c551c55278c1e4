"""Spacing: how many slats, how wide, how far apart."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, sin

from templategen.errors import DesignError
from templategen.table.bounds.bound import Bound, faults_of
from templategen.table.bounds.refusals import Fields
from templategen.table.profile.model import Profile, Slats
from templategen.table.seasons import board_swing
from templategen.table.sizes import Sizes

MOST_SLATS = 400
"""More slats than any field takes."""


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
    """The spacing that the profile asks for, solved: the choice nearest to what was asked that stays clear all year,
    or the nearest where none does.

    Raises:
        DesignError: not even the fewest slats fit.
    """
    choices = choices_of(sizes)
    return next((choice for choice in choices if stays_clear(sizes.profile, choice)), choices[0])


def choices_of(sizes: Sizes) -> tuple[Spacing, ...]:
    """Every number of slats worth offering, the one nearest to what was asked first.

    With the gap held any number will do whose slats are wide enough to be used and within half of the width asked;
    with the width held only the two numbers next to the one asked for, and no gap of more than twice the one asked.

    Raises:
        DesignError: not even the fewest slats fit.
    """
    slats, room = sizes.profile.slats, _room_of(sizes)
    asked = (room.span - room.extra * slats.gap - room.swells * slats.width) / (slats.width + slats.gap)
    rounded = room.nearest(asked)
    if rounded > room.fewest and not room.holds(slats, rounded):
        rounded -= room.step
    if not room.holds(slats, rounded):
        raise _no_room(slats, room)
    counts = [rounded, *(count for count in _others(sizes, room, asked) if count != rounded)]
    return tuple(room.spacing(slats, count) for count in counts)


def stays_clear(profile: Profile, spacing: Spacing) -> bool:
    """Whether the gaps drain at the wettest of the year, and no finger is caught in them from driest to wettest."""
    swing, limits = board_swing(profile), profile.limits
    dry, wet = spacing.gap - spacing.width * swing.dry, spacing.gap - spacing.width * swing.wet
    low, high = limits.finger_gap
    return wet >= limits.drain_gap[1] and (dry < low or wet > high)


def _others(sizes: Sizes, room: _Room, asked: float) -> list[int]:
    """The other numbers of slats, by how near the size that isn't held comes to the one asked."""
    slats = sizes.profile.slats
    least = sizes.profile.limits.slat_width[1] if slats.hold == "gap" else 0.0
    counts = [
        count
        for count in range(room.fewest, MOST_SLATS, room.step)
        if room.holds(slats, count) and room.solved(slats, count)[0] >= least and room.is_near(slats, count, asked)
    ]
    return sorted(counts, key=lambda count: abs(room.off(slats, count)))


def straight_end(sizes: Sizes) -> float:
    """How far the fields reach sideways of the first rail: a flat or a joint faces square to it."""
    faces_flat = sizes.segments % 4 == 0
    return sizes.inner_apothem if faces_flat else sizes.inner_corner


def sideways_end(sizes: Sizes) -> float:
    """How far a field reaches sideways of its bisector: its corner between arm and rim."""
    half = sizes.field_angle / 2
    return sizes.inner_apothem * sin(half) - sizes.half_rail * cos(half)


def _room_of(sizes: Sizes) -> _Room:
    """What the profile's run gives slats to fill.

    Across and straight runs lay n slats and n + 1 gaps from the apex out, n gaps where the first slat fills it, or
    lies beside the rail with a shoulder's play and half of what it swells itself. An along run lays n + 1 gaps from
    corner to corner; its apex is open where a gap lies on the bisector (n even).
    """
    slats = sizes.profile.slats
    closed = slats.apex == "closed"
    if slats.run == "along":
        half = sideways_end(sizes)
        return _Room(-half, 2 * half, 1, fewest=1 if closed else 2, step=2)
    if slats.run == "across":
        start, end = sizes.apex, sizes.field_end
    else:
        start, end = sizes.half_rail + (sizes.clearances.shoulder if closed else 0.0), straight_end(sizes)
        swells = beside_rail(sizes) if closed else 0.0
        return _Room(start, end - start, 0 if closed else 1, fewest=1, step=1, swells=swells)
    return _Room(start, end - start, 0 if closed else 1, fewest=1, step=1)


def beside_rail(sizes: Sizes) -> float:
    """The share of its width by which a slat that lies along a rail comes nearer to it at the wettest: pinned in its
    middle, it swells by half of that to each side."""
    return max(0.0, board_swing(sizes.profile).wet) / 2


@dataclass(frozen=True, slots=True)
class _Room:
    """A span from `start` to fill with n slats and n + `extra` gaps, n at least `fewest` and in steps of `step`;
    before the first slat stays the share `swells` of its width."""

    start: float
    span: float
    extra: int
    fewest: int
    step: int
    swells: float = 0.0

    def nearest(self, asked: float) -> int:
        """The number nearest to `asked` that the steps allow, not yet held against the fewest."""
        return self.step * round((asked - self.fewest) / self.step) + self.fewest

    def holds(self, slats: Slats, count: int) -> bool:
        """Whether `count` slats leave something of the size that isn't held."""
        held = (count + self.swells) * slats.width if slats.hold == "width" else (count + self.extra) * slats.gap
        return count >= self.fewest and held < self.span

    def solved(self, slats: Slats, count: int) -> tuple[float, float]:
        """Width and gap of `count` slats."""
        gaps = count + self.extra
        if slats.hold == "width":
            return slats.width, (self.span - (count + self.swells) * slats.width) / gaps
        return (self.span - gaps * slats.gap) / (count + self.swells), slats.gap

    def off(self, slats: Slats, count: int) -> float:
        """How far the size that isn't held comes from the one asked."""
        width, gap = self.solved(slats, count)
        return gap - slats.gap if slats.hold == "width" else width - slats.width

    def is_near(self, slats: Slats, count: int, asked: float) -> bool:
        """Whether a maker who wanted `asked` slats, as a fraction, would still call this the same table."""
        if slats.hold == "width":
            return abs(count - asked) < self.step and abs(self.off(slats, count)) <= slats.gap
        return abs(self.off(slats, count)) <= slats.width / 2

    def spacing(self, slats: Slats, count: int) -> Spacing:
        """The bands of `count` slats."""
        width, gap = self.solved(slats, count)
        first = self.start + self.extra * gap + self.swells * width
        bands = ((first + i * (width + gap), first + i * (width + gap) + width) for i in range(count))
        return Spacing(width, gap, tuple(bands))


def _no_room(slats: Slats, room: _Room) -> DesignError:
    """The refusal of slats so wide that not even the fewest fit with their gaps."""
    kind = "no-slat-fits" if room.fewest == 1 else "slats-do-not-fit"
    fields: Fields = {"fewest": str(room.fewest), "gap": slats.gap, "span": room.span}
    most = (room.span - (room.fewest + room.extra) * slats.gap) / (room.fewest + room.swells)
    return DesignError(faults_of([Bound("slats.width", slats.width, kind, below=most, closed=True, fields=fields)]))
