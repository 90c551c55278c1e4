"""Words on paper: where they stand, read back from the files; and what tracing a template gives."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely

from templategen.drawing.drawing import words_of
from templategen.drawing.lettered_plan import lettered_plans
from templategen.fit.bench import GROUND
from templategen.geometry.point import Point
from templategen.output.pdf import tiled_pdf_of
from templategen.packet.paper import heading
from templategen.paper.imposition import Imposed
from templategen.proof.legends import legend_differences
from templategen.proof.read_pdf import Ink, Lettered, read_pdf
from templategen.shop.gluing.marks import marks_of
from templategen.table.profile.model_of_shop import Paper
from tests.drawing.shipped_tables import overlapping, plan_of, table_of
from tests.paper.sheets import Letters, faults_of, gaping, imposed_of, lying_over, missing, strays, woods_of

PAPERS = [Paper("A4", 8, 12, 1.0, 1.0), Paper("A3", 8, 10, 1.0, 1.0), Paper("letter", 10, 15, 1.0, 1.0),
          Paper((914.0,), 10, 12, 1.0, 1.0)]  # fmt: skip


@cache
def imposed(name: str, paper: Paper) -> tuple[Imposed, ...]:
    """A shipped table's templates on some paper."""
    return imposed_of(table_of(name), paper, letters_of(name))


@cache
def letters_of(name: str) -> Letters:
    """The letters of its joints."""
    return {number: mark.letter for number, mark in marks_of(table_of(name), plan_of(name)).items()}


@pytest.mark.parametrize("name, paper", [("towpath-side", PAPERS[0])])
def test_no_word_lies_over_another_or_a_cut_line(name: str, paper: Paper) -> None:
    """By their own boxes, words of templates and sheets keep clear of each other, and each is in its own part."""
    table = table_of(name)
    assert [fault for one in imposed(name, paper) for fault in faults_of(table, one, letters_of(name))] == []


def test_a_legend_in_another_part_is_found() -> None:
    """Words moved into a neighbour, over a cut line, or out of their tag are told."""
    table = table_of("towpath-side")
    one = next(one for one in imposed("towpath-side", PAPERS[0]) if len(one.templates) > 2)
    (ink,) = read_pdf(
        tiled_pdf_of([(one.tiled, heading(one, table.profile.title, table.profile.units))], "x")
    ).drawings.values()
    woods = woods_of(table, one)
    assert not list(legend_differences(ink, woods))
    first, second = woods[0], next(wood for wood in woods if wood.code != woods[0].code)
    name = next(word for words in ink.lettered.values() for word in words if word.text.startswith(f"{first.code} ×"))
    by = second.outline.bounds.centre.minus(name.corners[0])

    def moved(dx: float, dy: float) -> list[str]:
        corners = tuple(corner.plus(Point(dx, dy)) for corner in name.corners)
        lettered = {
            layer: [Lettered(word.text, corners) if word is name else word for word in words]
            for layer, words in ink.lettered.items()
        }
        return [": ".join(told) for told in legend_differences(Ink(ink.chords, lettered), woods)]

    assert any("speak" in told or "isn't named" in told for told in moved(*by))
    to_edge = first.outline.edges[0].point_at(0.5).minus(name.corners[0])
    assert any("over a line" in told for told in moved(*to_edge))
    assert any("in no part" in told for told in moved(5000.0, 0.0))


@pytest.mark.parametrize("name", ["towpath-side", "towpath-dining"])
def test_lettered_plans_can_be_read(name: str) -> None:
    """On the plans of the first pages no words lie over others, and every part and every joint is named."""
    table = table_of(name)
    letters = letters_of(name)
    drawn = lettered_plans(table, letters, 120.0, 1.8)
    assert [list(overlapping(drawing)) for drawing in drawn] == [[], []]
    told = [words.text for drawing in drawn for words in words_of(drawing.marks)]
    assert sorted(letter for words in told if words[0] == "(" for letter in words[1:-1].split()) == sorted(
        letters.values()
    )
    ground = [placed.code for placed in table.placed if table.part(placed.code).kind in GROUND]
    assert sorted(words.text for words in words_of(drawn[1].marks) if words.text[0] != "(") == sorted(ground)


def test_what_is_missing_strays_or_gapes_is_told() -> None:
    """The checks of these files themselves: words taken away, a line out of the wood, a sheet that stands aside."""
    table, letters = table_of("towpath-side"), letters_of("towpath-side")
    one = next(one for one in imposed("towpath-side", PAPERS[0]) if one.tiled.pages > 1)
    printed = read_pdf(tiled_pdf_of([(one.tiled, heading(one, table.profile.title, table.profile.units))], "x"))
    (ink,) = printed.drawings.values()
    for gone in ("thick", "joint", "side up"):
        kept = {layer: [word for word in words if gone not in word.text] for layer, words in ink.lettered.items()}
        assert any(gone in told for told in missing(table, one, Ink(ink.chords, kept), letters)), gone
    away = {**ink.chords, "GRAIN": np.concatenate([ink.chords["GRAIN"], [[-500.0, 0.0, -480.0, 0.0]]])}
    assert list(strays(woods_of(table, one), Ink(away, ink.lettered))) == ["GRAIN: 1 lines leave the outline"]
    first, *rest = printed.pages
    assert first.matrix is not None and not list(gaping(one, printed))
    aside = replace(first, matrix=(*first.matrix[:4], first.matrix[4] + 0.03, first.matrix[5]))
    assert list(gaping(one, replace(printed, pages=(aside, *rest))))


def test_pairs_are_told() -> None:
    """The check of this file itself: two boxes that overlap, and one over a line, are found."""
    boxes = [("a", shapely.box(0, 0, 4, 1)), ("b", shapely.box(3, 0, 6, 1)), ("c", shapely.box(9, 0, 10, 1))]
    assert list(lying_over(boxes, shapely.LineString([(9.5, -1), (9.5, 3)]))) == [
        '"a" over "b"',
        '"c" over a cut line',
    ]
