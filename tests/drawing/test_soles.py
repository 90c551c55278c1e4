"""Channels in soles are drawn as their card has them cut: in sections, from below and in the underside's view."""

from __future__ import annotations

import pytest
import shapely

from templategen.drawing.drawing import Shape
from templategen.drawing.joint_planes import plane_of
from templategen.drawing.part_views import part_looks, part_views
from templategen.drawing.soles import SOLE_CHANNEL, with_channels
from templategen.fit.plan import plan_assembly
from templategen.table.assembly import Table
from templategen.view.slice import slices
from templategen.work.plan import work_plan
from tests.table.made import table_of


def cut_by(table: Table) -> float:
    """What of the ground cross the section through a leg's foot cuts, mm2."""
    joint = next(one for one in table.joints if one.kind == "leg-tenon" and one.parts[0] == "BASE-LOW")
    plane, window = plane_of(table, joint, "BASE-LOW")
    faces = [face for face in slices(table, plane, window) if table.placed[face.index].code.startswith("BASE")]
    return sum(shapely.Polygon(ring).area for face in faces for ring in face.rings)


def test_a_section_shows_the_channel_that_its_card_tells() -> None:
    """Off the sole from the drain hole, whose radius is 5, to the foot's end: 10 mm long, as deep as told."""
    table = table_of(name="towpath-hex")
    base, out = table.profile.base, table.profile.legs.base_centre_distance
    (told,) = (one for one in work_plan(table, plan_assembly(table)).set_ups if one.setting("channel"))
    long = out - base.drain_hole / 2 - (base.length / 2 - base.foot_length)
    less = cut_by(table) - cut_by(with_channels(table))
    assert long == pytest.approx(10.0) and less == pytest.approx(long * told.value("channel"), abs=0.1)
    assert any("channel into each sole, 10 mm wide" in line and "5 mm deep" in line for line in told.does)


@pytest.mark.parametrize("code", ["BASE-LOW", "BASE-MID", "BASE-HIGH"])
def test_the_underside_shows_both_channels_and_tells_their_size(code: str) -> None:
    """As wide as the drain hole, each from its hole's middle to where the foot ends; nothing else on that layer."""
    table = table_of(name="towpath-hex")
    views = part_views(table, table.part(code))
    marks = [mark for face in views.faces for mark in face.drawing.marks if mark.layer == SOLE_CHANNEL]
    boxes = sorted(mark.outline.bounds for mark in marks if isinstance(mark, Shape))
    assert [(box.left, box.right, box.height) for box in boxes] == [(-195, -180, 10), (180, 195, 10)]
    (note,) = [note for face in views.faces for note in face.notes if "channel" in note]
    assert "10 mm wide and 5 mm deep" in note
    (below,) = [one for one in views.looks if "below" in one.title]
    (shut,) = [one for one in part_looks(table.part(code)) if "below" in one.title]
    assert below.marks != shut.marks


def test_a_rail_whose_holes_run_free_has_none() -> None:
    for name in ("towpath-dining", "towpath-inch", "towpath-side"):
        table = table_of(name=name)
        assert with_channels(table) is table
