"""A study of all paper: shipped and random tables on each size, read back from their files."""

from __future__ import annotations

from collections.abc import Iterator
from os import environ

import pytest

from templategen.errors import OutputError
from templategen.fit.plan import plan_assembly
from templategen.packet.shipped import shipped_names
from templategen.shop.gluing.marks import marks_of
from templategen.table.assembly import Table
from templategen.table.profile.model_of_shop import Paper
from tests.drawing.shipped_tables import table_of
from tests.paper.sheets import faults_of, imposed_of
from tests.random_profiles import tables

PAPERS = {
    "A4": Paper("A4", 8, 12, 1.0, 1.0),
    "A3": Paper("A3", 8, 10, 1.0, 1.0),
    "letter": Paper("letter", 10, 15, 1.0, 1.0),
    "roll": Paper((914.0,), 10, 12, 1.0, 1.0),
}
SEEDS = range(*map(int, environ.get("TEMPLATEGEN_SEEDS", "0 100").split()))


def studied(table: Table) -> Iterator[str]:
    """What is wrong with a table's templates on every size of paper; "done" for each that could be laid out."""
    letters = {number: mark.letter for number, mark in marks_of(table, plan_assembly(table)).items()}
    for size, paper in PAPERS.items():
        try:
            every = imposed_of(table, paper, letters)
        except OutputError:
            continue
        yield "done"
        for one in every:
            yield from (f"{table.profile.title}, {size}: {fault}" for fault in faults_of(table, one, letters))


@pytest.mark.slow
@pytest.mark.parametrize("name", shipped_names())
def test_shipped_tables_on_every_paper(name: str) -> None:
    """Every legend and mark in its own outline or on its tag, nothing over words or cut lines, all sheets join."""
    assert list(studied(table_of(name))) == ["done"] * len(PAPERS)


@pytest.mark.slow
@pytest.mark.parametrize("seed", SEEDS)
def test_random_tables_on_every_paper(seed: int) -> None:
    """The same of a table of chance, if it can be built."""
    for table in tables([seed]):
        assert list(studied(table)) == ["done"] * len(PAPERS)
