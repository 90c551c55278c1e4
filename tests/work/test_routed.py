"""Routed boards in the plan of work: the machine cuts them by its files, and nothing of it is sawn again."""

from __future__ import annotations

from functools import cache

from templategen.shop.set_ups.run import set_ups
from templategen.table.assembly import Table
from templategen.work.machined import machined
from templategen.work.routed import DONE_THERE, beside_router
from templategen.work.stock import from_boards
from tests.table.made import table_of

STOCK = [
    {"name": "thin strips", "length": 1800, "width": 136, "thickness": 18, "mode": "routed"},
    {"name": "wide boards", "length": 1800, "width": 166, "thickness": 28, "mode": "routed"},
    {"name": "posts", "length": 1200, "width": 140, "thickness": 45},
]
"""Rails and slats come out of routed boards, legs and ground cross out of sawn ones."""


@cache
def routed(held_by: str = "tabs") -> Table:
    """The side table out of these."""
    return table_of(name="towpath-side").with_(stock=STOCK, router_held_by=held_by)


def test_routed_boards_are_cut_by_their_files() -> None:
    """Files, thickness, line of turning over, passes, what holds, what is finished; sawn boards are sawn."""
    first = [one for one in from_boards(routed(), 1) if one.on == "boards"]
    assert [one.does for one in first] == ["saw out", "rout out", "rout out"]
    told = " ".join(first[1].tells)
    for words in (
        "plane it to 28 mm", "named after wide boards", "passes told", "-bottom file", "TURN_LINE",
        "tabs, 8 mm wide and 2.5 mm high", "finished: RAIL-LOW, RAIL-HIGH; saw none of them again", "RIM-A: ",
    ):  # fmt: skip
        assert words in told, words
    assert "RAIL-LOW: " not in told and any("bit" in one for one in first[1].cautions)
    assert any("held by a skin of 0.5 mm" in told for one in from_boards(routed("skin"), 1) for told in one.tells)


def test_what_the_machine_has_cut_is_done_once() -> None:
    """Outlines and flat faces of finished parts are told not to be cut; edges and ends, and all else, are."""
    table, finished = routed(), {"RAIL-LOW", "RAIL-HIGH", "SLAT-01", "SLAT-02", "SLAT-03"}
    seen = set()
    for set_up in set_ups(table, 1):
        plain = machined(table, set_up, 1)
        one = beside_router(plain, finished, table.profile.rates)
        done = [code for code in set_up.codes if code in finished]
        if one.does not in DONE_THERE or not done:
            assert one == plain
            continue
        seen.add((one.does, len(done) == len(set_up.codes)))
        assert one.set_up and one.tells[0] == one.set_up.warnings[0] and f"for {', '.join(done)}:" in one.tells[0]
        assert one.tells[0].startswith("nothing to do here" if len(done) == len(set_up.codes) else "not for")
        assert one.minutes == 0 if len(done) == len(set_up.codes) else 0 < one.minutes <= plain.minutes
        assert one.set_up.cuts == set_up.cuts
    assert {("lap", True), ("crosscut", False), ("rip", False)} <= seen
