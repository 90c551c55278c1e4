"""Which rest of which board gives the pieces of scrap that the plan of work asks for."""

from collections.abc import Iterator, Sequence

from templategen.geometry.tolerance import EQUAL
from templategen.packet.offcut_list import GRAIN, Offcut
from templategen.table.profile.model_of_shop import Shop, Stock
from templategen.work.tool import Tool

Size = tuple[float, float, float]


def scrap_sawn(
    shop: Shop, stock: Sequence[Stock], left: Sequence[Offcut], tools: Sequence[Tool]
) -> tuple[tuple[str, ...], ...]:
    """For each tool of scrap the wood that its pieces come out of, by name, "" for a piece that none of it holds;
    for others nothing. `left` is what parts and test strips leave of the boards; sheets give no strips. The
    largest pieces choose first."""
    boards = {one.name for one in stock if one.kind == "board"}
    rest = [one for one in left if one.stock in boards and not (one.piece.defects or one.piece.defect_areas)]
    out_of: dict[int, tuple[str, ...]] = {}
    for at in sorted(range(len(tools)), key=lambda at: _volume(tools[at].scrap), reverse=True):
        if size := tools[at].scrap:
            out_of[at] = tuple(_sawn(shop.saw_kerf, rest, size, tools[at].count))
    return tuple(out_of.get(at, ()) for at in range(len(tools)))


def _volume(size: Size | None) -> float:
    return size[0] * size[1] * size[2] if size else 0.0


def _sawn(kerf: float, rest: list[Offcut], size: Size, count: int) -> Iterator[str]:
    """So many pieces out of the least of the rest that holds all of them, else first out of what holds most. What
    they leave of it, beyond and beside them, stands in its place."""
    while count:
        able = [(min(count, _holds(kerf, one, size, across)), one, across) for one in rest for across in size[2:0:-1]]
        most, one, across = min(
            able, default=(0, None, 0.0),
            key=lambda one: (-one[0], one[1].piece.length * one[1].piece.width * one[1].thickness, one[1].piece.name),
        )  # fmt: skip
        if one is None or not most:
            yield from [""] * count
            return
        place, rows = rest.index(one), _many(one.piece.width, across, kerf)
        columns = -(-most // rows)
        rows = -(-most // columns)
        long, wide = columns * (size[0] + kerf), rows * (across + kerf)
        boxes = (
            (long, 0.0, one.piece.length - long, one.piece.width),
            (0.0, wide, min(long, one.piece.length), one.piece.width - wide),
        )
        rest[place : place + 1] = [one.part(box) for box in boxes if min(box[2:]) > GRAIN]
        yield from [one.piece.name] * most
        count -= most


def _holds(kerf: float, one: Offcut, size: Size, across: float) -> int:
    """How many pieces the wood holds that lie so far `across` it, the rest of their section through its thickness."""
    through = size[1] + size[2] - across
    if one.thickness < through - EQUAL:
        return 0
    return _many(one.piece.length, size[0], kerf) * _many(one.piece.width, across, kerf)


def _many(room: float, size: float, kerf: float) -> int:
    return int((room + kerf + EQUAL) // (size + kerf))
