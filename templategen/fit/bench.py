"""The bench: every copy as layers, and which of them can leave while others stand."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from templategen.fit.layers import placed_layers
from templategen.fit.way import DOWN, UP, Copy, Vector, in_the_way
from templategen.table.assembly import Table

TOP = ("spline", "rim-segment", "slat", "rail")
"""Kinds of the top, in the order in which they are tried when it is taken apart."""

GROUND = ("leg", "foot", "base-rail")
"""Kinds of the pedestal, likewise."""


@dataclass(frozen=True, slots=True)
class Move:
    """One copy leaving or coming along a straight way (a unit vector).

    `pace` is its speed among parts that move together.
    """

    index: int
    code: str
    way: Vector
    pace: float = 1.0

    @property
    def back(self) -> Move:
        """The same move the other way."""
        x, y, z = self.way
        return Move(self.index, self.code, (-x + 0.0, -y + 0.0, -z + 0.0), self.pace)


@dataclass(slots=True)
class Bench:
    """A table's copies; what is in whose way is worked out when first asked and kept."""

    table: Table
    copies: tuple[Copy, ...]
    far: float
    _known: dict[tuple[int, int, Vector], bool] = field(default_factory=dict)

    @staticmethod
    def of(table: Table) -> Bench:
        """The bench of a table; a part that leaves goes right across it."""
        parts = {part.code: part for part in table.parts}
        copies = tuple(
            Copy(index, spot.code, parts[spot.code].kind, placed_layers(parts[spot.code], spot))
            for index, spot in enumerate(table.placed)
        )
        return Bench(table, copies, 4 * table.sizes.outer_apothem)

    def of_kinds(self, kinds: Sequence[str]) -> tuple[Copy, ...]:
        """The copies of those kinds."""
        return tuple(copy for copy in self.copies if copy.kind in kinds)

    def blocks(self, moved: Copy, fixed: Copy, way: Vector) -> bool:
        """Whether `fixed` is in the way of `moved`."""
        key = (moved.index, fixed.index, way)
        if key not in self._known:
            self._known[key] = in_the_way(moved, fixed, way, self.far)
        return self._known[key]

    def ways(self, copy: Copy) -> tuple[Vector, ...]:
        """The ways in which a copy may leave, the likeliest first."""
        ax, ay, _ = self.table.placed[copy.index].axes
        if copy.kind == "rim-segment":
            return (_flat(ay),)
        if copy.kind == "spline":
            return _flat(ay), _flat(ax), _flat(ax, -1)
        if copy.kind == "slat":
            return _flat(ay), _flat(ax), _flat(ax, -1), _flat(ay, -1), UP, DOWN
        return (DOWN, UP) if copy.kind == "foot" else (UP, DOWN)

    def way_out(self, copy: Copy, others: Iterable[Copy]) -> Vector | None:
        """A way along which `copy` leaves while `others` stand, or None."""
        others = [other for other in others if other.index != copy.index]
        for way in self.ways(copy):
            if not any(self.blocks(copy, other, way) for other in others):
                return way
        return None

    def blockers(self, group: Iterable[Copy], others: Iterable[Copy], way: Vector) -> tuple[tuple[Copy, Copy], ...]:
        """Pairs in which one of `others` is in the way of one of `group` when all of it leaves together."""
        others = tuple(others)
        return tuple((one, other) for one in group for other in others if self.blocks(one, other, way))


def _flat(axis: Sequence[float], sign: float = 1.0) -> Vector:
    """A level way along an axis, rounded so that equal ways are equal."""
    return round(sign * axis[0], 12) + 0.0, round(sign * axis[1], 12) + 0.0, 0.0
