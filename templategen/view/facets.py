"""Facets: the surface of a solid as flat triangles, and the edges between them that an eye would draw."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import cos, radians
from typing import TYPE_CHECKING, Any

from templategen.parts.part import Part
from templategen.view.eased import cutters, eased_solid

if TYPE_CHECKING:
    from manifold3d import Manifold

SHARP = radians(8)
"""Faces that turn by more than this meet in an edge; the flattest real corner, of a ring of 32, turns 11 degrees."""

WITHIN = radians(26)
"""The same within what a shaped cutter leaves, whose rounds turn by up to 23 degrees."""

PER_MM, OFF = 2**13, 0.37
"""Corners in one cell of a grid, so many cells to a millimetre, are one; its lines keep off usual sizes."""

FLAT = radians(0.02)
"""Faces that turn by less than this are one flat face."""


@dataclass(frozen=True, slots=True, eq=False)
class Facets:
    """A solid's surface, as arrays.

    `corners` (n, 3) in mm; `triangles` (m, 3) indexes, anticlockwise seen from outside; `normals` (m, 3).
    `edges` (k, 2) indexes of corners; `sides` (k, 2) indexes of the two triangles that meet there;
    `sharp` (k,) whether a line is drawn there: they meet in an edge, or what a shaped cutter leaves begins; else they
    are neighbours on a round surface. Of lines where an eased edge begins `eased` (k,) is how wide it is, mm, 0 of
    others; `worked` (k,) that it begins at the part's top or bottom, not at a side; `beyond` (k, 3) is the normal of
    the face that is turned to where it ends.
    """

    corners: Any
    triangles: Any
    normals: Any
    edges: Any
    sides: Any
    sharp: Any
    eased: Any
    worked: Any
    beyond: Any


@lru_cache(maxsize=96)
def part_facets(part: Part) -> Facets:
    """The facets of a finished part in its own frame, its arrises eased."""
    return facets_of(eased_solid(part), cutters(part))


def facets_of(solid: Manifold, cutters: Mapping[int, float], up: Sequence[float] = (0.0, 0.0, 1.0)) -> Facets:
    """The facets of any solid; corners in one place are one. `cutters` are the surfaces of shaped cutters, and how
    wide they are; `up` is the normal of the part's top."""
    import numpy

    mesh = solid.to_mesh64()
    corners, triangles = _welded(mesh)
    triangles, wide = _in_order(triangles, _widths(mesh, cutters))
    a, b, c = (corners[triangles[:, k]] for k in range(3))
    normals = numpy.cross(b - a, c - a)
    lengths = numpy.sqrt((normals * normals).sum(axis=1))
    kept = lengths > 0
    triangles, normals, wide = triangles[kept], normals[kept] / lengths[kept, None], wide[kept]
    edges, sides = _met(triangles, len(corners))
    turn = (normals[sides[:, 0]] * normals[sides[:, 1]]).sum(axis=1)
    drawn = turn < cos(FLAT)
    edges, sides, turn = edges[drawn], sides[drawn], turn[drawn]
    cut = wide[sides] > 0
    begins = cut[:, 0] != cut[:, 1]
    sharp = begins | (turn < numpy.where(cut[:, 0], cos(WITHIN), cos(SHARP)))
    one, other = (normals[side] for side in sides.T)
    face, slope = numpy.where(cut[:, :1], other, one), numpy.where(cut[:, :1], one, other)
    return Facets(
        corners, triangles, normals, edges, sides, sharp, numpy.where(begins, wide[sides].max(axis=1), 0.0),
        abs((face * numpy.array(up)).sum(axis=1)) > cos(SHARP), slope - turn[:, None] * face,
    )  # fmt: skip


def _in_order(triangles: Any, wide: Any) -> tuple[Any, Any]:
    """The triangles from their first corner on, in the order of their corners: the library's own order hangs on which
    solid was made first. Two that lie on each other, face to face, go."""
    import numpy

    _, place, often = numpy.unique(numpy.sort(triangles, axis=1), axis=0, return_inverse=True, return_counts=True)
    single = often[place.reshape(-1)] == 1
    triangles, wide = triangles[single], wide[single]

    turned = (numpy.argmin(triangles, axis=1)[:, None] + numpy.arange(3)) % 3
    triangles = numpy.take_along_axis(triangles, turned, axis=1)
    order = numpy.lexsort(triangles.T[::-1])
    return triangles[order], wide[order]


def _widths(mesh: Any, cutters: Mapping[int, float]) -> Any:
    """How wide the shaped cutter's surface is that each triangle is of; 0 of all others."""
    import numpy

    bounds = numpy.array(mesh.run_index, dtype=numpy.int64) // 3
    sizes = [cutters.get(int(name), 0.0) for name in mesh.run_original_id]
    return numpy.repeat(sizes, bounds[1:] - bounds[:-1])


def _welded(mesh: Any) -> tuple[Any, Any]:
    """The corners, and the triangles by them; corners in all but the same place are made one, where a cutter's edge
    meets the wood's."""
    import numpy

    corners = numpy.array(mesh.vert_properties)[:, :3]
    grid = numpy.floor(corners * PER_MM + OFF).astype(numpy.int64)
    _, first, name = numpy.unique(grid, axis=0, return_index=True, return_inverse=True)
    return corners, first[name.reshape(-1)][numpy.array(mesh.tri_verts, dtype=numpy.int64)]


def _met(triangles: Any, count: int) -> tuple[Any, Any]:
    """Every edge once, as its two corners and its two triangles."""
    import numpy

    starts = triangles.reshape(-1)
    ends = numpy.roll(triangles, -1, axis=1).reshape(-1)
    owner = numpy.repeat(numpy.arange(len(triangles)), 3)
    key = numpy.minimum(starts, ends) * count + numpy.maximum(starts, ends)
    order = numpy.argsort(key, kind="stable")
    ordered = key[order]
    first = numpy.flatnonzero(ordered[:-1] == ordered[1:])
    one, other = order[first], order[first + 1]
    edges = numpy.stack([starts[one], ends[one]], axis=1)
    return edges, numpy.stack([owner[one], owner[other]], axis=1)
