"""The router trammel: an arm from the pivot to the bit; the ring is routed round by it, roughly, then true."""

from collections.abc import Iterator, Sequence
from math import asin, ceil, cos, pi, sin, sqrt, tan

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.errors import DesignError
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point, Vertex
from templategen.jigs.bush import refused
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, hole, line, piece, point, shown
from templategen.jigs.pivot import refuse_long_pin
from templategen.jigs.pivot_pieces import centre_pieces, feet_of_bridge, has_plug
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

HALF_ARM = 35.0
"""Half the width of the arm, mm."""

PAST_PIVOT = 40.0
"""Arm behind the pivot, mm."""

ASIDE = 20.0
"""How far the rough pivot stands off the arm's middle, so that the two holes keep wood between them, mm."""

SIGHT = 6.0
"""How much wider than the bit the hole in the arm is, mm."""


TOLD = ("finished pivot to the middle of the bit", "rough pivot to the middle of the bit")
"""What is scribed along the arm."""


def trammel(table: Table) -> Iterator[Jig]:
    """The arm for the table's finished radius; none for a faceted ring.

    Its pivot stands R + d/2 from the middle of a bit of diameter d, so the wood that is kept lies on its near side,
    the one for the rough circle as much further off as is left to true.

    Raises:
        DesignError: the router's base reaches the pivot, or the pin comes through what it stands in.
    """
    if not table.sizes.is_sawn:
        return
    profile, radius = table.profile, table.sizes.radius
    refuse_long_pin(profile)
    bit, leave = profile.jigs.trammel_bit, profile.jigs.leave
    reach = radius + bit / 2
    middle = Point(reach, 0)
    rough = Point(reach - sqrt((reach + leave) ** 2 - ASIDE**2), ASIDE)
    pivots = (Point(0, 0), rough) if leave > 0 else (Point(0, 0),)
    pin, name = profile.jigs.pin, "TRAMMEL"
    arm = piece(
        profile, name, "router trammel", _arm(profile, reach),
        holes=(*(hole(pivot, pin) for pivot in pivots), hole(middle, bit + SIGHT)),
        notes=("screw the router's base on from below through its own holes, the bit in the middle of the hole",),
    )  # fmt: skip
    yield Jig(
        name,
        "router trammel",
        tuple(part.code for part in table.parts if part.kind == "rim-segment"),
        (arm, *centre_pieces(table.sizes, name)),
        (*_scribes(middle, pivots), *feet_of_bridge(profile, name)),
        (
            distance("finished pivot to the middle of the bit", name, Point(0, 0), middle, "diameter / 2 + bit / 2"),
            *(distance("rough pivot to the middle of the bit", name, pivot, middle, "diameter / 2 + bit / 2 + leave")
              for pivot in pivots[1:]),
            Critical("finished pivot to the near cutting edge", radius, "mm", how="diameter / 2"),
            Critical("diameter of the bit", bit, "mm", how="jigs.trammel_bit"),
            Critical("deepest pass", profile.top.thickness / passes(profile), "mm", how="thickness / passes"),
        ),
        tuple(_use(profile)),
        tuple(_proof(profile, radius)),
        (
            "Unplug the router to change or measure the bit. Both hands on it, cord over the shoulder, work clamped.",
            "Anticlockwise seen from above: the cutter then pulls to the pivot.",
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
        raise DesignError(refused("jigs.router_base", "router-over-pivot", profile, size=2 * radius, reach=reach))
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


def _scribes(middle: Point, pivots: Sequence[Point]) -> Iterator[Scribe]:
    name = "TRAMMEL"
    for pivot, words, told in zip(pivots, ("finished", "rough"), TOLD, strict=False):
        along = middle.minus(pivot).unit
        start = pivot.plus(along, -PAST_PIVOT if pivot == pivots[0] else 60)
        end = middle.plus(along, -20 if pivot == pivots[0] else -60)
        yield line(name, start, end, told)
        yield point(name, pivot, translated(words))
    yield point(name, middle)


def depths(profile: Profile) -> tuple[float, ...]:
    """The depth of each pass from the face, equal steps, the last right through."""
    count = passes(profile)
    return tuple(profile.top.thickness * number / count for number in range(1, count + 1))


def _use(profile: Profile) -> Iterator[str]:
    jigs, deep = profile.jigs, depths(profile)
    yield from _pin(profile)
    steps = ", ".join(shown(depth, profile).rpartition(" ")[0] for depth in deep)
    at = translated("the finished circle's hole")
    if jigs.leave > 0:
        at = said("the hole for the rough circle, {leave} outside the finished one", leave=shown(jigs.leave, profile))
    yield said(
        "With the pin in {at}, go round anticlockwise in {passes} passes, to {steps} {unit} deep; the last goes "
        "right through.",
        at=at,
        passes=len(deep),
        steps=steps,
        unit=profile.units,
    )
    if profile.shop.bit_length < profile.top.thickness:
        yield (
            "The bit is too short for the last passes: turn the top over and take what is left from the other face, "
            "a bearing bit running on what is cut."
        )
    if jigs.leave > 0:
        yield (
            "Then with the pin in the finished circle's hole, in the same depths: first the zones of the tear-out "
            "map, then all round anticlockwise."
        )


def _pin(profile: Profile) -> Iterator[str]:
    if has_plug(profile):
        yield "The top face down: press the plug into the pole hole, level with the underside, and the pin into it."
        return
    yield (
        "The top face down: glue the two feet to the bridge on their marks and press them into the leg mortises of "
        "the lowest rail; the pin stands in the bridge."
    )
    yield said(
        "Screw an offcut of the same sheet under the arm beside the bit, so that the arm lies level with the bridge; "
        "the bit reaches {thick} less.",
        thick=shown(profile.jigs.thickness, profile),
    )


def _proof(profile: Profile, radius: float) -> Iterator[str]:
    yield said(
        "At two opposite joints of the ring score short arcs in its waste, a millimetre deep. Across both near edges "
        "it measures {across}; halve what it is off and move the router's base by that.",
        across=shown(2 * radius, profile),
    )
    yield said(
        "The bit itself: a groove of one pass must be {wide} wide; else measure again.",
        wide=shown(profile.jigs.trammel_bit, profile),
    )
