"""The layers in use: one for each operation and depth, and those that no machine follows.

Colour never stands alone: each kind of line has its own pair of line type and colour, and every feature
on a sheet carries a letter that the notes explain.
"""

from templategen.catalogue import figured, meant, translated, worded
from templategen.drawing.layer import Layer
from templategen.parts.feature import Feature
from templategen.parts.kinds import KINDS, FeatureKind
from templategen.table.profile.choices import Units
from templategen.units import MM_PER_INCH, length_words, trimmed

CUT_WEIGHT = 0.5
WORK_WEIGHT = 0.35
THIN_WEIGHT = 0.25

THROUGH_OUTSIDE = Layer(
    "THROUGH_OUTSIDE", "cut right through, the part lies inside the line", weight=CUT_WEIGHT, cuts=True
)
THROUGH_INSIDE = Layer(
    "THROUGH_INSIDE",
    "cut right through, the waste lies inside the line",
    "vermilion",
    weight=CUT_WEIGHT,
    cuts=True,
)
BLANK_OUTLINE = Layer(
    "BLANK_OUTLINE",
    "the blank, cut before the finished outline",
    "black",
    "long-dash-double-dot",
    CUT_WEIGHT,
    cuts=True,
)
FACE_OUTLINE = Layer("FACE_OUTLINE", "edges of the wood in this view, not cut in this set-up", weight=THIN_WEIGHT)
HIDDEN = Layer("HIDDEN", "work on another face, seen through the wood", "black", "dashed", 0.18)
CENTRE = Layer("CENTRE", "centre line", "black", "long-dash-dot", 0.18)
GRAIN = Layer("GRAIN", "the grain runs along the arrow", "black", "continuous", 0.35)
DIMENSION = Layer("DIMENSION", "sizes", "black", "continuous", 0.18)
TEXT = Layer("TEXT", "words", "black", "continuous", THIN_WEIGHT)
VIEW_TITLE = Layer("VIEW_TITLE", "names of the views", "black", "continuous", THIN_WEIGHT)
FRAME = Layer("FRAME", "edge of the sheet", "black", "continuous", 0.7)
SIZE_CHECK = Layer("SIZE_CHECK", "square of 100 mm to check the scale by", "black", "continuous", THIN_WEIGHT)
STOCK_OUTLINE = Layer("STOCK_OUTLINE", "edges of the board or sheet", "black", "continuous", THIN_WEIGHT)
TRIM_MARGIN = Layer("TRIM_MARGIN", "trimmed off, nothing may lie outside this line", "black", "dashed", 0.18)
SAW_CUT = Layer("SAW_CUT", "middle of a saw cut, right through the piece it divides", "blue", "dashed", 0.25)
CUT_NUMBER = Layer("CUT_NUMBER", "numbers of the saw cuts, in the order of cutting", "blue", "continuous", 0.18)
OFFCUT = Layer("OFFCUT", "offcuts worth keeping for another job", "green", "dotted", 0.25)
FAULT = Layer("FAULT", "knots and faults to keep clear of", "vermilion", "dashed", 0.25)


def feature_layer(feature: Feature, units: Units = "mm") -> Layer:
    """The layer of a feature: face, kind, depth and unit in its name, as EDGE1_GROOVE_14MM or TOP_LAP_0_4987IN."""
    return work_layer(feature.face, feature.kind, feature.depth, units)


def work_layer(face: str, name: FeatureKind, depth: float, units: Units) -> Layer:
    """The same for work of a kind on a face, whatever part it belongs to."""
    kind = KINDS[name]
    return Layer(
        layer_name(face, name, depth_code(depth, units)),
        worded(
            "{work} on {face}, {size} deep",
            work=translated(kind.words),
            face=face_words(face),
            size=figured(length_words(depth, units, (3, 4))),
        ),
        kind.ink,
        kind.line,
        CUT_WEIGHT if kind.line == "dotted" else WORK_WEIGHT,
        cuts=not kind.arris,
    )


def face_words(face: str) -> str:
    """A face as sheets name it, by itself or in a sentence: `top`, `edge 2`."""
    kind, _, number = face.partition("-")
    return f"{meant(kind, FACES[kind])} {number}".strip()


FACES = {"top": "top of a piece", "bottom": "underside of a piece", "edge": "edge", "end": "end"}
"""What a translator is asked for a face."""


def layer_name(face: str, what: str, depth: str) -> str:
    """A name that stands for one thing: the face, what is done there, how deep."""
    return f"{face.replace('-', '')}_{what.replace('-', '_')}_{depth}".upper()


def depth_code(depth: float, units: Units) -> str:
    """A depth as layer names carry it, to a micrometre or 0.0001 in, decimals behind an underscore: 28_575MM."""
    return trimmed(*_fine(depth, units)).replace(".", "_") + units.upper()


def depth_words(depth: float, units: Units) -> str:
    """The same in words: 28.575 mm."""
    return f"{figured(trimmed(*_fine(depth, units)))} {units}"


def _fine(depth: float, units: Units) -> tuple[float, int]:
    return (depth / MM_PER_INCH, 4) if units == "in" else (depth, 3)
