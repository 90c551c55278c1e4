"""The plan of work: everything once, in an order that can be worked, the same sizes and ways wherever they stand."""

from __future__ import annotations

import csv
from functools import cache
from io import StringIO
from typing import Any

import pytest

from templategen.fit.plan import plan_assembly
from templategen.output.table_csv import csv_bytes
from templategen.packet.make import make_packet
from templategen.packet.shipped import shipped_text
from templategen.shop.closing.ways import WAYS, Way
from templategen.shop.gluing.plan import gluing_plan
from templategen.shop.pins import pins_of
from templategen.shop.set_ups.run import set_ups
from templategen.table.assembly import Table
from templategen.table.profile.read import profile_from_text
from templategen.work.listed import plan_list
from templategen.work.plan import WorkPlan, work_plan
from tests.table.made import table_of


@cache
def planned(way: str = "stop", tables: int = 1) -> tuple[Table, WorkPlan]:
    """A table and its plan, the ring closed in a way by name."""
    table = table_of()
    chosen: Way = next(one for one in WAYS if one.name == way)
    gluing = gluing_plan(table, plan_assembly(table))
    return table, work_plan(table, set_ups(table, tables), gluing, chosen, tables)


def places(plan: WorkPlan) -> dict[str, int]:
    """The first number of each operation by its name."""
    found: dict[str, int] = {}
    for one in plan.operations:
        found.setdefault(one.operation.does, one.number)
    return found


def test_every_set_up_and_step_is_done_once() -> None:
    """Each set-up and each step of the assembly has one operation, numbered through, days never going back."""
    table, plan = planned()
    work = [one.operation for one in plan.operations]
    assert sorted(one.set_up for one in work if one.set_up) == [one.number for one in set_ups(table)]
    steps = [one.step for one in work if one.step]
    assert steps == list(range(1, len(plan_assembly(table).steps) + 1))
    assert [one.number for one in plan.operations] == list(range(1, len(work) + 1))
    days = [one.day for one in plan.operations]
    assert days == sorted(days) and days[0] == 1


def test_the_order_can_be_worked() -> None:
    """Boards before blanks, blanks before parts, all parts before glue, the ring glued before it is sawn round, sawn
    before it is rounded over, pinned, sanded and oiled, and the top let down last."""
    _, plan = planned()
    at = places(plan)
    order = ["saw out", "face and edge", "plane", "rip", "crosscut", "mitre", "spline slot", "mortise", "dry fit",
             "first finish", "saw round", "edge round-over", "bore and pin", "finish, coat 1 of 2"]  # fmt: skip
    assert [at[name] for name in order] == sorted(at[name] for name in order)
    assert plan.operations[-1].operation.does == "let the top down on the legs"
    glued = [one.number for one in plan.operations if one.operation.step]
    assert at["dry fit"] < min(glued) and max(glued[:-1]) < at["saw round"]


@pytest.mark.parametrize("way", ("scrap", "measure", "halves"))
def test_the_way_of_closing_has_its_work(way: str) -> None:
    """Each way of closing has an operation of its own at the place where it is needed, the plain one none."""
    name = {"scrap": "scrap ring", "measure": "fit the last segment", "halves": "trim the half rings"}[way]
    at = places(planned(way)[1])
    assert name not in places(planned()[1])
    assert at[name] < (at["mitre"] if way == "scrap" else at["saw round"])
    assert way == "scrap" or at[name] > at["dry fit"]


def test_batches_go_operation_by_operation() -> None:
    """Three tables have the same operations as one, done to three times the pieces, and take longer, though less than
    three times as long: machines are set once."""
    one, three = planned()[1], planned(tables=3)[1]
    assert [work.operation.does for work in one.operations] == [work.operation.does for work in three.operations]
    assert one.minutes < three.minutes < 3 * one.minutes
    slats = next(work.operation for work in three.operations if work.operation.does == "chamfer")
    assert "SLAT-01 x 18" in slats.works_on


def test_hours_follow_the_makers_rates() -> None:
    """A maker who sets up in half the time is done sooner, by that for each set-up; a shorter day makes more days."""
    table, plan = planned()
    quick = table_of({"rates.set_up": 5.0, "rates.day": 2.0})
    gluing = gluing_plan(quick, plan_assembly(quick))
    other = work_plan(quick, set_ups(quick), gluing, WAYS[0])
    settings = sum(one.operation.set_up > 0 for one in plan.operations)
    assert plan.minutes - other.minutes >= 10 * settings
    assert other.days > plan.days
    assert len(set_ups(table)) == settings


def rows(data: bytes) -> list[dict[str, str]]:
    """A written list."""
    return list(csv.DictReader(StringIO(data.decode())))


def test_written_lists_name_the_same_sizes_ways_and_pins() -> None:
    """Out of the written packet: layouts lay what the cut list says is sawn out, set-ups and steps stand in the plan
    by their numbers with the same pieces and machines, pins are told in the same words."""
    profile = profile_from_text(shipped_text("towpath-side"), "towpath-side")
    packet = make_packet(profile, ("stock", "lists"))
    lists = {name: rows(packet.files[f"lists/{name}.csv"])
             for name in ("cut-list", "plan", "set-ups", "gluing", "hardware")}  # fmt: skip
    record: Any = packet.record
    cut = {row["code"]: row for row in lists["cut-list"]}
    seen = 0
    for piece in record["stock"]:
        for code, sawn in piece["sawn_out"].items():
            if code in cut and piece["mode"] == "sawn":
                xs, ys = zip(*((x, y) for x, y, _ in sawn["outline"]), strict=True)
                told = float(cut[code]["rough_length_mm"]), float(cut[code]["rough_width_mm"])
                assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx(told, abs=0.051), code
                assert sawn["pieces"] == 1 or f"of {sawn['pieces']}" in cut[code]["sawn_out"]
                seen += 1
    assert seen > 5
    plan = {row["set_up"]: row for row in lists["plan"] if row["set_up"]}
    for row in lists["set-ups"]:
        assert plan[row["set_up"]]["operation"] == row["operation"]
        assert plan[row["set_up"]]["way"].startswith(row["machine"])
        for pieces in row["parts"].split(", "):
            assert pieces.replace(" x", " x ") in plan[row["set_up"]]["works_on"]
    steps = {row["step"]: row for row in lists["plan"] if row["step"]}
    assert [row["step"] for row in lists["gluing"][:-1]] == list(steps)
    assert all(steps[row["step"]]["operation"] == row["does"] for row in lists["gluing"][:-1])
    (pins,) = [row for row in lists["hardware"] if row["item"] == "slat pins"]
    (bored,) = [row for row in lists["plan"] if row["operation"] == "bore and pin"]
    assert pins["for"] in bored["tells"] and bored["works_on"].startswith(pins["amount"])


def test_the_list_is_whole() -> None:
    """A row for each operation and one for the whole, no cell left over, and the pins told once."""
    table, plan = planned()
    found = rows(csv_bytes(*plan_list(plan)))
    assert len(found) == len(plan.operations) + 1
    assert all(None not in row for row in found)
    assert sum(pins_of(table).sentence in row["tells"] for row in found) >= 1
