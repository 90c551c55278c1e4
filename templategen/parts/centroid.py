"""Where a part's mass lies."""

from collections.abc import Iterator

from templategen.geometry.centroid import centroid
from templategen.geometry.outline import Outline
from templategen.parts.face import Point3
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.parts.volume import layer, plan_from_side, taken, volume


def centre_of_mass(part: Part) -> Point3:
    """The centre of the finished part's wood, in the part's own frame, mm.

    The prism's moment less those of holes and features, counted as `volume` counts them. Exact for prisms that no
    hole runs through off their middle; the corner strip of a round-over or chamfer counts at the middle of its
    square.
    """
    moments = [_moment(part.outline, part.outline.area * part.thickness, part.thickness / 2)]
    moments += [_moment(hole, -abs(hole.area) * part.thickness, part.thickness / 2) for hole in part.holes]
    moments += [moment for f in part.features if not f.traits.bored for moment in _removed(part, f)]
    whole = volume(part)
    return Point3(*(sum(axis) / whole for axis in zip(*moments, strict=True)))


def _moment(outline: Outline, size: float, height: float) -> Point3:
    at = centroid(outline)
    return Point3(at.x * size, at.y * size, height * size)


def _removed(part: Part, feature: Feature) -> Iterator[Point3]:
    """Moments of what a feature takes, below 0."""
    box = feature.outline.bounds
    if not feature.is_flat:
        height = part.face(feature.face).point(0, box.centre.y).z
        for piece in plan_from_side(part, feature):
            yield _moment(piece, -piece.area * box.height, height)
        return
    at, (start, end) = centroid(feature.outline), layer(part, feature)
    place = part.face(feature.face).point(at.x, at.y, (start + end) / 2)
    size = -taken(part, feature)
    yield Point3(place.x * size, place.y * size, place.z * size)
