"""The whole re-fit: from what lies on the bench to new parts, gaps and findings."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from math import degrees, fsum

from templategen.checks.finding import Finding
from templategen.shop.refit.common import common_profile
from templategen.shop.refit.piece import Piece, missing_angle
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
from templategen.shop.refit.segment import GRAZE, too_short
from templategen.shop.refit.settle import Copy, Settled, named, settle
from templategen.shop.refit.slats import too_long
from templategen.table.assembly import Table, build_table
from templategen.units import angle_words, show_length


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
        rest = refit(drawn, _without(bench, recut)).rebuilt if recut else rebuilt
    shoulders = tuple(
        Shoulder(copy, arm, edge_on_arm(base.sizes, seated.laid, arm) - far) for arm, (copy, far) in stood.items()
    )
    sure = _sure(drawn, settled, pieces)
    found = Refit(
        drawn, rebuilt, settled, seated, shoulders, recut, end, rest, sure, (*settled.findings, *uneven)
    )  # fmt: skip
    more = (*_ring_findings(found), *_shoulder_findings(found), *_slat_findings(found), *_groove_findings(found))
    return replace(found, findings=(*found.findings, *more))


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


def _sure(drawn: Table, settled: Settled, pieces: tuple[Piece, ...]) -> float:
    """How surely the gap at each joint is known: the accuracies of all cut ends over the ring, unmeasured ends by
    the shop's own error; what is still to cut is taken to come out as drawn."""
    error = drawn.profile.shop.mitre_error
    ends = []
    for copy, piece in zip(copies_of(drawn), pieces, strict=False):
        if piece.cut:
            sizes = settled.sizes.get(copy, {})
            ends += [sizes[name].accuracy if name in sizes else error for name in ("left_angle", "right_angle")]
    spread = float(fsum(end**2 for end in ends) ** 0.5)
    return spread * max(piece.left_face for piece in pieces) / len(pieces)


def _ring_findings(found: Refit) -> Iterator[Finding]:
    limits = found.rebuilt.table.profile.limits
    closed = found.seated.closed
    if not found.settled.cut:
        return
    recut = ", ".join(named(copy) for copy in found.recut)
    cure = f"recut {recut}{_one_end(found)}" if recut else "make the ring anew"
    if within(closed, limits):
        says = "widest gap left in a mitre of the ring"
        why = f"known to {found.sure:.2f} mm from the measuring"
        yield Finding("note", "limits.joint_gap", says, closed.widest, (None, limits.joint_gap), "mm", why)
        return
    where = found.recut[0][0] if found.recut else "limits.joint_gap"
    if closed.widest > limits.joint_gap:
        wedge = degrees(missing_angle(found.seated.closed.pieces))
        says = f"the ring can't close: a gap is left in every mitre; {cure}"
        why = (
            f"the mitres cut so far are {angle_words(abs(wedge))} "
            f"{'short' if wedge > 0 else 'over'} in all, and what is still to cut may differ by "
            f"{angle_words(degrees(limits.refit_angle))} at each end (limits.refit_angle)"
        )
        yield Finding("stop", where, says, closed.widest, (None, limits.joint_gap), "mm", why)
    if closed.step > limits.joint_step:
        says = f"the ring closes only with a step in a mitre; {cure}"
        why = f"what is still to cut may differ by {limits.refit_length:g} mm in length (limits.refit_length)"
        yield Finding("stop", where, says, closed.step, (None, limits.joint_step), "mm", why)


def _one_end(found: Refit) -> str:
    """The offer to recut one end alone, with what it costs."""
    if found.end is None:
        return ""
    units = found.drawn.profile.units
    inner, outer = (show_length(cost, units) for cost in (found.end.inner, found.end.outer))
    return (
        f": first try its {found.end.side} end alone, at {angle_words(degrees(found.end.angle))} off square, which"
        f" takes {inner} off its inner edge and {outer} off its outer one, then measure it and re-fit again"
    )


def _shoulder_findings(found: Refit) -> Iterator[Finding]:
    limit = found.rebuilt.table.profile.limits.joint_gap
    for one in found.shoulders:
        if one.gap < -limit:
            says = f"{named(one.copy)} is too long for the ring on arm {one.arm + 1}; trim that shoulder"
            yield Finding("caution", one.copy[0], says, -one.gap, (None, limit), "mm")
        elif one.gap > limit:
            says = f"the shoulder of {named(one.copy)} stands off the rim on arm {one.arm + 1}"
            why = "the tenon still holds; a thin shim, or a longer rail, closes it"
            yield Finding("caution", one.copy[0], says, one.gap, (None, limit), "mm", why)


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
            says = f"{named(copy)} is too long for its place; trim its shoulders"
            yield Finding("caution", copy[0], says, over, (None, limit), "mm")


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
            says = f"the groove of {named(copies[index])} ends too soon for the slats; lengthen it"
            yield Finding("caution", copies[index][0], says, short, (None, GRAZE), "mm", "before the slats go in")
