"""The share of parts: a sheet for each, and drawings of the whole table."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING

from templategen.fit.plan import Plan, plan_assembly
from templategen.kept.keep import kept
from templategen.packet.lost import or_lost
from templategen.paper.grid import SIZES, paper_size
from templategen.parts.part import Part
from templategen.parts.revision import part_revision
from templategen.shop.closing.study import wished
from templategen.shop.gluing.marks import every_mark, marks_of
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.table.profile.model_of_shop import Dxf

if TYPE_CHECKING:
    from templategen.drawing.drawing import Drawing
    from templategen.drawing.title_block import Around

BOOK = "parts/book-of-parts.pdf"

PLAN_WEIGHT = 3.0
"""How much heavier the lines of the plan are, which is looked at on a screen rather than cut to."""


def two_formats(path: str, drawing: Drawing, dxf: Dxf, weight: float = 1.0) -> Iterator[tuple[str, bytes]]:
    """A drawing as DXF and as SVG."""
    from templategen.drawing.tidy import tidied
    from templategen.output.dxf import dxf_bytes
    from templategen.output.svg import svg_text

    tidy = tidied(drawing)
    yield f"{path}.dxf", dxf_bytes(tidy, dxf.version, dxf.units)
    yield f"{path}.svg", svg_text(tidy, weight).encode()


def _formats(path: str, drawing: Drawing, dxf: Dxf, weight: float) -> Mapping[str, bytes]:
    return dict(two_formats(path, drawing, dxf, weight))


def in_two_formats(path: str, draw: Callable[[], Drawing], dxf: Dxf) -> Mapping[str, bytes]:
    """The same of a drawing still to be made; nothing where that fails."""
    return or_lost(path, lambda: dict(two_formats(path, draw(), dxf)), {})


def part_dxf(table: Table, code: str) -> bytes:
    """The sheet of the part called `code`, as in the packet's `parts/CODE.dxf`.

    Raises:
        DesignError: the table has no such part.
    """
    return _alone(table, code)[f"parts/{code}.dxf"]


def part_svg(table: Table, code: str) -> str:
    """The same as SVG, `parts/CODE.svg`.

    Raises:
        DesignError: the table has no such part.
    """
    return _alone(table, code)[f"parts/{code}.svg"].decode()


def _alone(table: Table, code: str) -> Mapping[str, bytes]:
    part = table.part(code)
    return sheet_files(table, part, plan_assembly(table, wished(table)))


def sheet_files(table: Table, part: Part, plan: Plan) -> Mapping[str, bytes]:
    """One part full size, with every face that carries work, as DXF and as SVG."""
    profile = table.profile
    around = around_of(table, part, plan)
    return _sheet(part, profile.title, profile.shop.router_bit / 2, profile.units, profile.dxf, around)


def around_of(table: Table, part: Part, plan: Plan) -> Around:
    """What a part's sheet tells of the table around it."""
    from templategen.drawing.joint_letters import pointed_of
    from templategen.drawing.title_block import Around, tolerance_lines

    joints, units = table.profile.joints, table.profile.units
    marks = every_mark(table, plan).values()
    return Around(
        pointed_of(table, part, marks), tuple(tolerance_lines(part, joints, units)), table.profile.shop.machines
    )


@kept
def _sheet(part: Part, title: str, overrun: float, units: Units, dxf: Dxf, around: Around) -> Mapping[str, bytes]:
    from templategen.drawing.part_sheet import part_drawing

    drawing = part_drawing(part, title, part_revision(part), overrun, units, dxf.corner_relief, dxf.units, around)
    return dict(two_formats(f"parts/{part.code}", drawing, dxf))


def book_files(table: Table, order: Plan, parts: Sequence[Part] = ()) -> dict[str, bytes]:
    """The sheets of all parts, or of `parts`, on one file of pages, as the profile's paper takes them; a roll is cut
    to A4."""
    made = or_lost(BOOK, partial(_book, table, order, parts or table.parts), b"")
    return {BOOK: made} if made else {}


def _book(table: Table, order: Plan, parts: Sequence[Part]) -> bytes:
    from templategen.drawing.book_page import Told, book_page
    from templategen.output.pdf_book import book_pdf, room_of

    profile, revisions = table.profile, [part_revision(part) for part in parts]
    across, up = paper_size(profile.paper)
    size, margin = (across, up) if up else SIZES["a4"], profile.paper.margin
    rooms = [room_of(way, margin) for way in (size, size[::-1])]
    pages = [
        book_page(part, Told(profile.title, own, profile.units, around_of(table, part, order)), rooms)
        for part, own in zip(parts, revisions, strict=True)
    ]
    return book_pdf(pages, revisions, profile.title, part_revision(*parts), size, margin)


def drawn_plan(table: Table, order: Plan) -> Drawing:
    """The table from above, with the letters of its glued joints."""
    from templategen.drawing.lettered_plan import with_letters
    from templategen.drawing.plan import CODES, plan_drawing, plan_letters

    letters = {number: mark.letter for number, mark in marks_of(table, order).items()}
    plan = plan_drawing(table, part_revision(*table.parts))
    return with_letters(plan, table, letters, plan_letters(table) * CODES)


def drawn_elevation(table: Table) -> Drawing:
    """The table cut through its first arm."""
    from templategen.drawing.section import elevation_sheet

    return elevation_sheet(table, part_revision(*table.parts))


def part_files(table: Table, order: Plan, plan: Drawing | None, elevation: Drawing | None) -> dict[str, bytes]:
    """The sheets of every part, the plan and the elevation, by path."""
    profile = table.profile
    files: dict[str, bytes] = {}
    for part in table.parts:
        files.update(or_lost(f"parts/{part.code}", partial(sheet_files, table, part, order), {}))
    for path, drawing in (("drawings/plan", plan), ("drawings/elevation", elevation)):
        if drawing is not None:
            files.update(or_lost(path, partial(_formats, path, drawing, profile.dxf, PLAN_WEIGHT), {}))
    return files
