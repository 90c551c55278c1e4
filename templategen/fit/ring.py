"""How the ring closes on its cross: in two halves, or all its segments drawn in together."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, dist, hypot, pi

from templategen.fit.bench import Bench, Move
from templategen.fit.way import DOWN, Copy, Vector, level, opposite

OUT = 1e-9


@dataclass(frozen=True, slots=True)
class Halves:
    """Two half rings that leave along `way` and back: `first` along it, `second` against it."""

    first: tuple[Move, ...]
    second: tuple[Move, ...]


def in_two_halves(bench: Bench) -> Halves | None:
    """Two half rings that close on the cross along one line, or None.

    A half ring is put together beforehand, each segment drawn on to the next square to their joint.
    """
    table = bench.table
    half = table.sizes.segments // 2
    inside = bench.of_kinds(("slat", "rail"))
    for joint in range(half):
        way = level((2 * joint + 1) * table.sizes.mitre + pi / 2)
        first = _half(bench, joint + 1, half)
        second = [*_half(bench, joint + 1 + half, half), *_closing(bench, joint, half)]
        out, back = _rounded(way), _rounded((-way[0], -way[1], 0.0))
        if bench.blockers(first, (*inside, *second), out) or bench.blockers(second, inside, back):
            continue
        return Halves(
            tuple(Move(copy.index, copy.code, out) for copy in first),
            tuple(Move(copy.index, copy.code, back) for copy in second),
        )
    return None


def all_at_once(bench: Bench) -> tuple[Move, ...]:
    """The moves by which every segment and spline leaves at once, straight outwards, or none when that is blocked.

    Segments go out one unit and splines as far as their joint's middle goes, cos(pi/N); seen from each other
    neighbours then part square to their joint.
    """
    inside = bench.of_kinds(("slat", "rail"))
    ring = _ring(bench)
    velocity = {copy.index: _outwards(bench, copy) for copy in ring}
    for copy in ring:
        way, _ = _unit(velocity[copy.index])
        if any(bench.blocks(copy, other, way) for other in inside):
            return ()
    for i, one in enumerate(ring):
        for other in ring[i + 1 :]:
            apart = _minus(velocity[one.index], velocity[other.index])
            way, speed = _unit(apart)
            if speed > OUT and bench.blocks(one, other, way):
                return ()
    return tuple(Move(copy.index, copy.code, *_unit(velocity[copy.index])) for copy in ring)


def _ring(bench: Bench) -> tuple[Copy, ...]:
    return bench.of_kinds(("rim-segment", "spline"))


def _half(bench: Bench, start: int, count: int) -> list[Copy]:
    """`count` segments from `start` on and the splines between them."""
    segments = bench.of_kinds(("rim-segment",))
    splines = bench.of_kinds(("spline",))
    numbers = [(start + i) % len(segments) for i in range(count)]
    return [segments[i] for i in numbers] + [splines[i] for i in numbers[:-1] if splines]


def _closing(bench: Bench, joint: int, half: int) -> list[Copy]:
    """The splines of the two joints between the halves; they go with the second."""
    splines = bench.of_kinds(("spline",))
    return [splines[joint], splines[joint + half]] if splines else []


def _outwards(bench: Bench, copy: Copy) -> Vector:
    along = bench.table.placed[copy.index].axes[1]
    speed = cos(bench.table.sizes.mitre) if copy.kind == "spline" else 1.0
    return speed * along.x, speed * along.y, 0.0


def _minus(one: Vector, other: Vector) -> Vector:
    return one[0] - other[0], one[1] - other[1], 0.0


def _unit(vector: Vector) -> tuple[Vector, float]:
    size = hypot(vector[0], vector[1])
    return (_rounded((vector[0] / size, vector[1] / size, 0.0)) if size > OUT else (0.0, 0.0, 0.0)), size


def _rounded(way: Vector) -> Vector:
    return round(way[0], 12) + 0.0, round(way[1], 12) + 0.0, 0.0


def chained(bench: Bench, half: Sequence[Move]) -> tuple[Move, ...]:
    """The moves by which a half ring is put together off the cross, each segment with the spline before it drawn
    square on to the joint; none when that is blocked."""
    copies = [bench.copies[move.index] for move in half]
    segments = [copy for copy in copies if copy.kind == "rim-segment"]
    splines = [copy for copy in copies if copy.kind == "spline"]
    between, closing = splines[: len(segments) - 1], splines[len(segments) - 1 :]
    moves = [Move(segments[0].index, segments[0].code, DOWN)]
    stages = [
        ([segment, *between[number : number + 1]], _square_on(bench, segments[number], segment))
        for number, segment in enumerate(segments[1:])
    ]
    stages += [([spline], _into(bench, spline, segments)) for spline in closing]
    for added, way in stages:
        standing = [bench.copies[move.index] for move in moves]
        if bench.blockers(added, standing, opposite(way)):
            return ()
        moves += [Move(copy.index, copy.code, way) for copy in reversed(added)]
    return tuple(moves)


def _into(bench: Bench, spline: Copy, segments: Sequence[Copy]) -> Vector:
    """The way in which a spline at the end of a half ring goes into its segment's slot."""
    placed = bench.table.placed
    at, across = placed[spline.index].at, placed[spline.index].axes[0]
    near = min((segments[0], segments[-1]), key=lambda copy: dist(placed[copy.index].at[:2], at[:2]))
    towards = placed[near.index].axes[1]
    sign = 1.0 if towards.x * across.x + towards.y * across.y > 0 else -1.0
    return _unit((sign * across.x, sign * across.y, 0.0))[0]


def _square_on(bench: Bench, before: Copy, segment: Copy) -> Vector:
    """The way in which `segment` comes on to the one before it, square to their joint."""
    one, other = (bench.table.placed[copy.index].axes[1] for copy in (before, segment))
    return _unit((one.x - other.x, one.y - other.y, 0.0))[0]
