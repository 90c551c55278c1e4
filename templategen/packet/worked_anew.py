"""The record of a packet held against its profile: what is worked out anew, share by share."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import islice
from math import atan2, degrees, dist, radians
from statistics import fmean
from typing import Any

from templategen.catalogue import translated, worded
from templategen.geometry.outline import rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.nesting.cutting_order import sawn_shape
from templategen.nesting.stock import Laid, Sheet
from templategen.output.customer_sheet import CustomerSheet
from templategen.output.gluing_json import gluing_json
from templategen.output.packet_json import (
    assembly_json,
    finding_json,
    joints_json,
    part_json,
    placed_json,
    table_json,
)
from templategen.output.plan_json import plan_json
from templategen.packet import share_files as made
from templategen.packet import stages, table_stages
from templategen.packet.customer import customer_sheet
from templategen.packet.jig_files import jig_record
from templategen.packet.lay_out import LaidSheet, LaidStock, bounded, in_money
from templategen.packet.lists import price_lists, stock_lists
from templategen.packet.pipeline import Worked
from templategen.packet.record import bound_record, sheet_record
from templategen.packet.supply import Order, joint_supplies
from templategen.paper.grid import letters
from templategen.proof.difference import Difference
from templategen.proof.read_record import RECORD
from templategen.shop.weigh import mass_kg

Record = Mapping[str, Any]

SAME = 1e-6
"""Figures of the record that are one differ by no more: machines differ in the last digit of a sine."""

MIDDLE = 1e-3
"""So near to a middle a cut's place is told, mm."""

MOST = 12
"""So many differences of one kind are told."""


def of_the_table(worked: Worked, record: Record) -> Iterator[Difference]:
    """The record, share by share, held against what is worked out anew."""
    table, plan = worked[table_stages.TABLE], worked[table_stages.PLAN]
    jigs = worked[stages.JIGS].jigs if record.get("jigs") else ()
    revised = {part.code: jig.revision for jig in jigs for part in jig.parts}
    pieces = worked[stages.JIGS].pieces if jigs else ()
    wanted: dict[str, Any] = {
        "title": table.profile.title,
        "units": table.profile.units,
        "table": table_json(table, mass_kg(table)),
        "parts": [
            {**part_json(part, (), revised.get(part.code, "")), "files": None} for part in (*table.parts, *pieces)
        ],
        "placed": [placed_json(placed) for placed in table.placed],
        "joints": joints_json(table),
        "assembly": assembly_json(table, plan),
        "ring_closes": plan.ring,
        "gluing": gluing_json(worked[stages.GLUING]),
        "plan": plan_json(worked[stages.WORK], table.profile),
    }
    for key, value in wanted.items():
        there = record.get(key)
        if key == "parts":
            there = [{**part, "files": None} for part in record["parts"]]
        yield from islice(unlike(key, value, there), MOST)
    yield from _findings(worked, record)


def _findings(worked: Worked, record: Record) -> Iterator[Difference]:
    """Every finding of the table stands in the record as it is found anew; others are of stock and jigs only."""
    told = list(record["findings"])
    for finding in [finding_json(one, worked[table_stages.PROFILE].units) for one in worked[table_stages.CHECKED]]:
        match = next((one for one in told if not any(unlike("", finding, one))), None)
        if match is None:
            yield Difference(
                RECORD, f"findings, {finding['where']}", worded("doesn't say: {says}", says=finding["says"])
            )
        else:
            told.remove(match)
    settled = all(finding["level"] == "note" for finding in record["findings"])
    if record.get("settled") != settled:
        yield Difference(RECORD, "settled", translated("isn't what its findings say"))


def unlike(where: str, wanted: Any, there: Any) -> Iterator[Difference]:
    """Every place where two values differ, numbers by more than a rounding."""
    if isinstance(wanted, Mapping) and isinstance(there, Mapping):
        for key in dict.fromkeys((*wanted, *there)):
            yield from unlike(f"{where}.{key}".strip("."), wanted.get(key), there.get(key))
    elif isinstance(wanted, list | tuple) and isinstance(there, list):
        if len(wanted) != len(there):
            yield Difference(
                RECORD,
                where,
                worded("has {there} entries, the profile makes {wanted}", there=len(there), wanted=len(wanted)),
            )
        for place, (one, other) in enumerate(zip(wanted, there, strict=False)):
            named = one.get("code", place) if isinstance(one, Mapping) else place
            yield from unlike(f"{where}.{named}", one, other)
    elif not _same(wanted, there):
        yield Difference(
            RECORD,
            where,
            worded("is {there}, the profile makes it {wanted}", there=str(there)[:60], wanted=str(wanted)[:60]),
        )


