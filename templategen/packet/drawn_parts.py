"""The share of parts: a sheet for each, and drawings of the whole table."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.packet.revision import revision
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

PLAN_WEIGHT = 3.0
"""How much heavier the lines of the plan are, which is looked at on a screen rather than cut to."""


def part_files(part: Part, profile: Profile, revised: str) -> Iterator[tuple[str, bytes]]:
    """The sheet of one part, in two formats."""
    from templategen.drawing.part_sheet import part_drawing
    from templategen.output.dxf import dxf_bytes
    from templategen.output.svg import svg_text

    overrun, relief = profile.shop.router_bit / 2, profile.dxf.corner_relief
    drawing = part_drawing(part, profile.title, revised, overrun, profile.units, relief)
    yield f"parts/{part.code}.dxf", dxf_bytes(drawing, profile.dxf.version, profile.dxf.units)
    yield f"parts/{part.code}.svg", svg_text(drawing).encode()


def drawn_parts(table: Table) -> Iterator[tuple[str, bytes]]:
    """The sheets of every part, the plan and the elevation, in two formats each."""
    from templategen.drawing.elevation import elevation_drawing
    from templategen.drawing.plan import plan_drawing
    from templategen.output.dxf import dxf_bytes
    from templategen.output.svg import svg_text

    profile = table.profile
    for part in table.parts:
        yield from part_files(part, profile, revision(profile))
    plan = plan_drawing(table, revision(profile))
    yield "drawings/plan.dxf", dxf_bytes(plan, profile.dxf.version, profile.dxf.units)
    yield "drawings/plan.svg", svg_text(plan, PLAN_WEIGHT).encode()
    elevation = elevation_drawing(table, revision(profile))
    yield "drawings/elevation.dxf", dxf_bytes(elevation, profile.dxf.version, profile.dxf.units)
    yield "drawings/elevation.svg", svg_text(elevation, PLAN_WEIGHT).encode()
