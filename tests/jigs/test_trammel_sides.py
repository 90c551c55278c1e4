"""Which of the trammel's holes is which: the words beside them, and the figures."""

from __future__ import annotations

import pytest

from templategen.drawing.drawing import Words
from templategen.drawing.jig_sheet import jig_sheet
from templategen.jigs.trammel import trammel
from tests.table.made import table_of


def test_each_hole_is_named_for_its_own_cut() -> None:
    """The hole that says outside stands half a bit more than the radius from the bit, the one that says inside half
    a bit less; figures and the lines between holes say the same."""
    table = table_of()
    radius, half = table.profile.top.diameter / 2, table.profile.jigs.trammel_bit / 2
    reach = {"outside": radius + half, "inside": radius - half}
    (jig,) = trammel(table)
    *pivots, bit = (hole.circle[0] for hole in sorted(jig.parts[0].holes, key=lambda ring: ring.area) if hole.circle)
    words = {m.text: m.at for m in jig_sheet(jig, "t").drawing.marks if isinstance(m, Words)}
    figures = {figure.name: figure for figure in jig.figures}
    lines = {scribe.words: scribe.edge for scribe in jig.scribes if scribe.kind == "line"}
    for name, wanted in reach.items():
        hole = min(pivots, key=lambda at: at.distance(words[name]))
        assert hole.distance(bit) == pytest.approx(wanted, abs=1e-9)
        figure = figures[f"{name} pivot to the middle of the bit"]
        assert figure.value == pytest.approx(wanted) and figure.span is not None
        assert figure.span[0].distance(hole) + figure.span[1].distance(bit) < 1e-9
        edge = lines[f"{name} pivot to the middle of the bit"]
        along = bit.minus(hole).unit
        assert all(abs(end.minus(hole).cross(along)) < 1e-9 for end in (edge.start, edge.end))
    assert figures["outside pivot to the near cutting edge"].value == radius
    assert figures["inside pivot to the far cutting edge"].value == radius
