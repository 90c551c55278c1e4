"""Whether the maker's tools reach: cutters, saws, stops and pieces to hold, from the finished parts."""

from collections.abc import Collection, Iterator
from math import atan2, ceil, degrees, hypot, pi

from templategen.checks.finding import Finding
from templategen.checks.levels import at_least, noted
from templategen.geometry.edge import Line
from templategen.geometry.tolerance import MET
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.choices import Machine

BLADE_RADIUS = (
    (3.2, 5.0), (4.8, 10.0), (6.35, 16.0), (9.5, 38.0), (12.7, 64.0), (15.9, 102.0), (19.0, 140.0), (25.4, 194.0),
    (31.8, 251.0),
)  # fmt: skip
"""Width of a bandsaw blade and the least radius it turns, mm: the larger figures of machine manuals, which agree
within 15 %; set and sharpness change them."""

CUTTERS: tuple[Machine, ...] = ("router table", "groove cutter", "hand router")
"""What cuts grooves and slots with something round."""

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
        yield Finding("groove-too-narrow", "stop", where, width, (min(cutter, bit), None), {"cut": name})
        return
    tool, times = min(fitting, key=lambda fit: fit[1])
    if times > 1:
        yield noted("passes", where, times, passes=times, tool=tool, cut=name)
    elif tool == "router bit":
        yield noted("bit-instead", where, width, cut=name)


def _inside_corners(table: Table) -> Iterator[Finding]:
    """A round bit leaves round corners where square wood is to go in."""
    shop, ends = table.profile.shop, stopped_ends(table) if _driven(table, CUTTERS) else 0
    left = {"bit": shop.router_bit, **({"ends": ends} if ends else {})}
    if not _bit_mortises(table):
        kind = "round-ends" if "chisels" in shop.hand_tools else "round-mates"
        yield from (noted(kind, "shop.router_bit", shop.router_bit / 2, (None, 0.0), **left),) if ends else ()
        return
    boxes = (mortise.outline.bounds for part in table.parts for mortise in part.cuts("mortise"))
    tightest = min(min(box.width, box.height) for box in boxes)
    if shop.router_bit > tightest + MET:
        yield Finding("bit-too-wide", "caution", "shop.router_bit", shop.router_bit, (None, tightest))
        return
    yield noted("round-corners", "shop.router_bit", shop.router_bit / 2, (None, 0.0), **left)


def _driven(table: Table, machines: Collection[Machine]) -> bool:
    """Whether one of some machines, or a routing machine, cuts the parts: a sheet for jigs is routed, too."""
    woods = {part.wood for part in table.parts}
    routed = any(stock.mode == "routed" and stock.wood in woods for stock in table.profile.stock)
    return routed or not set(machines).isdisjoint(table.profile.shop.machines)


def _bit_mortises(table: Table) -> bool:
    """Whether a router cuts the mortises: no chisel chops them, hollow or in the hand."""
    wish = table.profile.work.mortises
    chopped = wish == "by hand" or (wish != "hand-held" and "mortiser" in table.profile.shop.machines)
    routers: tuple[Machine, ...] = () if chopped else ("hand router",)
    return _driven(table, routers)


def stopped_ends(table: Table) -> int:
    """Ends of grooves and spline slots, over all parts of a table, that stop inside the face they are cut into."""
    count = 0
    for part in table.parts:
        for feature in part.cuts("groove", "spline-slot"):
            face, cut = part.face(feature.face).outline.bounds, feature.outline.bounds
            count += part.count * ((cut.left > face.left + MET) + (cut.right < face.right - MET))
    return count


def least_radius(blade: float) -> float:
    """Least radius that a bandsaw blade of that width turns, mm, between and beyond the tabled widths in line."""
    rows = BLADE_RADIUS
    at = next((i for i in range(1, len(rows)) if blade <= rows[i][0]), len(rows) - 1)
    (w0, r0), (w1, r1) = rows[at - 1], rows[at]
    return max(0.0, r0 + (r1 - r0) * (blade - w0) / (w1 - w0))


def _bandsaw(table: Table) -> Iterator[Finding]:
    """The ring is sawn on a pivot beside the blade."""
    shop, radius = table.profile.shop, table.sizes.radius
    blade = shop.bandsaw_blade[0]
    if radius < least_radius(blade):
        least = least_radius(blade)
        yield at_least("blade-too-wide", "shop.bandsaw_blade", radius, (least, least), blade=blade)
    yield from past_the_saw(table)


def past_the_saw(table: Table) -> Iterator[Finding]:
    """A top that reaches past the bandsaw's table while it is sawn round."""
    beside, radius = table.profile.shop.bandsaw_table[0] / 2, table.sizes.radius
    overhang = 2 * radius - beside
    if overhang > 0:
        yield noted("past-the-saw", "shop.bandsaw_table", overhang, (None, 0.0), pivot=radius > beside)


def _small_parts(table: Table) -> Iterator[Finding]:
    """Pieces shorter than may be fed by hand."""
    least = table.profile.shop.holding
    short = {part.code: part.size[0] for part in table.parts if part.kind in PIECES and part.size[0] < least - MET}
    if short:
        shortest = min(short.values())
        yield noted("short-pieces", "shop.holding", shortest, (least, None), kinds=len(short), parts=tuple(short))


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
        yield Finding("mitre-past-saw", "caution", "top.segments", turned, wanted)
    slats = [part for part in table.parts if part.kind == "slat"]
    steepest = max(((angle, part.code) for part in slats for angle in end_angles(part)), default=(0.0, ""))
    if steepest[0] > reach + MET:
        turned = degrees(steepest[0])
        wanted = (None, round(degrees(reach), 3))
        fields = {"parts": steepest[1], "off": 90 - turned}
        yield noted("slat-end-past-saw", "slats.run", round(turned, 3), wanted, **fields)


def _stops(table: Table) -> Iterator[Finding]:
    """Pieces longer than a stop can be set."""
    reach = table.profile.shop.stop_reach
    longest = max((part for part in table.parts if part.kind in PIECES), key=lambda part: part.size[0])
    if longest.size[0] > reach + MET:
        yield noted("past-the-stop", "shop.stop_reach", longest.size[0], (None, reach), parts=longest.code)
