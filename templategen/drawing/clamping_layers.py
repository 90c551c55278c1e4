"""The layers of a clamping's file: how the part lies, and one for each operation and depth."""

from templategen.catalogue import translated, worded
from templategen.drawing.layer import Layer
from templategen.drawing.layers import (
    CUT_WEIGHT,
    THIN_WEIGHT,
    WORK_WEIGHT,
    depth_code,
    depth_words,
    layer_name,
    work_layer,
)
from templategen.router.operation import Operation
from templategen.table.profile.choices import Units

WORKPIECE = Layer("WORKPIECE", "edges of the wood as it is laid on", weight=THIN_WEIGHT)
DATUM = Layer("DATUM", "X0 Y0; Z0 is the upper face", "green", "continuous", 0.35)
TURN_LINE = Layer("TURN_LINE", "the part is turned over about this line", "green", "long-dash-dot", 0.35)
RECESS = Layer("RECESS", "recess in a board on the bed, in which the part lies", "green", "dashed", 0.35)
PINS = Layer("PINS", "pins in the bed, on which the part is laid", "green", "dashed", 0.35)
BORED = Layer("BORED_HOLE", "holes too small for any bit, bored by hand", "vermilion", weight=0.35)

THROUGH = {
    "outside": "bit outside the line, the part lies inside",
    "inside": "bit inside the line, the waste lies inside",
    "pin-hole": "hole for a pin",
    "corner-relief": "corner relief, as wide as the bit",
}
"""What is done along a line that isn't a pocket."""


def eased_layer(floor: float, units: Units) -> Layer:
    """The layer of the edges that a shaped bit eases afterwards, those of the face or of a floor under it."""
    name, words = "EASED_EDGE", translated("edges that a shaped bit eases afterwards")
    if floor > 0:
        name = f"{name}_{depth_code(floor, units)}"
        words += worded(", {size} under the face", size=depth_words(floor, units))
    return Layer(name, words, "blue", "dotted", 0.35)


def operation_layer(face: str, one: Operation, units: Units) -> Layer:
    """The layer of an operation: of a pocket that of its feature."""
    if one.kind is not None:
        return work_layer(face, one.kind, one.depth, units)
    name = layer_name(face, one.task, depth_code(one.depth, units))
    words = worded("{what}, {size} deep", what=translated(THROUGH[one.task]), size=depth_words(one.depth, units))
    return Layer(name, words, "black" if one.task == "outside" else "vermilion", weight=CUT_WEIGHT, cuts=True)


def hand_layer(face: str, depth: float, units: Units) -> Layer:
    """The layer of what a round bit leaves, to be squared by hand."""
    name = layer_name(face, "by-hand", depth_code(depth, units))
    words = worded("left by the bit, square it by hand, {size} deep", size=depth_words(depth, units))
    return Layer(name, words, "purple", "continuous", WORK_WEIGHT)
