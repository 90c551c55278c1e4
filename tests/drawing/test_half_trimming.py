"""The picture of half rings being trimmed: where batten, screws, bit and blocks are, by the table's own sizes."""

from __future__ import annotations

from functools import cache
from math import cos, hypot

import pytest

from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words
from templategen.drawing.half_trimming import PROUD, end_trimmed, end_trimmed_on, half_trimmed
from templategen.drawing.half_upright import end_upright, half_upright
from templategen.drawing.jig_marks import JIG, JIG_EDGE
from templategen.drawing.machine_marks import CUTTER, MACHINE, PIECE_FED, WASTE, WOOD
from templategen.fit.plan import plan_assembly
from templategen.packet.page.machines import machines
from templategen.packet.page.steps import steps
from templategen.packet.page.work import TRIMMING, address_of
from templategen.shop.closing.study import closing_study
from templategen.table.assembly import Table
from templategen.work.plan import WorkPlan, work_plan
from templategen.work.trimming import HALVES, TRIMMED
from tests.table.made import table_of

BY_HAND = {"shop.machines": ("table saw", "router table")}


def on(drawing: Drawing, layer: object, kind: type[Mark] = Shape) -> list[Mark]:
    """The marks of a kind on a layer."""
    return [mark for mark in drawing.marks if mark.layer == layer and isinstance(mark, kind)]


def boxes(drawing: Drawing, layer: object) -> list[tuple[float, float, float, float]]:
    """Left, bottom, right and top of the shapes on a layer, from left to right."""
    found = (mark.outline.bounds for mark in on(drawing, layer) if isinstance(mark, Shape))
    return sorted((box.left, box.bottom, box.right, box.top) for box in found)


@pytest.mark.parametrize(("name", "changes"), [("towpath-hex", {}), ("towpath-hex", BY_HAND), ("towpath-side", {})])
def test_batten_screws_bit_and_blocks_are_where_the_plan_tells(name: str, changes: dict[str, object]) -> None:
    """The batten's edge runs through both inner corners; its screws go into waste, clear of bit and circle; a router
    goes from left to right at both ends, a plane outwards; a block stands wherever good wood would break out."""
    table = table_of(changes, name)
    drawing, sizes = half_trimmed(table), table.sizes
    inner, outer = sizes.inner_corner, sizes.outer_apothem / cos(sizes.mitre)
    ((left, bottom, right, high),) = boxes(drawing, JIG)
    assert bottom == pytest.approx(0) and left < -outer and right > outer
    holders = [mark.outline.bounds for mark in on(drawing, JIG_EDGE) if isinstance(mark, Shape)]
    for box in (one for one in holders if one.width < 100 and one.bottom < high):
        assert inner < abs(box.centre.x) < outer and box.bottom >= TRIMMED and box.top <= high
        if sizes.is_sawn:
            assert hypot(box.centre.x, box.centre.y) - box.width / 2 >= sizes.radius + TRIMMED
    gone = boxes(drawing, WASTE)
    assert [(one[0], one[2]) for one in gone] == [pytest.approx((-outer, -inner)), pytest.approx((inner, outer))]
    assert all(one[1] == -PROUD and one[3] == 0 for one in gone)
    fed = [mark.edge for mark in on(drawing, PIECE_FED, Stroke) if isinstance(mark, Stroke)][::3]
    routed = not changes
    ways = [edge.end.x > edge.start.x for edge in sorted(fed, key=lambda edge: edge.start.x)]
    assert ways == ([True, True] if routed else [False, True]) and bool(on(drawing, CUTTER)) == routed
    blocks = [mark.outline.points for mark in on(drawing, MACHINE) if isinstance(mark, Shape)]
    twice = routed and table.profile.shop.bit_length < table.profile.top.thickness
    stay = [-inner, inner] if sizes.is_sawn else [-outer, -inner, inner, outer]
    wanted = stay if twice else [] if not routed else [-inner] if sizes.is_sawn else [-inner, outer]
    feet = [[at.x for at in one if abs(at.y) < 1e-6] for one in blocks]
    found = [min(foot, key=lambda x: min(abs(x - corner) for corner in stay)) for foot in feet]
    assert sorted(found) == pytest.approx(wanted), "in the second go at every corner that stays"
    middle = [box.centre for box in holders if box.bottom > high]
    assert len(middle) == 2 and middle[0].x == pytest.approx(-middle[1].x), "two clamps beside the middle"
    assert all(sizes.inner_apothem < hypot(at.x, at.y) < outer for at in middle)
    assert any(isinstance(mark, Words) and mark.text.startswith(told_deep(table)) for mark in drawing.marks)


def told_deep(table: Table) -> str:
    """What must stay between the line and the inner edge, without its unit."""
    sizes = table.sizes
    return f"{sizes.inner_apothem if sizes.segments // 2 % 2 else sizes.inner_corner:.2f}".rstrip("0").rstrip(".")


