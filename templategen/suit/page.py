"""The proposals side by side on a page: pictures, what changed, what it comes to, and the frontier."""

from collections.abc import Iterator, Sequence

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.drawing.toned_plan import toned_plan
from templategen.output.page.content import Grid, Page, Picture, Section, Sheet
from templategen.output.page.render import page_html
from templategen.packet.page.picture import picture
from templategen.paper.grid import paper_at_hand
from templategen.suit.figures import (
    THE_MORE_THE_BETTER,
    UNITS,
    WORDS,
    figure,
    in_words,
    name_of,
    named,
    shown,
    value_of,
)  # fmt: skip
from templategen.suit.picture import frontier_picture
from templategen.suit.proposal import Proposal
from templategen.suit.variant import asked as wanted
from templategen.suit.variant import written
from templategen.table.profile.choices import Counts, Units
from templategen.table.profile.keys import KEYS
from templategen.table.profile.model import Profile
from templategen.units import trimmed

LISTED: tuple[Counts, ...] = ("cost", "boards", "to buy", "hours", "mass", "set-ups")
"""Columns of the list of all tables."""

BELOW = "{what:word} against how far from what was asked; nothing found lies below and left of the steps"
ABOVE = "{what:word} against how far from what was asked; nothing found lies above and left of the steps"


def page_of(profile: Profile, asked: Proposal, found: Sequence[Proposal], names: Sequence[str]) -> bytes:
    """The page; `names` are the files of the proposals' profiles beside it."""
    what = profile.suit.counts[0]
    frontier = picture(lambda: frontier_picture(profile, asked, found), "frontier", _under(what), True)
    pairs = enumerate(zip(found, names, strict=True), 1)
    sheets = tuple(_sheet(profile, number, asked, one, name) for number, (one, name) in pairs)
    standing = (
        said("It {against}.", against=asked.against) if asked.against else translated("Nothing stands against it.")
    )
    own = Sheet("asked", "The table asked", (standing,), (_plan(asked, "asked"),))
    whole = Sheet("frontier", "", pictures=(frontier,), grids=(_all(asked, found, profile.units),))
    sections = (
        Section("frontier", "What is to be had", (whole,)),
        Section("tables", "Table by table", (own, *sheets)),
    )
    says = said(
        "{tables:# table} near yours, built, measured and laid out; nothing found is graver than a note.",
        tables=len(found),
    )
    paper = paper_at_hand(profile.paper)
    return page_html(Page(profile.title, says, profile.revision, profile.sha256[:16], sections, paper)).encode()


def _under(what: Counts) -> str:
    return said(ABOVE if what in THE_MORE_THE_BETTER else BELOW, what=WORDS[what])


def _plan(one: Proposal, ident: str) -> Picture:
    return picture(lambda: toned_plan(one.table), f"plan-{ident}", "from above", True)


def _sheet(profile: Profile, number: int, asked: Proposal, one: Proposal, name: str) -> Sheet:
    """A proposal against the table asked."""
    units = profile.units
    rows = tuple(
        (named(what, units), shown(asked, what, units), shown(one, what, units), _more(asked, one, what, units))
        for what in WORDS
    )
    grids = (
        Grid(("what changes", "asked", "proposed", "key"), tuple(_changed(profile, one)), figures=(1, 2)),
        Grid(("what it comes to", "asked", "proposed", "difference"), rows, figures=(1, 2, 3)),
    )
    notes, plan = said("{notes:# note} and nothing graver.", notes=len(one.findings)), _plan(one, str(number))
    title = f"{number}: {in_words(one.changes, units)}"
    return Sheet(f"table-{number}", title, (notes,), (plan,), grids, links=((name, name),))


def _changed(profile: Profile, one: Proposal) -> Iterator[tuple[str, ...]]:
    after = dict(one.changes)
    for variation, value in zip(profile.suit.variations, wanted(profile), strict=True):
        path = variation.path
        if path in after:
            before = written(profile, variation, value)
            values = (value_of(path, each, profile.units) for each in (before, after[path]))
            yield (f"{name_of(path)}: {KEYS[path].told}", *values, path)


def _all(asked: Proposal, found: Sequence[Proposal], units: Units) -> Grid:
    """All in one list, the nearest first."""
    rows = []
    for number, one in enumerate((asked, *found)):
        figures = (shown(one, what, units) for what in LISTED)
        far = f"{trimmed(100 * one.distance, 1)} %"
        changes = in_words(one.changes, units) or translated("as asked")
        rows.append((str(number) if number else translated("asked"), *figures, far, changes))
    heads = ("to buy" if what == "to buy" else UNITS.get(what, (what, what))[units == "in"] for what in LISTED)
    heading = ("table", *heads, "how far", "what changes")
    return Grid(heading, tuple(rows), figures=tuple(range(1, len(LISTED) + 2)))


def _more(asked: Proposal, one: Proposal, what: Counts, units: Units) -> str:
    before, after = figure(asked, what, units), figure(one, what, units)
    if before is None or after is None:
        return "-"
    more = after - before
    return f"{'+' if more > 0 else ''}{trimmed(more, 2)}" if round(more, 2) else translated("same")
