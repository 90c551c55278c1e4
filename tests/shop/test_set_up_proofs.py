"""Set-ups proved on the bench: bars cut by their figures alone become the parts, and a wrong figure shows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from typing import Any, cast

import pytest
from _pytest.mark.structures import ParameterSet

from templategen.packet.shipped import shipped_names, shipped_text
from templategen.shop.set_ups.run import set_ups
from templategen.shop.set_ups.set_up import Cut, Setting, SetUp
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from tests.random_profiles import tables
from tests.shop.bench import Misfit, differences, made
from tests.table.made import table_of

WRONG = 0.5
"""By how much a figure is falsified: mm, degrees or, for counts, one."""


@cache
def shipped(name: str) -> Table:
    """A shipped table."""
    return build_table(profile_from_text(shipped_text(name), name))


def slow(*names: str) -> Iterator[ParameterSet]:
    """The names for studies that are run apart."""
    yield from (pytest.param(name, marks=pytest.mark.slow) for name in names)


def faults(table: Table, found: Sequence[SetUp], codes: Iterable[str] | None = None) -> list[str]:
    """Where pieces made by the set-ups differ from the parts."""
    told = []
    for part in table.parts:
        if codes is None or part.code in codes:
            try:
                told += [f"{part.code}: {where}" for where in differences(made(found, part.code), part)]
            except Misfit as misfit:
                told.append(f"{part.code}: {misfit}")
    return told


@pytest.mark.parametrize("name", shipped_names())
def test_shipped_set_ups_make_the_parts(name: str) -> None:
    """Every part of a shipped table comes out of a plain bar by the set-ups' own figures, within a hundredth."""
    table = shipped(name)
    assert faults(table, set_ups(table)) == []


def test_random_set_ups_make_the_parts() -> None:
    """The same for ten random ones: every run, both crossings, raked legs, relieved feet, stopped splines."""
    seen = list(tables(range(1, 11)))
    assert len(seen) >= 7
    assert [found for table in seen for found in faults(table, set_ups(table))] == []


@pytest.mark.slow
def test_many_random_set_ups_make_the_parts() -> None:
    """The same for some hundred more."""
    assert [found for table in tables(range(11, 171)) for found in faults(table, set_ups(table))] == []


@pytest.mark.parametrize("cutters", ((4.0, 3.0), (11.0, 25.0), (30.0, 5.0), (30.0, 28.0), (12.0, 10.0)))
def test_any_cutters_make_the_parts(cutters: tuple[float, float]) -> None:
    """Narrow cutters take more passes, a wide one gives way to the router bit; the parts stay the same."""
    table = table_of({"shop.groove_cutter": cutters[0], "shop.router_bit": cutters[1]})
    assert faults(table, set_ups(table)) == []


def wrong(setting: Setting) -> Setting:
    """The setting with a false figure."""
    by = WRONG if setting.figure.unit else 1.0
    return replace(setting, figure=replace(setting.figure, value=setting.figure.value + by))


def falsified(found: Sequence[SetUp]) -> Iterator[tuple[str, tuple[str, ...], list[SetUp]]]:
    """The set-ups with one figure wrong, each figure in turn, and the parts that pass there."""
    for place, set_up in enumerate(found):
        for number, setting in enumerate(set_up.settings):
            if _is_buried(set_up, setting):
                continue
            settings = tuple(wrong(one) if i == number else one for i, one in enumerate(set_up.settings))
            yield _told(set_up, setting), set_up.codes, _with(found, place, replace(set_up, settings=settings))
        for which, cut in enumerate(set_up.cuts):
            for number, setting in enumerate(cut.settings):
                settings = tuple(wrong(one) if i == number else one for i, one in enumerate(cut.settings))
                bad = replace(cut, settings=settings)
                yield _told(set_up, setting), cut.codes, _with(found, place, _with_cut(set_up, which, bad))


def _is_buried(set_up: SetUp, setting: Setting) -> bool:
    """A cutter that reaches past the end of its rebate: how much of it runs in the fence makes no odds."""
    wide = setting.name == "cutter" and set_up.operation == "rebate"
    return wide and setting.figure.value >= set_up.value("fence") - 1e-9


def _told(set_up: SetUp, setting: Setting) -> str:
    return f"{set_up.number} {set_up.operation}: {setting.name} {setting.figure.value:.3f}"


def _with(found: Sequence[SetUp], place: int, other: SetUp) -> list[SetUp]:
    return [*found[:place], other, *found[place + 1 :]]


def _with_cut(set_up: SetUp, which: int, cut: Cut) -> SetUp:
    return replace(set_up, cuts=(*set_up.cuts[:which], cut, *set_up.cuts[which + 1 :]))


@pytest.mark.parametrize("name", ("towpath-hex", *slow("towpath-dining", "towpath-inch", "towpath-side")))
def test_every_wrong_figure_shows(name: str) -> None:
    """Half a millimetre, half a degree or one pass too much on any figure gives a piece that isn't the part."""
    table = shipped(name)
    unseen, tried = [], 0
    for told, codes, bad in falsified(set_ups(table)):
        tried += 1
        if not any(faults(table, bad, [code]) for code in codes):
            unseen.append(told)
    assert unseen == []
    assert tried > 80


def test_every_way_of_lying_matters_to_a_mitre() -> None:
    """A piece laid with its other face up, or with its other edge to the fence, is refused or spoilt."""
    table = shipped("towpath-hex")
    found = set_ups(table)
    over = {"top": "bottom", "bottom": "top", "low": "high", "high": "low"}
    for place, set_up in enumerate(found):
        if set_up.operation != "mitre":
            continue
        for which, cut in enumerate(set_up.cuts):
            for number, lay in enumerate(cut.lays):
                for name in ("up", "against"):
                    other = replace(lay, **cast(Any, {name: over[getattr(lay, name)]}))
                    lays = (*cut.lays[:number], other, *cut.lays[number + 1 :])
                    bad = _with(found, place, _with_cut(set_up, which, replace(cut, lays=lays)))
                    assert faults(table, bad, [lay.code]), f"{lay.code} {name}"
