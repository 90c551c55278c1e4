"""What there is to cut from, and what is to be cut, as the nesting room sees it: outlines, not tables."""

from dataclasses import dataclass, field
from math import atan2, degrees, fsum
from typing import Literal

from templategen.geometry.bounds import Bounds
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point

Mode = Literal["sawn", "routed"]
"""How parts are freed from a piece."""

CutKind = Literal["rip", "crosscut", "mitre"]

Rectangle = tuple[float, float, float, float]
"""x and y of the lower left corner, width and height, mm."""

Margin = float | tuple[float, float, float, float]
"""What is trimmed off: the same from every edge, or left, right, bottom, top; mm."""


def margins_of(margin: Margin) -> tuple[float, float, float, float]:
    """Left, right, bottom and top of a margin."""
    return margin if isinstance(margin, tuple) else (margin, margin, margin, margin)


@dataclass(frozen=True, slots=True)
class Piece:
    """One kind of stock: length along x (the grain), width along y, from its lower left corner.

    `count` None means as many as needed. `defects` are (x, y, diameter) of knots, `defect_areas` (x, y, length,
    width) of rectangles from their lower left corner. `margin` is trimmed from the edges before anything may lie
    there; `bad_ends` is how much of the left and of the right end is no use, where that is more. `grain` False lets
    parts turn freely (sheets without grain). `mode` says how parts are freed: "sawn" by cuts that go right through,
    "routed" one by one. `spacing` is how far apart its parts are kept; 0 stands for the job's spacing.
    """

    name: str
    length: float
    width: float
    count: int | None = None
    price: float = 0.0
    defects: tuple[tuple[float, float, float], ...] = ()
    margin: Margin = 0.0
    grain: bool = True
    defect_areas: tuple[tuple[float, float, float, float], ...] = ()
    bad_ends: tuple[float, float] = (0.0, 0.0)
    mode: Mode = "routed"
    spacing: float = 0.0

    @property
    def margins(self) -> tuple[float, float, float, float]:
        """What is trimmed from the left, right, bottom and top edge."""
        return margins_of(self.margin)

    @property
    def room(self) -> Bounds:
        """What is left between margins and bad ends."""
        left, right, bottom, top = self.margins
        return Bounds(
            max(left, self.bad_ends[0]), bottom, self.length - max(right, self.bad_ends[1]), self.width - top
        )

    def apart(self, spacing: float) -> float:
        """How far apart parts on it are kept in a job of that spacing."""
        return self.spacing or spacing

    @property
    def defect_boxes(self) -> tuple[Bounds, ...]:
        """The boxes of all defects, knots first."""
        knots = (Bounds(x - d / 2, y - d / 2, x + d / 2, y + d / 2) for x, y, d in self.defects)
        areas = (Bounds(x, y, x + length, y + width) for x, y, length, width in self.defect_areas)
        return (*knots, *areas)


@dataclass(frozen=True, slots=True)
class Item:
    """A part to be cut `count` times; its grain lies along x of `outline` once turned by `grain_turn` radians.
    Of a strip, or out of its thickness, several `pieces` are cut later, in so many `layers`.

    `may_turn_over` only for parts alike on both faces. What lies in a part's holes is waste: no part goes there.
    """

    code: str
    outline: Outline
    count: int
    grain_turn: float = 0.0
    may_turn_over: bool = False
    pieces: int = 1
    layers: int = 1


@dataclass(frozen=True, slots=True)
class Laid:
    """One copy of an item where it lies on a piece of stock."""

    code: str
    placement: Placement


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut: the middle of its kerf from `start` to `end`, in the board's frame, mm.

    `through` is a spot on the piece of wood that it divides, in the middle of a part that the piece holds.
    """

    number: int
    kind: CutKind
    start: Point
    end: Point
    through: Point

    @property
    def angle(self) -> float:
        """Degrees to the board's length, above -90 and up to 90."""
        angle = degrees(atan2(self.end.y - self.start.y, self.end.x - self.start.x))
        return angle - 180 if angle > 90 + 1e-9 else angle + 180 if angle <= -90 + 1e-9 else angle


@dataclass(frozen=True, slots=True)
class Sheet:
    """One physical piece of stock with the parts laid on it; `number` counts pieces of that name from 1.

    `cuts` free the parts of a sawn piece, in the order of cutting; empty until the layout is proved.
    """

    piece: Piece
    number: int
    laid: tuple[Laid, ...]
    cuts: tuple[Cut, ...] = ()


@dataclass(frozen=True, slots=True)
class Layout:
    """All sheets needed, and the items that found no place (code -> count).

    `plainer` names the sheets whose closest layout could not be sawn, so that their parts were laid out again.
    """

    sheets: tuple[Sheet, ...]
    unplaced: dict[str, int] = field(default_factory=dict)
    plainer: tuple[str, ...] = ()

    @property
    def cost(self) -> float:
        """Price of the pieces in use; their area in mm2 where no prices are given."""
        pieces = [sheet.piece for sheet in self.sheets]
        return fsum(piece.price for piece in pieces) or fsum(piece.length * piece.width for piece in pieces)
