"""Edges rounded or chamfered."""

from collections.abc import Mapping, Sequence
from typing import Literal

from templategen.parts.kinds import FeatureKind
from templategen.parts.part import Part
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.set_up import Job, Lay, Operation, Setting, SettingName, Side
from templategen.table.edges import SHORT

FACES: tuple[Side, Side] = ("top", "bottom")

GUIDED = "the bit's bearing runs on the edge; it takes the corner alone"

ON_THE_FLOOR = "the bit's bearing runs on the relief's floor; it takes the corner alone"
"""The same between the feet of a relieved rail, on whose edge a router stands."""


BITS: Mapping[str, tuple[str, str]] = {
    "chamfer": ("chamfer bit", "of the chamfer, along each face"),
    "bead": ("corner bead bit", "bead and quirk together, along each face"),
}
"""Bit and size of an operation, where it isn't a round-over."""

ROUND = ("round-over bit", "radius of the bit")
"""The same where it is one."""

EASED: tuple[tuple[FeatureKind, Operation], ...] = (
    ("round-over", "round-over"), ("chamfer", "chamfer"), ("bead", "bead")
)  # fmt: skip


def operation_of(part: Part, done: str) -> Operation | None:
    """The operation that eases the arrises which the part's features name as `done`; None where it has none."""
    kinds = {feature.kind for feature in part.features if feature.operation == done}
    return next((operation for kind, operation in EASED if kind in kinds), None)


def edge_job(
    ledger: Ledger, part: Part, operation: Operation, face: Side, size: str, edges: Sequence[Side],
    own: tuple[Setting, ...] = (), end: Side | Literal[""] = "",
) -> Job:  # fmt: skip
    """The arrises between `face` and each of `edges`, by a bit of that size; `own` says where it stops, from both
    ends or from that `end` alone."""
    lays = tuple(Lay(part.code, part.count, face, face, edge, end) for edge in edges)
    bit, what = BITS.get(operation, ROUND)
    name: SettingName = "size" if operation in BITS else "radius"
    shared = (ledger.setting(name, size, what),)
    proof = tolerances.length(ledger, size, "width taken off both faces", name, tolerances.STRIP)
    return Job(operation, bit, shared, own, lays, GUIDED, proof)


def eased_from(ledger: Ledger, cross: str, half: str, clearance: str) -> str:
    """From the axis to where the long edges of a cross's rails are eased from: past its widest trench."""
    terms = {"b": half, "cl": clearance, "short": kept_short(ledger)}
    formula = "(b + cl / 2 + b * cos(th)) / sin(th) + short"
    return ledger.add(f"{cross}.eased", "from the axis to where edges are eased", "mm", formula, **terms)


def kept_short(ledger: Ledger) -> str:
    """How far an eased edge stops short of a crossing, and of a foot, its own size aside."""
    says = "how far an eased edge stops short of a lap or a foot"
    source = "that the lap's corners stay closed, and a bit's bearing clears the foot"
    return ledger.given("eased.short", says, SHORT, "mm", source)
