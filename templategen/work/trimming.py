"""Trimming the ends of half rings: along one straight batten, so that both joints of the ring close at once."""

from templategen.catalogue import figured
from templategen.checks.describe import said
from templategen.shop.cautions import GLUED_RING, HAND_SAW, ROUTER
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.remarks import ABOUT
from templategen.table.assembly import Table
from templategen.units import length_by_rule, length_words, show_length
from templategen.work.operation import Operation

HALVES = "trim the half rings"
"""Its name in the plan of work."""

BEARING = 10.0
"""How high a pattern bit's bearing is at most, mm."""

BATTEN_WIDE = {"mm": 120.0, "in": 120.65}
"""How wide the batten is that a router stands on: half of its base and the screws (shop practice), mm."""

PACKED = {"mm": 20.0, "in": 19.05}
"""How high the packing is that a half ring lies on, mm: a tool that comes through doesn't reach the bench."""

TRIMMED = 3.0
"""How far past the circle the batten's screws stay clear of the trimming bit, mm (shop practice)."""

ROUTED = (
    "trim both ends along it with a router and a pattern bit, its bearing at the shank on the batten, light passes, "
    "each from its left to its right as you face it from outside, for the other way the bit climbs"
)
TRIMMED_TWICE = (
    "as deep as the bit reaches; then the batten off, a block level with the end at each of its corners that"
    " stays, so that the bearing doesn't roll round it; the bearing on what is trimmed, the rest from the same face"
)
SHOT = "shoot both ends with a jointer plane, its sole along the batten, from the inner corner out"
BACKED = {
    (True, True): "the left end would break out at its inner corner: clamp a block into that, level with the end; at "
    "the right end it breaks out in the waste",
    (True, False): "clamp a block level with the end where the bit comes out: at the left end's inner corner and at "
    "the right end's outer one",
    (False, True): "what breaks out is in the waste outside the circle",
    (False, False): "clamp a block level with the end to each outer corner, where the plane comes out",
}
"""Where an end would break out, by whether it is routed, and whether the ring is sawn round later."""
AGAIN = "slots that are there already lose what was trimmed: cut them {deep} deep again"


AS_DEEP = (
    "no more goes than makes both ends straight: from there to the inner edge in the half's middle {deep} must stay, "
    "{off} less at most; by what it is less still, both halves alike, plane the shoulders of the rails off"
)


def batten_long(table: Table) -> float:
    """How long the batten over both ends of a half ring is at least, mm."""
    return 2 * table.sizes.outer_apothem + 200


def batten_thick(table: Table) -> float:
    """How thick the batten is at least along which half rings are routed, mm: the bearing over the bit runs on it in
    the first pass."""
    return bit_reach(table) - min(table.profile.jigs.pass_depth, bit_reach(table)) + BEARING


def half_deep(table: Table) -> float:
    """From the line through a half ring's ends to its inner edge in the middle, mm: to a segment's middle where a
    half has an odd number of them, else to a joint."""
    sizes = table.sizes
    return sizes.inner_apothem if sizes.segments // 2 % 2 else sizes.inner_corner


def is_routed(table: Table) -> bool:
    """Whether half rings are trimmed with a router along the batten; else with a plane."""
    return "hand router" in table.profile.shop.machines


def bit_reach(table: Table) -> float:
    """How deep the bit cuts along the batten at once, mm."""
    return min(table.profile.shop.bit_length, table.profile.top.thickness)


def goes_twice(table: Table) -> bool:
    """Whether the bit doesn't reach through the wood, so that its bearing runs on the end itself in a second go."""
    return is_routed(table) and bit_reach(table) < table.profile.top.thickness


def corners_that_stay(table: Table) -> tuple[str, ...]:
    """The corners of an end that aren't sawn off with the waste later."""
    return ("inner",) if table.sizes.is_sawn else ("inner", "outer")


def blocked_corners(table: Table, end: str) -> tuple[str, ...]:
    """The corners of an end, left or right as one faces it, at which the tool would break wood out that stays."""
    corner = "inner" if is_routed(table) and end == "left" else "outer"
    return tuple(one for one in corners_that_stay(table) if one == corner)


def trimmed(table: Table, tables: int, slotted: bool) -> Operation:
    """Both ends of each half along one straight batten; slots that are there already lose what is trimmed."""
    units = table.profile.units
    long = figured(show_length(batten_long(table), units))
    clear = figured(show_length(TRIMMED, units))
    packed, apart = figured(length_by_rule(PACKED[units], units)), figured(ABOUT[units]["apart"])
    fixed = (
        "screw the batten down through the waste outside the circle, its screws {clear} or more clear of the bit"
        if table.sizes.is_sawn
        else "clamp the batten down over both ends; this ring has no waste to screw into"
    )
    again, slots = (
        slotted and table.profile.joints.spline != "none",
        figured(show_length(table.profile.joints.spline_depth, units)),
    )
    routed = is_routed(table)
    tells = (
        said(
            "have a straight batten {long} or longer[, {wide} wide and {thick} thick or more, for bearing and base],"
            " and prove its edge: draw along it, turn it over, draw again",
            long=long,
            wide=figured(length_by_rule(BATTEN_WIDE[units], units)) if routed else "",
            thick=figured(length_by_rule(batten_thick(table), units)) if routed else "",
        ),
        said(
            "lay a half ring face down on packing {high} thick, {apart} off both ends, so that nothing cuts the"
            " bench, and clamp it there at two places beside its middle, or it swings; the batten's edge through both"
            " ends' inner corners, or through that which lies further in, and square to the half's middle line",
            high=packed,
            apart=apart,
        ),
        said(fixed, clear=clear),
        ROUTED if routed else SHOT,
        *([TRIMMED_TWICE] if goes_twice(table) else []),
        BACKED[routed, table.sizes.is_sawn],
        said(
            AS_DEEP,
            deep=figured(length_words(half_deep(table), units)),
            off=figured(length_words(tolerances.SHOULDER, units)),
        ),
        "the same with the other half; neither batten nor half moves between its two ends",
        *([said(AGAIN, deep=slots)] if again else []),
    )
    return Operation(
        HALVES, "hand router along a batten" if routed else "jointer plane along a batten", "group",
        said("{count} half rings", count=2 * tables), tells,
        "one straightedge touches both ends of a half all over; the halves laid together show no light",
        (ROUTER if routed else HAND_SAW, GLUED_RING), minutes=2 * table.profile.rates.set_up * tables, persons=2,
    )  # fmt: skip
