"""The page of several tables: a link to the page of each, and the stock that they share."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.checks.finding import Finding
from templategen.english import tag
from templategen.output.page.content import Page, Section, Sheet
from templategen.output.page.render import page_html
from templategen.packet.lay_out import LaidStock
from templategen.packet.page.buy import buying
from templategen.packet.page.glance import findings_grid, standing
from templategen.packet.page.links import linked
from templategen.packet.page.print_check import files
from templategen.packet.page.stock import stock
from templategen.paper.grid import paper_at_hand
from templategen.parts.revision import REVISION
from templategen.shop.trial_wood import TrialWood
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units

if TYPE_CHECKING:
    from templategen.packet.make import Packet


def page_of_several(
    table: Table,
    packets: Mapping[str, Packet],
    findings: Sequence[Finding],
    laid: LaidStock | None,
    made: Mapping[str, bytes],
    digest: str,
    strips: tuple[TrialWood, ...],
) -> bytes:
    """The page at the head of the folder. `table` has the parts of all, under codes with their folder before them;
    `made` are the files beside the page, `digest` is the hash of all profiles, `strips` what set-ups are tried on."""
    tables = laid.tables if laid else 1
    every = [*findings, *(finding for packet in packets.values() for finding in packet.findings)]
    sections = (
        _tables(packets, tables),
        _found(findings, table.profile.units),
        _buying(table, laid, strips),
        stock(table, laid),
        files(made),
    )
    kept = tuple(linked(section, made) for section in sections if section is not None)
    paper = paper_at_hand(table.profile.paper)
    page = Page(
        table.profile.title,
        standing(every, tables),
        digest[:REVISION],
        digest[:16],
        kept,
        paper,
        at_machines=bool(table.profile.shop.machines),
    )
    return page_html(page).encode()


def _buying(table: Table, laid: LaidStock | None, strips: Sequence[TrialWood]) -> Section | None:
    """What all tables together take."""
    sheet = buying(table, laid, (), strips)
    return Section("first", "Buy", (sheet,)) if sheet else None


def _tables(packets: Mapping[str, Packet], tables: int) -> Section:
    """A sheet for each with its link."""
    sheets = tuple(_table(label, packet, tables) for label, packet in packets.items())
    return Section("tables", "The tables", sheets)


def _table(label: str, packet: Packet, tables: int) -> Sheet:
    grave = [finding for finding in packet.findings if finding.list != "information"]
    profile = packet.table.profile
    slats, pieces = packet.table.slats_per_field, len(packet.table.placed)
    words = [
        said("{slats} slats a field, {pieces} pieces, {wood:word}.", slats=slats, pieces=pieces, wood=profile.wood),
        *([said("{tables} of it.", tables=tables)] if tables > 1 else ()),
        said("{count:# finding} to heed before cutting.", count=len(grave))
        if grave
        else translated("Nothing to settle."),
    ]
    path = f"{label}/index.html"
    return Sheet(label, profile.title, tuple(words), links=((path, path),))


def _found(findings: Sequence[Finding], units: Units) -> Section | None:
    """What was found of the stock, None where nothing was."""
    if not findings:
        return None
    grid = findings_grid(findings, units)
    sheet = Sheet("joint", translated("The stock of all"), grids=(grid,))
    return Section("found", translated("Before you cut"), (sheet,), language=tag(of_catalogue=True))
