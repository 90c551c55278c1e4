"""`-v`: stages and times on standard error, and nothing else changed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from templategen.cli import main
from templategen.packet.shipped import shipped_text

LINE = re.compile(r" *(\d+) ms  (\S.*?) +(\d+\.\d{3}) s")


@pytest.fixture
def profile(tmp_path: Path) -> str:
    """The shipped side table's file."""
    path = tmp_path / "side.toml"
    path.write_text(shipped_text("towpath-side"), encoding="utf-8")
    return str(path)


def stages(text: str) -> dict[str, float]:
    """The stages told, each with its seconds; every line must be one."""
    told = [LINE.fullmatch(line) for line in text.splitlines()]
    assert all(told), text
    return {line[2]: float(line[3]) for line in told if line}


@pytest.mark.wide
def test_check_tells_its_stages(profile: str) -> None:
    """Table and proofs are told with their times; results are as without, and the next run is quiet again."""
    plain = CliRunner().invoke(main, ["check", profile])
    told = CliRunner().invoke(main, ["check", "-v", profile])
    assert told.stdout == plain.stdout and plain.stderr == ""
    assert {"table", "proofs of fit"} <= set(stages(told.stderr))
    assert CliRunner().invoke(main, ["check", profile]).stderr == ""


@pytest.mark.wide
def test_make_tells_only_what_its_shares_need(profile: str, tmp_path: Path) -> None:
    """For the drawings of parts no stock is laid out and no jig drawn."""
    words = ["make", profile, "-o", str(tmp_path / "out"), "--only", "parts", "-v", "--json"]
    told = CliRunner().invoke(main, words)
    found = stages(told.stderr)
    assert found["parts drawn"] > 0.0
    assert not {"layouts", "jigs drawn", "paper"} & set(found)


def test_refit_tells_its_stages(profile: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The re-fit itself is a stage, told however little time it takes where all are."""
    monkeypatch.setattr("templategen.packet.pipeline.WORTH_TELLING", 0.0)
    told = CliRunner().invoke(main, ["refit", profile, "-o", str(tmp_path / "out"), "--only", "lists", "-v"])
    assert "re-fit" in stages(told.stderr)
