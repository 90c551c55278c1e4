"""The work that rails of the top and of the base have in common: laps, mortises, the pole hole."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from templategen.catalogue import figured, worded
from templategen.checks.describe import said
from templategen.checks.wording import shown
from templategen.parts.part import Part
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.cutters import passes_for
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.sawn_ends import angle_settings, square_angle, up_for
from templategen.shop.set_ups.set_up import Job, Lay, Proof, Setting, Side
from templategen.table.assembly import Table
from templategen.table.pedestal import CHANNEL, is_shut

TRENCH_SIDE = "the cutter's near side on the line nearest the stop; further passes lie further from it"

STAYS = "wood that the trench leaves: the height is the measured thickness of the rails - this"

SAME = 1e-6
"""Depths that differ by no more are one, mm."""

ENDS: tuple[Side, Side] = ("left", "right")

OVER: dict[Side, Side] = {"top": "bottom", "bottom": "top", "low": "high", "high": "low"}


@dataclass(frozen=True, slots=True)
class Crossing:
    """One cross: its quantities' names begin with `name` ("top" or "base"); most fields are names of quantities.

    `legs` is the distance of the legs from the axis, `face` the face with their mortises, `across` and `deep` the
    mortises' width and depth. Names of what follows from a re-fitted rail's own length begin with `own`.
    """

    name: str
    rails: int
    length: str
    width: str
    thickness: str
    legs: str
    face: Side
    own: str = ""
    across: str = "legs.mortise_thickness"
    deep: str = "legs.mortise_depth"

    @property
    def named(self) -> str:
        """How the names of its settings begin."""
        return self.own or self.name


@dataclass(frozen=True, slots=True)
class _Trench:
    """A trench across a rail: the face it is cut into, the direction of the rail that crosses it (1 anticlockwise, -1
    clockwise) and the number, from below, of the lap floor that it goes down to."""

    worked: Side
    turn: int
    level: int


TRENCHES = {
    (2, 0): (_Trench("top", 1, 1),),
    (2, 1): (_Trench("bottom", 1, 1),),
    (3, 0): (_Trench("top", 1, 1), _Trench("top", -1, 1)),
    (3, 1): (_Trench("top", 1, 2), _Trench("bottom", -1, 1)),
    (3, 2): (_Trench("bottom", -1, 2), _Trench("bottom", 1, 1)),
}
"""By rails and the rail's number, lowest 0. The highest of three is cut deep across the middle rail and less deep
across the lowest, which is what its lap and its two corners come to."""


def lap_jobs(ledger: Ledger, sides: Mapping[Side, Crossing], number: int, part: Part) -> Iterator[Job]:
    """The trenches of rail `number`, told by the crossing as it lies from either end: one way over the rail is one
    lay of the gauge. The end at the stop is the one on the fence's long arm, on the right; swung, left."""
    crossing = sides["left"]
    angle = _angle(ledger, crossing)
    for trench in TRENCHES[crossing.rails, number]:
        depth = _depth(ledger, crossing, trench)
        name, size = f"{crossing.name}.lap", (f"{crossing.name}.lap_width", depth)
        made = passes_for(ledger, "lap", name, size, "the trench", turn=angle)
        against: Side = "high" if trench.turn > 0 and crossing.rails > 2 else "low"
        up = OVER[trench.worked]
        swung = crossing.rails > 2 and up != up_for("right", against)
        end: Side = "left" if crossing.rails > 2 or up == up_for("right", against) else "right"
        lay = Lay(part.code, part.count, trench.worked, up, against, end, swung)
        shared = (
            *angle_settings(ledger, angle),
            ledger.setting("height", depth, "depth of the trench: of the cutter over what the piece lies on"),
            *made.settings,
        )
        stop = _stop(ledger, sides[end])
        own = (ledger.setting("stop", stop, "along the fence, from the end to the trench's near side"),)
        stays = _stays(ledger, crossing, trench, depth)
        yield Job(
            "lap",
            made.cutter,
            shared,
            (*own, *stays),
            (lay,),
            TRENCH_SIDE,
            _lap_proof(ledger, crossing, bool(stays)),
            made.warnings,
            by_hand=made.by_hand,
        )


