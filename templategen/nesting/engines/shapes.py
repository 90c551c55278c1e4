"""The shape-nesting library (packingsolver): true outlines on boards of several kinds, faults kept clear of.

It installs on Python 3.12 and later; elsewhere this engine says that it isn't there. It works by the clock, so its
layouts may differ from run to run; the fixed-work mode leaves it out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from importlib.util import find_spec
from math import radians
from random import Random
from time import monotonic
from typing import Any

from templategen.geometry.edge import Arc
from templategen.geometry.outline import Outline, circle, rectangle
from templategen.geometry.placement import Placement
from templategen.nesting.engines.protocol import Progress
from templategen.nesting.stock import Item, Laid, Layout, Piece, Sheet

EASE = 2e-6
"""By how much more than the kerf parts are asked apart, mm: what the library's own arithmetic loses."""

FIRST_QUEUE = 8
"""How many partial layouts the first, quick search keeps."""

WIDEST_QUEUE = 128
"""And the last one; wider ones gained nothing when measured."""

TRIES = 8
"""Every so many searches one goes over all boards."""

QUEUES = (8, 8, 16, 32)
"""How many partial layouts the searches in order keep."""

MOST_ALIKE = 8
"""Pieces of a kind in an order at most."""


class Shapes:
    """True outlines, wider and wider searches over the boards one after another until time is up."""

    name = "shapes"

    @property
    def here(self) -> bool:
        """Whether the library is installed."""
        return find_spec("packingsolver") is not None

    def nest(
        self,
        items: Sequence[Item],
        pieces: Sequence[Piece],
        spacing: float,
        seconds: float | None = None,
        progress: Progress | None = None,
    ) -> Layout:
        """See `Engine.nest`; `seconds` are seconds by the clock here."""
        seconds = 5.0 if seconds is None else seconds
        end = monotonic() + seconds
        best = Layout((), {item.code: item.count for item in items if item.count > 0})
        for found in self.layouts(items, pieces, spacing, end):
            best = found
            if progress is not None:
                progress(max(0.0, min(1.0, 1 - (end - monotonic()) / seconds)))
        return best

    def layouts(self, items: Sequence[Item], pieces: Sequence[Piece], spacing: float, end: float) -> Iterator[Layout]:
        """The best so far after each search, until `end` by the clock.

        Most searches fill boards one after another in an order that chance picks, no more of them than the best
        layout costs; now and then one over all boards is let loose, wider each time.
        """
        known = tuple(item for item in items if item.count > 0)
        single = [replace(piece, count=1) for piece in pieces for _ in range(_alike(piece))]
        back = {replace(piece, count=1): piece for piece in pieces}
        best: Layout | None = None
        dice, tried, wide = Random(1), 0, FIRST_QUEUE
        while monotonic() < end and known and single:
            tried += 1
            if tried % TRIES == 0:
                found = Task(known, tuple(pieces), spacing).solve(end - monotonic(), wide)
                wide = min(2 * wide, WIDEST_QUEUE)
            else:
                order = _affordable(dice.sample(single, len(single)), best)
                found = Task(known, order, spacing).solve(end - monotonic(), dice.choice(QUEUES), "BinPacking")
                found = found and _renamed(found, back)
            if found is not None and not found.unplaced and (best is None or cost_of(found) < cost_of(best)):
                best = found
            yield best or Layout((), {item.code: item.count for item in known})


def _alike(piece: Piece) -> int:
    return MOST_ALIKE if piece.count is None else min(piece.count, MOST_ALIKE)


def _affordable(order: Sequence[Piece], best: Layout | None) -> tuple[Piece, ...]:
    """The first pieces of `order` that together cost less than `best`."""
    kept: list[Piece] = []
    for piece in order:
        if best is None or cost_of(Layout(tuple(Sheet(p, 1, ()) for p in (*kept, piece)))) < cost_of(best):
            kept.append(piece)
    return tuple(kept)


def _renamed(layout: Layout, back: dict[Piece, Piece]) -> Layout:
    """On the pieces of the stock as it was given."""
    sheets = [replace(sheet, piece=back[sheet.piece]) for sheet in layout.sheets]
    return Layout(tuple(_numbered(sheets)), layout.unplaced)


def compacted(layout: Layout, items: Sequence[Item], spacing: float, seconds: float) -> Layout | None:
    """The same, with the emptiest routed piece laid out again so that it leaves the largest offcut."""
    area = {item.code: abs(item.outline.area) for item in items}
    routed = [n for n, sheet in enumerate(layout.sheets) if sheet.piece.mode == "routed"]
    if not routed:
        return None
    number = min(routed, key=lambda n: sum(area[laid.code] for laid in layout.sheets[n].laid))
    sheet = layout.sheets[number]
    counts = Counter(laid.code for laid in sheet.laid)
    few = tuple(replace(item, count=counts[item.code]) for item in items if counts[item.code])
    one = replace(sheet.piece, count=1)
    found = Task(few, (one,), spacing).solve(seconds, None, "BinPackingWithLeftovers")
    if found is None or found.unplaced or len(found.sheets) != 1:
        return None
    sheets = list(layout.sheets)
    sheets[number] = replace(sheet, laid=found.sheets[0].laid)
    return Layout(tuple(sheets), layout.unplaced)


def cost_of(layout: Layout) -> float:
    """Price of the pieces in use, their area where no prices are given."""
    sheets = layout.sheets
    priced = sum(sheet.piece.price for sheet in sheets)
    return priced or sum(sheet.piece.length * sheet.piece.width for sheet in sheets)


