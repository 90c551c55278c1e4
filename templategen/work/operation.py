"""One operation of the plan of work."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

On = Literal["boards", "blanks", "parts", "group"]
"""What is in hand: boards; blanks and strips as sawn out; single parts; parts that are glued together."""


@dataclass(frozen=True, slots=True)
class Operation:
    """What is done in one go at one place.

    `works_on` names the pieces and how many, all tables together, `way` the machine or the hand tools. `tells` are
    sentences in the order they are needed, `measure` what proves it, `cautions` what can hurt. `set_up` and `step`
    are the numbers of the set-up and of the assembly step whose figures it follows, 0 where it has none. `minutes` is
    the work, `wait` the hours until the next operation may touch the same pieces, `persons` how many it takes.
    """

    does: str
    way: str
    on: On
    works_on: str
    tells: tuple[str, ...] = ()
    measure: str = ""
    cautions: tuple[str, ...] = ()
    set_up: int = 0
    step: int = 0
    minutes: float = 0.0
    wait: float = 0.0
    persons: int = 1


@dataclass(frozen=True, slots=True)
class Planned:
    """An operation in its place: its number from 1 and the working day it begins on."""

    number: int
    day: int
    operation: Operation
