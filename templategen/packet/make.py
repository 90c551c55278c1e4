"""Makes a packet: every stage in order, from profile to bytes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from templategen.checks.finding import ORDER, Finding
from templategen.checks.run import examine
from templategen.packet.beside import beside
from templategen.packet.file_name import file_names
from templategen.packet.lay_out import LaidStock, lay_out, stock_findings
from templategen.packet.record import record
from templategen.packet.shares import chosen
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model import Profile

if TYPE_CHECKING:
    from templategen.packet.paper import PaperShare

Progress = Callable[[str, float], None]
"""Told what is being made and how much of all the work is done, 0 to 1."""

PLAN_WEIGHT = 3.0
"""How much heavier the lines of the plan are, which is looked at on a screen rather than cut to."""

REVISION = 8
"""Characters of the profile's hash that name a revision."""


@dataclass(frozen=True, slots=True)
class Packet:
    """What a maker holds: the table, what was found, and every file as bytes by its path in the folder."""

    table: Table
    findings: tuple[Finding, ...]
    files: Mapping[str, bytes]
    record: Mapping[str, Any]

    @property
    def exit_code(self) -> int:
        """0 when nothing is worse than a note, else 1."""
        return 1 if any(finding.level != "note" for finding in self.findings) else 0


def make_packet(
    profile: Profile,
    only: Iterable[str] | None = None,
    effort: float | None = None,
    progress: Progress | None = None,
    tables: int = 1,
    second_core: bool = False,
) -> Packet:
    """The packet for `profile`, in memory; `write_packet` puts it in a folder.

    `only` names the shares wanted (parts, stock, paper, lists), `effort` the seconds by the clock for nesting (none
    for a fixed amount of work, the same each time), `tables` how many are made at once. With `second_core` parts and
    paper are made in a copy of the process while the stock is laid out; not for programs that run threads.

    Raises:
        DesignError: the table can't be built.
        OutputError: a share isn't known.
        ProfileError: the paper can't take the templates.
    """
    shares = chosen(only)
    tell = progress or (lambda _what, _share: None)
    tell("table", 0.0)
    table = build_table(profile)
    drawn = beside(lambda: _drawn(table, shares), second_core)
    tell("stock", 0.1)
    laid = None
    if {"stock", "lists"} & set(shares):
        laid = lay_out(table, effort, tables, lambda share: tell("stock", 0.1 + 0.2 * share))
    seen = examine(table)
    findings = [*seen.findings, *(stock_findings(table, laid) if laid else ())]
    ordered = tuple(sorted(findings, key=lambda finding: ORDER[finding.level]))
    files: dict[str, bytes] = {}
    for share, make in (("stock", _stock), ("lists", _lists)):
        if share in shares:
            files.update(make(table, laid))
    tell("parts", 0.5)
    parts, paper = drawn()
    files = {**parts, **files, **(paper.files if paper else {})}
    tell("packet.json", 1.0)
    told, text = record(table, seen.plan, ordered, laid, files, paper)
    return Packet(table, ordered, {"packet.json": text.encode(), **files}, told)


def revision(profile: Profile) -> str:
    """A short name for this state of the profile, from its hash."""
    return profile.sha256[:REVISION]


def _drawn(table: Table, shares: Iterable[str]) -> tuple[dict[str, bytes], PaperShare | None]:
    """Parts and paper, which need nothing but the table."""
    parts = dict(_parts(table)) if "parts" in shares else {}
    return parts, _paper(table) if "paper" in shares else None


def _parts(table: Table) -> Iterator[tuple[str, bytes]]:
    from templategen.drawing.elevation import elevation_drawing
    from templategen.drawing.part_sheet import part_drawing
    from templategen.drawing.plan import plan_drawing
    from templategen.output.dxf import dxf_bytes
    from templategen.output.svg import svg_text

    profile = table.profile
    for part in table.parts:
        overrun = profile.shop.router_bit / 2
        drawing = part_drawing(part, profile.title, revision(profile), overrun, profile.units)
        yield f"parts/{part.code}.dxf", dxf_bytes(drawing, profile.dxf.version, profile.dxf.units)
        yield f"parts/{part.code}.svg", svg_text(drawing).encode()
    plan = plan_drawing(table, revision(profile))
    yield "drawings/plan.dxf", dxf_bytes(plan, profile.dxf.version, profile.dxf.units)
    yield "drawings/plan.svg", svg_text(plan, PLAN_WEIGHT).encode()
    elevation = elevation_drawing(table, revision(profile))
    yield "drawings/elevation.dxf", dxf_bytes(elevation, profile.dxf.version, profile.dxf.units)
    yield "drawings/elevation.svg", svg_text(elevation, PLAN_WEIGHT).encode()


def _stock(table: Table, laid: LaidStock | None) -> Iterator[tuple[str, bytes]]:
    from templategen.drawing.stock_sheet import stock_drawing
    from templategen.output.dxf import dxf_bytes
    from templategen.output.svg import svg_text

    assert laid is not None
    profile = table.profile
    names = file_names(stock.name for stock in profile.stock)
    for one in laid.sheets:
        sheet, items = one.sheet, {item.code: item for item in one.supply.items}
        drawing = stock_drawing(sheet, items, profile.title, profile.units, one.cuts, one.offcuts)
        stem = f"stock/{names[sheet.piece.name]}-{sheet.number}"
        yield f"{stem}.dxf", dxf_bytes(drawing, profile.dxf.version, profile.dxf.units)
        yield f"{stem}.svg", svg_text(drawing).encode()


def _paper(table: Table) -> PaperShare:
    from templategen.packet.paper import make_paper

    return make_paper(table, revision(table.profile))


def _lists(table: Table, laid: LaidStock | None) -> Iterator[tuple[str, bytes]]:
    from templategen.output.table_csv import csv_bytes
    from templategen.shop.buy_list import buy_list
    from templategen.shop.cut_list import cut_list

    assert laid is not None
    yield "lists/cut-list.csv", csv_bytes(*cut_list(table, laid.tables))
    yield "lists/buy-list.csv", csv_bytes(*buy_list(table, laid.used, laid.unserved, laid.tables))
