"""The pieces of the bandsaw pivot jig, all drawn in the saw's own frame with the slide at its stop."""

from collections.abc import Iterator
from math import ceil

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.geometry.outline import polygon, rectangle
from templategen.geometry.point import Point
from templategen.jigs.jig import Scribe
from templategen.jigs.piece import figure, hole, line, piece, point, shown
from templategen.jigs.swing import Swing
from templategen.parts.part import Part
from templategen.table.profile.model import Profile
from templategen.table.rails import leg_joint
from templategen.table.sizes import Sizes
from templategen.units import MM_PER_INCH

HALF_SLIDE = 90.0
"""From the pin line to the slide's front and back, mm."""

PAST_PIN = 60.0
"""Slide beyond the pin, mm."""

RUNNER = 40.0
"""Width of the slide's runner, mm."""

RUNNER_PLAY = 0.2
"""By how much the runner is narrower than its track, mm."""

CLEAT = 30.0
"""Width of the cleats that hook over the saw's table, mm."""

WALL = 40.0
"""Sheet left round a slot, mm."""

WASTE_SIDE = 120.0
"""Base beyond the blade at most, mm."""

STIFF = 60.0
"""Height of the bearers on edge under the overhang, mm."""

BESIDE_SLOT = 10.0
"""How far a bearer stays off the slot that the runner slides in, mm."""

LONGEST_BARE = 150.0
"""An overhang longer than this wants bearers, mm."""

ARM = 50.0
"""Width of the slide's arm, which is locked, mm."""

CLEAR_OF_TOP = 30.0
"""How far outside the swinging top's corners the lock stands, mm."""

AHEAD = 180.0
"""How far ahead of the teeth a hand may set the lock, mm."""

RIM = 8.0
"""Sheet left round a pin in a plug, mm."""


def base_box(swing: Swing) -> tuple[float, float, float, float]:
    """The base: left, front, right, back. It hooks over two edges of the saw's table and holds the whole slide."""
    _, front, right, back = swing.table
    return (
        _left(swing),
        min(front - CLEAT - 10, -swing.travel - HALF_SLIDE - 10, lock(swing).y - ARM),
        max(swing.radius + PAST_PIN + CLEAT / 2, right + CLEAT + 10),
        max(HALF_SLIDE + WALL, min(back, 2 * HALF_SLIDE)),
    )


def track(swing: Swing) -> float:
    """Where the middle of the slide's track lies across the base."""
    return 0.55 * swing.radius


def _left(swing: Swing) -> float:
    """The base's left edge."""
    return min(max(swing.table[0], -WASTE_SIDE), -swing.kerf - swing.sizes.profile.jigs.blade_gap - WALL)


def lock(swing: Swing) -> Point:
    """Where a dowel locks the slide's arm to the base at its stop: left of the blade and well ahead of it, where no
    corner of the top comes over it however that turns."""
    x, reach = _left(swing) + ARM / 2, swing.radius + swing.corner_waste + CLEAR_OF_TOP
    under = reach**2 - (swing.radius - x) ** 2
    return Point(x, -max(AHEAD, under**0.5 if under > 0 else 0.0))


def overhang(swing: Swing) -> float:
    """How far the base reaches past the right edge of the saw's table."""
    return base_box(swing)[2] - swing.table[2]


def base(swing: Swing) -> Part:
    """The plate on the saw's table: a track that ends at the stop, and a slot round the blade open to its left."""
    profile = swing.sizes.profile
    gap, half, x = profile.jigs.blade_gap, RUNNER / 2, track(swing)
    left, front, right, back = base_box(swing)
    behind = swing.blade + gap
    outline = polygon(
        (
            (left, front), (x - half, front), (x - half, HALF_SLIDE), (x + half, HALF_SLIDE), (x + half, front),
            (right, front), (right, back), (left, back), (left, behind), (gap, behind), (gap, -gap), (left, -gap),
        )
    )  # fmt: skip
    notes = ("the far end of the track is the stop: file it to the line, then it sets the pin on the tooth line",)
    holes = (hole(lock(swing), profile.jigs.pin),)
    return piece(profile, "PIVOT-BASE", "base on the saw's table", outline, holes=holes, notes=notes)


