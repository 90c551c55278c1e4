"""Frames against closed formulas of beam theory."""

from __future__ import annotations

from itertools import pairwise

import pytest

from templategen.strength.frame import WAYS, Bar, Frame, Section, Spring, Tie, solve
from templategen.strength.table_frame import rectangular, straight_down

E, G = 11_000.0, 700.0
RAIL = rectangular(90, 70)


def beam(places: dict[str, float], weak: tuple[str, str] | None = None) -> Frame:
    """A bar along x in pieces between `places`, weaker between two of them."""
    frame = Frame({name: (x, 0.0, 0.0) for name, x in places.items()})
    names = list(places)
    for one, other in pairwise(names):
        section = rectangular(90, 70 / 3) if (one, other) == weak else RAIL
        frame.bars[one + other] = Bar(one, other, section, E, G)
    return frame


def test_sections_are_the_textbooks() -> None:
    """b h3 / 12 both ways; a square's torsion constant is 0.1406 a4, a thin strip's a third of b t3."""
    assert (RAIL.area, RAIL.about_y, RAIL.about_z) == pytest.approx((6300, 90 * 70**3 / 12, 70 * 90**3 / 12))
    assert rectangular(60, 60).torsion == pytest.approx(0.1406 * 60**4, rel=3e-3)
    assert rectangular(1000, 2).torsion == pytest.approx(1000 * 8 / 3, rel=2e-3)


@pytest.mark.parametrize(("way", "second"), [(2, RAIL.about_y), (1, RAIL.about_z)])
def test_a_bar_held_at_one_end(way: int, second: float) -> None:
    """F L3 / (3 E I) at the tip, F L at the wall, for a load down and one sideways."""
    frame = beam({"a": 0, "b": 500})
    frame.supports["a"] = WAYS
    load = [0.0] * 6
    load[way] = -300.0
    (solved,) = solve(frame, [{"b": load}])
    assert solved.moves["b"][way] == pytest.approx(-300 * 500**3 / (3 * E * second))
    assert abs(solved.forces["ab"].start[4 if way == 2 else 5]) == pytest.approx(300 * 500)


def test_a_twisted_bar() -> None:
    """T L / (G J)."""
    frame = beam({"a": 0, "b": 500})
    frame.supports["a"] = WAYS
    (solved,) = solve(frame, [{"b": (0, 0, 0, 2e5, 0, 0)}])
    assert solved.moves["b"][3] == pytest.approx(2e5 * 500 / (G * RAIL.torsion))


def test_a_rail_on_two_legs_with_one_end_loaded() -> None:
    """Overhang L: F L at the near leg, half of it at the middle however weak the lap, uplift F L / 2c at the far leg;
    the tip sinks by F L2 (L + 2c) / (3 E I) where nothing is weak."""
    at = {"far": -190, "lap-": -50, "axis": 0, "lap+": 50, "near": 190, "tip": 635}
    for weak in (None, ("lap-", "axis")):
        frame = beam(at, weak)
        frame.supports = {"far": ("y", "z", "rx"), "near": ("x", "y", "z")}
        (solved,) = solve(frame, [{"tip": straight_down(300)}])
        assert abs(solved.forces["neartip"].start[4]) == pytest.approx(300 * 445)
        assert abs(solved.forces["axislap+"].start[4]) == pytest.approx(300 * 445 / 2)
        assert abs(solved.forces["farlap-"].start[2]) == pytest.approx(300 * 445 / 380)
        if weak is None:
            sinks = 300 * 445**2 * (445 + 380) / (3 * E * RAIL.about_y)
            assert solved.moves["tip"][2] == pytest.approx(-sinks)


def test_tied_nodes_move_alike_and_turn_apart() -> None:
    """Two rails that cross and share only their sinking: each carries half, as two beams of one span do."""
    frame = Frame()
    for name, (x, y) in {
        "w": (-400, 0),
        "m": (0, 0),
        "e": (400, 0),
        "s": (0, -400),
        "n": (0, 0),
        "t": (0, 400),
    }.items():
        frame.nodes[name] = (float(x), float(y), 0.0)
    for one, other in (("w", "m"), ("m", "e"), ("s", "n"), ("n", "t")):
        frame.bars[one + other] = Bar(one, other, RAIL, E, G)
    frame.ties.append(Tie("m", "n", ("x", "y", "z")))
    frame.supports = dict.fromkeys(("w",), ("x", "y", "z", "rx", "rz"))
    frame.supports |= {"e": ("y", "z"), "s": ("x", "z", "ry", "rz"), "t": ("x", "z")}
    (solved,) = solve(frame, [{"m": straight_down(1000)}])
    assert solved.moves["m"][2] == pytest.approx(-500 * 800**3 / (48 * E * RAIL.about_y))
    assert solved.moves["n"][2] == pytest.approx(solved.moves["m"][2])


def test_a_frame_that_can_move_is_refused() -> None:
    """Nothing holds it: no figure comes out of that."""
    with pytest.raises(ValueError, match="can move without any force"):
        solve(Frame({"a": (0, 0, 0), "b": (1, 0, 0)}, {"ab": Bar("a", "b", Section(1, 1, 1, 1), 1, 1)}), [{}])


def test_a_bar_that_turns_on_a_spring_at_its_wall() -> None:
    """The tip sinks by F L3 / (3 E I) and by F L / k times L besides, for a load down and one sideways at once."""
    frame = beam({"a": 0, "b": 430})
    frame.nodes["wall"], frame.supports["wall"] = frame.nodes["a"], WAYS
    frame.ties.append(Tie("a", "wall", ("x", "y", "z", "rx")))
    frame.springs.append(Spring("a", "wall", ("ry", "rz"), 7.3e6))
    (solved,) = solve(frame, [{"b": (0.0, 170.0, -300.0, 0.0, 0.0, 0.0)}])
    for way, force, second in ((1, 170, RAIL.about_z), (2, -300, RAIL.about_y)):
        wanted = force * 430**3 / (3 * E * second) + force * 430**2 / 7.3e6
        assert solved.moves["b"][way] == pytest.approx(wanted)
