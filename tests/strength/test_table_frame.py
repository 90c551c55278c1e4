"""The table's frame against an outside library of finite elements, and what its strength is used for."""

from __future__ import annotations

from math import hypot
from typing import Any

import pytest

from templategen.strength.frame import WAYS, Frame, solve
from templategen.strength.table_frame import lap_section, straight_down, table_frame
from templategen.strength.used import cases_of, used_in
from templategen.wood.grades import GRADES, grade_of
from tests.table.made import table_of

LIFT = 0.01
"""Nodes that are tied lie so far apart in the outside library, mm: it has bars, no ties."""

HELD = {"x": "support_DX", "y": "support_DZ", "z": "support_DY"}
"""Its y points up, so our y is its -z."""


def outside(frame: Frame, node: str, force: float) -> Any:
    """The same frame as an outside library of finite elements has it, with `force` N down on `node`.

    A tie is a very short bar, stiff along and across and limp in bending: of length l its shear stiffness is 3 / l2
    times its bending stiffness. A spring is one that bends by so much for its length, besides.
    """
    model = pytest.importorskip("Pynite").FEModel3D()
    bar = next(iter(frame.bars.values()))
    model.add_material("wood", bar.stiffness, bar.shear, 0.3, 1e-9)
    model.add_section("tie", 1000.0, 25 / bar.stiffness, 25 / bar.stiffness, 1e-3)
    for name, (x, y, z) in frame.nodes.items():
        kind, _, rest = name.partition(".")
        level = int(rest.partition(".")[0]) if kind in ("rail", "base") else 5
        model.add_node(name, x, z + LIFT * level, -y)
    sections: dict[Any, str] = {}
    for name, one in frame.bars.items():
        s = one.section
        if s not in sections:
            sections[s] = f"section {len(sections)}"
            model.add_section(sections[s], s.area, s.about_z, s.about_y, s.torsion)
        model.add_member(name, one.start, one.end, "wood", sections[s])
    on_springs = {(spring.one, spring.other) for spring in frame.springs}
    for number, tie in enumerate(one for one in frame.ties if (one.one, one.other) not in on_springs):
        model.add_member(f"tie {number}", tie.one, tie.other, "wood", "tie")
    for number, spring in enumerate(frame.springs):
        long = abs(model.nodes[spring.one].Y - model.nodes[spring.other].Y)
        bends = spring.stiffness * long / bar.stiffness
        model.add_section(f"spring {number}", 1000.0, bends, bends, 1e5)
        model.add_member(f"spring {number}", spring.one, spring.other, "wood", f"spring {number}")
    for name, ways in frame.supports.items():
        model.def_support(name, **{HELD[way]: True for way in ways})
    model.add_node_load(node, "FY", -force)
    model.analyze_linear(check_stability=False)
    return model


BOLTED: dict[str, Any] = {"legs.top_joint": "bolted", "legs.base_centre_distance": 232.0}


@pytest.mark.parametrize(
    ("name", "node", "changes"),
    [
        ("towpath-dining", "rail.0.end.near", {}),
        ("towpath-hex", "rail.2.end.far", {}),
        ("towpath-side", "mitre.1", {}),
        ("towpath-dining", "rail.1.end.near", BOLTED),
    ],
)
def test_the_frame_agrees_with_finite_elements(name: str, node: str, changes: dict[str, Any]) -> None:
    """Every node's sinking and moving aside, and the bending at both ends of every bar, are those of an outside
    library, to a two-thousandth of the largest."""
    frame = table_frame(table_of(changes, name))
    (solved,) = solve(frame, [{node: straight_down(300)}])
    model = outside(frame, node, 300.0)
    most = max(abs(move) for moves in solved.moves.values() for move in moves[:3])
    for spot, (x, y, z, *_) in solved.moves.items():
        there = model.nodes[spot]
        found = there.DX["Combo 1"], -there.DZ["Combo 1"], there.DY["Combo 1"]
        assert (x, y, z) == pytest.approx(found, rel=0, abs=most / 2000), spot
    bends = {bar: (hypot(*forces.start[4:]), hypot(*forces.end[4:])) for bar, forces in solved.forces.items()}
    largest = max(max(both) for both in bends.values())
    assert largest > 10_000
    for bar, both in bends.items():
        member = model.members[bar]
        found_there = [hypot(*(member.moment(way, at, "Combo 1") for way in ("My", "Mz"))) for at in (0, member.L())]
        assert both == pytest.approx(found_there, rel=0, abs=largest / 2000), bar


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex", "towpath-inch", "towpath-side"])
def test_supports_hold_and_ties_tie(name: str) -> None:
    """What is held doesn't move, and rails sink alike at the axis."""
    table = table_of(name=name)
    frame = table_frame(table)
    (solved,) = solve(frame, [{"rail.0.end.near": straight_down(300)}])
    for number in range(table.sizes.rails):
        assert solved.moves[f"rail.{number}.axis"][2] == pytest.approx(solved.moves["rail.0.axis"][2])
    for held, ways in frame.supports.items():
        assert all(abs(solved.moves[held][WAYS.index(way)]) < 1e-9 for way in ways)


@pytest.mark.wide
def test_more_wood_is_used_less() -> None:
    """Thicker rails, a better class and less load lower the share; a hole raises it."""

    def share(**changes: Any) -> float:
        sizes = {
            "legs.tenon": (38.0, 46.0, 20.0),
            **{key.replace("__", "."): value for key, value in changes.items()},
        }
        return max(used.share for used in used_in(table_of(sizes), 400.0) if used.case.name == "lean")

    assert share(top__thickness=60.0) < share()
    assert share(limits__lean_load=150.0) == pytest.approx(share() / 2)
    assert share(top__pole_hole=60.0) >= share(top__pole_hole=36.0)


def test_a_lap_keeps_its_share() -> None:
    """A third of the height over the width beside the hole, in the top of three rails."""
    section = lap_section(table_of(), "rail")
    assert section.about_y == pytest.approx((84 - 36) * (38 / 3) ** 3 / 12)


def test_woods_have_a_class() -> None:
    """Every built-in wood that is solid has a class, unknown ones go by their density."""
    from templategen.wood.grades import CLASS_OF
    from templategen.wood.species import SPECIES

    assert {*SPECIES} - {*CLASS_OF} == {"plywood"}
    assert grade_of("my own", 350) is GRADES["C14"] and grade_of("my own", 720) is GRADES["D30"]


def test_where_the_frame_stands_and_what_it_bears() -> None:
    """Feet stand half a foot in from the base rails' ends; loads press down, but for lifting and dragging."""
    table = table_of({})
    base = table.profile.base
    frame = table_frame(table)
    x, y, _ = frame.nodes["base.0.end.near"]
    assert hypot(x, y) == pytest.approx(base.length / 2 - base.foot_length / 2)
    forces = {case.name: case.loads for case in cases_of(table, 200.0)}
    (drag,) = forces.pop("drag").values()
    assert {kind: [force[2] for force in loads.values()] for kind, loads in forces.items()} == {
        "lean": [-table.profile.limits.lean_load], "lean between": [-table.profile.limits.lean_load],
        "lift": [150.0, 150.0], "sit": [-table.profile.limits.sitting_load],
        "sit opposite": [-table.profile.limits.sitting_load] * 2,
    }  # fmt: skip
    assert drag[:3] == (100.0, 0.0, 0.0)
