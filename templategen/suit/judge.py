"""From variants with their bounds to proposals: the promising ones are checked and laid out in full, few at a time.

A layout teaches what those near it will come to (a mean weighted by nearness: Nadaraya 1964, Watson 1964), each
thickness of each wood by itself; alike batches of parts come to just the same in any table. What its own bound says
can't better the frontier is never laid out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from math import exp

from templategen.errors import TemplategenError
from templategen.packet.second_core import on_second_core
from templategen.packet.table_stages import CHECKED, begun
from templategen.suit.costs import DOUBT, USUAL_LOSS, Costs
from templategen.suit.proposal import AT_ONCE, SHARES, Proposal, in_full
from templategen.suit.quick import Kind, Quick, better
from templategen.suit.search import apart, frontier
from templategen.suit.variant import Variant, asked, between, profile_of
from templategen.table.profile.model import Profile

LAID, CHECKED_AT_MOST = 14, 40
"""So many variants are laid out at most, and so many checked, where some don't hold."""

EXPLORED = 10
"""Until so many are laid out the best of all is sought, then the frontier between it and the table asked."""

SHARP = 8
"""Of so many the bounds are sharpened before one is laid out."""

APART = 0.04
"""Two judged at once lie so far from each other, so that the second teaches something; and so far from all judged
before, where no more is hoped of it than they came to."""

NEAR = 0.12
"""The share of the ranges at which a layout's weight has fallen to 1/e."""

FAULTY = 0.25
"""A variant with findings is believed to make those near it worse by this share of all that there is to gain."""

LEAST_LOAD = 0.75
"""Parts that cover less of the rack than this share of a load that found no room are believed to find it."""

BY_PARTS = ("hours", "set-ups")
"""What counts that is foretold by numbers of parts, and so by a measure of its own."""

Tell = Callable[[float], None]

Counted = tuple[float, ...]
"""A figure for each thing that counts."""


@dataclass(frozen=True, slots=True)
class Judged:
    """A variant as it was checked: in full where it holds, else None; whether it was `laid` out, whether the stock
    was then too `short`, and what each thickness of each wood `spent`."""

    quick: Quick
    found: Proposal | None
    laid: bool
    short: bool = False
    spent: Mapping[Kind, float] = field(default_factory=dict)


def proposals(
    profile: Profile, own: Proposal, good: Sequence[Quick], most: int, tell: Tell = lambda done: None
) -> tuple[Proposal, ...]:
    """At most so many that hold and are better than the table asked or than every nearer one, the nearest first."""
    return judged(Judge(profile, own, good), most, tell)


def judged(judge: Judge, most: int, tell: Tell = lambda done: None) -> tuple[Proposal, ...]:
    """The same by a judge that can then be asked what it took."""
    while judge.laid < LAID and len(judge.known) < CHECKED_AT_MOST:
        waiting = judge.promising(most)[: min(AT_ONCE, LAID - judge.laid)]
        if not waiting:
            break
        judge.judge(waiting)
        tell(judge.laid / LAID)
    held = [one.found for one in judge.known.values() if one.found and one.found.changes]
    undominated = tuple(_undominated(held, judge.own, judge.counts))
    return tuple(apart(undominated, most))


