"""The first stages, which `check` needs and every packet begins with: the table, built, proved and judged."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

from templategen.checks.finding import Finding, in_order
from templategen.checks.run import Examination, examine
from templategen.english import speak
from templategen.fit.plan import Plan, plan_assembly
from templategen.packet.pipeline import Stage, Worked, stage
from templategen.router.findings import reach_findings
from templategen.shop.closing.study import closing_findings, wished
from templategen.shop.set_ups.choose import way_findings
from templategen.shop.set_ups.run import set_ups
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model import Profile
from templategen.table.profile.model_of_shop import Maker, Rates
from templategen.table.profile.wish import Suit

Tell = Callable[[str, float], None]
"""Told what is being made and how much of all the work is done, 0 to 1."""


def gravest_first(*lists: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """All findings, the gravest first."""
    found = (finding for one in lists for finding in one)
    return in_order(found)


def _checked(seen: Examination, table: Table) -> tuple[Finding, ...]:
    ours = (*closing_findings(table, seen.plan), *way_findings(table, set_ups), *reach_findings(table))
    return gravest_first(seen.findings, ours)


def as_drawn(table: Table) -> Table:
    """The table without what no drawing of it hangs on, so that none is made anew for it: stock, prices, pace, what
    the customer is told, and how the file says it."""
    bare = replace(
        table.profile, name="", stock=(), values={}, measured=(), sha256="", file="", lines={}, written={}, text="",
        rates=Rates(), suit=Suit(), maker=Maker(), workshop=None,
    )  # fmt: skip
    return replace(table, profile=bare, sizes=replace(table.sizes, profile=bare))


PROFILE: Stage[Profile] = Stage("profile")
TABLES: Stage[int] = Stage("number of tables")
EFFORT: Stage[float | None] = Stage("seconds for nesting")
TELL: Stage[Tell] = Stage("who is told of progress", compared=False)
LOST_SO_FAR: Stage[list[Finding]] = Stage("where drawings that fail are told", compared=False)

TABLE = stage("table", build_table, PROFILE)
SHAPE = stage("table as drawn", as_drawn, TABLE)
PLAN: Stage[Plan] = stage("order of assembly", lambda table: plan_assembly(table, wished(table)), TABLE)
EXAMINED = stage("proofs of fit", examine, TABLE, PLAN)
CHECKED: Stage[tuple[Finding, ...]] = stage("findings of the table", _checked, EXAMINED, TABLE)


def begun(
    profile: Profile,
    shares: tuple[str, ...] = (),
    effort: float | None = None,
    progress: Tell | None = None,
    tables: int = 1,
) -> Worked:
    """The stages of one profile's packet, none worked out yet."""
    speak_as(profile)
    given: dict[Stage[Any], Any] = {PROFILE: profile, TABLES: tables, EFFORT: effort}
    return Worked(shares, {**given, TELL: progress or quiet})


def speak_as(profile: Profile) -> None:
    """From here on everything is told in the profile's words."""
    speak(profile.words.english, own_words(profile), profile.words.language)


def own_words(profile: Profile) -> Iterator[str]:
    """What the maker has named, which is told as it was written."""
    yield from (profile.title, profile.name, profile.wood, *profile.woods)
    yield from (stock.name for stock in profile.stock)
    yield from (profile.maker.name, *profile.maker.lines, profile.maker.delivery)


def quiet(_what: str, _done: float) -> None:
    """Tells nobody."""
