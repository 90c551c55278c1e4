"""Pictures of boards and sheets as they are laid out: what is told on them covers nothing that is sawn or routed."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from shapely import LineString, MultiPoint, box, union_all

from templategen.drawing.drawing import Mark, words_of
from templategen.drawing.layers import CUT_NUMBER, SAW_CUT, TEXT, THROUGH_OUTSIDE
from templategen.drawing.stock_picture import stock_picture
from templategen.geometry.edge import Arc
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.packet.stages import LAID
from templategen.packet.table_stages import TABLE, begun
from templategen.table.profile.read import profile_from_text
from tests.drawing.shipped_tables import text_shape

ARC = 12
"""Chords that an arc is taken for."""

ROUND = 0.15
"""Round a code or a letter so much stays bare, in heights of its capitals: pages paint paper there."""


def _lines(marks: Iterable[Mark], layer: str) -> list[LineString]:
    """What a layer has of lines, its arcs as chords."""
    edges = [edge for mark in marks if mark.layer.name == layer for edge in mark.edges]
    steps = [ARC if isinstance(edge, Arc) else 1 for edge in edges]
    return [LineString([edge.point_at(at / n) for at in range(n + 1)]) for edge, n in zip(edges, steps, strict=True)]


@pytest.mark.parametrize("name", shipped_names())
def test_words_cover_no_outline_and_no_corner(name: str) -> None:
    """No code and no letter lies on an outline, thin strips' stand beside them; no number of a cut lies on the corner
    of a part or where a cut ends."""
    worked, seen = begun(profile_from_text(shipped_text(name), name), ("stock", "jigs")), 0
    units = worked[TABLE].profile.units
    for one in worked[LAID].sheets:
        items = {item.code: item for item in one.supply.items}
        told = stock_picture(one.sheet, items, units, one.cuts, one.offcuts)
        marks = told.drawing.marks
        rings, cuts = _lines(marks, THROUGH_OUTSIDE.name), _lines(marks, SAW_CUT.name)
        outlines, ends = union_all(rings), MultiPoint([at for line in (*rings, *cuts) for at in line.coords])
        for words in words_of(marks):
            where = (one.sheet.piece.name, one.sheet.number, words.text)
            if words.layer.name == CUT_NUMBER.name:
                assert not box(*words.box).buffer(-words.height / 20).intersects(ends), where
            elif words.layer.name == TEXT.name and words.part:
                assert not text_shape(words).buffer(words.height * ROUND).intersects(outlines), where
            seen += 1
    assert seen > 50
