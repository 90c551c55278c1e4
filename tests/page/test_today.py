"""What is printed for one day alone: all that its operations make, saw out and are worked with."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest

from tests.page.browser import loaded, written
from tests.shipped_packets import packet_files, page_of

TODAY = """
(function (day) {
  document.querySelectorAll("#work-order tbody tr").forEach(function (row) {
    row.querySelector("input").checked = Number(row.cells[2].textContent) < day;
  });
  window.print = function () {};
  document.querySelector("[data-print]").value = "day";
  document.querySelector("[data-go]").click();
  return Array.prototype.map.call(document.querySelectorAll("article.chosen"), function (one) { return one.id; });
})(DAY)
"""


def days_of(name: str) -> dict[int, list[dict[str, Any]]]:
    """The operations of a packet's plan by their day."""
    days: dict[int, list[dict[str, Any]]] = {}
    for one in json.loads(packet_files(name)["packet.json"])["plan"]["operations"]:
        days.setdefault(one["day"], []).append(one)
    return days


@pytest.mark.parametrize("name", ["towpath-side", "towpath-dining"])
def test_a_day_alone_has_its_jigs_and_layouts(browser: Any, tmp_path: Any, name: str) -> None:
    """The first two days, a middle one and the last: sheets of jigs that are made or used, of the boards sawn out."""
    page, days = page_of(name), days_of(name)
    view = loaded(browser, written(tmp_path, page))
    layouts = re.findall(r'<article id="(stock-[^"]+)"', page)
    numbers = sorted(days)
    for day in dict.fromkeys((*numbers[:2], numbers[len(numbers) // 2], numbers[-1])):
        chosen = set(view.evaluate(TODAY.replace("DAY", str(day))))
        assert f"work-day-{day}" in chosen
        wanted = {code for one in days[day] for code in one["jigs"]}
        holders = re.findall(r'<article id="(jigs-[^"]+)"[^>]* data-holds="([^"]+)"', page)
        due = {key for key, held in holders if {f"jig:{code}" for code in wanted} & set(held.split())}
        assert due == {one for one in chosen if one.startswith("jigs-")} and bool(due) == bool(wanted)
        covered = {one for key, held in holders if key in due for one in held.split()}
        assert {f"jig:{code}" for code in wanted} <= covered
        sawn = any(one["operation"] in ("saw out", "rout out") for one in days[day])
        assert sawn <= bool({one for one in chosen if one in layouts}), day
    view.close()
