"""Grooves and slots in edges and ends: one face at the fence, the cutter as high as the groove is deep."""

from collections.abc import Iterator
from dataclasses import replace

from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.cutters import passes_for
from templategen.shop.set_ups.feed import ON_THE_PIECE, OVER_THE_CUTTER, rear_of
from templategen.shop.set_ups.ledger import PREFIX, Ledger
from templategen.shop.set_ups.remarks import IN_THE_MIDDLE, TALLER
from templategen.shop.set_ups.set_up import Job, Lay, Operation, Proof, Setting, SettingName

CUTTER_SIDE = "the cutter's near side on the line nearest the fence; further passes move away from the fence"

BLOCKS: dict[SettingName, str] = {
    "rear": "from the block behind the piece to the cutter's far side: there the cut starts",
    "front": "from the block before the piece to the cutter's far side: there the cut ends",
}
"""What a block's distance is."""

TURNED = "with the underside at the fence: measured thickness - width - the fence told for the top"
"""What the fence is for those alone: off the thickness as it is, so that both ends lie as far under the top."""

TO_THE_LINE = (
    "from its outer corner to where the slot ends: draw it on the face, and stop where it meets the line on the fence"
    " at the cutter's near side"
)

NEAR_SIDE = "from the fence to the cutter's near side"
MIDDLE = f"{NEAR_SIDE}{IN_THE_MIDDLE}"
"""What the distance at the fence is, of a groove and of a slot in an end."""


def groove_job(
    ledger: Ledger, operation: Operation, lay: Lay, fence: str, own: tuple[Setting, ...], whole: str = "",
    touched: tuple[Setting, ...] = (),
) -> Job:  # fmt: skip
    """The groove of rim and rails (`operation` "groove") or a spline's slot in a mitre.

    `fence` is the quantity of the distance from the fence to the cutter. Where the cut runs out, `own` has no stop.
    `whole` is the quantity of a mitred piece's length between the corners that blocks touch, `touched` the stops told
    from there where `own` tells them from elsewhere. A groove that is open at
    one end alone is entered there, if need be with the underside at the fence.
    """
    grooves = operation == "groove"
    width, depth = (
        ("joints.tongue", "joints.groove_depth") if grooves else ("joints.spline_thickness", "joints.spline_depth")
    )
    words = "the groove" if grooves else "the slot"
    blocks = tuple(_blocks(ledger, lay, touched or own, whole))
    if grooves and [one.name for one in blocks] == ["rear"]:
        lay = replace(lay, against="bottom")
        blocks = (
            *_blocks(ledger, lay, touched or own, whole),
            ledger.setting("fence", _from_underside(ledger), TURNED),
        )
    name, stops = "groove" if grooves else "spline_slot", [one.name for one in blocks if one.name != "fence"]
    made = passes_for(ledger, operation, name, (width, depth), words, stops=stops)
    warnings = (*made.warnings, *([TALLER] if whole and stops else []))
    shared = (
        ledger.setting("fence", fence, NEAR_SIDE if grooves else MIDDLE),
        ledger.setting("height", depth, "of the cutter over what the piece lies on"),
        *made.settings,
    )
    goes = "width of the groove, by calipers" if grooves else "width: the spline slides in by hand"
    wide = tolerances.fitted(ledger, goes, "width", "step")
    checks = (
        replace(wide, wanted=ledger.setting("wanted", width, "width of the groove")) if grooves else wide,
        tolerances.level(ledger, tolerances.AT_THE_FENCE, "fence")
        if grooves
        else tolerances.midway(ledger, tolerances.FACE_TO_FACE, "fence"),
        tolerances.at_end(
            ledger, "depth, and stopped ends" if own else "depth", "height", *ON_THE_PIECE, *OVER_THE_CUTTER
        ),
    )
    proof = Proof(tolerances.STRIP if grooves else tolerances.SCRAP_RING, checks)
    return Job(
        operation, made.cutter, shared, (*own, *blocks), (lay,), CUTTER_SIDE, proof, warnings,
        by_hand=made.by_hand,
    )  # fmt: skip


def _blocks(ledger: Ledger, lay: Lay, own: tuple[Setting, ...], whole: str) -> Iterator[Setting]:
    """The blocks that a piece starts and stops at, of where its groove starts and ends from `lay.stop_at`."""
    at_rear = lay.stop_at == rear_of(lay)
    for one in own:
        quantity = one.figure.quantity
        if one.name == "end":
            yield _block(ledger, "rear" if at_rear else "front", quantity)
        elif lay.worked in ("left", "right"):
            yield ledger.setting("line", quantity, TO_THE_LINE)
        else:
            name = f"{quantity.removeprefix(PREFIX)}.other"
            told = "the same from the other end"
            other = ledger.add(name, told, "mm", "whole - at", whole=whole, at=quantity)
            yield _block(ledger, "front" if at_rear else "rear", other)


def _block(ledger: Ledger, name: SettingName, quantity: str) -> Setting:
    return ledger.setting(name, quantity, BLOCKS[name])


def from_top(ledger: Ledger) -> str:
    """The quantity of the wood between the top of rim and rails and their groove."""
    says = "wood between the top and the groove"
    return ledger.add("groove.from_top", says, "mm", "T - upper", upper="joints.groove_top")


def _from_underside(ledger: Ledger) -> str:
    """The quantity of the wood between the underside of rim and rails and their groove."""
    return ledger.add("groove.from_underside", "wood between the underside and the groove", "mm", "low",
                      low="joints.groove_bottom")  # fmt: skip
