"""Boards sawn as the words of their cuts say: every blank comes off whole, with what is allowed round it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from templategen.errors import DesignError
from templategen.packet.lay_out import lay_out, lay_out_supplies
from templategen.packet.supply import supplies
from templategen.table.assembly import build_table
from templategen.table.profile.read import profile_from_text, read_profile
from tests.nesting.by_words import faults_by_words
from tests.random_profiles import profile_text

PROFILES = Path(__file__).parents[2] / "profiles"
SIZES = ("top.thickness", "slats.thickness", "base.thickness", "legs.section")


@pytest.mark.parametrize("name", ["side", "dining", "inch", "hex"])
def test_boards_of_shipped_tables_sawn_by_their_words(name: str) -> None:
    """Each board of each table."""
    table = build_table(read_profile(PROFILES / f"towpath-{name}.toml"))
    laid = lay_out(table)
    assert [text for one in laid.sheets for text in faults_by_words(one, table)] == []
    assert sum(len(one.cuts) for one in laid.sheets) > 50


def study(seeds: range) -> tuple[int, list[str]]:
    """How many boards of tables of chance were sawn, of stock as wide as chance has it, and what was wrong."""
    sawn, wrong = 0, []
    for seed in seeds:
        stock = "".join(
            f'[[stock]]\nname = "board {number}"\nlength = "2600 mm"\nwidth = "{130 + 40 * (seed % 4)} mm"\n'
            f'thickness = "{size}"\n'
            for number, size in enumerate(SIZES)
        )
        try:
            table = build_table(profile_from_text(profile_text(seed) + stock, f"random-{seed}"))
        except DesignError:
            continue
        found, unserved = supplies(table)
        laid = lay_out_supplies(([replace(supply, only_jigs=True) for supply in found], unserved))
        sawn += len(laid.sheets)
        wrong += [f"{seed}: {text}" for one in laid.sheets for text in faults_by_words(one, table)]
    return sawn, wrong


@pytest.mark.wide
def test_boards_of_random_tables_sawn_by_their_words() -> None:
    """Those of the tables among twenty."""
    sawn, wrong = study(range(300, 320))
    assert wrong == []
    assert sawn >= 40
