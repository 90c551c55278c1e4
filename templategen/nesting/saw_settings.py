"""Where fence or stop stands for each cut of a board: found by sawing the board once more, cut by cut."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from templategen.geometry.point import Point
from templategen.nesting.cutting_order import SLIP, Shape, beyond
from templategen.nesting.stock import Cut, Piece

Edge = Literal["lower edge", "upper edge"]
End = Literal["left end", "right end"]


@dataclass(frozen=True, slots=True)
class SawSetting:
    """How the piece in hand is held, as it lies in the picture of its board: which `edge` lies at the fence ("" at a
    crosscut, where both are square), which `end` is at the stop ("" at a rip). `distance` is that of fence or stop
    from the near side of the kerf, mm; a stop's is measured along the fence, from the end's furthest point."""

    distance: float
    edge: Edge | Literal[""] = ""
    end: End | Literal[""] = ""


def saw_settings(piece: Piece, cuts: Sequence[Cut], kerf: float) -> tuple[SawSetting, ...]:
    """One for each of the cuts that `cutting_order` gave for a board, in their order."""
    across, up = piece.length, piece.width
    wood: list[Shape] = [(Point(0, 0), Point(across, 0), Point(across, up), Point(0, up))]
    found = []
    for cut in cuts:
        held = max(wood, key=lambda shape: _depth(shape, cut.through))
        out = _outwards(cut)
        face = cut.start.dot(out) - kerf / 2
        near, far = beyond(held, out, face), beyond(held, out.times(-1), -(face + kerf))
        wood.remove(held)
        wood += [half for half in (near, far) if len(half) > 2]
        found.append(_setting(cut, near, out, face))
    return tuple(found)


def _depth(shape: Shape, at: Point) -> float:
    """How far a point lies inside a convex piece: less than nothing outside it."""
    sides = zip(shape, (*shape[1:], shape[0]), strict=True)
    return min((b.minus(a).unit.cross(at.minus(a)) for a, b in sides if a.distance(b) > SLIP), default=-1e9)


def _outwards(cut: Cut) -> Point:
    """Square to the cut, away from the part that it leaves on the near side."""
    out = cut.end.minus(cut.start).unit.left
    return out if cut.start.minus(cut.through).dot(out) > 0 else out.times(-1)


def _setting(cut: Cut, near: Shape, out: Point, face: float) -> SawSetting:
    if cut.kind == "rip":
        return SawSetting(face - min(corner.dot(out) for corner in near), "lower edge" if out.y > 0 else "upper edge")
    side = 1.0 if out.x > 0 else -1.0
    end: End = "left end" if side > 0 else "right end"
    furthest = min(corner.x * side for corner in near)
    if cut.kind == "crosscut":
        return SawSetting(face - furthest, "", end)
    met = [one for one in _edges(near) if any(abs(corner.dot(out) - face) < SLIP for corner in one[1])]
    edge, lying = max(met or _edges(near), key=lambda one: max(_along(one[1])) - min(_along(one[1])))
    foot = (face - out.y * lying[0].y) / out.x
    return SawSetting(foot * side - furthest, edge, end)


def _along(corners: Sequence[Point]) -> list[float]:
    return [corner.x for corner in corners]


def _edges(shape: Shape) -> list[tuple[Edge, list[Point]]]:
    """The lower and the upper edge of a piece, each with its corners."""
    low, high = min(corner.y for corner in shape), max(corner.y for corner in shape)
    return [
        ("lower edge", [corner for corner in shape if corner.y < low + SLIP]),
        ("upper edge", [corner for corner in shape if corner.y > high - SLIP]),
    ]
