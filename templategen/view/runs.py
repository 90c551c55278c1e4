"""Runs: visible pieces of edges put together into the lines that are drawn."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any, NamedTuple

from templategen.view.sight import Seen

SHORTEST = 0.05
"""Shorter pieces of edges than this are not drawn, mm."""

STRAIGHT = 1 / 20000
"""A corner that leaves the line through its neighbours by less than this share of the picture is left out."""


class VisibleRun(NamedTuple):
    """Corners of a visible line in the picture; `contour` when it bounds what its body shows."""

    points: tuple[tuple[float, float], ...]
    contour: bool


def runs(seen: Seen) -> tuple[tuple[VisibleRun, ...], ...]:
    """The visible lines of each body, in a fixed order."""
    long = ((seen.ends - seen.starts) ** 2).sum(axis=1) > SHORTEST**2
    long &= ~seen.scene.quiet[seen.number]
    found: dict[int, list[tuple[Any, Any, bool]]] = defaultdict(list)
    rows = zip(seen.number[long], seen.starts[long].tolist(), seen.ends[long].tolist(), strict=True)
    for number, one, other in rows:
        found[int(seen.scene.edge_body[number])].append((one, other, bool(seen.scene.contour[number])))
    return tuple(tuple(_joined(found[i], STRAIGHT * seen.scene.extent)) for i in range(seen.count))


def _joined(pieces: list[tuple[Any, Any, bool]], straight: float) -> Iterator[VisibleRun]:
    """Pieces that meet end to end as runs, their needless corners left out, in a fixed order."""
    for contour in (True, False):
        ends: dict[tuple[int, int], list[int]] = defaultdict(list)
        kept = sorted((min(a, b), max(a, b)) for a, b, kind in pieces if kind == contour)
        for number, (one, other) in enumerate(kept):
            ends[_spot(one)].append(number)
            ends[_spot(other)].append(number)
        used: set[int] = set()
        for number in range(len(kept)):
            if number not in used:
                yield VisibleRun(tuple(_thinned(_walked(number, kept, ends, used), straight)), contour)


def _spot(point: Sequence[float]) -> tuple[int, int]:
    return round(point[0] * 200), round(point[1] * 200)


def _walked(number: int, kept: list[Any], ends: dict[tuple[int, int], list[int]], used: set[int]) -> list[Any]:
    """From one piece on to both sides, as far as exactly two pieces meet."""
    used.add(number)
    line = list(kept[number])
    for _ in range(2):
        line.reverse()
        while True:
            meeting = ends[_spot(line[-1])]
            ahead = [n for n in meeting if n not in used]
            if len(meeting) != 2 or len(ahead) != 1:
                break
            used.add(ahead[0])
            one, other = kept[ahead[0]]
            line.append(other if _spot(one) == _spot(line[-1]) else one)
    return line


def _thinned(line: list[Any], straight: float) -> Iterator[tuple[float, float]]:
    kept = [line[0]]
    for here, after in pairwise(line[1:]):
        before = kept[-1]
        dx, dy = after[0] - before[0], after[1] - before[1]
        length = (dx * dx + dy * dy) ** 0.5
        if length == 0 or abs(dx * (here[1] - before[1]) - dy * (here[0] - before[0])) > straight * length:
            kept.append(here)
    yield from ((x, y) for x, y in (*kept, line[-1]))
