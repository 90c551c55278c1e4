"""Words on a template that say when a line is sawn, with the lines that lead from them, and from which side."""

from __future__ import annotations

from itertools import combinations
from math import pi

import pytest
import shapely

from templategen.drawing.drawing import Stroke, Words, words_of
from templategen.drawing.lettering import in_lines
from templategen.drawing.manner import Manner
from templategen.drawing.scribed import scribed
from templategen.drawing.template import template
from templategen.drawing.template_words import FIRST, LATER, leaders
from templategen.geometry.outline import polygon, rectangle
from templategen.geometry.point import Point
from templategen.jigs.story_stick import story_sticks
from templategen.table.assembly import Table
from tests.drawing.flat import flat
from tests.drawing.shipped_tables import table_of, text_shape

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


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex"])
def test_the_other_side_is_told_where_its_lines_are_its_own(name: str) -> None:
    """Tongues rebated from both faces have one line for both: a word beside them would tell of work that isn't
    there; what lies under the rails' tops stays marked."""
    table = table_of(name)
    told = {
        (code, number): sum(words.text == "other side" for words in words_of(face.marks))
        for code in ("SLAT-02", "SLAT-02R", "RAIL-HIGH")
        for number, face in enumerate(template(table.part(code), table).faces if code in codes(table) else ())
    }
    under = {"SLAT-02": 0, "SLAT-02R": 0, "RAIL-HIGH": 5}
    assert told and all(told[code, number] == (0 if number else under[code]) for code, number in told)


def codes(table: Table) -> set[str]:
    return {part.code for part in table.parts}


def test_a_step_in_a_laps_floor_shows_in_its_hatching() -> None:
    """The deep middle of the uppermost rail is hatched rising, the shallow corners beside it falling."""
    table = table_of("towpath-dining")
    rail = table.part("RAIL-HIGH")
    laps = {round(one.depth): flat(one.outline) for one in rail.features_on("bottom") if one.kind == "lap"}
    lines = [mark.edge for mark in template(rail, table).faces[1].marks if mark.layer.name == "WASTE"]
    assert sorted(laps) == [13, 25] and lines
    for depth, lap in laps.items():
        own = [one for one in lines if lap.buffer(-0.5).contains(shapely.Point(one.point_at(0.5)))]
        rising = {(one.end.x - one.start.x) * (one.end.y - one.start.y) > 0 for one in own}
        assert rising == {depth == 25}


def test_long_words_of_a_stick_stand_in_two_lines_where_they_are_folded() -> None:
    """On the page's pictures alone, parted behind a comma, clear of each other; nothing is left out."""
    *_, stick = story_sticks(table_of("towpath-hex"))
    (part,) = stick.parts
    manner = Manner(3.5)
    whole, folded = (words_of(scribed(stick, part, manner, 7.4, fold)) for fold in (False, True))
    whole, folded = [words.text for words in whole], list(folded)
    assert any(text.startswith("lap") and len(text) > 20 for text in whole)
    assert max(len(words.text) for words in folded) <= 20
    told = " ".join(words.text for words in folded).split()
    assert sorted(told) == sorted(" ".join(whole).split())
    shapes = [text_shape(words) for words in folded]
    assert not any(one.intersects(other) for one, other in combinations(shapes, 2))


def test_a_figure_keeps_its_unit_and_a_code_its_hyphen() -> None:
    """Wherever a line ends: 5.16 isn't told without mm, nor RAIL of RAIL-HIGH."""
    for letters in range(12, 60):
        for words in ("other side, same lines: tongue, 5.16 mm deep", "RAIL-HIGH x 1, SLED-RUNNER, 7/16 in, 30 %"):
            lines = in_lines(words, letters)
            assert " ".join(lines) == words
            assert not any(line.endswith(("5.16", "RAIL-", "SLED-", "7/16", "30")) for line in lines), lines
    assert in_lines("a box of 1124 x 84 x 38 mm", 20) == ["a box of", "1124 x 84 x 38 mm"]
