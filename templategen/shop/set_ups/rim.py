"""The rim's segments, from the plank to the round ring."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from templategen.checks.sentences import SENTENCES
from templategen.checks.shows import is_steep
from templategen.checks.tools import past_the_saw
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.bars import planed, ripped
from templategen.shop.set_ups.choose import ways_for
from templategen.shop.set_ups.edges import FACES, edge_job, operation_of
from templategen.shop.set_ups.feed import open_first
from templategen.shop.set_ups.grooves import from_top, groove_job
from templategen.shop.set_ups.ledger import PREFIX, Ledger
from templategen.shop.set_ups.sawn_ends import SawnEnd, sawn_jobs
from templategen.shop.set_ups.set_up import Job, Lay, Proof, Setting, Side
from templategen.table.assembly import Table
from templategen.table.edges import INNER_EDGE

NEAR = 1e-6
"""A cut that comes this near to an end runs out there, mm."""

GROOVE_STARTS = "along the inner edge, from its corner to where the groove starts"
GROOVE_STOPS = "along the inner edge, from its corner to where the groove stops"

PIVOT_SIDE = "the blade stands outside the circle: the disc is kept, the waste falls outside"


@dataclass(frozen=True, slots=True)
class SegmentNames:
    """The names of a segment's quantities: those of the regular ring, or a part's own where it was re-fitted.

    `work` begins the names of its grooves and slots, `lean` is how far its left end leans out past the inner edge
    ("" where that is half of what the outer edge is longer), `aside` how far the foot of the pivot lies from the
    middle of its inner edge ("" where it is the middle).
    """

    work: str
    width: str = "top.rim_width"
    left: str = "top.mitre"
    right: str = "top.mitre"
    outer: str = "top.outer_length"
    right_face: str = "top.joint_face"
    pivot: str = "top.inner_apothem"
    lean: str = ""
    aside: str = ""


def segment_jobs(ledger: Ledger, table: Table, part: Part, own: SegmentNames | None = None) -> Iterator[Job]:
    """A segment: the outer edge is its long one, along the fence for both mitres; the end that leans less is sawn
    first."""
    names = own or SegmentNames(f"part.{part.code}")
    yield planed(ledger, part, "top.thickness")
    check = tolerances.alike(ledger, "width, segment against segment", "fence")
    yield ripped(ledger, part, names.width, Proof(tolerances.FIRST, (check,)))
    ends: list[tuple[Side, str]] = [("left", names.left), ("right", names.right)]
    if ledger.value(names.right) < ledger.value(names.left):
        ends.reverse()
    stops = zip(ends, ("", names.outer), strict=True)
    first, second = (SawnEnd(end, "high", angle, stop) for (end, angle), stop in stops)
    proof = tolerances.closing(ledger)
    handled = (SENTENCES["steep-grain"].do,) if is_steep(table) else ()
    for job in sawn_jobs(ledger, part, (first, second), names.outer, proof):
        yield replace(job, warnings=(*job.warnings, *handled))
    for number, groove in enumerate(part.cuts("groove"), 1):
        yield _groove(ledger, part, groove, names, number)
    for number, slot in enumerate(part.cuts("spline-slot"), 1):
        yield _slot(ledger, part, slot, names, number)
    operation = operation_of(part, INNER_EDGE)
    if operation:
        yield from (edge_job(ledger, part, operation, face, "edges.rim", ("low",)) for face in FACES)
    if table.sizes.is_sawn:
        says = "on the underside, before sawing: from the pivot's place to the middle of every inner edge"
        place = [ledger.setting("pivot", names.pivot, says)]
        if names.aside:
            told = "from that middle to the foot of the pivot, to the right"
            place.append(ledger.setting("aside", names.aside, told))
        job = sawn_round(ledger, part, *place)
        past = past_the_saw(table) if job.cutter == "bandsaw blade" else ()
        carried = tuple(one.described(table.profile.units).do for one in past)
        yield replace(job, warnings=(*job.warnings, *carried))
    if part.cuts("drip-groove"):
        yield _drip(ledger, part)
    if operation_of(part, "round over"):
        for face in FACES:
            yield edge_job(ledger, part, "edge round-over", face, "top.edge_round", ("high",))


def _drip(ledger: Ledger, part: Part) -> Job:
    """Under the glued ring, along its edge, which is still square."""
    name = "top.drip_groove"
    shared = (
        ledger.setting("fence", f"{name}.from_edge", "from the rim's edge to the groove's near side"),
        ledger.setting("width", f"{name}.width", "of the groove, and of the bit"),
        ledger.setting("height", f"{name}.depth", "how deep it goes"),
    )
    lay = Lay(part.code, part.count, "bottom", "bottom", "high")
    proof = tolerances.length(ledger, f"{name}.from_edge", "from the edge to the groove", "fence", tolerances.STRIP)
    return Job("drip groove", "straight bit", shared, (), (lay,), "the bit stands inside the ring's edge", proof)


def _groove(ledger: Ledger, part: Part, groove: Feature, names: SegmentNames, number: int) -> Job:
    """Along the inner edge, the top at the fence. The mitred ends lean out past that edge: told from its corner for
    what goes over it, for a machine's blocks from the outer edge's corner, which is what they touch."""
    name = f"{names.work}.groove_{number}"
    own = tuple(_stops(ledger, part, groove, name))
    touched = tuple(_from_the_block(ledger, one, names, name) for one in own)
    lay = Lay(part.code, part.count, "low", "high", "top", "left" if own else "")
    return groove_job(ledger, "groove", lay, from_top(ledger), own, names.outer, touched)


def _slot(ledger: Ledger, part: Part, slot: Feature, names: SegmentNames, number: int) -> Job:
    """In the middle of a mitre, so that either face may lie at the fence: the one with which the slot's open end goes
    first. Stood on its mitre the segment leans back from the outer corner and out over the inner one, so a block
    touches the outer corner and distances are told from there, alike for both ends. It ends the cut even where the
    slot reaches the inner corner: a cutter that ran out would take a wedge off the inner edge beside the joint."""
    says, thick = "wood beside a spline's slot", "joints.spline_thickness"
    fence = ledger.add("spline_slot.fence", says, "mm", "(T - ts) / 2", ts=thick)
    right, name = slot.face == "end-1", f"{names.work}.spline-slot_{number}"
    start, end = f"{name}.start", f"{name}.end"
    if right:
        start, end = (_from_outside(ledger, names, name, end) for end in ("end", "start"))
    own = [ledger.setting("end", end, "along the mitre, from the stop at its outer corner to where the slot stops")]
    if ledger.value(start) > NEAR:
        says = "along the mitre, from the stop at its outer corner to where the slot starts"
        own.insert(0, ledger.setting("start", start, says))
    worked: Literal["left", "right"] = "right" if right else "left"
    against = open_first(worked, stopped=len(own) > 1)
    lay = Lay(part.code, part.count, worked, "left" if right else "right", against, "high")
    return groove_job(ledger, "spline slot", lay, fence, tuple(own))


def _from_outside(ledger: Ledger, names: SegmentNames, name: str, end: str) -> str:
    """A slot's end, told from the outer corner."""
    terms = {"face": names.right_face, "at": f"{name}.{end}"}
    short = name.removeprefix("part.").removeprefix(PREFIX)
    return ledger.add(f"{short}.{end}_from_outside", "the same, from the outer corner", "mm", "face - at", **terms)


