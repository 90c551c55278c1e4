"""Taking up and filling again with the packing solver: a few pieces of a layout at a time, on ever cheaper sets of
pieces.

The solver fills pieces one after another, and the last ones badly. So a set of pieces cheaper than the best known is
filled as well as can be, what found no room being laid on spare pieces that don't count; then two or three of its
pieces are taken up and filled again with their parts and those, and again, until nothing is left over. Of several
sets those that come nearest have most turns.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from math import fsum
from random import Random
from typing import Any

from templategen.nesting.area import grown_area, room_area
from templategen.nesting.engines.objective import by_bisection
from templategen.nesting.engines.packing import HAIR, Packing, cheaper_sets
from templategen.nesting.stock import Laid

QUEUES = (2, 3, 4, 6, 8, 12, 16)
"""How wide the solver searches when pieces are filled again: what comes of it differs much, a narrow search is soon
done."""

FRESH_QUEUES = (3, 4, 6, 8)
"""How wide when a whole set is filled."""

TAKEN = (2, 2, 2, 3)
"""How many pieces are taken up at once."""

FRESH = 0.1
"""How often a set is filled afresh, in another order."""

KEPT = 4
"""So many layouts of a set are gone on from."""

LIKED = 0.7
"""How often an order that did well is tried again, two of its pieces exchanged."""

WORSE = 0.005
"""A layout may leave more over than before by so much of all parts' area, less as a rule."""

WEARY = 40.0
"""Turns after which what a set leaves over counts double."""

KNOWN = 4
"""One in so many turns goes to a set not yet tried."""

HAIRS = 0.02
"""The widest hair, mm: the solver's search takes another course with another hair."""

SPARE = 3
"""Spare pieces, for what finds no room."""

SECONDS = 8.0
"""A request is given so long at most."""

MIDDLE = 1, 2
"""Of sets by their fullness the one in the middle is tried first."""

Filled = tuple[int, tuple[Laid, ...]]
"""A piece by its kind, and what lies on it."""


@dataclass(frozen=True, slots=True)
class Attempt:
    """Pieces filled, and the area of the parts that found no room, mm2."""

    missing: float
    pieces: tuple[Filled, ...]
    left: Counter[str]


@dataclass
class Runner:
    """A set under way."""

    attempts: list[Attempt] = field(default_factory=list)
    orders: list[tuple[float, tuple[int, ...]]] = field(default_factory=list)
    turns: int = 0

    @property
    def missing(self) -> float:
        """What the best attempt leaves over."""
        return min((one.missing for one in self.attempts), default=float("inf"))


@dataclass(frozen=True, slots=True)
class Asked:
    """A request under way: its set, the order of the pieces to be filled, and what lies on the others."""

    kinds: tuple[int, ...]
    packing: Packing
    order: tuple[int, ...]
    kept: tuple[Filled, ...]
    before: Attempt | None


