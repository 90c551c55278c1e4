"""The packing solver (an outside library, where it is installed) on routed stock, in a process of its own.

It knows shapes of any form, and so finds layouts that lanes can't; it works by the clock, so what it finds may differ
from run to run. What it says is put into our terms here and proved elsewhere.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from math import acos, cos, degrees, isfinite, log2, pi, radians, sin
from typing import Any

from templategen.geometry.edge import Arc
from templategen.geometry.placement import QUARTER, Placement
from templategen.nesting.cross_section import polygon_ring
from templategen.nesting.engines.job import costs_of
from templategen.nesting.stock import Item, Laid, Layout, Piece, Sheet

HAIR = 1e-4
"""The solver keeps parts so much further apart than asked, mm: what its rounding takes."""

FILLING_QUEUES = (16, 32, 32, 64)
"""How wide it searches for what is worth most on one piece, wider from round to round."""

START, START_RATIO = (
    "anytime_sequential_single_knapsack_subproblem_tree_search_initial_queue_size",
    "initial_maximum_approximation_ratio",
)
FIRST_RATIO, RATIO_FACTOR = 0.2, 0.75
"""The solver's own: how roughly curves are taken at first, and the factor for each round."""

ROUND, ROUND_PARTS, ROUND_POWER = 0.11, 72, 1.5
"""What the solver's first round takes on an ordinary machine, seconds, for so many parts; with more parts it grows by
this power. Every round takes twice as long as the one before."""

SKIPPED = 0.2
"""The first wide round may take such a share of the time."""

LEAST_SKIPPED, MOST_SKIPPED = 4, 6
"""Rounds left out at least, where any are, and at most: a wider round doesn't always find what a narrower one did, so
two minutes begin with the rounds of forty seconds, which cost them little."""

QUEUE = "not_anytime_sequential_single_knapsack_subproblem_tree_search_queue_size"
ONE_QUEUE = "not_anytime_tree_search_queue_size"

MOST_SETS = 4000
"""Sets of pieces listed at most."""

FINE = 0.02
"""How far a polygon round a part may be from its arc, mm."""

CORNERS = 48
"""Corners of the polygon that stands for a knot."""

ENDLESS = 10**6
"""Stands for as many pieces as needed in a request."""


