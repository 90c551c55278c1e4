"""Legs: upright or raked, with a four-shouldered tenon at each end."""

from collections.abc import Iterator

from templategen.parts.part import Part
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.bars import planed, ripped
from templategen.shop.set_ups.dry_legs import leg_bolt_jobs, leg_peg_job
from templategen.shop.set_ups.edges import FACES, edge_job, operation_of
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.rebates import rebate_job, shoulder_job, stays
from templategen.shop.set_ups.sawn_ends import SawnEnd, sawn_jobs, square_ends
from templategen.shop.set_ups.set_up import Job, Lay, Proof, Side

UPRIGHT = 1e-9
"""Legs that lean less than this stand upright, degrees."""

ENDS: tuple[Side, Side] = ("left", "right")


def leg_jobs(ledger: Ledger, part: Part) -> Iterator[Job]:
    """The leg: squared up, cut to length over its tenons, shoulders, cheeks, arrises."""
    lean = "legs.lean"
    yield planed(ledger, part, "legs.section")
    yield ripped(ledger, part, "legs.section")
    length = "legs.length"
    checks = (
        tolerances.alike(ledger, "lengths, all legs side by side", "stop"),
        tolerances.sized(ledger, length, "length from end to end", "stop"),
    )
    proof = Proof(tolerances.FIRST, checks)
    ends = square_ends(ledger, length) if ledger.value(lean) < UPRIGHT else _raked(ledger, lean, length)
    yield from sawn_jobs(ledger, part, ends, length, proof, *checks)
    yield from _tenons(ledger, part, lean)
    if part.cuts("cross-bore"):
        yield from leg_bolt_jobs(ledger, part)
    if part.cuts("peg-hole"):
        yield leg_peg_job(ledger, part)
    yield from _eased(ledger, part)


def _raked(ledger: Ledger, lean: str, length: str) -> tuple[SawnEnd, SawnEnd]:
    """Both ends lean the same way: the outer edge is the longer at the top of legs that lean outwards."""
    outwards = ledger.value("legs.rake") > 0
    first: Side = "low" if outwards else "high"
    second: Side = "high" if outwards else "low"
    return SawnEnd("left", first, lean, ""), SawnEnd("right", second, lean, length)


def _tenons(ledger: Ledger, part: Part, lean: str) -> Iterator[Job]:
    terms = {"half": "legs.half_shoulder", "w": "legs.tenon.width"}
    says = "narrow shoulder of a leg's tenon, along the shoulder"
    margin = ledger.add("leg.shoulder", says, "mm", "half - w / 2", **terms)
    edges: tuple[tuple[Side, Side], ...] = (("low", "high"), ("high", "low"))
    faces: tuple[tuple[Side, Side], ...] = (("top", "bottom"), ("bottom", "top"))
    whole, raked = dict.fromkeys(ENDS, "legs.tenon.length"), ledger.value(lean) >= UPRIGHT
    lengths = {**whole, "right": "legs.stub"} if part.cuts("bolt-hole") else whole
    for length in dict.fromkeys(lengths.values()):
        ends = [end for end in ENDS if lengths[end] == length]
        if ledger.value(margin) > UPRIGHT:
            lays = [Lay(part.code, part.count, worked, up, end) for end in ends for worked, up in edges]
            yield shoulder_job(ledger, length, margin, "legs.section", lays, lean, len(set(lengths.values())) > 1)
        for worked, up in faces:
            lays = [Lay(part.code, part.count, worked, up, end, swung=raked and worked == "bottom") for end in ends]
            yield rebate_job(
                ledger,
                "leg" if length in whole.values() else "leg.stub",
                length,
                "legs.cheek",
                "legs.tenon.thickness",
                lays,
                angle=lean if raked else "",
                own=stays(ledger, worked, "legs.cheek", "legs.tenon.thickness"),
            )


def _eased(ledger: Ledger, part: Part) -> Iterator[Job]:
    """The four long arrises, between the shoulders."""
    operation = operation_of(part, "ease the arris")
    if operation:
        yield from (edge_job(ledger, part, operation, face, "legs.corner_size", ("low", "high")) for face in FACES)
