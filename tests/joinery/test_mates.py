"""Both sides of a joint come from one definition: sizes, places and clearances agree."""

from __future__ import annotations

import pytest

from templategen.geometry.outline import rectangle
from templategen.joinery.groove import TongueAndGroove
from templategen.joinery.mortise import MortiseAndTenon
from templategen.joinery.spline import SplineJoint

GROOVE = TongueAndGroove(width=12.0, depth=14.0, level=27.0, clearance=0.2, end_clearance=1.0)
TENON = MortiseAndTenon(thickness=38.0, width=46.0, length=24.0, clearance=0.1, end_clearance=1.5, along=0.7)


@pytest.mark.parametrize("thickness", [22.0, 38.0])
def test_a_tongue_lies_in_the_middle_of_its_groove(thickness: float) -> None:
    """What both rebates leave is the groove's width less the clearance, half of it free above and below."""
    level = GROOVE.level if thickness == 38.0 else thickness / 2
    top, bottom = GROOVE.rebates("tongue", rectangle(0, 0, 13, 50), thickness, level, ("RIM-A",))
    groove = GROOVE.groove("edge-1", 0, 100, ("SLAT-01",))
    low, high = groove.outline.bounds.bottom, groove.outline.bounds.top
    lift = GROOVE.level - level
    assert bottom.depth + lift - low == pytest.approx(0.1)
    assert high - (thickness - top.depth + lift) == pytest.approx(0.1)
    assert groove.depth - GROOVE.tongue_length == pytest.approx(1.0)
    assert (groove.clearance, groove.end_clearance) == (top.clearance, top.end_clearance) == (0.2, 1.0)


def test_both_rebates_of_a_tongue_lie_over_each_other() -> None:
    """Seen turned over, the lower rebate is the mirror of the upper."""
    top, bottom = GROOVE.rebates("tongue", rectangle(3, -5, 16, 50), 22.0, 11.0, ())
    assert {(-x, y) for x, y in bottom.outline.points} == set(top.outline.points)
    assert bottom.outline.is_anticlockwise


@pytest.mark.parametrize("face", ["top", "bottom"])
def test_a_mortise_is_the_tenon_and_its_clearances(face: str) -> None:
    """The mortise is larger by the clearance both ways, deeper by the end clearance, and centred on its place."""
    mortise = TENON.mortise(face, 190.0, ("LEG",))
    box = mortise.outline.bounds
    assert (box.width, box.height, mortise.depth) == pytest.approx((46.7, 38.1, 25.5))
    middle = (box.left + box.right) / 2
    assert (middle if face == "top" else -middle) == pytest.approx(190.0)
    assert box.top == pytest.approx(-box.bottom)
    assert (mortise.kind, mortise.face, mortise.mates) == ("mortise", face, ("LEG",))
    assert (mortise.clearance, mortise.end_clearance) == (0.1, 1.5)


def test_cheeks_leave_the_tenon() -> None:
    """The two cheek cuts leave the tenon's thickness in the middle of the leg."""
    zone = rectangle(0, -23, 24, 21)
    one, other = TENON.cheeks(zone, 70.0, ("RAIL-1",))
    assert one.outline == zone and {(-x, y) for x, y in other.outline.points} == set(zone.points)
    assert one.mates == other.mates == ("RAIL-1",)
    assert (one.clearance, one.end_clearance) == (other.clearance, other.end_clearance) == (0.1, 1.5)
    assert 70.0 - one.depth - other.depth == pytest.approx(38.0)
    assert one.depth == other.depth
    assert {one.face, other.face} == {"top", "bottom"}


def test_tenon_contact_is_its_four_cheeks() -> None:
    """Glue area is the tenon's girth by its length."""
    assert TENON.contact == pytest.approx((38 + 46 + 38 + 46) * 24)


@pytest.mark.parametrize("start_stopped", [False, True])
@pytest.mark.parametrize("end_stopped", [False, True])
def test_a_spline_fits_its_slots(start_stopped: bool, end_stopped: bool) -> None:
    """Spline and slots agree in thickness, depth and length, each end free where it is stopped only."""
    start = 20.0 if start_stopped else 0.0
    joint = SplineJoint(10.0, 24.0, 19.0, start, 110.0, start_stopped, end_stopped, 0.1, 1.0)
    slot = joint.slot("end-1", 130.0, True, ("SPLINE",))
    box = slot.outline.bounds
    assert box.height - joint.spline_thickness == pytest.approx(0.1)
    assert (box.bottom + box.top) / 2 == pytest.approx(19.0)
    assert slot.depth - joint.half_width == pytest.approx(1.0)
    assert joint.spline_start - box.left == pytest.approx(1.0 if start_stopped else 0.0)
    assert box.right - joint.spline_end == pytest.approx(1.0 if end_stopped else 0.0)


def test_slots_of_both_segments_face_each_other() -> None:
    """A slot told from the outer end lies where the one told from the inner end does."""
    joint = SplineJoint(10.0, 24.0, 19.0, 20.0, 110.0, True, True, 0.1, 1.0)
    out, back = joint.slot("end-1", 130.0, True, ()), joint.slot("end-2", 130.0, False, ())
    assert 130.0 - back.outline.bounds.right == pytest.approx(out.outline.bounds.left)
    assert 130.0 - back.outline.bounds.left == pytest.approx(out.outline.bounds.right)
    assert back.depth == out.depth
