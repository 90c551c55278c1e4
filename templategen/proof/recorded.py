"""A part as the record has it: its faces, and what is cut into each, as every face shows it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.placement import OVER
from templategen.geometry.point import Point
from templategen.proof.read_record import Record, outline_in

TOP, BOTTOM = "top", "bottom"

ALONG_THE_RIM = ("round-over", "chamfer", "bead")
"""Drawn by the line they end on only, and not seen through the wood."""

SAME = 1e-6
"""Corners of the record that are one lie no further apart, mm."""


@dataclass(frozen=True, slots=True)
class RecordedWork:
    """One feature: `number` is its place in the part's list; `outline` in the frame of its face; `floor` how far
    under the face the wood lies that it is cut into."""

    number: int
    kind: str
    face: str
    outline: Outline
    depth: float
    floor: float = 0.0

    @property
    def runs_along(self) -> bool:
        """Whether it is made along the rim."""
        return self.kind in ALONG_THE_RIM


@dataclass(frozen=True)
class Side:
    """An upright face: `start` and `along` in plan, its wood in its own frame."""

    start: Point
    along: Point
    wood: Outline

    def plan(self, work: RecordedWork) -> Outline:
        """The strip that work on this face covers from above: as deep as it reaches into the wood, which lies to the
        left of the walk along the face."""
        box = work.outline.bounds
        corners = ((box.left, 0.0), (box.right, 0.0), (box.right, work.depth), (box.left, work.depth))
        return polygon(self.start.plus(self.along, u).plus(self.along.left, depth) for u, depth in corners)


@dataclass(frozen=True)
class Recorded:
    """The part's shapes, read once."""

    record: Record

    @cached_property
    def code(self) -> str:
        """Its code."""
        return str(self.record["code"])

    @cached_property
    def thickness(self) -> float:
        """Its thickness, mm."""
        return float(self.record["size"][2])

    @cached_property
    def outline(self) -> Outline:
        """The finished shape from above."""
        return outline_in(self.record["outline"])

    @cached_property
    def blank(self) -> Outline:
        """What is cut first."""
        return outline_in(self.record["blank"])

    @cached_property
    def holes(self) -> tuple[Outline, ...]:
        """What goes right through."""
        return tuple(outline_in(hole) for hole in self.record["holes"])

    @cached_property
    def works(self) -> tuple[RecordedWork, ...]:
        """Every feature."""
        return tuple(
            RecordedWork(
                number, one["kind"], one["face"], outline_in(one["outline"]), float(one["depth"]),
                float(one.get("floor", 0.0)),
            )
            for number, one in enumerate(self.record["features"])
        )  # fmt: skip

    @cached_property
    def sides(self) -> Mapping[str, Side]:
        """The upright faces by name; one that stands on no edge of the part is left out."""
        found = {}
        for face in self.record.get("faces", ()):
            side = _side(face, self) if face["name"] not in (TOP, BOTTOM) else None
            if side is not None:
                found[face["name"]] = side
        return found

    @cached_property
    def sawn_first(self) -> Outline:
        """What a template shows as sawn first: the blank of what is sawn again when the ring is glued."""
        return self.blank if self.record["kind"] in ("rim-segment", "spline") else self.outline

    @property
    def is_jig(self) -> bool:
        """Whether it is a piece of a jig."""
        return self.record["kind"] in ("jig", "gauge", "template", "caul", "spacer")

    def wood(self, face: str) -> Outline | None:
        """A face as it is seen, None where the part has no such face."""
        if face == TOP:
            return self.outline
        if face == BOTTOM:
            return OVER.outline(self.outline)
        return self.sides[face].wood if face in self.sides else None

    def on(self, face: str) -> tuple[RecordedWork, ...]:
        """What is cut into one face, without what only says again that a hole goes through."""
        return tuple(work for work in self.works if work.face == face and not self.goes_through(work))

    def goes_through(self, work: RecordedWork) -> bool:
        """Whether the feature is one of the holes."""
        return work.face in (TOP, BOTTOM) and any(_same(self.from_above(work), hole) for hole in self.holes)

    @property
    def worked(self) -> Iterator[str]:
        """The faces that carry work."""
        return iter(dict.fromkeys(work.face for work in self.works if not self.goes_through(work)))

    def from_above(self, work: RecordedWork) -> Outline:
        """Work on any face in plan."""
        if work.face == TOP:
            return work.outline
        if work.face == BOTTOM:
            return OVER.outline(work.outline)
        side = self.sides.get(work.face)
        return side.plan(work) if side else work.outline

    def seen_through(self, face: str) -> Iterator[Outline]:
        """Work on all other faces, as it is seen through the top or the underside."""
        for work in self.works:
            if work.face != face and not work.runs_along:
                plan = self.from_above(work)
                yield OVER.outline(plan) if face == BOTTOM else plan


def _side(face: Record, part: Recorded) -> Side | None:
    start, along = Point(*face["origin"][:2]), Point(*face["along"][:2])
    for ring in (part.blank, part.outline):
        for edge in ring.anticlockwise.edges:
            if edge.start.distance(start) < SAME and edge.direction_at(0.0).distance(along) < SAME:
                return Side(start, along, rectangle(0.0, 0.0, edge.length, part.thickness))
    return None


def _same(one: Outline, other: Outline) -> bool:
    """Whether two rings lie on each other: corner on line and middle on line, both ways."""
    return all(
        ring.distance(edge.point_at(share)) < SAME
        for ring, edges in ((one, other.edges), (other, one.edges))
        for edge in edges
        for share in (0.0, 0.5)
    )