class Packing:
    """A job put to the solver: requests, and what their answers mean."""

    def __init__(self, items: Sequence[Item], pieces: Sequence[Piece], spacing: float, first: int = 0) -> None:
        self.items = [item for item in items if item.count > 0]
        self.pieces, self.spacing = list(pieces), spacing
        self.costs = costs_of(pieces)
        self.number = first
        self.hair = HAIR
        self.asked: dict[int, list[int]] = {}

    @property
    def possible(self) -> bool:
        """Whether the job is of a sort that the solver is given: routed, one spacing for all."""
        same = len({piece.apart(self.spacing) for piece in self.pieces}) == 1
        return bool(self.items and same) and all(piece.mode == "routed" for piece in self.pieces)

    def whole(self, kinds: Sequence[int], queue: int, seconds: float) -> dict[str, Any]:
        """Lay everything on these pieces, one after another in this order."""
        bins = [self._bin(kind, 1) for kind in kinds]
        options = {"use_sequential_single_knapsack": True, QUEUE: queue}
        return self._request(kinds, bins, "BinPacking", "NotAnytimeSequential", seconds, options)

    def best_mix(self, seconds: float, skipped: int = 0) -> dict[str, Any]:
        """Lay everything at least cost, better and better; so many of the first, quick rounds are left out."""
        kinds = [kind for kind, piece in enumerate(self.pieces) if piece.count != 0]
        bins = [self._whole_bin(kind, self.pieces[kind].count or ENDLESS) for kind in kinds]
        options: dict[str, Any] = {"use_sequential_single_knapsack": True}
        if skipped:
            options |= {START: 2**skipped, START_RATIO: FIRST_RATIO * RATIO_FACTOR**skipped}
        request = self._request(kinds, bins, "VariableSizedBinPacking", "Anytime", seconds, options)
        return request | {"spacing": self.pieces[0].apart(self.spacing)}

    def skipped(self, seconds: float) -> int:
        """How many rounds `best_mix` may leave out, so that the wide ones come sooner."""
        parts = sum(item.count for item in self.items)
        first = ROUND * max(1.0, parts / ROUND_PARTS) ** ROUND_POWER
        rounds = round(log2(max(1.0, SKIPPED * seconds / first)))
        return min(MOST_SKIPPED, rounds) if rounds >= LEAST_SKIPPED else 0

    def shortest(self, kind: int, seconds: float) -> dict[str, Any]:
        """Lay everything on one piece in the least of its length, better and better."""
        return self._request([kind], [self._bin(kind, 1)], "OpenDimensionX", "Anytime", seconds, {})

    def part_mix(self, kinds: Sequence[int], queue: int, seconds: float) -> dict[str, Any]:
        """Lay everything at least cost on these kinds of pieces, once."""
        bins = [self._bin(kind, self.pieces[kind].count or ENDLESS) for kind in kinds]
        options = {"use_sequential_single_knapsack": True, QUEUE: queue}
        return self._request(kinds, bins, "VariableSizedBinPacking", "NotAnytimeSequential", seconds, options)

    def fullest(
        self, kind: int, values: Mapping[str, float], left: Mapping[str, int], queue: int, seconds: float
    ) -> dict[str, Any]:
        """Lay what is worth most on one piece."""
        request = self._request(
            [kind], [self._bin(kind, 1)], "Knapsack", "NotAnytimeSequential", seconds,
            {"use_tree_search": True, ONE_QUEUE: queue},
        )  # fmt: skip
        request["partial"] = True
        for shape, item in zip(request["items"], self.items, strict=True):
            shape["profit"] = max(1e-3, values.get(item.code, 0.0))
            shape["copies"] = max(1, left[item.code])
        return request

    def read(self, answer: Mapping[str, Any]) -> list[tuple[int, tuple[Laid, ...]]]:
        """The pieces of an answer: kind, and what lies there; nothing where it makes no sense."""
        try:
            kinds = self.asked[answer["number"]]
            return [(kinds[place], laid) for place, laid in self.read_bins(answer)]
        except (KeyError, IndexError, TypeError):
            return []

    def read_bins(self, answer: Mapping[str, Any]) -> list[tuple[int, tuple[Laid, ...]]]:
        """The same, with the place of each piece among those asked for instead of its kind."""
        try:
            found = []
            for one in answer["layout"]:
                laid = tuple(self._laid(*part) for part in one["parts"])
                found += [(int(one["bin"]), laid)] * int(one["copies"])
            return found
        except (KeyError, IndexError, TypeError, ValueError):
            return []

    def layout(self, found: Sequence[tuple[int, tuple[Laid, ...]]]) -> Layout:
        """The layout of these pieces."""
        numbers: Counter[str] = Counter()
        left = Counter({item.code: item.count for item in self.items})
        sheets = []
        for kind, laid in sorted(found, key=lambda one: one[0]):
            piece = self.pieces[kind]
            numbers[piece.name] += 1
            sheets.append(Sheet(piece, numbers[piece.name], laid))
            left.subtract(one.code for one in laid)
        return Layout(tuple(sheets), {code: count for code, count in left.items() if count > 0})

    def _laid(self, item: int, x: float, y: float, turn: float, over: bool) -> Laid:
        if over or not all(isfinite(value) for value in (x, y, turn)):
            raise ValueError("a part that lies nowhere")
        one = self.items[item]
        quarters = round(radians(turn) / QUARTER)
        return Laid(one.code, Placement(x, y, one.grain_turn + quarters * QUARTER))

    def _request(
        self,
        kinds: Sequence[int],
        bins: list[Any],
        objective: str,
        mode: str,
        seconds: float,
        options: dict[str, Any],
    ) -> dict[str, Any]:
        self.number += 1
        self.asked[self.number] = list(kinds)
        return {
            "number": self.number, "bins": bins, "objective": objective, "mode": mode, "seconds": seconds,
            "options": options, "partial": False, "items": [self._item(item) for item in self.items],
            "spacing": self.pieces[0].apart(self.spacing) + self.hair,
        }  # fmt: skip

    def _item(self, item: Item) -> dict[str, Any]:
        along = Placement(turn=item.grain_turn).outline(item.outline)
        grain = any(piece.grain for piece in self.pieces)
        turns = (0.0, pi) if grain else (0.0, QUARTER, pi, 3 * QUARTER)
        allowed = [(degrees(turn), False) for turn in turns]
        return {"ring": polygon_ring(along, True, _fine), "copies": item.count, "turns": allowed}

    def _whole_bin(self, kind: int, copies: int) -> dict[str, Any]:
        """The piece as a maker would tell it, where one margin goes all round: the search takes another course with
        sizes that differ by a hair, and this is how the solver is asked by itself."""
        piece, told = self.pieces[kind], self._bin(kind, copies)
        margin = piece.margins[0]
        if len(set(piece.margins)) > 1 or max(piece.bad_ends) > margin:
            return told
        return told | {"box": (0.0, piece.length, 0.0, piece.width), "edge": margin}

    def _bin(self, kind: int, copies: int) -> dict[str, Any]:
        piece, room = self.pieces[kind], self.pieces[kind].room
        defects = [_round(x, y, diameter / 2) for x, y, diameter in piece.defects if diameter > 0]
        defects += [((x, y), (x + u, y), (x + u, y + v), (x, y + v)) for x, y, u, v in piece.defect_areas]
        box = room.left, room.right, room.bottom, room.top
        return {"box": box, "cost": self.costs[kind], "copies": copies, "defects": defects}


def _fine(arc: Arc) -> float:
    """The angle of a side whose corners stand so far outside its arc."""
    return min(2 * acos(arc.radius / (arc.radius + FINE)), pi / 4)


def _round(x: float, y: float, radius: float) -> tuple[tuple[float, float], ...]:
    """A polygon round a knot."""
    reach, steps = radius / cos(pi / CORNERS), range(CORNERS)
    return tuple((x + reach * cos(2 * pi * n / CORNERS), y + reach * sin(2 * pi * n / CORNERS)) for n in steps)


def cheaper_sets(costs: Sequence[float], counts: Sequence[int | None], least: float, below: float) -> list[list[int]]:
    """Sets of pieces that cost at least `least` and less than `below`, dearest first; none where they are many."""
    found: list[tuple[float, list[int]]] = []
    waiting: list[tuple[int, float, list[int]]] = [(0, 0.0, [])]
    steps = 0
    while waiting:
        kind, cost, kinds = waiting.pop()
        steps += 1
        if steps > 20 * MOST_SETS or len(found) > MOST_SETS:
            return []
        if kind == len(costs):
            if kinds and cost >= least:
                found.append((cost, kinds))
            continue
        most = counts[kind]
        number = 0
        while cost + number * costs[kind] < below and (most is None or number <= most):
            waiting.append((kind + 1, cost + number * costs[kind], kinds + [kind] * number))
            if costs[kind] <= 0:
                break
            number += 1
    return [kinds for _, kinds in sorted(found, key=lambda one: (-one[0], one[1]))]
