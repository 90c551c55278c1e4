"""The licence table names just the dependencies there are, each with a bound above."""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import PackageNotFoundError, metadata
from pathlib import Path

ROOT = Path(__file__).parent.parent


def dependencies() -> dict[str, str]:
    """Name and range of each run-time dependency."""
    told = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
    return {re.split(r"[<>=!~; ]", line, maxsplit=1)[0].lower(): line for line in told}


def licences() -> dict[str, str]:
    """Name and licence of each row of the table."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = text.partition("<!-- licences: begin -->")[2].partition("<!-- licences: end -->")[0]
    rows = [[cell.strip() for cell in line.strip("|").split("|")] for line in table.strip().splitlines()[2:]]
    return {row[0]: row[1] for row in rows}


def test_every_dependency_has_its_licence_in_the_table() -> None:
    """The table has a row for each dependency and for nothing else."""
    assert set(licences()) == set(dependencies())


def test_every_dependency_is_bounded_above() -> None:
    """A next major version isn't taken unseen."""
    assert [line for line in dependencies().values() if "<" not in line and "==" not in line] == []


def test_the_licences_are_those_the_packages_tell() -> None:
    """Each installed package tells a licence of the same family as the table."""
    families = ("MIT", "BSD", "Apache", "OFL")
    for name, licence in licences().items():
        try:
            told = metadata(name)
        except PackageNotFoundError:
            continue
        words = " ".join(
            [told.get("License-Expression") or "", told.get("License") or "", *(told.get_all("Classifier") or [])]
        )
        assert any(family in licence and family in words for family in families), (name, licence, words[:200])
