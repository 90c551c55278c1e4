"""Parts as they are while they are glued: what is cut in the ring only once it is whole isn't cut yet."""

from dataclasses import replace

from templategen.parts.part import Part
from templategen.shop.set_ups.words import IN_THE_RING
from templategen.table.assembly import Table
from templategen.table.edges import IN_THE_RING as WORK_OF_THE_RING
from templategen.table.rim import WITH_THE_RING
from templategen.work.plan import WorkPlan


def at_step(table: Table, work: WorkPlan, number: int) -> Table:
    """The table with its parts as they are when the assembly's step `number`, from 1, begins."""
    at = next(place for place, one in enumerate(work.operations) if one.step == str(number))
    if any(one.operation.set_up and one.operation.does in IN_THE_RING for one in work.operations[at:]):
        return replace(table, parts=tuple(map(as_glued, table.parts)))
    return table


def as_glued(part: Part) -> Part:
    """The part as it is glued: of the ring's its blank, without what is done to the ring when it is whole."""
    if part.kind not in WITH_THE_RING:
        return part
    features = tuple(one for one in part.features if one.operation not in WORK_OF_THE_RING)
    return replace(part, outline=part.blank, features=features)
