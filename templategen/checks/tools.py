"""Whether the maker's tools reach: cutters, saws, stops and pieces to hold, from the finished parts."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, ceil, degrees, hypot, pi

from templategen.checks.finding import Finding
from templategen.checks.levels import at_least, noted, shown
from templategen.geometry.edge import Line
from templategen.geometry.tolerance import MET
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.units import angle_words

BLADE_RADIUS = (
    (3.2, 5.0), (4.8, 10.0), (6.35, 16.0), (9.5, 38.0), (12.7, 64.0), (15.9, 102.0), (19.0, 140.0), (25.4, 194.0),
    (31.8, 251.0),
)  # fmt: skip
"""Width of a bandsaw blade and the least radius it turns, mm: the larger figures of machine manuals, which agree
within 15 %; set and sharpness change them."""

PIECES = ("rim-segment", "rail", "slat", "spline", "leg", "base-rail", "foot")


def tool_findings(table: Table) -> Iterator[Finding]:
    """What the shop's tools can't do, or do only in a certain way."""
    yield from _cutters(table)
    yield from _inside_corners(table)
    if table.sizes.is_sawn:
        yield from _bandsaw(table)
    yield from _small_parts(table)
    yield from _angles(table)
    yield from _stops(table)


def _cutters(table: Table) -> Iterator[Finding]:
    """Grooves and slots against the groove cutter, or else the router bit."""
    shop, joints = table.profile.shop, table.profile.joints
    jobs = [("joints.tongue", "grooves", joints.tongue)]
    if joints.spline != "none":
        jobs.append(("joints.spline_thickness", "spline slots", joints.spline_thickness))
    for where, name, width in jobs:
        yield from _passes(where, name, width, shop.groove_cutter, shop.router_bit)


def passes(width: float, cutter: float) -> int:
    """Passes of a cutter that make a groove `width` wide; 0 where it is too wide for it."""
    return 0 if cutter > width + MET else ceil(width / cutter - MET)


def _passes(where: str, name: str, width: float, cutter: float, bit: float) -> Iterator[Finding]:
    tools = (("groove cutter", cutter), ("router bit", bit))
    fitting = [(tool, passes(width, size)) for tool, size in tools if passes(width, size)]
    if not fitting:
        says, why = f"width of the {name}, narrower than any cutter", "a wider groove, or a cutter that fits it"
        yield Finding("stop", where, says, width, (min(cutter, bit), None), why=why)
        return
    tool, times = min(fitting, key=lambda fit: fit[1])
    if times > 1:
        why = "each set from the same face, the last to a try of the fit"
        yield noted(where, f"passes of the {tool} for the {name}", times, unit="passes", why=why)
    elif tool == "router bit":
        says = f"width of the {name}, too narrow for the groove cutter"
        yield noted(where, says, width, (cutter, None), why="the router bit makes them")


def _inside_corners(table: Table) -> Iterator[Finding]:
    """A round bit leaves round corners where square wood is to go in."""
    shop, units = table.profile.shop, table.profile.units
    boxes = (mortise.outline.bounds for part in table.parts for mortise in part.cuts("mortise"))
    tightest = min(min(box.width, box.height) for box in boxes)
    if shop.router_bit > tightest + MET:
        says, why = "router bit, wider than the leg mortises", "take a smaller bit, or chop them"
        yield Finding("caution", "shop.router_bit", says, shop.router_bit, (None, tightest), why=why)
        return
    ends = stopped_ends(table)
    places = f"in mortises and at {ends} stopped ends of grooves and slots" if ends else "in mortises"
    says = f"radius that a bit of {shown(shop.router_bit, units)} leaves in inside corners"
    do = f"square the round corners {places} with a chisel, or round the tenons and ease the tongues' corners"
    yield noted("shop.router_bit", says, shop.router_bit / 2, (None, 0.0), do=do)


def stopped_ends(table: Table) -> int:
    """Ends of grooves and spline slots, over all kinds of parts, that stop inside the face they are cut into."""
    count = 0
    for part in table.parts:
        for feature in part.cuts("groove", "spline-slot"):
            face, cut = part.face(feature.face).outline.bounds, feature.outline.bounds
            count += (cut.left > face.left + MET) + (cut.right < face.right - MET)
    return count


def least_radius(blade: float) -> float:
    """Least radius that a bandsaw blade of that width turns, mm, between and beyond the tabled widths in line."""
    rows = BLADE_RADIUS
    at = next((i for i in range(1, len(rows)) if blade <= rows[i][0]), len(rows) - 1)
    (w0, r0), (w1, r1) = rows[at - 1], rows[at]
    return max(0.0, r0 + (r1 - r0) * (blade - w0) / (w1 - w0))


def _bandsaw(table: Table) -> Iterator[Finding]:
    """The ring is sawn on a pivot beside the blade."""
    shop, radius, units = table.profile.shop, table.sizes.radius, table.profile.units
    blade = shop.bandsaw_blade[0]
    if radius < least_radius(blade):
        least = least_radius(blade)
        says = f"radius of the top, for a blade of {shown(blade, units)}"
        yield at_least("shop.bandsaw_blade", says, radius, (least, least), why="take a narrower blade")
    beside = shop.bandsaw_table[0] / 2
    overhang = 2 * radius - beside
    if overhang > 0:
        what = "the top, and the pivot's board which lies off the saw's table too," if radius > beside else "the top"
        do = f"carry {what} on a board or stand at table height while the rim is sawn round"
        says = "reach of the top past the bandsaw's table"
        yield noted("shop.bandsaw_table", says, overhang, (None, 0.0), do=do)


def _small_parts(table: Table) -> Iterator[Finding]:
    """Pieces shorter than may be fed by hand."""
    least = table.profile.shop.holding
    short = {part.code: part.size[0] for part in table.parts if part.kind in PIECES and part.size[0] < least - MET}
    if not short:
        return
    codes = list(short)
    told = ", ".join(codes[:6]) + (f" and {len(codes) - 6} more" if len(codes) > 6 else "")
    do = f"never feed {told} by hand: work them on a longer strip and cut them off last, or hold them in a sled"
    says = f"shortest of {len(codes)} kinds of short piece"
    yield noted("shop.holding", says, min(short.values()), (least, None), do=do)


def end_angles(part: Part) -> tuple[float, ...]:
    """How far off square to its run, in radians, each cut across a slat is; cuts along the run don't count."""
    outline = part.body or part.outline
    runs = [edge.end.minus(edge.start) for edge in outline.edges if isinstance(edge, Line)]
    angles = (atan2(abs(run.x), abs(run.y)) for run in runs if hypot(*run) > MET)
    return tuple(angle for angle in angles if angle < pi / 2 - MET)


