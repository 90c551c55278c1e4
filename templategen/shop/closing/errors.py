"""What goes into the study: the ring's size, and how far the shop's cuts scatter."""

from dataclasses import dataclass

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
