"""Pictures from the solids: exploded, step by step, in place; by other ways of telling the same."""

from __future__ import annotations

import json
from collections import Counter

import numpy
import pytest
import shapely

from templategen.drawing.assembly_step import _battens, pictured_off, standing_before, step_drawing
from templategen.drawing.drawing import Drawing, Shape, Stroke, Words
from templategen.drawing.exploded import explode, exploded_drawing
from templategen.drawing.leaders import spaced
from templategen.drawing.part_sheet import face_views, part_drawing
from templategen.drawing.part_views import part_views
from templategen.drawing.place_in_table import HIGHLIGHT, place_drawing
from templategen.drawing.projection import FROM_ABOVE, UPSIDE_DOWN
from templategen.drawing.scene import PER_MM, scene
from templategen.drawing.section import section_drawing
from templategen.drawing.toned_plan import toned_plan
from templategen.drawing.tones import ADDED, MOTION, THERE
from templategen.fit.plan import Plan, plan_assembly
from templategen.fit.solid import part_solid, placed_solid
from templategen.packet.shipped import shipped_names
from templategen.view.eased import eased_solid
from templategen.view.shade import patches
from templategen.view.sight import see, table_bodies
from tests.drawing.details import all_details
from tests.drawing.shipped_tables import overlapping, plan_of, table_of
from tests.random_profiles import tables

NAMES = shipped_names()


def codes(drawing: Drawing, *layers: str) -> set[str]:
    """The parts that marks on the layers are of."""
    return {mark.part for mark in drawing.marks if mark.layer.name in layers}


@pytest.mark.parametrize("name", NAMES)
def test_exploded_parts_stand_clear_of_their_mates(name: str) -> None:
    """Pulled apart, no two parts of a joint come nearer than 5 mm, by the solids' own distance."""
    table = table_of(name)
    shifts = explode(table, plan_of(name))
    solids = {part.code: part_solid(part) for part in table.parts}
    bodies = [placed_solid(solids[p.code], p, shift) for p, shift in zip(table.placed, shifts, strict=True)]
    near = [joint for joint in table.joints if bodies[joint.placed[0]].min_gap(bodies[joint.placed[1]], 5.0) < 4.99]
    assert near == []


@pytest.mark.parametrize("name", NAMES)
def test_parts_are_pulled_out_the_way_they_came(name: str) -> None:
    """Within the top and within the pedestal each part is pulled back along one of its own moves."""
    table, plan = table_of(name), plan_of(name)
    shifts = numpy.array(explode(table, plan))
    for step in plan.steps[:-1]:
        for move in step.moves:
            if table.part(move.code).kind in ("rim-segment", "spline"):
                continue  # half rings are pulled apart segment by segment, straight outwards
            level = numpy.array(shifts[move.index][:2])
            way = -numpy.array(move.way[:2])
            assert numpy.cross([*level, 0], [*way, 0]) == pytest.approx([0, 0, 0], abs=1e-6)
            assert level @ way >= 0


def test_a_table_that_locks_is_pulled_apart_too() -> None:
    """Without a plan the ring, the slats and the legs still leave their places."""
    table = table_of("towpath-side")
    shifts = numpy.array(explode(table, Plan((), "locked")))
    kinds = [table.part(placed.code).kind for placed in table.placed]
    for kind in ("slat", "rim-segment", "spline", "leg"):
        assert numpy.linalg.norm(shifts[[k == kind for k in kinds]], axis=1).min() > 10


@pytest.mark.parametrize("name", NAMES)
def test_every_code_is_named_once(name: str) -> None:
    """The exploded view names every part of the table, and no two names stand on each other."""
    drawing = exploded_drawing(table_of(name), plan_of(name))
    named = Counter(mark.text for mark in drawing.marks if isinstance(mark, Words))
    assert named == Counter(part.code for part in table_of(name).parts)
    assert list(overlapping(drawing)) == []


