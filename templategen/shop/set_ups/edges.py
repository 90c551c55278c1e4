"""Edges rounded or chamfered."""

from __future__ import annotations

from collections.abc import Sequence

from templategen.parts.part import Part
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.job import Job
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.set_up import Lay, Operation, Side

GUIDED = "the bit's bearing runs on the edge; it takes the corner alone"


def edge_job(ledger: Ledger, part: Part, operation: Operation, face: Side, size: str, edges: Sequence[Side]) -> Job:
    """The arrises between `face` and each of `edges`, by a bit of that radius or chamfer."""
    lays = tuple(Lay(part.code, part.count, face, face, edge) for edge in edges)
    what = "size of the chamfer" if operation == "chamfer" else "radius of the bit"
    shared = (ledger.setting("radius", size, what),)
    proof = tolerances.length(ledger, size, "width taken off both faces", "radius", tolerances.OFFCUT)
    bit = "chamfer bit" if operation == "chamfer" else "round-over bit"
    return Job(operation, "hand router", bit, shared, (), lays, GUIDED, proof)
