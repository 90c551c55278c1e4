"""Wood round the legs' tenons and mortises: shoulders, eased corners, the ends of the rails."""

from collections.abc import Iterator
from math import cos, hypot, sin, sqrt

from templategen.checks.finding import Finding
from templategen.checks.levels import if_short, noted
from templategen.checks.walls import CROSSES, once_if_short
from templategen.geometry.tolerance import MET
from templategen.joinery.bolt import END, BoltAndNut
from templategen.parts.kinds import BEAD_ROUND
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.pedestal import leg_axis
from templategen.table.rails import leg_joint, top_bolt, top_leg_joint
from templategen.table.seasons import seasons_of


def leg_wall_findings(table: Table) -> Iterator[Finding]:
    """Every shoulder and every end of a rail that is shorter than it should be."""
    limits, (sides, corner) = table.profile.limits, _shoulders(table)
    yield from if_short("tenon-shoulder", "legs.tenon", sides, limits.tongue_shoulder)
    if table.profile.legs.corner != "square" and table.profile.legs.corner_size > 0:
        yield from if_short("tenon-shoulder-at-corner", "legs.corner_size", corner, limits.tongue_shoulder)
    for kind, section in CROSSES:
        rails = [part for part in table.parts if part.kind == kind]
        key = "legs.centre_distance" if section == "top" else "base.length"
        yield from once_if_short("mortise-to-end", rails, key, limits.mortise_to_lap, _to_end)
    yield from _over_the_end(table)


def _shoulders(table: Table) -> tuple[float, float]:
    """The least shoulder at the sides of a tenon, and at its corners: from there to the leg's eased arris."""
    legs, tenon = table.profile.legs, leg_joint(table.sizes)
    half, across = legs.section / 2, legs.section / 2 / cos(leg_axis(table.sizes).rake)
    one, other = half - tenon.thickness / 2, across - tenon.width / 2
    size = legs.corner_size
    if legs.corner == "rounded":
        past = max(0.0, size - one), max(0.0, size - other)
        corner = size - hypot(*past) if all(past) else min(one, other)
    elif legs.corner == "beaded":
        quirk = BEAD_ROUND * size  # a quirk is as deep as the round's radius
        corner = min(hypot(max(0.0, a - size), max(0.0, b - quirk)) for a, b in ((one, other), (other, one)))
    else:
        corner = (one + other - size) / sqrt(2)
    return min(one, other), min(one, other, corner)


def _to_end(part: Part) -> float:
    """From a mortise to the nearer end of the rail's body, along the grain."""
    body = (part.body or part.outline).bounds
    boxes = [mortise.outline.bounds for mortise in part.cuts("mortise")]
    return min(body.width / 2, *(body.width / 2 - max(abs(box.left), abs(box.right)) for box in boxes))


def _over_the_end(table: Table) -> Iterator[Finding]:
    """Legs that stand over the ends of their base rails."""
    base = next(part for part in table.parts if part.kind == "base-rail")
    axis, half = leg_axis(table.sizes), table.profile.legs.section / 2
    left = base.outline.bounds.width / 2 - axis.low - half / cos(axis.rake)
    if left < -MET:
        yield Finding("past-the-legs", "caution", "base.length", left, (0.0, None))


def bolt_findings(table: Table) -> Iterator[Finding]:
    """Nothing where the top is glued."""
    bolt = top_bolt(table.sizes)
    if bolt is None:
        return
    floor, cheek = table.profile.limits.mortise_floor, table.profile.limits.cheek
    under = bolt.grip - top_leg_joint(table.sizes).depth
    yield from if_short("under-the-head", "legs.bolt", under, floor)
    leans = bolt.below * abs(sin(leg_axis(table.sizes).rake))
    yield from if_short("beside-the-nut", "legs.barrel_nut", (bolt.section - bolt.nut) / 2 - leans, cheek)
    yield from if_short("behind-the-nut", "legs.barrel_nut", bolt.section - bolt.cross, floor)
    least = END * bolt.thread
    yield noted("nut-to-the-end", "legs.bolt", bolt.below, (least, None), times=END)
    yield _through_the_year(table, bolt)


def _through_the_year(table: Table, bolt: BoltAndNut) -> Finding:
    """What the rail under a head loses from built to the driest, across the grain, and what it gains to the wettest.

    The leg keeps its length along the grain, so the bolt is as much too long.
    """
    year = seasons_of(table.profile)
    swings = [year.swing(share) for share in (year.figures.radial, year.figures.tangential)]
    loose, pressed = (bolt.grip * max(0.0, share) for share in (
        max(-swing.dry for swing in swings), max(swing.wet for swing in swings),
    ))  # fmt: skip
    return noted("bolt-play", "legs.top_joint", loose, grip=bolt.grip, pressed=pressed)
