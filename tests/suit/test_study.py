"""A study: proposals for workshops of chance, each written, checked and made by the commands, then added up."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from templategen.cli import main
from templategen.suit import judge as judging
from templategen.suit import search as searched
from templategen.suit.files import text_with
from templategen.suit.judge import proposals
from templategen.suit.search import search

WORKSHOPS = (31, 39, 46, 50, 77, 88, 140, 200, 201, 208, 211, 221)

BETTERED = (31, 39, 46, 50, 211)
"""Those of them for which this much work is known to propose something."""


@pytest.mark.slow
@pytest.mark.parametrize("seed", WORKSHOPS)
def test_what_is_proposed_passes_check_and_is_made_as_told(
    seed: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Cost, boards, hours and set-ups are those of the written lists, to the last piece."""
    from tests.bench.suit import workshop

    for where, name, most in ((searched, "SPREAD", 8), (searched, "BETTERED", 2), (judging, "LAID", 6)):
        monkeypatch.setattr(where, name, most)
    held = workshop(seed)
    assert held
    profile, own = held
    found = proposals(profile, own, search(profile, own.cost), 2)
    assert found or seed not in BETTERED
    for number, one in enumerate(found):
        file, folder = tmp_path / f"{number}.toml", tmp_path / f"packet-{number}"
        file.write_text(text_with(profile, dict(one.changes)), encoding="utf-8")
        checked = CliRunner().invoke(main, ["check", str(file), "--json"])
        assert checked.exit_code == 0, checked.output
        made = CliRunner().invoke(main, ["make", str(file), "-o", str(folder), "--only", "stock,jigs,lists"])
        assert made.exit_code == 0, made.output
        sheets = json.loads((folder / "packet.json").read_text("utf-8"))["stock"]
        bought = [row for row in _rows(folder, "buy-list") if row["kind"] == "board"]
        assert sum(float(row["cost"]) for row in bought) == pytest.approx(one.cost, abs=0.006)
        assert sum(int(row["pieces"]) for row in bought) == len(sheets) == one.boards
        minutes = [float(row["minutes"]) for row in _rows(folder, "plan")]
        assert minutes[-1] / 60 == pytest.approx(one.hours, abs=0.6 / 60)
        assert len({row["set_up"] for row in _rows(folder, "set-ups")}) == one.set_ups
        assert one.cost < own.cost


def _rows(folder: Path, name: str) -> list[dict[str, str]]:
    with (folder / "lists" / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
