"""The ground cross: its rails and the pads under them."""

from collections.abc import Iterator
from dataclasses import replace

from templategen.geometry.edge import Arc
from templategen.parts.part import Part
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.bars import bar
from templategen.shop.set_ups.crossings import (
    ENDS,
    TRENCH_SIDE,
    Crossing,
    bore_jobs,
    channel_settings,
    drain_jobs,
    lap_jobs,
    mortise_jobs,
    pad_drain_job,
)
from templategen.shop.set_ups.cutters import passes_for
from templategen.shop.set_ups.edges import ON_THE_FLOOR, eased_from, edge_job, kept_short, operation_of
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.sawn_ends import angle_settings, square_angle
from templategen.shop.set_ups.set_up import Job, Lay, Operation, Setting, Side
from templategen.table.assembly import Table
from templategen.table.edges import BASE_EDGE
from templategen.table.pedestal import base_lap


def base_crossing(table: Table) -> Crossing:
    """The ground cross, by its quantities."""
    names = ("base.length", "base.rail_width", "base.thickness", "legs.base_centre_distance")
    return Crossing("base", table.sizes.rails, *names, "top")


def base_jobs(ledger: Ledger, table: Table, part: Part) -> Iterator[Job]:
    """One rail of the ground cross."""
    crossing, number = base_crossing(table), base_lap(table.sizes).codes.index(part.code)
    yield from bar(ledger, part, "base.thickness", "base.rail_width", "base.length")
    yield from lap_jobs(ledger, dict.fromkeys(ENDS, crossing), number, part)
    yield from mortise_jobs(ledger, crossing, part)
    yield from bore_jobs(ledger, crossing, part)
    if table.profile.base.drain_hole > 0:
        last = () if part.cuts("relief") else channel_settings(ledger, table)
        yield from drain_jobs(ledger, crossing, part, last)
    if part.cuts("relief"):
        yield _relieved(ledger, table, part)
    yield from _rounded(ledger, part)
    yield from _eased(ledger, table, part)


def foot_jobs(ledger: Ledger, part: Part) -> Iterator[Job]:
    """A pad."""
    yield from bar(ledger, part, "base.foot_thickness", "base.rail_width", "base.foot_length")
    if part.holes:
        yield pad_drain_job(ledger, part)
    yield from _rounded(ledger, part)
    operation = operation_of(part, BASE_EDGE)
    if operation is None:
        return
    yield edge_job(ledger, part, operation, "bottom", "edges.base", ("low", "high", "left", "right"))


def _eased(ledger: Ledger, table: Table, part: Part) -> Iterator[Job]:
    """Above from short of the crossing round each end, and below."""
    operation = operation_of(part, BASE_EDGE)
    if operation is None:
        return
    half = ledger.add("base.half_rail", "half the width of a base rail", "mm", "w / 2", w="base.rail_width")
    free = eased_from(ledger, "base", half, "base.lap_clearance")
    terms = {"L": "base.length", "free": free}
    stop = ledger.add("base.eased_to", "from an end to where its edges are sharp", "mm", "L / 2 - free", **terms)
    to_cross = ledger.setting("stop", stop, "from each end to where the cut stops, short of the crossing")
    yield edge_job(ledger, part, operation, "top", "edges.base", (*_EDGES, *_ENDS), (to_cross,))
    yield from _eased_below(ledger, part, operation, to_cross)


def _eased_below(ledger: Ledger, part: Part, operation: Operation, to_cross: Setting) -> Iterator[Job]:
    """From short of the crossing to the pads, or to the feet and round them."""
    foot = "base.foot_length"
    begins = ledger.setting("start", foot, "from each end to where its pad ends, and the cut begins")
    if relieved := bool(part.cuts("relief")):
        own = (ledger.setting("stop", foot, "from each end to where the foot ends"),)
        yield edge_job(ledger, part, operation, "bottom", "edges.base", (*_EDGES, *_ENDS), own)
        begins = _past_the_foot(ledger)
    if any(one.operation == BASE_EDGE and (one.floor > 0) == relieved for one in part.features_on("bottom")):
        job = edge_job(ledger, part, operation, "bottom", "edges.base", _EDGES, (begins, to_cross))
        yield replace(job, relieved=True, kerf_side=ON_THE_FLOOR) if relieved else job


def _past_the_foot(ledger: Ledger) -> Setting:
    """From a rail's end to where a bit that is led along the relief's floor is clear of the foot."""
    says, terms = "from an end to where a bit is clear of the foot", {"f": "base.foot_length", "e": "edges.base"}
    start = ledger.add("base.eased_past_foot", says, "mm", "f + short + e", short=kept_short(ledger), **terms)
    return ledger.setting("start", start, "from each end to where the cut begins, clear of the foot")


def _relieved(ledger: Ledger, table: Table, part: Part) -> Job:
    """The underside taken away between the feet, in passes across the rail like a trench's; both feet are as long."""
    terms = {"L": "base.length", "f": "base.foot_length"}
    wide = ledger.add("base.between_feet", "a base rail between its feet", "mm", "L - 2 * f", **terms)
    made = passes_for(ledger, "relief", "base.relief", (wide, "base.relief"), "the relief")
    shared = (
        *angle_settings(ledger, square_angle(ledger)),
        ledger.setting("height", "base.relief", "depth of the trench: of the cutter above its table"),
        *made.settings,
        *channel_settings(ledger, table),
    )
    own = (ledger.setting("stop", "base.foot_length", "along the fence, from the end to where the foot ends"),)
    lays = (
        Lay(part.code, part.count, "bottom", "top", "low", "left"),
        Lay(part.code, part.count, "bottom", "top", "high", "right"),
    )
    proof = tolerances.length(
        ledger, "base.foot_thickness", "depth of the relief at both feet", "height", tolerances.STRIP
    )
    return Job("relief", made.cutter, shared, own, lays, TRENCH_SIDE, proof, made.warnings, by_hand=made.by_hand)


def _rounded(ledger: Ledger, part: Part) -> Iterator[Job]:
    """The rounded corners, seen from above."""
    lays = tuple(
        Lay(part.code, part.count, end, "top", edge) for end in _ENDS for edge in _EDGES if _round(part, end, edge)
    )
    if lays:
        shared = (ledger.setting("radius", "base.end_round", "radius of the corner"),)
        proof = tolerances.length(
            ledger,
            "base.end_round",
            "from the end and from the side to where the round ends",
            "radius",
            tolerances.STRIP,
        )
        side = "outside the line, then trimmed to it"
        yield Job("round corner", "bit led by the template", shared, (), lays, side, proof)


_ENDS: tuple[Side, Side] = ("left", "right")
_EDGES: tuple[Side, Side] = ("low", "high")


def _round(part: Part, end: Side, edge: Side) -> bool:
    """Whether that corner is an arc."""
    box = part.outline.bounds
    x, y = box.left if end == "left" else box.right, box.bottom if edge == "low" else box.top
    reach = max(box.width, box.height)
    arcs = [one for one in part.outline.edges if isinstance(one, Arc)]
    return any(
        abs(one.centre.x - x) <= one.radius + 1e-6 and abs(one.centre.y - y) <= one.radius + 1e-6 < reach
        for one in arcs
    )
