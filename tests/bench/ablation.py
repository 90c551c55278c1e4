"""What each engine and bound of nesting saves: python -m tests.bench.ablation [--jobs 100] [--only NAME ...].

Tables that chance sizes are laid out by the fixed amount of work that `make` does, as rough blanks and strips on
sawn boards and as blanks on routed ones, whole and with one part of the nesting left out. A row says on how many
jobs the layout got dearer and cheaper, by how much on the mean, and the seconds spent. Bounds are compared by how
far they rise.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from math import fsum
from random import Random
from time import process_time
from unittest.mock import patch

from templategen.errors import DesignError
from templategen.geometry.placement import Placement
from templategen.nesting import bound as bounds
from templategen.nesting.engines import portfolio, rectangles
from templategen.nesting.engines.cheaper_sets import Race
from templategen.nesting.engines.interlock import Interlock
from templategen.nesting.engines.job import NestingJob
from templategen.nesting.nest import nest
from templategen.nesting.stock import Mode, Piece
from templategen.packet.supply import Order, item_of
from templategen.table.assembly import build_table
from templategen.table.profile.read import profile_from_text
from tests.bench.instance import Instance
from tests.random_profiles import profile_text

THIN = 30.0
"""Parts thicker than this come out of other boards than thinner ones, mm."""

CLOSE = 1.03
"""A layout is near its bound where it costs no more than so many times as much."""

LEFT_OVER = 1e12
"""What a copy without a place counts."""


def job_of(seed: int, mode: Mode) -> Instance | None:
    """The parts of a table that chance sizes, one table or three, on a yard that chance stocks; None where the table
    can't be built."""
    try:
        table = build_table(profile_from_text(profile_text(seed), f"table {seed}"))
    except DesignError:
        return None
    random = Random(seed)
    order = Order(table, random.choice((1, 1, 1, 3)))
    thick = seed % 2 == 0
    parts = [part for part in table.parts if (part.thickness > THIN) == thick]
    items = tuple(item_of(part, order, 0.0 if mode == "sawn" else part.thickness) for part in parts)
    if not items:
        return None
    boxes = [Placement(turn=item.grain_turn).outline(item.outline).bounds for item in items]
    pieces = []
    for number in range(random.randint(1, 3)):
        length = max(random.randrange(1500, 3100, 100), 20 + max(box.width for box in boxes))
        width = max(random.randrange(100, 250, 25), 12 + max(box.height for box in boxes))
        knots = tuple(
            (random.uniform(100, length - 100), random.uniform(10, width - 10), random.choice((20.0, 40.0, 60.0)))
            for _ in range(random.choice((0, 0, 0, 1, 2)))
        )
        price = round(length * width * random.uniform(0.9, 1.2) / 1e4, 2)
        count = random.choice((None, None, 6)) if number else None
        pieces.append(Piece(f"board {number + 1}", length, width, count, price, knots, 5.0, mode=mode))
    return Instance(f"table {seed} {mode}", items, tuple(pieces), 3.0 if mode == "sawn" else 9.0, False)


def jobs(count: int, first: int) -> Iterator[Instance]:
    """Sawn and routed jobs by turns."""
    seed = first
    while count > 0:
        for mode in ("sawn", "routed"):
            job = job_of(seed, mode)  # type: ignore[arg-type]
            if job is not None and count > 0:
                count -= 1
                yield job
        seed += 1


def _no_sections(stack: ExitStack) -> None:
    stack.enter_context(patch.object(NestingJob, "sectioned", property(lambda self: False)))


def _no_prices(stack: ExitStack) -> None:
    stack.enter_context(patch.object(rectangles.Work, "_priced", lambda self, state: iter(())))


def _no_race(stack: ExitStack) -> None:
    stack.enter_context(patch.object(Race, "next", lambda self, state: None))


def _no_mix(stack: ExitStack) -> None:
    stack.enter_context(patch.object(portfolio, "mixed", lambda *job: None))


def _no_like_sets(stack: ExitStack) -> None:
    stack.enter_context(patch.object(portfolio, "batch", lambda items: 1))


def _no_second_search(stack: ExitStack) -> None:
    whole = portfolio.fixed

    def first(*job: object) -> Iterator[object]:
        yield next(iter(whole(*job)))  # type: ignore[arg-type]

    stack.enter_context(patch("templategen.nesting.nest.fixed", first))


