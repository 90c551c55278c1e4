"""Where grooves are owed: the stretches of rail and rim edges that tongues and tenons enter."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import atan2, cos, pi, tan

from templategen.geometry.clip import clip_half_plane
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point, polar
from templategen.geometry.tolerance import ON_EDGE
from templategen.table.field import Border
from templategen.table.sizes import Sizes
from templategen.table.slat import FittedSlat


@dataclass(frozen=True, slots=True, order=True)
class Run:
    """A stretch of an edge, mm: along an arm from the centre, or along a segment's inner edge from its middle
    (anticlockwise positive). `from_joint` and `to_joint` say that it runs out through the joint at that end."""

    start: float
    end: float
    from_joint: bool = False
    to_joint: bool = False

    @property
    def mirrored(self) -> Run:
        """The run measured the other way."""
        return Run(-self.end, -self.start, self.to_joint, self.from_joint)


def run_on_arm(slat: FittedSlat, border: Border, sizes: Sizes) -> Run | None:
    """The stretch of an arm's edge that the slat's tongue enters, from the centre."""
    direction = border.outward.turned(border.side * pi / 2)
    spots = [direction.dot(p) for piece in border.beyond(slat.outline) for p in piece.points]
    if not spots:
        return None
    return Run(max(min(spots), sizes.apex_along_arm), min(max(spots), sizes.inner_apothem))


def run_on_rim(slat: FittedSlat, border: Border, sizes: Sizes) -> Run | None:
    """The stretch of a segment's inner edge that the slat's tongue enters, within the segment's own joints."""
    points = [p for piece in _in_segment(slat.outline, border, sizes) for p in piece.points]
    if not points:
        return None
    half, slope = sizes.inner_length / 2, tan(sizes.mitre)
    to_joint = any(p.y >= p.x * slope - ON_EDGE for p in points)
    from_joint = any(p.y <= -p.x * slope + ON_EDGE for p in points)
    start, end = min(p.y for p in points), max(p.y for p in points)
    return Run(-half if from_joint else start, half if to_joint else end, from_joint, to_joint)


def _in_segment(outline: Outline, border: Border, sizes: Sizes) -> tuple[Outline, ...]:
    """What of a slat's outline lies in a segment, between its joints, turned so that the segment faces +x."""
    upright = Placement(turn=-atan2(border.outward.y, border.outward.x)).outline(outline)
    pieces = clip_half_plane(upright, Point(border.distance, 0), Point(1, 0))
    for side in (1, -1):
        joint = polar(1, side * sizes.mitre).left.times(-side)
        pieces = tuple(kept for piece in pieces for kept in clip_half_plane(piece, Point(0, 0), joint))
    return pieces


def eased(run: Run, by: float, half: float) -> Run:
    """The run with `by` more at each stopped end; an end that then reaches the joint runs out through it."""
    start = run.start if run.from_joint else run.start - by
    end = run.end if run.to_joint else run.end + by
    return Run(max(start, -half), min(end, half), run.from_joint or start <= -half, run.to_joint or end >= half)


def joined(runs: Iterable[Run], within: float) -> tuple[Run, ...]:
    """Runs merged where they overlap or lie nearer than `within` to each other."""
    merged: list[Run] = []
    for run in sorted(runs):
        last = merged[-1] if merged else None
        if last is not None and run.start - last.end <= within:
            merged[-1] = Run(
                last.start,
                max(last.end, run.end),
                last.from_joint or run.from_joint,
                last.to_joint or run.to_joint,
            )
        else:
            merged.append(run)
    return tuple(merged)


def tongue_on(slat: FittedSlat, border: Border, sizes: Sizes, of: Outline | None = None) -> float:
    """Area of the slat's tongue past `border` in plan, or `of` something in it, mm2; a corner past arm and rim counts
    for the rim."""
    if border.kind == "rim":
        return sum(piece.area for piece in _in_segment(of or slat.outline, border, sizes))
    pieces: tuple[Outline, ...] = border.beyond(of or slat.outline)
    for rim in (b for b in slat.ends if b.kind == "rim"):
        pieces = tuple(kept for piece in pieces for kept in rim.inside(piece))
    return sum(piece.area for piece in pieces)


def reach_of_bevel(sizes: Sizes) -> float:
    """How far past the inner corner a groove of full depth must run to leave a mitred end clean."""
    return sizes.groove.depth * tan(sizes.mitre)


def spline_start(runs: Iterable[Run], sizes: Sizes, wall: float) -> float:
    """How far along the joint from its inner corner a spline must start to clear the grooves beside it.

    `runs` are measured from the joint (0) along the inner edges beside it. A groove conflicts when it shares
    height with the slot and comes within the slot's depth and `wall` of the joint face: then the slot starts
    past the groove's bottom, (depth + wall) / cos(pi/N) along the joint, else at the corner.
    """
    joints = sizes.profile.joints
    level = sizes.profile.top.thickness / 2
    groove = sizes.groove
    clear = wall + joints.spline_thickness / 2
    if level + clear <= groove.bottom or level - clear >= groove.top:
        return 0.0
    near = (joints.spline_depth + wall) / cos(sizes.mitre)
    if all(run.start >= near for run in runs):
        return 0.0
    return (groove.depth + wall) / cos(sizes.mitre)
