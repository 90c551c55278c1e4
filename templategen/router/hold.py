"""What holds the parts of a sheet until the last pass: tabs that reach solid wood on both sides, or a skin.

Passes of neighbours overlap where their parts lie a bit and a little apart, so nothing is left between them for a tab
to stand on: it then spans the gap from part to part, and both passes leave it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import compress
from math import inf
from typing import TYPE_CHECKING, Any

from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, polygon
from templategen.geometry.point import Point
from templategen.geometry.refine import fine_polyline
from templategen.router.tabs import Spot, enough, spots, wanted_tabs

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

BITE = 1.0
"""How far a tab reaches into the wood it hangs on, mm."""

APART = 1.5
"""Least room between two tabs, in widths of a tab."""

BESIDE = 0.5
"""Between two tabs a bit finds so much more room than it is wide, mm: else wood stays there as a wide tab."""

BRIDGES = 2
"""Tabs of an island of waste."""

CHIP = 10.0
"""Waste smaller than this goes with the dust, mm2."""

FINE = 0.005
"""How far a chord may be from its arc, mm."""

CRUMB = 0.02
"""Wood that touches by less than this hangs on nothing, mm."""

HAIR = 0.06
"""Waste that hangs by less than twice this counts as loose, mm: whether it is, a bit's wear decides."""


@dataclass(frozen=True, slots=True)
class Freed:
    """A part where it lies on a sheet: the line it is cut free by, the edges nothing may be left on, whether a tab or
    a skin is asked for at all (not where suction holds it), and how many tabs its weight asks for."""

    ring: Outline
    clean: tuple[Line, ...] = ()
    hangs: bool = True
    borne: int = 0


@dataclass(frozen=True, slots=True)
class Tab:
    """Wood that no pass takes below the tab's height: its middle on the line, the box it fills, the parts it joins
    by their place in the list; one part where it stands on the rest of the sheet."""

    at: Point
    box: Outline
    parts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Held:
    """The tabs of a sheet, the places of the parts that only a skin can hold, and of those that not even it holds;
    waste that comes loose."""

    tabs: tuple[Tab, ...] = ()
    skinned: tuple[int, ...] = ()
    loose: tuple[int, ...] = ()
    waste: tuple[Outline, ...] = ()


def hold(
    freed: Sequence[Freed],
    sheet: Outline,
    bit: float,
    width: float,
    taken: Sequence[Outline] = (),
    skinned: Sequence[int] = (),
    below: Sequence[tuple[Outline, float]] = (),
) -> Held:
    """Tabs of that `width` for every part that finds room for them, a skin for the others and those named.

    `taken` is where other work leaves no wood for a tab, `below` the pockets of the underside, each with the radius
    of its bit. Parts next to one that its skin must hold are skinned too where their passes would take the skin away.
    """
    ground = _Ground(freed, sheet, bit, width, taken, below)
    skin = {i for i in skinned if freed[i].hangs}
    while True:
        tabs, short = ground.chosen(skin)
        if not short:
            pieces = ground.pieces(tabs, skin)
            short, loose = ground.adrift(pieces, skin)
            if not short:
                tabs += ground.bridges(tabs, ground.pieces(tabs, skin, HAIR))
                waste = map(_ring, ground.islands(ground.pieces(tabs, skin, HAIR)))
                return Held(tuple(tabs), tuple(sorted(skin)), tuple(sorted(loose)), tuple(waste))
        skin |= short


