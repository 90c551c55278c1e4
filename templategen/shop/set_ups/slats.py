"""Slats: every end, whatever its shape, is cut against one stop, and every tongue against one fence."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import cos, degrees, hypot, inf, radians, sin
from typing import Literal, cast

from templategen.catalogue import worded
from templategen.explain.line import MEETING, WHERE, Corner, ExplainedLine, around, on
from templategen.explain.slats import ExplainedSlat
from templategen.geometry.tolerance import ON_EDGE
from templategen.jigs.end_hold import hold, on_gauge
from templategen.parts.part import Part
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.bars import planed, ripped
from templategen.shop.set_ups.cutters import at_a_machine, marks_ends
from templategen.shop.set_ups.edges import FACES, edge_job, operation_of
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.rebates import nib_jobs, rebate_job, slanting, stays
from templategen.shop.set_ups.remarks import FACET, UNHELD
from templategen.shop.set_ups.sawn_ends import SawnEnd, sawn_jobs, square_ends
from templategen.shop.set_ups.set_up import Job, Lay, Proof, Side
from templategen.table.edges import LOWER_EDGE

TONGUED = ("top.arm_tongue_line", "top.rim_tongue_line")
"""The lines that tongues end on."""

TONGUE = "tongue"
"""The kind of such a line on a slat that was re-fitted."""

ALONG = {
    True: "along the lower edge, from the far end's point to {edge}",
    False: "along the upper edge, from the far end's point to {edge}",
}
"""What a stop is measured along, by whether it is the lower edge."""

FAR = "(d - q * sin(f - r)) / cos(f - r)"
"""Where a line that faces f at distance d passes the edge that lies q across the run r, measured along it."""


POINTED = (
    "an end of two edges meets the stop away from the fence, at last with a point: a stop block as wide as the slat,"
    " square to the fence, of hard wood, the point laid against it without force"
)


LEAST_FACET = 2.0
"""A shorter edge of an end is planed off its point by hand, mm: less than most blades are thick, so the saw would be
deflected into the cut beside it, and set anew for a splinter (unverified)."""


@dataclass(frozen=True, slots=True)
class _End:
    """One straight edge of an end: its line, which end it is, its degrees off square, the edge it is long on, and how
    long it is, mm."""

    line: ExplainedLine
    end: Side
    turn: float
    against: Side
    length: float = inf

    @property
    def is_right(self) -> bool:
        """Whether it is of the right end as drawn."""
        return self.end.startswith("right")

    @property
    def is_facet(self) -> bool:
        """Whether it is too short for a saw; a square tip is made as the piece is sawn to its length."""
        return self.length < LEAST_FACET and abs(self.turn) >= ON_EDGE

    @property
    def is_tongued(self) -> bool:
        """Whether a tongue ends on it."""
        return self.line.distance in TONGUED or self.line.kind == TONGUE


def slat_jobs(ledger: Ledger, found: ExplainedSlat, part: Part) -> Iterator[Job]:
    """A slat: its blank, its ends, the rebates that leave its tongues, its eased edges."""
    yield planed(ledger, part, "slats.thickness")
    yield ripped(ledger, part, f"{found.name}.width")
    ends = tuple(_ends(ledger, found))
    check = tolerances.shouldered(ledger, "length from point to point")
    square, length = Proof(tolerances.FIRST, (check,)), f"{found.name}.length"
    for job in sawn_jobs(ledger, part, tuple(_in_order(ledger, found, part.code, ends)), length, square, check):
        yield _off_a_point(job, ends, square) if job.own and job.operation == "mitre" else job
    sawn = [end for end in ends if not end.is_facet]
    yield from _tongues(ledger, found, part, sawn)
    yield from _nibs(ledger, found, part, sawn)
    if part.cuts("pin-slot"):
        yield _pin_slot(ledger, found, part, ends)
    for done, face, size in (
        ("ease both long edges", FACES[0], "slats.chamfer"),
        (LOWER_EDGE, FACES[1], "edges.slat"),
    ):
        if operation := operation_of(part, done):
            yield edge_job(ledger, part, operation, face, size, tuple(_eased(part, done)))


def _off_a_point(job: Job, ends: Sequence[_End], whole: Proof) -> Job:
    """A mitre that is cut to a stop: by hand where it is a facet, and only that proves the `whole` length then."""
    facets = [end.end for end in ends if end.is_facet]
    if job.lays[0].worked in facets:
        return replace(job, proof=whole, warnings=(FACET,), by_hand=True)
    checks = tuple(one for one in job.proof.checks if not (facets and one in whole.checks))
    pointed = (POINTED,) if _meets_a_point(job, ends) else ()
    return replace(job, proof=replace(job.proof, checks=checks), warnings=(*job.warnings, *pointed))


def _meets_a_point(job: Job, ends: Sequence[_End]) -> bool:
    """Whether an end of two edges, one of them sawn aslant before or in this set-up, is what touches the stop."""
    own = next(end for end in ends if end.end == job.lays[0].worked)
    far = (end for end in ends if end.is_right != own.is_right and "-" in end.end and not end.is_facet)
    return any(ON_EDGE <= abs(end.turn) <= abs(own.turn) + ON_EDGE for end in far)


def _ends(ledger: Ledger, found: ExplainedSlat) -> Iterator[_End]:
    """The edges that are ends, low before high."""
    run = radians(ledger.value(found.run))
    for right in (False, True):
        lines = [line for line in _end_lines(found, run) if (cos(line.angle - run) > 0) is right]
        word = "right" if right else "left"
        for number, line in enumerate(lines, 1):
            end = word if len(lines) == 1 else f"{word}-{number}"
            corners = on(line, found.corners)
            length = max((hypot(a.x - b.x, a.y - b.y) for a, b in combinations(corners, 2)), default=inf)
            yield replace(_turned(line, run, end, right), length=length)


def _turned(line: ExplainedLine, run: float, end: str, right: bool) -> _End:
    """The end with its angle, and the edge on which its point lies."""
    turn = degrees(line.angle - run)
    turn -= 180 * round(turn / 180)
    against: Side = "low" if abs(turn) < ON_EDGE or (turn > 0) is right else "high"
    return _End(line, cast(Side, end), turn, against)


def _end_lines(found: ExplainedSlat, run: float) -> list[ExplainedLine]:
    """The lines of the edges that rise across the slat, by the height of their middles."""
    ring = around(found.corners)
    sides = []
    for one, other in zip(ring, (*ring[1:], *ring[:1]), strict=True):
        low, high = (_across(corner, run) for corner in (one, other))
        if abs(high - low) > ON_EDGE:
            line = next(line for line in found.lines if _on(line, one) and _on(line, other))
            sides.append(((low + high) / 2, line))
    return [line for _, line in sorted(sides, key=lambda side: side[0])]


def _across(corner: Corner, run: float) -> float:
    return -sin(run) * corner.x + cos(run) * corner.y


def _on(line: ExplainedLine, corner: Corner) -> bool:
    return abs(line.past(corner.x, corner.y)) <= ON_EDGE


def _in_order(ledger: Ledger, found: ExplainedSlat, code: str, ends: Sequence[_End]) -> Iterator[SawnEnd]:
    """An end of one edge first, cut clean, so that the others find their stop on its point. Set-ups go by their
    angles, so it must be the end least off square; where none is, the piece is first cut square to its length, which
    makes the square tips of its ends."""
    least = min(abs(end.turn) for end in ends if not end.is_facet)
    plain = next((end for end in ends if "-" not in end.end and abs(end.turn) < least + ON_EDGE), None)
    done = [plain] if plain else [end for end in ends if abs(end.turn) < ON_EDGE]
    if plain is None:
        tips = {end.is_right: end.end for end in done}
        for cut in square_ends(ledger, f"{found.name}.length"):
            yield replace(cut, end=tips.get(cut.end == "right", cut.end))
    else:
        yield SawnEnd(plain.end, plain.against, _angle(ledger, found, code, plain), "")
    for end in ends:
        if end not in done:
            angle, against = _angle(ledger, found, code, end), end.against
            leans_out = marks_ends(ledger, ledger.value(angle)) and _is_off_by_then(end, ends, plain is None)
            against = _corner_of(end, ends) if leans_out else against
            stop = _stop(ledger, found, code, replace(end, against=against))
            yield SawnEnd(end.end, against, angle, stop, leans_out)


def _is_off_by_then(end: _End, ends: Sequence[_End], squared: bool) -> bool:
    """Whether the wood that an edge's point lies on is gone when it is marked: the piece `squared` to its length, or
    another edge of that end sawn before it, which is less off square or the lower one of two alike."""

    def place(one: _End) -> tuple[float, str]:
        return round(abs(one.turn), 6), one.end

    beside = [one for one in ends if one.is_right == end.is_right and one is not end]
    first = squared or end.is_facet or any(place(one) < place(end) for one in beside if not one.is_facet)
    return bool(beside) and first and abs(end.turn) >= ON_EDGE and end.against != _corner_of(end, ends)


def _corner_of(end: _End, ends: Sequence[_End]) -> Side:
    """The edge on which one of several edges of an end takes the corner off: of those in the middle the one that
    the edge's point isn't on."""
    several = [one.end for one in ends if one.is_right == end.is_right]
    if end.end in (several[0], several[-1]):
        return "low" if end.end == several[0] else "high"
    return "high" if end.against == "low" else "low"


def _angle(ledger: Ledger, found: ExplainedSlat, code: str, end: _End) -> str:
    line = end.line
    half_turns = round((ledger.value(line.faces) - ledger.value(found.run)) / 180)
    formula = f"abs(faces - run - {180 * half_turns})" if half_turns else "abs(faces - run)"
    says = worded("angle off square along {edge}", edge=line.says)
    return ledger.add(f"{code}.{end.end}.angle", says, "deg", formula, faces=line.faces, run=found.run)


def _stop(ledger: Ledger, found: ExplainedSlat, code: str, end: _End) -> str:
    """Along the fence from the far point to the blade, which stands on the end's line."""
    low = end.against == "low"
    terms = {
        "d": end.line.distance, "f": end.line.faces, "r": found.run,
        "q": f"{found.name}.width.{'from' if low else 'to'}",
        "tip": f"{found.name}.length.{'from' if end.is_right else 'to'}",
    }  # fmt: skip
    formula = f"{FAR} - tip" if end.is_right else f"tip - {FAR}"
    says = worded(ALONG[low], edge=end.line.says)
    return ledger.add(f"{code}.{end.end}.stop", says, "mm", formula, **terms)


