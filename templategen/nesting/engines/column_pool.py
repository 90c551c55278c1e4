"""For batches: a pool of filled pieces, from which the cheapest set that covers the demand is chosen."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from random import Random
from time import monotonic

from templategen.nesting.engines.column_generation import ColumnGeneration
from templategen.nesting.engines.job import NestingJob, Used
from templategen.nesting.engines.repack import State
from templategen.nesting.engines.set_cover import Cover
from templategen.nesting.stock import Item, Laid, Piece

MANY = 150
"""With so many fillings new ones improve the mix but little, so it may be rounded."""

NOISE = (0.94, 1.06)
"""Prices are perturbed by so much once they bring nothing new."""

STILL = (1.0, 1.0)
"""Prices as they are."""

KEPT = 500
"""Fillings among which is chosen at most: those that are least too dear by the prices."""

SHORTEST = 0.3
"""Choosing is not begun with less time than this, seconds."""


class Pool:
    """Fillings of all kinds of stock for one job, found by their prices."""

    def __init__(self, items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> None:
        wanted = [item for item in items if item.count > 0]
        self.job = NestingJob(wanted, pieces, spacing, 10**9, random=Random(7))
        self.prices = ColumnGeneration(self.job)
        self.best: list[Used] = []
        self.chosen_from = 0
        self.settled = not self.job.sectioned

    @property
    def values(self) -> dict[str, float]:
        """What each part is worth now."""
        return self.prices.parts()

    def add(self, kind: int, laid: tuple[Laid, ...]) -> bool:
        """Takes a filling from elsewhere into the pool."""
        codes = self.job.area
        if not laid or any(one.code not in codes for one in laid):
            return False
        return self.prices.add(Used(kind, laid, 0.0, 0.0))

    def learn(self, sheets: Iterable[Used]) -> None:
        """Takes the pieces of a layout into the pool; choosing starts from the cheapest layout so far."""
        sheets = list(sheets)
        for used in sheets:
            self.prices.add(used)
        if not self.best or self._cost(sheets) < self._cost(self.best):
            self.best = sheets

    def priced(self, seconds: float) -> None:
        """Generates fillings by their prices for so long, and perturbs the prices once they bring nothing new."""
        enough = monotonic() + seconds
        while self.job.sectioned and monotonic() < enough:
            fresh = self.prices.turn(NOISE if self.settled else STILL)
            self.settled |= not fresh or len(self.prices.columns) > MANY

    def chosen(self, seconds: float) -> Iterator[State]:
        """Chooses the cheapest set of fillings within that time; yields it where it beats the best."""
        if seconds < SHORTEST or len(self.prices.columns) == self.chosen_from:
            return
        self.chosen_from = len(self.prices.columns)
        chosen = self._choose(seconds)
        if chosen is not None and (not self.best or self._cost(chosen) < self._cost(self.best)):
            self.best = chosen
            yield chosen, self.job.demand.without(laid for used in chosen for laid in used.laid)

    def _choose(self, seconds: float) -> list[Used] | None:
        job = self.job
        counts = [piece.count for piece in job.pieces]
        cover = Cover(job.demand.left, job.costs, counts)
        for used in self.prices.nearest(KEPT):
            cover.add(used)
        chosen = cover.whole(self.best, seconds)
        return None if chosen is None else self._trimmed(chosen)

    def _trimmed(self, chosen: Sequence[Used]) -> list[Used]:
        """The pieces without copies beyond the demand, and without pieces that then hold nothing."""
        left = Counter(self.job.demand.left)
        kept: list[Used] = []
        for used in sorted(chosen, key=lambda one: -len(one.laid)):
            laid = []
            for one in used.laid:
                if left[one.code] > 0:
                    left[one.code] -= 1
                    laid.append(one)
            if laid:
                area = sum(self.job.area[one.code] for one in laid)
                kept.append(Used(used.kind, tuple(laid), area, area))
        return kept

    def _cost(self, sheets: Sequence[Used]) -> float:
        return self.job.cost(used.kind for used in sheets)
