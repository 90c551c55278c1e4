"""The finding: something measured, and what is wanted."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from templategen.checks.describe import Description, describe
from templategen.checks.sentences import SENTENCES
from templategen.geometry.tolerance import MET

Level = Literal["stop", "caution", "note"]
List = Literal["beware", "do", "information"]
Range = tuple[float | None, float | None]

NOTES: tuple[List, ...] = ("do", "beware", "information")
ORDER: dict[str, int] = {"stop": 0, "caution": 1, "note": 2}


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The gravest first; among notes those that ask for something to be done, then those beyond a limit."""
    return tuple(sorted(findings, key=lambda one: (ORDER[one.level], NOTES.index(one.list))))


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in a part, in mm: x and y seen from above in the part's own frame, and between which heights."""

    part: str
    x: float
    y: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Remedy:
    """A value of a key with which a finding is a note: as a change of the profile takes it, and in words."""

    key: str
    value: Any
    words: str

    def __str__(self) -> str:
        return f"{self.key} = {self.words}"


@dataclass(frozen=True, slots=True)
class Finding:
    """Something about a table that can be built but may be better not cut as it is.

    A `stop` must be settled before cutting; a `caution` should be understood; a `note` informs. `kind` is what it is,
    one of `sentences.SENTENCES`, and `fields` what its sentence names, lengths in mm. `where` is the profile key that
    would change it, `wanted` the range in `unit`, None where it is open. `spot` is where in a part it was measured,
    where it has one place, `would` a value of a key with which it is a note.
    `says`, `why` and `do` are its words in mm; `told` has them in inches too.
    """

    kind: str
    level: Level
    where: str
    measured: float
    wanted: Range = (None, None)
    fields: Mapping[str, Any] = field(default_factory=dict, hash=False)
    spot: Spot | None = None
    would: Remedy | None = None

    @property
    def name(self) -> str:
        """What it is about, whatever its figures: kind, key and pieces."""
        return f"{self.kind} {self.where} {self.fields.get('parts', '')}"

    @property
    def unit(self) -> str:
        """What `measured` and `wanted` count."""
        return SENTENCES[self.kind].unit

    @property
    def asks(self) -> bool:
        """Whether it asks for something to be done."""
        return bool(SENTENCES[self.kind].do)

    @property
    def is_beyond(self) -> bool:
        """Whether it lies outside the range wanted; a size that came out otherwise than asked for breaks no limit."""
        low, high = self.wanted
        below = low is not None and self.measured < low - MET
        return low != high and (below or (high is not None and self.measured > high + MET))

    @property
    def list(self) -> List:
        """Where it is told: what is to be done, what to beware of, what only informs."""
        if self.level == "note":
            return "do" if self.asks else "beware" if self.is_beyond else "information"
        return "beware"

    @property
    def says(self) -> str:
        return self.described("mm").says

    @property
    def why(self) -> str:
        return self.described("mm").why

    @property
    def do(self) -> str:
        return self.described("mm").do

    def described(self, units: str) -> Description:
        """Its words, with sizes in `units`."""
        return describe(self, units)
