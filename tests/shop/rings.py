"""Random half-cut rings, and a reference for the least gap: linear programmes over the pieces' own positions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import cos, hypot, pi, radians, sin, tan
from random import Random

from templategen.shop.refit.close import Reach
from templategen.shop.refit.piece import RingPiece

REACH = Reach(radians(1), 5.0)


def half_cut(rng: Random, worst: float = 1.0) -> list[RingPiece]:
    """A ring of which about half is cut, with errors up to a few times a bad shop's; sometimes all of it is."""
    count = rng.choice((6, 8, 12, 16, 18, 24))
    mitre, width = pi / count, rng.uniform(80, 150)
    length = 2 * rng.uniform(350, 700) * tan(mitre)
    share = rng.choice((0.5, 0.5, 0.5, 0.9, 1.0))
    angle, size = radians(rng.choice((0.1, 0.5, 1.0))) * worst, rng.choice((0.3, 1.0)) * worst
    pieces = []
    for _ in range(count):
        drawn = RingPiece(length, mitre, mitre, width)
        if rng.random() < share:
            drawn = RingPiece(
                length + rng.gauss(0, size), mitre + rng.gauss(0, angle), mitre + rng.gauss(0, angle),
                width + rng.gauss(0, 0.3), cut=True,
            )  # fmt: skip
        pieces.append(drawn)
    return pieces


def corners(pose: Sequence[float], shape: Sequence[float], width: float) -> list[tuple[float, float]]:
    """Inner right, inner left, outer left, outer right of a piece whose inner edge's middle is (x, y) and runs in
    direction a; shape is length, left, right."""
    x, y, a = pose
    length, left, right = shape
    c, s = cos(a), sin(a)
    flat = (
        (-length / 2, 0.0),
        (length / 2, 0.0),
        (length / 2 + width * tan(left), -width),
        (-length / 2 - width * tan(right), -width),
    )
    return [(x + c * u - s * v, y + s * u + c * v) for u, v in flat]


def gaps(one: list[tuple[float, float]], other: list[tuple[float, float]]) -> tuple[float, float]:
    """How far the next piece's right face stands off the line of this one's left face, at both ends of what faces."""
    (x0, y0), (x1, y1) = one[1], one[2]
    length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    nx, ny = -(y1 - y0) / length, (x1 - x0) / length
    inner = (other[0][0] - x0) * nx + (other[0][1] - y0) * ny
    outer = (other[3][0] - x0) * nx + (other[3][1] - y0) * ny
    own = hypot(other[3][0] - other[0][0], other[3][1] - other[0][1])
    return inner, inner + (outer - inner) * min(1.0, length / own)


def least_gap(pieces: Sequence[RingPiece], reach: Reach) -> float:
    """The least widest gap over all positions of all pieces and all shapes of those still to cut.

    No faces may overlap, pieces may slide along their joints. The gaps are straightened at the best found so far and
    a linear programme solved for all moves at once, until nothing moves.
    """
    import numpy as np
    from scipy.optimize import linprog

    count = len(pieces)
    mitre = pi / count
    apothem = sum(p.length for p in pieces) / count / 2 / tan(mitre)
    state = np.zeros((count, 6))
    for i, piece in enumerate(pieces):
        way = 2 * pi * i / count
        state[i] = (apothem * cos(way), apothem * sin(way), way + pi / 2, piece.length, piece.left, piece.right)
    drawn = state.copy()
    most = np.array([[0, 0, 0, *((0, 0, 0) if p.cut else (reach.length, reach.angle, reach.angle))] for p in pieces])
    step = np.array([50.0, 50.0, 0.05, 50.0, 0.05, 0.05])
    best = float("inf")
    for _ in range(12):
        rows, bounds_of = [], []
        for i in range(count):
            j = (i + 1) % count
            here = _gaps_at(pieces, state, i, j)
            slope = np.zeros((2, count, 6))
            for k in (i, j):
                for v in range(6):
                    moved = state.copy()
                    moved[k, v] += 1e-6
                    slope[:, k, v] += (np.array(_gaps_at(pieces, moved, i, j)) - here) / 1e-6
            for end in (0, 1):
                row = slope[end].ravel()
                rows += [np.append(row, -1.0), np.append(-row, 0.0)]
                bounds_of += [-here[end], here[end]]
        low = np.maximum(-step, drawn - most - state)
        high = np.minimum(step, drawn + most - state)
        low[:, :3], high[:, :3] = -step[:3], step[:3]
        low[0, :3] = high[0, :3] = 0
        limits = [*zip(low.ravel(), high.ravel(), strict=True), (0, None)]
        cost = np.append(np.zeros(count * 6), 1.0)
        found = linprog(cost, A_ub=np.array(rows), b_ub=np.array(bounds_of), bounds=limits, method="highs")
        assert found.success, found.message
        state = state + found.x[:-1].reshape(count, 6)
        if abs(found.x[-1] - best) < 1e-7:
            break
        best = float(found.x[-1])
    return best


def _gaps_at(pieces: Sequence[RingPiece], state: object, i: int, j: int) -> tuple[float, float]:
    a, b = (corners(state[k][:3], state[k][3:], pieces[k].width) for k in (i, j))  # type: ignore[index]
    return gaps(a, b)


def recut_as_drawn(pieces: Sequence[RingPiece], drawn: RingPiece) -> list[RingPiece]:
    """All pieces as drawn, cut or not."""
    return [replace(drawn, cut=piece.cut) for piece in pieces]
