"""The top's lapped rails: shoulders, tenons, laps, side grooves, mortises and the pole hole."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from templategen.catalogue import translated
from templategen.geometry.outline import Outline, circle, polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.joinery.bolt import BoltAndNut
from templategen.joinery.lap import CrossLap
from templategen.joinery.mortise import MortiseAndTenon
from templategen.joinery.peg import DrawPeg
from templategen.parts.face import flat_faces, side_faces
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.edges import RAIL_EDGE, SHORT, eased, long_edges, mirrored
from templategen.table.runs import Run
from templategen.table.sizes import Sizes

POSITIONS = {2: ("LOW", "HIGH"), 3: ("LOW", "MID", "HIGH")}
"""Rails by height, lowest first."""

WORDS = {"LOW": "lowest", "MID": "middle", "HIGH": "highest"}

ArmRuns = Mapping[tuple[int, int], Sequence[Run]]
"""Groove runs on each arm's edges, by arm number and side (+1 left, -1 right)."""


@dataclass(frozen=True, slots=True)
class TenonSpan:
    """Where a rail's tenon lies across the arm, from `low` to `high`, left positive."""

    low: float
    high: float


def lap_of(sizes: Sizes) -> CrossLap:
    """The crossing of the top's rails."""
    top = sizes.profile.top
    codes = tuple(f"RAIL-{position}" for position in POSITIONS[sizes.rails])
    return CrossLap(codes, sizes.half_rail, top.thickness, 0.0, top.thickness, sizes.clearances.lap)


def leg_joint(sizes: Sizes) -> MortiseAndTenon:
    """The joint at both ends of a leg."""
    thickness, width, length = sizes.profile.legs.tenon
    play, end = sizes.clearances, sizes.profile.joints.end_clearance
    return MortiseAndTenon(thickness, width, length, play.glue, end, play.tenon)


def top_leg_joint(sizes: Sizes) -> MortiseAndTenon:
    """The same in the top's rails: one that stays dry slides in and out by hand, swollen too; under a bolt it is
    short, for it only places the leg, and leaves wood under the head."""
    joint, legs = leg_joint(sizes), sizes.profile.legs
    if sizes.is_glued_on_top:
        return joint
    length = legs.stub if legs.top_joint == "bolted" else joint.length
    return replace(joint, length=length, clearance=sizes.clearances.dry_tenon)


def top_bolt(sizes: Sizes) -> BoltAndNut | None:
    """What holds the upper tenon of each leg, where the top is bolted on."""
    legs = sizes.profile.legs
    if legs.top_joint != "bolted":
        return None
    return BoltAndNut(*legs.bolt, *legs.barrel_nut, sizes.profile.top.thickness, legs.section, legs.stub)


def top_peg(sizes: Sizes) -> DrawPeg | None:
    """What draws the upper tenon of each leg home, where it is draw-bored."""
    legs = sizes.profile.legs
    if legs.top_joint != "draw-bored":
        return None
    width, mortise = sizes.profile.top.rail_width, top_leg_joint(sizes).mortise_thickness
    return DrawPeg(*legs.peg, width, mortise, legs.section, legs.tenon[0])


def tenon_span(sizes: Sizes, runs: ArmRuns, arm: int) -> TenonSpan:
    """A tenon is as wide as the rail less the groove on each side that has one: 2(b - dg) with both."""
    left, right = (sizes.half_rail - (sizes.groove.depth if runs.get((arm, side)) else 0.0) for side in (1, -1))
    return TenonSpan(-right, left)


def make_rails(sizes: Sizes, runs: ArmRuns) -> tuple[Part, ...]:
    """The rails, lowest first; rail r lies along arms r and r + rails."""
    lap, codes = lap_of(sizes), lap_of(sizes).codes
    return tuple(_rail(sizes, runs, lap, number, code) for number, code in enumerate(codes))