def _no_stagger(stack: ExitStack) -> None:
    whole = Interlock.__init__

    def plain(self: Interlock, items: object, spacing: float, _plain: bool = False) -> None:
        whole(self, items, spacing, True)  # type: ignore[arg-type]

    stack.enter_context(patch.object(Interlock, "__init__", plain))


def _no_rows(stack: ExitStack) -> None:
    stack.enter_context(patch.object(NestingJob, "_rows", lambda self, kind: ()))


def _no_crosscuts(stack: ExitStack) -> None:
    stack.enter_context(patch("templategen.nesting.engines.job.CROSSCUT", 0.0))


def _no_packing_library(stack: ExitStack) -> None:
    stack.enter_context(patch("templategen.nesting.engines.job.LANES_SHARE", 1.1))
    stack.enter_context(patch("templategen.nesting.engines.job.SAWN_LANES", 1.1))
    stack.enter_context(patch.object(NestingJob, "steady", lambda self, kind, demand, turn: self.lanes(kind, demand)))


@dataclass(frozen=True, slots=True)
class Without:
    """What is left out, and how."""

    name: str
    leave_out: Callable[[ExitStack], None]


CASES = (
    Without("sections", _no_sections),
    Without("prices", _no_prices),
    Without("race of cheaper sets", _no_race),
    Without("cheapest mix", _no_mix),
    Without("like sets", _no_like_sets),
    Without("second search", _no_second_search),
    Without("staggered lanes", _no_stagger),
    Without("rows of one width", _no_rows),
    Without("packing library", _no_packing_library),
    Without("crosscuts beside faults", _no_crosscuts),
)


def laid(job: Instance, case: Without | None) -> tuple[float, float]:
    """Cost and seconds of one job."""
    with ExitStack() as stack:
        if case is not None:
            case.leave_out(stack)
        start = process_time()
        layout = nest(job.items, job.pieces, job.spacing)
        return layout.cost + LEFT_OVER * sum(layout.unplaced.values()), process_time() - start


def raised(job: Instance) -> tuple[float, float, float]:
    """The bound by area, by lines, and whole."""
    priced = any(piece.price > 0 for piece in job.pieces)
    area = bounds.by_area(job.items, job.pieces, job.spacing, priced).cost
    lines = bounds.bound(job.items, job.pieces, job.spacing, scaled=False).cost
    return area, lines, bounds.bound(job.items, job.pieces, job.spacing).cost


def compared(before: Sequence[float], after: Sequence[float]) -> str:
    """Dearer, cheaper, mean."""
    shares = [b / a - 1 for a, b in zip(before, after, strict=True)]
    dearer, cheaper = sum(share > 1e-9 for share in shares), sum(share < -1e-9 for share in shares)
    return f"{dearer} dearer, {cheaper} cheaper, mean {100 * fsum(shares) / max(1, len(shares)):+.2f} %"


def main(arguments: Sequence[str] | None = None) -> None:
    """Prints a row for each part of the nesting, sawn and routed jobs apart."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--jobs", type=int, default=100)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--only", nargs="+", default=[])
    told = parser.parse_args(arguments)
    every = list(jobs(told.jobs, told.first))
    kinds = {mode: [job for job in every if job.name.endswith(mode)] for mode in ("sawn", "routed")}
    for mode, some in kinds.items():
        whole = [laid(job, None) for job in some]
        print(f"{mode}: {len(some)} jobs, {fsum(s for _, s in whole):.1f} s", flush=True)
        for case in CASES:
            if told.only and case.name not in told.only:
                continue
            without = [laid(job, case) for job in some]
            words = compared([c for c, _ in whole], [c for c, _ in without])
            print(f"  without {case.name}: {words}, {fsum(s for _, s in without):.1f} s", flush=True)
        if not told.only:
            rows = [raised(job) for job in some]
            print(f"  bounds: lines against area {compared([r[0] for r in rows], [r[1] for r in rows])}")
            print(f"  bounds: scales besides {compared([r[1] for r in rows], [r[2] for r in rows])}")
            for name, at in (("without scales", 1), ("whole", 2)):
                near = sum(spent < CLOSE * row[at] for (spent, _), row in zip(whole, rows, strict=True))
                print(f"  bounds: {name} {near} of {len(rows)} layouts within {CLOSE - 1:.0%} of the bound")


if __name__ == "__main__":
    main()
