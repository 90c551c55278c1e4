"""A table's files for the router, and what cutting them comes to."""

from __future__ import annotations

from collections.abc import Mapping

from templategen.drawing.clamping_sheet import clamping_drawing
from templategen.output.dxf import dxf_bytes
from templategen.output.packet_json import part_json
from templategen.parts.part import Part
from templategen.proof.recorded import Recorded
from templategen.proof.router import router_differences
from templategen.router.clamping import clampings
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

Files = Mapping[str, bytes]


def with_bit(table: Table, bit: float, longer: float | None = None) -> Table:
    """The same table for a shop with one bit of so many mm, long enough for everything."""
    more = {"shop_longer": f"{longer} mm"} if longer is not None else {}
    return table.with_(shop_router_bit=f"{bit} mm", shop_bit_length="120 mm", **more)


def files_of(part: Part, profile: Profile) -> dict[str, bytes]:
    """The files of one part by path."""
    return {
        f"router/{part.code}-{one.face}.dxf": dxf_bytes(
            clamping_drawing(one, profile, "1"), profile.dxf.version, profile.dxf.units
        )
        for one in clampings(part, profile)
    }


def said_of(part: Part, files: Files) -> list[str]:
    """What the simulated router finds."""
    return [str(one) for one in router_differences(Recorded(part_json(part, ())), files)]


def wrong_in(table: Table) -> list[str]:
    """What it finds in all files of a table."""
    return [said for part in table.parts for said in said_of(part, files_of(part, table.profile))]
