"""Fill a clear rectangle in lanes, as a saw would cut it: rip or crosscut, then the same again in what is left."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from random import Random

from templategen.nesting.engines.block import Block, Demand
from templategen.nesting.engines.interlock import Interlock
from templategen.nesting.stock import Laid

SLIP = 1e-7
"""By how much a lane may be wider than its rectangle on paper, mm: what sums of sizes lose."""

LEAST_PLAY = 0.5
"""A lane wider than its parts by less than this is none the better for it, mm."""

MOST_DEEP = 40
"""Lanes one within the other at most."""


@dataclass(frozen=True, slots=True)
class Habits:
    """How one filling goes about it.

    `widest` is the chance of taking the widest lane that fits, `section` that of crosscutting behind a lane's
    last part across all the width, `tight` that of asking for widths that add up to the rectangle's.
    """

    widest: float
    section: float
    tight: float


@dataclass(frozen=True, slots=True)
class Strip:
    """A rectangle to fill: lower left corner, length along the grain, width."""

    x: float
    y: float
    length: float
    width: float


class Lanes:
    """One filling of one piece; takes copies from `demand` as it lays them."""

    def __init__(self, interlock: Interlock, demand: Demand, habits: Habits, random: Random) -> None:
        self.interlock, self.demand, self.habits, self.random = interlock, demand, habits, random
        self.kerf = interlock.spacing

    def fill(self, strip: Strip) -> Iterator[tuple[Block, tuple[Laid, ...]]]:
        """Blocks with their parts where they lie."""
        waiting = [(strip, 0)]
        while waiting:
            room, depth = waiting.pop()
            found = self._row(room)
            if found is None or depth > MOST_DEEP:
                continue
            block, rest = found
            self.demand.take(block)
            yield block, block.at(room.x, room.y, upright=False)
            waiting += [(part, depth + 1) for part in rest if part.length > 0 and part.width > 0]

    def _row(self, room: Strip) -> tuple[Block, tuple[Strip, ...]] | None:
        for family in self._families(room):
            play = self._play(family[0], room)
            codes = [code for code in family for _ in range(self._most(code, room.length, play))]
            self.random.shuffle(codes)
            if self.random.random() < self.habits.section and len(codes) > 1:
                codes = codes[: self.random.randint(1, min(len(codes), 5))]
            block = self.interlock.fullest_row(codes, room.length + SLIP, play)
            if block is not None:
                return block, self._rest(room, block)
        return None

    def _most(self, code: str, length: float, play: float) -> int:
        """As many copies as are left, or as a row can hold."""
        return min(self.demand.left[code], int(length / self.interlock.advance(code, play)) + 2)

    def _play(self, code: str, room: Strip) -> float:
        """By how much the lane may be wider than its parts: by what would be waste beside them anyway."""
        width = self.interlock.width(code)
        play = room.width - width
        if not LEAST_PLAY < play < width:
            return 0.0
        beside = play - self.kerf + SLIP
        needed = (f for f in self.interlock.families if any(self.demand.left[c] > 0 for c in f))
        return 0.0 if any(self.interlock.width(f[0]) <= beside for f in needed) else round(play, 6)

    def _families(self, room: Strip) -> list[tuple[str, ...]]:
        """The families that fit, the one to try first in front."""
        fit = [
            family
            for family in self.interlock.families
            if self.interlock.width(family[0]) <= room.width + SLIP and any(self.demand.left[c] > 0 for c in family)
        ]
        if len(fit) > 1 and self.random.random() >= self.habits.widest:
            first = (
                self._tight(fit, room)
                if self.random.random() < self.habits.tight
                else self.random.randrange(len(fit))
            )
            fit.insert(0, fit.pop(first))
        return fit

    def _tight(self, fit: Sequence[Sequence[str]], room: Strip) -> int:
        """One of the families whose width, with others beside it, leaves least of the rectangle's width."""
        steps = [round((self.interlock.width(family[0]) + self.kerf) * 4) for family in fit]
        mask = (1 << int((room.width + self.kerf) * 4 + 1)) - 1
        reach = 1
        for step in steps:
            more = reach
            while more := (more << step) & mask:
                reach |= more
        total = reach.bit_length() - 1
        good = [index for index, step in enumerate(steps) if total >= step and reach >> (total - step) & 1]
        return self.random.choice(good or range(len(fit)))

    def _rest(self, room: Strip, block: Block) -> tuple[Strip, Strip]:
        """What is left behind and beside a row: the first cut is a rip along it, or a crosscut behind it."""
        behind, beside = room.length - block.length - self.kerf, room.width - block.width - self.kerf
        x, y = room.x + block.length + self.kerf, room.y + block.width + self.kerf
        if self.random.random() < self.habits.section:
            return Strip(x, room.y, behind, room.width), Strip(room.x, y, block.length, beside)
        return Strip(x, room.y, behind, block.width), Strip(room.x, y, room.length, beside)
