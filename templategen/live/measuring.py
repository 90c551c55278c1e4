"""What may be measured on each copy of a part, where that copy stands, and what was typed as `refit` reads it."""

from collections.abc import Iterable
from math import degrees
from typing import Any

from templategen.parts.part import Part
from templategen.shop.refit.read import places
from templategen.shop.refit.sizes import SIZES
from templategen.table.assembly import Table
from templategen.units import decimal_figure, trimmed


def measuring(table: Table, narrow: bool = False) -> dict[str, Any]:
    """The plan, lettered for a phone where it is `narrow`; for each part its copies with their middle in that plan,
    and its sizes as drawn."""
    from templategen.live.pictures import shown

    parts = [_part(table, part) for part in table.parts if part.kind in SIZES]
    return {"svg": shown(table, "above", narrow=narrow)["svg"][0], "parts": parts}


def _part(table: Table, part: Part) -> dict[str, Any]:
    middle = part.outline.bounds.centre
    spots = [placed.point(middle.x, middle.y, 0) for placed in table.placed if placed.code == part.code]
    copies = zip(places(table, part), spots, strict=False)
    return {
        "code": part.code, "name": part.name, "kind": part.kind,
        "copies": [{"place": place, "x": round(at.x, 1), "y": round(at.y, 1)} for place, at in copies],
        "sizes": [
            {"name": size.name, "says": size.says, "unit": table.profile.units if size.kind == "length" else "°",
             "drawn": decimal_figure(size.drawn(table, part), table.profile.units, (2, 3)) if size.kind == "length"
             else trimmed(degrees(size.drawn(table, part)), 2)}
            for size in SIZES[part.kind]
            if not (size.name.startswith("slot_") and table.profile.joints.spline == "none")
        ],
    }  # fmt: skip


def measures_text(entries: Iterable[dict[str, Any]], units: str) -> str:
    """What was measured at the bench as the file that `refit` reads."""
    import tomlkit

    return tomlkit.dumps({"format": 1, "units": units, "measured": list(entries)})
