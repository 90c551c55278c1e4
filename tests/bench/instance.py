"""Nesting instances as files: parts, boards, faults, kerf. Nothing here knows where they are kept."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from templategen.geometry.outline import polygon
from templategen.nesting.stock import Item, Piece


@dataclass(frozen=True, slots=True)
class Instance:
    """What is asked of an engine; `leftover` asks for the shortest used length of one sheet instead of least cost."""

    name: str
    items: tuple[Item, ...]
    pieces: tuple[Piece, ...]
    spacing: float
    leftover: bool


def read_instance(path: Path) -> Instance:
    """The instance of a JSON file: `items` with `outline`, `holes`, `copies`, `rotations`; `bins` with `w`, `h`,
    `copies`, `cost`, `defects`; `spacing`, `margin`, `defect_spacing`."""
    data: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    grown = 2 * data.get("defect_spacing", 0.0)
    items = tuple(
        Item(
            one["id"],
            polygon(one["outline"]),
            one["copies"],
            may_turn_over=False,
            holes=tuple(polygon(hole) for hole in one.get("holes", ())),
        )
        for one in data["items"]
    )
    grain = all(set(one["rotations"]) <= {0, 180} for one in data["items"])
    pieces = tuple(
        Piece(
            one["id"],
            one["w"],
            one["h"],
            one["copies"],
            float(one["cost"]),
            tuple((d["cx"], d["cy"], 2 * d["r"] + grown) for d in one["defects"]),
            data["margin"],
            grain,
        )
        for one in data["bins"]
    )
    return Instance(data["name"], items, pieces, data["spacing"], data.get("objective") == "leftover")


def of_profile(tables: int, profile: str = "towpath-dining") -> Instance:
    """The supply of most parts of a shipped profile, for so many tables, boards to be had as needed."""
    from templategen.packet.supply import supplies
    from templategen.table.assembly import build_table
    from templategen.table.profile.read import read_profile

    path = Path(__file__).parents[2] / "profiles" / f"{profile}.toml"
    found, _ = supplies(build_table(read_profile(path)), tables)
    supply = max(found, key=lambda one: sum(item.count for item in one.items))
    return Instance(f"{profile} x{tables}", tuple(supply.items), tuple(supply.pieces), supply.spacing, False)
