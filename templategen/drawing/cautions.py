"""Cautions on sheets, at the part they concern: short, general, and never instead of the machine's own manual."""

from collections.abc import Iterator, Sequence
from typing import get_args

from templategen.parts.kinds import KINDS
from templategen.parts.part import Part
from templategen.shop.cautions import (
    MITRES,
    ON_THE_MACHINE,
    SAWING_ROUND,
    SHORT,
    SHORT_BY_HAND,
    SHORT_PIECE,
    SLEDS,
    general,
    with_tools,
)
from templategen.table.profile.choices import HandTool, Machine
from templategen.work.stock import sawn_out_with

__all__ = ["ON_THE_MACHINE", "ROUTING", "cautions", "sawing"]

ALL = get_args(Machine)

ROUTING = (
    "Hold the sheet down all over and the small parts by tabs or skin; cut inside before outside.",
    *ON_THE_MACHINE,
)
"""For a sheet that is routed."""


def sawing(machines: Sequence[Machine], hand_tools: Sequence[HandTool]) -> tuple[str, ...]:
    """What is minded where a board is sawn up, with the tools that the plan of work takes for it."""
    return (*sawn_out_with(machines, hand_tools)[1], *general(machines))


def cautions(part: Part, machines: Sequence[Machine] = ALL) -> Iterator[str]:
    """The cautions that a part's sheet carries where a shop has these machines, each once."""
    yield from dict.fromkeys(with_tools(line, machines) for line in _of_its_work(part))
    if part.size[0] < SHORT_PIECE:
        yield SHORT if any(one in machines for one in SLEDS) else SHORT_BY_HAND
    yield from general(machines)


def _of_its_work(part: Part) -> Iterator[str]:
    yield from (kind.caution for name, kind in KINDS.items() if kind.caution and part.cuts(name))
    if part.kind in ("rim-segment", "slat"):
        yield MITRES
    if part.kind == "rim-segment" and len(part.outline.edges) and any(v.bulge for v in part.outline):
        yield SAWING_ROUND
