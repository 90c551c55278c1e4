"""The cut list: every kind of part once, with the sizes of its blank."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, degrees

from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.units import format_mm, inch_fraction

Cell = str | float
"""Words, or a number."""

SIZES = ("length", "width", "thickness")
"""What is told of a blank; length runs along the grain."""


def cut_list(table: Table, tables: int = 1) -> tuple[list[str], list[list[Cell]]]:
    """Header and rows, for so many tables.

    Sizes in mm and, for inch profiles, to 1/64 in with how much that shows too much, in mm.
    """
    inches = table.profile.units == "in"
    header = ["code", "name", "count", "wood", *(f"{size}_mm" for size in SIZES)]
    if inches:
        header += [column for size in SIZES for column in (f"{size}_in", f"{size}_in_error_mm")]
    header += ["ends", "features"]
    return header, [list(_row(part, inches, tables)) for part in table.parts]


def _row(part: Part, inches: bool, tables: int) -> Iterator[Cell]:
    yield from (part.code, part.name, str(part.count * tables), part.wood)
    yield from (format_mm(size, 2) for size in part.size)
    if inches:
        yield from inch_columns(part.size)
    yield _ends(part)
    yield ", ".join(_features(part))


def inch_columns(sizes: tuple[float, ...]) -> Iterator[Cell]:
    """Each size as the nearest 64th of an inch and what that shows too much, mm."""
    for size in sizes:
        text, error = inch_fraction(size)
        yield text
        yield error


def _ends(part: Part) -> str:
    """The angles off square at which the blank's ends are cut."""
    box = part.blank.bounds
    angles = set()
    for edge in part.blank.edges:
        along, across = abs(edge.end.x - edge.start.x), abs(edge.end.y - edge.start.y)
        if across > 1e-6 and along < across * 20 and edge.length > 1e-3:
            angles.add(format_mm(degrees(atan2(along, across)), 2))
    if not angles or angles == {"0.00"} or box.height < 1e-9:
        return "square"
    return " and ".join(f"{angle} deg" for angle in sorted(angles, key=float)) + " off square"


def _features(part: Part) -> Iterator[str]:
    """The kinds of work on the part, each with how often and how deep; the two rebates of a tongue count once."""
    seen: dict[tuple[str, str], int] = {}
    for feature in part.features:
        if feature.face == "bottom" and feature.kind in ("tongue", "tenon", "round-over"):
            continue
        depth = "" if feature.kind == "hole" else f" {format_mm(feature.depth, 2)} deep"
        key = (feature.kind, depth)
        seen[key] = seen.get(key, 0) + 1
    for (kind, depth), count in seen.items():
        yield f"{count} {kind}{depth}"
