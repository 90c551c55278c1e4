"""The plan of work as one value: all operations in working order, with the day each begins on."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.fit.plan import Plan
from templategen.shop.boards import boards_of
from templategen.shop.gluing.plan import GluingPlan, gluing_plan
from templategen.shop.listing import Cell, Listing
from templategen.shop.refit.rebuild import Rebuilt
from templategen.shop.refit.set_ups import rest_set_ups
from templategen.shop.routed import finished_of
from templategen.shop.set_ups.run import set_ups
from templategen.shop.set_ups.set_up import SetUp
from templategen.shop.set_ups.words import IN_THE_RING
from templategen.table.assembly import Table
from templategen.units import format_mm
from templategen.work.closing import Waiting, before_last, dry_ring, mitring, scrap_ring, waiting
from templategen.work.glued import before_gluing, levelled, overnight, step_done
from templategen.work.handed_over import handed_over
from templategen.work.jigs import JigsUsed, jigs_made, jigs_used
from templategen.work.kept_ends import on_kept_ends
from templategen.work.machined import machined
from templategen.work.operation import Operation, Planned
from templategen.work.routed import beside_router
from templategen.work.sizes import sized
from templategen.work.stock import from_boards, with_strips
from templategen.work.surfaces import after_gluing, glides_fixed

NIGHT = 24.0
"""Hours from one working day's start to the next."""


@dataclass(frozen=True, slots=True)
class WorkPlan:
    """Everything that is done, in order, for so many tables; `glue` tells what holds for all that is glued, `jigs`
    which jigs it is worked by."""

    operations: tuple[Planned, ...]
    tables: int
    glue: GluingPlan
    jigs: JigsUsed

    @property
    def minutes(self) -> float:
        """Work at the bench, waiting not counted."""
        return sum(one.operation.minutes for one in self.operations)

    @property
    def days(self) -> int:
        """The working day on which the last operation begins."""
        return self.operations[-1].day if self.operations else 0

    @property
    def set_ups(self) -> tuple[SetUp, ...]:
        """The set-ups in the order in which they are worked."""
        return tuple(one.operation.set_up for one in self.operations if one.operation.set_up)

    @property
    def gluing(self) -> GluingPlan:
        """The steps of the assembly in the order in which they are done."""
        steps = (one.operation.step for one in self.operations if one.operation.step)
        return replace(self.glue, steps=tuple(steps))


def work_plan(table: Table, assembly: Plan, tables: int = 1, rest: Rebuilt | None = None) -> WorkPlan:
    """The plan: boards, blanks and parts operation by operation for all tables, then what is glued.

    `assembly` is the order in which one table goes together, its ring closed in the way that it says. With a `rest`,
    what a re-fit leaves to cut, only that is made, and all of it is glued.
    """
    glue = gluing_plan(table, assembly)
    done, jigs = jigs_used(table, tuple(_in_order(table, assembly, glue, tables, rest)))
    first = () if rest else jigs_made(table, jigs)
    found = tuple(_numbered(sized(_made(table, rest), (*first, *done), tables)))
    return WorkPlan(tuple(_dated(found, table.profile.rates.day * 60)), tables, glue, jigs)


def _made(table: Table, rest: Rebuilt | None) -> Table:
    """The table with the parts that are made."""
    return rest.rest if rest else table


