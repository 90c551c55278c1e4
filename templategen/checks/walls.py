"""Wood left round joints and edges, measured from the finished parts."""

from collections.abc import Callable, Iterator

from templategen.checks.finding import Finding
from templategen.checks.levels import if_short
from templategen.parts.feature import Feature
from templategen.parts.kinds import FeatureKind
from templategen.parts.part import Part
from templategen.table.assembly import Table


def wall_findings(table: Table) -> Iterator[Finding]:
    """Every wall that is thinner than it should be."""
    yield from _ring(table)
    yield from _grooves(table)
    yield from _spline_slots(table)
    yield from _mortises(table)
    yield from _laps(table)
    yield from _hole(table)


def _first(table: Table, kind: str) -> Part | None:
    return next((part for part in table.parts if part.kind == kind), None)


def _ring(table: Table) -> Iterator[Finding]:
    segment = _first(table, "rim-segment")
    assert segment is not None
    joint = segment.outline.edges[1].length
    top, depth = table.profile.top, table.profile.joints.groove_depth
    limits = table.profile.limits
    needed = depth + top.edge_round + limits.ring_edge
    yield from if_short("ring-wall", "top.rim_width", joint, (needed, max(needed, limits.ring_wall)))


def _grooves(table: Table) -> Iterator[Finding]:
    groove, thickness, limits = table.sizes.groove, table.profile.top.thickness, table.profile.limits
    for name, cheek in (("under", groove.bottom), ("over", thickness - groove.top)):
        yield from if_short(f"cheek-{name}-groove", "joints.tongue", cheek, limits.cheek, of=thickness)
    slat = table.profile.slats.thickness
    shoulder = (slat - table.sizes.slat_groove.tongue_thickness) / 2
    yield from if_short("slat-shoulder", "slats.thickness", shoulder, limits.tongue_shoulder)
    web = table.profile.top.rail_width - 2 * groove.depth
    yield from if_short("rail-web", "top.rail_width", web, limits.rail_web)


def _spline_slots(table: Table) -> Iterator[Finding]:
    joints, thickness = table.profile.joints, table.profile.top.thickness
    if joints.spline == "none":
        return
    cheek = (thickness - joints.spline_thickness) / 2
    yield from if_short("spline-cheek", "joints.spline_thickness", cheek, table.profile.limits.cheek)
    apart = table.sizes.inner_length - 2 * joints.spline_depth
    yield from if_short("between-spline-slots", "joints.spline_depth", apart, table.profile.limits.spline_apart)


CROSSES = (("rail", "top"), ("base-rail", "base"))
"""The two lapped crosses: their parts' kind and the profile's section."""


def _mortises(table: Table) -> Iterator[Finding]:
    limits = table.profile.limits
    for kind, section in CROSSES:
        rails = [part for part in table.parts if part.kind == kind]
        yield from once_if_short("mortise-floor", rails, f"{section}.thickness", limits.mortise_floor, _mortise_floor)
        yield from once_if_short("mortise-wall", rails, "legs.tenon", limits.cheek, _mortise_wall)
        key = "legs.centre_distance" if kind == "rail" else "legs.base_centre_distance"
        yield from once_if_short("mortise-to-lap", rails, key, limits.mortise_to_lap, _mortise_to_lap)


def _laps(table: Table) -> Iterator[Finding]:
    for kind, section in CROSSES:
        rails = [part for part in table.parts if part.kind == kind]
        yield from once_if_short("lap-left", rails, f"{section}.thickness", table.profile.limits.lap_left, _lap_left)


def _hole(table: Table) -> Iterator[Finding]:
    for kind, _ in CROSSES if table.profile.top.pole_hole > 0 else ():
        rails = [part for part in table.parts if part.kind == kind]
        yield from once_if_short("hole-side", rails, "top.pole_hole", table.profile.limits.hole_side, _beside_hole)


def once_if_short(
    kind: str, parts: list[Part], where: str, limits: tuple[float, float], measure: Callable[[Part], float]
) -> Iterator[Finding]:
    """One finding for all parts that measure the same."""
    sizes: dict[float, tuple[str, ...]] = {}
    for part in parts:
        size = round(measure(part), 6)
        sizes[size] = (*sizes.get(size, ()), part.code)
    for size, codes in sizes.items():
        yield from if_short(kind, where, size, limits, parts=codes)


def _deepest(part: Part, *kinds: FeatureKind, face: str = "") -> float:
    """Depth of the deepest feature of those kinds, on `face` where one is named."""
    return max((f.depth for f in part.cuts(*kinds) if face in ("", f.face)), default=0.0)


def _one_mortise(part: Part) -> Feature:
    return part.cuts("mortise")[0]


def _mortise_floor(part: Part) -> float:
    return part.thickness - _one_mortise(part).depth - _deepest(part, "relief")


def _mortise_wall(part: Part) -> float:
    """To the grooves that reach down to the mortise, or to the rail's sides."""
    mortise = _one_mortise(part)
    grooves = [f for f in part.cuts("groove") if f.outline.bounds.bottom < mortise.depth]
    groove = max((f.depth for f in grooves), default=0.0)
    return part.blank.bounds.height / 2 - groove - mortise.outline.bounds.height / 2


def _mortise_to_lap(part: Part) -> float:
    box = _one_mortise(part).outline.bounds
    laps = [f.outline.bounds for f in part.cuts("lap")]
    return min(abs(box.left), abs(box.right)) - max(max(lap.right, -lap.left) for lap in laps)


def _lap_left(part: Part) -> float:
    return part.thickness - sum(_deepest(part, "lap", "relief", face=face) for face in ("top", "bottom"))


def _beside_hole(part: Part) -> float:
    round_hole = part.holes[0].circle
    assert round_hole is not None
    return part.blank.bounds.height / 2 - round_hole[1]
