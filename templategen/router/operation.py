"""Operations: what one bit does on one face, and what it leaves in corners."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import pi
from typing import TYPE_CHECKING, Any, Literal

from templategen.geometry.corner import corner_turn
from templategen.geometry.fillet import spandrel
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.geometry.refine import fine_polyline
from templategen.geometry.relief_holes import relief_holes
from templategen.geometry.tolerance import ON_EDGE
from templategen.parts.feature import Feature
from templategen.parts.kinds import FeatureKind
from templategen.parts.part import Part
from templategen.router.bits import Bit
from templategen.router.pockets import run_out
from templategen.table.edges import IN_THE_RING

if TYPE_CHECKING:
    from shapely import Polygon

Task = Literal["pocket", "inside", "outside", "pin-hole", "corner-relief"]
"""Clear all inside the line to a floor; cut right through with the bit inside it, or outside it; a hole for a pin; a
corner cleared past its lines, the bit down or along the middle."""

MOUTHS = (1.0, 1.5, 2.0, 3.0)
"""How many radii an open side is moved out, the least that clears it."""

CREVICE = 0.003
"""What is smaller isn't worth a chisel, mm2."""

NEAR = 0.003
"""What is thinner than twice this isn't either, mm; the proof lets more pass."""

FINE = 1e-3
"""How far chords of curves lie off, mm."""

ROUND = 64
"""Chords to a quarter of a circle."""


@dataclass(frozen=True, slots=True)
class Operation:
    """What one bit does along one outline, to one depth under the face. `kind` is the feature's, of a pocket; `left`
    is what the round bit leaves in corners, to be squared by hand."""

    task: Task
    outline: Outline
    depth: float
    bit: Bit
    kind: FeatureKind | None = None
    left: tuple[Outline, ...] = ()

    @property
    def passes(self) -> int:
        """How many times it goes round, each time deeper by as much."""
        return self.bit.passes(self.depth)

    def placed(self, way: Placement) -> Operation:
        """The same elsewhere; the placement must not turn it over."""
        return replace(self, outline=way.outline(self.outline), left=tuple(way.outline(one) for one in self.left))


@dataclass(frozen=True, slots=True)
class FaceWork:
    """What a machine does from one face, in its frame, in order; `missed` are the features that no bit reaches."""

    operations: tuple[Operation, ...]
    missed: tuple[Feature, ...] = ()


def face_work(part: Part, face: str, bits: Sequence[Bit]) -> FaceWork:
    """Pockets of one face: those of one kind and depth with one bit, the first that reaches and enters them all."""
    wood = part.face(face).outline
    pockets = [
        feature
        for feature in part.features_on(face)
        if feature.traits.is_pocket and feature.operation not in IN_THE_RING
    ]
    groups: dict[tuple[FeatureKind, float], list[Feature]] = {}
    for feature in pockets:
        groups.setdefault((feature.kind, round(feature.depth, 6)), []).append(feature)
    done: list[Operation] = []
    missed: list[Feature] = []
    for alike in groups.values():
        tries = (_with(bit, alike, pockets, wood) for bit in bits if bit.reaches(alike[0].depth))
        found = next((one for one in tries if one is not None), None)
        done += found or ()
        missed += alike if found is None else ()
    return FaceWork(tuple(sorted(done, key=lambda one: bits.index(one.bit))), tuple(missed))


def _with(
    bit: Bit, alike: Sequence[Feature], pockets: Sequence[Feature], wood: Outline
) -> tuple[Operation, ...] | None:
    """Like features with one bit; None where it doesn't enter one of them."""
    made = []
    for feature in alike:
        one = _pocket(bit, feature, pockets, wood)
        if one is None:
            return None
        made.append(one)
    return tuple(made)


def _pocket(bit: Bit, feature: Feature, pockets: Sequence[Feature], wood: Outline) -> Operation | None:
    """One pocket, run out of the wood as far as the bit needs to clear it: a narrow mouth asks for more."""
    deeper = tuple(other.outline for other in pockets if other.depth > feature.depth)
    for share in MOUTHS:
        ring = run_out(feature, pockets, wood, bit.radius * share)
        left = left_by(bit, ring, False, wood, deeper)
        if left is not None:
            return Operation("pocket", ring, feature.depth, bit, feature.kind, left)
    return None


def through(task: Task, ring: Outline, depth: float, bits: Sequence[Bit]) -> Operation | None:
    """A cut right through with the first bit that reaches and gets round; None where none does."""
    for bit in bits:
        left = left_by(bit, ring, outside=task == "outside") if bit.reaches(depth) else None
        if left is not None:
            return Operation(task, ring, depth, bit, None, left)
    return None


def relieved(one: Operation, kind: str) -> Iterator[Operation]:
    """The operation and after it the reliefs that clear its corners, of the `kind` asked: none, corner or edge."""
    void = "outside" if one.task == "outside" else "inside"
    found = relief_holes(one.outline, one.bit.radius, kind, void) if kind != "none" and one.left else ()
    kept, holes = list(one.left), []
    for hole in found:
        there = next((left for left in kept if any(hole.corner.distance(v.point) < ON_EDGE for v in left)), None)
        if there is not None:
            kept.remove(there)
            holes.append(Operation("corner-relief", hole.outline, one.depth, one.bit))
    yield replace(one, left=tuple(kept))
    yield from holes


def left_by(
    bit: Bit, ring: Outline, outside: bool = False, wood: Outline | None = None, deeper: Sequence[Outline] = ()
) -> tuple[Outline, ...] | None:
    """What a bit leaves in the corners of an outline that it is led round inside, or outside; of a pocket in `wood`
    only what stands there and not in pockets that are `deeper`. None where it leaves more than corners: it is too
    wide to enter, or wider than a bend."""
    rest = _left(bit.radius, ring, outside, wood, deeper)
    if not rest:
        return ()
    walk, side = ring.anticlockwise, -1.0 if outside else 1.0
    turns = (corner_turn(walk.edges[corner - 1], edge) * side for corner, edge in enumerate(walk.edges))
    sharp = (corner for corner, turn in enumerate(turns) if 0 < turn < pi - ON_EDGE)
    told = [found for corner in sharp if (found := spandrel(walk, corner, bit.radius)) is not None]
    kept: dict[int, Outline] = {}
    for piece in rest:
        place = next((i for i, one in enumerate(told) if _flat(one).buffer(3 * NEAR).covers(piece)), None)
        if place is None:
            return None
        kept[place] = told[place]
    return tuple(kept.values())


def _left(radius: float, ring: Outline, outside: bool, wood: Outline | None, deeper: Sequence[Outline]) -> list[Any]:
    """The pieces of wood that a bit led round leaves standing."""
    whole = _flat(ring)
    if outside:
        rest = whole.buffer(radius, ROUND).buffer(-radius, ROUND).difference(whole)
    else:
        rest = whole.difference(whole.buffer(NEAR - radius, ROUND).buffer(radius, ROUND))
    if wood is not None:
        rest = rest.intersection(_flat(wood))
    for other in deeper:
        rest = rest.difference(_flat(other))
    solid = rest.buffer(-NEAR).buffer(NEAR)
    return [piece for piece in getattr(solid, "geoms", [solid]) if piece.area > CREVICE]


def _flat(ring: Outline) -> Polygon:
    """The outline in steps fine enough to measure by."""
    from shapely import Polygon

    return Polygon(fine_polyline(ring, FINE))
