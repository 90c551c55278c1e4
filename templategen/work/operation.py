"""One operation of the plan of work."""

import re
from dataclasses import dataclass
from typing import Literal

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.shop.cautions import Holder
from templategen.shop.gluing.plan import GluingStep
from templategen.shop.set_ups.set_up import SetUp

COAT = re.compile(r"finish, coat (?P<coat>\d+) of (?P<coats>\d+)")

On = Literal["boards", "blanks", "parts", "group"]
"""What is in hand: boards; blanks and strips as sawn out; single parts; parts that are glued together."""


Size = tuple[float, float, float]
"""Length along the grain, width, thickness, mm."""


def work_told(does: str) -> str:
    """What an operation does in the language that is spoken."""
    coat = COAT.fullmatch(does)
    return said("finish, coat {coat} of {coats}", **coat.groupdict()) if coat else translated(does)


@dataclass(frozen=True, slots=True)
class Worked:
    """The pieces of one part in an operation: how many, how many of the part each still `holds` as a strip, and their
    size before and after; `before` is None where they are sawn out of boards. `held` says what holds pieces of a part
    that is too short for the hand."""

    code: str
    count: int
    holds: int
    before: Size | None
    after: Size
    held: Holder = ""


@dataclass(frozen=True, slots=True)
class Operation:
    """What is done in one go at one place.

    `works_on` names the pieces and how many, all tables together, `way` the machine or the hand tools. `tells` are
    sentences in the order they are needed, `measure` what proves it, `cautions` what can hurt. `set_up` and `step`
    are the set-up and the step of the assembly that it is, where it is one: their own lists and sheets are read from
    here. `minutes` is the work, `between` the hours that it stands still for between its own goes, `wait` those until
    the next operation may touch the same pieces, `persons` how many it takes. `codes` are the parts where it is no
    set-up, `pieces` what its place in the plan makes of them, `jigs` the codes of those it is worked by.
    """

    does: str
    way: str
    on: On
    works_on: str
    tells: tuple[str, ...] = ()
    measure: str = ""
    cautions: tuple[str, ...] = ()
    set_up: SetUp | None = None
    step: GluingStep | None = None
    minutes: float = 0.0
    wait: float = 0.0
    between: float = 0.0
    persons: int = 1
    codes: tuple[str, ...] = ()
    pieces: tuple[Worked, ...] = ()
    jigs: tuple[str, ...] = ()

    @property
    def waits(self) -> float:
        """All hours in which it only stands."""
        return self.between + self.wait

    @property
    def told_does(self) -> str:
        """What is done, in the language that is spoken."""
        return work_told(self.does)

    @property
    def told_way(self) -> str:
        """The machine or the tools, in that language."""
        if self.set_up and self.way != self.set_up.machine:
            return f"{translated(self.set_up.machine)}, {translated(self.set_up.cutter)}"
        return translated(self.way)


@dataclass(frozen=True, slots=True)
class Planned:
    """An operation in its place: its number from 1 and the working day it begins on."""

    number: int
    day: int
    operation: Operation

    @property
    def set_up(self) -> str:
        """The number of its set-up, as written; "" where it has none."""
        return str(self.operation.set_up.number) if self.operation.set_up else ""

    @property
    def step(self) -> str:
        """The number of its step of the assembly, as written; "" where it has none."""
        return str(self.operation.step.number) if self.operation.step else ""
