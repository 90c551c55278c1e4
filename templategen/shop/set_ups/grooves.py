"""Grooves and slots in edges and ends: one face at the fence, the cutter as high as the groove is deep."""

from dataclasses import replace

from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.cutters import passes_for
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.set_up import Job, Lay, Operation, Proof, Setting

CUTTER_SIDE = "the cutter's near side on the line nearest the fence; further passes move away from the fence"


def groove_job(ledger: Ledger, operation: Operation, lay: Lay, fence: str, own: tuple[Setting, ...]) -> Job:
    """The groove of rim and rails (`operation` "groove") or a spline's slot in a mitre.

    `fence` is the quantity of the distance from the fence to the cutter. Where the cut runs out, `own` has no stop.
    """
    grooves = operation == "groove"
    width, depth = (
        ("joints.tongue", "joints.groove_depth") if grooves else ("joints.spline_thickness", "joints.spline_depth")
    )
    words = "the groove" if grooves else "the slot"
    name, stops = "groove" if grooves else "spline_slot", [one.name for one in own]
    made = passes_for(ledger, operation, name, (width, depth), words, stops=stops)
    shared = (
        ledger.setting("fence", fence, "from the fence to the cutter's near side"),
        ledger.setting("height", depth, "of the cutter above its table"),
        *made.settings,
    )
    goes = "width of the groove, by calipers" if grooves else "width: the spline slides in by hand"
    wide = tolerances.fitted(ledger, goes, "width", "step")
    checks = (
        replace(wide, wanted=ledger.setting("wanted", width, "width of the groove")) if grooves else wide,
        tolerances.level(ledger, "from the face at the fence", "fence"),
        tolerances.at_end(ledger, "depth, and stopped ends", "height", "start", "end"),
    )
    proof = Proof(tolerances.STRIP, checks)
    return Job(operation, made.cutter, shared, own, (lay,), CUTTER_SIDE, proof, made.warnings, by_hand=made.by_hand)


def from_top(ledger: Ledger) -> str:
    """The quantity of the wood between the top of rim and rails and their groove."""
    says = "wood between the top and the groove"
    return ledger.add("groove.from_top", says, "mm", "T - upper", upper="joints.groove_top")
