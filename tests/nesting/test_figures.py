"""What the fixed amount of work reaches, figure by figure: a change of the search that makes one worse shows here.

A figure that gets better is written anew, here and in DEVELOPERS.md.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from templategen.nesting.bound import bound
from templategen.nesting.nest import nest
from templategen.packet.lay_out import lay_out
from templategen.table.assembly import build_table
from templategen.table.profile.read import read_profile
from tests.bench.instance import kept
from tests.bench.nesting import used_length

PROFILES = Path(__file__).parents[2] / "profiles"


@pytest.mark.parametrize(
    ("name", "tables", "spent", "sheets", "least"),
    [
        ("boards_x1", 1, 2_400_000, 5, (5, 2_178_000)),
        pytest.param("boards_x1", 20, 45_858_000, 102, (83, 39_648_000), marks=pytest.mark.wide),
        ("jig30", 1, 2_976_800, 1, (1, 2_976_800)),
    ],
)
def test_boards_of_the_kept_jobs(name: str, tables: int, spent: int, sheets: int, least: tuple[int, int]) -> None:
    """Cost (mm2 of boards), boards in use, and the proved least of both."""
    job = kept(name, tables)
    layout = nest(job.items, job.pieces, job.spacing)
    proved = bound(job.items, job.pieces, job.spacing)
    assert layout.unplaced == {}
    assert (layout.cost, len(layout.sheets)) == (spent, sheets)
    assert (proved.pieces, proved.cost) == pytest.approx(least)


def test_length_of_the_kept_sheet() -> None:
    """The jig's parts end here on their sheet, mm; the rest is one offcut."""
    job = kept("jig30")
    layout = nest(job.items, job.pieces, job.spacing)
    assert used_length(layout, job) == pytest.approx(2361.96)


@pytest.mark.parametrize(
    ("name", "spent", "used", "least"),
    [
        (
            "towpath-dining", 221.80,
            {"slat boards": 4, "rim boards": 3, "rail boards": 1, "base planks": 2, "leg posts": 3},
            {22.0: (4, 53.20), 38.0: (4, 76.00), 58.0: (2, 39.60), 75.0: (3, 48.00)},
        ),
        (
            "towpath-hex", 411.0,
            {"robinia slat boards": 6, "robinia rim planks": 2, "robinia rail planks": 2, "robinia posts": 5},
            {24.0: (6, 108.0), 42.0: (3, 132.0), 66.0: (5, 165.0)},
        ),
        (
            "towpath-inch", 314.0,
            {"5/4 oak": 4, "8/4 oak": 3, "oak for base": 1, "leg blanks": 2},
            {25.4: (4, 104.0), 38.1: (3, 114.0), 57.15: (1, 34.0), 69.85: (2, 62.0)},
        ),
        (
            "towpath-side", 142.0,
            {"iroko slat strips": 3, "iroko boards": 2, "iroko planks": 2},
            {18.0: (3, 39.0), 28.0: (2, 48.0), 45.0: (2, 55.0)},
        ),
    ],
)  # fmt: skip
def test_boards_of_the_shipped_tables(
    name: str, spent: float, used: dict[str, int], least: dict[float, tuple[int, float]]
) -> None:
    """Price of all boards, boards of each stock, and for each thickness the least number and price."""
    laid = lay_out(build_table(read_profile(PROFILES / f"{name}.toml")))
    assert laid.unplaced == {}
    assert laid.cost == pytest.approx(spent)
    assert laid.used == used
    found = {supply.thickness: (least.pieces, least.cost) for supply, least in laid.bounds}
    assert list(found) == pytest.approx(list(least))
    assert list(found.values()) == [pytest.approx(figures) for figures in least.values()]
