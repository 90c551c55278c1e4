"""The tear-out map: where the rim is cut against its grain, as a strip to mark segments by and a map of the ring."""

from collections.abc import Iterator
from math import cos, degrees, pi, sin, tan

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.geometry.edge import arc_round
from templategen.geometry.outline import Outline, circle
from templategen.geometry.point import Point, Vertex, polar
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, line, mark, piece
from templategen.table.assembly import Table
from templategen.table.sizes import Sizes

BAND = 40.0
"""Width of the marking strip, mm."""

MAP_RADIUS = 110.0
"""Radius of the ring on the map, mm."""

HATCH = 5.0
"""Distance of the hatching lines along the arc, mm."""

STEEP = 3.0
"""Grain that runs out of the edge by less than this does no harm, degrees."""


def tear_out(table: Table) -> Iterator[Jig]:
    """Strip and map for the outside edge, routed anticlockwise; none for a faceted ring, or where nothing is trued.

    The grain lies along each segment. From mid-segment to a joint the edge turns from the grain by up to pi/N; behind
    a joint, in the direction of feed, the cutter lifts the fibres that run out at the edge.
    """
    sizes = table.sizes
    if not sizes.is_sawn or table.profile.jigs.leave <= 0:
        return
    profile, name, ring = table.profile, "TEAR-OUT", "TEAR-OUT-MAP"
    out, across = polar(sizes.radius, pi / 2 - sizes.mitre), polar(sizes.radius, pi / 2 + sizes.mitre)
    strip = piece(profile, name, "strip that marks one segment", _band(sizes), "gauge")
    chart = piece(profile, ring, "map of the ring", circle(0, 0, MAP_RADIUS + 15), "gauge")
    turned = sizes.mitre - _calm(sizes)
    yield Jig(
        name,
        "tear-out map",
        tuple(part.code for part in table.parts if part.kind == "rim-segment"),
        (strip, chart),
        (*_on_strip(sizes), *_on_map(sizes)),
        (
            distance("outside corners of the strip", name, out, across, "diameter sin(pi/N)"),
            Critical("grain against the edge at a joint", degrees(sizes.mitre), "deg", how="180° / N"),
            Critical("hatched from the joint, along the edge", sizes.radius * turned, "mm", how="R (pi/N - 3°)"),
        ),
        tuple(_use(sizes)),
        (
            ("Rout one pass over a joint of two pieces of the scrap ring, anticlockwise: if it tears, it tears in "
            "the hatched half. If it tears in the other, its grain runs the other way: mark that segment so."),
        ),
        ("A climbing pass pulls the router forwards: light, the trammel on its pin, both hands, never freehand.",),
    )  # fmt: skip


def _calm(sizes: Sizes) -> float:
    """The angle from mid-segment within which the grain does no harm."""
    return min(STEEP * pi / 180, sizes.mitre)


def _band(sizes: Sizes) -> Outline:
    """The outer band of one segment: y outwards through its middle, the table's centre at the origin."""
    outer, inner, mitre = sizes.radius, sizes.radius - BAND, sizes.mitre
    x, y = sin(mitre), cos(mitre)
    bulge = tan(mitre / 2)
    return Outline(
        (
            Vertex(outer * x, outer * y, bulge),
            Vertex(-outer * x, outer * y),
            Vertex(-inner * x, inner * y, -bulge),
            Vertex(inner * x, inner * y),
        )
    )


def _on_strip(sizes: Sizes) -> Iterator[Scribe]:
    """Hatching from the joint that the cutter has just passed: at +x, since anticlockwise is towards -x."""
    name, calm = "TEAR-OUT", _calm(sizes)
    yield line(name, Point(0, sizes.radius - BAND), Point(0, sizes.radius), "middle", "witness")
    span = sizes.mitre - calm
    count = int(sizes.radius * span / (2 * HATCH))
    for number in range(1, count):
        angle = pi / 2 - sizes.mitre + span * number / count
        ends = polar(sizes.radius - 2, angle), polar(sizes.radius - BAND / 2, angle - HATCH / sizes.radius)
        yield line(name, *ends, kind="hatch")
    at = polar(sizes.radius - BAND / 2 - 3, pi / 2 - sizes.mitre)
    end = polar(sizes.radius - BAND / 2 - 3, pi / 2 - calm)
    yield line(name, at, end, "against the grain", "hatch")
    yield from _feed(
        name, sizes.radius - BAND / 2, pi / 2 + sizes.mitre / 4, sizes.mitre / 2, translated("feed this way")
    )


def _on_map(sizes: Sizes) -> Iterator[Scribe]:
    """The ring at a small scale: joints, hatched halves, their numbers in the order of the climbing passes."""
    name, calm, centre = "TEAR-OUT-MAP", _calm(sizes), Point(0, 0)
    scale = MAP_RADIUS / sizes.radius
    inner = sizes.inner_apothem * scale
    for index in range(sizes.segments):
        joint = (2 * index + 1) * sizes.mitre
        yield line(name, polar(inner / cos(sizes.mitre), joint), polar(MAP_RADIUS, joint), kind="witness")
        span = sizes.mitre - calm
        yield mark(name, "line", arc_round(centre, MAP_RADIUS, joint, span), str(index + 1))
        yield mark(name, "line", arc_round(centre, MAP_RADIUS, joint + span, 2 * sizes.mitre - span))
        corner = inner / cos(sizes.mitre)
        yield line(name, polar(corner, joint), polar(corner, joint + 2 * sizes.mitre))
        lines = max(2, int(MAP_RADIUS * span / 3))
        for number in range(lines):
            angle = joint + span * (number + 0.5) / lines
            yield line(name, polar(MAP_RADIUS - 1, angle), polar(MAP_RADIUS - 9, angle - 0.03), kind="hatch")
    yield from _feed(name, inner * 0.7, pi / 3, pi / 3, translated("feed anticlockwise"))


def _feed(name: str, radius: float, start: float, sweep: float, words: str) -> Iterator[Scribe]:
    """An arc with a head, the way the router goes."""
    arc = arc_round(Point(0, 0), radius, start, sweep)
    yield mark(name, "line", arc, words)
    for turn in (-pi / 8, pi / 8):
        yield line(name, arc.end, arc.end.plus(arc.direction_at(1.0).turned(turn), -8))


def _use(sizes: Sizes) -> Iterator[str]:
    yield (
        "When the rough circle is routed, lay the strip on each segment, joint to joint, and chalk the hatched half "
        "on the face that you rout from."
    )
    yield said(
        "With the trammel's pin in the finished circle's hole take the {zones} hatched zones one by one, in the "
        "order of the map, clockwise (climbing) and light, from mid-segment back to the joint, as deep as one "
        "pass each time.",
        zones=sizes.segments,
    )
    yield "Then all round anticlockwise, for what is left, without stopping."
    yield (
        "Round-overs tear in the same halves: nothing but a bearing guides the bit there, so never climb; go round "
        "in light passes, the last a hair."
    )
