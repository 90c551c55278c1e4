"""A batch laid out by its cheapest mix of filled pieces, rounded down; what is left over is laid out by itself."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from templategen.nesting.engines.column_generation import ColumnGeneration
from templategen.nesting.engines.job import NestingJob, Used
from templategen.nesting.engines.rectangles import Rectangles
from templategen.nesting.stock import Item, Layout, Piece, Sheet

TURNS = 24
"""How often prices are bettered."""

NEARLY = 1e-4
"""Shares so near below a whole number count as whole."""


def mixed(items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> Layout | None:
    """The layout of a batch, by a fixed amount of work; None where sections don't serve."""
    job = NestingJob([item for item in items if item.count > 0], pieces, spacing, 0)
    if not job.sectioned:
        return None
    prices = ColumnGeneration(job)
    for _ in range(TURNS):
        if not prices.turn():
            break
    prices.master.solve()
    taken = wholly_in(job, prices)
    return joined(taken, items, pieces, spacing)


def wholly_in(job: NestingJob, prices: ColumnGeneration) -> list[Used]:
    """The mix rounded down: each filling as often as the mix has it whole, while all its parts are still wanted."""
    demand, free = job.demand, [piece.count for piece in job.pieces]
    taken: list[Used] = []
    shares = prices.master.shares
    for number in sorted(shares, key=lambda n: (-shares[n], n)):
        used = prices.columns.get(number)
        for _ in range(int(shares[number] + NEARLY) if used is not None else 0):
            if used is None or not demand.holds(used.laid) or free[used.kind] == 0:
                break
            count = free[used.kind]
            free[used.kind] = None if count is None else count - 1
            demand = demand.without(used.laid)
            taken.append(used)
    return taken


def rest_of(taken: Sequence[Used], items: Sequence[Item], pieces: Sequence[Piece]) -> tuple[list[Item], list[Piece]]:
    """The items that the pieces taken don't hold, and the stock that is left."""
    laid = Counter(one.code for used in taken for one in used.laid)
    kinds = Counter(used.kind for used in taken)
    stock = [
        piece if piece.count is None else replace(piece, count=piece.count - kinds[kind])
        for kind, piece in enumerate(pieces)
    ]
    return [replace(item, count=item.count - laid[item.code]) for item in items], stock


def joined(
    taken: Sequence[Used],
    items: Sequence[Item],
    pieces: Sequence[Piece],
    spacing: float,
    effort: float | None = None,
    plain: bool = False,
) -> Layout:
    """The pieces taken, and everything else laid out with that effort on the stock that is left; `plain` keeps every
    part in its own box."""
    rest = Rectangles(plain).nest(*rest_of(taken, items, pieces), spacing, effort)
    own = {replace(piece, count=None): piece for piece in pieces}
    held = [(pieces[used.kind], used.laid) for used in taken]
    held += [(own[replace(sheet.piece, count=None)], sheet.laid) for sheet in rest.sheets]
    numbers: Counter[str] = Counter()
    sheets = []
    for piece, parts in held:
        numbers[piece.name] += 1
        sheets.append(Sheet(piece, numbers[piece.name], parts))
    return Layout(tuple(sheets), rest.unplaced)
