"""The joint: where two placed parts meet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

JointKind = Literal[
    "half-lap", "three-way-lap", "tongue-and-groove", "rail-tenon", "leg-tenon", "mitre", "spline", "foot"
]


@dataclass(frozen=True, slots=True)
class Joint:
    """Two placed parts that meet.

    `placed` are their indexes among the table's placed parts, `parts` their codes. `contact_mm2` is the
    area of wood that faces wood across the joint's own faces (cheeks, mitre faces, lap floors); `clearance`
    is the total play across it, mm.
    """

    kind: JointKind
    parts: tuple[str, str]
    placed: tuple[int, int]
    contact_mm2: float
    clearance: float
