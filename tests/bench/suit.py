"""Proposals against a grid: python -m tests.bench.suit [--workshops 20] [--first 1] [--grid 9].

Each workshop is a table that chance sizes and a rack that chance stocks. Diameter and slat width may change; every
point of a grid over both is laid out in full, and its cheapest table that holds is compared with the cheapest
proposed. Printed: cost asked, cheapest of the grid, cheapest proposed, layouts each needed (in full, and quick ones
of a tenth of a second that only the search makes), seconds of the search.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from itertools import product
from random import Random
from time import monotonic

from templategen.errors import TemplategenError
from templategen.suit import search as searching
from templategen.suit.proposal import JUDGED, Proposal, proposal, proposals
from templategen.suit.quick import Reckoner
from templategen.suit.search import search
from templategen.suit.variant import asked, at_share
from templategen.table.assembly import build_table
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text
from tests.random_profiles import profile_text

MOST = 3
"""Proposals asked for."""


class Counted(Reckoner):
    """Keeps count of the variants that a search has reckoned."""

    last: Counted

    def __init__(self, profile: Profile) -> None:
        super().__init__(profile)
        Counted.last = self


def workshop(seed: int) -> Profile | None:
    """A profile with stock and what may change; None where chance makes no table that holds."""
    random = Random(seed)
    text = profile_text(seed)
    try:
        table = build_table(profile_from_text(text, "plain"))
    except TemplategenError:
        return None
    inch = 25.4 if table.profile.units == "in" else 1.0
    thick = sorted({part.thickness for part in table.parts})
    lines = ["[suit]", 'counts = ["cost"]']
    d = table.profile.top.diameter
    lines.append(f'"top.diameter" = [{0.94 * d / inch:.3f}, {1.05 * d / inch:.3f}]')
    lines.append('"slats.width" = "15 %"')
    for number, thickness in enumerate(thick):
        for kind in range(2):
            length, width = random.randrange(1700, 3200, 100), random.randrange(125, 260, 5)
            price = round(length * width * thickness * random.uniform(0.9, 1.2) / 4e5, 2)
            lines += [
                "[[stock]]", f'name = "board {number}-{kind}"', f"length = {length / inch:.4f}",
                f"width = {width / inch:.4f}", f"thickness = {thickness / inch:.4f}", f"price = {price}",
            ]  # fmt: skip
    try:
        profile = profile_from_text(f"{text}\n" + "\n".join(lines) + "\n", f"workshop {seed}")
        return profile if proposal(profile, asked(profile)).holds else None
    except TemplategenError:
        return None


def grid(profile: Profile, count: int) -> Iterator[Proposal]:
    """Every point of a grid, in full."""
    shares = [number / (count - 1) for number in range(count)]
    variations = profile.suit.variations
    for point in product(shares, repeat=len(variations)):
        try:
            yield proposal(profile, tuple(at_share(profile, *pair) for pair in zip(variations, point, strict=True)))
        except TemplategenError:
            continue


def main(arguments: Sequence[str] | None = None) -> None:
    """Prints a row for each workshop."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--workshops", type=int, default=20)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--grid", type=int, default=9)
    told = parser.parse_args(arguments)
    left, seed = told.workshops, told.first
    searching.Reckoner = Counted  # type: ignore[misc]
    while left > 0:
        profile = workshop(seed)
        seed += 1
        if profile is None:
            continue
        left -= 1
        own = proposal(profile, asked(profile))
        start = monotonic()
        found = proposals(profile, search(profile), MOST)
        seconds = monotonic() - start
        every = list(grid(profile, told.grid))
        best = min((one.cost for one in every if one.holds), default=float("inf"))
        mine = min((one.cost for one in (own, *found)), default=float("inf"))
        word = "no worse" if mine <= best + 1e-6 else f"dearer by {100 * (mine / best - 1):.2f} %"
        print(f"{profile.name}: asked {own.cost:.2f}, grid {best:.2f} by {len(every)} layouts, proposed {mine:.2f} "
              f"of {JUDGED} checked at most, after {len(Counted.last.known)} quick ones, {seconds:.0f} s: {word}",
              flush=True)  # fmt: skip


if __name__ == "__main__":
    main()
