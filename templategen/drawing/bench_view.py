"""What a picture of a set-up has to go by: the set-up's figures, the piece, and how it lies."""

from collections.abc import Callable
from dataclasses import dataclass

from templategen.catalogue import figured, worded
from templategen.drawing.machine_marks import named
from templategen.geometry.clip import convex_clip, half_plane
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.parts.part import Part
from templategen.parts.sides import end_edge, side
from templategen.shop.set_ups.set_up import Cut, Lay, Setting, SettingName, SetUp, Side

LETTERS = 24.0
"""A picture is about so many capital heights wide."""


@dataclass(frozen=True, slots=True)
class BenchView:
    """One lay of one cut. `done` are the edges of the piece that were cut before, `shown` puts a setting in words,
    `off_a_strip` says that the piece is cut off a longer one, which is what is held."""

    set_up: SetUp
    cut: Cut
    lay: Lay
    part: Part
    done: frozenset[Side]
    shown: Callable[[Setting], str]
    off_a_strip: bool = False

    def value(self, name: SettingName) -> float:
        """A setting's value, 0 where it isn't set."""
        found = self.set_up.setting(name, self.cut)
        return found.figure.value if found else 0.0

    def has(self, name: SettingName) -> bool:
        """Whether it is set."""
        return self.set_up.setting(name, self.cut) is not None

    def figure(self, name: SettingName) -> str:
        """It in words, "" where it isn't set."""
        found = self.set_up.setting(name, self.cut)
        return figured(self.shown(found)) if found else ""

    def side(self, name: str) -> str:
        """A face, edge or end of the piece in words."""
        return side(name, self.part.kind)

    @property
    def is_over(self) -> bool:
        """Whether the tool goes over the piece, which lies with what is cut up."""
        return self.lay.up == self.lay.worked

    @property
    def lain(self) -> str:
        """What is said of the machine's table: what lies down on it, or up where the tool goes over the piece."""
        lies = "{side} up" if self.is_over else "{side} down"
        return named("table, {lies}", lies=worded(lies, side=self.side(self.lay.worked)))

    @property
    def is_mirrored(self) -> bool:
        """Whether its left end lies to the right, seen from above with the fence on the far side."""
        if self.lay.against == "bottom" and self.lay.up in ("low", "high"):
            return self.lay.up == "low"
        return (self.lay.up == "bottom") != (self.lay.against == "low")

    def lying(self, points: Outline) -> list[Point]:
        """An outline of the part, anticlockwise, as it lies under the eye: the edge at the fence is the upper one."""
        across, up = (-1.0 if self.is_mirrored else 1.0), (-1.0 if self.lay.against == "low" else 1.0)
        ring = [Point(across * x, up * y) for x, y in points.anticlockwise.points]
        return ring if across == up else ring[::-1]

    def is_right(self, end: str) -> bool:
        """Whether an end of the part lies to the right."""
        return end.startswith("right") != self.is_mirrored

    @property
    def ends(self) -> tuple[float, float]:
        """How far the blank reaches to the left and to the right as it lies."""
        along = [point.x for point in self.lying(self.part.blank)]
        return min(along), max(along)

    def squared(self, left: float, right: float) -> list[Point]:
        """A bar as wide as the piece, from `left` to `right` as it lies, with the edges that were cut before."""
        ring = self.lying(self.part.blank)
        low, high = min(p.y for p in ring), max(p.y for p in ring)
        bar = (Point(left, low), Point(right, low), Point(right, high), Point(left, high))
        return list(convex_clip(bar, (half_plane(at, inward) for at, inward in self._cut_before())))

    def _cut_before(self) -> list[tuple[Point, Point]]:
        """A point on each edge that was cut before, and the way into the wood."""
        found = []
        for name in sorted(self.done):
            edge = end_edge(self.part.blank, name) or _square(self.part.blank, name)
            if name != self.lay.worked:
                across, up = (-1.0 if self.is_mirrored else 1.0), (-1.0 if self.lay.against == "low" else 1.0)
                at, inward = edge[0], edge[1].minus(edge[0]).left
                found.append((Point(across * at.x, up * at.y), Point(across * inward.x, up * inward.y)))
        return found


def _square(outline: Outline, end: str) -> tuple[Point, Point]:
    """An end sawn square before its mitres."""
    box = outline.bounds
    if end == "left":
        return Point(box.left, box.top), Point(box.left, box.bottom)
    return Point(box.right, box.bottom), Point(box.right, box.top)


def lies_up(view: BenchView, side: str) -> str:
    """That a side of the piece lies up."""
    return worded("{side} up", side=view.side(side))
