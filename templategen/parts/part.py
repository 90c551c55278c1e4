"""The part: one kind of piece, as often as the table needs it."""

from dataclasses import dataclass, field
from typing import Literal

from templategen.geometry.outline import Outline, polygon
from templategen.geometry.point import Point
from templategen.geometry.region import Region
from templategen.parts.face import Face
from templategen.parts.feature import Feature
from templategen.parts.kinds import FeatureKind

PartKind = Literal[
    "rim-segment", "rail", "slat", "spline", "leg", "base-rail", "foot",
    "jig", "gauge", "template", "caul", "spacer",
]  # fmt: skip


ALONG_X = Point(1.0, 0.0)
"""Grain along the part's own x, as it nearly always runs."""


@dataclass(frozen=True)
class Part:
    """A blank with features.

    Frame: the part lies on its bottom face, z = 0 there and `thickness` at the top; `outline`, `blank` and
    `holes` are seen from above, x and y in mm, anticlockwise. `grain` is a unit vector in that plane.
    `outline` is the finished shape, `blank` what is cut first. `holes` go right through.
    `body` is a slat's shape between its shoulders, which is what shows from above.
    `handed` is "left" or "right" where a mirrored twin exists, else "".
    """

    code: str
    name: str
    kind: PartKind
    count: int
    wood: str
    thickness: float
    blank: Outline
    outline: Outline
    features: tuple[Feature, ...] = ()
    holes: tuple[Outline, ...] = ()
    faces: tuple[Face, ...] = ()
    grain: Point = ALONG_X
    handed: str = ""
    body: Outline | None = None
    notes: tuple[str, ...] = field(default=())

    @property
    def lengthwise(self) -> Point:
        """The way that its cuts are told off square of: the grain, but the joint of a spline, which is trimmed so."""
        return self.grain.left if self.kind == "spline" else self.grain

    @property
    def size(self) -> tuple[float, float, float]:
        """Length along the grain, width and thickness of the blank, mm."""
        box = self.blank.bounds
        across = abs(self.grain.y) > abs(self.grain.x)
        length, width = (box.height, box.width) if across else (box.width, box.height)
        return length, width, self.thickness

    @property
    def region(self) -> Region:
        """The finished shape with its holes."""
        return Region(self.outline, self.holes)

    def face(self, name: str) -> Face:
        """The face called `name`."""
        return next(face for face in self.faces if face.name == name)

    def features_on(self, face: str) -> tuple[Feature, ...]:
        """The features cut into the face called `face`."""
        return tuple(feature for feature in self.features if feature.face == face)

    def side_cut(self, feature: Feature, overhang: float = 0.0) -> Outline:
        """What a feature of a side face takes in plan, from `overhang` outside the face in."""
        face, box = self.face(feature.face), feature.outline.bounds
        spots = (
            (box.left, -overhang), (box.right, -overhang), (box.right, feature.depth), (box.left, feature.depth),
        )  # fmt: skip
        return polygon(face.point(u, 0, depth)[:2] for u, depth in spots)

    def cuts(self, *kinds: FeatureKind) -> tuple[Feature, ...]:
        """The features of these kinds, in the order they are listed."""
        return tuple(feature for feature in self.features if feature.kind in kinds)

    @property
    def worked_faces(self) -> tuple[Face, ...]:
        """The faces that carry work, top first."""
        return tuple(face for face in self.faces if face.name == "top" or self.features_on(face.name))

    @property
    def alike_both_faces(self) -> bool:
        """Whether the part is the same when turned over: no feature of one face lacks its mirror on the other."""
        from templategen.parts.sameness import same_turned_over

        return same_turned_over(self)
