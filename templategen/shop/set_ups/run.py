"""All the set-ups of a table."""

from collections.abc import Iterable
from dataclasses import replace
from functools import partial

from templategen.explain.quantities import book_of
from templategen.shop.cautions import set_up_cautions
from templategen.shop.set_ups.choose import chosen
from templategen.shop.set_ups.group import grouped
from templategen.shop.set_ups.job import Job
from templategen.shop.set_ups.jobs import jobs_of
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.set_up import SetUp
from templategen.shop.set_ups.strips import on_strips
from templategen.table.assembly import Table
from templategen.units import in_one_unit, length_by_rule


def set_ups(table: Table, tables: int = 1) -> tuple[SetUp, ...]:
    """Every set-up for so many tables, in working order."""
    return made_of(table, jobs_of(Ledger(book_of(table), table.profile), table), tables)


def made_of(table: Table, jobs: Iterable[Job], tables: int = 1) -> tuple[SetUp, ...]:
    """The set-ups of some jobs on the table's parts: brought together, each in this shop's way, with its cautions."""
    made = [chosen(table, one) for one in grouped(on_strips(table, jobs), tables)]
    lengths = {part.code: part.size[0] for part in table.parts}
    shop, units = table.profile.shop, table.profile.units

    shown = partial(length_by_rule, units=units)
    told = ((one, set_up_cautions(one, lengths, shop.holding, shown)) for one in made)
    return tuple(replace(one, cautions=tuple(in_one_unit(line, units) for line in lines)) for one, lines in told)
