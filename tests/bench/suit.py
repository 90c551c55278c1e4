"""Proposals against a grid: python -m tests.bench.suit [--workshops 20] [--first 1] [--grid 7].

Each workshop is a table that chance sizes and a rack that chance stocks. Diameter, slat width and number of segments
may change; the cheapest table that holds of a grid over all three is compared with the cheapest proposed. Printed:
number, cost asked; cheapest proposed and layouts made; cheapest of the grid and its points that make a table, each a
layout; variants reckoned by their bound, and checked; seconds of the search by the clock, of this core's work and of
the second's.

What a grid comes to stands in grids.json, since it is the same each time and takes longer than all else: `floor` is
what no table of it costs less than. A search that comes to no more than that needs no grid; where it comes to more,
or the workshop is another, the grid is run and the file written anew.
"""

from __future__ import annotations

import argparse
import json
import os
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from itertools import product
from pathlib import Path
from random import Random
from resource import RUSAGE_CHILDREN, getrusage
from tempfile import TemporaryDirectory
from time import monotonic, process_time
from typing import Any

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command has it: a process with threads isn't copied

from templategen.checks.run import found_by_sizes
from templategen.errors import TemplategenError
from templategen.kept.keep import keeper, keeping
from templategen.nesting.bound import bound
from templategen.packet.second_core import on_second_core
from templategen.packet.stages import LAID
from templategen.packet.supply import Supply, supplies
from templategen.packet.table_stages import TABLE, begun
from templategen.suit.judge import Judge, judged
from templategen.suit.proposal import AT_ONCE, SHARES, Proposal, in_full, proposal
from templategen.suit.quick import Reckoner
from templategen.suit.search import search
from templategen.suit.variant import Variant, asked, at_share, profile_of
from templategen.table.assembly import build_table
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text
from templategen.table.profile.read_workshop import workshop_from_text
from templategen.table.profile.starter import workshop_text
from tests.random_profiles import profile_text

MOST = 3
"""Proposals asked for."""

GRIDS = Path(__file__).parent / "grids.json"
"""By workshop: what its grid comes to, and the hash of the profile it was run for."""


def workshop(seed: int) -> tuple[Profile, Proposal] | None:
    """A profile with stock and what may change, and its table as asked; None where that doesn't hold."""
    random = Random(seed)
    text, shop = _without_edges(profile_text(seed)), None
    if 'units = "in"' in text:
        text, shop = _with_all_written(text), workshop_from_text(workshop_text(), "shop")
    try:
        table = build_table(profile_from_text(text, "plain", workshop=shop))
        if any(finding.level != "note" for finding in found_by_sizes(table)):
            return None
    except TemplategenError:
        return None
    inch = 25.4 if table.profile.units == "in" else 1.0
    thick = sorted({part.thickness for part in table.parts})
    lines = ["[suit]", 'counts = ["cost"]']
    d = table.profile.top.diameter
    lines.append(f'"top.diameter" = [{0.94 * d / inch:.3f}, {1.05 * d / inch:.3f}]')
    lines.append('"slats.width" = "15 %"')
    step = 2 * table.profile.top.rails
    few = max(6, table.profile.top.segments - step)
    lines.append(f'"top.segments" = [{few}, {few + 2 * step}]')
    for number, thickness in enumerate(thick):
        for kind in range(2):
            length, width = random.randrange(1700, 3200, 100), random.randrange(125, 260, 5)
            price = round(length * width * thickness * random.uniform(0.9, 1.2) / 4e5, 2)
            lines += [
                "[[stock]]", f'name = "board {number}-{kind}"', f"length = {length / inch:.4f}",
                f"width = {width / inch:.4f}", f"thickness = {thickness / inch:.4f}", f"price = {price}",
                *(["margin = '5 mm'"] if shop else []),
            ]  # fmt: skip
    try:
        profile = profile_from_text(f"{text}\n" + "\n".join(lines) + "\n", f"workshop {seed}", workshop=shop)
        own = proposal(profile, asked(profile))
    except TemplategenError:
        return None
    return (profile, own) if own.holds else None


def _without_edges(text: str) -> str:
    """The profile with its arrises eased as by default, which have no share in what boards cost."""
    lines = text.partition("[edges]\n")[0].splitlines()
    return "\n".join(line for line in lines if not line.startswith("corner")) + "\n"


def _with_all_written(text: str) -> str:
    """The profile in inches with the defaults that it would have in millimetres, besides those of a workshop."""
    written = {"[top]": ["height = '735 mm'"], "[base]": ["drain_hole = '10 mm'"]}
    written["[legs]"] = ["corner_size = '6 mm'", "stub = '10 mm'"]
    edges = ["[edges]", "rim = '2 mm'", "rail = '2 mm'", "slat = '1 mm'", "base = '3 mm'"]
    return "\n".join([*(one for line in text.splitlines() for one in (line, *written.get(line, ()))), *edges]) + "\n"


