"""Set-ups as a list: a row for each cut, under the number of its set-up."""

from collections.abc import Iterator, Mapping, Sequence
from math import inf
from typing import get_args

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.parts.sides import side
from templategen.shop.listing import Cell, Listing
from templategen.shop.set_ups import words
from templategen.shop.set_ups.set_up import Cut, Setting, SettingName, SetUp
from templategen.table.assembly import Table
from templategen.units import format_mm, inch_fraction

UNITS: dict[str, str] = {"angle": "deg", "gauge": "deg", "passes": "", "levels": ""}
"""The units of what isn't a length."""

NAMES: tuple[SettingName, ...] = tuple(name for name in get_args(SettingName) if name not in ("tolerance", "wanted"))

BEFORE = ("set_up", "cut", "operation", "machine", "parts", "pieces", "cuts")
AFTER = (
    "tool", "kerf_side", "up", "against", "stop_at", "how_it_lies", "from_where", "explained_by", "test_piece",
    "measure", "warnings", "cautions", "jigs",
)  # fmt: skip


def set_up_list(set_ups: Sequence[SetUp], table: Table) -> Listing:
    """Header and rows.

    Lengths in mm and, for inch profiles, to 1/64 in with how much that shows too much, in mm; where that is more
    than the set-up bears, `inches` says which setting to make by the mm.
    """
    inches = table.profile.units == "in"
    header = [*BEFORE, *(column for name in NAMES for column in _columns(name, inches)), *AFTER]
    header += ["inches"] if inches else []
    kinds = {part.code: part.kind for part in table.parts}
    return header, [
        list(_row(one, cut, place, kinds, inches)) for one in set_ups for place, cut in enumerate(one.cuts, 1)
    ]


def _columns(name: SettingName, inches: bool) -> Iterator[str]:
    unit = UNITS.get(name, "mm")
    yield f"{name}_{unit}" if unit else name
    if inches and unit == "mm":
        yield from (f"{name}_in", f"{name}_in_error_mm")


def _row(set_up: SetUp, cut: Cut, place: int, kinds: Mapping[str, str], inches: bool) -> Iterator[Cell]:
    counted = words.pieces(cut)
    yield from (str(set_up.number), str(place), translated(set_up.operation), translated(set_up.machine))
    yield ", ".join(f"{code} x{count}" for code, count in counted.items())
    yield from (str(sum(counted.values())), str(words.times(cut)))
    for name in NAMES:
        yield from _cells(set_up.setting(name, cut), name, inches)
    yield from (
        translated(set_up.cutter),
        translated(set_up.kerf_side),
        *_sides(cut, kinds),
        words.all_lies(set_up, cut, kinds),
    )
    settings = (*set_up.settings, *cut.settings)
    yield from (words.from_where(settings), words.explained_by(settings))
    yield from (
        translated(set_up.proof.test_piece),
        words.checks(set_up, inches),
        " ".join(map(translated, set_up.warnings)),
        " ".join(map(translated, set_up.cautions)),
        ", ".join(set_up.jigs),
    )
    if inches:
        yield _too_coarse(set_up, cut)


def _cells(setting: Setting | None, name: SettingName, inches: bool) -> Iterator[Cell]:
    unit = UNITS.get(name, "mm")
    if setting is None:
        yield from ("",) * (3 if inches and unit == "mm" else 1)
        return
    yield format_mm(setting.figure.value, words.DIGITS[unit] if unit else 0)
    if inches and unit == "mm":
        yield from inch_fraction(setting.figure.value)


def _sides(cut: Cut, kinds: Mapping[str, str]) -> Iterator[str]:
    """What lies up, what is at the fence and what at the stop; where pieces differ, each in turn."""
    for name in ("up", "against", "stop_at"):
        sides = [side(getattr(lay, name), kinds[lay.code]) for lay in cut.lays if getattr(lay, name)]
        yield translated(", then ").join(dict.fromkeys(sides))


def _too_coarse(set_up: SetUp, cut: Cut) -> str:
    """The settings whose fraction of an inch is further off than their tolerance."""
    lengths = [one for one in (*set_up.settings, *cut.settings) if one.figure.unit == "mm"]
    coarse = [one.name for one in lengths if abs(inch_fraction(one.figure.value)[1]) > _borne(set_up, one.name)]
    return said("set {names} by the mm: a 64th is too coarse", names=", ".join(coarse)) if coarse else ""


def _borne(set_up: SetUp, name: SettingName) -> float:
    """How far off a setting may be; infinite where no check measures it."""
    bears = (check.tolerance.figure for check in set_up.proof.checks if name in check.of)
    return min((figure.value for figure in bears if figure.unit == "mm"), default=inf)
