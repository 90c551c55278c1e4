"""The wood of the section through arm 0: what it cuts and what shows beyond, arrises eased, arcs true."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import product
from math import copysign, cos

from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.point import Point, Vertex
from templategen.geometry.rounded import QUARTER_BULGE
from templategen.parts.kinds import BEAD_ROUND
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.glides import glides_at
from templategen.table.placed import Placed
from templategen.table.sizes import Sizes

Corner = tuple[float, float, float, bool]
"""x and y of a corner, how much of both sides is taken off it, whether as a round."""


def wood_cut(table: Table) -> Iterator[Outline]:
    """What lies in the section: both rim segments, the rail between, legs, ground rail, pads."""
    sizes = table.sizes
    yield from rims_cut(sizes)
    yield rectangle(-sizes.inner_apothem, sizes.top_underside, sizes.inner_apothem, table.profile.top.height)
    for placed in _on_arm(table, "leg"):
        yield _side_on(table.part(placed.code), placed)
    yield from _ground_cut(sizes)


def rims_cut(sizes: Sizes) -> tuple[Outline, ...]:
    """The ring's two cross sections, the right one first."""
    top, edges = sizes.profile.top, sizes.profile.edges
    low, high = sizes.top_underside, top.height
    inner, outer = (edges.rim, edges.shape == "rounded"), (top.edge_round, True)
    a, out = sizes.inner_apothem, sizes.radius
    near, width, deep = top.drip_groove
    x, sharp = out - near, (0.0, False)
    notch = ((x - width, low), (x - width, low + deep), (x, low + deep), (x, low)) if deep else ()
    drip = ((*at, *sharp) for at in notch)
    right = eased_ring(((a, low, *inner), *drip, (out, low, *outer), (out, high, *outer), (a, high, *inner)))
    return right, _mirrored(right)


def _ground_cut(sizes: Sizes) -> Iterator[Outline]:
    """The rail of the ground cross that lies in the section, and its pads."""
    base, edges = sizes.profile.base, sizes.profile.edges
    half, floor, up = base.length / 2, sizes.glide_height, sizes.base_top
    foot = floor + base.foot_thickness
    eased, sharp = (edges.base, edges.shape == "rounded"), (0.0, False)
    inner = half - base.foot_length
    if base.feet == "relieved":
        yield eased_ring(
            ((-half, floor, *eased), (-inner, floor, *sharp), (-inner, foot, *sharp), (inner, foot, *sharp),
             (inner, floor, *sharp), (half, floor, *eased), (half, up, *eased), (-half, up, *eased))
        )  # fmt: skip
        return
    low = sizes.foot_height
    yield eased_ring(((-half, low, *sharp), (half, low, *sharp), (half, up, *eased), (-half, up, *eased)))
    pad = eased_ring(((inner, floor, *eased), (half, floor, *eased), (half, foot, *sharp), (inner, foot, *sharp)))
    yield from (_mirrored(pad), pad)


def glides_seen(sizes: Sizes) -> Iterator[Outline]:
    """The glides that stand in the section or beyond it, from the side, each once."""
    half, high = sizes.profile.base.glide[0] / 2, sizes.glide_height
    arms = [arm * sizes.field_angle for arm in range(sizes.rails + 1)]
    for x in sorted({round(out * cos(turn), 6) for turn in arms for out in glides_at(sizes)}):
        yield rectangle(x - half, 0.0, x + half, high)


def eased_ring(corners: Sequence[Corner]) -> Outline:
    """A ring of right angles, anticlockwise, with what is taken off its outward corners."""
    ring: list[Vertex] = []
    for (px, py, *_), (x, y, size, is_round), (nx, ny, *_) in zip(
        (corners[-1], *corners[:-1]), corners, (*corners[1:], corners[0]), strict=True
    ):
        at, back, on = Point(x, y), Point(px - x, py - y), Point(nx - x, ny - y)
        if size <= 0:
            ring.append(Vertex(x, y))
            continue
        start, end = at.plus(back.unit, size), at.plus(on.unit, size)
        ring += [Vertex(start.x, start.y, QUARTER_BULGE if is_round else 0.0), Vertex(end.x, end.y)]
    return Outline(
        tuple(v for v, w in zip(ring, ring[1:] + ring[:1], strict=True) if v.point.distance(w.point) > 1e-6)
    )


