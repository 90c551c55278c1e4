"""Tables with every board routed, their sheets as files, and what cutting them comes to."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from templategen.packet import stages, table_stages
from templategen.packet.jigs import NO_JIGS, JigPlan
from templategen.packet.lay_out import LaidSheet, LaidStock
from templategen.packet.part_files import two_formats
from templategen.packet.record import sheet_record
from templategen.packet.shipped import shipped_text
from templategen.packet.stock_files import UNDERSIDE, machined_sheets, named_sheets, routed_parts
from templategen.proof.recorded import Recorded
from templategen.proof.routed_sheets import routed_sheet_differences
from templategen.router.sheet import SheetWork
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text
from templategen.units import parse_length
from tests.random_profiles import profile_text

WIDER = 36.0
"""Boards for a router are so much wider than the sawyer's: margins and passes take it."""


def routed_profile(name: str, bit: float, more: str = "") -> Profile:
    """A shipped profile with every board routed, with one bit long enough for all of them."""
    return profile_from_text(routed_text(shipped_text(name), bit) + more, name)


def routed_text(text: str, bit: float) -> str:
    """The same for any profile's text."""
    unit = "in" if 'units = "in"' in text else "mm"
    text = re.sub(r"(?m)^(router_bit|bit_length).*\n", "", text)
    tools = f'[shop]\nrouter_bit = "{bit} mm"\nbit_length = "120 mm"\n'
    text = text.replace("[shop]\n", tools) if "[shop]\n" in text else f"{text}\n{tools}"
    head, *stock = text.split("[[stock]]\n")
    return "[[stock]]\n".join([head, *(_routed(body, unit) for body in stock)])


def _routed(body: str, unit: str) -> str:
    own, mark, rest = body.partition("\n[")
    own = re.sub(r"(?m)^width = (.*?)(?=\s*(#|$))", lambda found: _wider(found[1].strip(), unit), own)
    return f'mode = "routed"\n{own}{mark}{rest}'


def _wider(told: str, unit: str) -> str:
    told = told.strip('"')
    whole = told if told.endswith(("in", "mm")) else f"{told} {unit}"
    return f'width = "{float(parse_length(whole)) + WIDER} mm"'


@dataclass(frozen=True)
class Board:
    """One routed piece: what the machine does to it, and how to draw and cut it."""

    profile: Profile
    path: str
    one: LaidSheet
    work: SheetWork
    parts: Any

    def files(self, work: SheetWork) -> dict[str, bytes]:
        """Its files with that work."""
        from templategen.drawing.stock_sheet import stock_drawing

        items = {item.code: item for item in self.one.supply.items}
        files = {}
        for ending, underside in (("", False), (UNDERSIDE, True)):
            if not underside or work.is_turned:
                drawing = stock_drawing(
                    self.one.sheet, items, "t", self.profile.units, (), self.one.offcuts, work, underside,
                    self.profile.dxf.units,
                )  # fmt: skip
                files.update(two_formats(self.path + ending, drawing, self.profile.dxf))
        return files

    def said(self, work: SheetWork | None = None, **told: Any) -> list[str]:
        """What the simulated router finds; `told` are entries of the record to change."""
        files = self.files(work or self.work)
        record = {**sheet_record(self.path, self.one, files), **told}
        return [one.says for one in routed_sheet_differences(record, self.parts, files)]


def boards(profile: Profile) -> Iterator[Board]:
    """Every routed piece of a profile, jigs included."""
    worked = table_stages.begun(profile, ("stock", "jigs"))
    yield from _boards(worked[table_stages.TABLE], worked[stages.LAID], worked[stages.JIGS])


def _boards(table: Table, laid: LaidStock | None, jigs: JigPlan) -> Iterator[Board]:
    from templategen.output.packet_json import part_json

    works = machined_sheets(table, laid, routed_parts(table, jigs))
    parts = {part.code: Recorded(part_json(part, ())) for part in (*table.parts, *jigs.pieces)}
    for path, one in named_sheets(table.profile, laid):
        if path in works:
            yield Board(table.profile, path, one, works[path], parts)


def random_boards(seed: int) -> Iterator[Board]:
    """Those of a random table on planks of each thickness it needs; none of one that can't be built."""
    from templategen.errors import DesignError
    from templategen.packet.lay_out import lay_out_supplies
    from templategen.packet.supply import Order, joint_supplies
    from templategen.table.assembly import build_table

    bit, wide = ((6.0, 8.0, 12.0)[seed % 3], 260 + 40 * (seed % 4))
    text = profile_text(seed) + f'[shop]\nrouter_bit = "{bit} mm"\nbit_length = "120 mm"\n'
    sizes = ("top.thickness", "slats.thickness", "base.thickness", "legs.section")
    for number, size in enumerate(sizes):
        text += (
            f'[[stock]]\nname = "plank {number}"\nmode = "routed"\nlength = "2600 mm"\nwidth = "{wide} mm"\n'
            f'thickness = "{size}"\n'
        )
    try:
        table = build_table(profile_from_text(text, f"random-{seed}"))
    except DesignError:
        return
    supplies, unserved = joint_supplies([Order(table)], table.profile.stock)
    laid = lay_out_supplies(([replace(supply, only_jigs=True) for supply in supplies], unserved))
    yield from _boards(table, laid, NO_JIGS)


@cache
def side_boards(bit: float = 8.0) -> dict[str, Board]:
    """Those of the smallest shipped table, by path."""
    return {board.path: board for board in boards(routed_profile("towpath-side", bit))}
