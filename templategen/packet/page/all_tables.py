"""The page of several tables: a link to the page of each, and the stock that they share."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from templategen.checks.finding import Finding
from templategen.fit.plan import Plan
from templategen.output.page.content import Page, Section, Sheet
from templategen.output.page.render import page_html
from templategen.packet.lay_out import LaidStock
from templategen.packet.page.gather import linked, standing
from templategen.packet.page.glance import findings_grid
from templategen.packet.page.made import Made
from templategen.packet.page.print_check import files
from templategen.packet.page.shown import Shown
from templategen.packet.page.stock import stock
from templategen.packet.revision import REVISION
from templategen.table.assembly import Table

if TYPE_CHECKING:
    from templategen.packet.make import Packet

UNPLANNED = Plan((), "locked")
"""The tables go together each by itself."""


def page_of_all(
    table: Table, packets: Mapping[str, Packet], findings: Sequence[Finding], laid: LaidStock | None, record: Any
) -> bytes:
    """The page at the head of the folder. `table` has the parts of all, under codes with their folder before them."""
    tables = laid.tables if laid else 1
    every = [*findings, *(finding for packet in packets.values() for finding in packet.findings)]
    shown = Shown(table, UNPLANNED, (), record["profile_sha256"][:REVISION], tables)
    made = Made(shown, findings, laid, record)
    sections = (_tables(packets, tables), _found(made), stock(made), files(made))
    told = standing(Made(shown, every, laid, record))
    page = Page(
        table.profile.title, told, shown.revision, record["profile_sha256"][:16],
        tuple(linked(section, made.paths) for section in sections if section is not None),
    )  # fmt: skip
    return page_html(page).encode()


def _tables(packets: Mapping[str, Packet], tables: int) -> Section:
    """A sheet for each with its link."""
    sheets = tuple(_table(label, packet, tables) for label, packet in packets.items())
    return Section("tables", "The tables", sheets)


def _table(label: str, packet: Packet, tables: int) -> Sheet:
    grave = [finding for finding in packet.findings if finding.level != "note"]
    profile = packet.table.profile
    words = [f"{packet.table.slats_per_field} slats a field, {len(packet.table.placed)} pieces, {profile.wood}."]
    words += [f"{tables} of it."] if tables > 1 else []
    words += (
        [f"{len(grave)} findings to settle or to understand before cutting."] if grave else ["Nothing to settle."]
    )
    path = f"{label}/index.html"
    return Sheet(label, profile.title, tuple(words), links=((path, path),))


def _found(made: Made) -> Section | None:
    """What was found of the stock, None where nothing was."""
    if not made.findings:
        return None
    grid = findings_grid(made, list(made.findings))
    return Section("found", "Before you cut", (Sheet("joint", "The stock of all", grids=(grid,)),))
