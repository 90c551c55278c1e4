"""A sheet for each part: how it looks, where it stands, every face with its sizes, its joints close to."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.drawing.cautions import cautions
from templategen.drawing.drawing import Drawing
from templategen.drawing.joint_letters import pointed_of
from templategen.drawing.layers import VIEW_TITLE
from templategen.drawing.part_sheet import FaceView
from templategen.drawing.part_views import part_views
from templategen.explain.book import Quantity
from templategen.explain.story import under
from templategen.explain.words import value_in_units, worked
from templategen.fit.plan import Plan
from templategen.output.page.content import Fold, Section, Sheet
from templategen.packet.lost import or_lost
from templategen.packet.page.links import links
from templategen.packet.page.picture import picture
from templategen.packet.page.sizes import blank, counted
from templategen.packet.paper import ONE_BY_ONE
from templategen.parts.part import Part
from templategen.shop.gluing.marks import Mark, every_mark
from templategen.shop.set_ups.set_up import SetUp
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units


def parts(
    table: Table, order: Plan, tables: int, set_ups: Sequence[SetUp], figures: Mapping[str, Quantity]
) -> Section:
    """The sheets, in the order of the cut list; on each the machines that its part passes and how its sizes came
    about."""
    units, letters = table.profile.units, tuple(every_mark(table, order).values())
    sheets = (
        replace(
            or_lost(
                f"page, sheet of {part.code}",
                partial(part_sheet, table, part, tables, letters),
                Sheet(part.code, f"{part.code}, {part.name}", ("Not drawn, see the findings.",), part=part.code),
            ),
            folds=tuple(_folds(part.code, set_ups, figures, units)),
        )
        for part in table.parts
    )
    return Section("parts", "Parts", tuple(sheets), pairs=True)


def part_sheet(table: Table, part: Part, tables: int = 1, letters: Sequence[Mark] = ()) -> Sheet:
    """All of one part, of which so many tables are made, with the letters of its joints."""
    profile = table.profile
    views = part_views(table, part, profile.shop.router_bit / 2, pointed_of(table, part, letters))
    code = part.code
    pictures = [
        *(
            picture(drawing, f"{code}-look-{i}", drawing.title, projected=True)
            for i, drawing in enumerate(views.looks)
        ),
        picture(views.place, f"{code}-place", said("where {code} stands", code=code)),
        *(picture(one.drawing, f"{code}-{i}", _title(one), large=i == 0) for i, one in enumerate(views.faces)),
        *(picture(untitled(one), f"{code}-detail-{i}", one.title) for i, one in enumerate(views.details)),
    ]
    length, width, thickness = (blank(size, profile.units) for size in part.size)
    words = (
        said("{count} to make of {wood:word}", count=counted(part.count, tables), wood=part.wood),
        said(
            "Blank {length} x {width} x {thickness}, length along the grain",
            length=length,
            width=width,
            thickness=thickness,
        ),
        *part.notes,
    )
    paths = [f"parts/{code}.dxf", f"parts/{code}.svg", f"{ONE_BY_ONE}/{code}.pdf"]
    paths += [f"router/{code}-{face}.dxf" for face in ("top", "bottom")]
    return Sheet(
        code, f"{code}, {part.name}", words, tuple(pictures),
        ticks=(_ticked(part.count * tables),),
        cautions=tuple(cautions(part, profile.shop.machines)),
        links=links(*paths), part=code,
    )  # fmt: skip


def _ticked(count: int) -> str:
    return said("all {count} made and measured", count=count) if count > 1 else translated("made and measured")


def untitled(drawing: Drawing) -> Drawing:
    """A drawing without the name that its caption says."""
    return replace(drawing, marks=tuple(mark for mark in drawing.marks if mark.layer != VIEW_TITLE))


def _folds(code: str, set_ups: Sequence[SetUp], figures: Mapping[str, Quantity], units: Units) -> Iterator[Fold]:
    passed = (f"{one.number}. {one.operation}, {one.machine}" for one in set_ups if code in one.codes)
    yield Fold("set-ups", tuple(passed))
    yield Fold("how its sizes came about", tuple(_story(code, figures, units)))


LAYER = re.compile(r" \[[A-Z0-9_]+, [a-z]+, [a-z-]+\]")
"""What a note says for those who open the files."""


def _title(view: FaceView) -> str:
    return LAYER.sub("", "; ".join((view.title, *view.notes)))


def _story(code: str, figures: Mapping[str, Quantity], units: Units) -> Iterator[str]:
    """Each figure of the part with its formula, in a line."""
    for quantity in under(figures, f"part.{code}"):
        value = value_in_units(quantity.value, quantity.unit, units)
        worth = f" = {worked(quantity, figures, units)}" if quantity.formula else ""
        yield f"{quantity.says}: {value}{worth}"
