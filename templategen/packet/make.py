"""Makes a packet: every stage in order, from profile to bytes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from templategen.checks.finding import ORDER, Finding
from templategen.checks.run import check_table
from templategen.packet.file_name import file_names
from templategen.packet.lay_out import LaidStock, lay_out, stock_findings
from templategen.packet.record import record
from templategen.packet.shares import chosen
from templategen.parts.part import Part
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model import Profile

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
) -> Packet:
    """The packet for `profile`, in memory; `write_packet` puts it in a folder.

    `only` names the shares wanted (parts, stock, paper, lists), `effort` the seconds of work for nesting.

    Raises:
        DesignError: the table can't be built.
        OutputError: a share isn't known.
        ProfileError: the paper can't take the templates.
    """
    shares = chosen(only)
    tell = progress or (lambda _what, _share: None)
    tell("table", 0.0)
    table = build_table(profile)
    tell("stock", 0.1)
    laid = lay_out(table, effort) if {"stock", "lists"} & set(shares) else None
    findings = [*check_table(table), *(stock_findings(table, laid) if laid else ())]
    ordered = tuple(sorted(findings, key=lambda finding: ORDER[finding.level]))
    files: dict[str, bytes] = {}
    steps = {"parts": _parts, "stock": _stock, "paper": _paper, "lists": _lists}
    for number, share in enumerate(shares):
        tell(share, 0.3 + 0.7 * number / len(shares))
        files.update(steps[share](table, laid))
    tell("packet.json", 1.0)
    told, text = record(table, ordered, laid, files)
    return Packet(table, ordered, {"packet.json": text.encode(), **files}, told)


def revision(profile: Profile) -> str:
    """A short name for this state of the profile, from its hash."""
    return profile.sha256[:REVISION]


def _parts(table: Table, laid: LaidStock | None) -> Iterator[tuple[str, bytes]]:
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


def _stock(table: Table, laid: LaidStock | None) -> Iterator[tuple[str, bytes]]:
    from templategen.drawing.stock_sheet import stock_drawing
    from templategen.output.dxf import dxf_bytes
    from templategen.output.svg import svg_text

    assert laid is not None
    profile = table.profile
    names = file_names(stock.name for stock in profile.stock)
    for supply, sheet in laid.sheets:
        items = {item.code: item for item in supply.items}
        drawing = stock_drawing(sheet, items, profile.title, profile.units)
        stem = f"stock/{names[sheet.piece.name]}-{sheet.number}"
        yield f"{stem}.dxf", dxf_bytes(drawing, profile.dxf.version, profile.dxf.units)
        yield f"{stem}.svg", svg_text(drawing).encode()


def _paper(table: Table, laid: LaidStock | None) -> Iterator[tuple[str, bytes]]:
    from templategen.drawing.template import template_drawing
    from templategen.output.pdf import tiled_pdf
    from templategen.output.pdf_test_sheet import test_sheet_pdf

    profile = table.profile
    inches = profile.units == "in"
    yield "paper/printer-test-sheet.pdf", test_sheet_pdf(profile.paper, profile.title, inches)
    for part in table.parts:
        drawing = template_drawing(part, profile.title)
        about = (profile.title, part.code, part.count, revision(profile), template_note(part))
        pdf = tiled_pdf(drawing, profile.paper, *about, inches=inches)
        yield f"paper/{part.code}.pdf", pdf


def template_note(part: Part) -> str:
    """What a sheet says of the part besides its code."""
    return f"{part.name}, {part.wood}, {part.thickness:g} mm"


def _lists(table: Table, laid: LaidStock | None) -> Iterator[tuple[str, bytes]]:
    from templategen.output.table_csv import csv_bytes
    from templategen.shop.buy_list import buy_list
    from templategen.shop.cut_list import cut_list

    assert laid is not None
    yield "lists/cut-list.csv", csv_bytes(*cut_list(table))
    yield "lists/buy-list.csv", csv_bytes(*buy_list(table, laid.used, laid.unserved))
