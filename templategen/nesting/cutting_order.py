"""The cutting order: cuts, each right through what it divides, that free every part of a sawn layout."""

from collections.abc import Iterator, Sequence
from math import atan2, cos, hypot, pi, sin

from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.nesting.stock import Cut, CutKind, Item, Rectangle, Sheet

SLIP = 1e-6
"""What a gap may fall short of the kerf by, mm."""

HAIR = 0.05
"""Waste thinner than this stays on a part, mm: a saw set to take it off would cut nothing."""

SAME_ANGLE = 1e-7
"""Edges whose directions differ by less are sawn at one setting, radians."""

CORNER = 0.5
"""A leaning side that takes no larger share of a blank's length and width is a corner."""

MOST_CORNERS = 16
"""Blanks with more corners, or with arcs, are freed as the box round them."""


Shape = tuple[Point, ...]


def sawn_shape(outline: Outline) -> Shape:
    """What the saw frees of a blank where it lies: its hull when its sides are straight, else its box;
    anticlockwise."""
    ring = outline.anticlockwise
    if len(ring) <= MOST_CORNERS and not any(vertex.bulge for vertex in ring):
        return _hull(ring.points)
    return _box(*outline.bounds)


def _box(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    return Point(left, bottom), Point(right, bottom), Point(right, top), Point(left, top)


def _hull(corners: Sequence[Point]) -> tuple[Point, ...]:
    """The convex hull, by walking along its underside and back along its top."""
    ordered = sorted(corners)
    sides: list[list[Point]] = []
    for walk in (ordered, ordered[::-1]):
        side: list[Point] = []
        for corner in walk:
            while len(side) > 1 and side[-1].minus(side[-2]).cross(corner.minus(side[-1])) <= SLIP:
                side.pop()
            side.append(corner)
        sides.append(side[:-1])
    return (*sides[0], *sides[1])


def corners_left(shape: Shape) -> Shape:
    """The shape with the corners that no saw need take off in the rough, since its finished end is sawn there anyway:
    leaning sides left out one by one, as long as what is beside them meets within the box round the shape."""
    left, right = min(corner.x for corner in shape), max(corner.x for corner in shape)
    low, high = min(corner.y for corner in shape), max(corner.y for corner in shape)
    for i, end in enumerate(shape):
        before, start, after = shape[i - 2], shape[i - 1], shape[(i + 1) % len(shape)]
        lean = end.minus(start)
        corner = min(abs(lean.x), abs(lean.y)) > SLIP and (
            abs(lean.x) <= CORNER * (right - left) and abs(lean.y) <= CORNER * (high - low)
        )
        tip = _meeting(before, start, after, end) if corner else None
        if tip and left - SLIP <= tip.x <= right + SLIP and low - SLIP <= tip.y <= high + SLIP:
            others = (shape[(i + 1 + n) % len(shape)] for n in range(len(shape) - 2))
            return corners_left((tip, *others))
    return shape


def _meeting(before: Point, start: Point, after: Point, end: Point) -> Point | None:
    """Where two sides meet that are drawn out beyond the one between them; None where they never do."""
    one, other = start.minus(before), end.minus(after)
    turn = other.cross(one)
    return start.plus(one, other.cross(end.minus(start)) / turn) if turn > SLIP else None


def cutting_order(
    sheet: Sheet, items: Sequence[Item], kerf: float, offcuts: Sequence[Rectangle] = ()
) -> tuple[Cut, ...] | None:
    """The cuts in the order of cutting, None where cuts right through can't free every part.

    `offcuts` are kept whole: they are freed too, but what waste hangs on them is left, as are `corners_left`.

    Whatever set of parts can be freed, each of its halves can be freed too, so the first cut found that parts two
    of them is as good as any; rips are looked for first, then crosscuts, then mitres.
    """
    outlines = {item.code: item.outline for item in items}
    shapes = [sawn_shape(laid.placement.outline(outlines[laid.code])) for laid in sheet.laid]
    piece = sheet.piece
    board = Point(0, 0), Point(piece.length, 0), Point(piece.length, piece.width), Point(0, piece.width)
    kept = [_box(x, y, x + length, y + width) for x, y, length, width in offcuts]
    sawing = _Sawing(kerf, kept)
    if not sawing.free(board, [*shapes, *kept]):
        return None
    return tuple(Cut(n, kind, *ends, _centre(shape)) for n, (kind, ends, shape) in enumerate(sawing.cuts, 1))


class _Sawing:
    """Cuts collected while a board is divided."""

    def __init__(self, kerf: float, loose: Sequence[Shape]) -> None:
        self.kerf, self.loose = kerf, set(loose)
        self.angles: tuple[float, ...] = ()
        self.cuts: list[tuple[CutKind, tuple[Point, Point], Shape]] = []

    def free(self, board: Shape, shapes: Sequence[Shape]) -> bool:
        """Divide until each shape lies alone and trimmed; False where no cut is left to divide by."""
        self.angles = tuple(_angles(shapes))
        waiting = [(board, list(shapes))]
        while waiting:
            wood, inside = waiting.pop()
            if self.loose.issuperset(inside) and len(inside) < 2:
                continue
            wood = self._squared(wood, inside)
            if len(inside) == 1:
                self._trimmed(wood, inside[0])
                continue
            divided = self._divided(wood, inside)
            if divided is None:
                return False
            waiting.extend(reversed(divided))
        return True

    def _divided(self, wood: Shape, shapes: list[Shape]) -> list[tuple[Shape, list[Shape]]] | None:
        # A cut along a part that lies elsewhere may divide these too: the saw is set to that angle anyway.
        for angle in (*_angles(shapes), *self.angles):
            groups = _groups(shapes, angle, self.kerf)
            if len(groups) > 1:
                found = []
                for group in groups[:-1]:
                    edge = max(_reach(shape, angle)[1] for shape in group)
                    lower, wood = self._cut(wood, angle, edge, group[0])
                    found.append((lower, group))
                return [*found, (wood, groups[-1])]
        return None

    def _cut(self, wood: Shape, angle: float, edge: float, held: Shape) -> tuple[Shape, Shape]:
        """Cut with the kerf's near side at `edge`, measured square to the cut; both halves, the near one first."""
        normal = Point(cos(angle), sin(angle))
        dust = beyond(beyond(wood, normal.times(-1), -edge), normal, edge + self.kerf)
        if dust:
            along = normal.left
            spans = [corner.dot(along) for corner in dust]
            ends = [normal.times(edge + self.kerf / 2).plus(along, at) for at in (min(spans), max(spans))]
            self.cuts.append((_kind(angle), (ends[0], ends[1]), held))
        return beyond(wood, normal, edge), beyond(wood, normal.times(-1), -(edge + self.kerf))

    def _squared(self, wood: Shape, shapes: Sequence[Shape]) -> Shape:
        """Waste below and above sawn off, where a rip does it for all parts at once."""
        for angle in (-pi / 2, pi / 2):
            wood = self._off(wood, angle, max(_reach(shape, angle)[1] for shape in shapes), shapes[0])
        return wood

    def _trimmed(self, wood: Shape, shape: Shape) -> None:
        for angle in _normals(corners_left(shape)):
            wood = self._off(wood, angle, _reach(shape, angle)[1], shape)

    def _off(self, wood: Shape, angle: float, edge: float, held: Shape) -> Shape:
        """The wood without what lies beyond `edge`."""
        if _reach(wood, angle)[1] <= edge + HAIR:
            return wood
        return self._cut(wood, angle, edge, held)[0]


def _centre(shape: Shape) -> Point:
    n = len(shape)
    return Point(sum(corner.x for corner in shape) / n, sum(corner.y for corner in shape) / n)


def _kind(angle: float) -> CutKind:
    across, along = abs(cos(angle)), abs(sin(angle))
    return "rip" if across < SAME_ANGLE else "crosscut" if along < SAME_ANGLE else "mitre"


def _reach(shape: Shape, angle: float) -> tuple[float, float]:
    x, y = cos(angle), sin(angle)
    along = [corner.x * x + corner.y * y for corner in shape]
    return min(along), max(along)


def _groups(shapes: Sequence[Shape], angle: float, kerf: float) -> list[list[Shape]]:
    """The shapes in bands square to `angle`, wherever a kerf finds room between."""
    spans = sorted((*_reach(shape, angle), number) for number, shape in enumerate(shapes))
    groups: list[list[Shape]] = []
    end = -1e18
    for low, high, number in spans:
        if not groups or low >= end + kerf - SLIP:
            groups.append([])
        groups[-1].append(shapes[number])
        end = max(end, high)
    return groups


def _normals(shape: Shape) -> Iterator[float]:
    """The directions outwards across each side: rips first, then crosscuts, then mitres."""
    sides = ((shape[(i + 1) % len(shape)].minus(corner)) for i, corner in enumerate(shape))
    angles = [atan2(-side.x, side.y) for side in sides if hypot(*side) > SLIP]
    yield from sorted(angles, key=lambda angle: (("rip", "crosscut", "mitre").index(_kind(angle)), round(angle, 9)))


def _angles(shapes: Sequence[Shape]) -> Iterator[float]:
    yield from (pi / 2, 0.0)
    seen: list[float] = []
    for shape in shapes:
        for angle in _normals(shape):
            folded = angle % pi
            if _kind(angle) == "mitre" and not any(abs(folded - other) < SAME_ANGLE for other in seen):
                seen.append(folded)
    yield from sorted(seen)


def beyond(wood: Shape, normal: Point, most: float) -> Shape:
    """What is not sawn off: the part of a convex shape whose corners reach no further than `most` along `normal`."""
    kept: list[Point] = []
    for i, corner in enumerate(wood):
        before = wood[i - 1]
        a, b = before.dot(normal) - most, corner.dot(normal) - most
        if (a < 0 < b) or (b < 0 < a):
            kept.append(before.plus(corner.minus(before), a / (a - b)))
        if b <= 0:
            kept.append(corner)
    return tuple(kept)
