"""The nesting benchmark: python -m tests.bench.nesting [INSTANCE.json...] [--seconds 5 30 60] [--chance 1 2 3].

Prints a table: instance, engine, cost, bound, gap, seconds to the first and to the best layout, memory (that of the
processes the engine starts too). Every layout is proved before it counts; each row runs in a process of its own.
Without instances those kept with the project are nested, boards also for twenty tables. `--chance` names
tables and boards that chance sizes, by their seeds.

`fixed` is the fixed amount of work that `make` does; `own` our engines by the clock; `solver` the packing solver
alone, where it is installed; `portfolio` all of them.
"""

from __future__ import annotations

import argparse
import resource
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from time import monotonic

from templategen.nesting.bound import bound, grown_area
from templategen.nesting.engines.child import Child, able
from templategen.nesting.engines.packing import Packing
from templategen.nesting.engines.portfolio import fixed, portfolio
from templategen.nesting.stock import Layout
from tests.bench.instance import Instance, by_chance, kept, read_instance
from tests.nesting.cases import proved

HEAD = ("instance", "engine", "seconds", "cost", "bound", "gap %", "first s", "best s", "MB", "left over")
WIDTHS = (12, 10, 8, 12, 12, 6, 8, 7, 5, 9)


def main(arguments: Sequence[str] | None = None) -> None:
    """Runs every engine on every instance."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("instances", nargs="*", type=Path, default=[])
    parser.add_argument("--seconds", nargs="+", type=float, default=[5.0, 30.0, 60.0])
    parser.add_argument("--engines", nargs="+", default=["fixed", "own", "solver", "portfolio"])
    parser.add_argument("--chance", nargs="+", type=int, default=[])
    told = parser.parse_args(arguments)
    print(_row(HEAD))
    instances = [*map(read_instance, told.instances), *map(by_chance, told.chance)]
    for instance in instances or (kept("boards_x1"), kept("jig30"), kept("boards_x1", 20)):
        for engine in told.engines:
            if engine == "solver" and not able():
                print(f"{instance.name}: the solver isn't installed here")
                continue
            for seconds in told.seconds[:1] if engine == "fixed" else told.seconds:
                with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as pool:
                    print(_row(pool.submit(measured, instance, engine, seconds).result()), flush=True)


def measured(instance: Instance, engine: str, seconds: float) -> tuple[object, ...]:
    """One row of the table."""
    start = monotonic()
    best: tuple[float, float, float] | None = None
    first = reached = 0.0
    shared: list[Layout | None] = [None]
    left = sum(item.count for item in instance.items)
    for layout in _layouts(instance, engine, seconds, shared):
        reach = used_length(layout, instance) if instance.leftover else 0.0
        rank = float(sum(layout.unplaced.values())), layout.cost, reach
        if (best is not None and rank >= best) or proved(layout, instance.items, instance.pieces, instance.spacing):
            continue
        gone = monotonic() - start
        first = first or gone
        if best is None or rank < best:
            best, reached, left = rank, gone, int(rank[0])
            shared[0] = layout
    memory = sum(resource.getrusage(who).ru_maxrss for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)) / 1024
    least = bound(instance.items, instance.pieces, instance.spacing).cost
    found = best[1] if best else float("nan")
    if instance.leftover:
        found, least = best[2] if best else float("nan"), _least_length(instance)
    gap = 100 * (found / least - 1)
    return instance.name, engine, seconds, found, least, gap, first, reached, memory, left


def used_length(layout: Layout, instance: Instance) -> float:
    """How much of the last sheet's length the parts take, with the margin, mm: what is left is one offcut."""
    outlines = {item.code: item.outline for item in instance.items}
    right = 0.0
    for sheet in layout.sheets:
        for laid in sheet.laid:
            right = max(right, laid.placement.outline(outlines[laid.code]).bounds.right)
    return right


def _least_length(instance: Instance) -> float:
    """No layout on one sheet ends before this, mm: the grown parts fill at least so much of the grown width."""
    room, kerf = instance.pieces[0].room, instance.spacing
    need = sum(item.count * grown_area(item.outline, kerf / 2) for item in instance.items)
    holes = sum(item.count * abs(hole.area) for item in instance.items for hole in item.holes)
    return room.left + (need - holes) / (room.height + kerf) - kerf


def _layouts(instance: Instance, engine: str, seconds: float, shared: list[Layout | None]) -> Iterator[Layout]:
    job = instance.items, instance.pieces, instance.spacing
    if engine == "fixed":
        yield from fixed(*job)
    elif engine == "solver":
        yield from _solver(instance, seconds)
    else:
        yield from portfolio(*job, seconds, lambda: shared[0], outside=engine == "portfolio")


def _solver(instance: Instance, seconds: float) -> Iterator[Layout]:
    """What the solver finds by itself, asked once."""
    end = monotonic() + seconds
    packing = Packing(instance.items, instance.pieces, instance.spacing)
    with Child(seconds) as child:
        child.ask(packing.shortest(0, seconds) if instance.leftover else packing.best_mix(seconds))
        while child.alive and monotonic() < end:
            for answer in child.answers(0.1):
                if "done" in answer:
                    return
                yield packing.layout(packing.read(answer))


def _row(cells: Sequence[object]) -> str:
    texts = (
        f"{cell:.2f}"
        if isinstance(cell, float) and abs(cell) < 1e5
        else f"{cell:.0f}"
        if isinstance(cell, float)
        else str(cell)
        for cell in cells
    )
    return "  ".join(f"{text:>{width}}" for text, width in zip(texts, WIDTHS, strict=True))


if __name__ == "__main__":
    main()
