"""Tables of which sizes come level with each other go all the way: halves, quarters, sums that meet."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import fields
from itertools import islice
from random import Random

import pytest

from templategen.drawing.drawing import Drawing, Shape, Stroke
from templategen.drawing.elevation import elevation_drawing
from templategen.drawing.part_sheet import part_drawing
from templategen.drawing.plan import plan_drawing
from templategen.drawing.section import section_drawing
from templategen.drawing.template import template
from templategen.errors import DesignError
from templategen.packet.make import make_packet
from templategen.packet.shipped import shipped_names
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model import Profile
from tests.table.made import changed, profile_of

SECTIONS = ("top", "slats", "joints", "legs", "base")


def sizes_of(profile: Profile) -> dict[str, float]:
    """The lengths of a profile by key."""
    sections = ((name, getattr(profile, name)) for name in SECTIONS)
    known = {f"{name}.{one.name}": getattr(part, one.name) for name, part in sections for one in fields(part)}
    return {key: value for key, value in known.items() if isinstance(value, float) and value > 0}


def level_with(rng: Random, sizes: dict[str, float], key: str) -> float | None:
    """A size near that of `key` which meets others: a half, a quarter, a sum or a difference of theirs."""
    a, b = (sizes[rng.choice([one for one in sizes if one != key])] for _ in range(2))
    meets = [a, a / 2, a / 4, a + b, abs(a - b), abs(a - b) / 2, abs(a - b) / 4, (a + b) / 2]
    near = [size for size in meets if sizes[key] / 1.6 < size < sizes[key] * 1.6]
    return rng.choice(near) if near else None


def level_profile(seed: int) -> Profile:
    """A neighbour of a shipped table with one to three of its sizes level with others."""
    rng = Random(seed)
    profile = profile_of(name=rng.choice(shipped_names()))
    for _ in range(rng.randint(1, 3)):
        sizes = sizes_of(profile)
        key = rng.choice(sorted(sizes))
        size = level_with(rng, sizes, key)
        if size is not None:
            profile = changed(profile, {key: size})
    return profile


def level_tables(first: int) -> Iterator[tuple[int, Table]]:
    """Those that can be built, each with its seed."""
    seed = first
    while True:
        with suppress(DesignError):
            yield seed, build_table(level_profile(seed))
        seed += 1


def hold_together(drawing: Drawing) -> None:
    """No edge of a drawing is without length."""
    for mark in drawing.marks:
        if isinstance(mark, Shape | Stroke):
            edges = mark.outline.edges if isinstance(mark, Shape) else (mark.edge,)
            assert all(edge.length > 1e-7 for edge in edges), (drawing.title, mark.layer.name)


@pytest.mark.wide
def test_level_sizes_are_drawn() -> None:
    """Section, elevation and plan of sixty, a sheet and a template of each: none fails, no edge is without length."""
    for seed, table in islice(level_tables(0), 60):
        try:
            for drawing in (section_drawing(table), elevation_drawing(table), plan_drawing(table)):
                hold_together(drawing)
            part = table.parts[seed % len(table.parts)]
            hold_together(part_drawing(part, "level"))
            assert template(part, table).faces
        except Exception as trouble:
            raise AssertionError(f"seed {seed}") from trouble


def whole_packets(first: int, count: int, shares: tuple[str, ...] | None = None) -> None:
    """Makes packets of so many, every share of each or those named."""
    for seed, table in islice(level_tables(first), count):
        made = make_packet(table.profile, shares)
        assert not [one for one in made.findings if one.says.startswith("couldn't be made")], seed


@pytest.mark.slow
def test_a_level_table_is_shown_and_printed() -> None:
    """Parts, paper, jigs and page of its packet lack nothing."""
    whole_packets(100, 1, ("parts", "paper", "jigs", "page"))


@pytest.mark.slow
def test_two_thousand_level_tables_go_through_every_share() -> None:
    """Every share of two thousand neighbours of shipped tables is made."""
    whole_packets(10_000, 2_000)
