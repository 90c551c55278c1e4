"""Letters of joints and numbers of arms on the plan, on its sheet and on the page."""

from itertools import combinations
from math import hypot

import pytest

from templategen.drawing.drawing import Drawing, Stroke, words_of
from templategen.drawing.joint_letters import JOINT
from templategen.drawing.leaders import runs_through
from templategen.drawing.toned_plan import joined_plan
from templategen.geometry.point import Point
from templategen.packet.part_files import drawn_plan
from templategen.packet.shipped import shipped_names
from templategen.shop.gluing.marks import marks_of
from tests.drawing.shipped_tables import plan_of, table_of


@pytest.mark.parametrize("name", shipped_names())
def test_the_plan_has_letters_and_arms(name: str) -> None:
    """Every letter that labels and cards speak of, once, every arm by its number, and no words on other words."""
    table, order = table_of(name), plan_of(name)
    letters = {number: mark.letter for number, mark in marks_of(table, order).items()}
    for drawing in (drawn_plan(table, order), joined_plan(table, letters)):
        told = [one.text for one in words_of(drawing.marks) if one.layer.name == "JOINT_LETTER"]
        assert sorted(" ".join(one.strip("()") for one in told).split()) == sorted(letters.values())
        arms = {one.text for one in words_of(drawing.marks)}
        assert {f"arm {arm + 1}" for arm in range(table.sizes.arms)} <= arms
        assert _met(drawing) == []


def _met(drawing: Drawing) -> list[tuple[str, str]]:
    """Letters and arms that lie on other words, with those."""
    words = [(one.text, one.box) for one in words_of(drawing.marks)]
    return [
        (one, other)
        for (one, own), (other, others) in combinations(words, 2)
        if any(text.startswith(("(", "arm")) for text in (one, other)) and own.meets(others)
    ]


def test_many_letters_at_the_hub_stand_past_the_rim() -> None:
    """Where lines leave them no room: on a line of their own from the hub that runs through no other words."""
    table = table_of("towpath-dining")
    letters = {number: mark.letter for number, mark in marks_of(table, plan_of("towpath-dining")).items()}
    marks = joined_plan(table, letters).marks
    (told,) = (one for one in words_of(marks) if one.text.count(" ") > 3 and one.layer is JOINT)
    reach = table.profile.top.diameter / 2
    assert hypot(*told.box.centre) > reach
    ends = [(one.edge.start, one.edge.end) for one in marks if isinstance(one, Stroke) and one.layer is JOINT]
    ((hub, rim),) = [(a, b) for a, b in ends if a.distance(b) > reach / 2]
    assert hub.distance(Point(0, 0)) < 1 and rim.distance(told.box.centre) < told.box.width
    assert not any(runs_through(hub, rim, one.box) for one in words_of(marks))
