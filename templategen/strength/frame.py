"""A frame of straight bars in space, solved for small displacements by the stiffness method.

Units N, mm, N/mm2, radians. Each node has three displacements and three turns. A bar is the ordinary one of beam
theory (no shear deformation): see any text on matrix analysis of structures.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy

FREE = 6
"""Ways in which a node can move."""

Spot = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Section:
    """A bar's section: area mm2, second moments about its own y and z axes and torsion constant, mm4."""

    area: float
    about_y: float
    about_z: float
    torsion: float


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar from node `start` to node `end`; `up` tells where its own z axis leans. Its own y lies square to both."""

    start: str
    end: str
    section: Section
    stiffness: float
    shear: float
    up: Spot = (0.0, 0.0, 1.0)


@dataclass(frozen=True, slots=True)
class Tie:
    """Two nodes that move alike in the named ways ("x", "y", "z", "rx", "ry", "rz")."""

    one: str
    other: str
    ways: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Spring:
    """Two nodes that resist turning apart in the named ways: N mm for each radian, in each."""

    one: str
    other: str
    ways: tuple[str, ...]
    stiffness: float


WAYS = ("x", "y", "z", "rx", "ry", "rz")


@dataclass(slots=True)
class Frame:
    """Nodes by name, bars, ties, springs and supports (a node and the ways in which it is held)."""

    nodes: dict[str, Spot] = field(default_factory=dict)
    bars: dict[str, Bar] = field(default_factory=dict)
    ties: list[Tie] = field(default_factory=list)
    springs: list[Spring] = field(default_factory=list)
    supports: dict[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Forces:
    """Forces in a bar at its start and end in its own axes, as the nodes act on it: N and N mm, in the order of
    `WAYS`."""

    start: tuple[float, ...]
    end: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Solved:
    """How every node moves, in the order of `WAYS`, and the forces in every bar."""

    moves: Mapping[str, tuple[float, ...]]
    forces: Mapping[str, Forces]


def solve(frame: Frame, cases: Sequence[Mapping[str, Sequence[float]]]) -> tuple[Solved, ...]:
    """The frame under each of `cases`: loads at nodes, in the order of `WAYS`.

    Ways that are tied are one way, and those that are supported none, so what is solved is small.

    Raises: ValueError where the frame can move without any force.
    """
    import numpy

    at = {name: FREE * number for number, name in enumerate(frame.nodes)}
    size = FREE * len(at)
    whole, acts = numpy.zeros((size, size)), numpy.zeros((size, len(cases)))
    pieces: dict[str, tuple[Any, Any, list[int]]] = {}
    for name, bar in frame.bars.items():
        turn, own = _turn(frame.nodes[bar.start], frame.nodes[bar.end], bar.up), _own(frame, bar)
        places = [at[node] + way for node in (bar.start, bar.end) for way in range(FREE)]
        whole[numpy.ix_(places, places)] += turn.T @ own @ turn
        pieces[name] = (turn, own, places)
    for spring in frame.springs:
        for way in map(WAYS.index, spring.ways):
            pair = [at[spring.one] + way, at[spring.other] + way]
            whole[numpy.ix_(pair, pair)] += spring.stiffness * numpy.array([[1.0, -1.0], [-1.0, 1.0]])
    for number, case in enumerate(cases):
        for node, forces in case.items():
            acts[at[node] : at[node] + FREE, number] += forces
    moved = _moved(whole, _free(frame, at, size), acts)
    found = {name: own @ turn @ moved[places] for name, (turn, own, places) in pieces.items()}
    return tuple(
        Solved(
            {name: _numbers(moved[first : first + FREE, number]) for name, first in at.items()},
            {name: Forces(_numbers(f[:FREE, number]), _numbers(f[FREE:, number])) for name, f in found.items()},
        )
        for number in range(len(cases))
    )


def _numbers(values: numpy.ndarray) -> tuple[float, ...]:
    return tuple(map(float, values))


def _moved(whole: numpy.ndarray, free: Sequence[int], acts: numpy.ndarray) -> numpy.ndarray:
    """How everything moves; `free` is for each way that of all free ones with which it goes, -1 where it is held."""
    import numpy

    together = numpy.zeros((len(free), max(free, default=-1) + 1))
    for place, one in enumerate(free):
        if one >= 0:
            together[place, one] = 1.0
    scale = float(numpy.abs(whole).max())
    try:
        found = numpy.linalg.solve(together.T @ (whole / scale) @ together, together.T @ (acts / scale))
    except numpy.linalg.LinAlgError:
        raise ValueError("the frame can move without any force") from None
    result: numpy.ndarray = together @ found
    return result


def _free(frame: Frame, at: Mapping[str, int], size: int) -> list[int]:
    """The number of the free way with which each goes: tied ones go together, and with a support none goes."""
    ground = size
    leads = list(range(size + 1))

    def lead(place: int) -> int:
        while leads[place] != place:
            leads[place] = place = leads[leads[place]]
        return place

    for node, ways in frame.supports.items():
        for way in ways:
            leads[lead(at[node] + WAYS.index(way))] = lead(ground)
    for tie in frame.ties:
        for way in tie.ways:
            leads[lead(at[tie.one] + WAYS.index(way))] = lead(at[tie.other] + WAYS.index(way))
    numbers = {lead(ground): -1}
    for place in range(size):
        numbers.setdefault(lead(place), len(numbers) - 1)
    return [numbers[lead(place)] for place in range(size)]


def _own(frame: Frame, bar: Bar) -> numpy.ndarray:
    """The bar's stiffness in its own axes, x along it."""
    import numpy

    length = sum((b - a) ** 2 for a, b in zip(frame.nodes[bar.start], frame.nodes[bar.end], strict=True)) ** 0.5
    e, g, s = bar.stiffness, bar.shear, bar.section
    k = numpy.zeros((12, 12))
    for first, value in ((0, e * s.area / length), (3, g * s.torsion / length)):
        k[first, first] = k[first + 6, first + 6] = value
        k[first, first + 6] = k[first + 6, first] = -value
    for shift, turn, second, sign in ((1, 5, s.about_z, 1.0), (2, 4, s.about_y, -1.0)):
        a, b, c = 12 * e * second / length**3, sign * 6 * e * second / length**2, e * second / length
        places = [shift, turn, shift + 6, turn + 6]
        k[numpy.ix_(places, places)] += numpy.array(
            [[a, b, -a, b], [b, 4 * c, -b, 2 * c], [-a, -b, a, -b], [b, 2 * c, -b, 4 * c]]
        )
    return k


def _turn(start: Spot, end: Spot, up: Spot) -> numpy.ndarray:
    """From the frame's axes to the bar's own, for both of its ends."""
    import numpy

    along = numpy.subtract(end, start)
    along = along / numpy.linalg.norm(along)
    side = numpy.cross(up, along)
    side = side / numpy.linalg.norm(side)
    axes = numpy.array([along, side, numpy.cross(along, side)])
    return numpy.kron(numpy.eye(4), axes)
