"""Wood left round joints and edges, measured from the finished parts."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from templategen.checks.finding import Finding, Level
from templategen.checks.reasons import reason
from templategen.geometry.tolerance import MET
from templategen.parts.feature import Feature
from templategen.parts.kinds import FeatureKind
from templategen.parts.part import Part
from templategen.table.assembly import Table


def graded(
    where: str, says: str, measured: float, limits: tuple[float, float], unit: str = "mm"
) -> Iterator[Finding]:
    """A stop under the first limit, a caution under the second, nothing above."""
    if measured < limits[1] - MET:
        level: Level = "stop" if measured < limits[0] - MET else "caution"
        yield Finding(level, where, says, measured, (limits[1], None), unit, reason(says, limits[1] - measured, unit))


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
    yield from graded(
        "top.rim_width",
        "wall along the joint of the finished ring: groove, spline and round-over share it",
        joint,
        (needed, max(needed, limits.ring_wall)),
    )


def _grooves(table: Table) -> Iterator[Finding]:
    groove, thickness, limits = table.sizes.groove, table.profile.top.thickness, table.profile.limits
    for name, cheek in (("under", groove.bottom), ("over", thickness - groove.top)):
        yield from graded(
            "joints.tongue", f"cheek {name} the groove in rim and rails of {thickness:g} mm", cheek, limits.cheek
        )
    slat = table.profile.slats.thickness
    shoulder = (slat - table.sizes.slat_groove.tongue_thickness) / 2
    yield from graded(
        "slats.thickness", "shoulder of the slats' tongues on each face", shoulder, limits.tongue_shoulder
    )
    web = table.profile.top.rail_width - 2 * groove.depth
    yield from graded("top.rail_width", "rail left between the grooves of both sides", web, limits.rail_web)


def _spline_slots(table: Table) -> Iterator[Finding]:
    joints, thickness = table.profile.joints, table.profile.top.thickness
    if joints.spline == "none":
        return
    cheek = (thickness - joints.spline_thickness) / 2
    yield from graded(
        "joints.spline_thickness", "cheek on each side of a spline slot", cheek, table.profile.limits.cheek
    )
    half = table.sizes.inner_length / 2
    yield from graded(
        "joints.spline_depth",
        "wood between the spline slots at both ends of a segment's inner edge",
        2 * (half - joints.spline_depth),
        table.profile.limits.spline_apart,
    )


CROSSES = (("rail", "top"), ("base-rail", "base"))
"""The two lapped crosses: their parts' kind and the profile's section."""


def _mortises(table: Table) -> Iterator[Finding]:
    limits = table.profile.limits
    for kind, section in CROSSES:
        rails = [part for part in table.parts if part.kind == kind]
        floor = "floor under the leg mortise"
        yield from graded_once(rails, f"{section}.thickness", floor, limits.mortise_floor, _mortise_floor)
        yield from graded_once(rails, "legs.tenon", "wall beside the leg mortise", limits.cheek, _mortise_wall)
        key = "legs.centre_distance" if kind == "rail" else "legs.base_centre_distance"
        yield from graded_once(rails, key, "wood between leg mortise and lap", limits.mortise_to_lap, _mortise_to_lap)


def _laps(table: Table) -> Iterator[Finding]:
    for kind, section in CROSSES:
        rails = [part for part in table.parts if part.kind == kind]
        yield from graded_once(
            rails, f"{section}.thickness", "wood left in the lap", table.profile.limits.lap_left, _lap_left
        )


def _hole(table: Table) -> Iterator[Finding]:
    for kind, _ in CROSSES if table.profile.top.pole_hole > 0 else ():
        rails = [part for part in table.parts if part.kind == kind]
        yield from graded_once(
            rails, "top.pole_hole", "wood beside the pole hole", table.profile.limits.hole_side, _beside_hole
        )


def graded_once(
    parts: list[Part], where: str, says: str, limits: tuple[float, float], measure: Callable[[Part], float]
) -> Iterator[Finding]:
    """One finding for all parts that measure the same."""
    sizes: dict[float, list[str]] = {}
    for part in parts:
        sizes.setdefault(round(measure(part), 6), []).append(part.code)
    for size, codes in sizes.items():
        yield from graded(where, f"{says} in {', '.join(codes)}", size, limits)


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