@pytest.mark.parametrize("name", ["towpath-hex", "towpath-side"])
def test_steps_add_what_the_plan_says(name: str) -> None:
    """Each step shows the codes it adds heavy and only what came home before thin; after the last all have come."""
    table, plan = table_of(name), plan_of(name)
    for number, step in enumerate(plan.steps):
        drawing = step_drawing(table, plan, number)
        assert codes(drawing, ADDED.contour.name, ADDED.inner.name) <= {move.code for move in step.moves}
        before = {move.index for earlier in plan.steps[:number] for move in earlier.moves}
        there = set(standing_before(table, plan, number))
        assert there <= before
        thin = codes(drawing, THERE.contour.name, THERE.inner.name) - {"batten under it"}
        assert thin <= {table.placed[i].code for i in there}
        assert list(overlapping(drawing)) == []
    last = len(plan.steps) - 1
    everything = {*standing_before(table, plan, last), *(move.index for move in plan.steps[last].moves)}
    assert everything == set(range(len(table.placed)))


@pytest.mark.parametrize("name", NAMES)
def test_battens_lie_under_the_arms_of_a_cross_that_is_clamped(name: str) -> None:
    """Two to each arm there and added, their tops level with its underside, under a foot where it has feet, and clear
    of the crossing; under pads by the ends once legs come on, under a cross turned over for its pads; named once."""
    table, plan = table_of(name), plan_of(name)
    for number, step in enumerate(plan.steps):
        kinds = {table.joints[joint].kind for joint in step.glued}
        upright = "leg-tenon" in kinds and not step.lets_down
        held = bool(kinds & {"half-lap", "three-way-lap", "foot"}) or upright
        indexes = (*standing_before(table, plan, number), *(move.index for move in step.moves))
        under = _battens(table, step, indexes)
        arms = [table.part(table.placed[index].code) for index in indexes]
        assert len(under) == 2 * sum(bool(part.cuts("lap")) for part in arms) * held
        words = [mark.text for mark in step_drawing(table, plan, number).marks if isinstance(mark, Words)]
        assert words.count("batten under it") == held
        for batten in under:
            assert batten.placed is not None
            part, x = table.part(batten.placed.code), batten.facets.corners[:, 0]
            low, high = batten.facets.corners[:, 2].min(), batten.facets.corners[:, 2].max()
            if "foot" in kinds:
                assert low + batten.shift[2] == pytest.approx(part.thickness)
                continue
            pads = [one.thickness for one in table.parts if one.kind == "foot"] if upright else []
            assert high == pytest.approx(-batten.shift[2] - max(pads, default=0.0))
            if upright:
                assert abs(x).min() > part.outline.bounds.right - table.profile.base.foot_length
            assert abs(x).min() > max(abs(p.x) for lap in part.cuts("lap") for p in lap.outline.points)
            for gone in part.cuts("relief"):
                assert abs(x).min() > gone.outline.bounds.right and abs(x).max() < part.outline.bounds.right


def test_arrows_point_home() -> None:
    """The arrow of a part that comes down ends lower than it starts, by 1 to cos of the eye's height of its shift."""
    table, plan = table_of("towpath-dining"), plan_of("towpath-dining")
    number = next(i for i, step in enumerate(plan.steps) if step.moves[0].code == "LEG")
    drawing = step_drawing(table, plan, number)
    arrows = [mark.edge for mark in drawing.marks if isinstance(mark, Stroke) and mark.layer == MOTION][::3]
    assert len(arrows) == len(plan.steps[number].moves)
    assert all(edge.end.y < edge.start.y and edge.end.x == pytest.approx(edge.start.x) for edge in arrows)


