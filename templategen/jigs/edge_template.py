"""The template for a slot or stopped groove in a narrow face: a window between a fence and a stop."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import degrees, tan

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.geometry.bounds import Bounds
from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.point import Point
from templategen.jigs.bush import (
    CAUTIONS,
    bit_figures,
    corners_left,
    faults_of,
    guide_of,
    proof_of_guide,
    refuse,
    seat,
    setting_steps,
)
from templategen.jigs.edge_cut import EdgeCut, edge_cuts
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, line, piece, shown
from templategen.parts.kinds import FeatureKind
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

FENCE = 35.0
"""Width of a fence, mm."""

STOP = 40.0
"""How far a stop reaches along the face, and down the part's end, mm."""

CLEAR = 2.0
"""How far the bit runs out past the wood, mm."""

WITNESS = 32.0
"""How far a stop's line is extended past the part, for its label, mm."""

STOP_LAYERS = 3
"""Width of a stop in thicknesses of the sheet."""


STOP_AT = {
    ("left",): "Stop to the left of the window, against the end of the blank[; its face leans {lean:deg}, as the "
    "part's end does].",
    ("right",): "Stop to the right of the window, against the end of the blank[; its face leans {lean:deg}, as the "
    "part's end does].",
    ("left", "right"): "Stop to the left or right of the window, against the end of the blank[; its face leans "
    "{lean:deg}, as the part's end does].",
}
"""Where the stop goes, by the sides on which there is one."""


def slot_templates(table: Table) -> Iterator[Jig]:
    """Templates for the spline slots, which stand in the mitres.

    Raises:
        DesignError: the bit or the bush can't make them.
    """
    yield from _templates(table, "spline-slot", "SLOT", translated("template for the spline slots"))


def groove_templates(table: Table) -> Iterator[Jig]:
    """Templates for grooves that stop inside a face; through ones are cut along a fence without one.

    Raises:
        DesignError: the bit or the bush can't make them.
    """
    yield from _templates(table, "groove", "GROOVE", translated("template for stopped grooves"))


def _templates(table: Table, kind: FeatureKind, code: str, name: str) -> Iterator[Jig]:
    found = [cut for cut in edge_cuts(table.parts, kind) if cut.is_stopped or kind == "spline-slot"]
    faults = [faults_of(table.profile, min(cut.width, cut.end - cut.start)) for cut in found]
    cuts = [cut for cut, against in zip(found, faults, strict=True) if not against]
    for number, cut in enumerate(cuts):
        letter = f"-{chr(ord('A') + number)}" if len(cuts) > 1 else ""
        yield _jig(_Job(table.profile, cut, f"{code}{letter}"), name)
    refuse(fault for against in faults for fault in against)


@dataclass(frozen=True)
class _Job:
    """One template, in the frame of its cut: the part's top face along y = 0, the stop's face at x = 0."""

    profile: Profile
    cut: EdgeCut
    code: str

    @property
    def routed(self) -> Bounds:
        """What the bit cuts, run out at open ends."""
        return self.cut.routed(guide_of(self.profile).bit + CLEAR)

    @property
    def window(self) -> Outline:
        """The opening for the bush."""
        return guide_of(self.profile).window(self.routed)

    @property
    def stops(self) -> dict[str, float]:
        """Where a stop's face stands, by the side on which the stop is: mirrored in the window for the right hand."""
        places = {"left": 0.0, "right": 2 * self.routed.centre.x}
        return {hand: places[hand] for hand in self.cut.hands}

    @property
    def plate(self) -> Bounds:
        """The plate: carries the router's base, the fence and every stop."""
        base = seat(self.profile, self.routed)
        half = max(base.top, FENCE + 5), min(base.bottom, -self.cut.thickness - FENCE - 5)
        beyond = [x + (STOP + 5) * (-1 if hand == "left" else 1) for hand, x in self.stops.items()]
        return Bounds(min(base.left, *beyond), half[1], max(base.right, *beyond), half[0])


def _jig(job: _Job, name: str) -> Jig:
    profile, plate = job.profile, f"{job.code}-PLATE"
    return Jig(
        job.code,
        name,
        job.cut.serves,
        tuple(_pieces(job)),
        tuple(_scribes(job, plate)),
        (*_figures(job, plate), *bit_figures(profile, job.cut.depth)),
        tuple(_use(job)),
        tuple(_proof(job)),
        (*CAUTIONS, "A part on end tips: clamp it upright in the vice between boards, the template clamped to it."),
    )