def slide(swing: Swing) -> Part:
    """The sliding board that carries the pin, up to the blade, with an arm that comes out from under the top."""
    profile, at, half = swing.sizes.profile, lock(swing), ARM / 2
    left, right = profile.jigs.blade_gap, swing.radius + PAST_PIN
    outline = polygon(
        (
            (right, -HALF_SLIDE), (right, HALF_SLIDE), (left, HALF_SLIDE), (left, at.y + half),
            (at.x - half, at.y + half), (at.x - half, at.y - half),
            (left + ARM, at.y - half), (left + ARM, -HALF_SLIDE),
        )
    )  # fmt: skip
    holes = (hole(Point(swing.radius, 0), profile.jigs.pin), hole(at, profile.jigs.pin))
    return piece(profile, "PIVOT-SLIDE", "sliding board with the pin", outline, holes=holes)


def runner(swing: Swing) -> Part:
    """The runner under the slide; its far end meets the end of the track. Corners clear what a bit leaves there."""
    profile, half = swing.sizes.profile, (RUNNER - RUNNER_PLAY) / 2
    x, off = track(swing), profile.shop.router_bit / 2 + 1
    off = min(off, half / 2)
    outline = polygon(
        (
            (x - half, -HALF_SLIDE), (x + half, -HALF_SLIDE), (x + half, HALF_SLIDE - off),
            (x + half - off, HALF_SLIDE), (x - half + off, HALF_SLIDE), (x - half, HALF_SLIDE - off),
        )
    )  # fmt: skip
    return piece(profile, "PIVOT-RUNNER", "runner, under the slide", outline)


def packer(swing: Swing) -> Part:
    """What lifts the waste side to the level of the slide, on the base beyond the blade."""
    left, gap = base_box(swing)[0], swing.sizes.profile.jigs.blade_gap
    outline = rectangle(left, -HALF_SLIDE, -swing.kerf - gap, -gap)
    return piece(
        swing.sizes.profile,
        "PIVOT-PACKER",
        "packer on the base, along its left edge, its far edge along the slot",
        outline,
    )


def supports(swing: Swing) -> Iterator[Part]:
    """Cleats along the right and front edges of the saw's table, and bearers under a long overhang."""
    profile = swing.sizes.profile
    left, front, right, back = swing.table
    box = base_box(swing)
    side = rectangle(right, max(box[1], front), right + CLEAT, min(box[3], back))
    yield piece(profile, "PIVOT-CLEAT-SIDE", "cleat, against the table's right edge", side)
    ahead = rectangle(max(box[0], left), front - CLEAT, right, front)
    yield piece(profile, "PIVOT-CLEAT-FRONT", "cleat, against the table's front edge", ahead)
    start, slot = right + CLEAT, track(swing) + RUNNER / 2 + BESIDE_SLOT
    if box[2] - start > LONGEST_BARE:
        yield piece(profile, "PIVOT-BEARER-BACK", "bearer, on edge under the overhang, along the base's back edge",
                    rectangle(0, 0, box[2] - start, STIFF))  # fmt: skip
        yield piece(profile, "PIVOT-BEARER-FRONT",
                    "bearer, the same along its front edge, right of the runner's slot",
                    rectangle(0, 0, box[2] - max(start, slot), STIFF))  # fmt: skip


def corner_gauge(swing: Swing) -> Part:
    """What marks the flat on the blank: its two like sides lie along the outer edges from a joint's corner, the third
    is the flat. The middle of the flat at the origin, the corner above it."""
    flat = polygon(((-swing.half_flat, 0), (swing.half_flat, 0), (0, swing.corner_waste)))
    notes = ("lay both slopes along the outer edges of two segments, its point at their joint; draw along the flat",)
    return piece(swing.sizes.profile, "PIVOT-CORNER", "gauge of the flat at a corner", flat, "gauge", notes=notes)


def has_plug(profile: Profile) -> bool:
    """Whether the pole hole is wide enough to take a plug with the pin in it."""
    return profile.top.pole_hole >= profile.jigs.pin + 2 * RIM


