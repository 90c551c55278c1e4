"""Clipping: what of an outline lies on one side of a line or circle. Arcs stay true arcs."""

from collections.abc import Iterable, Sequence
from math import inf

from templategen.errors import Fault, GeometryError
from templategen.geometry.cutter import Cutter, Disc, HalfPlane
from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline, circle
from templategen.geometry.point import Point, Vertex
from templategen.geometry.tolerance import COINCIDENT, SHORTEST_EDGE


def clip_half_plane(outline: Outline, point: Point, inward: Point) -> tuple[Outline, ...]:
    """What of `outline` lies to the side of `point` to which the vector `inward` looks.

    Pieces are walked as the outline was. An outline that isn't cut comes back as it is.

    Raises:
        GeometryError: `inward` has no length, or the outline crosses itself.
    """
    return keep_side(outline, half_plane(point, inward))


def half_plane(point: Point, inward: Point) -> HalfPlane:
    """The half-plane through `point` to the side of the vector `inward`, of any length.

    Raises:
        GeometryError: `inward` has no length.
    """
    if not 0 < inward.length < inf:
        raise GeometryError(Fault("clip", f"direction {tuple(inward)} doesn't say which side to keep"))
    return HalfPlane(point, inward.unit)


def clip_disc(outline: Outline, centre: Point, radius: float, keep: str = "inside") -> tuple[Outline, ...]:
    """What of `outline` lies inside the circle, or outside it when `keep` is "outside".

    Raises:
        GeometryError: no radius, an outline that crosses itself, or a disc to be taken out that
            lies wholly inside the outline: that is a hole, which a single outline can't hold.
    """
    if keep not in ("inside", "outside") or not 0 < radius < inf:
        raise GeometryError(Fault("clip", f"can't keep the {keep} of a circle of radius {radius}"))
    return keep_side(outline, Disc(centre, radius, keep == "inside"))


def keep_side(outline: Outline, cutter: Cutter) -> tuple[Outline, ...]:
    """What of `outline` lies on the kept side of `cutter`."""
    if isinstance(cutter, HalfPlane):
        quick = _quick(outline, cutter)
        if quick is not None:
            return quick
    if outline.is_anticlockwise:
        return _keep(outline, cutter)
    return tuple(piece.reversed for piece in _keep(outline.reversed, cutter))


def convex_clip(points: Sequence[Point], half_planes: Iterable[HalfPlane]) -> tuple[Point, ...]:
    """The corners left of a convex ring of lines inside all `half_planes`; empty when nothing is."""
    ring = tuple(points)
    for side in half_planes:
        depths = [side.depth(point) for point in ring]
        if max(depths) <= COINCIDENT:
            return ()
        if min(depths) < -COINCIDENT:
            ring = _one_run(ring, depths)
        if len(ring) < 3:
            return ()
    return ring


def _quick(outline: Outline, cutter: HalfPlane) -> tuple[Outline, ...] | None:
    """The answer where it can be had without walking the curve: not cut, or lines cut once."""
    if any(vertex.bulge for vertex in outline.vertices):
        return _by_box(outline, cutter)
    points = outline.points
    depths = [cutter.depth(point) for point in points]
    if max(depths) <= COINCIDENT:
        return ()
    if min(depths) >= -COINCIDENT:
        return (outline,)
    exits = sum(depths[i - 1] > COINCIDENT >= depths[i] for i in range(len(depths)))
    if exits != 1:
        return None
    return whole_outline(tuple(Vertex(*point) for point in _one_run(points, depths)))


def _by_box(outline: Outline, cutter: HalfPlane) -> tuple[Outline, ...] | None:
    box = outline.bounds
    depths = [cutter.depth(Point(x, y)) for x in (box.left, box.right) for y in (box.bottom, box.top)]
    if min(depths) >= 0:
        return (outline,)
    return () if max(depths) <= 0 else None


def _one_run(points: Sequence[Point], depths: Sequence[float]) -> tuple[Point, ...]:
    """The ring left when the kept corners follow one another: those, and the two cuts that close it."""
    count = len(points)
    first = next(i for i in range(count) if depths[i] > COINCIDENT >= depths[i - 1])
    ring = [_cut(points, depths, first, first - 1)]
    last = first
    while depths[last % count] > COINCIDENT:
        ring.append(points[last % count])
        last += 1
    ring.append(_cut(points, depths, (last - 1) % count, last % count))
    return tuple(p for i, p in enumerate(ring) if p.distance(ring[i - 1]) > SHORTEST_EDGE)


