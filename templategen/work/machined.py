"""Set-ups as operations: on the strip while pieces hang together, on the part, or on the glued ring."""

from collections.abc import Iterable, Iterator, Mapping
from math import prod

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.shop.boards import rough_in
from templategen.shop.cautions import asks
from templategen.shop.set_ups import words
from templategen.shop.set_ups.feed import FED, OVER_THE_CUTTER, is_closed
from templategen.shop.set_ups.remarks import FACET
from templategen.shop.set_ups.run import comes_planed
from templategen.shop.set_ups.set_up import Cut, Setting, SettingName, SetUp
from templategen.shop.set_ups.set_up import Operation as Kind
from templategen.shop.set_ups.ways import WAYS
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.work.operation import On, Operation

SLOWER = {"auto": 1.0, "machine": 1.0, "hand-held": 1.5, "template": 1.5, "by hand": 3.0}
"""By how much each cut takes longer than in the usual way (assumed); "auto" where nothing in the shop does it."""

IN_THE_BLANK = ("plane", "rip")
"""Done before pieces are cut to length."""

STOPPED: tuple[SettingName, ...] = ("start", "end", *OVER_THE_CUTTER)
"""What tells where a groove stops in the wood."""

PACE: Mapping[Kind, tuple[str, float]] = {
    "mitre": ("mitre", 1), "lap": ("lap", 1), "relief": ("lap", 1), "mortise": ("mortise", 1), "bore": ("mortise", 1),
    "rebate": ("tenon", 1 / 4), "shoulder": ("tenon", 1 / 4), "nib": ("tenon", 1 / 4), "pin slot": ("cut", 2),
}  # fmt: skip
"""The rate at which an operation's cuts are made, and how much of it each takes, where that isn't one `cut`."""


OF_PASSES: tuple[SettingName, ...] = ("passes", "levels")
"""How often a piece is fed over a cutter for one cut."""

AGAIN, AT_A_BLOCK, CLAMPED, LET_DOWN = 1 / 4, 1 / 2, 3 / 4, 2
"""Of a cut's rate what a further pass or level takes, the piece in hand and its fence set; what it takes where the
machine is stopped at a block before the piece is lifted, or where the piece is clamped anew while it stands; and what
each takes where the piece is let down on the cutter of a machine that stands, and a featherboard clamped on before it
starts (assumed)."""

STROKE = 1 / 6
"""Of a mitre's rate what a stroke or two of a plane take at a point, before it counts as work by hand (assumed)."""


def machined(table: Table, set_up: SetUp, tables: int) -> Operation:
    """A set-up as an operation; its figures stand on its own sheet."""
    rates = table.profile.rates
    on: On = "blanks" if set_up.operation in IN_THE_BLANK or set_up.in_strip else "parts"
    if set_up.operation in words.IN_THE_RING:
        on = "group"
    ready, units = comes_planed(table, set_up), table.profile.units
    told = _set(set_up, words.set_of(set_up), units)
    tells = (
        said("mark {settings}" if set_up.is_marked else "set {settings}", settings=told),
        *_own(table, set_up, units),
        *_pads(table, set_up),
        *set_up.does,
        *set_up.warnings,
    )
    if ready:
        tells = (
            said("{settings} as the boards come", settings=told),
            *set_up.does,
            *set_up.warnings,
        )
    usual = set_up.way == WAYS[set_up.operation][0].kind
    slower = 1.0 if usual else SLOWER[set_up.way]
    return Operation(
        set_up.operation,
        set_up.machine if set_up.cutter in set_up.machine else f"{set_up.machine}, {set_up.cutter}",
        on,
        words.counted(set_up, set_up.cuts, {part.code: part.kind for part in table.parts}),
        tells,
        said("on {piece:word}: {checks}", piece=set_up.proof.test_piece, checks=words.checks(set_up, units == "in")),
        set_up.cautions,
        set_up=set_up,
        minutes=rates.set_up + (0.0 if ready else slower * _each(table, set_up, tables)),
        persons=2 if on == "group" else 1,
    )


def _metres(table: Table, set_up: SetUp, tables: int) -> float:
    """Length of all blanks that pass a set-up, mm."""
    roughs = (rough_in(table.profile, table.part(code), tables) for code in set_up.codes)
    return sum(rough.count * rough.length for rough in roughs)


def _set(set_up: SetUp, settings: Iterable[Setting], units: Units) -> str:
    told = (f"{words.name_of(set_up, one)} {figured(words.figure(one, units))}" for one in settings)
    return ", ".join(told) or translated("no figure")


def _own(table: Table, set_up: SetUp, units: Units) -> Iterator[str]:
    """What is set for each cut while the set-up stands; where the same parts are cut twice, what is cut."""
    kinds = {part.code: part.kind for part in table.parts}
    for cut in set_up.cuts:
        if cut.settings:
            where = words.where(set_up, cut, kinds)
            yield f"{', '.join((*cut.codes, *([where] if where else [])))}: {_set(set_up, cut.settings, units)}"


def _pads(table: Table, set_up: SetUp) -> Iterator[str]:
    """What the way's saw must not take, told with the way: its card tells it among the cautions."""
    if asks(set_up, "template"):
        pads = [code for code in set_up.codes if table.part(code).kind == "foot"]
        yield said("{codes}: pared, not sawn, taped to {strip}", codes=", ".join(pads), strip=set_up.proof.test_piece)


def _each(table: Table, set_up: SetUp, tables: int) -> float:
    """The minutes of all its cuts."""
    rates = table.profile.rates
    if set_up.operation == "plane":
        return rates.plane * _metres(table, set_up, tables) / 300
    if set_up.operation in ("saw round", "trim"):
        return rates.lap
    rate, share = PACE.get(set_up.operation, ("cut", 1))
    if FACET in set_up.warnings:
        share = STROKE
    each: float = share * getattr(rates, rate)
    whole = sum(words.times(cut) * _feeds(set_up, cut) for cut in set_up.cuts)
    return each * whole + rates.cut * _squared(set_up)


def _feeds(set_up: SetUp, cut: Cut) -> float:
    """What all passes and levels of one cut along an edge or an end take, as so many times one that is fed once."""
    clamped = set_up.operation == "rebate" and set_up.way in ("auto", "machine")
    if not clamped and (set_up.operation not in FED or set_up.way == "by hand"):
        return 1.0
    counts = (set_up.setting(name, cut) for name in OF_PASSES)
    feeds = prod(round(one.figure.value) for one in counts if one)
    if clamped:
        return 1.0 + CLAMPED * (feeds - 1)
    if is_closed(cut):
        return float(LET_DOWN * feeds)
    return 1.0 + (AT_A_BLOCK if any(one.name in STOPPED for one in cut.settings) else AGAIN) * (feeds - 1)


def _squared(set_up: SetUp) -> int:
    """How many stopped ends a round cutter leaves to be squared."""
    if set_up.operation not in FED or set_up.way == "by hand":
        return 0
    return sum(words.times(cut) * sum(one.name in STOPPED for one in cut.settings) for cut in set_up.cuts)
