"""The mitre gauge: triangles that set and check the rim's angle, and the scrap ring that finds the error left."""

from collections.abc import Iterator
from math import atan, cos, degrees, floor, sin, tan

from templategen.checks.describe import said
from templategen.geometry.outline import polygon
from templategen.geometry.point import Point
from templategen.jigs.jig import GAUGED, Critical, Jig, has_any
from templategen.jigs.piece import distance, line, piece, shown, step_of
from templategen.table.assembly import Table
from templategen.table.sizes import Sizes
from templategen.units import MM_PER_INCH

LEG = {"mm": 240.0, "in": 10 * float(MM_PER_INCH)}
"""Long leg of the set triangle, mm: whole, since its short leg is reckoned from it."""

ARM = 160.0
"""Sides of the check triangle along the two segments, mm."""

FOIL = 0.016
"""Thickness of household aluminium foil, mm: rolls are sold at 0.015 to 0.018; ten layers folded show it."""

ON_THE_PIECE = 2 / 3
"""Of the length that lies at the fence, the share between the two slips that it touches there."""

FEELERS = (0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2.0)
"""Gaps of the scrap ring's table, mm."""


def mitre_gauge(table: Table) -> Iterator[Jig]:
    """Set and check triangles for pi/N with the table of the scrap ring."""
    profile, sizes = table.profile, table.sizes
    mitre, name, check = sizes.mitre, "MITRE-SET", "MITRE-CHECK"
    leg = LEG[profile.units]
    rise = leg * tan(mitre)
    corner, square, tip = Point(0, 0), Point(leg, 0), Point(leg, rise)
    left, apex, right = (Point(x * ARM * cos(mitre), y * ARM * sin(mitre)) for x, y in ((-1, 0), (0, 1), (1, 0)))
    saws = has_any(table, GAUGED)
    yield Jig(
        "MITRE-GAUGE",
        "mitre gauge",
        tuple(part.code for part in table.parts if part.kind == "rim-segment"),
        (
            piece(profile, name, "set triangle", polygon((corner, square, tip)), "gauge"),
            piece(profile, check, "check triangle for a pair of segments", polygon((left, right, apex)), "gauge"),
        ),
        (
            line(name, Point(leg * 0.35, 6), Point(leg * 0.95, 6),
                 said("{angle:deg} at the point", angle=degrees(mitre))),
            line(check, Point(-ARM / 2, 4), Point(ARM / 2, 4),
                 said("{angle:deg} at the top", angle=180 - 2 * degrees(mitre))),
        ),
        (
            Critical("mitre off square", degrees(mitre), "deg", how="180° / N"),
            Critical("inner edges of a pair of segments, between them", 180 - 2 * degrees(mitre), "deg",
                     how="180° - 360° / N"),
            distance("long leg of the set triangle", name, corner, square),
            distance("short leg of the set triangle", name, square, tip, "long leg x tan(180° / N)"),
            *_scrap_ring(sizes),
        ),
        tuple(_use(sizes, saws)),
        tuple(_proof(table)),
        (
            ("Unplug the saw while the gauge is against its blade. Clamp the segment to the fence; the stop must not "
            "trap the offcut; never hold a short piece by hand.")
            if saws
            else "Hold the segment to the shooting board's fence, both hands behind the plane's edge.",
        ),
    )  # fmt: skip


def error_of(gap: float, sizes: Sizes) -> float:
    """The error of each cut that leaves `gap` at the last joint of a scrap ring, radians.

    Each of 2N cuts turns the ring by the same error e, so the last joint gapes by w 2N e over a joint of length w.
    """
    return gap / (2 * sizes.segments * sizes.joint_face)


def slips_of(sizes: Sizes) -> dict[str, str]:
    """The slips that correct the angle, as the plan tells them: how far apart on the fence two lie that every piece
    touches, of scrap or of the rim, and nothing else; ten layers of foil; and the gap of the scrap ring that one
    layer more under one of both makes up for."""
    step = step_of(sizes.profile)
    far = floor(ON_THE_PIECE * min(sizes.profile.shop.holding, sizes.inner_length) / step) * step
    gap = FOIL / far / error_of(1.0, sizes)
    told = {name: shown(mm, sizes.profile) for name, mm in (("gap", gap), ("far", far))}
    return {**told, "ten": shown(10 * FOIL, sizes.profile)}


def _scrap_ring(sizes: Sizes) -> Iterator[Critical]:
    for gap in FEELERS:
        error = degrees(error_of(gap, sizes))
        name = said("scrap ring's last gap {gap}: each cut is off by", gap=shown(gap, sizes.profile))
        yield Critical(name, error, "deg", how="gap / (2 N joint)")


def _use(sizes: Sizes, saws: bool) -> Iterator[str]:
    yield said(
        "Set, saw unplugged: the short leg of the triangle along the fence, its slope along the blade's plate "
        "(between teeth): {angle:deg} off square."
        if saws
        else "Set the shooting board's fence: the short leg of the triangle along it, its slope along the plane's "
        "way: {angle:deg} off square.",
        angle=degrees(sizes.mitre),
    )
    yield "Cut a pair, hold them together on a flat board: the check triangle must touch both inner edges all along."
    yield "The triangle finds the angle, the scrap ring proves it: a fence's scale is ten times too coarse."


def _proof(table: Table) -> Iterator[str]:
    sizes, profile = table.sizes, table.profile
    long = LEG[profile.units]
    short = long * tan(sizes.mitre)
    off = degrees(atan((short + 0.1) / long) - sizes.mitre)
    yield said(
        "Measure the set triangle's legs: {long} and {short}; {little} on the short one is {off:deg}. Its square "
        "corner against a try square, both ways round.",
        long=shown(long, profile),
        short=shown(short, profile),
        little=shown(0.1, profile),
        off=off,
    )
    yield said(
        "Scrap ring: {segments} pieces of scrap of the rim's width ({wide}), cut at one setting with a stop, held by "
        "a band on a flat board, all joints tight but the last. Put feelers in it."
        if has_any(table, GAUGED)
        else "Scrap ring: {segments} pieces of scrap of the rim's width ({wide}), shot at one setting of the fence "
        "to one length, held by a band on a flat board, all joints tight but the last. Put feelers in it.",
        segments=sizes.segments,
        wide=shown(profile.top.rim_width, profile),
    )
    yield (
        "Gap open outside: the angle is too small, inside: too large; the scrap ring's operation tells how to mend"
        " it. Half a ring shows half the gap against a straight edge."
    )
    whole = profile.shop.mitre_error
    gap = 2 * sizes.segments * sizes.joint_face * whole
    yield said(
        "A cut off by {off:deg} every time would leave {gap} at the last joint; errors that differ by chance leave "
        "far less.",
        off=degrees(whole),
        gap=shown(gap, profile),
    )
