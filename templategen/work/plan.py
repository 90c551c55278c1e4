"""The plan of work as one value: all operations in working order, with the day each begins on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from templategen.shop.closing.ways import Way
from templategen.shop.gluing.plan import GluingPlan
from templategen.shop.rough import rough_of
from templategen.shop.set_ups.set_up import SetUp
from templategen.shop.set_ups.words import IN_THE_RING
from templategen.table.assembly import Table
from templategen.work.glued import after_gluing, before_gluing, steps
from templategen.work.machined import machined
from templategen.work.operation import Operation, Planned
from templategen.work.stock import from_boards

NIGHT = 24.0
"""Hours from one working day's start to the next."""


@dataclass(frozen=True, slots=True)
class WorkPlan:
    """Everything that is done, in order, for so many tables."""

    operations: tuple[Planned, ...]
    tables: int

    @property
    def minutes(self) -> float:
        """Work at the bench, waiting not counted."""
        return sum(one.operation.minutes for one in self.operations)

    @property
    def days(self) -> int:
        """The working day on which the last operation begins."""
        return self.operations[-1].day if self.operations else 0


def work_plan(table: Table, set_ups: Sequence[SetUp], gluing: GluingPlan, way: Way, tables: int = 1) -> WorkPlan:
    """The plan: boards, blanks and parts operation by operation for all tables, then what is glued.

    `set_ups` are for all tables already; `way` is how the ring is closed.
    """
    found = tuple(_in_order(table, set_ups, gluing, way, tables))
    return WorkPlan(tuple(_dated(found, table.profile.rates.day * 60)), tables)


def _in_order(
    table: Table, set_ups: Sequence[SetUp], gluing: GluingPlan, way: Way, tables: int
) -> Iterator[Operation]:
    rates = table.profile.rates
    yield from from_boards(table, tables)
    if way.name == "scrap":
        tells = ("saw a ring of scrap at the mitre's set-up, one piece for each segment, as wide as the rim",
                 "lay it dry, measure the last gap, and turn the saw by the gap / (2 N face)")  # fmt: skip
        yield Operation("scrap ring", "mitre saw", "parts", "scrap", tells, "the last gap", minutes=2 * rates.set_up)
    on_parts = [one for one in set_ups if one.operation not in IN_THE_RING]
    yield from (machined(one, rates, _metres(table, one, tables)) for one in on_parts)
    yield from before_gluing(table, gluing, tables)
    last = None
    for is_last, operation in steps(table, gluing, way, tables):
        if is_last:
            last = operation
        else:
            yield operation
    in_ring = [one for one in set_ups if one.operation in IN_THE_RING]
    yield from (machined(one, rates, 0.0) for one in in_ring)
    yield from after_gluing(table, tables)
    if last:
        yield last


def _metres(table: Table, set_up: SetUp, tables: int) -> float:
    """Length of all blanks that pass a set-up, mm."""
    roughs = (rough_of(table.profile.shop, table.part(code), tables) for code in set_up.codes)
    return sum(rough.count * rough.length for rough in roughs)


def _dated(found: Iterable[Operation], day: float) -> Iterator[Planned]:
    """Each operation on its day, `day` minutes long: what a day has no room for begins on the next; a wait that runs
    past the day's end takes the night with it."""
    today, spent = 1, 0.0
    for number, one in enumerate(found, 1):
        if spent > 0 and spent + one.minutes > day:
            today, spent = today + 1, 0.0
        yield Planned(number, today, one)
        spent += one.minutes
        whole, rest = divmod(spent, day)
        today, spent = today + int(whole), rest
        if one.wait * 60 > day - spent:
            today, spent = today + max(1, round(one.wait / NIGHT)), 0.0
        else:
            spent += one.wait * 60
