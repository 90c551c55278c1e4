"""Layers: one for each operation and depth, with an ISO 128 line type and a palette colour."""

from dataclasses import dataclass

from templategen.parts.kinds import LineType

PALETTE = {
    "black": "#000000",
    "orange": "#E69F00",
    "sky": "#56B4E9",
    "green": "#009E73",
    "yellow": "#F0E442",
    "blue": "#0072B2",
    "vermilion": "#D55E00",
    "purple": "#CC79A7",
}
"""Okabe and Ito's set, told apart by most colour-blind readers (Color Universal Design)."""

INKS = {
    "black": "#000000",
    "orange": "#916100",
    "sky": "#2a70a3",
    "green": "#007a5a",
    "yellow": "#766d00",
    "blue": "#006fae",
    "vermilion": "#b44a00",
    "purple": "#a34f7b",
}
"""The same colours, dark enough for fine lines and words on white paper and light wood, in grey too: a contrast of
4.5:1 and more."""

DASHES: dict[LineType, tuple[float, ...]] = {
    "continuous": (),
    "dashed": (12, 3),
    "long-dash-dot": (24, 3, 0.5, 3),
    "long-dash-double-dot": (24, 3, 0.5, 3, 0.5, 3),
    "dotted": (0.5, 3),
}
"""ISO 128-2 line types in line widths: dash 12 d, long dash 24 d, dot 0.5 d, gap 3 d."""


@dataclass(frozen=True, slots=True)
class Layer:
    """A kind of line.

    `name` is upper-case ASCII, at most 31 characters (DXF R12's limit). `title` says in words what the
    line asks of the maker. `weight` is the line width in mm (ISO 128 series). `cuts` marks lines that a
    machine follows; text, centre lines and frames don't. `filled` marks tones of pictures: their outlines are laid
    in with colour, not drawn round.
    """

    name: str
    title: str
    colour: str = "black"
    line_type: LineType = "continuous"
    weight: float = 0.25
    cuts: bool = False
    filled: bool = False
