"""What a year outdoors does to gaps and joints: screening figures from mean movement, not a promise."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan, tan

from templategen.checks.finding import Finding, Level
from templategen.checks.levels import at_least, at_most, noted, shown
from templategen.checks.shoulders import drawn_back
from templategen.table.assembly import Table
from templategen.table.clearances import SLIDING
from templategen.table.seasons import Swing, board_swing, seasons_of
from templategen.table.spacing import choices_of, stays_clear

ROT = 20.0
"""Moisture from which fungi grow and glue fails, %."""

SLIGHT = 0.01
"""Play that no hand can tell, mm."""

ADVICE = {
    "plain": "boards sawn on the quarter move about half as much",
    "rift": "boards sawn on the quarter move less",
    "quarter": "drier air or a calmer wood would move less",
}


def movement_findings(table: Table) -> Iterator[Finding]:
    """Gaps, tight joints, mitres and tongues at the driest and the wettest of the year."""
    swing = board_swing(table.profile)
    yield _year(table)
    yield from _gaps(table, swing)
    yield from _tight_joints(table, swing)
    yield _mitres(table, swing)
    yield from _tongues(table, swing)


def _year(table: Table) -> Finding:
    """The moisture from and to which everything else here is reckoned."""
    year, shop = seasons_of(table.profile), table.profile.shop
    low, high = shop.humidity
    why = (
        f"air of {low:g} to {high:g} % at {shop.temperature:g} degrees brings wood to {year.driest:.1f} and "
        f"{year.wettest:.1f} % moisture; rain takes a surface further; measure your boards and write it down"
    )
    wanted = (round(year.driest, 1), round(year.wettest, 1))
    built, says = round(year.built, 1), "moisture of the wood when built"
    level: Level = "stop" if built >= ROT else "note" if wanted[0] <= built <= wanted[1] else "caution"
    if level != "note":
        why += "; wood this wet rots, and no glue holds in it" if level == "stop" else ""
        why += "; let it come to the air it will stand in, between stickers, before it is planed"
    return Finding(level, "shop.build_moisture", says, built, wanted, "%", why)


def _gaps(table: Table, swing: Swing) -> Iterator[Finding]:
    """Slats held on their centre lines: g_built - w s at each end of the year."""
    gap, width, limits = table.spacing.gap, table.spacing.width, table.profile.limits
    units, drain, fingers = table.profile.units, limits.drain_gap[1], limits.finger_gap
    wet, dry = gap - width * swing.wet, gap - width * swing.dry
    why = "water and crumbs must fall through"
    if wet < drain and swing.wet > 0:
        most = shown(max(0.0, (gap - drain) / swing.wet), units)
        why += f"; slats of {most} or less would do at this gap, or {ADVICE[table.profile.shop.sawn]}"
    yield at_least("slats.gap", "gap between slats at the wettest", wet, (0.0, drain), why=why)
    if fingers[0] <= dry and wet <= fingers[1]:
        says = "gap between slats at the driest, where a finger can be caught"
        yield Finding("caution", "slats.gap", says, dry, (drain, fingers[0]), why=_clear_of_fingers(table, swing))
        return
    yield noted("slats.gap", "gap between slats at the driest", dry, (drain, fingers[0]))


def _clear_of_fingers(table: Table, swing: Swing) -> str:
    """Why such gaps are a danger, and the gaps and numbers of slats that would do."""
    width, limits, units = table.spacing.width, table.profile.limits, table.profile.units
    low, high = limits.drain_gap[1] + width * swing.wet, limits.finger_gap[0] + width * swing.dry
    why = "fingers are caught in such gaps (probes of EN 581-1; a test house may judge long slots otherwise)"
    clear = [choice for choice in choices_of(table.sizes) if stays_clear(table.profile, choice)]
    if clear:
        why += f"; {clear[0].count} slats with gaps of {shown(clear[0].gap, units)} stay clear all year"
    if low < high:
        held = "" if table.profile.slats.hold == "gap" else ', with slats.hold = "gap"'
        why += f"; gaps of {shown(low, units)} to {shown(high, units)} as built stay clear all year{held}"
    return why


def _tight_joints(table: Table, swing: Swing) -> Iterator[Finding]:
    """Laps and mortises that lie along the grain and don't grow, round wood that does."""
    profile, play = table.profile, table.sizes.clearances
    year = seasons_of(profile)
    leg = year.swing(max(year.figures.radial, year.figures.tangential))
    top, base = profile.top.rail_width, profile.base.rail_width
    laps = ((top, "top.rail_width", play.lap), (base, "base.rail_width", play.base_lap))
    width, where, drawn = max(laps, key=lambda lap: lap[0] * swing.wet - lap[2])
    yield _squeeze(table, where, "rails in their laps", width, drawn, swing)
    yield _squeeze(table, "legs.tenon", "leg tenons in their mortises", profile.legs.tenon[1], play.tenon, leg)


