"""Tipping, parasol and sinking as explained are what the checks measure."""

from __future__ import annotations

import pytest

from templategen.checks.balance import balance_of, least_weight
from templategen.checks.finding import Finding
from templategen.checks.stance import stance_findings
from templategen.explain.quantities import book_of
from templategen.table.assembly import Table
from tests.table.made import table_of


def told(table: Table, says: str) -> Finding:
    """The finding whose words hold `says`."""
    return next(f for f in stance_findings(table) if says in f.says)


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex", "towpath-inch", "towpath-side"])
def test_the_formulas_come_to_what_is_found(name: str) -> None:
    """Each figure told about standing has a formula of the same value, from other code than measures it."""
    table = table_of({"limits.wind": 13.0, "limits.rim_load": 640.0}, name)
    pages = book_of(table).pages
    assert pages["stance.weight"].value == pytest.approx(least_weight(table, balance_of(table).mass), rel=1e-6)
    assert round(pages["stance.tipping_force"].value) == told(table, "tips the table").measured
    assert pages["stance.rim_sinks"].value == pytest.approx(told(table, "rim sinks").measured)
    if table.profile.top.pole_hole:
        assert round(pages["parasol.moment"].value / 1000) == told(table, "parasol").measured
        assert f"{pages['parasol.held'].value / 1000:.0f} N m" in told(table, "parasol").why