def test_pads_are_set_on_a_cross_turned_over() -> None:
    """Words say underside up: the pads come down in their picture, which shows what lies under a standing table."""
    table, plan = table_of("towpath-dining"), plan_of("towpath-dining")
    number = next(i for i, step in enumerate(plan.steps) if step.moves[0].code == "FOOT")
    arrows = [
        mark.edge
        for mark in step_drawing(table, plan, number).marks
        if isinstance(mark, Stroke) and mark.layer == MOTION
    ][::3]
    assert len(arrows) == len(plan.steps[number].moves)
    assert all(edge.end.y < edge.start.y and edge.end.x == pytest.approx(edge.start.x) for edge in arrows)
    right, up, near = (numpy.array(axis) for axis in UPSIDE_DOWN)
    assert near[2] < 0 and numpy.cross(right, up) == pytest.approx(near), "no mirror image"


def test_half_rings_are_glued_by_themselves() -> None:
    """A half ring is pictured alone, and so is it when its last splines go in; no rail is pictured beside one, and
    the cross is there when the two close on it."""
    table, plan = table_of("towpath-hex"), plan_of("towpath-hex")
    halves = [i for i, step in enumerate(plan.steps) if step.does.startswith("glue half ring")]
    assert len(halves) == 2
    assert [standing_before(table, plan, number) for number in halves] == [(), ()]
    splines, close = halves[-1] + 1, len(plan.steps) - 2
    apart = {move.index for number in halves for move in plan.steps[number].moves}
    for number in range(splines + 1, close):
        assert not apart & set(standing_before(table, plan, number))
    assert "last splines into half ring 2" in plan.steps[splines].does
    half = {move.index for move in plan.steps[halves[-1]].moves}
    assert set(standing_before(table, plan, splines)) == half
    assert plan.steps[close].does.startswith("close the two half rings")
    closing = {table.part(table.placed[i].code).kind for i in standing_before(table, plan, close)}
    assert closing == {"rail", "slat"}


def test_a_half_ring_comes_on_in_one_piece() -> None:
    """It is glued by then: all its segments and splines stand equally far off, so that no joint of it is open."""
    table, plan = table_of("towpath-hex"), plan_of("towpath-hex")
    close = next(step for step in plan.steps if step.does.startswith("close the two half rings"))
    far: dict[tuple[float, ...], set[tuple[float, ...]]] = {}
    for move in close.moves:
        far.setdefault(move.way, set()).add(pictured_off(table, move, close))
    assert len(far) == 2 and all(len(one) == 1 for one in far.values())


@pytest.mark.parametrize("name", NAMES)
def test_a_place_fills_every_copy(name: str) -> None:
    """In its small plan a part's copies are filled, as many as there are, each as large as what shows of it."""
    table = table_of(name)
    for part in table.parts:
        filled = [m for m in place_drawing(table, part.code).marks if isinstance(m, Shape) and m.layer == HIGHLIGHT]
        assert len(filled) == part.count
        if part.kind != "leg":
            shown = (part.body or part.outline).area
            assert [shape.outline.area for shape in filled] == pytest.approx([shown] * part.count)


@pytest.mark.wide
@pytest.mark.parametrize("name", NAMES)
def test_figures_stand_clear_of_each_other(name: str) -> None:
    """No words stand on each other in any view of any kind of part, on its sheet, or in plan."""
    table = table_of(name)
    drawings = [toned_plan(table)]
    for part in {part.kind: part for part in table.parts}.values():
        drawings += [view.drawing for view in face_views(part, 3.0, table.profile.units)]
        drawings.append(part_drawing(part, "Towpath", units=table.profile.units))
    assert [(drawing.title, pair) for drawing in drawings for pair in overlapping(drawing)] == []


def test_a_part_has_all_its_views() -> None:
    """A grooved rail is shown on every worked face, in each of its joints, in its place, from above and below."""
    table = table_of("towpath-side")
    views = part_views(table, table.part("RAIL-LOW"))
    worked = {feature.face for feature in table.part("RAIL-LOW").features}
    assert {
        view.title.partition(" (")[0].replace("underside", "bottom").replace("top face", "top").replace(" ", "-")
        for view in views.faces
    } >= worked
    kinds = {joint.kind for joint in table.joints if "RAIL-LOW" in joint.parts}
    assert len(views.details) == len(kinds)
    assert [look.title for look in views.looks] == ["RAIL-LOW from above", "RAIL-LOW from below"]