@dataclass(frozen=True, slots=True)
class Exhausted:
    """A grid: how many of its points make a table, and the cheapest that holds where that is less than was known."""

    layouts: int
    cheapest: float


def exhausted(profile: Profile, count: int, known: float) -> Exhausted:
    """What laying out every point of a grid comes to against a cost that is known. A point is laid out here only
    where its bound is less than the cheapest so far, the least bound first, and alike boards once: the same answer in
    less time."""
    shares = [number / (count - 1) for number in range(count)]
    axes = [dict.fromkeys(at_share(profile, one, share) for share in shares) for one in profile.suit.variations]
    points = list(product(*axes))
    reckon, best = Reckoner(profile, known), known
    waiting = sorted(reckon.all(points), key=lambda one: one.counts)
    with TemporaryDirectory() as folder, keeping(Path(folder)):
        while waiting and waiting[0].counts[0] < best - 1e-6:
            some, waiting = waiting[:AT_ONCE], waiting[AT_ONCE:]
            copies = [on_second_core(partial(_cost, profile, one.variant, best), wanted=True) for one in some]
            best = min(best, *(wait() for wait in copies))
    return Exhausted(sum(reckon.known[one] is not None or _built(profile, one) for one in points), best)


def _cost(profile: Profile, variant: Variant, best: float) -> float:
    """What a table of the grid costs that holds and is cheaper than the best so far."""
    worked = begun(profile_of(profile, variant), SHARES)
    if sum(map(_least, supplies(worked[TABLE])[0])) >= best - 1e-6:
        return float("inf")
    laid = worked[LAID]
    cheaper = laid and not laid.unplaced and laid.cost < best - 1e-6
    return laid.cost if laid and cheaper and in_full(profile, variant, worked).holds else float("inf")


def _least(supply: Supply) -> float:
    """What no layout of a supply costs less than."""
    who = keeper()
    assert who
    return who.value("least", supply, lambda: bound(supply.items, supply.pieces, supply.spacing).cost)


def _built(profile: Profile, variant: Variant) -> bool:
    try:
        build_table(profile_of(profile, variant))
    except TemplategenError:
        return False
    return True


def main(arguments: Sequence[str] | None = None) -> None:
    """Prints a row for each workshop."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--workshops", type=int, default=20)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--grid", type=int, default=7)
    told = parser.parse_args(arguments)
    left, seed = told.workshops, told.first
    while left > 0:
        found = workshop(seed)
        if found is not None:
            left -= 1
            print(f"| {seed} | {row(seed, *found, told.grid)} |", flush=True)
        seed += 1


def row(seed: int, profile: Profile, own: Proposal, count: int) -> str:
    """The search against the grid, told."""
    start, used, beside = monotonic(), process_time(), _children()
    good = search(profile, own.cost)
    judge = Judge(profile, own, good)
    mine = min(one.cost for one in (own, *judged(judge, MOST)))
    seconds, used, beside = monotonic() - start, process_time() - used, _children() - beside
    every = _grid(seed, profile, count, mine)
    cheaper = every.cheapest < mine - 1e-6
    best = f"{every.cheapest:.2f}" if cheaper else f"none under {mine:.2f}"
    word = f"dearer by {100 * (mine / every.cheapest - 1):.2f} %" if cheaper else "no dearer"
    return (
        f"{own.cost:.2f} | {mine:.2f}, {judge.laid} | {best}, {every.layouts} | {len(good)}, {len(judge.known)} | "
        f"{seconds:.0f}, {used:.0f}, {beside:.0f} | {word}"
    )


def _grid(seed: int, profile: Profile, count: int, mine: float) -> Exhausted:
    """What the grid comes to, from the file where that is enough to judge by."""
    name, of = f"{seed}, {count} wide", profile.sha256[:16]
    known = _grids().get(name)
    if known and known["profile"] == of and (known["reached"] or mine <= known["floor"] + 1e-6):
        return Exhausted(known["layouts"], min(known["floor"], mine) if known["reached"] else mine)
    found = exhausted(profile, count, mine)
    reached = found.cheapest < mine - 1e-6
    told = {"profile": of, "layouts": found.layouts, "floor": round(found.cheapest, 2), "reached": reached}
    kept = sorted({**_grids(), name: told}.items(), key=lambda one: int(one[0].split(",")[0]))
    GRIDS.write_text(json.dumps(dict(kept), indent=1) + "\n", encoding="utf-8")
    return found


def _grids() -> dict[str, Any]:
    return dict(json.loads(GRIDS.read_text(encoding="utf-8"))) if GRIDS.exists() else {}


def _children() -> float:
    """Seconds that processes begun by this one have worked and ended."""
    used = getrusage(RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


if __name__ == "__main__":
    main()
