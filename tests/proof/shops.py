"""Random tables in random shops with boards of their own, as profiles."""

from __future__ import annotations

import json
from random import Random

from templategen.shop.boards import boards_of
from templategen.table.assembly import build_table
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text
from tests.random_profiles import profile_text

MACHINES = ("table saw", "mitre saw", "bandsaw", "circular saw", "planer", "hand router", "router table",
            "groove cutter", "mortiser", "drill press", "drill")  # fmt: skip


def shop_text(seed: int) -> str:
    """A shop: all machines, a few, or hands alone; its own reach, kerf and caution."""
    rng = Random(f"shop {seed}")
    share = rng.choice((0.0, 0.3, 0.6, 1.0))
    machines = [name for name in MACHINES if rng.random() < share]
    listed = "" if share == 1.0 else f"machines = {json.dumps(machines)}\n"
    return (
        f"[shop]\n{listed}"
        f'holding = "{rng.uniform(150, 380):.1f} mm"\n'
        f'saw_kerf = "{rng.uniform(1.4, 4.2):.2f} mm"\n'
        f'groove_cutter = "{rng.uniform(5, 20):.1f} mm"\n'
        f'router_bit = "{rng.uniform(5, 14):.1f} mm"\n'
        f'bit_length = "{rng.uniform(18, 60):.1f} mm"\n'
    )


def hand_shop_text(seed: int) -> str:
    """A shop whose saw and router are held in the hand, with a planer or a drill press at most; its own depth."""
    rng = Random(f"hand {seed}")
    others = [name for name in ("planer", "drill press", "sander") if rng.random() < 0.6]
    return (
        f"[shop]\nmachines = {json.dumps(['circular saw', 'hand router', 'drill', *others])}\n"
        f'holding = "{rng.uniform(150, 380):.1f} mm"\ncircular_saw_depth = "{rng.uniform(25, 70):.0f} mm"\n'
    )


def profile_in_a_shop(seed: int, stocked: bool) -> Profile:
    """A table that chance sizes in a shop that chance fits out, with boards if wanted.

    Raises: DesignError where such a table can't be built.
    """
    text = profile_text(seed) + shop_text(seed)
    profile = profile_from_text(text, f"random-{seed}")
    if not stocked:
        return profile
    rng = Random(f"yard {seed}")
    for number, boards in enumerate(boards_of(build_table(profile))):
        long, wide = rng.uniform(1900, 3600), rng.uniform(190, 300)
        text += (
            f'[[stock]]\nname = "boards {number}"\nthickness = "{boards.bought:.6f} mm"\n'
            f'length = "{long:.1f} mm"\nwidth = "{wide:.1f} mm"\n'
        )
    return profile_from_text(text, f"random-{seed}")