def _pieces(job: _Job) -> Iterator[Part]:
    profile, box, window = job.profile, job.plate, (job.window,)
    notes = ("the upper fence bears on the part's top face",)
    yield piece(
        profile, f"{job.code}-PLATE", "plate with the window", rectangle(*box), "template", 1, window, notes=notes
    )
    strip = rectangle(0, 0, box.width, FENCE)
    yield piece(profile, f"{job.code}-FENCE", "fence, below the plate", strip, "template", 2)
    reach, deep = STOP * tan(job.cut.lean), STOP
    side = polygon(((0, 0), (-STOP, 0), (-STOP - max(0.0, reach), -deep), (-reach, -deep))).anticlockwise
    layers = STOP_LAYERS * len(job.stops)
    told_layers = said("{layers} glued together for each stop, on edge under the plate", layers=STOP_LAYERS)
    yield piece(profile, f"{job.code}-STOP", "layer of a stop", side, "template", layers, notes=(told_layers,))


def _scribes(job: _Job, plate: str) -> Iterator[Scribe]:
    low = -job.cut.thickness
    for y, words in ((0.0, translated("fence above")), (low, translated("fence below"))):
        for start, end in _clear_of(job, (job.plate.left, job.plate.right), y, level=True):
            yield line(plate, Point(start, y), Point(end, y), words)
            words = ""
    for hand, x in job.stops.items():
        words = translated("left stop") if hand == "left" else translated("right stop")
        for start, end in _clear_of(job, (low - WITNESS, 0.0), x, level=False):
            yield line(plate, Point(x, start), Point(x, end), words)
            words = ""


def _clear_of(job: _Job, span: tuple[float, float], at: float, level: bool) -> Iterator[tuple[float, float]]:
    """The stretches of a level or upright line that neither cross the window nor run along its edge."""
    box = job.window.bounds.grown(CLEAR)
    sides = (
        ((box.bottom, box.top), (box.left, box.right)) if level else ((box.left, box.right), (box.bottom, box.top))
    )
    (low, high), (first, last) = sides
    if not low < at < high:
        yield span
        return
    for start, end in ((span[0], min(first, span[1])), (max(last, span[0]), span[1])):
        if end - start > CLEAR:
            yield start, end


def _figures(job: _Job, plate: str) -> Iterator[Critical]:
    window, cut, middle = job.window.bounds, job.cut, job.routed.centre
    across = Point(middle.x, window.bottom), Point(middle.x, window.top)
    yield distance("width of the window", plate, *across, "width of the cut + 2 offset")
    fence = Point(middle.x, 0), Point(middle.x, window.top)
    upper = translated(
        "window's upper edge beyond the fence" if window.top > 0 else "window's upper edge short of the fence"
    )
    yield distance(upper, plate, *fence, "wood above the cut - offset")
    near = translated("stop to the window's near end"), translated("end of the cut - offset")
    far = translated("stop to the window's far end"), translated("end of the cut + offset")
    for x, is_open, (name, how) in ((window.left, cut.start_open, near), (window.right, cut.end_open, far)):
        if not is_open:
            ends = Point(0.0, middle.y), Point(x, middle.y)
            name += translated(", which lies beyond the stop") if x < 0 else ""
            yield distance(name, plate, *_by_hand(ends, job), how)


def _by_hand(ends: tuple[Point, Point], job: _Job) -> tuple[Point, Point]:
    """The two points as they are, or mirrored where there is a right stop alone."""
    if "left" in job.stops:
        return ends
    first, last = (Point(2 * job.routed.centre.x - p.x, p.y) for p in ends)
    return first, last


def _use(job: _Job) -> Iterator[str]:
    profile, cut = job.profile, job.cut
    yield "Screw the first fence to its line; the part's top face always bears on it, so that all parts agree."
    yield "The second fence goes on with a part between them, so that the template can't tip."
    yield said(STOP_AT[tuple(job.stops)], lean=abs(degrees(cut.lean)) or None)
    if len(job.stops) > 1:
        yield "Cut all parts that want the stop on one side first, then move it once for the rest."
    if cut.start_open:
        yield "The bit runs out into the stop: it backs the fibres. Glue a new face on it when it is worn."
    if cut.end_open:
        yield "Clamp a scrap to the end where the bit runs out, so that no fibres break off."
    yield from setting_steps(profile, cut.depth)
    if cut.width > profile.shop.router_bit:
        yield said(
            "The cut is {wide} wide: keep the bush to one long side going, to the other coming back.",
            wide=shown(cut.width, profile),
        )
    yield corners_left(profile, translated("its stopped ends"))


def _proof(job: _Job) -> Iterator[str]:
    profile, cut = job.profile, job.cut
    yield from proof_of_guide(profile)
    over = shown(cut.over, profile)
    yield said(
        "Cut a test strip of the part's thickness: {over} of wood above the cut, {wide} wide.",
        over=over,
        wide=shown(cut.width, profile),
    )
    for_splines = cut.kind == "spline-slot"
    yield translated(
        "Try a spline in it before the first part: it slides in by hand and doesn't rattle."
        if for_splines
        else "Try a tongue in it before the first part: it slides in by hand and doesn't rattle."
    )
