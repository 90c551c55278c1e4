"""Kinds of feature: one entry each for what a kind is called, how it is drawn, what it takes and asks for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi, sqrt
from typing import Literal

FeatureKind = Literal[
    "groove", "tongue", "mortise", "tenon", "lap", "spline-slot", "hole", "round-over", "chamfer", "relief"
]

LineType = Literal["continuous", "dashed", "long-dash-dot", "long-dash-double-dot", "dotted"]
"""ISO 128."""

ROUND_OFF = 1 - pi / 4
"""Share of a square that lies outside the quarter circle in it."""

REBATING = "Rebates on ends: a sled or a backing block behind the piece, so that it can neither tip nor be snatched."
GROOVING = "Grooves and slots: a jig or featherboards stand in where a guard comes off; never freehand."
ROUTING = "Router: work clamped, both hands, several light passes, unplugged while the bit is changed."


@dataclass(frozen=True, slots=True)
class Kind:
    """What sets one kind of feature apart.

    Drawn: `words` on sheets, `ink` and `line` of its layer; `centred` that centre lines show it, being set out from
    its middle. Taken: `takes` is the share of its prism that it removes; `arris` that a shaped cutter runs along the
    edge of the wood, so that only the line it ends on is drawn and solids leave the edge sharp; `saves` what that
    takes off the surface, as a share of its size; `bored` that the part's own holes have it already. Counted:
    `paired` that work on both faces counts once, `counted` what is counted; `depth` the symbol and the quantity of
    its depth. `bears` says that a mate bears on it, `mark` what a mark of it on a stick is called, `height` what a
    cutter's height is set for, `caution` the line on sheets.
    """

    words: str
    ink: str
    line: LineType
    counted: str
    depth: tuple[str, str] = ("", "")
    takes: float = 1.0
    saves: float = 0.0
    arris: bool = False
    bored: bool = False
    centred: bool = False
    paired: bool = False
    bears: bool = False
    mark: str = ""
    height: str = ""
    caution: str = ""

    @property
    def is_pocket(self) -> bool:
        """Whether it takes the whole prism of its outline, to a floor."""
        return not self.arris and not self.bored


KINDS: Mapping[FeatureKind, Kind] = {
    "groove": Kind(
        "groove", "blue", "continuous", "stretches where tongues or tenons enter, near ones joined",
        ("dg", "joints.groove_depth"), bears=True, mark="groove", height="groove", caution=GROOVING,
    ),
    "tongue": Kind(
        "rebate that leaves a tongue", "green", "continuous",
        "ends that stand in a groove, a corner between arm and rim as one",
        ("d", "joints.tongue_shoulder"), paired=True, bears=True, height="tongue", caution=REBATING,
    ),
    "tenon": Kind(
        "rebate that leaves a tenon", "green", "long-dash-dot", "both ends",
        paired=True, bears=True, mark="shoulder", height="tenon cheeks", caution=REBATING,
    ),
    "lap": Kind(
        "lap", "orange", "long-dash-double-dot", "cuts to this depth at the crossing",
        bears=True, height="lap",
        caution="Laps: the rail clamped to its sled, light passes, a tunnel or featherboards where the guard is off.",
    ),
    "spline-slot": Kind(
        "spline slot", "blue", "dashed", "both mitres", ("ds", "joints.spline_depth"),
        bears=True, height="spline slot", caution=GROOVING,
    ),
    "hole": Kind(
        "blind hole", "vermilion", "dashed", "through the crossing", bored=True, centred=True, mark="pole hole",
        caution="Boring: clamp the work, back it with a board, withdraw often to clear the bit.",
    ),
    "round-over": Kind(
        "round-over", "blue", "dotted", "edges eased", ("r", "top.edge_round"), ROUND_OFF, 2 - pi / 2,
        arris=True, paired=True, caution=ROUTING,
    ),
    "mortise": Kind(
        "mortise", "purple", "dashed", "one for each leg", ("d", "legs.mortise_depth"),
        centred=True, bears=True, mark="mortise",
        caution="Mortises: clamp the work and the stops; keep hands behind the cutting edge.",
    ),
    "chamfer": Kind(
        "chamfer", "purple", "dotted", "edges eased", ("c", "slats.chamfer"), 0.5, 2 - sqrt(2),
        arris=True, caution=ROUTING,
    ),
    "relief": Kind(
        "relief", "vermilion", "long-dash-double-dot", "between the feet", ("d", "base.relief"),
        mark="foot", height="relief",
    ),
}  # fmt: skip
