"""Glues by class: how long they stay open, how long they are clamped, what water and cold they take.

Times hold at 20 degrees; brands differ, so the tin's own sheet comes first. `status` says whether the figures were
`read` in a source or `recalled`, as with woods.
"""

from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

Range = tuple[float, float]

GlueClass = Literal["white", "cross-linking", "polyurethane", "urea", "resorcinol", "melamine", "epoxy", "protein"]

ROOM = 20.0
"""Degrees Celsius at which a glue's times are told."""

DOUBLING = 10.0
"""A glue's times about halve with so many degrees more, and double with as many less (a rule of thumb)."""

FITNESS = ("outdoors", "coated", "sheltered", "indoors")
"""What a glue is fit for, the best first: weather; weather under a finish that is kept up; a roof; a room."""

_FPL = "Wood Handbook, Forest Products Laboratory, chapter 10, and its research note 0138"
_EN204 = "classes of EN 204, which give no rating for heat; times as makers' sheets range"


@dataclass(frozen=True, slots=True)
class Glue:
    """One class of glue: minutes open (spread to joined) and closed (joined to clamped), hours clamped, degrees below
    which it fails (where sources differ the higher), pressure in MPa (None: that of the wood), what it is fit for;
    whether end grain is first sized with a thin coat of it, which one that sets by moisture isn't: its open time runs
    from the first coat."""

    name: GlueClass
    says: str
    open_time: Range
    closed_time: Range
    clamped: Range
    coldest: float
    pressure: Range | None
    fit: str
    water: str
    status: str
    source: str
    sizes: bool = True

    def open_at(self, temperature: float) -> float:
        """Least minutes it stays open at this many degrees Celsius."""
        return self.open_time[0] * slower(temperature)

    def closed_at(self, temperature: float) -> float:
        """Least minutes from the joint closed to the clamp drawn."""
        return self.closed_time[0] * slower(temperature)


def slower(temperature: float) -> float:
    """By how much a glue's times stretch from those at 20 degrees: double for each ten colder."""
    return float(2 ** ((ROOM - temperature) / DOUBLING))


_LIGHT = (0.3, 0.7)
_CONTACT = (0.0, 0.1)

_ROWS = (
    Glue("white", "white or yellow polyvinyl acetate", (3, 6), (10, 15), (0.5, 1), 13, None, "indoors",
         "D1 to D2: interior only", "read", _EN204),
    Glue("cross-linking", "one-part cross-linking polyvinyl", (5, 8), (10, 20), (1, 1), 13, None, "sheltered",
         "D3: outdoors only under a roof", "read", _EN204),
    Glue("polyurethane", "one-part polyurethane", (10, 30), (15, 60), (1, 4), 10, _LIGHT, "coated",
         "D4 by test: outdoors under a finish that is kept up",
         "recalled", _EN204, sizes=False),
    Glue("urea", "urea resin powder", (20, 20), (20, 30), (12, 12), 21, None, "indoors",
         "D2 to D3: not for outdoors", "read", _FPL),
    Glue("resorcinol", "resorcinol or phenol-resorcinol", (15, 15), (15, 60), (10, 10), 21, None, "outdoors",
         "full exterior: joints rated to outlast the wood", "read", _FPL),
    Glue("melamine", "melamine-urea", (15, 30), (30, 60), (4, 8), 20, None, "outdoors",
         "exterior by grade: the tin must say so", "recalled", _FPL),
    Glue("epoxy", "two-part epoxy", (20, 90), (20, 90), (6, 24), 10, _CONTACT, "outdoors",
         "very good and fills gaps; softens near 50 to 60 °C", "recalled", "makers' sheets"),
    Glue("protein", "hide or liquid protein", (10, 10), (10, 10), (12, 12), 21, None, "indoors",
         "lets go when it gets wet", "read", _FPL),
)  # fmt: skip

GLUES = MappingProxyType({row.name: row for row in _ROWS})

SOFT_WOOD = (0.7, 1.0)
HARD_WOOD = (1.2, 1.7)
DENSE = 600.0
"""Pressure on softwoods and hardwoods, MPa (100 to 150 and 175 to 250 psi, trade practice; the Forest Products
Laboratory gives 0.7 for light woods up to 1.7 for dense ones), told apart at this density, kg/m3 (assumed)."""


def pressure_for(glue: Glue, density: float) -> Range:
    """The clamping pressure that a glue asks for on wood of this density, MPa."""
    return glue.pressure or (SOFT_WOOD if density < DENSE else HARD_WOOD)
