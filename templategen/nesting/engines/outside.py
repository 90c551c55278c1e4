"""The packing solver at work beside our own engine: what it is asked next, and what comes of its answers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import AbstractContextManager
from math import fsum
from random import Random
from time import monotonic

from templategen.nesting.engines.child import Child, able
from templategen.nesting.engines.packing import QUEUES, Packing, cheaper_sets, shuffled
from templategen.nesting.engines.pool import Pool
from templategen.nesting.stock import Item, Laid, Layout, Piece

Found = tuple[Layout, list[tuple[int, tuple[Laid, ...]]]]
"""A layout of one set, and its pieces by kind."""

SET_SECONDS = 8.0
"""A set of pieces is given so long at most."""

PIECE_SECONDS = 2.0
"""One piece is given so long at most."""

HOPE = 0.85
"""How far down from the best cost to the bound sets of pieces are tried, as a share."""

LOOSE = 0.75
"""Parts that take no larger share of a piece are sure to find room on it."""

SAME_COST = 1e-9
"""Costs that differ by a smaller share are one."""

MOST_SHEETS = 30
"""Larger jobs aren't laid out whole by the solver."""


class Outside(AbstractContextManager["Outside"]):
    """One process with the solver, on one set of a batch; `pool` takes single pieces of the whole batch."""

    def __init__(
        self, items: Sequence[Item], pieces: Sequence[Piece], spacing: float, seconds: float, seed: int
    ) -> None:
        self.packing = Packing(items, pieces, spacing)
        self.end = monotonic() + seconds
        self.child = Child(seconds) if able() and self.packing.possible else None
        self.random, self.seed, self.asked = Random(seed), seed, 0
        self.busy, self.tried_single = False, 0
        self.limit: tuple[float, int] = (0.0, 0)
        self.sets: list[list[int]] = []
        self.awaited: set[int] = set()

    def __enter__(self) -> Outside:
        if self.child is not None:
            self.child.__enter__()
        return self

    def __exit__(self, *_: object) -> None:
        if self.child is not None:
            self.child.close()

    @property
    def alive(self) -> bool:
        """Whether there is a solver to ask."""
        return self.child is not None and self.child.alive

    def work(self, best: float, sheets: int, least: float, pool: Pool | None, wait: float = 0.0) -> Iterator[Found]:
        """What was found since, and the next request; `best` is what one set costs so far, `least` its bound."""
        if self.child is None:
            return
        for answer in self.child.answers(wait):
            if "done" in answer:
                self.busy = False
                continue
            found = self.packing.read(answer)
            if pool is not None:
                for kind, laid in found:
                    pool.add(kind, laid)
            if found and answer.get("number") not in self.awaited:
                yield self.packing.layout(found), found
        if not self.busy and self.alive:
            self._ask(best, sheets, least, pool)

    def _ask(self, best: float, sheets: int, least: float, pool: Pool | None) -> None:
        left = self.end - monotonic()
        if left <= 0.1 or self.child is None:
            return
        self.asked += 1
        if pool is not None and pool.prices.columns and self.asked % 3:
            kind = self.random.randrange(len(self.packing.pieces))
            values = {code: value * self.random.uniform(0.95, 1.05) for code, value in pool.values.items()}
            queue = self.random.choice(QUEUES) * 2
            request = self.packing.fullest(kind, values, pool.job.demand.left, queue, min(left, PIECE_SECONDS))
            self.awaited.add(request["number"])
        elif (single := self._single(best, sheets, least)) is not None:
            self.tried_single += sheets != 1
            request = self.packing.shortest(single, left if sheets == 1 or self._loose(single) else left / 2)
        elif self.seed == 1 or not 0 < sheets <= MOST_SHEETS or not (kinds := self._set(best, sheets, least)):
            request = self.packing.best_mix(left)
        else:
            request = self.packing.whole(kinds, self.random.choice(QUEUES), min(left, SET_SECONDS))
        self.busy = self.child.ask(request)

    def _single(self, best: float, sheets: int, least: float) -> int | None:
        """The one piece that everything lies on, or may lie on if the bound is met."""
        costs = self.packing.costs
        if sheets != 1 and self.tried_single:
            return None
        wanted = best if sheets == 1 else least
        kind = min(range(len(costs)), key=lambda kind: (abs(costs[kind] - wanted), kind))
        return kind if abs(costs[kind] - wanted) <= SAME_COST * max(1.0, wanted) else None

    def _loose(self, kind: int) -> bool:
        """Whether one piece has room to spare for everything."""
        room = self.packing.pieces[kind].room
        need = fsum(item.count * abs(item.outline.area) for item in self.packing.items)
        return need <= LOOSE * room.width * room.height

    def _set(self, best: float, sheets: int, least: float) -> list[int]:
        """A set of pieces cheaper than the best known, not much cheaper as a rule, in any order."""
        if (best, sheets) != self.limit:
            self.limit = best, sheets
            counts = [piece.count for piece in self.packing.pieces]
            self.sets = cheaper_sets(self.packing.costs, counts, least, best * (1 - 1e-9))
        if not self.sets:
            return []
        hopeful = best - (best - least) * HOPE * self.random.random()
        for kinds in self.sets:
            if fsum(self.packing.costs[kind] for kind in kinds) < hopeful:
                return shuffled(kinds, self.random)
        return shuffled(self.random.choice(self.sets), self.random)
