"""The top's rails: length over tenons, laps, side grooves, tenons, mortises, pole hole."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.bars import bar
from templategen.shop.set_ups.crossings import ENDS, Crossing, bore_jobs, lap_jobs, mortise_jobs
from templategen.shop.set_ups.dry_legs import rail_bolt_jobs, rail_peg_job
from templategen.shop.set_ups.edges import FACES, eased_from, edge_job, operation_of
from templategen.shop.set_ups.grooves import from_top, groove_job
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.rebates import rebate_job, shoulder_job, stays
from templategen.shop.set_ups.set_up import Job, Lay, Proof, Side
from templategen.table.assembly import Table
from templategen.table.edges import RAIL_EDGE
from templategen.table.rails import lap_of

NEAR = 1e-6
"""A cut that comes this near to an end runs out there, mm."""


def top_crossing(ledger: Ledger, table: Table) -> Crossing:
    """The top's cross, by its quantities."""
    length = ledger.add("rail.length", "a rail over its tenons", "mm", "2 * (a + lt)")
    which = "" if table.sizes.is_glued_on_top else "top_"
    return Crossing(
        "top", table.sizes.rails, length, "top.rail_width", "top.thickness", "legs.centre_distance", "bottom",
        across=f"legs.{which}mortise_thickness", deep=f"legs.{which}mortise_depth",
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class RailNames:
    """The names of a re-fitted rail's own quantities: its whole length, twice its length from the crossing to its
    left and to its right end, and what the names of its grooves' stops begin with."""

    length: str
    left: str
    right: str
    work: str


def rail_jobs(
    ledger: Ledger, table: Table, part: Part, first: str = "", own: RailNames | None = None
) -> Iterator[Job]:
    """One of the top's rails; one that was re-fitted is worked as its `first` drawing, by its `own` lengths."""
    crossing = top_crossing(ledger, table)
    number = lap_of(table.sizes).codes.index(first or part.code)
    sides = dict.fromkeys(ENDS, crossing)
    if own:
        sides = {
            end: replace(crossing, length=length, own=f"{part.code}.{end}")
            for end, length in zip(ENDS, (own.left, own.right), strict=True)
        }
    check = tolerances.shouldered(ledger, "length between the ends")
    ends = Proof(tolerances.FIRST, (check,))
    length = own.length if own else crossing.length
    yield from bar(ledger, part, "top.thickness", "top.rail_width", length, ends)
    yield from lap_jobs(ledger, sides, number, part)
    for place, groove in enumerate(part.cuts("groove"), 1):
        yield _groove(ledger, part, groove, place, own)
    yield from _tenons(ledger, part)
    for side, at in [(sides[end], (end,)) for end in ENDS] if own else [(crossing, ENDS)]:
        yield from mortise_jobs(ledger, side, part, at)
        if part.cuts("counterbore"):
            yield from rail_bolt_jobs(ledger, side, part, at)
        if part.cuts("peg-hole"):
            yield rail_peg_job(ledger, side, part, at)
    yield from bore_jobs(ledger, sides["left"], part)
    yield from _eased(ledger, part, sides if own else {})


def _eased(ledger: Ledger, part: Part, sides: Mapping[Side, Crossing]) -> Iterator[Job]:
    """The long arrises, from each shoulder in to short of the crossing."""
    operation = operation_of(part, RAIL_EDGE)
    if operation is None:
        return
    short = eased_from(ledger, "top", "top.half_rail", "top.lap_clearance")
    for end, side in sides.items():
        terms = {"L": side.length, "free": short}
        says = "from its end to where its eased edges stop"
        stop = ledger.add(f"{side.own}.eased", says, "mm", "L / 2 - free", **terms)
        own = (ledger.setting("stop", stop, "from the end to where the cut stops, short of the crossing"),)
        for face in FACES:
            yield edge_job(ledger, part, operation, face, "edges.rail", ("low", "high"), own, end)
    if sides:
        return
    says = "from a rail's end to where its eased edges stop"
    stop = ledger.add("rail.eased", says, "mm", "a + lt - free", free=short)
    own = (ledger.setting("stop", stop, "from each end to where the cut stops, short of the crossing"),)
    for face in FACES:
        yield edge_job(ledger, part, operation, face, "edges.rail", ("low", "high"), own)


def _groove(ledger: Ledger, part: Part, groove: Feature, place: int, names: RailNames | None) -> Job:
    """From an end in to its first tongue, the top at the fence."""
    left_out = groove.outline.bounds.left <= NEAR
    name = f"part.{part.code}.groove_{place}"
    if left_out:
        formula, terms = "lt + stop", {"stop": f"{name}.end"}
    else:
        formula, terms = "lt + 2 * a - stop", {"stop": f"{name}.start"}
    says = "from a rail's end to where its side groove stops"
    end = (
        f"{names.work}.groove_{place}"
        if names
        else ledger.add(f"{part.code}.groove_{place}.stop", says, "mm", formula, **terms)
    )
    own = (ledger.setting("end", end, "along the edge, from the end to where the groove stops"),)
    high = groove.face == "edge-2"
    worked: Side = "high" if high else "low"
    up: Side = "low" if high else "high"
    lay = Lay(part.code, part.count, worked, up, "top", "right" if left_out is high else "left")
    return groove_job(ledger, "groove", lay, from_top(ledger), own)


def _tenons(ledger: Ledger, part: Part) -> Iterator[Job]:
    """Two rebates for the cheeks; the edges where a side groove has cut behind them."""
    faces: tuple[tuple[Side, Side, str], ...] = (
        ("top", "bottom", "joints.tenon_over"), ("bottom", "top", "joints.tenon_under")
    )  # fmt: skip
    even = abs(ledger.value("joints.tenon_over") - ledger.value("joints.tenon_under")) < NEAR
    for worked, up, height in faces:
        lays = [Lay(part.code, part.count, worked, up, end) for end in ENDS]
        yield rebate_job(
            ledger,
            "tongue",
            "joints.tongue_length",
            height,
            "joints.tongue_thickness",
            lays,
            is_first=worked == "top" and not even,
            own=stays(ledger, worked, "joints.tenon_over", "joints.tongue_thickness"),
        )
    lays = list(_notched(part))
    if lays:
        yield shoulder_job(ledger, "joints.tongue_length", "joints.groove_depth", "top.rail_width", lays)


def _notched(part: Part) -> Iterator[Lay]:
    """The tenons' edges that are narrower than the rail."""
    half = part.blank.bounds.top
    for zone in (f.outline.bounds for f in part.cuts("tenon") if f.face == "top"):
        end: Side = "right" if zone.left > 0 else "left"
        if zone.bottom > -half + NEAR:
            yield Lay(part.code, part.count, "low", "high", end)
        if zone.top < half - NEAR:
            yield Lay(part.code, part.count, "high", "low", end)
