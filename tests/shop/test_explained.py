"""Every number of the cut list, the set-ups and the gluing plan is explained, in one book."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

import pytest

from templategen.explain.book import Quantity
from templategen.explain.story import story_of
from templategen.explain.words import story_lines
from templategen.fit.plan import Plan
from templategen.packet.shipped import shipped_names
from templategen.shop.explained import explained
from templategen.shop.set_ups.run import set_ups
from templategen.table.assembly import Table
from templategen.table.profile.keys import SECTIONS
from tests.explain.book_of_tables import by_python
from tests.explain.listed_figures import cut_list_figures
from tests.random_profiles import tables
from tests.table.made import table_of

UNPLANNED = Plan((), "locked")
"""Stands in for the order of assembly, which takes long to find and has its own tests."""

KEYS = frozenset(key.path for section in SECTIONS.values() for key in section)


Figures = tuple[tuple[str, float], ...]
Told = tuple[Table, Mapping[str, Quantity], Figures]


def told(table: Table) -> Told:
    """A table, everything that explains it, and every figure of its cut list and set-ups."""
    own = [(figure.quantity, figure.value) for set_up in set_ups(table) for figure in set_up.figures]
    return table, explained(table, UNPLANNED), (*cut_list_figures(table), *own)


@lru_cache(maxsize=1)
def all_told() -> tuple[Told, ...]:
    """Shipped tables and random ones."""
    return tuple(map(told, [*(table_of(name=name) for name in shipped_names()), *tables(range(10))]))


@pytest.mark.wide
def test_every_number_of_both_lists_is_explained() -> None:
    """Each figure of the cut list and of the set-ups has a quantity of the same value."""
    for one in all_told():
        _agrees(*one)


@pytest.mark.wide
def test_each_comes_down_to_what_was_given() -> None:
    """From each figure the terms lead, without a circle, to keys of the profile or to figures with a source, and each
    formula on the way comes to its value."""
    for one in all_told():
        _ends(*one)


@pytest.mark.slow
def test_figures_of_many_tables_are_explained() -> None:
    """The same holds of all the random tables that quantities are tried on, and more."""
    for table in tables(range(10, 100)):
        one = told(table)
        _agrees(*one)
        _ends(*one)


def _agrees(table: Table, pages: Mapping[str, Quantity], figures: Figures) -> None:
    for name, value in figures:
        assert pages[name].value == pytest.approx(value, abs=1e-7), (table.profile.name, name)


def _ends(table: Table, pages: Mapping[str, Quantity], figures: Figures) -> None:
    known: dict[str, bool] = {}
    for name, _ in figures:
        _walk(pages, name, known, ())


def _walk(pages: Mapping[str, Quantity], name: str, known: dict[str, bool], above: tuple[str, ...]) -> None:
    """Follows one figure down; those known already are done."""
    assert name not in above, f"{name} goes round in a circle"
    if name in known:
        return
    quantity = pages[name]
    for _, term in quantity.terms:
        _walk(pages, term, known, (*above, name))
    if quantity.formula:
        values = {symbol: pages[term].value for symbol, term in quantity.terms}
        assert by_python(quantity.formula, values) == pytest.approx(quantity.value, rel=1e-9, abs=1e-9), name
    else:
        assert not quantity.terms and quantity.source, name
        assert name not in KEYS or quantity.source.startswith(("profile line", "default"))
    known[name] = True


def test_stories_of_set_ups_can_be_told() -> None:
    """Every figure of the side table's set-ups gives a story that starts with it and ends in what was given."""
    _, pages, figures = told(table_of(name="towpath-side"))
    for name in dict(figures):
        story = story_of(pages, name)
        assert (*story.steps, *story.given)[0].name == name and story.given
        assert all(len(line) < 200 for line in story_lines(story, pages, "mm"))
