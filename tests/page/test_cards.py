"""Every operation of the printed book: which pieces, how they lie, what to set and to measure, what can hurt."""

import re
from collections import Counter, defaultdict

import pytest

from templategen.output.page.content import Sheet
from templategen.packet.page.machines import machines
from templategen.packet.page.steps import _told
from templategen.packet.page.work import MANY, work
from templategen.packet.shipped import shipped_names
from templategen.parts.sides import SIDES
from templategen.shop.set_ups import words
from templategen.shop.set_ups.set_up import Cut
from templategen.table.assembly import Table
from templategen.work.plan import WorkPlan, work_plan
from tests.drawing.shipped_tables import plan_of, table_of

LIES = re.compile(r"\b(up|down|fence|stop|arris|corner|face|measured|gauged|leans|square|shoulder|glued in)\b")


SAMPLE = ("towpath-hex", "towpath-side")
"""Asked in every run: by machines and by hand, a ring of half rings and one of segments."""


@pytest.fixture(scope="module", params=[
    name if name in SAMPLE else pytest.param(name, marks=pytest.mark.slow) for name in shipped_names()
])  # fmt: skip
def book(request: pytest.FixtureRequest) -> tuple[Table, WorkPlan]:
    """A shipped table and its plan of work."""
    table = table_of(request.param)
    return table, work_plan(table, plan_of(request.param))


def cells(sheet: Sheet) -> str:
    """All words of its lists."""
    return " ".join(cell for grid in sheet.grids for row in grid.rows for cell in row)


def slots(cut: Cut) -> list[str]:
    """Each part of a cut with how many of its pieces have a slot in either end, since some ends may wait."""
    ends: dict[str, Counter[str]] = defaultdict(Counter)
    for lay in cut.lays:
        ends[lay.code][SIDES[lay.worked]] += lay.pieces
    return [
        f"{code}: {', '.join(f'{end} x {count}' for end, count in found.items())}" for code, found in ends.items()
    ]


def test_a_card_tells_all_of_its_set_up(book: tuple[Table, WorkPlan]) -> None:
    """All pieces and how many, a picture that says how they lie, each figure that is set, what is measured and how
    far off it may be; what can hurt stands on it or at the head of its machine."""
    table, plan = book
    sheets = machines(table, plan).sheets
    cards = {sheet.name: sheet for sheet in sheets}
    heads = [sheet for sheet in sheets if sheet.name.startswith("at-")]
    assert all(head.cautions for head in heads)
    for one in plan.set_ups:
        card, told = cards[str(one.number)], cells(cards[str(one.number)])
        for code, count in words.pieces(*one.cuts).items():
            if one.operation != "spline slot":
                assert f"{code} x {count}" in told, (one.number, code)
        for cut in one.cuts if one.operation == "spline slot" else ():
            assert slots(cut) and all(counted in told for counted in slots(cut)), (one.number, cut.codes)
        figures = (*words.set_of(one), *(own for cut in one.cuts for own in cut.settings))
        assert figures and all(words.figure(own, table.profile.units) in told for own in figures), one.number
        assert card.pictures, one.number
        if one.operation not in words.HEIGHTS:
            assert all(LIES.search(picture.caption) for picture in card.pictures), one.number
        if one.operation == "pin slot":
            edges = {lay.against for cut in one.cuts for lay in cut.lays}
            assert len(card.pictures) == len(edges), one.number
        assert len(card.ticks) == 1 and "±" in card.ticks[0] and "measured" in card.ticks[0]
        lettered = [row for grid in card.grids if "picture" in grid.heading for row in grid.rows]
        assert len(card.pictures) == 1 or all(row[-1] for row in lettered), one.number


def test_other_work_says_what_to_measure(book: tuple[Table, WorkPlan]) -> None:
    """What no machine is set for tells its pieces, how it is done, what is measured, or where all that is told, a
    step's proof on its sheet; its day has what can hurt."""
    table, plan = book
    days = {sheet.name: sheet for sheet in work(table, plan).sheets}
    lines = {told.partition(". ")[0]: told for sheet in days.values() for told in sheet.ticks}
    assert any(" As at " in told for told in lines.values())
    for one in plan.operations:
        if one.operation.set_up:
            continue
        line = next(told for told in days[f"day-{one.day}"].ticks if told.startswith(f"{one.number}. "))
        there = lines[line.rpartition(" As at ")[2].rstrip(".")] if " As at " in line else line
        if one.operation.step:
            there = " ".join((there, *_told(one.operation)))
            assert f"step {one.step}" in line, line
        assert one.operation.works_on in line and one.operation.measure in there, line
        assert all(told.lower() in there.lower() for told in map(str, one.operation.tells)), line
        assert one.operation.measure or one.operation.does == "make the jigs", line
        assert set(one.operation.cautions) <= set(days[f"day-{one.day}"].cautions)


def test_how_a_set_up_is_worked_is_told_once(book: tuple[Table, WorkPlan]) -> None:
    """On its card; the plan tells what is set and leads there."""
    table, plan = book
    cards = {sheet.name: " ".join(sheet.words).lower() for sheet in machines(table, plan).sheets}
    lines = {told.partition(". ")[0]: told for sheet in work(table, plan).sheets for told in sheet.ticks}
    for one in plan.operations:
        if set_up := one.operation.set_up:
            told = [str(words).lower() for words in (*set_up.does, *set_up.warnings)]
            assert all(words in cards[one.set_up] for words in told), one.number
            assert not any(words in lines[str(one.number)].lower() for words in told), one.number


def test_cards_and_plan_name_each_other(book: tuple[Table, WorkPlan]) -> None:
    """Each card has its number in the plan at its head, each line of the plan the card's number, and leads there."""
    table, plan = book
    heads = {f"machines-{sheet.name}": sheet.title for sheet in machines(table, plan).sheets}
    first, *days = work(table, plan).sheets
    (grid,) = first.grids
    told = [line for day in days for line in day.ticks]
    for one, row, address, line in zip(plan.operations, grid.rows, grid.to, told, strict=True):
        assert line.startswith(f"{one.number}. ")
        if one.set_up:
            assert one.operation.set_up is not None
            if len(one.operation.set_up.codes) > MANY:
                all_in_all = sum(words.pieces(*one.operation.set_up.cuts).values())
                head = line.partition(": ")[2].partition("; ")[0]
                assert sum(map(int, re.findall(r" x (\d+)", head))) == all_in_all, line
            assert row[4] == f"set-up {one.set_up}" and row[4] in line and address == f"machines-{one.set_up}"
            assert heads[address].startswith(f"{one.set_up}. ") and heads[address].endswith(f"(plan: {one.number})")


def test_a_setting_that_is_measured_in_two_ways_tells_where_either_is(book: tuple[Table, WorkPlan]) -> None:
    """No name stands twice before what it is, unless it is told which pieces or faces it is for."""
    for sheet in machines(*book).sheets:
        for grid in sheet.grids:
            names = Counter(re.findall(r"(?:^|; )([^;:]+): ", grid.caption))
            assert not [name for name, count in names.items() if count > 1], grid.caption
