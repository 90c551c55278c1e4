"""Layouts that a saw can free, and what becomes of a board that it can't."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from templategen.geometry.outline import rectangle
from templategen.geometry.placement import Placement
from templategen.nesting import nest as nesting
from templategen.nesting.engines.rectangles import Rectangles
from templategen.nesting.nest import nest
from templategen.nesting.stock import Item, Laid, Layout, Piece, Sheet
from templategen.packet.lay_out import LaidStock, stock_findings
from tests.bench.instance import of_table
from tests.nesting.cases import proved, wrongs

BOARD = Piece("board", 1000.0, 300.0, None, 9.0, mode="sawn")
BAR = Item("bar", rectangle(0, 0, 400, 100), 4)
PAD = Item("pad", rectangle(0, 0, 90, 70), 2)
PINWHEEL = ((0.0, 0.0, 0.0), (503.0, 0.0, pi / 2), (103.0, 403.0, 0.0), (100.0, 103.0, pi / 2))
"""Four bars round a square hole, each across the next one's end: no cut goes right through."""


@pytest.mark.parametrize("seed", [9, 12, 16, 17, 28, 31, 36, 38, 39, 44, 58])
def test_staggered_lanes_can_be_sawn(seed: int) -> None:
    """Slats of tables of chance, set off in lanes wider than they are, are freed by cuts that go right through."""
    job = of_table(seed, "sawn", "SLAT")
    assert job is not None
    layout = Rectangles().nest(job.items, job.pieces, job.spacing, 0.15)
    assert proved(layout, job.items, job.pieces, job.spacing) == ()


def pinwheel(number: int) -> Sheet:
    """A square board that no saw divides."""
    laid = tuple(Laid("bar", Placement(x, y, turn)) for x, y, turn in PINWHEEL)
    return Sheet(SQUARE, number, laid)


SQUARE = Piece("square", 510.0, 510.0, None, 5.0, grain=False, mode="sawn")


def test_only_the_board_that_cannot_be_sawn_is_laid_out_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """The pads stay where they were, the four bars find another place, and the layout says so."""
    kept = Sheet(
        replace(SQUARE, name="other", count=1), 1, (Laid("pad", Placement(7, 11)), Laid("pad", Placement(7, 91)))
    )
    pieces = [SQUARE, kept.piece]
    offered = Layout((pinwheel(1), kept))
    monkeypatch.setattr(nesting, "fixed", lambda *_: iter([offered]))
    assert [fault.where for fault in proved(offered, [BAR, PAD], pieces, 3.0)] == ["nesting square-1"]
    layout = nest([BAR, PAD], pieces, 3.0)
    assert layout.plainer == ("square-1",)
    assert [sheet.laid for sheet in layout.sheets if sheet.piece.name == "other"] == [kept.laid]
    assert wrongs(layout, [BAR, PAD], pieces, 3.0) == []
    assert proved(layout, [BAR, PAD], pieces, 3.0) == ()


def test_a_board_laid_out_again_is_told() -> None:
    """The findings name it, as a note."""
    laid = LaidStock((), {}, (), (), plainer=("square-1", "square-4"))
    (note,) = stock_findings([], [], laid)
    assert note.level == "note"
    assert "square-1, square-4" in note.says


def test_cuts_travel_with_the_layout() -> None:
    """Every sheet of sawn stock carries the cuts that free its parts; those of routed stock none."""
    sawn = nest([BAR, PAD], [BOARD], 3.0)
    assert [bool(sheet.cuts) for sheet in sawn.sheets] == [True] * len(sawn.sheets)
    routed = nest([BAR, PAD], [replace(BOARD, mode="routed")], 3.0)
    assert {sheet.cuts for sheet in routed.sheets} == {()}
