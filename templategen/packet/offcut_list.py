"""Offcuts as stock: entries that the workshop's rack or another profile takes as they are."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from math import floor
from typing import TYPE_CHECKING

from templategen.catalogue import translated, worded
from templategen.table.assembly import Table

if TYPE_CHECKING:
    from templategen.nesting.stock import Piece
    from templategen.packet.lay_out import LaidSheet, LaidStock

GRAIN = 0.01
"""Offcuts are told in steps of this, never longer than they are, mm."""

LONGEST = 40
"""Characters kept of the name of the stock an offcut comes from."""

SMALLEST = 0.1
"""The smallest fault that a profile takes, mm; smaller ones are told as large as that."""

HEAD = """\
# What the layouts of {title} leave, as stock. The form that
# templategen job writes lists them, and puts those you keep on the rack of your workshop file.
# Each size holds once the parts are cut as drawn; measure before you rely on it. What they make by themselves tells
# templategen suit PROFILE --largest --boards THIS-FILE
"""
OF_A_PROFILE = 'format = 1\nunits = "mm"\n'


def offcut_list(table: Table, laid: LaidStock) -> str:
    """A `[[stock]]` entry for each offcut, lengths in mm, largest sheets first as they are laid out.

    An offcut is paid for. Nothing is trimmed any more where a saw frees the parts, since what bounds it was sawn
    (`margin` 0); a router's bit needs its margin anew.
    """
    kinds = {stock.name: stock.kind for stock in table.profile.stock}
    title = " ".join(table.profile.title.split())
    unit = "" if table.profile.units == "mm" else " mm"
    entries = [
        _entry(one, piece, spot, kinds[one.sheet.piece.name], unit)
        for one in laid.sheets
        for piece, spot in offcut_pieces(one)
    ]
    head = worded(HEAD, title=title) + OF_A_PROFILE
    return "\n".join([head, *entries]) if entries else f"{head}# {translated('Nothing.')}\n"


def offcut_pieces(one: LaidSheet) -> Iterator[tuple[Piece, tuple[float, float]]]:
    """The offcuts of a sheet as pieces of stock, each with where it lay."""
    from templategen.nesting.offcuts import offcut_piece

    source = one.sheet.piece
    for number, box in enumerate(one.offcuts, 1):
        length, width = (floor(size / GRAIN + 1e-6) * GRAIN for size in box[2:])
        whole = (box[0], box[1], round(length, 2), round(width, 2))
        name = f"{source.name[:LONGEST].strip()} {one.sheet.number} offcut {number}"
        yield replace(offcut_piece(source, whole, name), spacing=0.0), (box[0], box[1])


def _entry(one: LaidSheet, piece: Piece, spot: tuple[float, float], kind: str, unit: str) -> str:
    from templategen.output.numbers import digits

    def size(value: float) -> str:
        told = digits(value, 3)
        return f'"{told}{unit}"' if unit else told

    def rows(faults: tuple[tuple[float, ...], ...]) -> str:
        told = ((*fault[:2], *(max(SMALLEST, across) for across in fault[2:])) for fault in faults)
        return "[" + ", ".join("[" + ", ".join(map(size, fault)) + "]" for fault in told) + "]"

    x, y = (digits(value, 1) for value in spot)
    lines = [
        worded("# {x}, {y} mm from the lower left corner of piece {number}", x=x, y=y, number=one.sheet.number),
        "[[stock]]",
        f"name = {json.dumps(piece.name, ensure_ascii=False)}",
        f'kind = "{kind}"',
        f"wood = {json.dumps(one.supply.wood, ensure_ascii=False)}",
        f"length = {size(piece.length)}",
        f"width = {size(piece.width)}",
        f"thickness = {size(one.supply.thickness)}",
        "count = 1",
        f'mode = "{piece.mode}"',
    ]
    lines += ["margin = 0"] if piece.mode == "sawn" else []
    lines += [f"faults = {rows(piece.defects)}"] if piece.defects else []
    lines += [f"fault_areas = {rows(piece.defect_areas)}"] if piece.defect_areas else []
    return "\n".join(lines) + "\n"
