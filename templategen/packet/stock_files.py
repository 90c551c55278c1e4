"""The share of stock: a drawing of each piece with what is laid on it; of a routed piece one for each clamping."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from templategen.catalogue import translated
from templategen.errors import Fault, GeometryError
from templategen.kept.keep import kept
from templategen.packet.file_name import file_names
from templategen.packet.jigs import JigPlan
from templategen.packet.lay_out import LaidSheet, LaidStock
from templategen.packet.lost import or_lost, or_stop
from templategen.packet.part_files import in_two_formats, two_formats
from templategen.parts.part import Part
from templategen.router.bits import Bit, bits_of
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.table.profile.model_of_shop import Dxf, Router, Stock

if TYPE_CHECKING:
    from templategen.drawing.drawing import Drawing
    from templategen.geometry.edge import Line
    from templategen.router.sheet import SheetWork

UNDERSIDE = "-bottom"
"""Ends the name of the clamping before the one in which the parts are freed."""


@dataclass(frozen=True, slots=True)
class Routed:
    """What is known of routed sheets: by code, parts and edges besides joints that must stay clean; the machine."""

    parts: Mapping[str, Part]
    clean: Mapping[str, Sequence[Line]]
    bits: tuple[Bit, ...]
    router: Router
    relief: str = "none"


def routed_parts(table: Table, jigs: JigPlan) -> Routed:
    """What the sheets for a routing machine must know of the parts and the jigs' pieces."""
    from templategen.jigs.jig import seats

    parts = {part.code: part for part in (*table.parts, *jigs.pieces)}
    return Routed(
        parts, seats(jigs.jigs), bits_of(table.profile), table.profile.router, table.profile.dxf.corner_relief
    )


def machined_sheets(table: Table, laid: LaidStock | None, routed: Routed) -> dict[str, SheetWork]:
    """What a machine does to each routed piece, by the path of its drawing; none where its bit doesn't reach through,
    and, which is told, where its waste has no room for pins."""
    stock = {one.name: one for one in table.profile.stock}
    works = {
        path: or_stop(path, partial(_machined, one, bit, routed), None)
        for path, one in named_sheets(table.profile, laid)
        if (bit := freeing_bit(one, stock, routed)) is not None
    }
    return {path: work for path, work in works.items() if work is not None}


def freeing_bit(one: LaidSheet, stock: Mapping[str, Stock], routed: Routed) -> Bit | None:
    """The bit that frees a piece's parts; None where it is sawn, or no bit is long enough."""
    width, depth = stock[one.sheet.piece.name].bit, one.supply.planed + routed.router.through
    fits = (bit for bit in routed.bits if bit.diameter == width and bit.reaches(depth))
    return next(fits, None)


def _machined(one: LaidSheet, bit: Bit, routed: Routed) -> SheetWork:
    from templategen.router.sheet import Laid, Machine, sheet_work

    supply, piece = one.supply, one.sheet.piece
    lines = {item.code: item.outline for item in supply.items}
    parts = [
        Laid(
            laid.code, part, lines[laid.code], laid.placement,
            laid.code in supply.finished, tuple(routed.clean.get(laid.code, ())),
        )
        for laid in one.sheet.laid for part in (routed.parts[laid.code],)
    ]  # fmt: skip
    machine = Machine(bit, routed.bits, routed.router, routed.relief)
    return kept(sheet_work)(parts, (piece.length, piece.width), supply.planed, machine)


def stock_files(
    table: Table, laid: LaidStock | None, works: Mapping[str, SheetWork], routed: Routed
) -> dict[str, bytes]:
    """A drawing of each piece of stock, in two formats, by path; of a routed piece one for each clamping, none where
    no bit reaches through."""
    from templategen.drawing.cut_words import cut_words, from_there
    from templategen.drawing.stock_sheet import stock_drawing
    from templategen.work.stock import marks_boards

    profile = table.profile
    files: dict[str, bytes] = {}
    for path, one in named_sheets(profile, laid):
        items, work = {item.code: item for item in one.supply.items}, works.get(path)
        told = cut_words(one.cuts, one.settings, profile.units, marks_boards(profile.shop.machines))
        told += (translated(from_there(profile.shop.machines)),) if told else ()
        draw = partial(stock_drawing, one.sheet, items, profile.title, profile.units, one.cuts, one.offcuts, work,
                       layers=profile.dxf.units, told=told,
                       machines=profile.shop.machines, hand_tools=profile.shop.hand_tools)  # fmt: skip
        if work:
            on_it = {laid.code: routed.parts[laid.code] for laid in one.sheet.laid}
            files.update(or_lost(path, partial(_routed_files, path, one, draw, work, profile.dxf, on_it), {}))
        elif one.sheet.piece.mode == "sawn":
            files.update(in_two_formats(path, draw, profile.dxf))
    return files


@kept
def _routed_files(
    path: str, one: LaidSheet, draw: Callable[..., Drawing], work: SheetWork, dxf: Dxf, parts: Mapping[str, Part]
) -> dict[str, bytes]:
    """Both clampings of a routed piece, cut once more before they go out.

    Raises:
        GeometryError: what they cut isn't the parts, or lets one go too early.
    """
    from templategen.output.packet_json import part_json
    from templategen.packet.record import sheet_record
    from templategen.proof.recorded import Recorded
    from templategen.proof.routed_sheets import routed_sheet_differences

    files = dict(two_formats(path, draw(), dxf))
    if work.is_turned:
        files.update(two_formats(path + UNDERSIDE, draw(underside=True), dxf))
    recorded = {code: Recorded(part_json(part, ())) for code, part in parts.items()}
    wrong = next(routed_sheet_differences(sheet_record(path, one, files), recorded, files), None)
    if wrong is not None:
        raise GeometryError(Fault(wrong.where, wrong.says))
    return files


def named_sheets(profile: Profile, laid: LaidStock | None) -> Iterator[tuple[str, LaidSheet]]:
    """Each laid sheet with the path of its drawing, its ending left off."""
    names = file_names(stock.name for stock in profile.stock)
    for one in laid.sheets if laid else ():
        yield f"stock/{names[one.sheet.piece.name]}-{one.sheet.number}", one