def _angles(table: Table) -> Iterator[Finding]:
    """Mitres and slat ends against what the saw turns; all are off square."""
    reach = table.profile.shop.mitre_reach
    if table.sizes.mitre > reach + MET:
        turned, wanted = round(degrees(table.sizes.mitre), 3), (None, round(degrees(reach), 3))
        why = "every joint of the ring needs this cut and the saw doesn't turn so far; more segments need less"
        do = "saw the ring's mitres on a sled with a fixed fence, tried on scrap until a whole ring of it closes"
        says = "mitres of the ring, off square"
        yield Finding("caution", "top.segments", says, turned, wanted, "deg", why, do)
    slats = [part for part in table.parts if part.kind == "slat"]
    steepest = max(((angle, part.code) for part in slats for angle in end_angles(part)), default=(0.0, ""))
    if steepest[0] > reach + MET:
        turned = degrees(steepest[0])
        wanted = (None, round(degrees(reach), 3))
        off = angle_words(90 - turned)
        do = f"saw the end of {steepest[1]} on a sled whose fence stands {off} off the blade's line"
        yield noted("slats.run", f"end of {steepest[1]}, off square", round(turned, 3), wanted, "deg", do=do)


def _stops(table: Table) -> Iterator[Finding]:
    """Pieces longer than a stop can be set."""
    reach = table.profile.shop.stop_reach
    longest = max((part for part in table.parts if part.kind in PIECES), key=lambda part: part.size[0])
    if longest.size[0] > reach + MET:
        says, do = f"length of {longest.code}, to be set by a stop", "clamp a stop block to a longer fence"
        yield noted("shop.stop_reach", says, longest.size[0], (None, reach), do=f"{do} for {longest.code}")