def _in_order(
    table: Table, assembly: Plan, glue: GluingPlan, tables: int, rest: Rebuilt | None
) -> Iterator[Operation]:
    made = rest_set_ups(rest) if rest else set_ups(table, tables)
    single = [one for one in made if one.operation not in IN_THE_RING]
    held = waiting(table, assembly, single, tables, rest.waiting if rest else None)
    held = replace(held, now=tuple(on_kept_ends(held.now)))
    new = _made(table, rest)
    ring = [one for one in made if one.operation in IN_THE_RING]
    yield from with_strips(table, tuple(from_boards(new, tables)), (*held.now, *held.later, *ring))
    finished = {code for boards in boards_of(new, tables) for code in finished_of(new, boards)}
    slotted = False
    for one in held.now:
        if one is mitring(table, held.now):
            yield scrap_ring(table, one, made)
        if one.operation == "spline slot" and not slotted:
            yield dry_ring(table, assembly, glue, tables)
            slotted = True
        yield beside_router(machined(new, one, tables), finished, table.profile.rates)
    yield from before_gluing(table, assembly, glue, tables)
    *assembled, let_down = _assembled(table, assembly, glue, held, tables) or (None,)
    yield from assembled
    yield levelled(table, tables)
    yield from (machined(table, one, tables) for one in ring)
    yield from after_gluing(table, tables)
    yield from glides_fixed(table, tables)
    yield from (let_down,) if let_down else ()
    yield from handed_over(table, tables)


def _assembled(table: Table, assembly: Plan, glue: GluingPlan, held: Waiting, tables: int) -> list[Operation]:
    """The steps, and before the ring's last joints what they wait for; the last step lets the top down."""
    done: list[Operation] = []
    for order, step in zip(assembly.steps, glue.steps, strict=True):
        done += _then(done, before_last(table, assembly, held, tables)) if order.last else ()
        done.append(step_done(table, glue, step, tables))
    return [*done[:-2], *map(overnight, done[-2:])]


def _then(done: list[Operation], worked: Iterable[Operation]) -> tuple[Operation, ...]:
    """What is worked on what is glued, which hardens first."""
    found = tuple(worked)
    if found and done:
        done[-1] = overnight(done[-1])
    return found


def _numbered(found: Iterable[Operation]) -> Iterator[Operation]:
    """Set-ups and steps numbered in the order in which they are worked."""
    set_up = step = 0
    for one in found:
        if one.set_up:
            set_up += 1
            one = replace(one, set_up=replace(one.set_up, number=set_up, jigs=one.jigs))
        if one.step:
            step += 1
            one = replace(one, step=replace(one.step, number=step))
        yield one


def _dated(found: Iterable[Operation], day: float) -> Iterator[Planned]:
    """Each operation on its day, `day` minutes long: what a day has no room for begins on the next; a wait that runs
    past the day's end takes the night with it."""
    today, spent = 1, 0.0
    for number, one in enumerate(found, 1):
        busy = one.minutes + one.between * 60
        if spent > 0 and spent + busy > day:
            today, spent = today + 1, 0.0
        yield Planned(number, today, one)
        spent += busy
        whole, rest = divmod(spent, day)
        today, spent = today + int(whole), rest
        if one.wait * 60 > day - spent:
            today, spent = today + max(1, round(one.wait / NIGHT)), 0.0
        else:
            spent += one.wait * 60


HEADER = [
    "operation_number", "day", "operation", "way", "on", "works_on", "set_up", "step", "persons", "minutes",
    "wait_hours", "tells", "measure", "cautions", "jigs",
]  # fmt: skip


def plan_list(plan: WorkPlan) -> Listing:
    """Header and rows: one for each operation, then the whole."""
    rows: list[list[Cell]] = []
    for one in plan.operations:
        work = one.operation
        rows.append([
            str(one.number), str(one.day), work.told_does, work.told_way, translated(work.on),
            translated(work.works_on), one.set_up,
            one.step, str(work.persons), format_mm(work.minutes, 0),
            format_mm(work.waits, 0) if work.waits else "", "; ".join(map(translated, work.tells)),
            translated(work.measure),
            " ".join(map(translated, work.cautions)), ", ".join(work.jigs),
        ])  # fmt: skip
    whole = said(
        "{hours:.0f} hours of work over {days} working days, for {tables} table(s)",
        hours=plan.minutes / 60, days=plan.days, tables=plan.tables,
    )  # fmt: skip
    return HEADER, [
        *rows,
        [translated("all"), str(plan.days), whole, *[""] * 6, format_mm(plan.minutes, 0), *[""] * 5],
    ]
