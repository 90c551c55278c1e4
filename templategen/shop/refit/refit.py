"""The whole re-fit: from what lies on the bench to new parts, gaps and findings."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from math import cos, degrees, fsum
from typing import Any

from templategen.checks.finding import Finding
from templategen.checks.levels import noted
from templategen.shop.refit.common import common_profile
from templategen.shop.refit.draw import draw_findings
from templategen.shop.refit.piece import RingPiece, missing_angle
from templategen.shop.refit.read import Bench
from templategen.shop.refit.rebuild import Rebuilt, copies_of, rebuild
from templategen.shop.refit.ring import (
    OneEnd,
    Seated,
    closed_ring,
    designed,
    edge_on_arm,
    one_end,
    pieces_of,
    seat,
    to_recut,
    within,
)
from templategen.shop.refit.segment import GRAZE, opens_groove, too_short
from templategen.shop.refit.settle import Copy, Settled, named, settle
from templategen.shop.refit.slats import too_long
from templategen.table.assembly import Table, build_table


@dataclass(frozen=True, slots=True)
class Shoulder:
    """The end of a cut rail on an arm: how far off the rim its shoulder stands, mm; below 0 it is too long."""

    copy: Copy
    arm: int
    gap: float


@dataclass(frozen=True, slots=True)
class Refit:
    """What re-fitting gives: the table as first drawn and as re-fitted, the ring seated, shoulders of cut rails, cut
    segments to make anew (or first the one `end` of one), the table once they are (`rest`; else `rebuilt`), and all
    findings. `sure` is one standard deviation of the gap from the measuring, mm."""

    drawn: Table
    rebuilt: Rebuilt
    settled: Settled
    seated: Seated
    shoulders: tuple[Shoulder, ...]
    recut: tuple[Copy, ...]
    end: OneEnd | None
    rest: Rebuilt
    sure: float
    findings: tuple[Finding, ...]


def refit(drawn: Table, bench: Bench) -> Refit:
    """Everything from the drawing and the bench.

    Raises: DesignError where no table comes of the measured sizes.
    """
    settled = settle(drawn, bench)
    profile, uneven = common_profile(drawn, settled)
    base = drawn if profile == drawn.profile else build_table(profile)
    pieces = pieces_of(drawn, settled)
    limits = profile.limits
    stood = _cut_shoulders(drawn, settled)
    seated = seat(base.sizes, closed_ring(pieces, limits), {arm: far for arm, (_, far) in stood.items()})
    rebuilt = rebuild(drawn, base, settled, seated)
    copies = copies_of(drawn)
    recut: tuple[Copy, ...] = ()
    end, rest = None, rebuilt
    if not within(seated.closed, limits):
        indices = to_recut(pieces, limits, designed(base.sizes))
        recut = tuple(copies[index] for index in indices)
        end = one_end(pieces, indices[0], limits, designed(base.sizes)) if len(indices) == 1 else None
        end = None if end and opens_groove(drawn.part(recut[0][0]), end) else end
        rest = refit(drawn, _without(bench, recut)).rebuilt if recut else rebuilt
    shoulders = tuple(
        Shoulder(copy, arm, edge_on_arm(base.sizes, seated.laid, arm) - far) for arm, (copy, far) in stood.items()
    )
    sure = _sure(drawn, settled, pieces)
    found = Refit(
        drawn, rebuilt, settled, seated, shoulders, recut, end, rest, sure, (*settled.findings, *uneven)
    )  # fmt: skip
    more = (*_ring_findings(found), *_shoulder_findings(found), *_slat_findings(found), *_groove_findings(found))
    return replace(found, findings=(*found.findings, *more, *draw_findings(drawn, settled)))


def _without(bench: Bench, copies: Collection[Copy]) -> Bench:
    """The bench once those copies are put aside."""
    kept = tuple(one for one in bench.measured if (one.code, one.place) not in copies)
    return replace(bench, cut=bench.cut.difference(copies), measured=kept)


def _cut_shoulders(drawn: Table, settled: Settled) -> dict[int, tuple[Copy, float]]:
    """Each arm whose rail is cut: the rail and its shoulder's distance from the axis."""
    rails = [part for part in drawn.parts if part.kind == "rail"]
    apothem = drawn.sizes.inner_apothem
    stood: dict[int, tuple[Copy, float]] = {}
    for number, part in enumerate(rails):
        copy = (part.code, 1)
        if copy in settled.cut:
            stood[number] = (copy, settled.best(copy, "first_shoulder", apothem))
            stood[number + len(rails)] = (copy, settled.best(copy, "second_shoulder", apothem))
    return dict(sorted(stood.items()))


