"""Channels that are chiselled into soles last of all: no machine cuts them and no file for one holds them, but
whoever looks at the finished rail sees them."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from templategen.catalogue import figured, translated, worded
from templategen.drawing.drawing import Shape
from templategen.drawing.layer import Layer
from templategen.drawing.part_sheet import FaceView
from templategen.geometry.placement import OVER
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.pedestal import CHANNEL, sole_channels
from templategen.units import length_by_rule

SOLE_CHANNEL = Layer("SOLE_CHANNEL", "channel that is chiselled into a sole", "orange", "continuous", 0.35)


def with_channels(table: Table) -> Table:
    """The table as it is once they are chiselled."""
    deep, channels = CHANNEL[table.profile.units], sole_channels(table.sizes)
    if not channels:
        return table
    cut = tuple(Feature("relief", "bottom", OVER.outline(one), deep, "channel") for one in channels)
    parts = (replace(one, features=(*one.features, *cut)) if one.kind == "base-rail" else one for one in table.parts)
    return replace(table, parts=tuple(parts))


def soled(table: Table, part: Part, faces: Sequence[FaceView]) -> Iterator[FaceView]:
    """A part's views, its channels in that of the underside."""
    channels = sole_channels(table.sizes) if part.kind == "base-rail" else ()
    under, units = translated("underside (turned over left to right)"), table.profile.units
    for face in faces:
        if not channels or face.title != under:
            yield face
            continue
        marks = (Shape(SOLE_CHANNEL, OVER.outline(one), part.code) for one in channels)
        note = worded(
            "from each drain hole to where its foot ends a channel, {wide} wide and {deep} deep, by chisel",
            wide=figured(length_by_rule(table.profile.base.drain_hole, units)),
            deep=figured(length_by_rule(CHANNEL[units], units)),
        )
        drawing = replace(face.drawing, marks=(*face.drawing.marks, *marks))
        yield replace(face, drawing=drawing, notes=(*face.notes, note))