def _same(one: Any, other: Any) -> bool:
    numbers = all(isinstance(value, int | float) and not isinstance(value, bool) for value in (one, other))
    return abs(one - other) <= SAME * max(1.0, abs(one)) if numbers else bool(one == other)


def of_the_stock(worked: Worked, record: Record) -> Iterator[Difference]:
    """Where stock, paper and jigs aren't told as profile and layouts have them."""
    laid = _laid(worked, record)
    for one, there in zip(laid.sheets, record["stock"], strict=False):
        wanted = {**sheet_record("", one, {}), "files": there["files"], "cuts": there.get("cuts")}
        yield from islice(unlike(f"stock.{there['name']}.{there['piece']}", wanted, there), MOST)
    if len(laid.sheets) < len(record["stock"]):
        yield Difference(RECORD, "stock", translated("holds a piece that the profile doesn't list"))
    yield from _cuts(laid, record)
    yield from _bound(laid, record)
    yield from _paper(worked, record)
    yield from _jigs(worked, record)


def stock_lists_of(worked: Worked, record: Record) -> dict[str, bytes]:
    """The lists of the stock, from the layouts that the record tells; what one table costs is told in its own packet
    alone."""
    if not record["stock"]:
        return {}
    table, laid = worked[table_stages.TABLE], _laid(worked, record)
    lists = stock_lists(table, laid, worked[made.TEST_WOOD])
    if "packets" in record:
        return lists
    return {**lists, **price_lists(table, laid, worked[stages.HARDWARE], worked[stages.WORK])}


def customer_sheet_of(worked: Worked, record: Record) -> CustomerSheet:
    """The customer's sheet, its price from the layouts that the record tells."""
    laid = _laid(worked, record) if record["stock"] else None
    return customer_sheet(
        worked[table_stages.TABLE], worked[table_stages.CHECKED], worked[stages.GLUING], laid,
        worked[stages.HARDWARE], worked[stages.WORK],
    )  # fmt: skip


def _laid(worked: Worked, record: Record) -> LaidStock:
    """The layouts of the record on the stock of the profile; pieces that it doesn't list are left out."""
    orders: tuple[Order, ...] = worked[stages.ORDERS]
    supplies, unserved = joint_supplies(orders, worked[table_stages.PROFILE].stock)
    sheets = []
    numbers: Counter[str] = Counter()
    for entry in record["stock"]:
        numbers[entry["name"]] += 1
        for supply in supplies:
            codes = {item.code for item in supply.items}
            piece = next((piece for piece in supply.pieces if piece.name == entry["name"]), None)
            if piece is not None and codes.issuperset(one["code"] for one in entry["placements"]):
                laid = tuple(Laid(one["code"], _placement(one)) for one in entry["placements"])
                offcuts = tuple((a, b, c, d) for a, b, c, d in entry["offcuts"])
                sheets.append(LaidSheet(supply, Sheet(piece, numbers[piece.name], laid), (), offcuts))
                break
    return LaidStock(tuple(sheets), {}, unserved, (), tables=int(record.get("tables", 1)))


def _placement(entry: Record) -> Placement:
    return Placement(entry["x"], entry["y"], radians(entry["turn"]), entry["turned_over"])


