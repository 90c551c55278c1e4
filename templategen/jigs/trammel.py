"""The router trammel: an arm from the pivot to the bit, for the outside of the ring or a hollow of its radius."""

from __future__ import annotations

from collections.abc import Iterator
from math import asin, ceil, cos, pi, sin, sqrt, tan

from templategen.errors import DesignError, Fault
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.geometry.vertex import Vertex
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, hole, line, piece, point, shown
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

HALF_ARM = 35.0
"""Half the width of the arm, mm."""

PAST_PIVOT = 40.0
"""Arm behind the pivot, mm."""

ASIDE = 20.0
"""How far the inside pivot stands off the arm's middle, so that the two holes keep wood between them, mm."""

SIGHT = 6.0
"""By how much the hole in the arm is wider than the bit, mm."""


def trammel(table: Table) -> Iterator[Jig]:
    """The arm for the table's finished radius; none for a faceted ring.

    The outside pivot stands R + d/2 from the middle of a bit of diameter d, the inside one R - d/2: the wood that is
    kept lies on the near side of the bit in the first case, on the far side in the second.

    Raises:
        DesignError: the router's base reaches the pivot.
    """
    if not table.sizes.is_sawn:
        return
    profile, radius = table.profile, table.sizes.radius
    bit = profile.jigs.trammel_bit
    outside, inside = radius + bit / 2, radius - bit / 2
    middle = Point(outside, 0)
    inner_pivot = Point(outside - sqrt(inside**2 - ASIDE**2), ASIDE)
    pin, name = profile.jigs.pin, "TRAMMEL"
    arm = piece(
        profile, name, "router trammel", _arm(profile, outside),
        holes=(hole(Point(0, 0), pin), hole(inner_pivot, pin), hole(middle, bit + SIGHT)),
        notes=("screw the router's base on from below through its own holes, the bit in the middle of the hole",),
    )  # fmt: skip
    yield Jig(
        name,
        "router trammel",
        tuple(part.code for part in table.parts if part.kind == "rim-segment"),
        (arm,),
        tuple(_scribes(middle, inner_pivot)),
        (
            distance("outside pivot to the middle of the bit", name, Point(0, 0), middle, "diameter / 2 + bit / 2"),
            distance("inside pivot to the middle of the bit", name, inner_pivot, middle, "diameter / 2 - bit / 2"),
            Critical("outside pivot to the near cutting edge", radius, "mm", how="diameter / 2"),
            Critical("inside pivot to the far cutting edge", radius, "mm", how="diameter / 2"),
            Critical("diameter of the bit", bit, "mm", how="jigs.trammel_bit"),
            Critical("deepest pass", profile.top.thickness / passes(profile), "mm", how="thickness / passes"),
        ),
        tuple(_use(profile)),
        tuple(_proof(profile, radius)),
        (
            "Unplug the router to change or measure the bit. Both hands on it, cord over the shoulder, work clamped.",
            "Outside edge anticlockwise seen from above, inside edge clockwise: the cutter then pulls to the pivot.",
            "Never close the circle with a loose offcut: screw it down or leave a skin, and let the bit stop first.",
        ),
    )  # fmt: skip


def passes(profile: Profile) -> int:
    """How many passes go through the rim, none deeper than the shop's pass."""
    return max(1, ceil(profile.top.thickness / profile.jigs.pass_depth - 1e-9))


def _arm(profile: Profile, reach: float) -> Outline:
    """A bar from behind the pivot to a round end of the router base's size about the bit."""
    radius = max(profile.jigs.router_base / 2, HALF_ARM + 5)
    neck = reach - sqrt(radius**2 - HALF_ARM**2)
    if neck < 2 * ASIDE + profile.jigs.trammel_bit:
        found = f"a base of {shown(2 * radius, profile)} reaches the pivot of a trammel {shown(reach, profile)} long"
        raise DesignError(Fault("jigs.router_base", found, "a smaller base, or a larger top.diameter"))
    half = pi - asin(HALF_ARM / radius)
    bulge, away = tan(half / 8), Point(radius * cos(half / 2), radius * sin(half / 2))
    return Outline(
        (
            Vertex(-PAST_PIVOT, -HALF_ARM),
            Vertex(neck, -HALF_ARM, bulge),
            Vertex(reach + away.x, -away.y, bulge),
            Vertex(reach + radius, 0, bulge),
            Vertex(reach + away.x, away.y, bulge),
            Vertex(neck, HALF_ARM),
            Vertex(-PAST_PIVOT, HALF_ARM),
        )
    )


def _scribes(middle: Point, inner_pivot: Point) -> Iterator[Scribe]:
    name = "TRAMMEL"
    yield line(name, Point(-PAST_PIVOT, 0), Point(middle.x - 20, 0), "outside pivot to the middle of the bit")
    along = middle.minus(inner_pivot).unit
    yield line(name, inner_pivot.plus(along, 60), middle.plus(along, -60), "inside pivot to the middle of the bit")
    yield point(name, Point(0, 0), "outside")
    yield point(name, inner_pivot, "inside")
    yield point(name, middle)


def depths(profile: Profile) -> tuple[float, ...]:
    """The depth of each pass from the face, equal steps, the last right through."""
    count = passes(profile)
    return tuple(profile.top.thickness * number / count for number in range(1, count + 1))


def _use(profile: Profile) -> Iterator[str]:
    jigs, deep = profile.jigs, depths(profile)
    yield (
        "Pin in the plug or bridge of the bandsaw jig, the top face down; the arm's outside hole on the pin. The "
        "bit's near edge must stand on the finished circle."
    )
    if jigs.leave > 0:
        steps = ", ".join(shown(depth, profile).rpartition(" ")[0] for depth in deep)
        yield (
            f"The saw has left {shown(jigs.leave, profile)}: take it anticlockwise in {len(deep)} passes, to {steps} "
            f"{profile.units} deep; the last goes right through. Let the tear-out map say where."
        )
    else:
        yield (
            f"Nothing is left to rout (jigs.leave is 0): use it only to clean the sawn edge, {len(deep)} "
            "passes round."
        )
    yield (
        "A hollow of the same radius, such as an edging or a rest for the rim: the arm's inside hole on the "
        "pin, clockwise."
    )
    yield "The ring's inner edges are straight and are finished before glue-up; no trammel follows them."


def _proof(profile: Profile, radius: float) -> Iterator[str]:
    yield (
        "On scrap, score two short arcs a millimetre deep, half a turn apart. Across both near edges it measures "
        f"{shown(2 * radius, profile)}; halve what it is off and move the router's base by that."
    )
    yield (
        f"The bit itself: a groove of one pass must be {shown(profile.jigs.trammel_bit, profile)} wide; else "
        "measure again."
    )
