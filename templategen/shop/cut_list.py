"""The cut list: every kind of part once, with the sizes of its blank."""

from collections.abc import Iterator
from math import atan2, degrees

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.english import language
from templategen.parts.kinds import KINDS
from templategen.parts.part import Part
from templategen.parts.revision import part_revision
from templategen.parts.work import works
from templategen.shop.boards import rough_in
from templategen.shop.listing import Cell, Listing
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.units import format_mm, inch_fraction, off_square_words

SIZES = ("length", "width", "thickness")
"""What is told of a blank; length runs along the grain."""

LEVEL = 1e-6
"""An edge that rises less than this across the grain is no end, mm."""

STEEPEST = 20.0
"""Nor is one that runs this many times as far along the grain as across it."""

SHORTEST = 1e-3
"""Nor one shorter than this, mm."""


def cut_list(table: Table, tables: int = 1) -> Listing:
    """Header and rows, for so many tables.

    Sizes in mm and, for inch profiles, to 1/64 in with how much that shows too much, in mm.
    """
    inches = table.profile.units == "in"
    header = ["code", "name", "count", "wood", *(f"{size}_mm" for size in SIZES)]
    if inches:
        header += [column for size in SIZES for column in (f"{size}_in", f"{size}_in_error_mm")]
    header += ["rough_length_mm", "rough_width_mm", "sawn_out", "ends", "features", "revision"]
    return header, [list(_row(table.profile, part, inches, tables)) for part in table.parts]


def _row(profile: Profile, part: Part, inches: bool, tables: int) -> Iterator[Cell]:
    yield from (part.code, part.name, str(part.count * tables), translated(part.wood))
    yield from (format_mm(size, 2) for size in part.size)
    if inches:
        yield from inch_columns(part.size)
    rough = rough_in(profile, part, tables)
    yield from (format_mm(rough.length, 1), format_mm(rough.width, 1))
    yield rough.says
    yield _ends(part)
    yield ", ".join(_features(part))
    yield part_revision(part)


def inch_columns(sizes: tuple[float, ...]) -> Iterator[Cell]:
    """Each size as the nearest 64th of an inch and what that shows too much, mm."""
    for size in sizes:
        text, error = inch_fraction(size)
        yield text
        yield error


def _ends(part: Part) -> str:
    """The angles off square at which the blank's ends are cut."""
    both = map(off_square_words, end_angles(part))
    return translated(" and ").join(both) or translated("square")


def end_angles(part: Part) -> list[float]:
    """How far off square each end of the blank is, degrees, the squarest first; of ends told alike one. A blank that
    is square all round has none."""
    angles: dict[str, float] = {}
    for edge in part.blank.edges:
        along, across = abs(edge.end.x - edge.start.x), abs(edge.end.y - edge.start.y)
        if across > LEVEL and along < across * STEEPEST and edge.length > SHORTEST:
            angle = degrees(atan2(along, across))
            angles.setdefault(format_mm(angle, 3), angle)
    return [] if list(angles) == ["0.000"] else sorted(angles.values())


def _features(part: Part) -> Iterator[str]:
    """The kinds of work on the part, each with how often and how deep."""
    for work in works(part):
        words = work.kind if language() == "english" else translated(KINDS[work.kind].words)
        deep = None if work.depth is None else figured(format_mm(work.depth, 2))
        yield said("{count} {words}[ {deep} deep]", count=work.count, words=words, deep=deep)