def _squeeze(table: Table, where: str, what: str, width: float, play: float, swing: Swing) -> Finding:
    """Growth that the joint has no room for, as % of the width; wood takes a few % across the grain as a dent."""
    units, limits = table.profile.units, table.profile.limits
    over = max(0.0, width * swing.wet - play)
    loose, drawn = shown(max(0.0, play - width * swing.dry), units), shown(play, units)
    if over < SLIGHT:
        how = "glue near the middle only" if "laps" in what else "the cheeks that lie along the grain hold them"
        why = f"drawn with {drawn} of play for it; at the driest they stand {loose} loose: {how}"
    else:
        why = (
            f"{shown(width, units)} across the grain grow {shown(over, units)} past the play of {drawn}, in a joint "
            f'that lies along the grain and stays; "auto" draws the play for it, or other wood: '
            f"{ADVICE[table.profile.shop.sawn]}"
        )
    says = f"squeeze of {what} at the wettest, of their width"
    return at_most(where, says, round(100 * over / width, 2), limits.squeeze, "%", why)


def mitre_turn(mitre: float, change: float) -> float:
    """By how much a mitre's own angle grows when the board's width changes by `change`: tan a' = tan a / (1 + s).

    Length along the grain stays, width moves, so the angle follows. Radians; positive when drying, which opens
    the joint inside.
    """
    return atan(tan(mitre) / (1 + change)) - mitre


def mitre_opening(mitre: float, wall: float, change: float) -> float:
    """Free opening of one joint at its open edge: both mitres turn, over the wall's length along the joint."""
    return 2 * abs(mitre_turn(mitre, change)) * wall


def _mitres(table: Table, swing: Swing) -> Finding:
    sizes, units, limit = table.sizes, table.profile.units, table.profile.limits.mitre_opening
    changes = (min(0.0, swing.dry), max(0.0, swing.wet))
    inside, outside = (mitre_opening(sizes.mitre, sizes.wall_at_joint, share) for share in changes)
    worst = max(inside, outside)
    why = (
        f"width moves and length doesn't, so the angle does: {shown(inside, units)} inside at the driest, "
        f"{shown(outside, units)} outside at the wettest, {shown(sizes.segments * worst, units)} over the ring; "
        f"glue, splines and a finish must hold that; a narrower rim or more segments ask less of them, and "
        f"{ADVICE[table.profile.shop.sawn]}"
    )
    says = "opening of each mitre in a year, if nothing held it"
    return at_most("top.rim_width", says, worst, (limit, None), why=why)


def _tongues(table: Table, swing: Swing) -> Iterator[Finding]:
    """Slats and rails keep their length while the wood they enter shrinks away from their shoulders."""
    sizes, limits, units = table.sizes, table.profile.limits, table.profile.units
    drawn, rim = drawn_back(table, swing), max(0.0, -sizes.wall_at_middle * swing.dry)
    why = f"rails and rim shrink {shown(drawn, units)} away from the shoulders of a slat that slid home at one end"
    says = "slat tongue left in its groove at the driest"
    yield at_least("joints.groove_depth", says, sizes.tongue_length - drawn, limits.tongue_hold, why=why)
    why = f"the rim shrinks {shown(rim, units)} away from the rails' shoulders, and the rails keep their length"
    says = "rail tenon left in the ring at the driest"
    yield at_least("joints.groove_depth", says, sizes.tongue_length - rim, limits.tongue_hold, why=why)
    yield from _shoulders(table, swing)
    yield from _sliding(table)


def _shoulders(table: Table, swing: Swing) -> Iterator[Finding]:
    """Rails that grow towards the slats beside them, which keep their length."""
    grown, drawn, units = table.sizes.half_rail * swing.wet, table.sizes.clearances.shoulder, table.profile.units
    where, says = "joints.shoulder_clearance", "play at the slats' shoulders beside a rail"
    if drawn >= grown - SLIGHT:
        why = f"each side of a rail grows {shown(max(0.0, grown), units)} by the wettest of the year"
        yield noted(where, says, drawn, (round(max(0.0, grown), 3), None), why=why)
        return
    why = f'each side of a rail grows {shown(grown, units)} and pushes the slats along; "auto" draws room for it'
    yield at_least(where, says, drawn, (None, round(grown, 3)), why=why)


def _sliding(table: Table) -> Iterator[Finding]:
    """A tongue whose rings lie across those of its groove outgrows it by the difference of the two directions."""
    joints, year, drawn = table.profile.joints, seasons_of(table.profile), table.sizes.clearances.slide
    most, least = (year.swing(pick(year.figures.radial, year.figures.tangential)).wet for pick in (max, min))
    wanted = SLIDING + max(0.0, joints.tongue * (most - least))
    why = "slats stay dry and must slide in their grooves, swollen too"
    if drawn < wanted - SLIGHT:
        why += '; "auto" draws room for it'
    says = "play of the slats' tongues across their grooves"
    yield at_least("joints.slide_clearance", says, drawn, (None, round(wanted, 3) - SLIGHT), why=why)
