"""Offcuts as stock: entries that the workshop's rack or another profile takes as they are."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import floor

from templategen.catalogue import translated, worded
from templategen.nesting.stock import Piece, Rectangle
from templategen.packet.lay_out import LaidSheet
from templategen.table.assembly import Table

GRAIN = 0.01
"""Offcuts are told in steps of this, never longer than they are, mm."""

TOLD = 4
"""Decimals of a millimetre that offcuts are taken by, so that they are told alike out of layouts read back."""

LONGEST = 40
"""Characters kept of the name of the stock an offcut comes from."""

SMALLEST = 0.1
"""The smallest fault that a profile takes, mm; smaller ones are told as large as that."""

HEAD = """\
# What is left of the boards of {title} once the test strips are sawn too, as stock. The form that
# templategen job writes lists them, and puts those you keep on the rack of your workshop file.
# Each size holds once the parts are cut as drawn; measure before you rely on it. What they make by themselves tells
# templategen suit PROFILE --largest --boards THIS-FILE
"""
OF_A_PROFILE = 'format = 1\nunits = "mm"\n'


BOUGHT = 0
"""Stands for the number of a board that is bought for test strips: no layout shows it."""


@dataclass(frozen=True, slots=True)
class Offcut:
    """Wood that is left: a piece of stock in its own frame, of which kind of stock and where it lies on which
    piece of that, its wood and thickness, mm."""

    piece: Piece
    stock: str
    number: int
    spot: tuple[float, float]
    wood: str
    thickness: float

    def part(self, box: Rectangle) -> Offcut:
        """The rectangle of it at that place in its frame, never told longer than it is."""
        from templategen.nesting.offcuts import offcut_piece

        x, y, *sizes = box
        length, width = (round(floor(size / GRAIN + 1e-6) * GRAIN, 2) for size in sizes)
        piece = replace(offcut_piece(self.piece, (x, y, length, width), self.piece.name), spacing=0.0)
        return replace(self, piece=piece, spot=(self.spot[0] + x, self.spot[1] + y))


def offcuts_of(one: LaidSheet) -> Iterator[Offcut]:
    """The offcuts of a sheet as its layout shows them."""
    source = one.sheet.piece
    for number, box in enumerate(one.offcuts, 1):
        name = f"{source.name[:LONGEST].strip()} {one.sheet.number} offcut {number}"
        whole = Offcut(source, source.name, one.sheet.number, (0.0, 0.0), one.supply.wood, one.supply.thickness)
        x, y, length, width = (round(size, TOLD) for size in box)
        told = whole.part((x, y, length, width))
        yield replace(told, piece=replace(told.piece, name=name))


def offcut_list(table: Table, left: Sequence[Offcut]) -> str:
    """A `[[stock]]` entry for each piece of wood that is left, lengths in mm, in that order; pieces that one offcut
    is sawn into are counted after its name.

    An offcut is paid for. Nothing is trimmed any more where a saw frees the parts, since what bounds it was sawn
    (`margin` 0); a router's bit needs its margin anew.
    """
    kinds = {stock.name: stock.kind for stock in table.profile.stock}
    title = " ".join(table.profile.title.split())
    unit = "" if table.profile.units == "mm" else " mm"
    many, seen = Counter(one.piece.name for one in left), Counter[str]()
    entries = []
    for one in left:
        name = one.piece.name
        seen[name] += 1
        told = f"{name}-{seen[name]}" if many[name] > 1 else name
        entries.append(_entry(one, told, kinds[one.stock], unit))
    head = worded(HEAD, title=title) + OF_A_PROFILE
    return "\n".join([head, *entries]) if entries else f"{head}# {translated('Nothing.')}\n"


def _entry(one: Offcut, name: str, kind: str, unit: str) -> str:
    from templategen.output.numbers import digits

    def size(value: float) -> str:
        told = digits(value, 3)
        return f'"{told}{unit}"' if unit else told

    def rows(faults: tuple[tuple[float, ...], ...]) -> str:
        told = ((*fault[:2], *(max(SMALLEST, across) for across in fault[2:])) for fault in faults)
        return "[" + ", ".join("[" + ", ".join(map(size, fault)) + "]" for fault in told) + "]"

    piece = one.piece
    lines = [
        _place(one),
        "[[stock]]",
        f"name = {json.dumps(name, ensure_ascii=False)}",
        f'kind = "{kind}"',
        f"wood = {json.dumps(one.wood, ensure_ascii=False)}",
        f"length = {size(piece.length)}",
        f"width = {size(piece.width)}",
        f"thickness = {size(one.thickness)}",
        "count = 1",
        f'mode = "{piece.mode}"',
    ]
    lines += ["margin = 0"] if piece.mode == "sawn" else []
    lines += [f"faults = {rows(piece.defects)}"] if piece.defects else []
    lines += [f"fault_areas = {rows(piece.defect_areas)}"] if piece.defect_areas else []
    return "\n".join(lines) + "\n"


def _place(one: Offcut) -> str:
    from templategen.output.numbers import digits

    x, y = (digits(value, 1) for value in one.spot)
    if one.number == BOUGHT:
        return worded("# {x}, {y} mm from the lower left corner of the board bought for test strips", x=x, y=y)
    return worded("# {x}, {y} mm from the lower left corner of piece {number}", x=x, y=y, number=one.number)