def _stays(ledger: Ledger, crossing: Crossing, trench: _Trench, depth: str) -> tuple[Setting, ...]:
    """What must stay where the trench of the mate is cut as drawn: whatever boards measure, the two then come to
    their thickness, and the rails lie flush. The deeper is as drawn, of equal ones the one from above."""
    mate = _depth(ledger, crossing, replace(trench, worked=OVER[trench.worked]))
    deeper = ledger.value(mate) - ledger.value(depth)
    if deeper < -SAME or (abs(deeper) <= SAME and trench.worked == "top"):
        return ()
    return (ledger.setting("stays", mate, STAYS),)


def _lap_proof(ledger: Ledger, crossing: Crossing, follows: bool) -> Proof:
    play = shown(ledger.value(f"{crossing.name}.lap_clearance"), ledger.profile.units)
    says = said(
        "width: the crossing rail drops in with {play} of play, both sides together, for the wettest of the year",
        play=figured(play),
    )
    checks = (
        tolerances.laid_in(
            ledger, f"{crossing.name}.lap_width", f"{crossing.name}.lap_clearance", says, "width", "step"
        ),
        tolerances.level(ledger, "wood that the trench leaves, at both ends", "stays")
        if follows
        else tolerances.level(ledger, "depth of the trench, at both ends", "height"),
    )
    return Proof(tolerances.STRIP, checks)


def _angle(ledger: Ledger, crossing: Crossing) -> str:
    if crossing.rails == 2:
        return square_angle(ledger)
    return ledger.add("lap.angle", "how far off square a trench crosses", "deg", "90 - th")


def _stop(ledger: Ledger, crossing: Crossing) -> str:
    """On the edge at the fence the trench starts half its width from the axis, less what its slant takes off."""
    terms = {"L": crossing.length, "trench": f"{crossing.name}.lap_width", "w": crossing.width}
    formula = "L / 2 - (trench / 2 - w / 2 * cos(th)) / sin(th)"
    says = "from a rail's end to a trench, on the edge at the fence"
    return ledger.add(f"{crossing.named}.trench_stop", says, "mm", formula, **terms)


def _depth(ledger: Ledger, crossing: Crossing, trench: _Trench) -> str:
    level = f"{crossing.name}.lap_level_{trench.level}"
    if trench.worked == "bottom":
        return level
    terms = {"T": crossing.thickness, "level": level}
    says = worded("from the top down to lap floor {level}", level=trench.level)
    return ledger.add(f"{crossing.name}.down_to_level_{trench.level}", says, "mm", "T - level", **terms)


def mortise_jobs(ledger: Ledger, crossing: Crossing, part: Part, ends: tuple[Side, ...] = ENDS) -> Iterator[Job]:
    """The legs' mortises, one from each of the ends."""
    along, across = "legs.mortise_width", crossing.across
    terms = {"L": crossing.length, "r": crossing.legs, "m": along}
    says = "from a rail's end to its mortise"
    stop = ledger.add(f"{crossing.named}.mortise_stop", says, "mm", "L / 2 - r - m / 2", **terms)
    terms = {"w": crossing.width, "m": across}
    edge = ledger.add(
        f"{crossing.name}.mortise_edge", "from a rail's edge to its mortise", "mm", "(w - m) / 2", **terms
    )
    shared = (
        ledger.setting("edge", edge, "from the edge at the fence to the mortise"),
        ledger.setting("width", across, "of the mortise, square to the edge"),
        ledger.setting("length", along, "of the mortise, along the edge"),
        ledger.setting("height", crossing.deep, "depth of the mortise"),
    )
    own = (ledger.setting("stop", stop, "from the end to the near end of the mortise"),)
    lays = tuple(Lay(part.code, part.count, crossing.face, crossing.face, "low", end) for end in ends)
    checks = (
        tolerances.fitted(ledger, "width and length of the mortise, by calipers", "width", "length"),
        tolerances.at_end(ledger, "depth at both ends", "height"),
        tolerances.alike(ledger, "from end and edge, both ends alike", "stop", "edge"),
    )
    proof = Proof(tolerances.STRIP, checks)
    side = "inside the lines all round"
    yield Job("mortise", "", shared, own, lays, side, proof)


