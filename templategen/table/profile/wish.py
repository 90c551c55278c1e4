"""What a maker would change for a better table: the values of `[suit]`."""

from dataclasses import dataclass

from templategen.table.profile.choices import Counts


@dataclass(frozen=True, slots=True)
class Variation:
    """A key that may change: between two values (mm, degrees, plain), or to any of some words."""

    path: str
    kind: str
    low: float = 0.0
    high: float = 0.0
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Suit:
    """What may change, what counts (the weightiest first), how many seats there must be at least, and between which
    heights (mm) it must be."""

    variations: tuple[Variation, ...] = ()
    counts: tuple[Counts, ...] = ("cost",)
    seats: int = 0
    height: tuple[float, float] | None = None
