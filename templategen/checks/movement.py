"""What a year outdoors does to gaps and joints: screening figures from mean movement, not a promise."""

from collections import defaultdict
from collections.abc import Iterator
from math import atan, tan
from typing import Any

from templategen.checks.finding import Finding, Level
from templategen.checks.levels import at_least, at_most, noted
from templategen.geometry.point import Point, polar
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.clearances import SLIDING
from templategen.table.placed import Placed
from templategen.table.seasons import Swing, board_swing, seasons_of
from templategen.table.spacing import choices_of, stays_clear

ROT = 20.0
"""Moisture from which fungi grow and glue fails, %."""

SLIGHT = 0.01
"""Play that no hand can tell, mm."""


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
    wanted, built = (round(year.driest, 1), round(year.wettest, 1)), round(year.built, 1)
    level: Level = "stop" if built >= ROT else "note" if wanted[0] <= built <= wanted[1] else "caution"
    fields = {"low": low, "high": high, "warmth": shop.temperature, "driest": year.driest, "wettest": year.wettest}
    fields |= {"rots": level == "stop", "wait": level != "note"}
    return Finding("moisture", level, "shop.build_moisture", built, wanted, fields)


def _gaps(table: Table, swing: Swing) -> Iterator[Finding]:
    """Slats held on their centre lines: g_built - w s at each end of the year."""
    gap, width, limits = table.spacing.gap, table.spacing.width, table.profile.limits
    drain, fingers = limits.drain_gap[1], limits.finger_gap
    wet, dry = gap - width * swing.wet, gap - width * swing.dry
    most = (gap - drain) / swing.wet if wet < drain < gap else None
    sawn = table.profile.shop.sawn
    yield at_least("wettest-gap", "slats.gap", wet, (0.0, drain), most=most, sawn=sawn)
    if fingers[0] <= dry and wet <= fingers[1]:
        fields = _clear_of_fingers(table, swing)
        yield Finding("finger-gap", "caution", "slats.gap", dry, (drain, fingers[0]), fields)
        return
    yield noted("driest-gap", "slats.gap", dry, (drain, fingers[0]))


def _clear_of_fingers(table: Table, swing: Swing) -> dict[str, Any]:
    """The gaps and numbers of slats that would do."""
    width, limits = table.spacing.width, table.profile.limits
    low, high = limits.drain_gap[1] + width * swing.wet, limits.finger_gap[0] + width * swing.dry
    clear = next((choice for choice in choices_of(table.sizes) if stays_clear(table.profile, choice)), None)
    fields: dict[str, Any] = {"count": clear.count, "gap": clear.gap} if clear else {}
    if low < high:
        fields |= {"low": low, "high": high, "hold": table.profile.slats.hold != "gap"}
    return fields


def _tight_joints(table: Table, swing: Swing) -> Iterator[Finding]:
    """Laps and mortises that lie along the grain and don't grow, round wood that does."""
    profile, play = table.profile, table.sizes.clearances
    year = seasons_of(profile)
    leg = year.swing(max(year.figures.radial, year.figures.tangential))
    top, base = profile.top.rail_width, profile.base.rail_width
    laps = ((top, "top.rail_width", play.lap), (base, "base.rail_width", play.base_lap))
    width, where, drawn = max(laps, key=lambda lap: lap[0] * swing.wet - lap[2])
    yield _squeeze(table, where, "laps", width, drawn, swing)
    yield _squeeze(table, "legs.tenon", "tenons", profile.legs.tenon[1], play.tenon, leg)


def _squeeze(table: Table, where: str, what: str, width: float, play: float, swing: Swing) -> Finding:
    """Growth that the joint has no room for, as % of the width; wood takes a few % across the grain as a dent."""
    over, loose = max(0.0, width * swing.wet - play), max(0.0, play - width * swing.dry)
    fields = {"width": width, "over": over, "play": play, "loose": loose, "sawn": table.profile.shop.sawn}
    kind = f"{what}-free" if over < SLIGHT else f"{what}-squeezed"
    return at_most(kind, where, round(100 * over / width, 2), table.profile.limits.squeeze, **fields)


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
    sizes, limit = table.sizes, table.profile.limits.mitre_opening
    changes = (min(0.0, swing.dry), max(0.0, swing.wet))
    inside, outside = (mitre_opening(sizes.mitre, sizes.wall_at_joint, share) for share in changes)
    worst = max(inside, outside)
    fields = {"inside": inside, "outside": outside, "ring": sizes.segments * worst, "sawn": table.profile.shop.sawn}
    return at_most("mitre-opening", "top.rim_width", worst, (limit, None), **fields)


