"""The packing solver at work beside our own engine: what it is asked next, and what comes of its answers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import AbstractContextManager
from math import fsum, inf
from random import Random
from time import monotonic
from typing import Any, Literal

from templategen.nesting.engines.child import Child, able
from templategen.nesting.engines.column_mix import rest_of, wholly_in
from templategen.nesting.engines.column_pool import Pool
from templategen.nesting.engines.packing import FILLING_QUEUES, HAIR, Packing
from templategen.nesting.engines.refill import HAIRS, Refill
from templategen.nesting.stock import Item, Laid, Piece

Found = list[tuple[int, tuple[Laid, ...]]]
"""Filled pieces by kind."""

Role = Literal["steady", "varied"]
"""`steady` is given all its time, as alone; `varied` tries sets and orders of pieces."""

SET_SECONDS = 8.0
"""A set of pieces is given so long at most."""

OPENING = 1.5
"""The steady search is given so long for its quick rounds, before the wide ones."""

PIECE_SECONDS = 3.0
"""One piece is given so long at most."""

REST_SECONDS = 5.0
"""What is over when the cheapest mix is rounded down is given so long at most."""

LOOSE = 0.75
"""Parts that take no larger share of a piece are sure to find room on it."""

SAME_COST = 1e-9
"""Costs that differ by a smaller share are one."""

MOST_SHEETS = 30
"""In larger jobs the solver alone chooses among sets of pieces."""

WIDER = 12
"""The search gets wider after so many requests."""

REST = 4
"""One in so many requests for a batch is for what is over when the cheapest mix is rounded down."""

MOST_PARTS = 200
"""Sets of more parts aren't laid out whole in a batch."""

CHANCE_QUEUES = (4, 6, 8, 10, 12, 16, 20, 24)
"""How wide the solver then searches: what comes of it differs much, and a narrow search is soon done."""

AHEAD = 2
"""So many requests for single pieces wait at the solver, so that it never has to."""

NUMBERS, REFILLS = 10**6, 10**7
"""Numbers of requests for a rest, and for pieces filled again, begin here."""


