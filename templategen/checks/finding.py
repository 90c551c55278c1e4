"""The finding: something measured, and what is wanted."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Level = Literal["stop", "caution", "note"]

ORDER: dict[str, int] = {"stop": 0, "caution": 1, "note": 2}


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The gravest first; among notes those that ask for something to be done."""
    return tuple(sorted(findings, key=lambda finding: (ORDER[finding.level], not finding.do)))


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in a part, in mm: x and y seen from above in the part's own frame, and between which heights."""

    part: str
    x: float
    y: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Finding:
    """Something about a table that can be built but may be better not cut as it is.

    A `stop` must be settled before cutting; a `caution` should be understood; a `note` informs. `where` is the
    profile key that would change it, `wanted` the range in `unit`, None where it is open. `says` names what was
    measured, `why` explains it and tells the nearest change that would do; `do` is what the maker is to do where a
    sound table asks for something to be done. `spot` is where in a part it was measured, where it has one place.
    """

    level: Level
    where: str
    says: str
    measured: float
    wanted: tuple[float | None, float | None]
    unit: str = "mm"
    why: str = ""
    do: str = ""
    spot: Spot | None = None
