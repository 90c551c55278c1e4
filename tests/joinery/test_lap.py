"""Laps: what each rail keeps of the crossing, against polygons from shapely."""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate
from shapely.geometry import Point, Polygon, box

from templategen.joinery.lap import CrossLap

B = 42.0


def crossing(rails: int, floor: float = 0.0, play: float = 0.0) -> CrossLap:
    """A crossing of 84 mm rails, 38 mm thick."""
    return CrossLap(("LOW", "MID", "HIGH")[-rails:], B, 38.0, floor, 38.0, play)


def strip(rails: int, number: int) -> Polygon:
    """A rail in plan."""
    return rotate(box(-300, -B, 300, B), number * 180 / rails, origin=(0, 0))


def cut_ranges(lap: CrossLap, number: int, x: float, y: float) -> list[tuple[float, float]]:
    """The heights that a rail has lost at a point of the table's plan."""
    angle = -number * pi / len(lap.codes)
    u, v = x * cos(angle) - y * sin(angle), x * sin(angle) + y * cos(angle)
    lost = []
    for cut in lap.features(number):
        top = cut.face == "top"
        if Polygon(cut.outline.points).contains(Point(u if top else -u, v)):
            lost.append((lap.thickness - cut.depth, lap.thickness) if top else (0.0, cut.depth))
    return lost


def owners(lap: CrossLap, x: float, y: float, z: float) -> list[int]:
    """The rails that have wood at a point."""
    return [
        number
        for number in range(len(lap.codes))
        if strip(len(lap.codes), number).contains(Point(x, y))
        and not any(low < z < high for low, high in cut_ranges(lap, number, x, y))
    ]


@pytest.mark.parametrize("rails", [2, 3])
@pytest.mark.parametrize("floor", [0.0, 8.0])
@settings(max_examples=60)
@given(x=st.floats(-130, 130), y=st.floats(-130, 130), share=st.floats(0, 1))
def test_every_height_of_the_crossing_belongs_to_one_rail(
    rails: int, floor: float, x: float, y: float, share: float
) -> None:
    """Where rails cross, each height above the floor has wood of exactly one of them."""
    lap, spot = crossing(rails, floor), Point(x, y)
    over = [number for number in range(rails) if strip(rails, number).contains(spot)]
    edges = min(strip(rails, number).exterior.distance(spot) for number in range(rails))
    z = floor + share * (38.0 - floor)
    if len(over) < 2 or edges < 1e-6 or min(abs(z - level) for level in (floor, 38.0, *lap.levels)) < 1e-6:
        return
    assert len(owners(lap, x, y, z)) == 1


@pytest.mark.parametrize("rails", [2, 3])
def test_rails_are_whole_outside_the_crossing(rails: int) -> None:
    """A rail loses nothing further out than its reach, and something just within it."""
    lap = crossing(rails, play=0.2)
    for number in range(rails):
        ends = [max(abs(p.x) for p in cut.outline.points) for cut in lap.features(number)]
        assert max(ends) == pytest.approx(lap.reach)


@pytest.mark.parametrize("rails", [2, 3])
def test_lap_floors_divide_the_height_evenly(rails: int) -> None:
    """Each rail keeps an even share of what lies above the floor."""
    levels = (8.0, *crossing(rails, 8.0).levels, 38.0)
    steps = [high - low for low, high in pairwise(levels)]
    assert steps == pytest.approx([30 / rails] * rails)


def test_depths_of_a_three_way_lap_are_thirds() -> None:
    """The lowest and the highest rail lose two thirds, the middle one a third from both faces."""
    lap = crossing(3)
    depths = [sorted((cut.face, round(cut.depth / 38 * 3, 9)) for cut in lap.features(n)) for n in range(3)]
    assert depths[0] == [("top", 2)]
    assert depths[1] == [("bottom", 1), ("top", 1)]
    assert set(depths[2]) == {("bottom", 1), ("bottom", 2)}


@pytest.mark.parametrize("rails", [2, 3])
@pytest.mark.parametrize("play", [0.0, 0.3])
def test_contact_agrees_with_polygons(rails: int, play: float) -> None:
    """The closed formulas of contact equal areas clipped by shapely."""
    lap = crossing(rails, play=play)
    for low in range(rails):
        for high in range(low + 1, rails):
            shared = strip(rails, low).intersection(strip(rails, high))
            if high - low == 2:
                trench = rotate(box(-300, -B - play / 2, 300, B + play / 2), 60, origin=(0, 0))
                shared = shared.difference(trench)
            assert lap.contact(low, high) == pytest.approx(shared.area, rel=1e-9)


def test_a_trench_is_wider_than_its_rail_by_the_play() -> None:
    """Measured square to the crossing rail, the trench is the rail and the clearance wide."""
    for rails in (2, 3):
        cut = crossing(rails, play=0.3).features(1)[0]
        width = cut.outline.area / (2 * B) * sin(pi / rails)
        assert width == pytest.approx(2 * B + 0.3)
