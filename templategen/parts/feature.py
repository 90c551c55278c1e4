"""Features: what is cut out of a blank."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from templategen.geometry.outline import Outline

FeatureKind = Literal[
    "groove", "tongue", "mortise", "tenon", "lap", "spline-slot", "hole", "round-over", "chamfer", "relief"
]


@dataclass(frozen=True, slots=True)
class Feature:
    """Wood taken away: the prism of `outline`, in the frame of the face named, `depth` into the wood.

    Every feature removes. A tongue or tenon is what the two rebates of that name leave standing, so it
    shows as a feature of the top and another of the bottom face. A `round-over` takes only what lies
    outside the quarter circle of radius `depth` along the rim, a `chamfer` only half of its prism.

    `mates` names the parts that meet the wood here; `clearance` is the total play across the joint in mm
    and `end_clearance` the play at its bottom.
    `operation` is the trade's word for making it.
    """

    kind: FeatureKind
    face: str
    outline: Outline
    depth: float
    operation: str
    mates: tuple[str, ...] = field(default=(), compare=False)
    clearance: float = 0.0
    end_clearance: float = 0.0