def _rail(sizes: Sizes, runs: ArmRuns, lap: CrossLap, number: int, code: str) -> Part:
    top = sizes.profile.top
    a, b, reach = sizes.inner_apothem, sizes.half_rail, sizes.inner_apothem + sizes.tongue_length
    ends = [tenon_span(sizes, runs, arm) for arm in (number, number + sizes.rails)]
    outline = _outline(a, b, reach, ends)
    features: list[Feature] = []
    for zone in _tenon_zones(a, reach, ends):
        features.extend(sizes.groove.rebates("tenon", zone, top.thickness, sizes.slat_level, ()))
    features.extend(lap.features(number))
    features.extend(_grooves(sizes, runs, number))
    distance = sizes.profile.legs.centre_distance
    features.extend(top_leg_joint(sizes).mortise("bottom", x, ("LEG",)) for x in (-distance, distance))
    if peg := top_peg(sizes):
        features.extend(cut for x in (-distance, distance) for cut in peg.in_rail(x, a))
    features.extend(_eased(sizes, lap))
    bolts = [cut for x in (-distance, distance) for cut in bolt.in_rail(x)] if (bolt := top_bolt(sizes)) else []
    features.extend(Feature("hole", "top", hole, top.thickness, "bore") for hole in pole_hole(sizes))
    features.extend(bolts)
    holes = (*pole_hole(sizes), *(cut.outline for cut in bolts if cut.traits.bored))
    sides = [
        ("edge-1", Point(-a, -b), Point(a, -b)),
        ("end-1", Point(reach, ends[0].low), Point(reach, ends[0].high)),
        ("edge-2", Point(a, b), Point(-a, b)),
        ("end-2", Point(-reach, -ends[1].low), Point(-reach, -ends[1].high)),
    ]
    name = f"{WORDS[code.removeprefix('RAIL-')]} rail"
    return Part(
        code=code,
        name=translated(name),
        kind="rail",
        count=1,
        wood=sizes.profile.wood,
        thickness=top.thickness,
        blank=rectangle(-reach, -b, reach, b),
        outline=outline,
        features=tuple(features),
        holes=holes,
        faces=(*flat_faces(outline, top.thickness), *side_faces(sides, top.thickness)),
    )


def _eased(sizes: Sizes, lap: CrossLap) -> Iterator[Feature]:
    """The long edges of all four arms' arrises, from short of the crossing out through the shoulder."""
    size = sizes.profile.edges.rail
    strips = long_edges(lap.reach + SHORT, sizes.inner_apothem, sizes.half_rail, size)
    yield from eased(sizes.profile, mirrored(strips), size, RAIL_EDGE, "top", "bottom")


def pole_hole(sizes: Sizes) -> tuple[Outline, ...]:
    """The hole for the parasol pole, on the axis."""
    diameter = sizes.profile.top.pole_hole
    return (circle(0, 0, diameter / 2),) if diameter > 0 else ()


def _outline(a: float, b: float, reach: float, ends: Sequence[TenonSpan]) -> Outline:
    """The rail with its tenons; the far end is turned half round, so its span is mirrored."""
    near, far = ends
    points = [
        Point(-a, -b), Point(a, -b), Point(a, near.low), Point(reach, near.low),
        Point(reach, near.high), Point(a, near.high), Point(a, b), Point(-a, b),
        Point(-a, -far.low), Point(-reach, -far.low), Point(-reach, -far.high), Point(-a, -far.high),
    ]  # fmt: skip
    return polygon(p for i, p in enumerate(points) if not _needless(points, i))


def _needless(points: Sequence[Point], i: int) -> bool:
    """Whether a corner is straight through or doubled: a tenon as wide as the rail has no shoulder there."""
    before, here, after = points[i - 1], points[i], points[(i + 1) % len(points)]
    if here == before:
        return True
    while before == here:
        before = points[i - 2]
    return here != after and abs(here.minus(before).cross(after.minus(here))) < 1e-12


def _tenon_zones(a: float, reach: float, ends: Sequence[TenonSpan]) -> Iterator[Outline]:
    near, far = ends
    yield rectangle(a, near.low, reach, near.high)
    yield rectangle(-reach, -far.high, -a, -far.low)


def _grooves(sizes: Sizes, runs: ArmRuns, number: int) -> Iterator[Feature]:
    """The side grooves, from the first tongue out through the shoulder."""
    a = sizes.inner_apothem
    for arm in (number, number + sizes.rails):
        for side in (1, -1):
            for run in runs.get((arm, side), ()):
                yield _groove(sizes, run, near=arm == number, side=side, a=a)


def _groove(sizes: Sizes, run: Run, near: bool, side: int, a: float) -> Feature:
    """Edge 1 is the rail's right edge, its u from the far shoulder; edge 2 the left, its u from the near one."""
    x0, x1 = (run.start, run.end) if near else (-run.end, -run.start)
    left = (side > 0) == near
    start, end = (a - x1, a - x0) if left else (a + x0, a + x1)
    return sizes.groove.groove("edge-2" if left else "edge-1", start, end, ())


def rail_placement(sizes: Sizes, number: int) -> Placement:
    """Where rail `number` lies in plan."""
    return Placement(turn=number * sizes.field_angle)