class _Ground:
    """The sheet as polygons, and the places where each part's tabs may stand."""

    def __init__(
        self,
        freed: Sequence[Freed],
        sheet: Outline,
        bit: float,
        width: float,
        taken: Sequence[Outline],
        below: Sequence[tuple[Outline, float]],
    ) -> None:
        from shapely import STRtree, union_all

        self.freed, self.bit, self.width = freed, bit, width
        self.parts = [flat(one.ring) for one in freed]
        self.passes = [part.buffer(bit) for part in self.parts]
        self.board = flat(sheet)
        self.rest = self._rest(union_all(self.passes))
        self.tree = STRtree(self.parts)
        self.lines = _lines(freed)
        self.taken = union_all([flat(one) for one in taken])
        self.below = union_all([flat(one).buffer(-radius).buffer(radius) for one, radius in below])
        self.every: list[Tab] = []
        self.along: dict[int, Sequence[Spot]] = {}
        self.spans: list[list[int]] = [self._spans(i) if one.hangs else [] for i, one in enumerate(freed)]
        self.order = sorted((i for i, one in enumerate(freed) if one.hangs), key=lambda i: (len(self.spans[i]), i))
        self.boxes = STRtree([flat(tab.box) for tab in self.every])

    def _rest(self, passes: BaseGeometry) -> BaseGeometry:
        """What no pass touches, without islands that come loose."""
        from shapely import union_all

        left = self.board.difference(passes)
        pieces = getattr(left, "geoms", (left,))
        return union_all([piece for piece in pieces if piece.distance(self.board.boundary) < CRUMB])

    def _spans(self, i: int) -> list[int]:
        """Every tab that the part could have, by its number among all."""
        first = len(self.every)
        tabs = (self._span(i, spot) for spot in self._spots(i))
        self.every += [tab for tab in tabs if tab is not None]
        return list(range(first, len(self.every)))

    def _span(self, i: int, spot: Spot, island: BaseGeometry | None = None) -> Tab | None:
        """The tab from the part to the rest of the sheet or to the one part that faces it there; to an island of
        waste, where one is asked for, and nothing else."""
        import shapely

        far = shapely.Polygon(_corners(spot, self.width / 2, self.bit + 2 * CRUMB, self.bit + BITE))
        if (island or self.rest).contains(far):
            box = _corners(spot, self.width / 2, -BITE, self.bit + BITE)
            others: tuple[int, ...] = (i,)
        elif island is not None:
            return None
        else:
            j, reach = self._faced(i, spot)
            if j < 0:
                return None
            box, others = _corners(spot, self.width / 2, -BITE, reach + BITE), (i, j)
        if not self._stands(shapely.Polygon(box), spot, others):
            return None
        return Tab(spot.at, polygon(box).anticlockwise, others)

    def _faced(self, i: int, spot: Spot) -> tuple[int, float]:
        """The part that both sides of a tab meet first, and how far away it is at the most; -1 for none."""
        import shapely

        far = 2 * self.bit + BITE
        met = set()
        reach = 0.0
        for off in (-self.width / 2, 0.0, self.width / 2):
            start = spot.at.plus(spot.along, off).plus(spot.out, CRUMB)
            ray = shapely.LineString([start, start.plus(spot.out, far)])
            hits = [
                (ray.intersection(self.parts[j]), j) for j in self.tree.query(ray, predicate="intersects").tolist()
            ]
            from_here = shapely.Point(start)
            gaps = sorted((from_here.distance(piece), j) for piece, j in hits if j != i or piece.length > CRUMB)
            if not gaps:
                return -1, 0.0
            met.add(gaps[0][1])
            reach = max(reach, gaps[0][0])
        return (met.pop(), reach) if len(met) == 1 and i not in met and self.freed[_only(met)].hangs else (-1, 0.0)

    def _stands(self, box: Polygon, spot: Spot, others: tuple[int, ...]) -> bool:
        """Whether passes leave the tab without leaving wood anywhere else: on other parts, on edges that stay clean,
        in the part's own notches."""
        import shapely

        near = self.tree.query(box, predicate="dwithin", distance=self.bit).tolist()
        if any(j not in others for j in near) or box.intersects(self.taken) or not self.board.contains(box):
            return False
        if any(box.distance(line) < self.bit / 2 for i in others for line in self.lines[i]):
            return False
        ahead = shapely.Polygon(_corners(spot, self.width / 2 + self.bit, 0.5, self.bit + BITE))
        return not ahead.intersects(self.parts[others[0]])

    def chosen(self, skin: set[int]) -> tuple[list[Tab], set[int]]:
        """As many tabs for each part as it should have, spread as far as they go, and the parts left with too few, or
        with none but on parts that a skin holds."""
        tabs: list[Tab] = []
        short, blocked = set(), {n for n, tab in enumerate(self.every) if tab.parts[0] in skin}
        for i in self.order:
            if i in skin:
                continue
            one, own = self.freed[i], [tab for tab in tabs if i in tab.parts]
            room = [n for n in self.spans[i] if n not in blocked]
            while len(own) < wanted_tabs(one.ring, one.borne) and room:
                best = max(room, key=lambda n: _room(self.every[n].at, [tab.at for tab in own]))
                own.append(self.every[best])
                tabs.append(self.every[best])
                blocked |= self.near(best)
                room = [n for n in room if n not in blocked]
            firm = any(skin.isdisjoint(tab.parts) for tab in own)
            if not firm or not enough(one.ring, [tab.at for tab in own], one.borne):
                short.add(i)
        return tabs, short

    def near(self, number: int) -> set[int]:
        """The tabs that stand too near to another, and itself."""
        return set(self.boxes.query(self.boxes.geometries[number], "dwithin", distance=self.least).tolist())

    @property
    def least(self) -> float:
        """The room between two tabs."""
        return max(APART * self.width, self.bit + BESIDE)

    def adrift(self, pieces: Sequence[BaseGeometry], skin: set[int]) -> tuple[set[int], set[int]]:
        """The parts to skin because one would come loose: itself, or, if it is skinned, those that take the skin of
        all that it hangs together with; and those that come loose whatever is skinned."""
        more: set[int] = set()
        loose: set[int] = set()
        for i, one in enumerate(self.freed):
            spot = self.parts[i].representative_point()
            piece = next((piece for piece in pieces[1:] if piece.covers(spot)), None)
            if not one.hangs or piece is None:
                continue
            beside = self.tree.query(piece, predicate="dwithin", distance=2 * self.bit).tolist()
            takers = [j for j in beside if self.freed[j].hangs and j not in skin]
            if i not in skin:
                more.add(i)
            elif takers:
                more.add(min(takers, key=lambda j: (self.parts[j].length, j)))
            else:
                loose.add(i)
        return more, loose

    def islands(self, pieces: Sequence[Any]) -> list[Any]:
        """What comes loose and is no part."""
        return [one for one in pieces[1:] if one.area > CHIP and not self.tree.query(one, "intersects").size]

    def bridges(self, tabs: Sequence[Tab], pieces: Sequence[Any]) -> list[Tab]:
        """Tabs by which islands of waste hang on the parts round them, two where there is room."""
        made: list[Tab] = []
        for island in self.islands(pieces):
            beside = self.tree.query(island, "dwithin", distance=self.bit + BITE).tolist()
            room = self._clear([tab for i in sorted(beside) for tab in self._bridges(i, island)], (*tabs, *made))
            for _ in range(BRIDGES):
                own = [tab.at for tab in made]
                best = sorted(room, key=lambda tab: -_room(tab.at, own))[:1]
                made, room = made + best, self._clear(room, best)
        return made

    def _clear(self, room: Sequence[Tab], standing: Sequence[Tab]) -> list[Tab]:
        """Those that stand far enough from all that stand already."""
        from shapely import STRtree

        if not room or not standing:
            return list(room)
        boxes, others = [flat(tab.box) for tab in room], [flat(tab.box) for tab in standing]
        pairs = STRtree(others).query(boxes, "dwithin", distance=self.least).T.tolist()
        near = {i for i, j in pairs if boxes[i].distance(others[j]) < self.least}
        return [tab for i, tab in enumerate(room) if i not in near]

    def _bridges(self, i: int, island: BaseGeometry) -> Iterator[Tab]:
        from shapely import dwithin, points

        along = self._spots(i)
        at = points([(spot.at.x, spot.at.y) for spot in along]) if along else ()
        for spot in compress(along, dwithin(at, island, self.bit + BITE) if along else ()):
            if (tab := self._span(i, spot, island)) is not None:
                yield tab

    def _spots(self, i: int) -> Sequence[Spot]:
        """Where along the part's ring a tab could stand."""
        if i not in self.along:
            one = self.freed[i]
            self.along[i] = tuple(spots(one.ring, one.clean, (self.width + self.bit) / 2))
        return self.along[i]

    def pieces(self, tabs: Sequence[Tab], skin: set[int], thin: float = CRUMB) -> list[Any]:
        """What is left low down after every pass: first what is in one with the edge of the sheet, by more than
        twice `thin`."""
        import shapely

        through = [self.passes[i].difference(part) for i, part in enumerate(self.parts) if i not in skin]
        boxes = shapely.union_all([flat(tab.box) for tab in tabs])
        low = self.board.difference(shapely.union_all(through).difference(boxes)).difference(self.below)
        left = shapely.union_all([low, *self.parts]).buffer(-thin)
        pieces = list(getattr(left, "geoms", (left,)))
        if thin > CRUMB:  # parted there, but as large as they are
            pieces = [piece.buffer(thin - CRUMB) for piece in pieces]
        return sorted(pieces, key=lambda piece: (piece.distance(self.board.boundary) >= 2 * CRUMB, -piece.area))


def flat(outline: Outline) -> Polygon:
    """The polygon whose corners lie on the outline."""
    from shapely import Polygon

    return Polygon(fine_polyline(outline, FINE))


def _ring(island: Any) -> Outline:
    """Round an island, a little coarser: it is a mark only."""
    return polygon(island.buffer(CRUMB).simplify(BESIDE / 10).exterior.coords[:-1]).anticlockwise


def _only(met: set[int]) -> int:
    return next(iter(met))


def _lines(freed: Sequence[Freed]) -> list[list[Any]]:
    """The edges that stay clean, part by part, for distances."""
    import shapely

    return [[shapely.LineString([line.start, line.end]) for line in one.clean] for one in freed]


def _corners(spot: Spot, half: float, near: float, far: float) -> tuple[Point, ...]:
    side = spot.along.times(half)
    low, high = spot.at.plus(spot.out, near), spot.at.plus(spot.out, far)
    return low.minus(side), high.minus(side), high.plus(side), low.plus(side)


def _room(at: Point, own: Sequence[Point]) -> float:
    return round(min((at.distance(other) for other in own), default=inf), 6)
