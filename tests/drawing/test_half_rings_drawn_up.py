"""Pictures of half rings in cauls and band, on the sheets of the steps that draw them up."""

from __future__ import annotations

import pytest
from shapely.geometry import Point as Spot
from shapely.geometry import Polygon

from templategen.drawing.drawing import Shape, Stroke, Words
from templategen.drawing.jig_marks import JIG
from templategen.drawing.last_segment import halves_drawn_up
from templategen.drawing.machine_marks import CUTTER, WASTE, WOOD
from templategen.fit.plan import plan_assembly
from templategen.geometry.point import Point, polar
from templategen.jigs.caul import Caul
from templategen.packet.page.steps import steps
from templategen.shop.closing.study import closing_study
from templategen.table.rim import segment_placement
from templategen.work.plan import work_plan
from tests.table.made import table_of


@pytest.mark.parametrize("alone", [(0, 1, 2), (1, 2, 3), (5, 0, 1), ()])
def test_a_band_runs_round_both_halves(alone: tuple[int, ...]) -> None:
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
    for number in alone:
        middle = segment_placement(sizes, number).point(Point(0.0, sizes.profile.top.rim_width / 2))
        (own,) = [layer for layer in (WOOD, WASTE) for points in rings[layer] if _holds(points, middle)]
        assert own == WOOD


def test_the_half_of_a_step_is_the_one_glued_now() -> None:
    """Its film lies in the joints that the step leaves dry, by the letters on the plan: those of the last."""
    table = table_of(name="towpath-hex")
    assembly = plan_assembly(table)
    plan = work_plan(table, assembly)
    halves = [one for one in plan.gluing.steps if one.hold.band and not one.together]
    (closing,) = [one for one in plan.gluing.steps if one.hold.band and one.together]
    dry = [joint for joint in assembly.steps[closing.number - 1].glued if table.joints[joint].kind == "mitre"]
    assert len(dry) == 2 and len(halves) == 2
    for step in halves:
        own = {move.index for move in assembly.steps[step.number - 1].moves if move.index < table.sizes.segments}
        marks = halves_drawn_up(table, own).marks
        film = [mark.at for mark in marks if isinstance(mark, Words) and mark.text == "film"]
        joints = [polar(1.0, (2 * joint + 1) * table.sizes.mitre) for joint in (0, 3)]
        assert [table.joints[one].placed for one in dry] == [(0, 1), (3, 4)] and len(film) == 2
        assert all(max(at.unit.dot(way) for at in film) > 0.99 for way in joints)


def _holds(points: tuple[Point, ...], at: Point) -> bool:
    return bool(Polygon([*points]).contains(Spot(*at)))


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
