"""What batches of parts cost: what layouts have shown, what bounds prove, and what both let believe of others."""

from collections.abc import Iterable, Mapping, Sequence

from templategen.errors import StockError
from templategen.kept.keep import kept
from templategen.nesting.bound import bound
from templategen.packet.second_core import on_second_core
from templategen.packet.supply import Supply
from templategen.suit.quick import Batch, Kind, Quick

SHARPENED = 160
"""So many bounds are sharpened at most: a fifth of a second each."""

DOUBT = 0.35
"""The weight of the usual loss beside what is near."""

USUAL_LOSS = 1.06
"""Layouts cost so many times as much as boards in parts would, before any is made."""


class Costs:
    """What is known so far; alike batches are known by one key."""

    def __init__(self) -> None:
        self._laid: dict[bytes, float] = {}
        self._sharp: dict[bytes, float] = {}

    def learn(self, batches: Iterable[Batch], spent: Mapping[Kind, float]) -> None:
        """From a layout that found room for all of a table."""
        self._laid |= {one.key: spent[one.kind] for one in batches if one.kind in spent}

    def least(self, batches: Iterable[Batch]) -> float:
        """What they cost together at least."""
        return sum(self._laid.get(one.key, self._proved(one)) for one in batches)

    def _proved(self, one: Batch) -> float:
        return max(one.least, self._sharp.get(one.key, 0.0))

    def sharpen(self, some: Iterable[Quick]) -> bool:
        """Proves more of batches that neither a layout nor a sharper bound tells of; whether there were any."""
        blunt = {
            batch.key: batch
            for one in some
            for batch in one.batches
            if batch.supply and batch.key not in self._laid and batch.key not in self._sharp
        }
        new = list(blunt.values())[: SHARPENED - len(self._sharp)]
        beside = on_second_core(lambda: [_sharp(one) for one in new[1::2]], wanted=len(new) > 1)
        self._sharp |= {one.key: _sharp(one) for one in new[::2]}
        self._sharp |= {one.key: least for one, least in zip(new[1::2], beside(), strict=True)}
        return bool(new)

    def likely(self, one: Batch, near: Sequence[tuple[float, Quick]]) -> float:
        """What it is believed to cost: what an alike one did, else by how those of its kind came out, each with the
        weight of its nearness."""
        if one.key in self._laid:
            return self._laid[one.key]
        seen = [
            (weight, self._laid[other.key] / other.in_parts)
            for weight, quick in near
            for other in quick.batches
            if other.kind == one.kind and other.key in self._laid and other.in_parts
        ]
        usual = sum(ratio for _, ratio in seen) / len(seen) if seen else USUAL_LOSS
        more = sum(weight * (ratio - usual) for weight, ratio in seen)
        return max(self._proved(one), one.in_parts * (usual + more / (DOUBT + sum(weight for weight, _ in seen))))


def _sharp(one: Batch) -> float:
    assert one.supply
    return max(one.least, _least(one.supply))


@kept
def _least(supply: Supply) -> float:
    try:
        return bound(supply.items, supply.pieces, supply.spacing).cost
    except StockError:
        return 0.0
