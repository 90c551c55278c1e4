"""Stages: whatever is worked out once is one value, kept and handed on to all that needs it.

A stage is a line in a table: its name, a pure function, and the stages whose values that function takes. `Worked`
holds the values for one profile; asked for a stage it works out what that needs and no more.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from logging import DEBUG, INFO, getLogger
from time import perf_counter
from typing import Any, Generic, TypeVar, cast

from templategen.checks.finding import Finding
from templategen.kept.keep import keeper
from templategen.packet.lost import gathered_in
from templategen.packet.second_core import on_second_core

T = TypeVar("T")

log = getLogger(__name__)

WORTH_TELLING = 0.001
"""A stage that takes less is logged for debugging alone, s."""


@dataclass(frozen=True, slots=True, eq=False)
class Stage(Generic[T]):
    """One thing that is worked out: `work` takes the values of the stages `of`, in that order.

    A stage that belongs to `shares` is worked out where one of them is asked for; elsewhere its value is `without`.
    A stage without `work` is given. One that isn't `compared` (who is told of progress) never makes others anew.
    """

    name: str
    work: Callable[..., T] | None = None
    of: tuple[Stage[Any], ...] = ()
    shares: tuple[str, ...] = ()
    without: T | None = None
    compared: bool = True


def stage(name: str, work: Callable[..., T], *of: Stage[Any]) -> Stage[T]:
    """A stage of every packet."""
    return Stage(name, work, of)


def share(name: str, shares: str, work: Callable[..., T], *of: Stage[Any], without: T) -> Stage[T]:
    """A stage that is worked out only where one of `shares` (by blanks) is asked for."""
    return Stage(name, work, of, tuple(shares.split()), without)


class Worked:
    """The values of all stages for one profile, each worked out when it is first asked for."""

    def __init__(self, shares: Sequence[str], given: Mapping[Stage[Any], Any]) -> None:
        self.shares = tuple(shares)
        self._given = dict(given)
        self._values: dict[Stage[Any], Any] = dict(given)
        self._earlier: dict[Stage[Any], _Made] = {}
        self._made: dict[Stage[Any], _Made] = {}
        self._awaited: tuple[Sequence[Stage[Any]], Callable[[], tuple[list[Any], list[Finding]]]] = ((), _nothing)
        self._lost: list[Finding] | None = None

    def __getitem__(self, stage: Stage[T]) -> T:
        """The stage's value.

        Raises:
            TemplategenError: what the stage, or one that it needs, refuses.
        """
        if stage in self._awaited[0]:
            self._fetch()
        if stage not in self._values:
            self._values[stage] = self._worked_out(stage)
        return cast(T, self._values[stage])

    def keep_lost(self, lost: list[Finding]) -> None:
        """From now on drawings that fail are added to `lost`; without it they raise."""
        self._lost = lost

    def again(self, given: Mapping[Stage[Any], Any]) -> Worked:
        """The same with other values given: a stage whose own inputs come out equal keeps its value."""
        other = Worked(self.shares, {**self._given, **given})
        other._earlier = {**self._earlier, **self._made}
        return other

    def begin(self, stages: Sequence[Stage[Any]], second_core: bool) -> None:
        """Has `stages` worked out in a copy of the process; whoever asks for one of them waits for all.

        Without `second_core`, or where no copy can be made, they are worked out when asked for.
        """
        self._awaited = (tuple(stages), on_second_core(lambda: self._all_of(stages), second_core))

    def _all_of(self, stages: Sequence[Stage[Any]]) -> tuple[list[Any], list[Finding]]:
        """The values of stages, and what was lost with them."""
        before = len(self._lost or ())
        return [self[one] for one in stages], (self._lost or [])[before:]

    def _fetch(self) -> None:
        stages, wait = self._awaited
        self._awaited = ((), _nothing)
        before = len(self._lost or ())
        values, lost = wait()
        self._values.update(zip(stages, values, strict=True))
        if self._lost is not None:
            self._lost[before:] = lost

    def _worked_out(self, stage: Stage[T]) -> T | None:
        if stage.work is None:
            raise LookupError(f"{stage.name} is given, not worked out")
        if stage.shares and not set(stage.shares) & set(self.shares):
            return stage.without
        inputs = [self[one] for one in stage.of]
        known = self._earlier.get(stage)
        if known is not None and _alike(stage, known[0], inputs):
            log.info("%-24s kept", stage.name)
            self._made[stage] = known
            self._add(known[2])
            return cast(T, known[1])
        begun = perf_counter()
        value, lost = self._kept(stage, stage.work, inputs)
        self._add(lost)
        took = perf_counter() - begun
        log.log(INFO if took >= WORTH_TELLING else DEBUG, "%-24s %7.3f s", stage.name, took)
        self._made[stage] = (inputs, value, lost)
        return value

    def _kept(self, stage: Stage[T], work: Callable[..., T], inputs: Sequence[Any]) -> tuple[T, list[Finding]]:
        """The same from the shelf, where such a value was made of the same before."""
        who = keeper()
        if who is None or not all(one.compared for one in stage.of):
            return self._made_of(work, inputs)
        return who.value(f"stage {stage.name}", inputs, lambda: self._made_of(work, inputs))

    def _made_of(self, work: Callable[..., T], inputs: Sequence[Any]) -> tuple[T, list[Finding]]:
        """A stage's value and what was lost with it."""
        lost: list[Finding] = []
        if self._lost is None:
            return work(*inputs), lost
        with gathered_in(lost):
            return work(*inputs), lost

    def _add(self, lost: Sequence[Finding]) -> None:
        if self._lost is not None:
            self._lost += lost


_Made = tuple[list[Any], Any, list[Finding]]
"""What a stage was made of, its value, and the drawings that failed."""


def _nothing() -> tuple[list[Any], list[Finding]]:
    return [], []


def _alike(stage: Stage[Any], before: Sequence[Any], now: Sequence[Any]) -> bool:
    counted = zip(stage.of, before, now, strict=True)
    return all(one is other or one == other for source, one, other in counted if source.compared)
