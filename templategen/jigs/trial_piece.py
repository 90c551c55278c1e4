"""Test pieces: the joints once in scrap of the table's own wood, to prove every setting before a part is cut."""

from collections.abc import Iterator
from math import cos

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.point import Point
from templategen.jigs.jig import GAUGED, Critical, Jig, has_any
from templategen.jigs.piece import distance, of_offcut, shown
from templategen.joinery.lap import CrossLap
from templategen.parts.feature import Feature
from templategen.parts.part import Part, PartKind
from templategen.table.assembly import Table
from templategen.table.pedestal import base_lap, leg_axis
from templategen.table.profile.choices import Machine
from templategen.table.rails import lap_of, leg_joint, top_leg_joint

BODY = 120.0
"""Leg behind the test tenon, mm."""

BESIDE = 60.0
"""Rail past a test mortise or lap, mm."""

TRENCHING: tuple[Machine, ...] = ("groove cutter", "router table")
"""What trenches over a table, with the piece on a sled."""

ALIKE = 1e-6
"""Sizes within this are one, mm."""

SPARE = 1
"""How many more of each piece its strip is long enough for, should the first be wrong."""


def trial_tenon(table: Table) -> Iterator[Jig]:
    """A leg's tenon and its mortise."""
    profile, tenon, top = table.profile, leg_joint(table.sizes), top_leg_joint(table.sizes)
    play, along = shown(tenon.clearance, profile), shown(table.sizes.clearances.tenon, profile)
    yield Jig(
        "TEST-TENON",
        "test pieces of the leg's joint",
        tuple(part.code for part in table.parts if part.kind in ("leg", "rail", "base-rail")),
        (_tenon(table), *_mortises(table)),
        (),
        tuple(_figures(table)),
        (
            (
                "Cut the mortise off STRIP-RAIL, the base's off STRIP-BASE, as their set-ups tell; the tenon off "
                "STRIP-LEG later; change only the tenon's settings until it fits."
            ),
            *(
                (
                    (
                        "The tenon at a raked end: of one of the two pieces that the legs' ends were tried on. Mark"
                        " its upper edge, so that the end leans as drawn."
                    ),
                )
                if leg_axis(table.sizes).rake
                else ()
            ),
            *_short(table),
            "Leave the settings as they are and make the parts; keep both pieces to set up by again.",
        ),
        (
            said(
                "The tenon goes home by hand: {play} of play across the rail, {along} along it, no more.",
                play=play,
                along=along,
            ),
            *(
                (said("In TEST-MORTISE, where it stays dry: {play}.", play=shown(top.clearance, profile)),)
                if abs(top.clearance - tenon.clearance) > ALIKE
                else ()
            ),
            "Shoulders close all round with a light tap; a gap on one side is the saw out of square.",
        ),
        (
            "Short pieces: in a sled or clamped to the fence, never held by hand near the blade."
            if has_any(table, GAUGED)
            else "Short pieces: between blocks of waste in the vice.",
        ),
    )


def _short(table: Table) -> Iterator[str]:
    """Where the tenon under a bolt is tried, which only places the leg."""
    short, long = top_leg_joint(table.sizes).length, leg_joint(table.sizes).length
    if long - short > ALIKE:
        yield said(
            "The long tenon is for TEST-MORTISE-BASE; cut the top's, {long} long, at TEST-TENON's other end: it is"
            " for TEST-MORTISE.",
            long=shown(short, table.profile),
        )


def trial_laps(table: Table) -> Iterator[Jig]:
    """The crossing of the top's rails, and that of the base's where there is one."""
    sizes = table.sizes
    name = translated("test pieces of the rails' crossing")
    yield _trial_lap(table, "TEST-LAP", name, "rail", lap_of(sizes))
    if any(part.kind == "base-rail" for part in table.parts):
        name = translated("test pieces of the base's crossing")
        yield _trial_lap(table, "TEST-BASE", name, "base-rail", base_lap(sizes))


def _trial_lap(table: Table, code: str, name: str, kind: PartKind, lap: CrossLap) -> Jig:
    profile = table.profile
    return Jig(
        code,
        name,
        tuple(part.code for part in table.parts if part.kind == kind),
        tuple(_laps(table, code, lap)),
        (),
        (),
        (
            (
                "Cut the pieces off STRIP-RAIL, those of the base off STRIP-BASE; at each set-up of the laps trench"
                " its pieces first, by the stops told for them there, then the rails."
            ),
            said(
                "At the last of them, before a rail: stack the pieces, faces flush above and below, each in its "
                "trench with {play} of play, both sides together.",
                play=shown(lap.clearance, profile),
            ),
        ),
        (
            said("Flush within {near} on both faces: proud means a trench too shallow.", near=shown(0.1, profile)),
            "The angle between two rails, measured both ways round, is the same.",
        ),
        (
            said(
                "On LAP-SLED a clamp on either end, of which no pass cuts the last {beside}, never a hand; pare"
                " towards the middle, hands behind the edge.",
                beside=shown(BESIDE, profile),
            )
            if has_any(table, TRENCHING)
            else "Clamp the rail on both sides of the cut; pare towards the middle, hands behind the edge.",
        ),
    )


