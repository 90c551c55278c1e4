"""Bounds: what one reason asks of one size, and what would do when it is not met."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from math import ceil, floor, inf

from templategen.catalogue import translated
from templategen.errors import Fault
from templategen.table.bounds.refusals import Fields, mm, refusal
from templategen.table.profile.keys import KEYS

STEP = 0.1
"""Offered sizes are whole steps, mm."""

EXACT = 1e-7
"""A size this near to a limit that may be met lies on it, mm: arithmetic leaves such crumbs."""

CLEAR = 0.05
"""How far an offered size keeps from a limit that it may not meet, mm."""

SPARE_SHARE = 0.4
"""Spare at either limit takes at most this share of the room between them."""

NOTHING = "no value fits with the other sizes as they are"

WORDS = {"": "", "thickness": " thick", "width": " wide", "length": " long", "diameter": " across",
         "depth": " deep", "from_edge": " from the edge",
         "thread": " for the thread", "head": " for the head", "draw": " of draw",
         "rise": " over the underside"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Bound:
    """The size at key `where` must lie above `above` and below `below`, mm; on them too where `closed`.

    `kind` and `fields` say what is wrong when it doesn't (`refusals`; `size` is the value itself); a bound of no kind
    only keeps what is offered for other faults of the same size from running into it. `spare` is how far inside the
    limit a good size lies, `aspect` tells apart the numbers of one key.
    """

    where: str
    value: float
    kind: str = ""
    above: float = -inf
    below: float = inf
    spare: float = 0.0
    closed: bool = False
    aspect: str = ""
    fields: Fields = field(default_factory=dict)

    @property
    def met(self) -> bool:
        """Whether the size as it stands lies inside."""
        if self.closed:
            return self.above - EXACT <= self.value <= self.below + EXACT
        return self.above < self.value < self.below

    def least(self, spare: float) -> float:
        """The smallest whole step that lies `spare` inside."""
        return ceil((self.above + self._clear(spare) - EXACT) / STEP) * STEP if self.above > -inf else -inf

    def most(self, spare: float) -> float:
        """The largest whole step that lies `spare` inside."""
        return floor((self.below - self._clear(spare) + EXACT) / STEP) * STEP if self.below < inf else inf

    def _clear(self, spare: float) -> float:
        return spare if self.closed else max(spare, CLEAR)


def faults_of(bounds: Iterable[Bound]) -> Iterator[Fault]:
    """A fault for each bound that is not met, with sizes that meet all bounds of its key."""
    groups: dict[tuple[str, str], list[Bound]] = defaultdict(list)
    for bound in bounds:
        groups[bound.where, bound.aspect].append(bound)
    for group in groups.values():
        broken = [bound for bound in group if bound.kind and not bound.met]
        told = [refusal(bound.kind, {"size": bound.value, **bound.fields}) for bound in broken]
        sizes, other = _offered(group), next((one.other for one in told if one.other), translated(NOTHING))
        for bound, one in zip(broken, told, strict=True):
            remedy = (
                translated(", or ").join(words for words in (sizes, one.other) if words)
                if sizes
                else one.other or other
            )
            yield Fault(bound.where, one.found, remedy, kind=bound.kind)


def _offered(group: Sequence[Bound]) -> str:
    """Sizes inside all bounds, or where there are none inside those with words, or nothing."""
    for bounds in (group, [bound for bound in group if bound.kind]):
        low, high = max(bound.least(0) for bound in bounds), min(bound.most(0) for bound in bounds)
        least, most = _range(group[0])
        if max(low, least) <= min(high, most) + STEP / 2:
            return _offer(bounds, max(low, least), min(high, most))
    return ""


def _offer(bounds: Sequence[Bound], low: float, high: float) -> str:
    """The sizes between `low` and `high`, with spare where there is room for it."""
    share = SPARE_SHARE * (high - low)
    least = max(low, *(bound.least(min(bound.spare, share)) for bound in bounds), low)
    most = min(high, *(bound.most(min(bound.spare, share)) for bound in bounds), high)
    if all(bound.above == -inf for bound in bounds):
        text = translated("{most}{size} or less")
    elif all(bound.below == inf for bound in bounds):
        text = translated("{least}{size} or more")
    else:
        text = translated("{least} to {most}{size}")
    return text.format(least=mm(least), most=mm(most), size=translated(WORDS[bounds[0].aspect]))


def _range(bound: Bound) -> tuple[float, float]:
    """The range in which the size may be written at all."""
    key = KEYS[bound.where]
    part = next((part for part in key.parts if part.name == bound.aspect), key)
    return part.low, part.high