def _cuts(laid: LaidStock, record: Record) -> Iterator[Difference]:
    """Saw cuts are numbered in their order, told at the angle at which they run, and each divides a piece in the
    middle of a part, or of an offcut, that lies on the board."""
    for one, piece in zip(laid.sheets, record["stock"], strict=False):
        middles = list(_middles(one))
        where = f"stock.{piece['name']}.{piece['piece']}.cuts"
        for number, cut in enumerate(piece.get("cuts", ()), 1):
            (x0, y0), (x1, y1) = cut["from"], cut["to"]
            off = (degrees(atan2(y1 - y0, x1 - x0)) - cut["angle"]) % 180.0
            if cut["number"] != number or min(off, 180.0 - off) > 1e-4:
                yield Difference(RECORD, where, worded("cut {number} isn't told as it runs", number=number))
            if not any(dist(cut["through"], middle) <= MIDDLE for middle in middles):
                yield Difference(
                    RECORD, where, worded("cut {number} divides a piece at no part's middle", number=number)
                )


def _middles(laid: LaidSheet) -> Iterator[tuple[float, float]]:
    """The middles of what lies on a board, offcuts too: the mean of each shape's corners, as a saw frees it."""
    outlines = {item.code: item.outline for item in laid.supply.items}
    shapes: list[Sequence[Point]] = [sawn_shape(one.placement.outline(outlines[one.code])) for one in laid.sheet.laid]
    shapes += [
        rectangle(left, bottom, left + wide, bottom + high).points for left, bottom, wide, high in laid.offcuts
    ]
    yield from ((fmean(at.x for at in shape), fmean(at.y for at in shape)) for shape in shapes)


def _bound(laid: LaidStock, record: Record) -> Iterator[Difference]:
    """What the layouts cost, and the least that any could."""
    if not record["stock"] or not record.get("stock_bound") or record.get("unplaced"):
        return
    for supply in dict.fromkeys(one.supply for one in laid.sheets):
        spent, least = bounded(supply, [one.sheet for one in laid.sheets if one.supply == supply])
        laid = replace(laid, bounds=(*laid.bounds, (supply, least)), cost=laid.cost + spent)
    yield from unlike("stock_bound", bound_record(in_money(laid)), record["stock_bound"])


def _paper(worked: Worked, record: Record) -> Iterator[Difference]:
    """Paper is that of the profile, and the sheets are counted."""
    told, paper = record.get("paper"), worked[table_stages.PROFILE].paper
    if not told:
        return
    wanted = {
        "size": paper.size if isinstance(paper.size, str) else list(paper.size),
        "margin": paper.margin,
        "overlap": paper.overlap,
        "scale_x": paper.scale_x,
        "scale_y": paper.scale_y,
        "skew_deg": degrees(paper.skew),
        "sheets": sum(entry["pages"] for entry in told["print"]),
        "saved": told["plain_sheets"] - told["sheets"],
    }
    for key, value in wanted.items():
        yield from unlike(f"paper.{key}", value, told.get(key))
    entries = [entry for kind in ("files", "alone", "drawings") for entry in told[kind]]
    entries += [jig["paper"] for jig in record.get("jigs", ()) if "paper" in jig]
    for entry in entries:
        if not all(_fits(spread) for spread in entry["spreads"]):
            yield Difference(
                RECORD, f"paper.{entry['path']}", translated("tells pages that its rows and columns don't have")
            )


def _fits(spread: Record) -> bool:
    """Whether every page's name, a letter for its column and a number for its row, lies in the grid, once."""
    names, columns, rows = spread["pages"], spread["columns"], spread["rows"]
    grid = {f"{letters(column)}{row + 1}" for column in range(min(columns, 999)) for row in range(min(rows, 999))}
    return len(set(names)) == len(names) and set(names) <= grid


def _jigs(worked: Worked, record: Record) -> Iterator[Difference]:
    """Every jig, its pieces, figures and words."""
    if not record.get("jigs"):
        return
    jigs = worked[stages.JIGS].jigs
    if len(jigs) != len(record["jigs"]):
        yield Difference(
            RECORD,
            "jigs",
            worded("has {jigs} entries, the profile makes {jigs2}", jigs=len(record["jigs"]), jigs2=len(jigs)),
        )
    for jig, there in zip(jigs, record["jigs"], strict=False):
        sites = {piece["code"]: Point(*piece["at"]) for piece in there["pieces"]}
        known = {part.code: sites.get(part.code, Point(0.0, 0.0)) for part in jig.parts}
        wanted = {**jig_record(jig, known, sorted(there["files"])), "paper": there.get("paper")}
        yield from islice(unlike(f"jigs.{jig.code}", wanted, there), MOST)
