"""Nesting instances as files: parts, boards, faults, kerf. Nothing here knows where they are kept."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from math import atan2, pi, tan
from pathlib import Path
from random import Random
from typing import Any

from templategen.errors import DesignError
from templategen.geometry.outline import polygon
from templategen.geometry.placement import Placement
from templategen.nesting.stock import Item, Mode, Piece
from templategen.parts.part import Part
from templategen.table.assembly import build_table
from templategen.table.profile.read import profile_from_text
from tests.random_profiles import profile_text

KEPT = Path(__file__).parent / "instances"
"""The jobs that come with the project: one table of mitred parts on boards, thirty-two jig parts on sheets."""


@dataclass(frozen=True, slots=True)
class Instance:
    """What is asked of an engine; `leftover` asks for the shortest used length of one sheet instead of least cost."""

    name: str
    items: tuple[Item, ...]
    pieces: tuple[Piece, ...]
    spacing: float
    leftover: bool


def read_instance(path: Path) -> Instance:
    """The instance of a JSON file: `items` with `outline`, `copies`, `rotations`; `bins` with `w`, `h`,
    `copies`, `cost`, `defects`; `spacing`, `margin`, `defect_spacing`."""
    data: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    grown = 2 * data.get("defect_spacing", 0.0)
    items = tuple(
        Item(
            one["id"],
            polygon(one["outline"]),
            one["copies"],
            may_turn_over=False,
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


def kept(name: str, tables: int = 1) -> Instance:
    """A job that comes with the project, for so many tables and as many times the stock."""
    one = read_instance(KEPT / f"{name}.json")
    return Instance(
        f"{name} x{tables}" if tables > 1 else name,
        tuple(replace(item, count=item.count * tables) for item in one.items),
        tuple(replace(piece, count=None if piece.count is None else piece.count * tables) for piece in one.pieces),
        one.spacing,
        one.leftover,
    )


def by_chance(seed: int) -> Instance:
    """The parts of a table that chance sizes, and routed boards of a yard that has few of each."""
    random = Random(seed)
    wide, high = random.randrange(440, 640, 5), random.randrange(110, 180, 5)
    slope, strip = high * tan(pi / random.choice((6, 8, 10))), random.randrange(38, 70)
    items = [
        Item("rim", polygon(((0, 0), (wide, 0), (wide - slope, high), (slope, high))), random.choice((6, 8, 10))),
        Item("leg", polygon(((0, 0), (620, 0), (620, 90), (0, 90))), 4),
        Item("arm", polygon(_arm(random.randrange(450, 650, 10), 90, 50, 30)), 4),
        Item("spline", polygon(((0, 0), (30, 0), (30, high - 30), (0, high - 30))), random.choice((6, 8, 10))),
    ]
    for number in range(random.randrange(6, 13)):
        long = random.randrange(150, 720, 5)
        slat = polygon(((0, 0), (long, 0), (long - strip, strip), (strip, strip)))
        items.append(Item(f"slat {number + 1}", slat, random.randrange(2, 5)))
    pieces = []
    for number in range(random.randrange(3, 6)):
        length, width = random.randrange(1600, 3100, 100), random.randrange(max(150, high + 15), 290, 5)
        knots = ((random.uniform(400, length - 400), random.uniform(60, width - 60), 60.0),)
        faults = knots if random.random() < 0.3 else ()
        price = float(length * width)
        pieces.append(Piece(f"board {number + 1}", length, width, random.randrange(1, 6), price, faults, 5.0))
    return Instance(f"chance {seed}", tuple(items), tuple(pieces), 4.0, False)


def _arm(length: float, width: float, tongue: float, thick: float) -> list[tuple[float, float]]:
    """A rail with a tongue at one end."""
    low, high = (width - thick) / 2, (width + thick) / 2
    front = [(0.0, 0.0), (length, 0.0), (length, low), (length + tongue, low)]
    return [*front, (length + tongue, high), (length, high), (length, width), (0.0, width)]


def of_table(seed: int, mode: Mode, codes: str = "") -> Instance | None:
    """The parts of one thickness, the most there are, of a table that chance sizes, and a yard that chance stocks;
    only parts whose codes begin with `codes`. None for a table that can't be built."""
    try:
        table = build_table(profile_from_text(profile_text(seed), f"table {seed}"))
    except DesignError:
        return None
    thick: dict[float, list[Part]] = {}
    for part in (part for part in table.parts if part.code.startswith(codes)):
        thick.setdefault(round(part.thickness, 3), []).append(part)
    most = max(thick.values(), key=lambda parts: sum(part.count for part in parts))
    items = tuple(
        Item(part.code, part.blank, part.count, -atan2(part.grain.y, part.grain.x), part.alike_both_faces)
        for part in most
    )
    boxes = [Placement(turn=item.grain_turn).outline(item.outline).bounds for item in items]
    random = Random(seed)
    pieces = []
    for number in range(random.randint(1, 3)):
        length = max(random.randrange(1500, 3100, 100), 20 + max(box.width for box in boxes))
        width = max(random.randrange(100, 250, 25), 12 + max(box.height for box in boxes))
        knots = tuple(
            (random.uniform(100, length - 100), random.uniform(10, width - 10), random.choice((20.0, 40.0, 60.0)))
            for _ in range(random.choice((0, 0, 0, 1, 2)))
        )
        count = random.choice((None, None, 6)) if number else None
        price = round(length * width * random.uniform(0.9, 1.2) / 1e4, 2)
        pieces.append(Piece(f"board {number + 1}", length, width, count, price, knots, 5.0, mode=mode))
    return Instance(f"table {seed} {mode}", items, tuple(pieces), 3.0 if mode == "sawn" else 8.0, False)
