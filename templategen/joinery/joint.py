"""The joint: where two placed parts meet."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from templategen.parts.kinds import FeatureKind
from templategen.parts.part import PartKind

JointKind = Literal[
    "half-lap", "three-way-lap", "tongue-and-groove", "rail-tenon", "leg-tenon", "bolted-tenon",
    "draw-bored-tenon", "mitre", "spline", "foot",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class JointTraits:
    """What sets one kind of joint apart: its name as it is glued, or `dry` where it stays so; the feature by which
    each kind of part takes part in it, and how many clamps each takes: over the lap's middle, at both ends of a pad,
    along a tenon. `pressed` joints have faces that a clamp presses together; tenons and splines fit their mates and
    are only drawn home. `sized` ones lean into end grain: it drinks, so they are first sized with a thin coat."""

    glued: str = ""
    cuts: Mapping[PartKind, FeatureKind] = field(default_factory=dict)
    clamps: int = 0
    pressed: bool = False
    sized: bool = False
    dry: str = ""

    @property
    def name(self) -> str:
        """What it is called where its letter is told."""
        return self.glued or self.dry


JOINTS: Mapping[JointKind, JointTraits] = {
    "half-lap": JointTraits("lap", {"rail": "lap", "base-rail": "lap"}, clamps=1, pressed=True),
    "three-way-lap": JointTraits("lap", {"rail": "lap", "base-rail": "lap"}, clamps=1, pressed=True),
    "tongue-and-groove": JointTraits("", {"slat": "tongue", "rail": "groove", "rim-segment": "groove"}, dry="tongue"),
    "rail-tenon": JointTraits("rail tenon", {"rail": "tenon", "rim-segment": "groove"}, clamps=1),
    "leg-tenon": JointTraits("leg tenon", {"leg": "tenon", "rail": "mortise", "base-rail": "mortise"}, clamps=1),
    "bolted-tenon": JointTraits("", {"leg": "tenon", "rail": "mortise"}, dry="bolted tenon"),
    "draw-bored-tenon": JointTraits("", {"leg": "tenon", "rail": "mortise"}, dry="draw-bored tenon"),
    "mitre": JointTraits("mitre", pressed=True, sized=True),
    "spline": JointTraits("spline slot", {"rim-segment": "spline-slot"}),
    "foot": JointTraits("pad", clamps=2, pressed=True),
}

LEG_TENONS: tuple[JointKind, ...] = ("leg-tenon", "bolted-tenon", "draw-bored-tenon")
"""Where a leg enters a rail."""


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

    @property
    def traits(self) -> JointTraits:
        """What its kind is called, cut by, and held by."""
        return JOINTS[self.kind]
