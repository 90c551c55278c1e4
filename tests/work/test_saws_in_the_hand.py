"""Saws held in the hand: what ends are planed on, thick pieces, what is planed down, what is listed."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from math import atan2, degrees
from typing import Any

import pytest

from templategen.drawing.bench_view import BenchView
from templategen.drawing.drawing import Stroke, words_of
from templategen.drawing.jig_in_use import jig_in_use
from templategen.drawing.machine_marks import CUTTER
from templategen.drawing.machine_plans import saw_off
from templategen.fit.plan import plan_assembly
from templategen.jigs.shooting_board import TALLEST
from templategen.packet.lay_out import lay_out
from templategen.packet.page.machines import machines
from templategen.packet.page.stock import sawn_instead, stock
from templategen.shop.boards import rough_in
from templategen.shop.set_ups.ways import TO_THE_LINE
from templategen.shop.set_ups.words import lies
from templategen.shop.trial_wood import trial_wood
from templategen.table.assembly import Table
from templategen.work.plan import WorkPlan, work_plan
from templategen.work.tools import tools_of
from tests.nesting.by_words import faults_by_words
from tests.table.made import table_of

SHOP: Mapping[str, Any] = {
    "shop.machines": ("planer", "circular saw", "drill press", "hand router", "drill", "sander"),
}


@cache
def planned(depth: float = 65.0) -> tuple[Table, WorkPlan]:
    """The side table in that shop."""
    table = table_of({**SHOP, "shop.circular_saw_depth": depth}, "towpath-side")
    return table, work_plan(table, plan_assembly(table))


def test_a_shooting_board_is_made_for_all_that_is_planed_on_it() -> None:
    """Each card that planes to a line names it, the scrap ring too; its bed has a line at each of their angles, and
    what stands out over a plane on its side goes into the vice."""
    table, plan = planned()
    (jig,) = (one for one in plan.jigs.jigs if one.code == "SHOOTING-BOARD")
    assert {part.thickness <= TALLEST for part in table.parts if part.code in jig.serves} == {True}
    lines = {round(degrees(atan2(-one.edge.direction_at(0).x, one.edge.direction_at(0).y)), 3) for one in jig.scribes}
    shot = [one for one in plan.set_ups if TO_THE_LINE in one.does]
    assert lines == {0.0, *(round(one.value("angle"), 3) for one in shot)}
    assert shot and {one.operation for one in shot} == {"crosscut", "mitre"}
    for one in shot:
        assert "SHOOTING-BOARD" in one.jigs and round(one.value("angle"), 3) in lines
        told = " ".join(one.does)
        assert all((code in told) == (code not in jig.serves) for code in one.codes), told
    (gauge,) = (one for one in plan.jigs.jigs if one.code == "MITRE-GAUGE")
    said = " ".join((*gauge.use, *gauge.proof, *gauge.cautions))
    assert "shot at one setting" in said and not any(word in said for word in ("a stop", "blade", "saw"))
    assert {"the plane's way"} <= {mark.text for mark in words_of(jig_in_use(gauge, table).marks)}
    (ring,) = (one.operation for one in plan.operations if one.operation.does == "scrap ring")
    assert "SHOOTING-BOARD" in ring.jigs and "shooting board's fence" in ring.tells[0]
    listed = {row.item: row for row in tools_of(table, plan)}
    assert {"shooting board", "bench vice, bench hook", "edge guide for the router"} <= listed.keys()
    assert "the saw cuts " in listed["straight guide for the circular saw"].size


@pytest.mark.parametrize("depth", [35.0, 65.0])
def test_what_is_thicker_than_the_saw_cuts_is_sawn_from_both_faces(depth: float) -> None:
    """The cards name the pieces, and no other; boards too. What two cuts don't reach goes by the rip saw."""
    table, plan = planned(depth)
    for one in (one for one in plan.set_ups if "circular saw" in one.needs):
        thick = [code for code in one.codes if table.part(code).thickness > depth]
        told = [line for line in one.does if "the line on both faces" in line]
        assert bool(told) == bool(thick) and all(line.startswith(", ".join(thick) + ":") for line in told)
    sawn = [one.operation for one in plan.operations if one.operation.does == "saw out"]
    told = [any("half the thickness from either" in line for line in one.tells) for one in sawn]
    assert any(told) == (depth == 35.0) and not all(told)


