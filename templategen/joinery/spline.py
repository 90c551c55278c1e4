"""The spline of a mitre, and its two slots."""

from dataclasses import dataclass

from templategen.geometry.outline import rectangle
from templategen.parts.feature import Feature


@dataclass(frozen=True, slots=True)
class SplineJoint:
    """A loose tongue across a mitre, grain across the joint, centred at height `level`.

    q runs along the joint face from its inner corner. The slot reaches from `start` to `end`, `depth` into each
    segment; the spline is `clearance` thinner, `end_clearance` shorter at each slot bottom and at each end that
    is stopped. Millimetres.
    """

    thickness: float
    depth: float
    level: float
    start: float
    end: float
    start_stopped: bool
    end_stopped: bool
    clearance: float
    end_clearance: float

    @property
    def spline_thickness(self) -> float:
        """Thickness of the loose spline."""
        return self.thickness - self.clearance

    @property
    def half_width(self) -> float:
        """How far the spline reaches into each segment."""
        return self.depth - self.end_clearance

    @property
    def spline_start(self) -> float:
        """Where the spline starts along the joint."""
        return self.start + (self.end_clearance if self.start_stopped else 0.0)

    @property
    def spline_end(self) -> float:
        """Where the spline ends along the joint, before the ring is sawn."""
        return self.end - (self.end_clearance if self.end_stopped else 0.0)

    def slot(self, face: str, length: float, outwards: bool, mates: tuple[str, ...]) -> Feature:
        """The slot in a mitre face `length` long; `outwards` when the face's u runs from the inner corner out."""
        first, last = (self.start, self.end) if outwards else (length - self.end, length - self.start)
        half = self.thickness / 2
        outline = rectangle(first, self.level - half, last, self.level + half)
        return Feature("spline-slot", face, outline, self.depth, "slot", mates, self.clearance, self.end_clearance)
