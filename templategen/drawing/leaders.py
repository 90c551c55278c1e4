"""Leaders: codes in two columns beside a picture, each with a line to a part that shows well."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, pairwise
from typing import Literal

from templategen.drawing.drawing import Mark, Shape, Stroke, Words
from templategen.drawing.tones import CODE, LEADER
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import circle
from templategen.geometry.point import Point
from templategen.view.shade import Patch

FEED = 1.9
"""Distance between the codes of a column as a share of the capital height."""

CHORDS = 8
"""An arc is taken for so many chords where it is asked what it runs through."""

LEAST_SHOWN = 0.15
"""Patches smaller than this share of a code's largest are passed over."""


def leaders(
    box: Bounds, shown: Sequence[tuple[str, Patch]], height: float, left_only: bool = False
) -> Iterator[Mark]:
    """Words and lines beside the picture in `box` for every code that `shown` has a patch of, `height` the capital
    height, mm."""
    for sign, code, foot, end in columns(box, _spots(shown), height, left_only):
        at = foot.plus(Point(sign * height * 0.4, -height / 2))
        yield Words(CODE, at, height, code, _anchor(sign), 0.0, code)
        yield Stroke(LEADER, Line(foot, end), code)
        yield Shape(LEADER, circle(end.x, end.y, height / 8), code)


def columns(
    box: Bounds, spots: Mapping[str, tuple[Point, Point]], height: float, left_only: bool = False
) -> Iterator[tuple[int, str, Point, Point]]:
    """Where codes stand in two columns beside a box: the side, the code, where its line begins, where it ends.

    `spots` are for each code the points that a line from the left and one from the right would best go to.
    """
    sides = (sorted(spots, key=lambda c: spots[c][0].y), []) if left_only else _sides(spots, box)
    for sign, codes in zip((-1, 1), sides, strict=True):
        x = (box.left if sign < 0 else box.right) + sign * height * 2
        ends = [spots[code][sign > 0] for code in codes]
        feet = [Point(x, y) for y in spaced([end.y for end in ends], height * FEED)]
        for foot, code in zip(feet, _uncrossed(feet, codes, ends), strict=True):
            yield sign, code, foot, spots[code][sign > 0]


def _uncrossed(feet: Sequence[Point], codes: Sequence[str], ends: Sequence[Point]) -> list[str]:
    """The codes in the order of their feet in which no two lines cross: each exchange makes both together shorter."""
    order = list(range(len(feet)))
    pairs = [*combinations(range(len(feet)), 2)]
    while crossing := next((p for p in pairs if _cross(feet, [ends[i] for i in order], *p)), None):
        one, other = crossing
        order[one], order[other] = order[other], order[one]
    return [codes[i] for i in order]


def _cross(feet: Sequence[Point], ends: Sequence[Point], one: int, other: int) -> bool:
    """Whether the lines of two feet cross."""
    sides = [
        [end.minus(foot).cross(at.minus(foot)) for at in (feet[far], ends[far])]
        for foot, end, far in ((feet[one], ends[one], other), (feet[other], ends[other], one))
    ]
    return all(a * b < 0.0 for a, b in sides)


def runs_through(start: Point, end: Point, box: Bounds) -> bool:
    """Whether a straight line has a point in a box: the shares of it within the box's width and height overlap."""
    first, last = 0.0, 1.0
    for low, high, here, way in (
        (box.left, box.right, start.x, end.x - start.x),
        (box.bottom, box.top, start.y, end.y - start.y),
    ):
        if way == 0.0:
            if not low <= here <= high:
                return False
        else:
            ends = sorted(((low - here) / way, (high - here) / way))
            first, last = max(first, ends[0]), min(last, ends[1])
    return first <= last


def crosses(edge: Edge, box: Bounds) -> bool:
    """Whether an edge runs through a box, an arc by a few of its chords."""
    spots = (
        [edge.point_at(step / CHORDS) for step in range(CHORDS + 1)]
        if isinstance(edge, Arc)
        else [edge.start, edge.end]
    )
    return any(runs_through(start, end, box) for start, end in pairwise(spots))


def _anchor(sign: int) -> Literal["start", "end"]:
    return "end" if sign < 0 else "start"


def _spots(shown: Sequence[tuple[str, Patch]]) -> dict[str, tuple[Point, Point]]:
    """For each code the points that a line from the left and one from the right would best go to."""
    by_code: dict[str, list[Patch]] = {}
    for code, patch in shown:
        by_code.setdefault(code, []).append(patch)
    result = {}
    for code, own in sorted(by_code.items()):
        large = LEAST_SHOWN * max(patch.area for patch in own)
        places = sorted(Point(*patch.spot) for patch in own if patch.area >= large)
        result[code] = places[0], places[-1]
    return result


def _sides(spots: Mapping[str, tuple[Point, Point]], box: Bounds) -> tuple[list[str], list[str]]:
    """The codes of the left and of the right column, from below up: as many on either side, the nearest first."""
    nearer_left = sorted(spots, key=lambda c: ((spots[c][0].x - box.left) - (box.right - spots[c][1].x), c))
    half = (len(nearer_left) + 1) // 2
    left, right = nearer_left[:half], nearer_left[half:]
    return sorted(left, key=lambda c: spots[c][0].y), sorted(right, key=lambda c: spots[c][1].y)


def spaced(values: Sequence[float], gap: float) -> list[float]:
    """Rising values moved as little as may be until neighbours are `gap` apart (each group about its own middle)."""
    groups: list[tuple[float, int]] = []
    for value in values:
        groups.append((value, 1))
        while len(groups) > 1 and groups[-1][0] - groups[-2][0] < gap * (groups[-1][1] + groups[-2][1]) / 2:
            (m2, n2), (m1, n1) = groups.pop(), groups.pop()
            groups.append(((m1 * n1 + m2 * n2) / (n1 + n2), n1 + n2))
    return [middle + gap * (i - (count - 1) / 2) for middle, count in groups for i in range(count)]
