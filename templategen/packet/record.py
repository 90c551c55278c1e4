"""The packet's own record, `packet.json`."""

from collections.abc import Mapping, Sequence
from hashlib import sha256
from math import degrees
from typing import Any

from templategen import __version__
from templategen.checks.finding import Finding
from templategen.fit.plan import Plan
from templategen.output.gluing_json import gluing_json
from templategen.output.packet_json import (
    assembly_json,
    finding_json,
    joints_json,
    number,
    numbers,
    outline_json,
    part_json,
    placed_json,
    sealed,
    table_json,
)
from templategen.packet.jig_files import NO_JIG_FILES, JigFiles
from templategen.packet.lay_out import LaidSheet, LaidStock
from templategen.packet.paper import PaperFiles
from templategen.packet.stock_files import UNDERSIDE, named_sheets
from templategen.shop.gluing.plan import GluingPlan
from templategen.shop.weigh import mass_kg
from templategen.table.assembly import Table


def record(
    table: Table,
    plan: Plan,
    gluing: GluingPlan,
    findings: Sequence[Finding],
    files: Mapping[str, bytes],
    paper: PaperFiles,
    laid: LaidStock | None = None,
    jigs: JigFiles = NO_JIG_FILES,
    plan_record: Mapping[str, Any] | None = None,
) -> dict[str, Any]:
    """The record of a packet of these files, in the order in which it is written, with that of its plan of work."""
    revised = {piece["code"]: jig["revision"] for jig in jigs.record for piece in jig["pieces"]}
    told = {
        "format": 1,
        "title": table.profile.title,
        "profile": table.profile.name,
        "profile_sha256": table.profile.sha256,
        "templategen": __version__,
        "units": table.profile.units,
        "settled": all(finding.level == "note" for finding in findings),
        "table": table_json(table, mass_kg(table)),
        "parts": [
            *(part_json(part, _files_of(part.code, files, paper)) for part in table.parts),
            *(part_json(part, jigs.homes[part.code], revised[part.code]) for part in jigs.parts),
        ],
        "placed": [placed_json(placed) for placed in table.placed],
        "joints": joints_json(table),
        "assembly": assembly_json(table, plan),
        "ring_closes": plan.ring,
        "gluing": gluing_json(gluing),
        **({"plan": plan_record} if plan_record else {}),
        "findings": [finding_json(finding, table.profile.units) for finding in findings],
        **(stock_record(table, laid, files) if laid else {"stock": [], "stock_bound": None, "unplaced": {}}),
        "paper": paper.record,
        "jigs": list(jigs.record),
        "files": files_record(files),
    }
    return sealed(told)


def _files_of(code: str, files: Mapping[str, bytes], paper: PaperFiles) -> list[str]:
    paths = [f"parts/{code}.dxf", f"parts/{code}.svg"]
    paths += [f"router/{code}-{face}.dxf" for face in ("top", "bottom")]
    paths += [paper.homes[code]] if code in paper.homes else []
    return [path for path in paths if path in files]


def files_record(files: Mapping[str, bytes]) -> list[dict[str, Any]]:
    """Every file with its hash and size."""
    return [
        {"path": path, "sha256": sha256(data).hexdigest(), "bytes": len(data)} for path, data in sorted(files.items())
    ]


def stock_record(table: Table, laid: LaidStock, files: Mapping[str, bytes]) -> dict[str, Any]:
    """What is laid on which piece of stock, how good that is, and what is missing."""
    sheets = [sheet_record(path, one, files) for path, one in named_sheets(table.profile, laid)]
    short = {"unplaced": dict(sorted(laid.unplaced.items())), "to_buy": dict(sorted(laid.short.buy.items()))}
    return {"tables": laid.tables, "stock": sheets, "stock_bound": bound_record(laid), **short}


def bound_record(laid: LaidStock) -> dict[str, Any]:
    """What the layouts cost, beside the least that any could."""
    return {
        "pieces": laid.least.pieces,
        "cost": number(laid.least.cost, 2),
        "used_cost": number(laid.cost, 2),
        "gap": number(laid.gap, 4),
        "how": laid.least.how,
    }


def sheet_record(path: str, one: LaidSheet, files: Mapping[str, bytes]) -> dict[str, Any]:
    """One piece of stock; of its files those that are made."""
    from templategen.nesting.offcuts import used_share

    supply, sheet = one.supply, one.sheet
    piece = sheet.piece
    paths = (f"{path}{face}.{kind}" for face in ("", UNDERSIDE) for kind in ("dxf", "svg"))
    return {
        "name": piece.name,
        "piece": sheet.number,
        "wood": supply.wood,
        "thickness": number(supply.thickness),
        "planed": number(supply.planed),
        "size": numbers((piece.length, piece.width)),
        "price": number(piece.price, 2),
        "mode": piece.mode,
        "faults": [numbers(fault) for fault in piece.defects],
        "fault_areas": [numbers(fault) for fault in piece.defect_areas],
        "bad_ends": numbers(piece.bad_ends),
        "margin": numbers(piece.margin) if isinstance(piece.margin, tuple) else number(piece.margin),
        "spacing": number(piece.apart(supply.spacing)),
        "placements": [
            {
                "code": laid.code,
                "uses": "sawn_out",
                "x": number(laid.placement.x),
                "y": number(laid.placement.y),
                "turn": number(degrees(laid.placement.turn) % 360.0),
                "turned_over": laid.placement.turned_over,
            }
            for laid in sheet.laid
        ],
        "sawn_out": {
            item.code: {
                "outline": outline_json(item.outline),
                "pieces": item.pieces,
                "finished": item.code in supply.finished,
            }
            for item in supply.items
            if any(laid.code == item.code for laid in sheet.laid)
        },
        "cuts": [
            {
                "number": cut.number,
                "kind": cut.kind,
                "from": numbers(cut.start),
                "to": numbers(cut.end),
                "angle": number(cut.angle),
                "through": numbers(cut.through),
            }
            for cut in one.cuts
        ],
        "kerf": number(supply.kerf if piece.mode == "sawn" else piece.apart(supply.spacing)),
        "used": number(used_share(sheet, supply.items), 4),
        "offcuts": [numbers(offcut) for offcut in one.offcuts],
        "files": [path for path in paths if path in files],
    }