def test_spread_moves_only_what_is_crowded() -> None:
    """Values far apart stay; crowded ones part about their middle and keep their order."""
    assert spaced([0.0, 100.0], 10.0) == [0.0, 100.0]
    assert spaced([50.0, 50.0, 52.0], 10.0) == pytest.approx([50 + 2 / 3 - 10, 50 + 2 / 3, 50 + 2 / 3 + 10])
    parted = spaced([0.0, 1.0, 2.0, 30.0, 31.0], 10.0)
    assert numpy.diff(parted).min() >= 10 - 1e-9


@pytest.mark.parametrize("name", NAMES)
def test_a_scene_holds_the_solids(name: str) -> None:
    """The scene is small, and the volume that its facets enclose (Gauss) is the eased solids'."""
    table = table_of(name)
    told = json.loads(json.dumps(scene(table, plan_of(name))))
    assert len(json.dumps(told, separators=(",", ":"))) < 300_000
    assert len(told["bodies"]) == len(table.placed)
    for part in table.parts:
        solid = told["solids"][part.code]
        corners = numpy.array(solid["p"]).reshape(-1, 3) / PER_MM
        facets = numpy.array(solid["f"]).reshape(-1, 4)
        a, b, c = (corners[facets[:, k]] for k in range(3))
        volume = (numpy.cross(a, b) * c).sum() / 6
        assert volume == pytest.approx(eased_solid(part).volume(), rel=5e-3)


def test_a_scene_draws_only_true_edges() -> None:
    """The sides of facets that are drawn are those of a block: twelve edges, each told by both its faces."""
    solids = scene(table_of("towpath-hex"), plan_of("towpath-hex"))["solids"]
    facets = numpy.array(solids["SPLINE"]["f"]).reshape(-1, 4)
    assert len(facets) == 12
    assert sum(int(mask).bit_count() for mask in facets[:, 3]) == 24


def test_a_plan_lays_in_what_shows() -> None:
    """The tones of the plan cover the table but for its gaps."""
    table = table_of("towpath-dining")
    tones = [m.outline for m in toned_plan(table).marks if isinstance(m, Shape) and m.layer.filled]
    fine = [shapely.Polygon([e.point_at(i / 16) for e in o.edges for i in range(16)]) for o in tones]
    disc = 3.14159265 * table.sizes.radius**2
    assert 0.9 < shapely.union_all(fine).area / disc < 0.99


@pytest.mark.slow
def test_any_table_is_pictured() -> None:
    """Of random tables every picture is made, its words stand clear, and its tones cover the table's shadow."""
    for table in tables(range(300, 312)):
        plan = plan_assembly(table)
        seen = see(table_bodies(table, range(len(table.placed))), FROM_ABOVE)
        shadow = shapely.union_all(shapely.buffer(shapely.polygons(seen.scene.triangles[:, :, :2]), 1e-4))
        assert sum(patch.area for patch in patches(seen)) == pytest.approx(shadow.area, rel=2e-3)
        drawings = [exploded_drawing(table, plan), toned_plan(table), section_drawing(table)]
        drawings += [*all_details(table), *(step_drawing(table, plan, k) for k in range(0, len(plan.steps), 4))]
        for part in {part.kind: part for part in table.parts}.values():
            drawings += [view.drawing for view in face_views(part, 3.0, table.profile.units)]
        assert [(drawing.title, pair) for drawing in drawings for pair in overlapping(drawing)] == []
        assert len(json.dumps(scene(table, plan), separators=(",", ":"))) < 300_000