class Judge:
    """What is known of the variants so far."""

    def __init__(self, profile: Profile, own: Proposal, good: Sequence[Quick]) -> None:
        self.profile, self.own, self.counts = profile, own, profile.suit.counts
        self.good = list(good)
        known = next((one for one in good if one.variant == asked(profile)), None)
        self.known: dict[Variant, Judged] = {}
        self.costs = Costs()
        self.spans = tuple(max(some) - min(some) for some in zip(*(one.counts for one in good), strict=True))
        if known:
            self._learn(Judged(known, own if own.holds else None, True, own.short, own.spent))

    @property
    def laid(self) -> int:
        """How many variants were laid out, the one asked among them."""
        return sum(one.laid for one in self.known.values())

    def promising(self, most: int) -> list[Quick]:
        """Variants not judged yet of which the frontier is believed to be, the best first; among those that find room
        if any does."""
        left = [one for one in self.good if one.variant not in self.known or self.known[one.variant].found]
        for load in self._loads():
            fit = [one for one in left if one.load <= load or one.variant in self.known]
            if self.laid < EXPLORED and (hopeful := self._hopeful(fit)):
                return hopeful
            believed = {one.variant: one for one in fit}
            shown = apart(frontier(map(self._believed, fit)), most)
            waiting = [believed[one.variant] for one in reversed(shown) if one.variant not in self.known]
            if waiting or (waiting := self._hopeful(fit)):
                return waiting
        return []

    def _hopeful(self, some: Sequence[Quick]) -> list[Quick]:
        """Of those whose bound is better than the best so far the best by what is believed; where no more is hoped of
        any, the least known of those with the least bound. Bounds of the first few are sharpened before."""
        best = min((self._true(one.found) for one in self.known.values() if one.found), default=None)
        chosen: list[Quick] = []
        while len(chosen) < AT_ONCE:
            judged = [*(one.quick for one in self.known.values()), *chosen]
            ranked = self._ranked(some, best, judged, chosen)
            if self.costs.sharpen(ranked[:SHARP]):
                continue
            if not ranked:
                break
            chosen.append(ranked[0])
        return chosen

    def _ranked(
        self, some: Sequence[Quick], best: Counted | None, judged: Sequence[Quick], chosen: Sequence[Quick]
    ) -> list[Quick]:
        by_parts, ranks = self.counts[0] in BY_PARTS, []
        for one in some:
            far = min((between(self.profile, one.variant, other.variant) for other in judged), default=1.0)
            near = any(between(self.profile, one.variant, other.variant) < APART for other in chosen)
            likely = self._believed(one).counts
            least = likely if by_parts else self._least(one)
            if near or one.variant in self.known or (best is not None and not better(least, best)):
                continue
            if best is None or better(likely, best):
                ranks.append((0, likely, one.distance, str(one.variant), one))
            elif far >= APART:
                ranks.append((1, least, -far, str(one.variant), one))
        return [one for *_, one in sorted(ranks, key=lambda rank: rank[:-1])]

    def _loads(self) -> Iterator[float]:
        """The greatest load that is believed to find room, then that which isn't known to find none."""
        short = min((one.quick.load for one in self.known.values() if one.short), default=None)
        if short is None:
            yield float("inf")
            return
        held = [one.quick.load for one in self.known.values() if one.found and one.quick.load < short]
        yield (max([LEAST_LOAD * short, *held]) + short) / 2
        yield short * (1 - 1e-6)

    def judge(self, some: Sequence[Quick]) -> None:
        """Checks them, and lays out those that have no finding above a note; each in a copy of the process, since
        what proves a fit begins threads, and a process that has threads can't be copied again."""
        copies = [on_second_core(partial(self._judged, one), wanted=True) for one in some]
        for judged in [wait() for wait in copies]:
            self._learn(judged)

    def _learn(self, judged: Judged) -> None:
        self.known[judged.quick.variant] = judged
        if not judged.short:
            self.costs.learn(judged.quick.batches, judged.spent)

    def _judged(self, one: Quick) -> Judged:
        try:
            worked = begun(profile_of(self.profile, one.variant), SHARES)
            if any(finding.level != "note" for finding in worked[CHECKED]):
                return Judged(one, None, laid=False)
            found = in_full(self.profile, one.variant, worked)
        except TemplategenError:
            return Judged(one, None, laid=False)
        return Judged(one, found if found.holds else None, True, found.short, found.spent)

    def _believed(self, one: Quick) -> Quick:
        """The variant with what counts as it is believed to come out."""
        known = self.known.get(one.variant)
        if known and known.found:
            return replace(one, counts=self._true(known.found))
        weights = [(self._weight(one, other.quick), other) for other in self.known.values() if not other.short]
        whole = DOUBT + sum(weight for weight, _ in weights)
        faulty = sum(weight for weight, other in weights if not other.found) / whole
        counts = []
        for place, (what, least, hint) in enumerate(zip(self.counts, one.counts, one.hints, strict=True)):
            if what == "cost" and one.batches:
                near = [(weight, other.quick) for weight, other in weights]
                likely = sum(self.costs.likely(batch, near) for batch in one.batches)
            else:
                usual = self._usual(place) if what in BY_PARTS else USUAL_LOSS if what == "cost" else 1.0
                more = sum(weight * (self._ratio(other, place) - usual) for weight, other in weights if other.found)
                likely = hint * (usual + more / whole)
            worst = likely if what in BY_PARTS else max(least, likely)
            counts.append(worst + faulty * FAULTY * self.spans[place])
        return replace(one, counts=tuple(counts))

    def _least(self, one: Quick) -> Counted:
        """What counts at least, alike batches at what they cost."""
        if "cost" not in self.counts or not one.batches:
            return one.counts
        place, cost = self.counts.index("cost"), self.costs.least(one.batches)
        return (*one.counts[:place], max(one.counts[place], round(cost, 2)), *one.counts[place + 1 :])

    def _true(self, found: Proposal) -> Counted:
        return tuple(found.count(what) for what in self.counts)

    def _weight(self, one: Quick, other: Quick) -> float:
        return exp(-((between(self.profile, one.variant, other.variant) / NEAR) ** 2))

    def _ratio(self, judged: Judged, place: int) -> float:
        """What a variant comes to, by what was reckoned quickly."""
        hint = judged.quick.hints[place]
        return self._true(judged.found)[place] / hint if judged.found and hint else 1.0

    def _usual(self, place: int) -> float:
        held = [self._ratio(one, place) for one in self.known.values() if one.found]
        return sum(held) / len(held) if held else 1.0


def _undominated(found: Sequence[Proposal], own: Proposal, counts: Sequence[str]) -> Iterator[Proposal]:
    best = tuple(own.count(what) for what in counts) if own.holds else None
    for one in sorted(found, key=lambda one: (one.distance, str(one.variant))):
        mine = tuple(one.count(what) for what in counts)
        if best is None or better(mine, best):
            best = mine
            yield one