def _nibs(ledger: Ledger, found: ExplainedSlat, part: Part, ends: Sequence[_End]) -> Iterator[Job]:
    """Shoulders that no end runs along: where a slat just reaches round a corner of its field, the tongue has one end
    but two shoulders, and the second is cut to a stop."""
    run = radians(ledger.value(found.run))
    ended = {end.line.faces for end in ends if end.is_tongued}
    lines = (line for line in found.ends if line.faces not in ended and abs(cos(line.angle - run)) > ON_EDGE)
    for number, line in enumerate(lines, 1):
        right = cos(line.angle - run) > 0
        shoulder = _turned(line, run, f"{'right' if right else 'left'}", right)
        name = f"{part.code}.nib_{number}"
        angle, stop = _angle(ledger, found, name, shoulder), _stop(ledger, found, name, shoulder)
        yield from nib_jobs(ledger, part, SawnEnd(shoulder.end, shoulder.against, angle, stop))


def _pin_slot(ledger: Ledger, found: ExplainedSlat, part: Part, ends: Sequence[_End]) -> Job:
    """The slot in the right tongue, in the middle of its widest end: a bore, told from the lower edge and the tip."""
    run, name = radians(ledger.value(found.run)), f"{part.code}.pin_slot"

    def across(end: _End) -> list[Corner]:
        return sorted(on(end.line, found.corners), key=lambda corner: _across(corner, run))

    def width(end: _End) -> float:
        low, *_, high = across(end)
        return round(_across(high, run) - _across(low, run), 6)

    end = max((end for end in ends if end.is_right and end.is_tongued), key=width)
    middle = _middle(ledger, name, across(end), found.rise)
    against = _longer(found, run)
    if against == "low":
        terms = {"q": middle, "start": f"{found.name}.width.from"}
        edge = ledger.add(f"{name}.edge", "from the lower edge to the middle of the slot", "mm", "q - start", **terms)
    else:
        terms = {"q": middle, "last": f"{found.name}.width.to"}
        edge = ledger.add(f"{name}.edge", "from the upper edge to the middle of the slot", "mm", "last - q", **terms)
    terms = {
        "d": end.line.distance, "f": end.line.faces, "r": found.run, "q": middle, "tip": f"{found.name}.length.to",
        "w": "pins.slot_width", "s": "pins.slot", "side": "pins.beside", "e": "pins.from_end",
        "a": _angle(ledger, found, part.code, end),
    }  # fmt: skip
    says = "along the slat, from the right end's tip to the middle of the slot's round end"
    off = "max(0, min(side, lt - e - cs - w / 2))"
    formula = f"tip - {FAR} + min((lt - {off} - w / 2) / cos(a), e / cos(a) + (s - w) / 2)"
    stop = ledger.add(f"{name}.stop", says, "mm", formula, "it stays in the tongue", **terms)
    shared = (ledger.setting("width", "pins.slot_width", "diameter of the bit, and width of the slot"),)
    own = (
        ledger.setting("stop", stop, "from the end's tip to the centre of the bit"),
        ledger.setting("edge", edge, "from the edge at the fence to the centre of the bit"),
    )
    lay = Lay(part.code, part.count, "top", "top", against, "right")
    says = "width of the slot, and a pin slides along it"
    proof = tolerances.length(ledger, "pins.slot_width", says, "width", tolerances.STRIP)
    return Job("pin slot", "bit", shared, own, (lay,), "inside the line", proof)


