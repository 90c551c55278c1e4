"""Imposition: templates that share sheets, so that fewer are printed and fewer seams are joined."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, pi

from templategen.drawing.move import placed_box
from templategen.drawing.pattern import Pattern, Template, as_one
from templategen.drawing.template import stacked
from templategen.geometry.bounds import Bounds
from templategen.geometry.placement import Placement
from templategen.paper.correction import correction_of
from templategen.paper.grid import FOOT, SIDE, paper_size
from templategen.paper.tiles import PAD
from templategen.paper.tiling import Tiled, tiled
from templategen.table.profile.model_of_shop import Paper

GAP = 5.0
"""Paper between two templates, to cut between, mm."""

SPARE = 0.5
"""Kept free of a canvas for rounding, mm."""


@dataclass(frozen=True, slots=True)
class Imposed:
    """Templates tiled as one pattern: `alone` is how many pages each would take by itself, `naive` the plain way."""

    templates: tuple[Template, ...]
    tiled: Tiled
    alone: int
    naive: int


@dataclass(frozen=True, slots=True)
class _Item:
    template: Template
    pattern: Pattern
    """Lying: no taller than it is wide."""
    alone: Tiled
    box: Bounds


@dataclass(frozen=True, slots=True)
class _Canvas:
    """Room for templates: what one page shows, and how far the next one reaches."""

    step: float
    lap: float
    height: float

    def columns(self, width: float) -> int:
        return max(1, ceil((width + 2 * PAD + SPARE - self.lap) / self.step - 1e-9))

    def width(self, columns: int) -> float:
        return columns * self.step + self.lap - 2 * PAD - SPARE


Placed = list[tuple[_Item, Placement]]


def impose(templates: Sequence[Template], paper: Paper) -> tuple[tuple[Imposed, ...], tuple[Imposed, ...]]:
    """The templates on the fewest sheets that are found, and each by itself, to be printed again alone.

    Raises:
        OutputError: as `tiled`.
    """
    items = [_item(template, paper) for template in templates]
    by_size = sorted(
        items, key=lambda item: (-item.alone.pages, -item.box.width, -item.box.height, item.template.code)
    )
    plans = [plan for canvases in _canvases(paper) if (plan := _packed(by_size, canvases))]
    made = [tuple(_imposed(group, paper) for group in groups) for groups in _nearly_least(plans)]
    apart = tuple(Imposed((item.template,), item.alone, item.alone.pages, item.alone.naive) for item in items)
    best = min((*made, apart), key=lambda some: sum(one.tiled.pages for one in some))
    kept = [part for one in best for part in _apart_unless_fewer(one, items)]
    order = {template.code: number for number, template in enumerate(templates)}
    return tuple(sorted(kept, key=lambda one: (min(order[t.code] for t in one.templates),))), apart


def _item(template: Template, paper: Paper) -> _Item:
    ways = [as_one(stacked(template.faces))]
    if len(template.faces) > 1:
        ways.append(as_one(stacked(template.faces, beside=True)))
    box = ways[0].box
    lying = ways[0].placed(Placement(turn=pi / 2)) if box.height > box.width else ways[0]
    return _Item(template, lying, tiled(ways, paper), lying.box)


def _canvases(paper: Paper) -> Iterator[tuple[_Canvas, ...]]:
    """Each way to hold a page alone, then all of them to choose from."""
    width, height = paper_size(paper)
    if height is None:
        return
    correction = correction_of(paper)
    stretch = max(correction.across, correction.up) * (1 + abs(correction.lean))
    every = []
    for across, up in ((width, height), (height, width)):
        window = ((across - 2 * paper.margin - SIDE) / stretch, (up - 2 * paper.margin - FOOT) / stretch)
        for long, short in (window, window[::-1]):
            every.append(_Canvas(long - paper.overlap, paper.overlap, short - 2 * PAD - SPARE))
    yield from ((one,) for one in every)
    yield tuple(every)


def _packed(items: Sequence[_Item], canvases: Sequence[_Canvas]) -> list[tuple[int, Placed]]:
    """Groups with the columns each takes: every item opens the cheapest canvas, later ones fill its room."""
    waiting, groups = list(items), []
    while waiting:
        first = waiting[0]
        fitting = [canvas for canvas in canvases if first.box.height <= canvas.height]
        if not fitting:
            groups.append((first.alone.pages, [(first, Placement())]))
            waiting.pop(0)
            continue
        fills = []
        for canvas in fitting:
            columns = canvas.columns(first.box.width)
            placed = _filled(waiting, canvas.width(columns), canvas.height)
            saved = sum(item.alone.pages for item, _ in placed) - columns
            fills.append((saved / columns, len(placed), -columns, placed))
        _, _, columns, placed = max(fills, key=lambda fill: fill[:3])
        groups.append((-columns, placed))
        used = {item.template.code for item, _ in placed}
        waiting = [item for item in waiting if item.template.code not in used]
    return groups


def _filled(items: Sequence[_Item], width: float, height: float) -> Placed:
    """What goes on a canvas: the first item, then whatever fits the free rectangles left, cut edge to edge."""
    free = [(0.0, 0.0, width + GAP, height + GAP)]
    placed: Placed = []
    for item in items:
        box = item.box
        options = []
        for turn, (w, h) in ((0.0, (box.width, box.height)), (pi / 2, (box.height, box.width))):
            if turn and not placed:
                continue
            for room in free:
                spare = room[2] - w - GAP, room[3] - h - GAP
                if min(spare) >= -1e-9:
                    options.append((min(spare), turn, room, w + GAP, h + GAP))
        if not options:
            if not placed:
                return [(item, Placement())]
            continue
        _, turn, room, w, h = min(options)
        free.remove(room)
        free += _split(room, w, h)
        turned = placed_box(box, Placement(turn=turn))
        placed.append((item, Placement(room[0] - turned.left, room[1] - turned.bottom, turn)))
    return placed


def _split(room: tuple[float, float, float, float], w: float, h: float) -> list[tuple[float, float, float, float]]:
    """What is left of a free rectangle: a long strip above, and the rest beside."""
    x, y, width, height = room
    if width - w < height - h:
        return [(x, y + h, width, height - h), (x + w, y, width - w, h)]
    return [(x + w, y, width - w, height), (x, y + h, w, height - h)]


def _nearly_least(plans: Sequence[list[tuple[int, Placed]]]) -> list[list[Placed]]:
    """The plans of fewest columns."""
    counts = [sum(columns for columns, _ in plan) for plan in plans]
    least = min(counts, default=0)
    return [[placed for _, placed in plan] for count, plan in zip(counts, plans, strict=True) if count == least][:1]


def _imposed(group: Placed, paper: Paper) -> Imposed:
    alone = sum(item.alone.pages for item, _ in group)
    naive = sum(item.alone.naive for item, _ in group)
    templates = tuple(item.template for item, _ in group)
    if len(group) == 1:
        return Imposed(templates, group[0][0].alone, alone, naive)
    return Imposed(templates, tiled((as_one(item.pattern.placed(way) for item, way in group),), paper), alone, naive)


def _apart_unless_fewer(one: Imposed, items: Sequence[_Item]) -> Iterator[Imposed]:
    """A group as it is when it saves sheets, else its templates apart."""
    if len(one.templates) == 1 or one.tiled.pages < one.alone:
        yield one
        return
    codes = {template.code for template in one.templates}
    for item in items:
        if item.template.code in codes:
            yield Imposed((item.template,), item.alone, item.alone.pages, item.alone.naive)
