"""Kinds of feature: one entry each for what a kind is called, how it is drawn, what it takes and asks for."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import fsum
from typing import Literal

from templategen.geometry.outline import Outline, polygon
from templategen.geometry.point import Vertex

FeatureKind = Literal[
    "groove",
    "tongue",
    "mortise",
    "tenon",
    "lap",
    "spline-slot",
    "hole",
    "round-over",
    "chamfer",
    "bead",
    "relief",
    "counterbore",
    "cross-bore",
    "bolt-hole",
    "pin-slot",
    "drip-groove",
    "peg-hole",
]

LineType = Literal["continuous", "dashed", "long-dash-dot", "long-dash-double-dot", "dotted"]
"""ISO 128."""

QUARTER = 2**0.5 - 1
"""Bulge of a quarter circle."""

BEAD_ROUND = 0.4
"""The radius of a corner bead as a share of its bit's size, as corner bead bits leave it."""

CHAMFERED = (polygon(((0, 0), (1, 0), (0, 1))),)
ROUNDED = (Outline((Vertex(0, 0), Vertex(1, 0, -QUARTER), Vertex(0, 1))),)
BEADED = (
    Outline((Vertex(0, 0), Vertex(0.4, 0, -QUARTER), Vertex(0, 0.4))),
    Outline((Vertex(0.4, 0), Vertex(1, 0), Vertex(1, 0.4), Vertex(0.8, 0.4, -QUARTER))),
    Outline((Vertex(0, 0.4, -QUARTER), Vertex(0.4, 0.8), Vertex(0.4, 1), Vertex(0, 1))),
)
"""What shaped cutters take off an arris at 0, 0, of a size of 1 along both faces. A bead is a round of 0.8
that stands between two quirks of 0.2, as corner bead bits leave it."""

REBATING = (
    "Rebates on ends: the piece clamped in a sled, a block behind it, so that it can neither tip nor be snatched."
)
GROOVING = "Grooves and slots: a jig or featherboards stand in where a guard comes off; never freehand."
BORING = "Boring: clamp the work, back it with a board, withdraw often to clear the bit."
ROUTING = "Router: work clamped, both hands, several light passes, unplugged while the bit is changed."


@dataclass(frozen=True, slots=True)
class Kind:
    """What sets one kind of feature apart.

    Drawn: `words` on sheets, `ink` and `line` of its layer; `centred` that centre lines show it, being set out from
    its middle. Taken: `section` is what a shaped cutter takes that runs along the edge of the wood, as a share of its
    size; only the line that it ends on is drawn, and a fit is proved with the edge left sharp. `bored` that the
    part's own holes have it already, `through` that both faces have it. Counted: `paired` that work on both faces
    counts once, `counted` what is counted; `depth` the symbol and the quantity of its depth. `bears` says that a mate
    bears on it, `mark` what a mark of it on a stick is called, `height` what a cutter's height is set for, `caution`
    the line on sheets.
    """

    words: str
    ink: str
    line: LineType
    counted: str
    depth: tuple[str, str] = ("", "")
    section: tuple[Outline, ...] = ()
    bored: bool = False
    through: bool = False
    centred: bool = False
    paired: bool = False
    bears: bool = False
    mark: str = ""
    height: str = ""
    caution: str = ""

    @property
    def arris(self) -> bool:
        """Whether a shaped cutter makes it, along the edge of the wood."""
        return bool(self.section)

    @property
    def takes(self) -> float:
        """The share of its prism that it removes."""
        return fsum(one.area for one in self.section) if self.section else 1.0

    @property
    def saves(self) -> float:
        """What it takes off the surface along its strip, as a share of its size; below 0 where it adds some."""
        edges = [edge for one in self.section for edge in one.edges]
        new = (edge.length for edge in edges if max(edge.start.x, edge.end.x) > 0 < max(edge.start.y, edge.end.y))
        return 2 - fsum(new) if edges else 0.0

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
        caution=BORING,
    ),
    "round-over": Kind(
        "round-over", "blue", "dotted", "edges eased", section=ROUNDED, paired=True, caution=ROUTING,
    ),
    "mortise": Kind(
        "mortise", "purple", "dashed", "one for each leg", ("d", "legs.mortise_depth"),
        centred=True, bears=True, mark="mortise",
        caution="Mortises: clamp the work and the stops; keep hands behind the cutting edge.",
    ),
    "chamfer": Kind(
        "chamfer", "purple", "dotted", "edges eased", section=CHAMFERED, caution=ROUTING,
    ),
    "bead": Kind("corner bead", "green", "dotted", "edges beaded", section=BEADED, paired=True, caution=ROUTING),
    "relief": Kind(
        "relief", "vermilion", "long-dash-double-dot", "between the feet", ("d", "base.relief"),
        mark="foot", height="relief",
    ),
    "counterbore": Kind(
        "counterbore", "vermilion", "long-dash-dot", "one for each leg", ("d", "legs.counterbore_depth"),
        centred=True, caution=BORING,
    ),
    "cross-bore": Kind(
        "cross bore", "purple", "long-dash-dot", "one for the nut", ("d", "legs.cross_bore_depth"),
        centred=True, mark="cross bore", caution=BORING,
    ),
    "bolt-hole": Kind(
        "bolt hole", "purple", "long-dash-double-dot", "one at the upper end", ("d", "legs.bolt_hole_depth"),
        centred=True, caution=BORING,
    ),
    "pin-slot": Kind(
        "pin slot", "purple", "continuous", "one at the end that slides", ("d", "joints.pin_slot_depth"),
        through=True, caution=BORING,
    ),
    "drip-groove": Kind(
        "drip groove", "green", "dashed", "one under each segment", ("d", "top.drip_groove.depth"),
        height="drip groove", caution=ROUTING,
    ),
    "peg-hole": Kind(
        "peg hole", "orange", "dashed", "one in each cheek of a rail, one through a leg's tenon",
        ("d", "legs.peg_cheek"), through=True, centred=True, mark="peg hole", caution=BORING,
    ),
}  # fmt: skip
