"""Pieces of edges put together into lines."""

from __future__ import annotations

from itertools import permutations

import pytest

from templategen.view.runs import VisibleRun, _joined

Spot = tuple[float, float]


def joined(*pieces: tuple[Spot, Spot], contour: bool = True) -> list[VisibleRun]:
    """The lines of pieces that are all of one kind."""
    return list(_joined([(one, other, contour) for one, other in pieces], 0.005))


A, B, C, D, E = (0.0, 0.0), (30.0, 4.0), (41.0, 25.0), (12.0, 37.0), (-20.0, 9.0)


@pytest.mark.parametrize("order", [*permutations(range(4))][::5])
def test_pieces_that_meet_are_one_line_in_order(order: tuple[int, ...]) -> None:
    """Whatever order and way they come in, the corners follow each other from one end to the other."""
    pieces = [(A, B), (C, B), (C, D), (E, D)]
    (run,) = joined(*(pieces[i] for i in order))
    assert run.points in ((A, B, C, D, E), (E, D, C, B, A)) and run.contour


def test_lines_end_where_three_pieces_meet() -> None:
    """A fork is the end of three lines; pieces of another kind are no part of it."""
    assert len(joined((A, B), (B, C), (B, D))) == 3
    mixed = list(_joined([(A, B, True), (B, C, False)], 0.005))
    assert [(run.points, run.contour) for run in mixed] == [((A, B), True), ((B, C), False)]


def test_corners_on_a_straight_line_are_left_out() -> None:
    """Three pieces in a row are one stroke; a corner that leaves it by a tenth stays."""
    middle, off = (10.0, 20.0), (15.0, 30.1)
    (run,) = joined((A, (5.0, 10.0)), ((5.0, 10.0), middle), (middle, off))
    assert run.points in ((A, middle, off), (off, middle, A))
