"""Random profiles of tables that a maker could want, as text; most can be built."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from random import Random

from templategen.errors import DesignError
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text

CORNERS = ("rounded", "beaded", "square", "chamfered")


def profile_text(seed: int) -> str:
    """A profile whose sizes hang together roughly, different for each seed."""
    rng = Random(seed)
    rails = rng.choice((2, 3))
    segments = rng.choice([n for n in range(6, 25) if n % (2 * rails) == 0])
    diameter = rng.uniform(900, 1800)
    inches = rng.random() < 0.4
    unit = 25.4 if inches else 1.0
    thickness = rng.uniform(34, 55)
    slat = rng.uniform(18, thickness * 0.6)
    tongue = rng.uniform(0.4, 0.55) * slat
    depth = rng.uniform(9, 15)
    corner = diameter / 2 * (1 / 0.866 - 1) if segments == 6 else diameter / 2 * 0.08
    rail = rng.uniform(64, 100)
    section = rng.uniform(50, 80)
    leg = rng.uniform(150, 260)

    def size(value: float) -> str:
        return f"{value / unit:.4f}"

    lines = [
        "format = 1",
        f'title = "random {seed}"',
        f'units = "{"in" if inches else "mm"}"',
        "[top]",
        f"diameter = {size(diameter)}",
        f"rails = {rails}",
        f"segments = {segments}",
        f'edge = "{rng.choice(("sawn", "sawn", "faceted"))}"',
        f"thickness = {size(thickness)}",
        f"rail_width = {size(rail)}",
        f"rim_width = {size(rng.uniform(80, 120) + corner)}",
        f"saw_allowance = {size(rng.uniform(0, 8))}",
        f"edge_round = {size(rng.uniform(0, 8))}",
        f"pole_hole = {size(rng.choice((0, 36)))}",
        *([f"drip_groove = [{size(9.3 + seed % 4)}, {size(5.7)}, {size(3.9)}]"] if seed % 5 == 1 else []),
        "[slats]",
        f'run = "{rng.choice(("across", "along", "straight"))}"',
        f"width = {size(rng.uniform(35, 80))}",
        f"gap = {size(rng.uniform(4, 9))}",
        f'hold = "{rng.choice(("width", "gap"))}"',
        f'apex = "{rng.choice(("open", "closed"))}"',
        f"thickness = {size(slat)}",
        f'face = "{rng.choice(("flush", "centred"))}"',
        f"chamfer = {size(rng.choice((0, 1.5, 2)))}",
        "[joints]",
        f"tongue = {size(tongue)}",
        f"groove_depth = {size(depth)}",
        f"end_clearance = {size(rng.uniform(0.3, 1.5))}",
        f"glue_clearance = {size(rng.uniform(0.05, 0.2))}",
        f'spline = "{rng.choice(("through", "stopped", "none"))}"',
        f"spline_thickness = {size(rng.uniform(6, 12))}",
        f"spline_depth = {size(rng.uniform(12, 24))}",
        "[legs]",
        f"section = {size(section)}",
        f'corner = "{CORNERS[seed % len(CORNERS)]}"',
        f"corner_size = {size(2 + seed % 7 * 0.83)}",
        f"centre_distance = {size(leg)}",
        f"base_centre_distance = {size(leg + rng.choice((0, 0, rng.uniform(-15, 25))))}",
        f"tenon = [{size(rail * 0.3)}, {size(section * 0.6)}, {size(thickness * 0.5)}]",
        "[base]",
        f"length = {size(rng.uniform(650, 850))}",
        f"rail_width = {size(rail)}",
        f"thickness = {size(rng.uniform(50, 70))}",
        f'feet = "{rng.choice(("pads", "relieved"))}"',
        f"foot_thickness = {size(rng.uniform(6, 12))}",
        f"foot_length = {size(rng.uniform(60, 110))}",
        f"end_round = {size(rng.uniform(0, 25))}",
        *(['glides = "screwed"', f"glide = [{size(23.0)}, {size(4.3)}, {size(17.0)}]"] if seed % 6 == 2 else []),
        *_edges(rng, size),
    ]
    return "\n".join(lines) + "\n"


def _edges(rng: Random, size: Callable[[float], str]) -> Iterator[str]:
    """How arrises are eased, none like another, some left to the program."""
    yield "[edges]"
    yield f'shape = "{rng.choice(("rounded", "chamfered"))}"'
    for name, most in (("rim", 3.5), ("rail", 3.0), ("slat", 2.5), ("base", 2.9)):
        asked, least = rng.uniform(0, most), rng.random()
        if least > 0.25:
            yield f"{name} = {size(asked if least > 0.4 else 0.0)}"


def tables(seeds: range) -> Iterator[Table]:
    """The tables among the seeds that can be built; the others must say why."""
    for seed in seeds:
        try:
            yield build_table(profile_from_text(profile_text(seed), f"random-{seed}"))
        except DesignError as refusal:
            assert all(fault.where and fault.found and fault.remedy for fault in refusal.faults)