def channel_settings(ledger: Ledger, table: Table) -> tuple[Setting, ...]:
    """How deep the channel is that leads water out of a drain hole all of which comes out under a foot, where a flat
    floor shuts it; none where it comes out beside the foot, or on glides."""
    if not is_shut(table.profile):
        return ()
    says = "depth of the channel in a sole"
    deep = ledger.given("base.channel", says, CHANNEL[table.profile.units], "mm", "shop practice")
    told = "depth of the channel that is chiselled into each sole, from the drain hole to where the foot ends"
    return (ledger.setting("channel", deep, told),)


def drain_jobs(ledger: Ledger, crossing: Crossing, part: Part, last: tuple[Setting, ...] = ()) -> Iterator[Job]:
    """The hole through each mortise's floor, from each of the ends; `last` is set once they are bored."""
    terms = {"L": crossing.length, "r": crossing.legs}
    stop = ledger.add(f"{crossing.named}.drain_stop", "from a rail's end to a drain hole", "mm", "L / 2 - r", **terms)
    own = (ledger.setting("stop", stop, "from the end to the centre of the bit"),)
    lays = tuple(Lay(part.code, part.count, "top", "top", "low", end) for end in ENDS)
    yield _drain(ledger, crossing.width, own, lays, last)


def pad_drain_job(ledger: Ledger, part: Part) -> Job:
    """The same through a pad, from its square end."""
    terms = {"r": "legs.base_centre_distance", "L": "base.length", "foot": "base.foot_length"}
    stop = ledger.add(
        "base.pad_drain", "from a pad's square end to its drain hole", "mm", "r - L / 2 + foot", **terms
    )
    own = (ledger.setting("stop", stop, "from the square end to the centre of the bit"),)
    return _drain(ledger, "base.rail_width", own, (Lay(part.code, part.count, "top", "top", "low", "left"),))


def _drain(
    ledger: Ledger, width: str, own: tuple[Setting, ...], lays: tuple[Lay, ...], last: tuple[Setting, ...] = ()
) -> Job:
    middle = ledger.add("base.centre", "from a rail's edge to its middle line", "mm", "w / 2", w=width)
    shared = (
        ledger.setting("edge", middle, "from the edge at the fence to the centre of the bit"),
        ledger.setting("width", "base.drain_hole", "diameter of the hole"),
        *last,
    )
    proof = tolerances.length(ledger, "base.drain_hole", tolerances.BORED, "width", tolerances.STRIP)
    return Job("drain", "bit", shared, own, lays, "inside the line", proof)


def bore_jobs(ledger: Ledger, crossing: Crossing, part: Part) -> Iterator[Job]:
    """The pole hole, on the axis."""
    if not ledger.value("top.pole_hole"):
        return
    middle = ledger.add(
        f"{crossing.named}.middle", "from a rail's end to its middle", "mm", "L / 2", L=crossing.length
    )
    centre = ledger.add(
        f"{crossing.name}.centre", "from a rail's edge to its middle line", "mm", "w / 2", w=crossing.width
    )
    shared = (
        ledger.setting("edge", centre, "from the edge at the fence to the centre of the bit"),
        ledger.setting("width", "top.pole_hole", "diameter of the hole"),
    )
    own = (ledger.setting("stop", middle, "from the end to the centre of the bit"),)
    lay = Lay(part.code, part.count, "top", "top", "low", "left")
    checks = (
        tolerances.sized(ledger, "top.pole_hole", tolerances.BORED, "width"),
        tolerances.centred(ledger, "the hole's centre on each piece, from its edge and from both ends"),
    )
    yield Job("bore", "hole saw", shared, own, (lay,), "inside the line", Proof(tolerances.STRIP, checks))
