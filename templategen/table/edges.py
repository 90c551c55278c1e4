"""Arrises eased: which strips along a part's edges a shaped cutter takes, where they stop and with which shape."""

from collections.abc import Iterable, Iterator, Mapping

from templategen.geometry.clip import clip_half_plane
from templategen.geometry.edge import Edge, Line
from templategen.geometry.offset import offset
from templategen.geometry.outline import Outline, outline_of, rectangle
from templategen.geometry.placement import OVER
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ON_EDGE
from templategen.parts.feature import Feature
from templategen.parts.kinds import FeatureKind
from templategen.table.profile.choices import EdgeShape
from templategen.table.profile.model import Profile

SHAPED: Mapping[EdgeShape, FeatureKind] = {"rounded": "round-over", "chamfered": "chamfer"}

ROUND_OVER, INNER_EDGE, RAIL_EDGE, LOWER_EDGE, BASE_EDGE = (
    "round over",
    "ease the inner edge",
    "ease the rail's edges",
    "ease both lower edges",
    "ease the ground cross",
)
"""How this work is called on sheets."""

DRIP = "drip groove"
IN_THE_RING = (ROUND_OVER, DRIP)
"""Done to the glued ring, never to a segment by itself."""

SHORT = 10.0
"""An eased edge stops so far short of a crossing, mm, so that the lap's corners stay closed."""

WORTH = 5.0
"""Shorter stretches are left to a file, mm."""


def eased(
    profile: Profile, strips: Iterable[Outline], size: float, operation: str, *faces: str, floor: float = 0.0
) -> Iterator[Feature]:
    """The strips, seen from above, taken off the faces named, or off a `floor` so far under them, in the shape that
    the profile wants."""
    kind = SHAPED[profile.edges.shape]
    for strip in strips:
        for face in faces:
            seen = strip if face == "top" else OVER.outline(strip)
            yield Feature(kind, face, seen, size, operation, floor=floor)


def long_edges(left: float, right: float, half_width: float, size: float) -> tuple[Outline, ...]:
    """The strips along both long edges of a bar from x = `left` to `right`; none where that is hardly anything."""
    if size <= 0 or right - left < WORTH:
        return ()
    low, high = -half_width, half_width
    return rectangle(left, low, right, low + size), rectangle(left, high - size, right, high)


def mirrored(strips: Iterable[Outline]) -> Iterator[Outline]:
    """The strips, and the same at the bar's other end."""
    for strip in strips:
        yield strip
        yield OVER.outline(strip)


def round_end(outline: Outline, start: float, size: float, right: bool = True) -> tuple[Outline, ...]:
    """The strip round an end of a bar, from x = `start` out along one edge, round and back along the other."""
    if size <= 0 or (outline.bounds.right - start if right else start - outline.bounds.left) < size + WORTH:
        return ()
    inner = offset(outline.anticlockwise, -size)
    inward = Point(1.0 if right else -1.0, 0.0)
    walks = [_open_walk(ring, start, inward) for ring in (outline.anticlockwise, inner[0])]
    (first, last), (begin, end) = ((walk[0].start, walk[-1].end) for walk in walks)
    back = [edge.reversed for edge in reversed(walks[1])]
    return (outline_of((*walks[0], Line(last, end), *back, Line(begin, first))),)


def _open_walk(ring: Outline, start: float, inward: Point) -> list[Edge]:
    """The edges of what lies past `start`, from the cut round to the cut."""
    edges = list(clip_half_plane(ring, Point(start, 0.0), inward)[0].edges)
    at = next(i for i, edge in enumerate(edges) if _on_cut(edge, start))
    return [*edges[at + 1 :], *edges[:at]]


def _on_cut(edge: Edge, start: float) -> bool:
    return isinstance(edge, Line) and all(abs(end.x - start) < ON_EDGE for end in (edge.start, edge.end))
