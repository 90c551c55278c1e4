"""Slat fields: what lies between two arms and the rim."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from templategen.geometry.clip import clip_half_plane
from templategen.geometry.outline import Outline, polygon
from templategen.geometry.point import Point, polar
from templategen.geometry.tolerance import ON_EDGE
from templategen.table.sizes import Sizes


@dataclass(frozen=True, slots=True)
class Border:
    """A straight side of a field: an arm's edge or a segment's inner edge.

    `kind` is "arm" or "rim", `index` the arm's or segment's number, `side` +1 for the arm's left edge, -1 for
    its right one, 0 for a segment. The field lies where the distance along `outward` is at most `distance`.
    """

    kind: str
    index: int
    side: int
    outward: Point
    distance: float

    def pushed(self, by: float) -> Border:
        """The same side moved outwards."""
        return Border(self.kind, self.index, self.side, self.outward, self.distance + by)

    @property
    def foot(self) -> Point:
        """The point of the side nearest to the centre of the table."""
        return self.outward.times(self.distance)

    def inside(self, outline: Outline) -> tuple[Outline, ...]:
        """What of `outline` lies on the field's side."""
        return clip_half_plane(outline, self.foot, self.outward.times(-1))

    def beyond(self, outline: Outline) -> tuple[Outline, ...]:
        """What of `outline` lies past this side, in the rail or the segment."""
        return clip_half_plane(outline, self.foot, self.outward)

    def touches(self, outline: Outline) -> bool:
        """Whether an edge of `outline` lies along this side."""
        heights = [self.outward.dot(point) - self.distance for point in outline.points]
        return any(
            abs(heights[i]) <= ON_EDGE and abs(heights[i - 1]) <= ON_EDGE and outline.edges[i - 1].length > ON_EDGE
            for i in range(len(heights))
        )


@dataclass(frozen=True)
class Field:
    """Field `number`, between arm `number` and the next; table frame, mm. The outline is convex.

    `measured` are its sides where they stand elsewhere than designed: both arm edges, then each segment's inner edge.
    """

    sizes: Sizes
    number: int
    measured: tuple[Border, ...] = ()

    @property
    def bisector(self) -> float:
        """Direction of the field's middle."""
        return (self.number + 0.5) * self.sizes.field_angle

    @cached_property
    def borders(self) -> tuple[Border, ...]:
        """Both arm edges, then every segment's inner edge from arm to arm."""
        if self.measured:
            return self.measured
        sizes, number = self.sizes, self.number
        first, last = number * sizes.field_angle, (number + 1) * sizes.field_angle
        arms = sizes.arms
        sides = [
            Border("arm", number % arms, 1, polar(1, first).left.times(-1), -sizes.half_rail),
            Border("arm", (number + 1) % arms, -1, polar(1, last).left, -sizes.half_rail),
        ]
        m = sizes.segments_per_field
        for i in range(number * m, (number + 1) * m + 1):
            sides.append(Border("rim", i % sizes.segments, 0, polar(1, 2 * i * sizes.mitre), sizes.inner_apothem))
        return tuple(sides)

    @property
    def apex_border(self) -> Border:
        """The line square to the bisector through the apex; behind it cross the rails, so no tongue goes there."""
        return Border("apex", 0, 0, polar(-1, self.bisector), -self.sizes.apex)

    @cached_property
    def outline(self) -> Outline:
        """The field itself."""
        return self.within(self.square, self.borders)

    @property
    def square(self) -> Outline:
        """A square that holds the whole top, to be cut down."""
        far = 2 * self.sizes.outer_apothem
        return polygon(((-far, -far), (far, -far), (far, far), (-far, far)))

    @staticmethod
    def within(outline: Outline, borders: tuple[Border, ...] | list[Border]) -> Outline:
        """A convex `outline` cut down to what lies inside all `borders`; empty pieces raise IndexError."""
        for border in borders:
            outline = border.inside(outline)[0]
        return outline
