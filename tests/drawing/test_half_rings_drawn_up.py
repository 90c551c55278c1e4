"""Pictures of half rings in cauls and band, on the sheets of the steps that draw them up."""

from __future__ import annotations

import pytest

from templategen.drawing.drawing import Shape, Stroke, Words
from templategen.drawing.jig_marks import JIG
from templategen.drawing.last_segment import halves_drawn_up
from templategen.drawing.machine_marks import CUTTER, WASTE, WOOD
from templategen.fit.plan import plan_assembly
from templategen.geometry.point import Point
from templategen.jigs.caul import Caul
from templategen.packet.page.steps import steps
from templategen.shop.closing.study import closing_study
from templategen.work.plan import work_plan
from tests.table.made import table_of


@pytest.mark.parametrize("alone", [True, False])
def test_a_band_runs_round_both_halves(alone: bool) -> None:
    """A caul at every joint, the band along all backs; of a half that is glued alone the other is hatched, film in
    the two joints between them and nowhere else."""
    sizes = table_of(name="towpath-hex").sizes
    marks = halves_drawn_up(table_of(name="towpath-hex"), alone).marks
    count = {
        layer: sum(isinstance(mark, Shape) and mark.layer == layer for mark in marks) for layer in (WOOD, WASTE, JIG)
    }
    half = sizes.segments // 2
    assert count == {WOOD: half if alone else 2 * half, WASTE: half if alone else 0, JIG: 2 * half}
    band = [mark.edge for mark in marks if isinstance(mark, Stroke) and mark.layer == CUTTER]
    assert sum(edge.length for edge in band) == pytest.approx(Caul(sizes).around)
    film = [mark.at for mark in marks if isinstance(mark, Words) and mark.text == "film"]
    assert len(film) == (2 if alone else 0)
    rings = {layer: [m.outline.points for m in marks if isinstance(m, Shape) and m.layer == layer] for layer in count}
    for at in film:
        near = [min(_off(at, points) for points in rings[layer]) for layer in (WOOD, WASTE)]
        assert max(near) < sizes.inner_length / 3 and abs(near[0] - near[1]) < 1e-6


def _off(at: Point, points: tuple[Point, ...]) -> float:
    return min(at.distance(point) for point in points)


def test_each_step_that_draws_halves_up_shows_how() -> None:
    """Both halves' and that which closes them: beside the pieces on their way in, cauls and band."""
    table = table_of(name="towpath-hex")
    assembly = plan_assembly(table)
    plan = work_plan(table, assembly)
    section = steps(table, assembly, plan, closing_study(table.sizes, 200))
    sheets = {sheet.name: sheet for sheet in section.sheets}
    banded = [step for step in plan.gluing.steps if step.hold.band]
    assert plan.gluing.in_halves and len(banded) == 3
    for step in plan.gluing.steps:
        shown = [one.caption for one in sheets[f"step-{step.number}"].pictures]
        assert any("drawn up" in told for told in shown) == (step in banded)
    captions = [sheets[f"step-{step.number}"].pictures[-1].caption for step in banded]
    assert ["hatched" in told for told in captions] == [True, True, False]