def _sure(drawn: Table, settled: Settled, pieces: tuple[RingPiece, ...]) -> float:
    """How surely the gap at each joint is known: the accuracies of all cut ends over the ring, unmeasured ends by
    the shop's own error; what is still to cut is taken to come out as drawn."""
    error = drawn.profile.shop.mitre_error
    ends = []
    for copy, piece in zip(copies_of(drawn), pieces, strict=False):
        if piece.cut:
            sizes = settled.sizes.get(copy, {})
            ends += [sizes[name].accuracy if name in sizes else error for name in ("left_angle", "right_angle")]
    deviation = float(fsum(end**2 for end in ends) ** 0.5)
    return deviation * max(piece.left_face for piece in pieces) / len(pieces)


def _ring_findings(found: Refit) -> Iterator[Finding]:
    limits = found.rebuilt.table.profile.limits
    closed = found.seated.closed
    if not found.settled.cut:
        return
    if within(closed, limits):
        yield noted("refitted-gap", "limits.joint_gap", closed.widest, (None, limits.joint_gap), sure=found.sure)
        return
    where, cure = (found.recut[0][0] if found.recut else "limits.joint_gap"), _cure(found)
    if closed.widest > limits.joint_gap:
        wedge = degrees(missing_angle(found.seated.closed.pieces))
        short = "short" if wedge > 0 else "over"
        fields = {"wedge": abs(wedge), "short": short, "allowed": degrees(limits.refit_angle), **cure}
        yield Finding("ring-gaps", "stop", where, closed.widest, (None, limits.joint_gap), fields)
    if closed.step > limits.joint_step:
        fields = {"allowed": limits.refit_length, **cure}
        yield Finding("ring-steps", "stop", where, closed.step, (None, limits.joint_step), fields)


def _cure(found: Refit) -> dict[str, Any]:
    """What to recut, and the offer to recut one end alone, with what it costs."""
    if not found.recut:
        return {"none": True}
    recut = tuple(named(copy) for copy in found.recut)
    if (end := found.end) is None:
        return {"recut": recut}
    told = {"recut": recut, "side": end.side, "angle": degrees(end.angle), "inner": end.inner, "outer": end.outer}
    if found.drawn.profile.joints.spline == "none":
        return told
    return {**told, "lost": max(end.inner, end.outer) * cos(end.angle)}


def _shoulder_findings(found: Refit) -> Iterator[Finding]:
    limit = found.rebuilt.table.profile.limits.joint_gap
    for one in found.shoulders:
        fields = {"piece": named(one.copy), "arm": one.arm + 1}
        if one.gap < -limit:
            yield Finding("rail-too-long", "caution", one.copy[0], -one.gap, (None, limit), fields)
        elif one.gap > limit:
            yield Finding("shoulder-off", "caution", one.copy[0], one.gap, (None, limit), fields)


def _slat_findings(found: Refit) -> Iterator[Finding]:
    """Slats already cut that their place no longer takes."""
    copies = copies_of(found.drawn)
    limit = found.rebuilt.table.profile.limits.joint_gap
    for index, recut in found.rebuilt.slats.items():
        copy = copies[index]
        if copy not in found.settled.cut:
            continue
        part = found.drawn.part(copy[0])
        assert part.body is not None
        drawn = part.body.bounds.width
        over = too_long(part, recut) + found.settled.best(copy, "length", drawn) - drawn
        if over > limit:
            yield Finding("slat-too-long", "caution", copy[0], over, (None, limit), {"piece": named(copy)})


def _groove_findings(found: Refit) -> Iterator[Finding]:
    """Grooves of cut segments that must reach further for the tongues as they stand now."""
    copies = copies_of(found.drawn)
    sizes = found.rebuilt.table.sizes
    for index, piece in enumerate(found.seated.closed.pieces):
        if not piece.cut:
            continue
        part = found.drawn.part(copies[index][0])
        short = too_short(part, sizes, piece, found.rebuilt.tongues.get(index, ()))
        if short > GRAZE:
            fields = {"piece": named(copies[index])}
            yield Finding("groove-too-short", "caution", copies[index][0], short, (None, GRAZE), fields)
