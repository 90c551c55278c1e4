"""Splines: loose tongues with their grain across the joint."""

from collections.abc import Iterator

from templategen.parts.part import Part
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.bars import planed, ripped
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.rim import sawn_round
from templategen.shop.set_ups.sawn_ends import sawn_jobs, square_ends
from templategen.shop.set_ups.set_up import Job, Lay, Proof
from templategen.table.assembly import Table

WHERE_THEY_MEET = "from the spline's inner end to the ring's outer corner, where the facets meet"

INSET = "from the ring's inner corner to the glued spline's inner end, as it was told when that was glued in"
"""What a spline's place is told from as it is cut: in its slot nothing measures it any more."""

CUT = 1e-6
"""A spline that loses less than this with the ring is not cut with it, mm2."""


def spline_jobs(ledger: Ledger, table: Table, part: Part, uneven: bool = False) -> Iterator[Job]:
    """Strips as wide as a spline is long, cut off every few centimetres; trimmed with the ring. In an `uneven` ring
    its place is told from the pivot."""
    thin = tolerances.fitted(ledger, "thickness at both ends and the middle", "height")
    yield planed(ledger, part, "splines.thickness", Proof(tolerances.FIRST, (thin,)))
    yield ripped(ledger, part, f"part.{part.code}.width")
    check = tolerances.at_end(ledger, "length between the ends", "stop")
    proof = Proof(tolerances.FIRST, (check,))
    yield from sawn_jobs(ledger, part, square_ends(ledger, "splines.length"), "splines.length", proof)
    if part.blank.area - part.outline.area < CUT:
        return
    if table.sizes.is_sawn and uneven:
        yield sawn_round(
            ledger, part, ledger.setting("pivot", _from_axis(ledger, part), "from the pivot to its inner end")
        )
    elif table.sizes.is_sawn:
        yield sawn_round(ledger, part, ledger.setting("inset", f"part.{part.code}.start", INSET))
    else:
        yield _trimmed(ledger, part, _from_axis(ledger, part))


def _from_axis(ledger: Ledger, part: Part) -> str:
    says, start = "from the axis to the spline's inner end", f"part.{part.code}.start"
    return ledger.add(f"{part.code}.from_axis", says, "mm", "corner + start", start=start)


def _trimmed(ledger: Ledger, part: Part, inner: str) -> Job:
    """Cut to the two facets of a ring that isn't sawn."""
    says = "from the spline's inner end to the ring's outer corner"
    tip = ledger.add(f"{part.code}.tip", says, "mm", "A / cos(mitre) - inner", inner=inner)
    shared = (ledger.setting("angle", "top.mitre", "off square to either side, along the facets"),)
    own = (ledger.setting("length", tip, WHERE_THEY_MEET),)
    lay = Lay(part.code, part.count, "high", "top", "bottom")
    proof = tolerances.length(ledger, tip, "flush with both facets", "length", "the ring itself")
    return Job("trim", "saw blade", shared, own, (lay,), "outside the facets", proof)
