"""What the ground cross and its feet must keep to."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.table.limits.bound import Bound, mm
from templategen.table.pedestal import base_lap
from templategen.table.rails import leg_joint
from templategen.table.sizes import Sizes

LEAST_IN_LAP = 5.0
"""What a relief must leave of the lowest rail in the lap, mm."""


def base_bounds(sizes: Sizes) -> Iterator[Bound]:
    """Every bound of `[base]` but those of the legs on it."""
    yield from _length(sizes)
    yield from _feet(sizes)
    yield from _eased(sizes)
    if sizes.profile.base.feet == "relieved":
        yield from _relief(sizes)


def _length(sizes: Sizes) -> Iterator[Bound]:
    base, reach = sizes.profile.base, base_lap(sizes).reach
    found = f"{mm(base.length)} is all lap; the rails of {mm(base.rail_width)} need more to cross"
    yield Bound("base.length", base.length, found, above=2 * reach, spare=200)
    yield Bound("base.length", base.length, above=2 * (reach + base.foot_length))


def _feet(sizes: Sizes) -> Iterator[Bound]:
    base = sizes.profile.base
    foot, end, half = base.foot_length, base.end_round, base.rail_width / 2
    free = base.length / 2 - base_lap(sizes).reach
    found = f"feet of {mm(foot)} reach into the lap"
    if free > 0:
        yield Bound("base.foot_length", foot, found, below=free, spare=5, other="longer or narrower base rails")
        yield Bound("base.foot_length", foot, above=end, closed=True)
    found = f"{mm(end)} is more than half the rail's width"
    yield Bound("base.end_round", end, found, below=half, closed=True)
    yield Bound("base.end_round", end, "the rounding is longer than the foot", below=foot, closed=True)


def _eased(sizes: Sizes) -> Iterator[Bound]:
    base, size = sizes.profile.base, sizes.profile.edges.base
    least = min(base.rail_width, base.thickness, *([base.foot_thickness] if base.feet == "pads" else []))
    found = f"{mm(size)} from both sides leaves nothing of {mm(least)}"
    yield Bound("edges.base", size, found, below=least / 2, spare=least / 4)


def _relief(sizes: Sizes) -> Iterator[Bound]:
    base, tenon = sizes.profile.base, leg_joint(sizes)
    where, relief = "base.foot_thickness", base.foot_thickness
    most = base.thickness - LEAST_IN_LAP * sizes.rails
    left = base_lap(sizes).levels[0] - relief
    found = f"a relief of {mm(relief)} leaves {mm(left)} of the lowest rail in the lap"
    spare = 3.0 * sizes.rails
    yield Bound(where, relief, found, below=most, spare=spare, closed=True, other="a thicker base")
    yield Bound(where, relief, below=base.thickness - tenon.depth)
