"""Every finding of the shipped tables reads as fine, or is an instruction that the plan of work carries out."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.shipped_packets import packet_files

CARRIED = {
    "top.parasol": "hand it over: {do}",
    "limits.sitting_load": "hand it over: say that nobody may sit, stand or climb on it",
    "shop.router_bit": "groove: stopped: a round bit leaves a round end; square it with a chisel",
    "shop.bandsaw_table": "saw round: {do}",
    "shop.open_time": "close the two half rings on the cross: no time to spare: two persons spread at once",
    "shop.holding": "crosscut: a loose block at the stop is taken away before the cut",
    "slats.run": "mitre: further than the saw turns: on SLED, its fence on the line of this angle",
    "router.bits": "mortise: ",
    "top.segments": "mitre: {do}",
    "base.length": "hand it over: {do}",
    "base.glides": "finish, coat 1 of 2: end grain and feet first, again until they take no more",
}
"""By the key of what is to be done: the operation and what it says there."""


def is_beyond(finding: dict[str, Any]) -> bool:
    """Whether what was measured lies outside the range that is wanted; a size asked for isn't a limit."""
    low, high = finding["wanted"]
    below, above = low is not None and finding["measured"] < low, high is not None and finding["measured"] > high
    return low != high and (below or above)


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex", "towpath-inch", "towpath-side"])
def test_what_is_to_be_done_stands_in_the_plan(name: str) -> None:
    """Nothing of the written packet is above a note, and each thing to do is said where it is done."""
    record = json.loads(packet_files(name)["packet.json"])
    told = [
        f"{one['operation']}: {words}"
        for one in record["plan"]["operations"]
        for words in (*one["tells"], *one["cautions"], one["measure"])
    ]
    assert {finding["level"] for finding in record["findings"]} == {"note"}
    assert not [finding for finding in record["findings"] if is_beyond(finding) and not finding["do"]]
    asked = [finding for finding in record["findings"] if finding["do"]]
    assert len(asked) >= 3
    for finding in asked:
        operation, _, words = CARRIED[finding["where"]].format(do=finding["do"]).partition(": ")
        assert any(one.startswith(f"{operation}: ") and words in one for one in told), finding
    squared = any(one.startswith("mortise: square the corners") for one in told)
    assert squared == any("round corners in mortises" in finding["do"] for finding in asked)


def test_the_plan_says_what_the_years_play_asks_for() -> None:
    """Laps are glued in the middle and tried with the play that they are drawn with; boards are measured first."""
    record = json.loads(packet_files("towpath-side")["packet.json"])
    work = record["plan"]["operations"]
    first = next(one for one in work if one["operation"] in ("saw out", "rout out"))
    assert first["tells"][0].startswith("before the first cut measure the moisture")
    lapped = [one for one in work if "lap" in " ".join(one["tells"]) and "step" in one]
    assert lapped and all("middle third" in " ".join(one["tells"]) for one in lapped)
    laps = [one["measure"] for one in work if one["operation"] == "lap"]
    assert laps and not any("without play" in words for words in laps)
