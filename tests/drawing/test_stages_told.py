"""Words on a template that say when a line is sawn, and the lines that lead from them."""

from __future__ import annotations

from math import pi

import pytest
import shapely

from templategen.drawing.drawing import Stroke, Words
from templategen.drawing.template_words import FIRST, LATER, leaders
from templategen.geometry.outline import polygon, rectangle
from templategen.geometry.point import Point
from tests.drawing.shipped_tables import text_shape

BLANK = rectangle(0, 0, 71, 31)
FINISHED = polygon(((0, 15), (7, 0), (71, 0), (71, 31), (7, 31)))


@pytest.mark.parametrize("turn", [0.0, pi / 2, 0.4])
@pytest.mark.parametrize("at", [Point(53, 6), Point(36, 16), Point(20, 9)])
def test_a_leader_runs_through_none_of_its_words(at: Point, turn: float) -> None:
    """However flat it leaves them."""
    for layer in (FIRST, LATER):
        words = Words(layer, at, 2.3, "2 after gluing", "middle", turn)
        for mark in leaders([words], BLANK, FINISHED):
            assert isinstance(mark, Stroke)
            line = shapely.LineString([(mark.edge.start.x, mark.edge.start.y), (mark.edge.end.x, mark.edge.end.y)])
            assert not line.intersects(text_shape(words)), mark