class SolverProcess(AbstractContextManager["SolverProcess"]):
    """One process with the solver, on one set of a batch; `pool` takes single pieces of the whole batch."""

    def __init__(
        self, items: Sequence[Item], pieces: Sequence[Piece], spacing: float, seconds: float, role: Role = "steady"
    ) -> None:
        self.packing, self.role = Packing(items, pieces, spacing), role
        self.end = monotonic() + seconds
        self.child = Child(seconds) if able() and self.packing.possible else None
        self.random, self.asked, self.waiting = Random(role), 0, 0
        self.tried_single = 0
        self.refill: Refill | None = None
        self.begun = inf
        self.awaited: set[int] = set()
        self.rest: Packing | None = None
        self.rest_due = 0
        self.taken: Found = []

    def __enter__(self) -> SolverProcess:
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

    @property
    def busy(self) -> bool:
        """Whether it works on something now."""
        return self.alive and self.waiting > 0

    def heard(self, pool: Pool | None, wait: float = 0.0) -> Iterator[tuple[Found, bool]]:
        """What was found since: the filled pieces of a layout, and whether it is of the whole batch."""
        if self.child is None:
            return
        for answer in self.child.answers(wait):
            if "done" in answer:
                self.waiting -= 1
                continue
            if self.refill is not None and answer.get("number") in self.refill.asked:
                if (filled := self.refill.take(answer)) is not None:
                    yield filled, False
                continue
            whole = self.rest is not None and answer.get("number") in self.rest.asked
            found = self.rest.read(answer) if whole and self.rest is not None else self.packing.read(answer)
            if pool is not None:
                for kind, laid in found:
                    pool.add(kind, laid)
            if found and answer.get("number") not in self.awaited:
                yield (self.taken + found if whole else found), whole

    def ask(self, best: float, sheets: int, least: float, pool: Pool | None) -> None:
        """Puts the next request, where one is due; `best` is what one set costs so far, `least` its bound."""
        left = self.end - monotonic()
        ahead = AHEAD if pool is not None and pool.prices.columns and self.role == "varied" else 1
        while self.child is not None and self.alive and self.waiting < ahead and left > 0.1:
            request = self._next(left, best, sheets, least, pool)
            if request is None or not self.child.ask(request):
                return
            self.begun = min(self.begun, monotonic())
            self.asked += 1
            self.waiting += 1

    def _next(self, left: float, best: float, sheets: int, least: float, pool: Pool | None) -> dict[str, Any] | None:
        if pool is not None and (self.role == "varied" or not self._steadily()):
            return self._of_batch(pool, left)
        single = self._single(best, sheets, least)
        if self.role == "steady":
            if single is not None:
                return self.packing.shortest(single, left)
            skipped = self.packing.skipped(left)
            if skipped and not self.asked:
                return self.packing.best_mix(min(left, OPENING))
            return self.packing.best_mix(left, skipped)
        self.packing.hair = HAIR + (HAIRS - HAIR) * self.random.random()
        if single is not None:
            self.tried_single += sheets != 1
            return self.packing.shortest(single, left if sheets == 1 else left / 2)
        return self._of_boards(left, best, sheets, least)

    def _of_boards(self, left: float, best: float, sheets: int, least: float) -> dict[str, Any] | None:
        """A few boards of a cheaper set filled again; where no set is hopeful everything on boards of the solver's
        choice, perhaps without one kind."""
        if 0 < sheets <= MOST_SHEETS:
            self.refill = self.refill or Refill(self.packing, self.random, REFILLS)
            if (request := self.refill.ask(best, sheets, least, left)) is not None:
                return request
        kinds = [kind for kind, piece in enumerate(self.packing.pieces) if piece.count != 0]
        gone = self.random.choice([*kinds, -1]) if len(kinds) > 1 else -1
        fewer = [kind for kind in kinds if kind != gone]
        return self.packing.part_mix(fewer, self.random.choice(CHANCE_QUEUES), min(left, SET_SECONDS))

    def _of_batch(self, pool: Pool, left: float) -> dict[str, Any] | None:
        """A piece filled by the prices now; now and then what is over when the cheapest mix is rounded down."""
        if not pool.prices.columns:
            return None
        if self.role == "varied" and pool.settled and self.asked >= self.rest_due:
            self.rest_due = self.asked + REST
            pool.prices.master.solve()
            taken = wholly_in(pool.job, pool.prices)
            items, pieces = rest_of(taken, pool.job.items, pool.job.pieces)
            if any(item.count for item in items):
                first = NUMBERS if self.rest is None else self.rest.number
                self.rest, self.taken = (
                    Packing(items, pieces, pool.job.spacing, first),
                    [(u.kind, u.laid) for u in taken],
                )
                return self.rest.best_mix(min(left, REST_SECONDS))
        kind = self.asked % len(self.packing.pieces)
        values = {code: value * self.random.uniform(0.97, 1.03) for code, value in pool.values.items()}
        queue = FILLING_QUEUES[min(self.asked // WIDER, len(FILLING_QUEUES) - 1)]
        request = self.packing.fullest(kind, values, pool.job.demand.left, queue, min(left, PIECE_SECONDS))
        self.awaited.add(request["number"])
        return request

    def _steadily(self) -> bool:
        """Whether one set of a batch is small enough to be laid out whole, better and better."""
        return sum(item.count for item in self.packing.items) <= MOST_PARTS

    def _priced(self, wanted: float) -> int:
        """The kind of piece whose cost is nearest."""
        costs = self.packing.costs
        return min(range(len(costs)), key=lambda kind: (abs(costs[kind] - wanted), kind))

    def _single(self, best: float, sheets: int, least: float) -> int | None:
        """The one piece that everything lies on, or may lie on if the bound is met."""
        wanted = best if sheets == 1 else least
        kind = self._priced(wanted)
        same = abs(self.packing.costs[kind] - wanted) <= SAME_COST * max(1.0, wanted)
        if not same or (sheets != 1 and (self.tried_single or not (self._loose(kind) or self.role == "varied"))):
            return None
        return kind

    def _loose(self, kind: int) -> bool:
        """Whether one piece has room to spare for everything."""
        room = self.packing.pieces[kind].room
        need = fsum(item.count * abs(item.outline.area) for item in self.packing.items)
        return need <= LOOSE * room.width * room.height
