"""What there is to cut from, and what is to be cut, as the nesting room sees it: outlines, not tables."""

from __future__ import annotations

from dataclasses import dataclass, field

from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement


@dataclass(frozen=True, slots=True)
class Piece:
    """One kind of stock: length along x (the grain), width along y, from its lower left corner.

    `count` None means as many as needed. `faults` are (x, y, diameter) of knots. `margin` is trimmed from
    every edge before anything may lie there. `grain` False lets parts turn freely (sheets without grain).
    """

    name: str
    length: float
    width: float
    count: int | None = None
    price: float = 0.0
    faults: tuple[tuple[float, float, float], ...] = ()
    margin: float = 0.0
    grain: bool = True


@dataclass(frozen=True, slots=True)
class Item:
    """A part to be cut `count` times; its grain lies along x of `outline` once turned by `grain_turn` radians.

    `may_turn_over` only for parts alike on both faces.
    """

    code: str
    outline: Outline
    count: int
    grain_turn: float = 0.0
    may_turn_over: bool = False


@dataclass(frozen=True, slots=True)
class Laid:
    """One copy of an item where it lies on a piece of stock."""

    code: str
    placement: Placement


@dataclass(frozen=True, slots=True)
class Sheet:
    """One physical piece of stock with the parts laid on it; `number` counts pieces of that name from 1."""

    piece: Piece
    number: int
    laid: tuple[Laid, ...]


@dataclass(frozen=True, slots=True)
class Layout:
    """All sheets needed, and the items that found no place (code -> count)."""

    sheets: tuple[Sheet, ...]
    unplaced: dict[str, int] = field(default_factory=dict)
