"""What takes longer than a picture: findings, the values that would mend them, boards and cost, the packet.

Each is an errand in a process of its own, which loads this file with all that it needs beforehand.
"""

from collections.abc import Iterable, Iterator
from pathlib import Path
from time import monotonic
from typing import Any

from templategen.checks.finding import Finding, in_order
from templategen.checks.run import measured, proved
from templategen.english import tag
from templategen.errors import DesignError
from templategen.fit.plan import plan_assembly
from templategen.live.errand import Told
from templategen.live.mend import for_faults, for_findings
from templategen.nesting.offcuts import used_share
from templategen.output.folder import check_target
from templategen.packet.build import in_units
from templategen.packet.lay_out import LaidStock
from templategen.packet.make import Packet, make_packet
from templategen.packet.refit import make_refit
from templategen.packet.stages import LAID, OF_STOCK, WORK
from templategen.packet.table_stages import TABLE, Tell, begun, speak_as
from templategen.packet.write import write_packet
from templategen.router.findings import reach_findings
from templategen.shop.closing.study import closing_findings, wished
from templategen.shop.set_ups.choose import way_findings
from templategen.shop.set_ups.run import set_ups
from templategen.shop.weigh import mass_kg
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_in_place, read_profile

OFTEN = 0.15
"""Seconds between two reports of how far something is."""

SHARES = ("stock", "jigs")
"""What of a packet is laid out for boards and cost, as `make` has it."""


def judged(text: str, path: str, shop: str | None, tell: Told) -> None:
    """Tells mass and count, the findings that need no putting together, then all of them, then what would mend each.

    Where the table can't be built it tells what would do instead.
    """
    profile = profile_in_place(text, path, shop)
    speak_as(profile)
    try:
        table = build_table(profile)
    except DesignError as refusal:
        faults = [in_units(fault, profile.units) for fault in refusal.faults]
        tell("mends", {"of": "", "offers": for_faults(profile, faults)})
        raise
    tell("mass", {"mass": round(mass_kg(table), 1), "parts": len(table.placed), "kinds": len(table.parts)})
    ours = (*way_findings(table, set_ups), *reach_findings(table))
    found = measured(table)
    tell("found", {"found": _findings(in_order((*found, *ours)), profile.units), "whole": False})
    seen = proved(table, found, plan_assembly(table, wished(table)))
    every = in_order((*seen.findings, *closing_findings(table, seen.plan), *ours))
    tell("found", {"found": _findings(every, profile.units), "whole": True})
    for_findings(table, found, tell)


def laid_out(text: str, path: str, shop: str | None, tell: Told) -> None:
    """Tells cost and boards as `make` lays them out, and a picture of each."""
    profile = profile_in_place(text, path, shop)
    worked = begun(profile, SHARES, None, now_and_then("laying", tell))
    laid = worked[LAID]
    of_stock: tuple[Finding, ...] = worked[OF_STOCK]
    if laid is None or not profile.stock:
        tell("boards", {"cost": 0.0, "boards": 0, "used": {}, "sheets": [], "found": [], "hours": None})
        return
    tell("boards", {
        "cost": round(laid.cost, 2) if any(piece.price for piece in profile.stock) else None,
        "boards": len(laid.sheets), "used": laid.used, "sheets": list(_layouts(worked[TABLE], laid)),
        "found": _findings(of_stock, profile.units), "hours": round(worked[WORK].minutes / 60, 1),
    })  # fmt: skip


def _layouts(table: Table, laid: LaidStock) -> Iterator[dict[str, Any]]:
    """Each piece of stock: its name and number, how much of it becomes blanks, its picture and what letters mean."""
    from templategen.drawing.stock_picture import stock_picture
    from templategen.output.svg_inline import inline_svg

    for number, one in enumerate(laid.sheets):
        items = {item.code: item for item in one.supply.items}
        shown = stock_picture(one.sheet, items, table.profile.units, one.cuts, one.offcuts)
        yield {
            "stock": one.sheet.piece.name, "number": one.sheet.number, "key": dict(shown.key),
            "used": round(used_share(one.sheet, one.supply.items), 3),
            "svg": inline_svg(shown.drawing, f"board-{number}"),
        }  # fmt: skip


def made(path: str, shop: str | None, folder: str, effort: float | None, tell: Told) -> None:
    """Makes the packet as the command does and writes it; tells how far it is, and at last what was found."""
    check_target(Path(folder), [path])
    packet = make_packet(read_profile(path, shop), None, effort, now_and_then("making", tell), second_core=True)
    write_packet(packet, folder)
    tell("made", _outcome(packet))


def refitted(path: str, shop: str | None, measures: str, folder: str, tell: Told) -> None:
    """Makes the packet of a re-fit from what was measured, a file beside the profile."""
    check_target(Path(folder), [path, measures])
    profile = read_profile(path, shop)
    packet, _ = make_refit(profile, measures, now_and_then("making", tell))
    write_packet(packet, folder)
    tell("made", _outcome(packet))


def now_and_then(kind: str, tell: Told) -> Tell:
    """Passes on how far something is, no oftener than an eye follows."""
    last = [0.0]

    def told(what: str, done: float) -> None:
        if monotonic() - last[0] > OFTEN:
            last[0] = monotonic()
            tell(kind, {"what": what, "done": done})

    return told


def _outcome(packet: Packet) -> dict[str, Any]:
    size = sum(len(data) for data in packet.files.values())
    return {
        "files": len(packet.files), "bytes": size, "exit": packet.exit_code,
        "found": _findings(packet.findings, packet.table.profile.units),
    }  # fmt: skip


def _findings(found: Iterable[Finding], units: str) -> list[dict[str, str]]:
    """Findings as the command tells them."""
    return [
        {"name": one.name, "list": one.list, "level": one.level, "where": one.where,
         "whole": told.whole, "why": told.why, "do": told.do, "lang": tag(of_catalogue=True)}
        for one in found for told in (one.described(units),)
    ]  # fmt: skip