def _piece(
    table: Table, code: str, name: str, thickness: float, outline: Outline, features: tuple[Feature, ...]
) -> Part:
    return of_offcut(table.profile, code, name, thickness, outline, features, tuple(_below(table, features)))


def _below(table: Table, features: tuple[Feature, ...]) -> Iterator[str]:
    """The depths of what is cut from below, whose dashed lines bear no letters."""
    depths = dict.fromkeys(round(feature.depth, 6) for feature in features if feature.face == "bottom")
    if depths:
        told = ", ".join(shown(depth, table.profile) for depth in depths)
        yield said("from below: {depths} deep", depths=told)


def _tenon(table: Table) -> Part:
    """A leg's upper end: x along it from the shoulder's middle, its tenon at positive x, raked as a leg's."""
    half, tenon, rake = table.profile.legs.section / 2, leg_joint(table.sizes), leg_axis(table.sizes).rake
    w, length = tenon.width / 2, tenon.length
    corner = half / cos(rake)
    zone = [_at(rake, x, y) for x, y in ((0.0, -w), (length, -w), (length, w), (0.0, w))]
    shoulders = _at(rake, 0.0, -corner), _at(rake, 0.0, corner)
    outline = polygon((Point(-BODY, -half), shoulders[0], *zone, shoulders[1], Point(-BODY, half)))
    features = tenon.cheeks(polygon(zone), table.profile.legs.section, ())
    return _piece(table, "TEST-TENON", "test tenon", table.profile.legs.section, outline, features)


def _at(rake: float, along: float, across: float) -> Point:
    """A point of a leg's tenon: along it from the middle of the shoulder, which leans as a leg does, and across."""
    return Point(along, across).turned(-rake)


def mortised(kind: PartKind) -> str:
    """The test piece of the mortise in a part of a kind."""
    return "TEST-MORTISE" if kind == "rail" else "TEST-MORTISE-BASE"


def _mortises(table: Table) -> Iterator[Part]:
    """One of the section of each part that a leg stands in."""
    top, base, sizes = table.profile.top, table.profile.base, table.sizes
    yield _mortise(table, "rail", translated("test mortise"), sizes.half_rail, top.thickness)
    if any(part.kind in ("base-rail", "foot") and part.cuts("mortise") for part in table.parts):
        yield _mortise(
            table, "base-rail", translated("test mortise of the base"), base.rail_width / 2, base.thickness
        )


def _mortise(table: Table, kind: PartKind, name: str, half: float, thickness: float) -> Part:
    tenon = (top_leg_joint if kind == "rail" else leg_joint)(table.sizes)
    reach = tenon.mortise_width / 2 + BESIDE
    outline, features = rectangle(-reach, -half, reach, half), (tenon.mortise("top", 0.0, ()),)
    return _piece(table, mortised(kind), name, thickness, outline, features)


def lap_length(lap: CrossLap) -> float:
    """How long each test piece of a crossing is, mm."""
    return 2 * (lap.reach + BESIDE)


def _laps(table: Table, test: str, lap: CrossLap) -> Iterator[Part]:
    reach = lap_length(lap) / 2
    outline = rectangle(-reach, -lap.half_width, reach, lap.half_width)
    for number, code in enumerate(lap.codes):
        position = code.partition("-")[2]
        features = lap.features(number)
        yield _piece(
            table, f"{test}-{position}", said("test piece for {code}", code=code), lap.thickness, outline, features
        )


def _figures(table: Table) -> Iterator[Critical]:
    tenon, top = leg_joint(table.sizes), top_leg_joint(table.sizes)
    w, t, rake = tenon.width / 2, top.mortise_width / 2, leg_axis(table.sizes).rake
    end, low, high = (_at(rake, tenon.length, y) for y in (0.0, -w, w))
    yield distance("tenon length", "TEST-TENON", Point(0, 0), end, "legs.tenon")
    yield distance("tenon width", "TEST-TENON", low, high, "legs.tenon")
    yield distance("mortise length", "TEST-MORTISE", Point(-t, 0), Point(t, 0), "tenon width + clearance")
    end, half = Point(-t - BESIDE, 0), top.mortise_thickness / 2
    yield distance("end to the mortise", "TEST-MORTISE", end, Point(-t, 0), "rail past the mortise")
    ends = Point(t, -half), Point(t, half)
    yield distance("mortise width", "TEST-MORTISE", *ends, "tenon thickness + clearance")
    yield Critical("tenon thickness", tenon.thickness, "mm", how="legs.tenon")
    yield Critical("mortise depth", top.depth, "mm", "TEST-MORTISE", how="tenon length + end clearance")
    if abs(tenon.depth - top.depth) > ALIKE:
        yield Critical("mortise depth", tenon.depth, "mm", "TEST-MORTISE-BASE", how="tenon length + end clearance")
