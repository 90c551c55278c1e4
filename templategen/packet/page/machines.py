"""Set-ups in working order: what is set at each machine, for which pieces, and how the setting is proved."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from templategen.output.page.content import Grid, Section, Sheet
from templategen.packet.page.links import links
from templategen.shop.set_ups import words
from templategen.shop.set_ups.set_up import Cut, Setting, SetUp
from templategen.table.assembly import Table
from templategen.units import inch_fraction, trimmed


def machines(table: Table, set_ups: Sequence[SetUp]) -> Section:
    """A sheet for each set-up."""
    kinds, units = {part.code: part.kind for part in table.parts}, table.profile.units
    overview = Grid(
        ("set-up", "operation", "machine", "parts"),
        tuple((str(one.number), one.operation, one.machine, ", ".join(one.codes)) for one in set_ups),
        figures=(0,), ticks=True,
    )  # fmt: skip
    first = Sheet("order", "In working order", grids=(overview,), links=links("lists/set-ups.csv"))
    return Section("machines", "Set-ups", (first, *(_sheet(one, kinds, units) for one in set_ups)), pairs=True)


def _sheet(set_up: SetUp, kinds: Mapping[str, str], units: str) -> Sheet:
    grids = []
    if set_up.settings:
        rows = tuple((one.name, format_setting(one, units), one.says) for one in set_up.settings)
        grids.append(Grid(("set", "to", "which is"), rows, figures=(1,)))
    cuts = tuple(
        (_pieces(cut), _settings(cut.settings, units), words.all_lies(set_up, cut, kinds)) for cut in set_up.cuts
    )
    grids.append(Grid(("pieces", "set for them", "how they lie"), cuts, ticks=True))
    lines = [f"Cutter: {set_up.cutter}."] if set_up.cutter else []
    lines += [f"Kerf: {set_up.kerf_side}."] if set_up.kerf_side else []
    lines += [f"{warning}." for warning in set_up.warnings]
    measured = words.checks(set_up, units == "in")
    proof = f"tried on {set_up.proof.test_piece}; measured {measured}"
    title = f"{set_up.number}. {set_up.operation}, {set_up.machine}"
    return Sheet(
        str(set_up.number), title, tuple(lines), grids=tuple(grids), ticks=(proof,), cautions=set_up.cautions
    )


def format_setting(setting: Setting, units: str) -> str:
    """A setting; lengths of inch profiles as fractions, with what those show too much."""
    figure = setting.figure
    if figure.unit == "mm" and units == "in":
        fraction, error = inch_fraction(figure.value)
        return f"{fraction} ({trimmed(-error, 2)} mm off)" if abs(error) >= 0.005 else fraction
    return words.number(setting)


def _pieces(cut: Cut) -> str:
    return ", ".join(f"{code} x {count}" for code, count in words.pieces(cut).items())


def _settings(settings: Iterable[Setting], units: str) -> str:
    return "; ".join(f"{one.name} {format_setting(one, units)} ({one.says})" for one in settings)
