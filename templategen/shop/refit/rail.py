"""A rail with shoulders of its own at each end."""

from collections.abc import Callable
from dataclasses import replace

from templategen.geometry.outline import Outline, rectangle
from templategen.geometry.point import Vertex
from templategen.parts.face import flat_faces, side_faces
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.sizes import Sizes

NEAR = 1e-6

Move = Callable[[float], float]


def refitted_rail(part: Part, sizes: Sizes, first: float, second: float) -> Part:
    """`part` with its shoulders `first` and `second` mm from the lap's middle, on the lower-numbered arm and on the
    other; tenons keep their length."""
    a = sizes.inner_apothem

    def move(x: float) -> float:
        if x >= a - NEAR:
            return x + (first - a)
        return x - (second - a) if x <= -a + NEAR else x

    outline = _moved(part.outline, move)
    features = tuple(_feature(part, feature, move, a, first, second) for feature in part.features)
    sides = []
    for face in part.faces[2:]:
        start = (face.origin.x, face.origin.y)
        width = face.outline.bounds.width
        end = (start[0] + face.along.x * width, start[1] + face.along.y * width)
        ends = [type(outline.points[0])(move(x), y) for x, y in (start, end)]
        sides.append((face.name, ends[0], ends[1]))
    return replace(
        part,
        blank=_moved(part.blank, move),
        outline=outline,
        features=features,
        faces=(*flat_faces(outline, part.thickness), *side_faces(sides, part.thickness)),
    )


def _moved(outline: Outline, move: Move) -> Outline:
    return Outline(tuple(Vertex(move(v.x), v.y, v.bulge) for v in outline.vertices))


def _feature(part: Part, feature: Feature, move: Move, a: float, first: float, second: float) -> Feature:
    if feature.face == "top":
        return replace(feature, outline=_moved(feature.outline, move))
    if feature.face == "bottom":
        return replace(feature, outline=_moved(feature.outline, lambda u: -move(-u)))
    if not feature.face.startswith("edge-"):
        return feature
    box = feature.outline.bounds
    if feature.face == "edge-1":
        start, end = (move(u - a) + second for u in (box.left, box.right))
    else:
        start, end = (first - move(a - u) for u in (box.left, box.right))
    return replace(feature, outline=rectangle(start, box.bottom, end, box.top))
