"""Parts as solids."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from templategen.geometry.outline import Outline
from templategen.geometry.refine import fine_polyline
from templategen.parts.face import Face
from templategen.parts.part import Part
from templategen.table.placed import Placed

if TYPE_CHECKING:
    from manifold3d import Manifold

CHORD = 0.02
"""How far the chords of an arc may leave it, mm: well under any clearance that is cut to."""

ABOVE = 1.0
"""How far a cut reaches out of the wood, mm, so that no skin is left on the face."""


def part_solid(part: Part, chords: Callable[[Outline], Any] | None = None) -> Manifold:
    """The finished part in its own frame: the prism of its outline less holes and features.

    Arrises stay sharp: easing only takes away, so a fit that is proved sharp holds rounded.

    `chords` gives the corners by which outlines are told; without it arcs are told as finely as a fit needs.
    """
    ring = chords or _ring
    body = _prism(part.outline, 0.0, part.thickness, ring)
    cuts = [_prism(hole, -ABOVE, part.thickness + ABOVE, ring) for hole in part.holes]
    for feature in part.features:
        if not feature.traits.is_pocket:
            continue
        cut = _prism(feature.outline, -feature.depth, ABOVE, ring)
        cuts.append(placed_on(cut, part.face(feature.face)))
    for cut in cuts:
        body = body - cut
    return body


def placed_solid(body: Manifold, placed: Placed, shift: Sequence[float] = (0.0, 0.0, 0.0)) -> Manifold:
    """The solid where it stands in the table, moved on by `shift`."""
    columns = (*placed.axes, tuple(a + b for a, b in zip(placed.at, shift, strict=True)))
    return body.transform(_matrix(columns))


def _prism(outline: Outline, low: float, high: float, ring: Callable[[Outline], Any]) -> Manifold:
    import manifold3d

    section = manifold3d.CrossSection([ring(outline.anticlockwise)])
    return manifold3d.Manifold.extrude(section, high - low).translate((0.0, 0.0, low))


@lru_cache(maxsize=512)
def _ring(outline: Outline) -> Any:
    import numpy

    return numpy.array(fine_polyline(outline, CHORD))


def placed_on(body: Manifold, face: Face) -> Manifold:
    """A solid told in a face's frame, z out of the wood, in the part's own."""
    return body.transform(_matrix((face.along, face.up, face.normal, face.origin)))


def _matrix(columns: Sequence[Sequence[float]]) -> Any:
    import numpy

    return numpy.array(columns).T
