"""Pictures of jigs put together and in use: their pieces as large as they are made, every word to be read."""

from functools import cache
from typing import Any

import pytest

from templategen.drawing.drawing import Drawing, Shape, Stroke, Words
from templategen.drawing.jig_in_use import DRAWN, is_drawn, jig_in_use
from templategen.drawing.jig_marks import JIG
from templategen.drawing.manner import Manner
from templategen.drawing.scribed import scribed
from templategen.geometry.outline import distance_to
from templategen.geometry.point import Point
from templategen.jigs.jig import Jig, jigs_that_go
from templategen.packet.shipped import shipped_names
from templategen.table.assembly import Table
from templategen.work.jigs import BY
from tests.drawing.test_set_up_pictures import crossed
from tests.table.made import table_of

BOLTED: dict[str, Any] = {"legs.top_joint": "bolted", "legs.base_centre_distance": 215.0}
PEGGED: dict[str, Any] = {"legs.top_joint": "draw-bored", "top.thickness": 40.0, "legs.peg": (8.0, 1.2, 11.0)}
CHANGED = {"bolted": ("towpath-dining", BOLTED), "draw-bored": ("towpath-side", PEGGED)}
"""A leaning leg under a bolt; the narrowest block that has a draw in it."""

NAMES = (*shipped_names(), *CHANGED)


@cache
def drawn(name: str) -> tuple[Table, list[Jig]]:
    """A shipped table, or one of them changed, and its jigs that have a picture."""
    shipped, changes = CHANGED.get(name, (name, {}))
    table = table_of(changes, shipped)
    return table, [jig for jig in jigs_that_go(table, BY)[0] if is_drawn(jig)]


def test_every_kind_is_drawn() -> None:
    """Of the dining table, and of one whose legs are bolted or draw-bored."""
    codes = [jig.code for name in ("towpath-dining", *CHANGED) for jig in drawn(name)[1]]
    assert {kind for kind in DRAWN if any(code.startswith(kind) for code in codes)} == set(DRAWN)


def test_letters_of_the_draw_stand_at_their_own_edges() -> None:
    """On the block's sheet RAIL and LEG stand each on its own side of the hole, which no leader crosses."""
    (jig,) = [one for one in drawn("draw-bored")[1] if one.code == "DRAW-BLOCK"]
    (plate,) = jig.parts
    marks = scribed(jig, plate, Manner(3.5))
    at = {mark.text: mark for mark in marks if isinstance(mark, Words)}
    assert at["RAIL"].box.bottom > 4 and at["LEG"].box.top < -4
    for mark in marks:
        if isinstance(mark, Stroke) and mark.layer.name.startswith("SCRIBE"):
            assert distance_to(mark.edge, Point(0, 0)) > 4 - 1e-9


def pieces(picture: Drawing) -> list[Shape]:
    """The pieces of the jig in it."""
    return [mark for mark in picture.marks if isinstance(mark, Shape) and mark.layer == JIG]


@pytest.mark.parametrize("name", NAMES)
def test_pieces_are_as_large_as_they_are_made(name: str) -> None:
    """Each has the area and the way round of a piece of the jig."""
    table, jigs = drawn(name)
    for jig in jigs:
        sizes = [(part.outline.area, part.outline.length) for part in jig.parts]
        found = pieces(jig_in_use(jig, table))
        assert found, jig.code
        for shape in found:
            size = shape.outline.area, shape.outline.length
            assert any(size == pytest.approx(one, rel=1e-9) for one in sizes), (jig.code, shape.part)


@pytest.mark.parametrize("name", NAMES)
def test_no_words_lie_on_others_or_on_a_line(name: str) -> None:
    """And each picture has some; RAIL and LEG stand on a block, whose lines alone they must not touch."""
    table, jigs = drawn(name)
    for jig in jigs:
        picture = jig_in_use(jig, table)
        assert any(isinstance(mark, Words) for mark in picture.marks), jig.code
        under = {"HIDDEN", "PIECE_EDGE"} if jig.code == "DRAW-BLOCK" else set[str]()
        assert not [(one, other) for one, other in crossed(picture) if other not in under], jig.code
