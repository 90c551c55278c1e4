"""Which offcuts of the layouts the test strips come out of, and which of them are bought."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from templategen.catalogue import translated
from templategen.packet.lay_out import LaidStock
from templategen.packet.offcut_list import offcut_pieces
from templategen.shop.boards import THIN
from templategen.shop.rough import wider
from templategen.shop.trial_wood import ANY_WOOD, TrialWood
from templategen.table.profile.model_of_shop import Shop

BOUGHT = "to be bought"


@dataclass(frozen=True, slots=True)
class _Left:
    """A rectangle of wood that is left over, mm, and the offcut that it belongs to."""

    name: str
    wood: str
    length: float
    width: float
    thickness: float


def out_of_offcuts(shop: Shop, laid: LaidStock, strips: Sequence[TrialWood]) -> tuple[tuple[str, ...], ...]:
    """For each entry the offcuts that its strips are sawn out of, by name; `BOUGHT` where none is large enough."""
    left = list(_lefts(laid))
    return tuple(tuple(_taken(shop, left, one) for _ in range(one.count)) for one in strips)


def _lefts(laid: LaidStock) -> Iterator[_Left]:
    for one in laid.sheets:
        for piece, _ in offcut_pieces(one):
            yield _Left(piece.name, one.supply.wood, piece.length, piece.width, one.supply.thickness)


def _taken(shop: Shop, left: list[_Left], strip: TrialWood) -> str:
    """The least of what is left that holds one strip as sawn out; what that leaves of it is left for others."""
    long, wide = strip.length + shop.longer, strip.width + wider(shop, strip.length)
    fit = [
        one
        for one in left
        if strip.wood in (one.wood, ANY_WOOD)
        and one.length >= long
        and one.width >= wide
        and one.thickness >= strip.thickness - THIN
    ]
    if not fit:
        return translated(BOUGHT)
    least = min(fit, key=lambda one: (one.length * one.width * one.thickness, one.name))
    left.remove(least)
    beyond = replace(least, length=least.length - long - shop.saw_kerf)
    beside = replace(least, length=long, width=least.width - wide - shop.saw_kerf)
    left += [one for one in (beyond, beside) if min(one.length, one.width) > 0]
    return least.name
