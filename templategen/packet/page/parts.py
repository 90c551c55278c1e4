"""A sheet for each part: how it looks, where it stands, every face with its sizes, its joints close to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from templategen.drawing.cautions import cautions
from templategen.drawing.drawing import Drawing
from templategen.drawing.layers import VIEW_TITLE
from templategen.drawing.part_sheet import FaceView
from templategen.drawing.part_views import part_views
from templategen.output.page.content import Fold, Grid, Section, Sheet
from templategen.packet.page.picture import picture
from templategen.packet.page.shown import Shown, links
from templategen.parts.part import Part


def parts(made: Shown) -> Section:
    """The sheets, in the order of the cut list."""
    return Section("parts", "Parts", (_cut_list(made), *(part_sheet(made, part) for part in made.table.parts)))


def _cut_list(made: Shown) -> Sheet:
    rows = tuple(
        (part.code, part.name, str(part.count * made.tables), part.wood, *(made.blank(size) for size in part.size))
        for part in made.table.parts
    )
    head = ("code", "part", "number", "wood", "length", "width", "thickness")
    grid = Grid(
        head,
        rows,
        "sizes of the blanks, length along the grain",
        (2, 4, 5, 6),
        tuple(row[0] for row in rows),
        ticks=True,
    )
    return Sheet("cut-list", "Cut list", grids=(grid,), links=links("lists/cut-list.csv"), alone=True)


def part_sheet(made: Shown, part: Part, told: bool = True) -> Sheet:
    """All of one part; the machines it passes and how its sizes came about where `told`."""
    views = part_views(made.table, part, made.table.profile.shop.router_bit / 2)
    code = part.code
    pictures = [
        *(
            picture(drawing, f"{code}-look-{i}", drawing.title, projected=True)
            for i, drawing in enumerate(views.looks)
        ),
        picture(views.place, f"{code}-place", f"where {code} stands"),
        *(picture(one.drawing, f"{code}-{i}", _told(one), large=i == 0) for i, one in enumerate(views.faces)),
        *(picture(untitled(one), f"{code}-detail-{i}", one.title) for i, one in enumerate(views.details)),
    ]
    length, width, thickness = (made.blank(size) for size in part.size)
    words = (
        f"{made.counted(part.count)} to make of {part.wood}",
        f"Blank {length} x {width} x {thickness}, length along the grain",
        *part.notes,
    )
    folds = tuple(_folds(made, code)) if told else ()
    paths = [f"parts/{code}.dxf", f"parts/{code}.svg", f"paper/{code}.pdf"]
    return Sheet(
        code, f"{code}, {part.name}", words, tuple(pictures),
        ticks=(f"all {part.count * made.tables} made and measured",), folds=folds, cautions=tuple(cautions(part)),
        links=links(*paths), part=code, alone=True,
    )  # fmt: skip


def untitled(drawing: Drawing) -> Drawing:
    """A drawing without the name that its caption says."""
    return replace(drawing, marks=tuple(mark for mark in drawing.marks if mark.layer != VIEW_TITLE))


def _folds(made: Shown, code: str) -> Iterator[Fold]:
    yield Fold(
        "machines it passes",
        tuple(f"{one.number}. {one.operation}, {one.machine}" for one in made.set_ups if code in one.codes),
    )
    yield Fold("how its sizes came about", tuple(_story(made, code)))


def _told(view: FaceView) -> str:
    return "; ".join((view.title, *view.notes))


def _story(made: Shown, code: str) -> Iterator[str]:
    """Each figure of the part with its formula, in a line."""
    from templategen.explain.story import under
    from templategen.explain.words import put_in, told

    for quantity in under(made.pages, f"part.{code}"):
        value = told(quantity.value, quantity.unit, made.units)
        worth = f" = {quantity.formula} = {put_in(quantity, made.pages)}" if quantity.formula else ""
        yield f"{quantity.says}: {value}{worth}"