def _tongues(table: Table, swing: Swing) -> Iterator[Finding]:
    """Slats and rails keep their length while the wood they enter shrinks away from their shoulders."""
    length, hold = table.sizes.tongue_length, table.profile.limits.tongue_hold
    drawn, rim = drawn_back(table, swing), max(0.0, -table.sizes.wall_at_middle * swing.dry)
    yield at_least("slat-tongue-left", "joints.groove_depth", length - drawn, hold, drawn=drawn)
    yield at_least("rail-tenon-left", "joints.groove_depth", length - rim, hold, drawn=rim)
    yield from _shoulders(table, swing)
    yield from _sliding(table)


def _shoulders(table: Table, swing: Swing) -> Iterator[Finding]:
    """Rails that grow towards the slats beside them, which keep their length."""
    grown, drawn = max(0.0, table.sizes.half_rail * swing.wet), table.sizes.clearances.shoulder
    where, wanted = "joints.shoulder_clearance", round(grown, 3)
    if drawn >= grown - SLIGHT:
        yield noted("shoulder-play", where, drawn, (min(wanted, drawn), None), grown=grown)
    else:
        yield at_least("shoulders-pushed", where, drawn, (None, wanted), grown=grown)


def _sliding(table: Table) -> Iterator[Finding]:
    """A tongue whose rings lie across those of its groove outgrows it by the difference of the two directions."""
    joints, year, drawn = table.profile.joints, seasons_of(table.profile), table.sizes.clearances.slide
    most, least = (year.swing(pick(year.figures.radial, year.figures.tangential)).wet for pick in (max, min))
    wanted = SLIDING + max(0.0, joints.tongue * (most - least))
    limits, tight = (None, round(wanted, 3) - SLIGHT), drawn < wanted - SLIGHT
    yield at_least("sliding-play", "joints.slide_clearance", drawn, limits, tight=tight)


def drawn_back(table: Table, swing: Swing) -> float:
    """How far the shoulders of the worst slat are left at both ends together, mm.

    Half a rail's shrinkage and the play drawn there where an end meets an arm, all of the rim's where it meets a
    segment: the ring's joints open inside as it dries, so its outer edge stays. An end that meets two edges counts
    the larger.
    """
    sizes = table.sizes
    beside_rail = sizes.clearances.shoulder - sizes.half_rail * swing.dry
    shrinks = {"rail": beside_rail, "rim-segment": -sizes.wall_at_middle * swing.dry}
    parts = {part.code: part for part in table.parts}
    ends: dict[tuple[int, bool], list[float]] = defaultdict(list)
    for joint in table.joints:
        if joint.kind == "tongue-and-groove":
            mate, slat = parts[joint.parts[0]], table.placed[joint.placed[1]]
            ahead = _is_ahead(table, joint.placed[0], mate, slat, parts[slat.code])
            ends[joint.placed[1], ahead].append(shrinks[mate.kind])
    numbers = {number for number, _ in ends}
    return max((sum(max(ends[n, ahead], default=0.0) for ahead in (True, False)) for n in numbers), default=0.0)


def _is_ahead(table: Table, number: int, mate: Part, slat: Placed, part: Part) -> bool:
    """Whether the mate, copy `number`, lies at the end that the slat's own x points to."""
    middle = part.outline.bounds.centre
    x, y, _ = slat.point(middle.x, middle.y, 0.0)
    along = Point(slat.axes[0].x, slat.axes[0].y)
    if mate.kind == "rim-segment":
        return polar(1, 2 * number * table.sizes.mitre).dot(along) > 0
    rail = Point(table.placed[number].axes[0].x, table.placed[number].axes[0].y)
    foot = rail.times(rail.dot(Point(x, y)))
    return foot.minus(Point(x, y)).dot(along) > 0
