"""The proposals side by side on a page: pictures, what changed, what it comes to, and the frontier."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templategen.drawing.toned_plan import toned_plan
from templategen.output.page.content import Grid, Page, Picture, Section, Sheet
from templategen.output.page.render import page_html
from templategen.packet.page.picture import picture
from templategen.packet.revision import revision
from templategen.suit.picture import frontier_picture
from templategen.suit.proposal import Proposal
from templategen.table.profile.model import Profile
from templategen.units import trimmed

HEADING = ("what", "asked", "proposed", "difference")


def page_of(profile: Profile, asked: Proposal, found: Sequence[Proposal], names: Sequence[str]) -> bytes:
    """The page; `names` are the files of the proposals' profiles beside it."""
    what = profile.suit.counts[0]
    frontier = picture(
        lambda: frontier_picture(asked, found, what, profile.title), "frontier",
        f"{what} against how far from what was asked; nothing found lies below and left of the steps", True,
    )  # fmt: skip
    pairs = enumerate(zip(found, names, strict=True), 1)
    sheets = tuple(_sheet(number, asked, one, name) for number, (one, name) in pairs)
    standing = f"It {asked.against}." if asked.against else "Nothing stands against it."
    own = Sheet("asked", "The table asked", (standing,), (_plan(asked, "asked"),))
    whole = Sheet("frontier", "", pictures=(frontier,), grids=(_all(asked, found),))
    sections = (
        Section("frontier", "What is to be had", (whole,)),
        Section("tables", "Table by table", (own, *sheets)),
    )
    many = "One table" if len(found) == 1 else f"{len(found)} tables"
    says = f"{many} near yours, built, measured and laid out; nothing found is graver than a note."
    return page_html(Page(profile.title, says, revision(profile), profile.sha256[:16], sections)).encode()


def _plan(one: Proposal, ident: str) -> Picture:
    return picture(lambda: toned_plan(one.table), f"plan-{ident}", "from above", True)


def _sheet(number: int, asked: Proposal, one: Proposal, name: str) -> Sheet:
    """A proposal against the table asked."""
    changes = "; ".join(f"{path} = {value}" for path, value in one.changes)
    rows = tuple(
        (word, _figure(before), _figure(after), _signed(after - before))
        for word, before, after in _figures(asked, one)
    )
    grid = Grid(HEADING, rows, figures=(1, 2, 3))
    notes, plan = f"{len(one.findings)} notes and nothing graver.", _plan(one, str(number))
    title = f"{number}: {changes}"
    return Sheet(f"table-{number}", title, (notes,), (plan,), (grid,), links=((name, name),))


def _figures(asked: Proposal, one: Proposal) -> Iterator[tuple[str, float, float]]:
    yield "cost of stock", asked.cost, one.cost
    yield "boards", asked.boards, one.boards
    yield "boards to buy", asked.bought, one.bought
    yield "used of the rack, m2", asked.rack / 1e6, one.rack / 1e6
    yield "hours", round(asked.hours, 1), round(one.hours, 1)
    yield "mass, kg", asked.mass, one.mass
    yield "set-ups", asked.set_ups, one.set_ups
    yield "diameter, mm", asked.table.profile.top.diameter, one.table.profile.top.diameter


def _all(asked: Proposal, found: Sequence[Proposal]) -> Grid:
    """All in one list, the nearest first."""
    rows = []
    for number, one in enumerate((asked, *found)):
        figures = (
            _figure(one.cost),
            str(one.boards),
            str(one.bought),
            _figure(round(one.hours, 1)),
            _figure(one.mass),
            str(one.set_ups),
        )
        changes = "; ".join(f"{path} = {value}" for path, value in one.changes) or "as asked"
        rows.append((str(number) if number else "asked", *figures, f"{trimmed(100 * one.distance, 1)} %", changes))
    heading = ("table", "cost", "boards", "to buy", "hours", "kg", "set-ups", "how far", "what changes")
    return Grid(heading, tuple(rows), figures=(1, 2, 3, 4, 5, 6, 7))


def _figure(value: float) -> str:
    return trimmed(value, 2)


def _signed(value: float) -> str:
    return f"{'+' if value > 0 else ''}{trimmed(value, 2)}" if round(value, 2) else "same"
