"""Fill a clear rectangle by the division that is worth most: crosscut into sections, each ripped into lanes.

Parts have values, in whole numbers so that the result is the same on every machine. A dynamic programme finds, for
every width that lanes leave and every length, the most that a rectangle can be worth, as if copies laid in one lane
were still there for the others. The division it names is then filled with the copies there are, and what stays empty
is filled in lanes as they come.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil
from typing import TYPE_CHECKING, NamedTuple

from templategen.nesting.engines.block import Block, Demand
from templategen.nesting.engines.interlock import Interlock
from templategen.nesting.engines.lanes import LEAST_PLAY, SLIP, Lanes, Strip
from templategen.nesting.stock import Laid

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Values = NDArray[np.int64]

GRID = 20.0
"""GuillotineSections end on a grid of this, mm; lanes are measured to the millimetre."""

MOST_WIDTHS = 60
"""Widths divided at most; rooms of others are filled in lanes as they come."""

HAIR = 1e-6
"""Lengths are rounded up to the millimetre unless they are over it by less than this, mm."""


class Lane(NamedTuple):
    """A lane: a family of parts of one width, and by how much the lane is wider than they are."""

    family: int
    play: float


class Division(NamedTuple):
    """What rectangles of one width are worth at every length of the grid, and how: `how` holds -1 for nothing, -2 for
    the same as a grid step shorter, 1 or more for a section that ends there, 0 for lanes; `lane` says which."""

    worth: Values
    how: list[int]
    lane: list[Lane | None]


class GuillotineSections:
    """The best divisions of rectangles up to a length, for these copies at these values.

    What was found for one width serves every rectangle of that width, whichever piece it lies on.
    """

    def __init__(self, interlock: Interlock, demand: Demand, values: Mapping[str, int], length: float) -> None:
        self.interlock, self.demand, self.values = interlock, Demand(demand.left.copy()), values
        import numpy as np

        self.kerf, self.size, self.made = interlock.spacing, int(length + SLIP), 0
        count = self._steps(self.size) + 1
        self.nothing = Division(np.zeros(count, dtype=np.int64), [-1] * count, [None] * count)
        self.rows: dict[Lane, Values] = {}
        self.divisions: dict[float, Division] = {}
        self.families = [
            (interlock.width(family[0]), tuple(code for code in family if demand.left[code] > 0))
            for family in interlock.families
        ]

    def fill(self, strip: Strip, rest: Lanes) -> Iterator[tuple[Block, tuple[Laid, ...]]]:
        """Blocks with their parts where they lie, out of the demand of `rest`, which fills what is left."""
        left: list[Strip] = []
        for lane, room in list(self._lanes(strip)):
            block = self._row(lane, room, rest.demand) if lane is not None else None
            if block is None:
                left.append(room)
                continue
            rest.demand.take(block)
            yield block, block.at(room.x, room.y, upright=False)
            start = block.length + self.kerf
            left.append(_behind(room, start))
        for room in left:
            if room.length > 0 and room.width > 0:
                yield from rest.fill(room)

    def _steps(self, length: float) -> int:
        return int((length + SLIP) / GRID)

    def _lanes(self, strip: Strip) -> Iterator[tuple[Lane | None, Strip]]:
        """The lanes of the best division; None for rooms that it leaves empty."""
        waiting = [(strip, self._steps(strip.length))]
        while waiting:
            room, at = waiting.pop()
            division = self.division(room.width)
            while at > 0 and division.how[at] == -2:
                at -= 1
            how, lane = division.how[at], division.lane[at]
            if how > 0:
                length = how * GRID
                first = Strip(room.x, room.y, length, room.width)
                second = _behind(room, length + self.kerf)
                waiting += [(second, self._steps(second.length)), (first, how)]
            elif how == 0 and lane is not None:
                width = self.families[lane.family][0] + lane.play
                yield lane, Strip(room.x, room.y, room.length, width)
                beside = room.width - width - self.kerf
                if beside > 0:
                    waiting.append((Strip(room.x, room.y + width + self.kerf, room.length, beside), at))
            else:
                yield None, room

    def division(self, width: float) -> Division:
        """The best division of rectangles of this width."""
        key = round(width, 4)
        if key not in self.divisions:
            if self.made >= MOST_WIDTHS:
                return self.nothing
            self.made += 1
            self.divisions[key] = self._divided(width)
        return self.divisions[key]

    def _divided(self, width: float) -> Division:
        import numpy as np

        count = self._steps(self.size) + 1
        worth = np.zeros(count, dtype=np.int64)
        how = [-1] * count
        found: list[Lane | None] = [None] * count
        for lane in self._choices(width):
            beside = width - self.families[lane.family][0] - lane.play - self.kerf
            total = self._row_worth(lane)[:: int(GRID)][:count]
            if beside > 0:
                total = total + self.division(beside).worth
            for at in np.flatnonzero(total > worth).tolist():
                how[at], found[at] = 0, lane
            worth = np.maximum(worth, total)
        kerf = max(1, ceil(self.kerf / GRID - HAIR))
        mixed = self._mixed(width)
        for at in range(1, count):
            if worth[at - 1] > worth[at]:
                worth[at], how[at] = worth[at - 1], -2
            if mixed and at > kerf + 1 and worth[at]:
                both = worth[1 : at - kerf] + worth[1 : at - kerf][::-1]
                cut = int(both.argmax())
                if both[cut] > worth[at]:
                    worth[at], how[at] = both[cut], cut + 1
        return Division(worth, how, found)

    def _mixed(self, width: float) -> bool:
        """Whether sections can be better than one row: two families fit, or one twice."""
        fit = [wide for wide, codes in self.families if codes and wide <= width + SLIP]
        return len(fit) > 1 or (len(fit) == 1 and 2 * fit[0] + self.kerf <= width + SLIP)

    def _choices(self, width: float) -> Iterator[Lane]:
        """The lanes that may lie at the edge of a rectangle: as wide as their parts, or as wide as it is itself."""
        for number, (wide, codes) in enumerate(self.families):
            play = width - wide
            if codes and play > -SLIP:
                yield Lane(number, 0.0)
                if LEAST_PLAY < play < wide + self.kerf:
                    yield Lane(number, round(play, 6))

    def _row_worth(self, lane: Lane) -> Values:
        """What a row is worth at most at every length, in millimetres."""
        if lane not in self.rows:
            import numpy as np

            codes = self.families[lane.family][1]
            sizes = _sizes(self.interlock, codes, lane.play)
            worth = np.zeros(self.size + 1, dtype=np.int64)
            for code, length, times in _bunches(codes, sizes, self.demand, self.size):
                _take(worth, length * times, self.values[code] * times)
            gain = min(self.interlock.gain(code, lane.play) for code in codes)
            self.rows[lane] = _later(worth, gain - self.kerf)
        return self.rows[lane]

    def _row(self, lane: Lane, room: Strip, demand: Demand) -> Block | None:
        """The most valuable row of the copies still there that fits the room."""
        import numpy as np

        codes = [code for code in self.families[lane.family][1] if demand.left[code] > 0]
        if not codes:
            return None
        sizes = _sizes(self.interlock, codes, lane.play)
        gain = min(self.interlock.gain(code, lane.play) for code in codes)
        length = int(room.length + self.kerf - gain + HAIR)
        if length < 0:
            return self.interlock.fullest_row(codes[:1], room.length + SLIP)
        worth = np.zeros(length + 1, dtype=np.int64)
        steps = []
        for code, size, times in _bunches(codes, sizes, demand, length):
            steps.append((code, size * times, times, _take(worth, size * times, self.values[code] * times)))
        chosen: list[str] = []
        at = length
        for code, size, times, taken in reversed(steps):
            if taken is not None and taken[at]:
                chosen += [code] * times
                at -= size
        return self._fitted(chosen, lane.play, room.length + SLIP)

    def _fitted(self, chosen: list[str], play: float, length: float) -> Block | None:
        while chosen:
            block = self.interlock.row(chosen, play)
            if block.length <= length:
                return block
            chosen = chosen[:-1]
        return None


def _behind(room: Strip, start: float) -> Strip:
    return Strip(room.x + start, room.y, room.length - start, room.width)


def _sizes(interlock: Interlock, codes: tuple[str, ...] | list[str], play: float) -> list[int]:
    """What each code adds to a row, rounded up to the millimetre."""
    return [max(1, ceil(interlock.advance(code, play) - HAIR)) for code in codes]


def _bunches(
    codes: tuple[str, ...] | list[str], sizes: list[int], demand: Demand, length: int
) -> Iterator[tuple[str, int, int]]:
    """Copies in bunches of 1, 2, 4 ..., from which every number of copies can be made up."""
    for code, size in zip(codes, sizes, strict=True):
        left, bunch = min(demand.left[code], length // size + 1), 1
        while left > 0:
            take = min(bunch, left)
            yield code, size, take
            left, bunch = left - take, bunch * 2


def _take(worth: Values, size: int, value: int) -> NDArray[np.bool_] | None:
    """Adds an item of this size and value to the knapsack table `worth`; tells at which lengths it is taken."""
    import numpy as np

    if size >= len(worth):
        return None
    more = worth[:-size] + value
    taken = np.zeros(len(worth), dtype=np.bool_)
    taken[size:] = more > worth[size:]
    np.maximum(worth[size:], more, out=worth[size:])
    return taken


def _later(worth: Values, by: float) -> Values:
    """The table moved up to lengths greater by so much."""
    import numpy as np

    shift = max(0, ceil(by - HAIR))
    moved = np.zeros_like(worth)
    if shift < len(worth):
        moved[shift:] = worth[: len(worth) - shift]
    return moved
