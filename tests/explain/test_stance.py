"""Tipping, parasol and sinking as explained are what the checks measure."""

from __future__ import annotations

import pytest

from templategen.checks.balance import balance_of, least_weight
from templategen.checks.finding import Finding
from templategen.checks.stance import stance_findings
from templategen.explain.quantities import book_of
from templategen.explain.stance import write_strength
from templategen.strength.held import turning
from templategen.table.assembly import Table
from templategen.table.rails import top_bolt
from tests.table.made import table_of


def told(table: Table, says: str) -> Finding:
    """The finding whose words hold `says`."""
    return next(f for f in stance_findings(table) if says in f.says)


HIGH = {"base.foot_thickness": 60.0}


@pytest.mark.parametrize(
    ("name", "feet"),
    [
        ("towpath-dining", {}),
        ("towpath-dining", HIGH),
        ("towpath-hex", {}),
        ("towpath-inch", {}),
        ("towpath-side", {}),
    ],
)
def test_the_formulas_come_to_what_is_found(name: str, feet: dict[str, float]) -> None:
    """Each figure told about standing has a formula of the same value, from other code than measures it; a parasol's
    base has room under high feet alone."""
    table = table_of({"limits.wind": 13.0, "limits.rim_load": 640.0} | feet, name)
    pages = book_of(table).pages
    assert pages["stance.weight"].value == pytest.approx(least_weight(table, balance_of(table).mass), rel=1e-6)
    assert round(pages["stance.tipping_force"].value) == told(table, "tips the table").measured
    assert pages["stance.rim_sinks"].value == pytest.approx(told(table, "rim sinks").measured)
    if table.profile.top.pole_hole:
        parasol, moment = told(table, "parasol"), round(pages["parasol.moment"].value / 1000)
        low = parasol.kind == "parasol-no-room"
        assert f"brings it {moment} N m" in parasol.why if low else moment == parasol.measured
        assert f"alone would stand {pages['parasol.held'].value / 1000:.0f} N m" in parasol.why


def test_a_bolted_leg_turns_as_its_formula_says() -> None:
    """The spring of the frame, from the sizes of bolt, nut and rail; and each case's share, with what it assumes."""
    table = table_of({"legs.top_joint": "bolted", "legs.barrel_nut": (15.0, 26.0), "legs.section": 68.0})
    book, bolt = book_of(table), top_bolt(table.sizes)
    assert bolt is not None
    assert book.value("legs.bolt_spring") == pytest.approx(turning(table), rel=1e-9)
    write_strength(book, table)
    leans = max(book.value("strength.lean"), book.value("strength.lean_between"))
    assert round(leans) == told(table, "leans").measured
    assert "k_mod 0.7 for wet wood" in book.pages["strength.lean"].source
