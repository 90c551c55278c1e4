"""Pictures of jigs put together and in use: their pieces as large as they are made, every word to be read."""

from itertools import combinations

import pytest

from templategen.drawing.drawing import Drawing, Shape, Words
from templategen.drawing.jig_in_use import DRAWN, JIG, is_drawn, jig_in_use
from templategen.jigs.jig import Jig, jigs_that_go
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from templategen.work.jigs import BY
from tests.drawing.test_set_up_pictures import letters_of


def drawn(name: str) -> tuple[Table, list[Jig]]:
    """A shipped table and its jigs that have a picture."""
    table = build_table(profile_from_text(shipped_text(name), name))
    return table, [jig for jig in jigs_that_go(table, BY)[0] if is_drawn(jig)]


def pieces(picture: Drawing) -> list[Shape]:
    """The pieces of the jig in it."""
    return [mark for mark in picture.marks if isinstance(mark, Shape) and mark.layer == JIG]


@pytest.mark.parametrize("name", shipped_names())
def test_pieces_are_as_large_as_they_are_made(name: str) -> None:
    """Each has the area and the way round of a piece of the jig; the dining table has a jig of every kind drawn."""
    table, jigs = drawn(name)
    kinds = {code for code in DRAWN if any(jig.code.startswith(code) for jig in jigs)}
    assert kinds == set(DRAWN) or name != "towpath-dining"
    for jig in jigs:
        sizes = [(part.outline.area, part.outline.length) for part in jig.parts]
        found = pieces(jig_in_use(jig, table))
        assert found, jig.code
        for shape in found:
            size = shape.outline.area, shape.outline.length
            assert any(size == pytest.approx(one, rel=1e-9) for one in sizes), (jig.code, shape.part)


@pytest.mark.parametrize("name", shipped_names())
def test_no_words_lie_on_others(name: str) -> None:
    """And each picture has some."""
    table, jigs = drawn(name)
    for jig in jigs:
        told = [(mark.text, letters_of(mark)) for mark in jig_in_use(jig, table).marks if isinstance(mark, Words)]
        assert told, jig.code
        for (one, a), (other, b) in combinations(told, 2):
            assert a.intersection(b).area == 0, (jig.code, one, other)