def test_what_is_hardly_too_thick_is_planed_where_a_hand_would_saw_it() -> None:
    """No rip saw for shavings: pieces come out as thick as sawn ones, and lie overnight; the bench follows it."""
    text = {"top.thickness": 34.0, "slats.thickness": 24.0, "joints.spline": "through"}
    table = table_of({**SHOP, **text, "shop.planing": 3.0}, "towpath-side")
    plan = work_plan(table, plan_assembly(table))
    done = [one.operation for one in plan.operations]
    for one in (one for one in done if one.does in ("plane down", "saw flatwise")):
        over = {piece.before[2] - table.part(piece.code).thickness for piece in one.pieces if piece.before}
        layers = [piece for piece in one.pieces if piece.count > 1 and piece.holds]
        assert one.wait and (max(over) <= 15.0 if one.does == "plane down" else min(over) > 15.0 or layers), over
    assert any(one.does == "plane down" for one in done)


def test_a_second_edge_of_an_end_is_told_where_wood_is() -> None:
    """The piece is sawn to its length before: what the edge takes off is told along the edge of that corner, inside
    the length; there the line leans away from the end that it is told from, in words and picture."""
    table, plan = planned()
    told = 0
    for set_up in (one for one in plan.set_ups if one.operation == "mitre"):
        for cut in (one for one in set_up.cuts if set_up.setting("beyond", one)):
            assert not set_up.setting("stop", cut)
            for lay in cut.lays:
                assert set_up.value("beyond", cut) < table.part(lay.code).blank.bounds.width
                assert "it leans away from the" in lies(set_up, lay, "slat")
                view = BenchView(set_up, cut, lay, table.part(lay.code), frozenset(), lambda one: one.says)
                (line,) = (one for one in saw_off(view) if one.layer is CUTTER and isinstance(one, Stroke))
                up, down = sorted((line.edge.start, line.edge.end), key=lambda one: -one.y)
                assert (down.x > up.x) is view.is_right(lay.worked)
                told += 1
    assert told == 4


def test_the_guide_is_longer_than_all_that_is_sawn_along_it() -> None:
    """Than rough pieces and test strips that cards rip, and by a sole; boards that are longer go by a chalk line, and
    curves of jigs by the bow saw: all of them listed."""
    table, plan = planned()
    listed = {row.item: row for row in tools_of(table, plan)}
    told = listed["straight guide for the circular saw"].size
    ripped = {code for one in plan.set_ups if one.operation == "rip" for code in one.codes}
    long = [rough_in(table.profile, table.part(code), 1).length for code in ripped]
    long += [one.length for one in trial_wood(table, plan.set_ups)]
    assert float(told.split(" mm")[0]) >= max(long) + 300
    assert "bow saw takes" in sawn_instead(table.profile.shop)
    assert {"chalk line", "bow saw"} <= listed.keys()
    table = table_of({}, "towpath-side")
    listed = {row.item: row for row in tools_of(table, work_plan(table, plan_assembly(table)))}
    assert listed.keys().isdisjoint({"chalk line", "bow saw"})


def test_cuts_of_boards_are_marked_where_no_saw_has_a_fence() -> None:
    """Neither fence nor stop nor gauge in any words; the guide is clamped beside the line, a chalk line goes
    further. By those words the boards come apart as laid out."""
    table, _ = planned()
    laid = lay_out(table)
    section = stock(table, laid)
    assert section is not None and any(one.cuts for one in laid.sheets)
    words = [line for sheet in section.sheets for line in (*sheet.short, *sheet.words)]
    assert not [one for one in words if re.search(r"\b(fence|stop|gauge)\b", one)]
    assert any("clamp the saw's guide beside it" in one and "chalk line" in one for one in words)
    assert [text for one in laid.sheets for text in faults_by_words(one, table)] == []


def test_a_row_of_a_card_begins_with_a_word() -> None:
    """FILLER's, one end of which is only cut clean, has nothing before what its other end is cut to."""
    table, _ = planned()
    sheets = machines(table, work_plan(table, plan_assembly(table, ("measure",)))).sheets
    rows = [row for sheet in sheets for grid in sheet.grids for row in grid.rows if "FILLER" in str(row[0])]
    assert rows and not [row for row in rows if any(str(cell).startswith(";") for cell in row)]
