"""The packet's own record, `packet.json`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from hashlib import sha256
from math import degrees
from typing import Any

from templategen import __version__
from templategen.checks.finding import Finding
from templategen.nesting.stock import Sheet
from templategen.output.packet_json import (
    dumps,
    finding_json,
    joints_json,
    number,
    numbers,
    part_json,
    placed_json,
    table_json,
)
from templategen.packet.file_name import file_names
from templategen.packet.lay_out import LaidStock
from templategen.packet.supply import Supply
from templategen.shop.weigh import mass_kg
from templategen.table.assembly import Table


def record(
    table: Table, findings: Sequence[Finding], laid: LaidStock | None, files: Mapping[str, bytes]
) -> tuple[dict[str, Any], str]:
    """The record as a value and as text."""
    told = {
        "format": 1,
        "title": table.profile.title,
        "profile": table.profile.name,
        "profile_sha256": table.profile.sha256,
        "templategen": __version__,
        "units": table.profile.units,
        "settled": all(finding.level == "note" for finding in findings),
        "table": table_json(table, mass_kg(table)),
        "parts": [part_json(part, _files_of(part.code, files)) for part in table.parts],
        "placed": [placed_json(placed) for placed in table.placed],
        "joints": joints_json(table),
        "assembly": [],
        "findings": [finding_json(finding) for finding in findings],
        **(_stock(table, laid, files) if laid else {"stock": [], "stock_bound": None, "unplaced": {}}),
        "files": [
            {"path": path, "sha256": sha256(data).hexdigest(), "bytes": len(data)}
            for path, data in sorted(files.items())
        ],
    }
    return told, dumps(told)


def _files_of(code: str, files: Mapping[str, bytes]) -> list[str]:
    paths = (f"parts/{code}.dxf", f"parts/{code}.svg", f"paper/{code}.pdf")
    return [path for path in paths if path in files]


def _stock(table: Table, laid: LaidStock, files: Mapping[str, bytes]) -> dict[str, Any]:
    names = file_names(stock.name for stock in table.profile.stock)
    sheets = [_sheet(supply, sheet, names[sheet.piece.name], files) for supply, sheet in laid.sheets]
    bounds = [bound for _, bound in laid.bounds]
    bound = {
        "pieces": sum(bound.pieces for bound in bounds),
        "cost": number(sum(bound.cost for bound in bounds), 2),
        "how": "; ".join(f"{supply.wood} {supply.thickness:g} mm: {bound.how}" for supply, bound in laid.bounds),
    }
    return {"stock": sheets, "stock_bound": bound, "unplaced": dict(sorted(laid.unplaced.items()))}


def _sheet(supply: Supply, sheet: Sheet, stem: str, files: Mapping[str, bytes]) -> dict[str, Any]:
    from templategen.nesting.offcuts import offcuts, used_share

    piece, items = sheet.piece, supply.items
    paths = (f"stock/{stem}-{sheet.number}.{kind}" for kind in ("dxf", "svg"))
    return {
        "name": piece.name,
        "piece": sheet.number,
        "wood": supply.wood,
        "thickness": number(supply.thickness),
        "size": numbers((piece.length, piece.width)),
        "price": number(piece.price, 2),
        "faults": [numbers(fault) for fault in piece.faults],
        "margin": number(piece.margin),
        "spacing": number(supply.spacing),
        "placements": [
            {
                "code": laid.code,
                "uses": "blank",
                "x": number(laid.placement.x),
                "y": number(laid.placement.y),
                "turn": number(degrees(laid.placement.turn) % 360.0),
                "turned_over": laid.placement.turned_over,
            }
            for laid in sheet.laid
        ],
        "used": number(used_share(sheet, items), 4),
        "offcuts": [numbers(offcut) for offcut in offcuts(sheet, items, supply.spacing)],
        "files": [path for path in paths if path in files],
    }
