"""Closed formulas: what stays open, from the standard deviations alone.

A ring of N segments has 2 N mitres. Errors of their own add as sqrt(2 N), one wrong setting adds as 2 N. Pieces
slide along their joints while the ring is drawn up, so only the angle that is missing stays open, as wedges.
"""

from dataclasses import dataclass
from math import erf, hypot, prod, sqrt

from templategen.fit.plan import Closing
from templategen.table.sizes import Sizes

FEELER = 0.05
"""One standard deviation of a gap measured with feeler gauges, mm: the step of the leaves."""


@dataclass(frozen=True, slots=True)
class RingErrors:
    """A ring of `segments`, its inner corners `corner` from the axis and its joints `face` long before sawing, mm.

    `angle` and `length` are one standard deviation of a mitre (radians) and of an inner edge (mm) as cut, `setting`
    that of how the saw is set, the same on all cuts of a ring. `limit` is what glue bridges, mm.
    """

    segments: int
    corner: float
    face: float
    angle: float
    length: float
    setting: float
    limit: float

    @property
    def trimming(self) -> float:
        """One standard deviation of the direction of a straight trim, radians: the straight edge lies across the
        whole ring, so it is set as well as a length over twice its outer corner."""
        return self.length / (2 * (self.corner + self.face))


def ring_errors(sizes: Sizes) -> RingErrors:
    """The ring of a table in the shop of its profile.

    No scale is set better than its cuts scatter, so the setting is taken to be off by as much as one cut.
    """
    profile = sizes.profile
    shop = profile.shop
    return RingErrors(
        sizes.segments, sizes.inner_corner, sizes.joint_face, shop.mitre_error, shop.length_error,
        shop.mitre_error, profile.limits.joint_gap,
    )  # fmt: skip


SURE = 0.95
"""The share of rings that p95 figures refer to, and that a way of working should close."""


def closing_angle(ring: RingErrors, way: Closing, setting: bool) -> float:
    """Standard deviation of the angle missing where the ring is closed, radians; of one joint for two halves.

    A scrap ring takes its own scatter for a wrong setting, so the scatter counts twice: it pays where the setting is
    off by more than the scatter over sqrt(2 N).
    """
    cuts = 2 * ring.segments
    scatter = ring.angle * sqrt(cuts)
    if way == "measure":
        return ring.angle * sqrt(2)
    if way == "halves":
        return ring.trimming * sqrt(2)
    if way == "scrap":
        return sqrt(2 * scatter**2 + (FEELER / ring.face) ** 2)
    return hypot(scatter, cuts * ring.setting) if setting else scatter


def sharing(ring: RingErrors, way: Closing) -> int:
    """How many joints share that angle."""
    return {"stop": ring.segments, "scrap": ring.segments, "measure": 2, "halves": 1}[way]


def opening(ring: RingErrors, way: Closing, setting: bool) -> float:
    """Standard deviation of the opening at the wide edge of each joint that takes it up, mm."""
    return ring.face * closing_angle(ring, way, setting) / sharing(ring, way)


def last_joint(ring: RingErrors, way: Closing, setting: bool) -> float:
    """The same where all other joints are glued already and the last one takes it all, mm."""
    return ring.face * closing_angle(ring, way, setting)


def chance(ring: RingErrors, way: Closing, setting: bool, limit: float | None = None) -> float:
    """The chance that every joint stays under the limit: erf(limit / (s sqrt 2)), for two halves squared."""
    deviation = opening(ring, way, setting)
    limit = ring.limit if limit is None else limit
    if deviation == 0:
        return 1.0
    apart = 2 if way == "halves" else 1
    return prod([erf(limit / (deviation * sqrt(2)))] * apart)


def worst(ring: RingErrors, way: Closing, setting: bool, share: float = SURE) -> float:
    """The opening that every joint stays under in that share of rings, mm; found by halving."""
    low, high = 0.0, 40 * opening(ring, way, setting)
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if chance(ring, way, setting, middle) < share else (low, middle)
    return high


def strung_gap(ring: RingErrors, along: float) -> tuple[float, float]:
    """Standard deviations from angles and from lengths of the last gap of a ring strung corner to corner, mm.

    `along` is measured outwards on the last joint from its inner corner. An error at joint j turns all after it about
    its corner: the gap's share is (q + r (1 - cos psi_j)). Over the ring these add to 2 N s^2 ((r + q)^2 + r^2 / 2);
    lengths add to N l^2 / 2.
    """
    n, r = ring.segments, ring.corner
    from_angles = ring.angle * sqrt(2 * n * ((r + along) ** 2 + r**2 / 2))
    return from_angles, ring.length * sqrt(n / 2)