@dataclass(frozen=True)
class Task:
    """Items and pieces, told to the library."""

    items: tuple[Item, ...]
    pieces: tuple[Piece, ...]
    spacing: float
    worth: tuple[float, ...] = ()

    def solve(
        self, seconds: float, queue: int | None = None, objective: str = "VariableSizedBinPacking"
    ) -> Layout | None:
        """The best whole layout found, None where none was."""
        import packingsolver.irregular as library

        kinds = [kind for kind, piece in enumerate(self.pieces) if piece.room.width > 0 and piece.room.height > 0]
        if not kinds or not self.items:
            return None
        instance = self._instance(library, kinds, objective)
        found = library.optimize(instance, _parameters(library, seconds, queue, objective)).solution
        if found.number_of_items() == 0:
            return None
        sheets = list(self._sheets(found, kinds))
        laid = Counter(one.code for sheet in sheets for one in sheet.laid)
        left = {item.code: item.count - laid[item.code] for item in self.items if item.count > laid[item.code]}
        return Layout(tuple(_numbered(sheets)), left)

    def _instance(self, library: Any, kinds: Sequence[int], objective: str) -> Any:
        builder = library.InstanceBuilder()
        builder.set_objective(getattr(library.Objective, objective))
        builder.set_item_item_minimum_spacing(self.spacing + EASE)
        priced = any(piece.price > 0 for piece in self.pieces)
        total = sum(item.count for item in self.items)
        for kind in kinds:
            piece, room = self.pieces[kind], self.pieces[kind].room
            shape = _shape(library, rectangle(0, 0, room.width, room.height))
            cost = max(piece.price, 1e-6) if priced else piece.length * piece.width
            count = total if piece.count is None else min(piece.count, total)
            number = builder.add_bin_type(shape, cost=cost, copies=count, item_bin_minimum_spacing=0.0)
            for fault in _faults(piece):
                hole = Placement(-room.left, -room.bottom).outline(fault)
                builder.add_defect(number, 0, library.ShapeWithHoles(_shape(library, hole)))
        for number, item in enumerate(self.items):
            worth = abs(item.outline.area) * (self.worth[number] if self.worth else 1.0)
            grain = all(self.pieces[kind].grain for kind in kinds)
            shape = _shape(library, Placement(turn=item.grain_turn).outline(item.outline))
            turns = [(turn, turn, over) for turn in _turns(grain) for over in _sides(item)]
            outer = library.ShapeWithHoles(shape)
            builder.add_item_type(outer, copies=item.count, allowed_rotations=turns, profit=worth)
        return builder.build()

    def _sheets(self, found: Any, kinds: Sequence[int]) -> Iterator[Sheet]:
        for number in range(found.number_of_different_bins()):
            used = found.bin(number)
            piece = self.pieces[kinds[used.bin_type_id]]
            laid = tuple(self._laid(one, piece) for one in used.items)
            for _ in range(used.copies):
                yield Sheet(piece, 0, laid)

    def _laid(self, one: Any, piece: Piece) -> Laid:
        item = self.items[one.item_type_id]
        own = Placement(turn=item.grain_turn)
        if one.mirror:
            own = own.then(Placement(turned_over=True))
        move = Placement(one.bl_corner.x + piece.room.left, one.bl_corner.y + piece.room.bottom, radians(one.angle))
        return Laid(item.code, own.then(move))


def _turns(grain: bool) -> tuple[float, ...]:
    return (0.0, 180.0) if grain else (0.0, 90.0, 180.0, 270.0)


def _sides(item: Item) -> tuple[bool, ...]:
    return (False, True) if item.may_turn_over else (False,)


def _numbered(sheets: Sequence[Sheet]) -> Iterator[Sheet]:
    numbers: Counter[str] = Counter()
    for sheet in sheets:
        numbers[sheet.piece.name] += 1
        yield Sheet(sheet.piece, numbers[sheet.piece.name], sheet.laid)


def _faults(piece: Piece) -> Iterator[Outline]:
    for x, y, diameter in piece.faults:
        yield circle(x, y, diameter / 2)
    for x, y, length, width in piece.fault_areas:
        yield rectangle(x, y, x + length, y + width)


def _parameters(library: Any, seconds: float, queue: int | None, objective: str) -> Any:
    parameters = library.OptimizeParameters()
    parameters.time_limit = max(0.05, seconds)
    parameters.verbosity_level = 0
    if queue is not None:
        parameters.optimization_mode = library.OptimizationMode.NotAnytimeSequential
        if objective == "Knapsack":
            parameters.use_tree_search = True
            parameters.not_anytime_tree_search_queue_size = queue
        else:
            parameters.use_sequential_single_knapsack = True
            name = "not_anytime_sequential_single_knapsack_subproblem_tree_search_queue_size"
            setattr(parameters, name, queue)
    return parameters


def _shape(library: Any, outline: Outline) -> Any:
    """The outline in the library's words, arcs kept."""
    ring = outline.anticlockwise
    elements = []
    for edge in ring.edges:
        start, end = library.Point(edge.start.x, edge.start.y), library.Point(edge.end.x, edge.end.y)
        if isinstance(edge, Arc):
            way = library.ShapeElementOrientation
            side = way.Anticlockwise if edge.sweep > 0 else way.Clockwise
            centre = library.Point(edge.centre.x, edge.centre.y)
            elements.append(library.build_circular_arc(start, end, centre, side))
        else:
            elements.append(library.build_line_segment(start, end))
    return library.build_shape(elements)
