"""The same by simulation: very many rings cut with random errors, laid piece by piece and measured."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from templategen.fit.plan import Closing
from templategen.shop.closing.formula import FEELER, RingErrors
from templategen.shop.closing.ways import WAYS

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

    Numbers = NDArray[float64]

RINGS = 100_000
SEED = 20_261_125
BINS = 40


@dataclass(frozen=True, slots=True)
class Trial:
    """Rings worked in one way: the widest opening of each ring, summed up; mm.

    `deviation` is the standard one of the signed opening, `share` that of rings with every joint under the limit,
    `p95` the opening that 95 in 100 rings stay under, `bins` counts by equal steps of `step` from 0, the last one
    holding all that is wider.
    """

    way: Closing
    setting: bool
    rings: int
    deviation: float
    share: float
    p95: float
    step: float
    bins: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Strung:
    """Rings strung corner to corner, mm: standard deviations of the last gap at its `inner` and `outer` end; what 95
    in 100 stay under, of the `step` left where pieces slid to close and of what two halves have `trim`med off."""

    inner: float
    outer: float
    step: float
    trim: float


@dataclass(frozen=True)
class Draws:
    """Errors of rings x cuts: `first` at the end where a segment is begun going round, `second` at its other end."""

    first: Numbers
    second: Numbers
    lengths: Numbers
    settings: Numbers
    scrap: Numbers
    last: Numbers
    trims: Numbers


def draw(ring: RingErrors, rings: int = RINGS, seed: int = SEED) -> Draws:
    """Errors for so many rings; the same seed draws the same."""
    from numpy.random import PCG64, Generator

    random = Generator(PCG64(seed))
    n = ring.segments

    def normal(deviation: float, *shape: int) -> Any:
        return deviation * random.standard_normal(shape)

    first, second = normal(ring.angle, rings, n), normal(ring.angle, rings, n)
    lengths, settings = normal(ring.length, rings, n), normal(ring.setting, rings)
    scrap = normal(ring.angle * (2 * n) ** 0.5, rings) + normal(FEELER / ring.face, rings)
    return Draws(
        first, second, lengths, settings, scrap, normal(ring.angle, rings, 2), normal(ring.trimming, rings, 4)
    )


def strings(ring: RingErrors, draws: Draws) -> tuple[Numbers, Numbers, Numbers]:
    """Rings strung corner to corner: the angle missing at the last joint, and the gap's inner end seen from the first
    piece: square to its face and outwards along it. Exact, not linearised.

    Each piece turns on from the one before by the two mitres that meet; positive angles and gaps are open.
    """
    from numpy import cos, cumsum, pi, sin

    n = ring.segments
    mitre = pi / n
    edge = 2 * ring.corner * sin(mitre)
    first, second = mitre + draws.first, mitre + draws.second
    heading = cumsum(second[:, :-1] + first[:, 1:], axis=1)
    lengths = edge + draws.lengths
    along = lengths[:, 0] + (lengths[:, 1:] * cos(heading)).sum(axis=1)
    across = (lengths[:, 1:] * sin(heading)).sum(axis=1)
    missing = 2 * pi - first.sum(axis=1) - second.sum(axis=1)
    # The first piece lies along x from the origin; its face leans back from square by its own mitre.
    back = first[:, 0]
    gap = -(along * cos(back) - across * sin(back))
    return missing, gap, -(along * sin(back) + across * cos(back))


def strung(ring: RingErrors, draws: Draws) -> Strung:
    """What strung rings, and halves of them, measure."""
    from numpy import abs as size
    from numpy import maximum, quantile, sin, tan

    missing, gap, _ = strings(ring, draws)
    slides = _slides(ring, draws, missing)
    ends = _half_ends(ring, draws, ring.segments // 2)
    trims = ring.face * maximum(size(tan(ends[0])), size(tan(ends[1])))
    return Strung(
        float(gap.std()),
        float((gap + ring.face * sin(missing)).std()),
        float(quantile(size(slides).max(axis=1), 0.95)),
        float(quantile(trims, 0.95)),
    )


def _slides(ring: RingErrors, draws: Draws, missing: Numbers) -> Numbers:
    """How far the pieces slide along each joint once the missing angle is shared, rings x joints, mm: by least
    squares 2/N of what is left, seen along the joint."""
    from numpy import arange, cos, outer, pi, sin

    n = ring.segments
    share = (missing / (2 * n))[:, None]
    _, gap, off = strings(ring, replace(draws, first=draws.first + share, second=draws.second + share))
    turns = 2 * pi * arange(n) / n
    slides: Numbers = (outer(gap, sin(turns)) - outer(off, cos(turns))) * 2 / n
    return slides


def _half_ends(ring: RingErrors, draws: Draws, half: int) -> tuple[Numbers, Numbers]:
    """By how much the two end faces of a half ring lean out of the line through their inner corners."""
    from numpy import arctan2, cos, cumsum, pi, sin

    mitre = pi / ring.segments
    first, second = mitre + draws.first[:, :half], mitre + draws.second[:, :half]
    heading = cumsum(second[:, :-1] + first[:, 1:], axis=1)
    lengths = 2 * ring.corner * sin(mitre) + draws.lengths[:, :half]
    along = lengths[:, 0] + (lengths[:, 1:] * cos(heading)).sum(axis=1)
    across = (lengths[:, 1:] * sin(heading)).sum(axis=1)
    chord = arctan2(across, along)
    return chord - (pi / 2 - first[:, 0]), (heading[:, -1] - chord) - (pi / 2 - second[:, -1])


def openings(ring: RingErrors, draws: Draws, way: Closing, setting: bool) -> Numbers:
    """The signed openings of each ring's joints that take up the missing angle, rings x joints apart, mm."""
    from numpy import sin, tan

    n = ring.segments
    if way == "halves":
        apart: Numbers = ring.face * tan(draws.trims[:, ::2] + draws.trims[:, 1::2])
        return apart
    if way == "measure":
        last: Numbers = (2 * ring.face * sin(draws.last.sum(axis=1) / 4))[:, None]
        return last
    missing = strings(ring, draws)[0]
    if way == "scrap":
        # What the scrap ring shows is taken off all cuts, its own scatter with it.
        missing = missing + draws.scrap
    elif setting:
        missing = missing - 2 * n * draws.settings
    shared: Numbers = (2 * ring.face * sin(missing / (2 * n)))[:, None]
    return shared


def trial(ring: RingErrors, draws: Draws, way: Closing, setting: bool, reach: float) -> Trial:
    """One way of working, counted in steps up to `reach` mm."""
    from numpy import abs as size
    from numpy import bincount, minimum, quantile

    opened = openings(ring, draws, way, setting)
    widest = size(opened).max(axis=1)
    step = reach / BINS
    counts = bincount(minimum(widest / step, BINS).astype(int), minlength=BINS + 1)
    return Trial(
        way,
        setting,
        len(widest),
        float(opened.std()),
        float((widest <= ring.limit).mean()),
        float(quantile(widest, 0.95)),
        step,
        tuple(int(count) for count in counts),
    )


def trials(ring: RingErrors, draws: Draws, reach: float) -> tuple[Trial, ...]:
    """Every way of working, with cuts that scatter and with a setting that is off as well."""
    return tuple(trial(ring, draws, way.name, setting, reach) for way in WAYS for setting in (False, True))
