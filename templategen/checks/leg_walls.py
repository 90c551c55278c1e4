"""Wood round the legs' tenons and mortises: shoulders, eased corners, the ends of the rails."""

from collections.abc import Iterator
from math import cos

from templategen.checks.finding import Finding
from templategen.checks.levels import if_short
from templategen.checks.walls import CROSSES, once_if_short
from templategen.geometry.tolerance import MET
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.edge_room import leg_shoulders
from templategen.table.pedestal import leg_axis


def leg_wall_findings(table: Table) -> Iterator[Finding]:
    """Every shoulder and every end of a rail that is shorter than it should be."""
    limits, legs = table.profile.limits, table.profile.legs
    sides, corner = leg_shoulders(table.sizes, legs.corner_size)
    yield from if_short("tenon-shoulder", "legs.tenon", sides, limits.tongue_shoulder)
    if legs.corner != "square" and legs.corner_size > 0:
        yield from if_short("tenon-shoulder-at-corner", "legs.corner_size", corner, limits.tongue_shoulder)
    for kind, section in CROSSES:
        rails = [part for part in table.parts if part.kind == kind]
        key = "legs.centre_distance" if section == "top" else "base.length"
        yield from once_if_short("mortise-to-end", rails, key, limits.mortise_to_lap, _to_end)
    yield from _over_the_end(table)


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
