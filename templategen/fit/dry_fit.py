"""The dry fit: every close pair of copies tested as solids, every joint's contact measured."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, pi, sin
from typing import TYPE_CHECKING

from templategen.fit.solid import part_solid, placed_solid
from templategen.joinery.joint import Joint
from templategen.table.assembly import Table
from templategen.table.placed import Placed

if TYPE_CHECKING:
    from manifold3d import Manifold

SHARED = 0.01
"""Volume that two parts may share for the chords of arcs and the arithmetic, mm3."""

NUDGE = 0.001
"""How far a part is pushed into its mate to measure where they touch, mm."""

NEAR = 0.05
"""Parts that no joint ties come no nearer than this, mm."""

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Clash:
    """Two kinds of part that share wood where they stand; `volume` mm3 in the worst of `places` such pairs."""

    parts: tuple[str, str]
    volume: float
    places: int
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Contact:
    """A joint as measured in solids: `area` mm2 where its faces meet once its clearance is taken up, against
    what its definition says."""

    joint: Joint
    area: float


@dataclass(frozen=True, slots=True)
class DryFit:
    """What the solids say: clashes, touches where no joint is, and every joint's contact in the table's order."""

    clashes: tuple[Clash, ...]
    touches: tuple[Clash, ...]
    contacts: tuple[Contact, ...]


def dry_fit(table: Table) -> DryFit:
    """Every copy in place; pairs that stand alike to each other are tested once."""
    bench = _Bench(table)
    clashes, touches = bench.pairs()
    return DryFit(clashes, touches, tuple(bench.contacts()))


class _Bench:
    """The solids of a table and what is already known of pairs that stand alike."""

    def __init__(self, table: Table) -> None:
        self.table = table
        self.solids: dict[str, Manifold] = {part.code: part_solid(part) for part in table.parts}
        self.bodies = [placed_solid(self.solids[spot.code], spot) for spot in table.placed]
        self.boxes = [body.bounding_box() for body in self.bodies]
        self.joints = {tuple(sorted(joint.placed)): joint for joint in table.joints}

    def pairs(self) -> tuple[tuple[Clash, ...], tuple[Clash, ...]]:
        """Clashes, then touches where no joint is."""
        shared: dict[object, float] = {}
        near: dict[object, bool] = {}
        clashes: dict[tuple[str, str, str], list[float]] = {}
        touches: dict[tuple[str, str, str], list[float]] = {}
        for i, j in self._close():
            key = _relation(self.table.placed[i], self.table.placed[j])
            joint = self.joints.get((i, j))
            name = (self.table.placed[i].code, self.table.placed[j].code, joint.kind if joint else "")
            if key not in shared:
                shared[key] = (self.bodies[i] ^ self.bodies[j]).volume()
            if shared[key] > SHARED:
                clashes.setdefault(name, []).append(shared[key])
            elif joint is None:
                if key not in near:
                    near[key] = self.bodies[i].min_gap(self.bodies[j], 2 * NEAR) < NEAR
                if near[key]:
                    touches.setdefault(name, []).append(0.0)
        return _clashes(clashes), _clashes(touches)

    def _close(self) -> Iterator[tuple[int, int]]:
        boxes = self.boxes
        for i, one in enumerate(boxes):
            for j in range(i + 1, len(boxes)):
                other = boxes[j]
                if all(one[k] <= other[k + 3] + NEAR and other[k] <= one[k + 3] + NEAR for k in range(3)):
                    yield i, j

    def contacts(self) -> Iterator[Contact]:
        """The area over which each joint's faces meet."""
        known: dict[object, float] = {}
        for joint in self.table.joints:
            first, second = joint.placed
            key = (joint.kind, _relation(self.table.placed[first], self.table.placed[second]))
            if key not in known:
                pushes = _pushes(self.table, joint)
                known[key] = sum(self._pushed(first, second, push) for push in pushes) / NUDGE
            yield Contact(joint, known[key])

    def _pushed(self, fixed: int, moved: int, push: Vector) -> float:
        spot = self.table.placed[moved]
        body = placed_solid(self.solids[spot.code], spot, push)
        return float((self.bodies[fixed] ^ body).volume())


def _clashes(found: dict[tuple[str, str, str], list[float]]) -> tuple[Clash, ...]:
    return tuple(
        Clash((one, other), max(sizes), len(sizes), kind) for (one, other, kind), sizes in sorted(found.items())
    )


def _relation(one: Placed, other: Placed) -> object:
    """How `other` stands seen from `one`: equal for pairs that stand alike, to a millionth."""
    away = tuple(b - a for a, b in zip(one.at, other.at, strict=True))
    turned = [away, *other.axes]
    seen = (
        round(sum(a * v for a, v in zip(axis, vector, strict=True)), 6) + 0.0
        for axis in one.axes
        for vector in turned
    )
    return one.code, other.code, tuple(seen)


def _pushes(table: Table, joint: Joint) -> tuple[Vector, ...]:
    """The ways to push the joint's second part until its faces meet the first's, one for each face."""
    by = joint.clearance / 2 + NUDGE
    if joint.kind in ("tongue-and-groove", "rail-tenon", "spline"):
        return (0.0, 0.0, by), (0.0, 0.0, -by)
    if joint.kind in ("half-lap", "three-way-lap"):
        return ((0.0, 0.0, -NUDGE),)
    if joint.kind == "foot":
        return ((0.0, 0.0, NUDGE),)
    if joint.kind == "mitre":
        angle = (2 * joint.placed[0] + 1) * table.sizes.mitre - pi / 2
        return ((NUDGE * cos(angle), NUDGE * sin(angle), 0.0),)
    arm = table.placed[joint.placed[1]].turn + pi / 2
    along, across = (cos(arm), sin(arm), table.sizes.clearances.tenon / 2 + NUDGE), (-sin(arm), cos(arm), by)
    return tuple((sign * far * x, sign * far * y, 0.0) for x, y, far in (along, across) for sign in (1, -1))