@cache
def hexagon() -> tuple[Table, WorkPlan]:
    table = table_of({}, "towpath-hex")
    return table, work_plan(table, plan_assembly(table))


def test_trimming_has_a_sheet_in_its_place() -> None:
    """All that the plan tells of it, with both pictures, before the step that it is for; the plan leads there."""
    table, work = hexagon()
    sheets = steps(table, plan_assembly(table), work, closing_study(table.sizes)).sheets
    names = [sheet.name for sheet in sheets]
    at = names.index(TRIMMING)
    trim = next(one for one in work.operations if one.operation.does == "trim the half rings")
    after = next(one for one in work.operations if one.number > trim.number and one.step)
    assert names[at - 1 : at + 2] == [f"step-{int(after.step) - 1}", TRIMMING, f"step-{after.step}"]
    words = " ".join(map(str, sheets[at].words))
    assert all(line[1:] in words for line in (*trim.operation.tells, trim.operation.measure))
    assert len(sheets[at].pictures) == 3 and address_of(trim) == f"together-{TRIMMING}"


def test_nothing_cuts_the_bench_or_rolls_round_a_corner() -> None:
    """The half lies on packing off its ends and is clamped to it, in the picture too; a bearing that runs on the wood
    itself finds a block at both inner corners."""
    table, work = hexagon()
    told = " ".join(next(one.operation.tells for one in work.operations if one.operation.does == HALVES))
    assert (
        "on packing 20 mm thick, 30 mm off both ends" in told
        and "clamp it there at two places beside its middle" in told
    )
    assert "a block level with the end at each of its corners that stays" in told
    assert "120 mm wide and 32 mm thick" in told, "3 of a bit of 25 in the wood, its bearing of 10 on the batten"
    below = [one for one in boxes(end_trimmed(table), MACHINE) if one[3] <= 0]
    assert any(one[3] == 0 and one[0] > 0 for one in below) and min(one[1] for one in below) < -20


def test_in_the_second_go_the_bearing_runs_on_what_is_trimmed() -> None:
    """Drawn: no batten, the bit over all that is left and clear of the bench, its bearing on the wood above."""
    table, _ = hexagon()
    drawing, thick, reach = end_trimmed_on(table), table.profile.top.thickness, table.profile.shop.bit_length
    ((_, low, _, left),) = boxes(drawing, WASTE)
    assert not boxes(drawing, JIG) and (low, left) == (0, pytest.approx(thick - reach))
    bit, bearing = sorted((one for one in boxes(drawing, CUTTER) if one[0] == -19), key=lambda one: one[1])
    assert -20 < bit[1] < 0 and left < bit[3] <= bearing[1] and bearing[3] <= thick and bearing[2] == 0


def test_a_half_ring_stands_on_its_box_with_a_balk_on_the_bench_behind_each_end() -> None:
    """The card of its slots tells the balk's thickness and place, and draws both: on the bench's top, against the
    ring, level with its ends; the ring before the bench, its arch on a box."""
    table, work = hexagon()
    sizes, thick = table.sizes, table.profile.top.thickness
    (done,) = [one for one in work.set_ups if one.on_half]
    told = " ".join(map(str, done.does))
    assert "30 thick" in told.replace(" mm", "") and "on the bench's top against the ring" in told
    assert "clamp the piece with that end up" not in told, "told once, for the half ring"
    front, across = half_upright(table), end_upright(table)
    bench, box = sorted(boxes(front, MACHINE), key=lambda one: -one[3])
    assert bench[3] == pytest.approx(-30) and box[3] == pytest.approx(-sizes.outer_apothem)
    ends = boxes(front, JIG)
    assert [(one[1], one[3]) for one in ends] == [(-30, 0), (-30, 0)]
    assert ends[1][0] < sizes.inner_corner and ends[1][2] > sizes.outer_apothem / cos(sizes.mitre)
    wood = [mark.outline.bounds for mark in on(front, WOOD) if isinstance(mark, Shape)]
    assert max(one.top for one in wood) == pytest.approx(0) and min(one.bottom for one in wood) == pytest.approx(
        box[3]
    )
    ((left, bottom, right, high),) = boxes(across, JIG)
    assert (bottom, right, high) == (-30, 0, 0) and left == -100
    ((near, _, far, level),) = boxes(across, WOOD)
    assert (near, far, level) == (0, pytest.approx(thick), 0), "against the ring, level with its end"
    assert any(one[2] == pytest.approx(right) and one[3] == bottom for one in boxes(across, MACHINE)), "the bench"
    (card,) = [sheet for sheet in machines(table, work).sheets if sheet.name == str(done.number)]
    assert len(card.pictures) == 4