def _cut(points: Sequence[Point], depths: Sequence[float], kept: int, lost: int) -> Point:
    """Where the side between a kept and a lost corner is cut; a corner on the line stands for the cut."""
    if depths[lost] >= -COINCIDENT:
        return points[lost]
    share = depths[kept] / (depths[kept] - depths[lost])
    return points[kept].plus(points[lost].minus(points[kept]), share)


def _keep(outline: Outline, cutter: Cutter) -> tuple[Outline, ...]:
    """`keep_side` of an anticlockwise outline: the kept runs of edges, joined along the cutter."""
    pieces = [piece for edge in outline.edges for piece in _pieces(edge, cutter)]
    sides = [_side(piece, cutter) for piece in pieces]
    if all(side > 0 for side in sides):
        return _untouched(outline, cutter)
    if all(side <= 0 for side in sides):
        return _swallowed(outline, cutter)
    return _joined(_runs(pieces, sides), cutter)


def _pieces(edge: Edge, cutter: Cutter) -> tuple[Edge, ...]:
    """The edge cut wherever it crosses the cutter."""
    shares = cutter.crossings(edge)
    if not shares:
        return (edge,)
    stops = (0.0, *shares, 1.0)
    return tuple(edge.between(stops[i], stops[i + 1]) for i in range(len(stops) - 1))


def _side(piece: Edge, cutter: Cutter) -> int:
    """1 on the kept side, -1 on the other, 0 along the cutter itself."""
    depth = max((cutter.depth(piece.point_at(share)) for share in (0.0, 0.5, 1.0)), key=abs)
    return 0 if abs(depth) <= COINCIDENT else 1 if depth > 0 else -1


def _untouched(outline: Outline, cutter: Cutter) -> tuple[Outline, ...]:
    if isinstance(cutter, Disc) and not cutter.inside and outline.contains(cutter.centre):
        found = f"the disc of radius {cutter.radius:g} lies wholly inside, so it leaves a hole"
        raise GeometryError(Fault("clip", found, "make it a hole of a region"))
    return (outline,)


def _swallowed(outline: Outline, cutter: Cutter) -> tuple[Outline, ...]:
    """No edge is kept: what is left is nothing, or a disc that lies inside the outline."""
    if isinstance(cutter, Disc) and cutter.inside and outline.contains(cutter.centre):
        return (circle(*cutter.centre, cutter.radius),)
    return ()


def _runs(pieces: Sequence[Edge], sides: Sequence[int]) -> list[list[Edge]]:
    """The kept pieces, one list for each unbroken run; the run over the ring's start is one."""
    count = len(pieces)
    first = next(i for i in range(count) if sides[i] > 0 >= sides[i - 1])
    runs: list[list[Edge]] = []
    for step in range(first, first + count):
        if sides[step % count] <= 0:
            continue
        if sides[step % count - 1] <= 0:
            runs.append([])
        runs[-1].append(pieces[step % count])
    return runs


def _joined(runs: list[list[Edge]], cutter: Cutter) -> tuple[Outline, ...]:
    """Closes each run with the nearest run ahead along the cutter, until all are used."""
    rings: list[Outline] = []
    left = list(runs)
    while left:
        opening = left[0]
        ring: list[Edge] = []
        run = opening
        while True:
            left.remove(run)
            ring += run
            end = run[-1].end
            options = [*left, opening]
            run = min(options, key=lambda option: cutter.ahead(end, option[0].start))
            if cutter.ahead(end, run[0].start) == inf:
                raise GeometryError(Fault("clip", "the outline crosses itself"))
            ring += cutter.join(end, run[0].start)
            if run is opening:
                break
        rings += whole_outline(outline_vertices(ring))
    return tuple(rings)


def outline_vertices(ring: Sequence[Edge]) -> tuple[Vertex, ...]:
    """The vertices of a walk of edges, those shorter than SHORTEST_EDGE left out."""
    return tuple(Vertex(edge.start.x, edge.start.y, edge.bulge) for edge in ring if edge.length > SHORTEST_EDGE)


def whole_outline(vertices: tuple[Vertex, ...]) -> tuple[Outline, ...]:
    """The outline through `vertices`, or nothing where it would be a sliver thinner than SHORTEST_EDGE."""
    if len(vertices) < 2 or (len(vertices) == 2 and not any(v.bulge for v in vertices)):
        return ()
    outline = Outline(vertices)
    return (outline,) if abs(outline.area) > SHORTEST_EDGE * outline.length / 2 else ()
