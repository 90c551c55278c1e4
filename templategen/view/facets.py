"""Facets: the surface of a solid as flat triangles, and the edges between them that an eye would draw."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import cos, radians
from typing import TYPE_CHECKING, Any

from templategen.fit.solid import part_solid
from templategen.parts.part import Part
from templategen.view.chords import chords

if TYPE_CHECKING:
    from manifold3d import Manifold

SHARP = radians(8)
"""Faces that turn by more than this meet in an edge; the flattest real corner, of a ring of 32, turns 11 degrees."""

FLAT = radians(0.02)
"""Faces that turn by less than this are one flat face."""


@dataclass(frozen=True, slots=True, eq=False)
class Facets:
    """A solid's surface, as arrays.

    `corners` (n, 3) in mm; `triangles` (m, 3) indexes, anticlockwise seen from outside; `normals` (m, 3).
    `edges` (k, 2) indexes of corners; `sides` (k, 2) indexes of the two triangles that meet there;
    `sharp` (k,) whether they meet in an edge, else they are neighbours on a round surface.
    """

    corners: Any
    triangles: Any
    normals: Any
    edges: Any
    sides: Any
    sharp: Any


@lru_cache(maxsize=512)
def part_facets(part: Part) -> Facets:
    """The facets of a finished part in its own frame."""
    return facets_of(part_solid(part, chords))


def facets_of(solid: Manifold) -> Facets:
    """The facets of any solid; corners in the same place are one."""
    import numpy

    mesh = solid.to_mesh64()
    corners = numpy.array(mesh.vert_properties)[:, :3]
    triangles = _welded(mesh)
    a, b, c = (corners[triangles[:, k]] for k in range(3))
    normals = numpy.cross(b - a, c - a)
    lengths = numpy.sqrt((normals * normals).sum(axis=1))
    kept = lengths > 0
    triangles, normals = triangles[kept], normals[kept] / lengths[kept, None]
    edges, sides = _met(triangles, len(corners))
    turn = (normals[sides[:, 0]] * normals[sides[:, 1]]).sum(axis=1)
    drawn = turn < cos(FLAT)
    return Facets(corners, triangles, normals, edges[drawn], sides[drawn], turn[drawn] < cos(SHARP))


def _welded(mesh: Any) -> Any:
    """The triangles with corners that the mesh keeps apart, but says are one, made one."""
    import numpy

    triangles = numpy.array(mesh.tri_verts, dtype=numpy.int64)
    first = numpy.array(mesh.merge_from_vert, dtype=numpy.int64)
    if len(first):
        name = numpy.arange(len(mesh.vert_properties))
        name[first] = numpy.array(mesh.merge_to_vert, dtype=numpy.int64)
        triangles = name[triangles]
    return triangles


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
