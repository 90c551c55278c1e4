"""Pieces fed over a cutter: which end goes first, at which block they are let down, and at which they stop."""

from __future__ import annotations

import pytest

from templategen.packet.shipped import shipped_names
from templategen.parts.part import Part
from templategen.shop.set_ups.feed import FED
from templategen.shop.set_ups.run import set_ups
from templategen.shop.set_ups.set_up import Cut, Lay, SetUp
from tests.proof.followed import Record, alone, faults, without_steps, written
from tests.table.made import table_of

NEAR = 0.01


def fed(set_up: SetUp) -> bool:
    """Whether pieces go over its cutter."""
    return set_up.operation in FED and set_up.way == "machine"


def from_the_rear(part: Part, lay: Lay) -> list[tuple[float, float]]:
    """Each groove of the worked edge from the end that lies behind: its far and its near end. The maker sees the face
    that isn't at the fence, and the worked edge lies down."""
    long, low, sees_top = part.blank.bounds.width, lay.worked == "low", lay.against == "bottom"
    rear, leftmost = "right" if sees_top is low else "left", "left" if low else "right"  # seen from outside
    found = []
    for groove in part.cuts("groove"):
        face, box = part.face(groove.face).outline.bounds, groove.outline.bounds
        past = (long - face.width) / 2 - face.left
        ends = [past + box.left, past + box.right]
        if groove.face == f"edge-{1 if low else 2}":
            near, far = sorted(at if rear == leftmost else long - at for at in ends)
            found.append((far, near))
    return found


def blocks(set_up: SetUp, cut: Cut) -> dict[str, float]:
    """The blocks of a cut by name."""
    return {name: set_up.value(name, cut) for name in ("rear", "front") if set_up.setting(name, cut)}


@pytest.mark.parametrize("name", shipped_names())
def test_pieces_are_let_down_where_their_groove_starts_and_stop_where_it_ends(name: str) -> None:
    """A groove's far end, seen from the block behind, is where the cutter enters; its near end is left of the block
    before by the rest of the piece."""
    table = table_of(name=name)
    seen = 0
    for one in filter(fed, set_ups(table)):
        for cut in one.cuts if one.operation == "groove" else ():
            told = blocks(one, cut)
            for lay in cut.lays:
                part = table.part(lay.code)
                long = part.blank.bounds.width
                grooves = from_the_rear(part, lay)
                assert any(
                    (abs(told["rear"] - far) < NEAR if "rear" in told else True)
                    and (abs(long - told["front"] - near) < NEAR if "front" in told else True)
                    for far, near in grooves
                ), (lay, told, grooves)
                seen += bool(told)
    assert seen


def test_what_is_open_is_entered_there() -> None:
    """No segment that stands on its mitre is let down on the bit where its slot runs out at the outer corner."""
    for name in shipped_names():
        table = table_of(name=name)
        through = table.profile.joints.spline == "through"
        for one in filter(fed, set_ups(table)):
            for cut in one.cuts if one.operation == "spline slot" else ():
                assert ("front" in blocks(one, cut)) is through, (name, one.cuts)


@pytest.fixture
def segment() -> Record:
    """The plan of a segment whose groove is stopped at both ends."""
    record = without_steps(alone(written(table_of(name="towpath-dining")), {"RIM-A", "SPLINE"}))
    assert faults(record) == []
    return record


def grooves(record: Record) -> list[Record]:
    """The cuts of grooves in a plan."""
    every = [one for one in record["plan"]["operations"] if one["operation"] == "groove"]
    return [cut for one in every for cut in one["set_up"]["cuts"]]


def test_the_bench_sees_a_piece_let_down_at_its_end(segment: Record) -> None:
    """Let down where it should stop, or at the block of the other end, the groove isn't there."""
    for cut in grooves(segment):
        (rear,) = (one for one in cut["settings"] if one["name"] == "rear")
        long = 2 * rear["value"] - 272.0
        rear["value"] = long - rear["value"]
        assert any("RIM-A" in told for told in faults(segment))


def test_the_bench_knows_front_from_rear(segment: Record) -> None:
    """Fed the other way round the figures are wrong, and so is the end at the block."""
    for cut in grooves(segment):
        for lay in cut["lays"]:
            lay["stop_at"] = "left" if lay["stop_at"] == "right" else "right"
    assert any("wrong end at its block" in told for told in faults(segment))


def test_the_bench_lets_nothing_down_on_a_disc(segment: Record) -> None:
    """A disc that turns throws what comes down on it."""
    (one,) = (one for one in segment["plan"]["operations"] if one["operation"] == "groove")
    one["set_up"]["cutter"] = "groove cutter"
    assert any("down on a disc" in told for told in faults(segment))
