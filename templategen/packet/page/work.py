"""The plan of work: what to do first, next and last, with the sheet whose figures each operation follows."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby, pairwise

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.english import tag
from templategen.jigs.jig import Jig
from templategen.output.page.content import Grid, Section, Sheet
from templategen.packet.page.links import links
from templategen.shop.set_ups.words import pieces
from templategen.table.assembly import Table
from templategen.work.closing import SCRIBE
from templategen.work.jigs import JIGS_MADE
from templategen.work.operation import Operation, Planned
from templategen.work.plan import WorkPlan
from templategen.work.trimming import HALVES

TRIMMING, SCRIBING = "trim-halves", "scribe-last"

PICTURED: Mapping[str, str] = {HALVES: TRIMMING, SCRIBE: SCRIBING}
"""What has a sheet among those of putting it together without being a step: by what is done, the sheet's name."""

WAITING = "Days without work are for glue, finish and sawn wood to come to rest; times are a start set, to correct."


FOUND_BY = (
    "Set-ups are the numbered cards of the chapter Set-ups, steps those of Putting it together, in that order; at "
    "the head of each stands its number in this plan."
)


def work(table: Table, plan: WorkPlan) -> Section:
    """A list of the whole, then a sheet for each day."""
    rows = tuple(
        (
            str(one.number),
            str(one.day),
            one.operation.told_does,
            translated(one.operation.works_on),
            sheet_of(one),
            _minutes(one),
        )
        for one in plan.operations
    )
    grid = Grid(
        ("no.", "day", "what", "works on", "figures", "minutes"),
        rows,
        figures=(0, 1, 5),
        ticks=True,
        to=tuple(address_of(one) for one in plan.operations),
        to_at=4,
    )
    told = said(
        "{hours:.0f} hours of work over {days} days, for one table."
        if plan.tables == 1
        else "{hours:.0f} hours of work over {days} days, for {tables} tables, operation by operation.",
        hours=plan.minutes / 60,
        days=plan.days,
        tables=plan.tables,
    )
    words = (told, WAITING, FOUND_BY)
    first = Sheet("order", "From boards to the table", words, grids=(grid,), links=links("lists/plan.csv"))
    same = _told_before(plan.operations)
    days = groupby(plan.operations, key=lambda one: one.day)
    every = (first, *(_day(day, tuple(of_day), same, plan.jigs.jigs) for day, of_day in days))
    return Section("work", "Plan of work", every, language=tag(of_catalogue=True))


def _told_before(planned: Sequence[Planned]) -> Mapping[int, int]:
    """Operations, by number, of which all is told at one that they follow: slat after slat goes in alike."""
    found: dict[int, int] = {}
    for before, one in pairwise(planned):
        if not one.operation.set_up and _says(one) == _says(before):
            found[one.number] = found.get(before.number, before.number)
    return found


def _day(day: int, planned: tuple[Planned, ...], same: Mapping[int, int], made: Sequence[Jig]) -> Sheet:
    """What is done on one day, each operation with its sentences."""
    lines = tuple(_describe(one, same.get(one.number)) for one in planned)
    cautions = tuple(dict.fromkeys(words for one in planned if not one.operation.set_up
                                   for words in one.operation.cautions))  # fmt: skip
    needs = tuple(dict.fromkeys(code for one in planned for code in _needs(one.operation, made)))
    return Sheet(f"day-{day}", said("Day {day}", day=day), ticks=lines, cautions=cautions, needs=needs)


def _needs(work_: Operation, made: Sequence[Jig]) -> Iterator[str]:
    """What is printed with an operation: the jigs that it makes or is done by, the layouts of what it saws out."""
    yield from (f"jig:{code}" for code in work_.jigs)
    if work_.on == "boards":
        yield from (f"cut:{code}" for code in work_.codes)
        yield from (f"cut:{part.code}" for jig in made if jig.code in work_.jigs for part in jig.parts)


def _describe(one: Planned, as_at: int | None) -> str:
    work_ = one.operation
    sheet = f"; {sheet_of(one)}" if sheet_of(one) else ""
    head = f"{one.number}. {work_.told_does}: {_worked_on(work_)}; {work_.told_way}{sheet}"
    persons = f"; {said('{persons} persons', persons=work_.persons)}" if work_.persons > 1 else ""
    says = said(". As at {number}", number=as_at) if as_at else _says(one)
    return f"{head}{persons}{says}."


MANY = 6
"""So many kinds of pieces are named one by one."""


def _worked_on(one: Operation) -> str:
    """The pieces in hand; many of a set-up by what their codes begin with, since list and card name each."""
    if one.set_up is None or len(one.set_up.codes) <= MANY:
        return translated(one.works_on)
    kinds: Counter[str] = Counter()
    for code, count in pieces(*one.set_up.cuts).items():
        kinds[code.partition("-")[0]] += count
    return ", ".join(f"{kind} x {count}" for kind, count in kinds.items())


def _says(one: Planned) -> str:
    """How it is done, what proves it, by which jigs; of a set-up what is set alone, since its card tells the rest;
    what proves a step is told on its sheet."""
    work_ = one.operation
    on_card = (*work_.set_up.does, *work_.set_up.warnings) if work_.set_up else ()
    told = (translated(words) for words in work_.tells if words not in on_card)
    tells = "".join(f". {words[:1].upper()}{words[1:]}" for words in told)
    elsewhere = work_.set_up or work_.step
    proof = said(". Measure: {measure:word}", measure=work_.measure) if work_.measure and not elsewhere else ""
    named = work_.jigs and not work_.set_up and work_.does != JIGS_MADE
    jigs = said(". Jigs: {jigs}", jigs=", ".join(work_.jigs)) if named else ""
    return f"{tells}{proof}{jigs}"


def sheet_of(one: Planned) -> str:
    """The sheet that has an operation's figures or picture."""
    if one.operation.does in PICTURED:
        return translated("picture")
    number = one.set_up or one.step
    return said("set-up {number}" if one.set_up else "step {number}", number=number) if number else ""


def address_of(one: Planned) -> str:
    """Where that sheet stands within the page, "" where there is none."""
    if one.operation.does in PICTURED:
        return f"together-{PICTURED[one.operation.does]}"
    return f"machines-{one.set_up}" if one.set_up else f"together-step-{one.step}" if one.step else ""


def _minutes(one: Planned) -> str:
    wait = f" + {one.operation.waits:.0f} h" if one.operation.waits else ""
    return f"{one.operation.minutes:.0f}{wait}"