def centre_pieces(sizes: Sizes, jig: str) -> Iterator[Part]:
    """Where a jig's pin goes in the top: a plug in the pole hole, else a bridge that stands in two leg mortises."""
    profile = sizes.profile
    middle = (hole(Point(0, 0), profile.jigs.pin),)
    if has_plug(profile):
        across = profile.top.pole_hole - profile.joints.glue_clearance
        yield piece(profile, f"{jig}-PLUG", "plug for the pole hole", hole(Point(0, 0), across), holes=middle)
        return
    tenon, away = leg_joint(sizes), profile.legs.centre_distance
    reach, half = away + tenon.width / 2 + 20, max(40.0, tenon.thickness)
    bar = rectangle(-reach, -half, reach, half)
    yield piece(profile, f"{jig}-BRIDGE", "bridge under the lap", bar, holes=middle)
    foot = rectangle(-tenon.width / 2, -tenon.thickness / 2, tenon.width / 2, tenon.thickness / 2)
    yield piece(profile, f"{jig}-FOOT", "foot of the bridge, fits a leg's mortise", foot, count=2)


def scribes(swing: Swing) -> Iterator[Scribe]:
    """The lines to work to: the tooth line, the faces of the cut, the scale of radii."""
    profile = swing.sizes.profile
    gap, kerf = profile.jigs.blade_gap, swing.kerf
    left, front, right, back = base_box(swing)
    pin = Point(swing.radius, 0)
    yield line("PIVOT-BASE", Point(gap, 0), Point(right, 0), "tooth line: square to the blade")
    yield line("PIVOT-BASE", Point(0, front), Point(0, -gap), "near face of the cut")
    yield line("PIVOT-BASE", Point(-kerf / 2, swing.blade + gap), Point(-kerf / 2, back), "middle of the blade")
    start, near, edge, _ = swing.table
    yield line("PIVOT-BASE", Point(max(left, start), near), Point(edge, near), "front edge of the saw's table",
               "witness")  # fmt: skip
    yield line("PIVOT-BASE", Point(edge, max(front, near)), Point(edge, back), "right edge of the saw's table",
               "witness")  # fmt: skip
    yield point("PIVOT-BASE", pin, "pin, slide at its stop")
    x = track(swing)
    yield line("PIVOT-SLIDE", Point(gap, 0), Point(swing.radius + PAST_PIN, 0), "pin line")
    for side in (-1, 1):
        foot = x + side * (RUNNER - RUNNER_PLAY) / 2
        words = translated("runner below") if side < 0 else ""
        yield line("PIVOT-SLIDE", Point(foot, -HALF_SLIDE), Point(foot, HALF_SLIDE), words, "witness")
    yield from _scale(swing)
    yield from feet_of_bridge(profile, "PIVOT")


def feet_of_bridge(profile: Profile, jig: str) -> Iterator[Scribe]:
    """Where the feet go under a bridge, if there is one."""
    for side in () if has_plug(profile) else (-1, 1):
        yield point(f"{jig}-BRIDGE", Point(side * profile.legs.centre_distance, 0), "middle of a foot, below")


def _scale(swing: Swing) -> Iterator[Scribe]:
    """Radii along the pin line, by 5 mm or a quarter of an inch, and the finished one on the other side; the
    first and the last alone are told, and the step."""
    profile = swing.sizes.profile
    step = float(MM_PER_INCH) / 4 if profile.units == "in" else 5.0
    first = ceil((swing.radius - 5 * step) / step)
    scale = (number * step for number in range(first, first + 11))
    radii = [radius for radius in scale if 20 < radius < swing.radius + PAST_PIN]
    told = {radii[0]: figure(radii[0], profile)}
    told[radii[-1]] = said("{last}, every {step}", last=figure(radii[-1], profile), step=shown(step, profile))
    for radius in radii:
        yield line("PIVOT-SLIDE", Point(radius, 12), Point(radius, 20), told.get(radius, ""), "scale")
    ends = Point(swing.radius, -12), Point(swing.radius, -20)
    yield line("PIVOT-SLIDE", *ends, said("finished {radius}", radius=shown(swing.radius, profile)), "scale")