def _stops(ledger: Ledger, part: Part, cut: Feature, name: str) -> Iterator[Setting]:
    """Where a groove starts and stops, from its edge's left corner, unless it runs out there."""
    box, face = cut.outline.bounds, part.face(cut.face).outline.bounds
    if box.left > face.left + NEAR:
        yield ledger.setting("start", f"{name}.start", GROOVE_STARTS)
    if box.right < face.right - NEAR:
        yield ledger.setting("end", f"{name}.end", GROOVE_STOPS)


def _from_the_block(ledger: Ledger, one: Setting, names: SegmentNames, name: str) -> Setting:
    """The same from the corner that a block touches."""
    short = name.removeprefix("part.").removeprefix(PREFIX)
    out = {"lean": names.lean} if names.lean else {"Lo": names.outer, "Li": "top.inner_length"}
    formula = "lean + at" if names.lean else "(Lo - Li) / 2 + at"
    told = "the same, from the stop: the mitred end leans out to the outer edge"
    at = ledger.add(f"{short}.{one.name}_from_stop", told, "mm", formula, **out, at=one.figure.quantity)
    return ledger.setting(one.name, at, one.says)


TOUCHED = {
    True: "at the cut's first touch, from above along the joint: from the ring's inner corner to the cut",
    False: "from the pivot's place to the cut, on the underside, all round",
}
"""Where the circle is measured, by whether all joints of the ring are alike: the pivot itself lies under the top."""


def sawn_round(ledger: Ledger, part: Part, *place: Setting) -> Job:
    """Sawn round on the pivot, glued into the ring; `place` tells where the part lies in it."""
    even = all(one.name == "inset" or one.figure.quantity == "top.inner_apothem" for one in place)
    shared = (ledger.setting("radius", "top.radius", "from the pivot to the near face of the kerf"),)
    lay = Lay(part.code, part.count, "high", "top", "bottom")
    check = tolerances.sized(ledger, "top.radius", TOUCHED[even], "radius", "middle")
    if even:
        check = replace(check, wanted=ledger.setting("wanted", "top.wall_at_joint", "wood along the joint"))
    proof = Proof("the ring's own waste", (check,))
    cutter, settings = _cutter_round(ledger)
    return Job("saw round", cutter, (*shared, *settings), place, (lay,), PIVOT_SIDE, proof)


ROUND_BY = {
    "machine": (
        "bandsaw blade", "pivot to the middle of the blade", "pivot.middle", "shop.bandsaw_blade.kerf",
        "width of the bandsaw's cut; measure one: the middle moves out by half of what it is wider",
        "from the pivot to the middle of the blade",
    ),
    "hand-held": (
        "router bit", "pivot to the middle of the bit", "trammel.middle", "jigs.trammel_bit",
        "width of the bit's cut", "from the pivot to the middle of the bit",
    ),
}  # fmt: skip
"""What cuts the ring round by kind of way, and by which quantities; the two last say what these are."""


def _cutter_round(ledger: Ledger) -> tuple[str, tuple[Setting, ...]]:
    """What cuts the ring round, how wide, and where its middle runs; what saws and shaves to a line has neither."""
    ways = ways_for(ledger.profile, "saw round")
    if not ways or ways[0].kind not in ROUND_BY:
        return "saw", ()
    cutter, to_middle, name, width, says, told = ROUND_BY[ways[0].kind]
    middle = ledger.add(name, to_middle, "mm", "R + kerf / 2", kerf=width)
    return cutter, (ledger.setting("kerf", width, says), ledger.setting("middle", middle, told))