def _mirrored(outline: Outline) -> Outline:
    """The same on the other side of the axis."""
    return Outline(tuple(Vertex(-v.x, v.y, -v.bulge) for v in outline)).reversed


def _on_arm(table: Table, kind: str) -> Iterator[Placed]:
    """Standing parts whose axis lies in the section."""
    for placed in table.placed:
        part = table.part(placed.code)
        if part.kind == kind and abs(placed.point(0, 0, part.thickness / 2).y) < 1e-6:
            yield placed


def _side_on(leg: Part, placed: Placed) -> Outline:
    """A leg's own outline, which lies in the plane of its arm, between its shoulders."""
    points = (placed.point(vertex.x, vertex.y, leg.thickness / 2) for vertex in leg.outline)
    return polygon((point.x, point.z) for point in points).anticlockwise


def wood_beyond(table: Table) -> Iterator[Outline]:
    """The legs and pads of the arms behind, as each shows against what is behind it."""
    for placed in table.placed:
        part = table.part(placed.code)
        if part.kind == "leg":
            corners = [placed.point(v.x, v.y, z) for v in part.outline for z in (0.0, part.thickness)]
            if max(corner.y for corner in corners) > 1e-6 and abs(placed.point(0, 0, part.thickness / 2).y) > 1e-6:
                yield silhouette(_leg_shown(table, part, placed))
        elif part.kind == "foot":
            yield from _pad_shown(table, part, placed)


def _leg_shown(table: Table, leg: Part, placed: Placed) -> Iterator[tuple[float, float]]:
    """Points whose hull a leg with eased arrises shows between its shoulders; a round is told by its middle, moved
    aside by its radius."""
    legs = table.profile.legs
    size = 0.0 if legs.corner == "square" else legs.corner_size
    radius = {"rounded": size, "beaded": BEAD_ROUND * size}.get(legs.corner, 0.0)
    cut = ((0.0, size), (size, 0.0)) if legs.corner == "chamfered" else ((radius, radius),)
    shoulders = [vertex for vertex in leg.outline if abs(abs(vertex.y) - legs.section / 2) < 1e-6]
    for vertex, (z, up), (dy, dz) in product(shoulders, ((0.0, 1), (leg.thickness, -1)), cut):
        spot = placed.point(vertex.x, vertex.y - copysign(dy, vertex.y), z + up * dz)
        yield from ((spot.x - radius, spot.z), (spot.x + radius, spot.z))


def _pad_shown(table: Table, pad: Part, placed: Placed) -> Iterator[Outline]:
    """A pad of an arm behind."""
    if min(placed.point(v.x, v.y, 0.0).y for v in pad.outline) <= 0:
        return
    spots = [
        placed.point(p.x, p.y, 0.0) for edge in pad.outline.edges for p in (edge.point_at(i / 16) for i in range(16))
    ]
    xs, size = [spot.x for spot in spots], table.profile.edges.base
    eased = (size, table.profile.edges.shape == "rounded")
    yield eased_ring(
        ((min(xs), 0.0, *eased), (max(xs), 0.0, *eased), (max(xs), pad.thickness, 0.0, False),
         (min(xs), pad.thickness, 0.0, False))
    )  # fmt: skip


def silhouette(points: Iterable[tuple[float, float]]) -> Outline:
    """The hull of points: what a straight piece of wood shows from the side."""
    ordered = sorted({(round(x, 9), round(y, 9)) for x, y in points})
    rings: list[list[tuple[float, float]]] = []
    for walk in (ordered, ordered[::-1]):
        hull: list[tuple[float, float]] = []
        for x, y in walk:
            while len(hull) > 1 and _turn(hull[-2], hull[-1], (x, y)) <= 1e-9:
                hull.pop()
            hull.append((x, y))
        rings.append(hull[:-1])
    return polygon((*rings[0], *rings[1]))


def _turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
