"""Wood round the legs' tenons and mortises: shoulders, eased corners, the ends of the rails."""

from collections.abc import Iterator
from math import cos, hypot, sqrt

from templategen.checks.finding import Finding
from templategen.checks.levels import if_short
from templategen.checks.walls import CROSSES, once_if_short
from templategen.geometry.tolerance import MET
from templategen.parts.kinds import BEAD_ROUND
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.pedestal import leg_axis
from templategen.table.rails import leg_joint


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
