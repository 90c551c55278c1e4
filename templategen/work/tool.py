"""A thing to have at hand, and the words that its row is made of."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil

from templategen.catalogue import figured
from templategen.checks.describe import said
from templategen.geometry.tolerance import EQUAL
from templategen.shop.gluing.plan import GluingStep
from templategen.shop.set_ups.set_up import SetUp
from templategen.table.profile.choices import Units
from templategen.units import length_by_rule


@dataclass(frozen=True, slots=True)
class Tool:
    """A thing to have at hand: how many (0: as it comes), its size in words, which set-ups or steps ask for it; of
    what is sawn out of scrap also length, width and height of each piece, mm."""

    item: str
    count: int
    size: str
    use: str
    scrap: tuple[float, float, float] | None = None


def several(told: str, count: int, size: str, use: str, scrap: tuple[float, float, float] | None = None) -> Tool:
    """A row of so many, `told` with its number, as in `2 clamps`: the item has the form that goes with it."""
    return Tool(told.partition(" ")[2], count, size, use, scrap)


def numbers_of(set_ups: Sequence[SetUp]) -> str:
    """The set-ups by their numbers, in words."""
    return said(
        "set-up {numbers}" if len(set_ups) == 1 else "set-ups {numbers}",
        numbers=_stretches(one.number for one in set_ups),
    )


def steps_of(steps: Sequence[GluingStep]) -> str:
    """The steps by their numbers, in words."""
    return said(
        "gluing, step {numbers}" if len(steps) == 1 else "gluing, steps {numbers}",
        numbers=_stretches(one.number for one in steps),
    )


def _stretches(numbers: Iterable[int]) -> str:
    """Numbers in order, those that follow each other as a stretch."""
    stretches: list[list[int]] = []
    for number in sorted(numbers):
        if stretches and number == stretches[-1][-1] + 1:
            stretches[-1].append(number)
        else:
            stretches.append([number])
    return ", ".join(
        said("{first} to {last}", first=run[0], last=run[-1]) if len(run) > 2 else ", ".join(map(str, run))
        for run in stretches
    )


def by_rule(size: float, units: Units, digits: int = 2) -> str:
    """A length as a rule shows it, in words."""
    return figured(length_by_rule(size, units, digits, 32))


def up(size: float, step: float) -> float:
    """A size rounded up to a step, mm."""
    return ceil(size / step - EQUAL) * step