def _longer(found: ExplainedSlat, run: float) -> Side:
    """The longer of its two edges, which a fence holds best; the lower one where they are alike."""
    heights = [_across(corner, run) for corner in found.corners]

    def long(height: float) -> float:
        on_it = [corner for corner in found.corners if abs(_across(corner, run) - height) < ON_EDGE]
        return max(hypot(a.x - b.x, a.y - b.y) for a in on_it for b in on_it)

    return "high" if long(max(heights)) > long(min(heights)) + ON_EDGE else "low"


def _middle(ledger: Ledger, name: str, corners: Sequence[Corner], rise: str) -> str:
    """Half way between the first and the last of some corners, measured across the slat."""
    places = {}
    for symbol, corner in (("low", corners[0]), ("high", corners[-1])):
        one, other = corner.one, corner.other
        terms = {"d1": one.distance, "f1": one.faces, "d2": other.distance, "f2": other.faces, "r": rise}
        says = worded("the right tongue's end: {corner}", corner=corner.says)
        places[symbol] = ledger.add(f"{name}.{symbol}", says, "mm", MEETING, WHERE, **terms)
    return ledger.add(f"{name}.middle", "the middle of the right tongue's end", "mm", "(low + high) / 2", **places)


def _tongues(ledger: Ledger, found: ExplainedSlat, part: Part, ends: Sequence[_End]) -> Iterator[Job]:
    """The same rebate on both faces of every end that has a tongue, of an end's edges first the one whose corner is
    off the block: the cut beside it then takes what breaks out there. By hand where no clamp holds the piece at a
    machine's fence."""
    faces: tuple[tuple[Literal["top", "bottom"], Side], ...] = (("top", "bottom"), ("bottom", "top"))
    deep = ledger.value("joints.tongue_length")
    by_machine: list[Lay] = []
    unheld: list[Lay] = []
    for worked, up in faces:
        lays = [Lay(part.code, part.count, worked, up, end.end) for end in ends if end.is_tongued]
        if on_gauge(part) or not at_a_machine(ledger):
            by_machine += lays
            continue
        holds = [hold(part, lay.against, worked, deep) for lay in lays]
        held = [(lay, one) for lay, one in zip(lays, holds, strict=True) if one]
        held.sort(key=lambda found: (found[0].against.startswith("right"), not found[1].is_free))
        by_machine += [lay for lay, _ in held]
        unheld += [lay for lay, one in zip(lays, holds, strict=True) if not one]
    angles = {end.end: _angle(ledger, found, part.code, end) for end in ends if end.is_tongued}
    thick = "joints.tongue_shoulder", "joints.slat_tongue_thickness"
    for by_hand, some in ((False, by_machine), (True, unheld)):
        for lay in some:
            own = (*slanting(ledger, angles[lay.against]), *stays(ledger, lay.worked, *thick))
            job = rebate_job(ledger, "tongue", "joints.tongue_length", *thick, [lay], by_hand=by_hand, own=own)
            yield replace(job, warnings=(UNHELD,)) if by_hand else job


def _eased(part: Part, done: str) -> Iterator[Side]:
    """The long edges that are eased."""
    middle = (part.body or part.outline).bounds.centre.y
    for chamfer in (feature for feature in part.features if feature.operation == done):
        yield "low" if chamfer.outline.bounds.centre.y < middle else "high"