class Refill:
    """The search on one job; `ask` and `take` go by turns. Its requests are numbered from `first`."""

    def __init__(self, packing: Packing, random: Random, first: int) -> None:
        self.packing, self.random, self.number = packing, random, first
        self.demand = Counter({item.code: item.count for item in packing.items})
        self.area = {item.code: abs(item.outline.area) for item in packing.items}
        between = packing.pieces[0].apart(packing.spacing)
        self.need = fsum(item.count * grown_area(item.outline, between / 2) for item in packing.items)
        self.rooms = [room_area(piece, between / 2) for piece in packing.pieces]
        self.whole = self._area_of(self.demand)
        self.limit = (-1.0, 0)
        self.runners: dict[tuple[int, ...], Runner] = {}
        self.waiting: list[tuple[int, ...]] = []
        self.asked: dict[int, Asked] = {}
        self.turns = 0

    def ask(self, best: float, sheets: int, least: float, seconds: float) -> dict[str, Any] | None:
        """The next request, None where no cheaper set is hopeful."""
        if (best, sheets) != self.limit:
            self._aim(best, sheets, least)
        kinds = self._next()
        if kinds is None:
            return None
        runner = self.runners.setdefault(kinds, Runner())
        runner.turns += 1
        self.turns += 1
        if not runner.attempts or self.random.random() < FRESH or len(kinds) < 2:
            return self._request(Asked(kinds, self._job(self.demand), self._order(runner, kinds), (), None), seconds)
        before = min(self.random.sample(runner.attempts, min(2, len(runner.attempts))), key=lambda one: one.missing)
        taken = self.random.sample(range(len(kinds)), min(self.random.choice(TAKEN), len(kinds)))
        rest = before.left + Counter(one.code for i in taken for one in before.pieces[i][1])
        order = tuple(before.pieces[i][0] for i in taken)
        kept = tuple(one for i, one in enumerate(before.pieces) if i not in taken)
        return self._request(Asked(kinds, self._job(rest), order, kept, before), seconds)

    def take(self, answer: Mapping[str, Any]) -> list[Filled] | None:
        """Goes on from an answer; the pieces of a layout where it leaves nothing over."""
        asked = self.asked.get(answer.get("number", -1))
        if asked is None or "layout" not in answer:
            return None
        spare = len(asked.order)
        filled: list[Filled] = [(kind, ()) for kind in asked.order]
        for at, laid in asked.packing.read_bins(answer):
            if at < spare:
                filled[at] = asked.order[at], laid
        pieces = (*asked.kept, *filled)
        left = self.demand - Counter(one.code for _, laid in pieces for one in laid)
        attempt = Attempt(self._area_of(left), pieces, left)
        runner = self.runners.get(asked.kinds)
        if runner is not None:
            self._learn(runner, asked, attempt)
        return [one for one in pieces if one[1]] if not left else None

    def _aim(self, best: float, sheets: int, least: float) -> None:
        """Sets cheaper than the best known that have room enough."""
        self.limit = best, sheets
        counts = [piece.count for piece in self.packing.pieces]
        found = cheaper_sets(self.packing.costs, counts, least, best * (1 - 1e-9)) if best > 0 else []
        share = {tuple(kinds): self.need / fsum(self.rooms[kind] for kind in kinds) for kinds in found if kinds}
        hopeful = [kinds for kinds, full in share.items() if full <= 1.0]
        hopeful.sort(key=lambda kinds: (round(share[kinds], 9), kinds))
        self.runners = {kinds: runner for kinds, runner in self.runners.items() if kinds in share}
        self.waiting = [kinds for kinds in by_bisection(hopeful, MIDDLE) if kinds not in self.runners]

    def _next(self) -> tuple[int, ...] | None:
        if self.waiting and (len(self.runners) < KNOWN or self.turns % KNOWN == 0):
            return self.waiting.pop(0)
        if not self.runners:
            return None
        return min(self.runners, key=lambda kinds: (*self._rank(self.runners[kinds]), kinds))

    def _rank(self, runner: Runner) -> tuple[float, int]:
        return runner.missing * (1 + runner.turns / WEARY), runner.turns

    def _order(self, runner: Runner, kinds: tuple[int, ...]) -> tuple[int, ...]:
        """The order in which a set is filled afresh."""
        if len(kinds) < 2 or not runner.orders or self.random.random() > LIKED:
            return tuple(self.random.sample(kinds, len(kinds)))
        order = list(min(self.random.sample(runner.orders, min(3, len(runner.orders))))[1])
        i, k = self.random.sample(range(len(order)), 2)
        order[i], order[k] = order[k], order[i]
        return tuple(order)

    def _job(self, wanted: Mapping[str, int]) -> Packing:
        items = [replace(item, count=wanted[item.code]) for item in self.packing.items]
        job = Packing(items, self.packing.pieces, self.packing.spacing, self.number)
        job.hair = HAIR + (HAIRS - HAIR) * self.random.random()
        return job

    def _request(self, asked: Asked, seconds: float) -> dict[str, Any]:
        largest = max(range(len(self.rooms)), key=lambda kind: (self.rooms[kind], -kind))
        queue = self.random.choice(FRESH_QUEUES if asked.before is None else QUEUES)
        request = asked.packing.whole([*asked.order, *[largest] * SPARE], queue, min(seconds, SECONDS))
        self.number = asked.packing.number
        self.asked = {asked.packing.number: asked}
        return request

    def _learn(self, runner: Runner, asked: Asked, attempt: Attempt) -> None:
        if asked.before is None:
            runner.orders = sorted([*runner.orders, (attempt.missing, asked.order)])[: 2 * KEPT]
            runner.attempts = sorted([*runner.attempts, attempt], key=lambda one: one.missing)[:KEPT]
        elif asked.before in runner.attempts:
            allowed = asked.before.missing + WORSE * self.whole * self.random.random() ** 2
            if attempt.missing <= allowed:
                runner.attempts[runner.attempts.index(asked.before)] = attempt

    def _area_of(self, parts: Mapping[str, int]) -> float:
        return fsum(self.area[code] * count for code, count in sorted(parts.items()))
