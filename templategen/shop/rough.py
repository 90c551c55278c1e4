"""Rough sizes: how much larger each blank is sawn out, and which small parts are cut from a strip.

Layouts, cut list, boards and plan of work all take these sizes from here.
"""

from dataclasses import dataclass
from math import ceil, hypot

from templategen.catalogue import figured
from templategen.checks.describe import said
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.point import Point
from templategen.parts.part import Part
from templategen.table.profile.choices import Units
from templategen.table.profile.model_of_shop import Shop
from templategen.units import length_by_rule

LONGEST_STRIP = 1200.0
"""Strips of small parts are about this long at most, mm: handy on a planer and a bench."""

SQUARED = 3.0
"""Allowed between two pieces of a strip for squaring their ends, mm (shop practice)."""

UPRIGHT = 1e-9
"""An end that leans less than this is square, as a share of the width."""

SHALLOW = 20.0
"""An edge is no end if it runs more than this many times as far along the grain as across it."""


@dataclass(frozen=True, slots=True)
class Rough:
    """What is sawn out for one kind of part: `count` blanks or strips of that `outline`, which hold `pieces` each,
    in as many `layers` side by side through the board's thickness.

    The outline's grain lies along x; a single blank's stands where the part's own blank does, with allowances all
    round. `length` and `width` are its extents, mm.
    """

    outline: Outline
    pieces: int
    count: int
    layers: int = 1

    @property
    def length(self) -> float:
        """Along the grain."""
        return self.outline.bounds.width

    @property
    def width(self) -> float:
        """Across it."""
        return self.outline.bounds.height

    @property
    def is_strip(self) -> bool:
        """Whether pieces stay together until they are cut off last."""
        return self.pieces > self.layers

    @property
    def says(self) -> str:
        """How many are sawn out, and what of each: `2 strips of 12, sawn flatwise into 2`."""
        return said(
            "{count:# strip}[ of {pieces}][, sawn flatwise into {layers}]"
            if self.is_strip
            else "{count:# blank}[ of {pieces}][, sawn flatwise into {layers}]",
            count=self.count,
            pieces=self.pieces if self.pieces > 1 else None,
            layers=self.layers if self.layers > 1 else None,
        )


def rough_size(mm: float, units: Units) -> str:
    """A length or a width as it is sawn out, with its unit: whole millimetres, or the nearest 1/64 in, as stops
    are told."""
    return figured(length_by_rule(mm, units, 0))


def rough_of(shop: Shop, part: Part, tables: int = 1, bought: float = 0.0) -> Rough:
    """What to saw out for a part. One too short to be fed by hand is cut from a strip, even if there is only one;
    others are sawn out singly, longer and wider than finished. Boards `bought` thick enough to be resawn give several
    layers."""
    needed = part.count * tables
    layers = min(needed, layers_in(shop, part, bought))
    if part.blank.bounds.width < shop.holding:
        each = on_a_strip(shop, part, ceil(needed / layers))
        box = part.blank.bounds
        outline = rectangle(0, 0, strip_length(shop, part, each), box.height + wider(shop, part.size[0]))
        return Rough(outline, each * layers, ceil(needed / (each * layers)), layers)
    return Rough(single_outline(shop, part), layers, ceil(needed / layers), layers)


def resaw_kerf(shop: Shop) -> float:
    """Width of the cut when boards are resawn, mm: the bandsaw's where there is one."""
    return shop.bandsaw_blade[1] if "bandsaw" in shop.machines else shop.saw_kerf


def layers_in(shop: Shop, part: Part, bought: float) -> int:
    """How many layers of a part a board that thick gives when resawn: n thicknesses, n - 1 kerfs, two faces to plane
    on each; 1 where the board is planed down to the part."""
    if bought <= part.thickness + shop.planing:
        return 1
    each = part.thickness + 2 * shop.resaw_face + resaw_kerf(shop)
    return max(1, int((bought + resaw_kerf(shop)) / each + 1e-9))


def single_outline(shop: Shop, part: Part) -> Outline:
    """What is sawn out for one piece by itself, where its blank stands in the part's own frame: its ends lean as the
    part's do, so that blanks lie close on a board. Square ones where the first cut is square and would take too much
    of a pointed end before it is clean, and where a long edge that runs along a fence would be too short for it."""
    along, across = shop.longer / 2, wider(shop, part.size[0]) / 2
    grown = _grown(part.blank, along, across)
    if _ends(part) and (_first_end(part) is None or shortest_edge(grown) < shop.holding):
        return _boxed(part.blank, along, across)
    return grown


def shortest_edge(outline: Outline) -> float:
    """The shorter of two long edges, mm: what a straight piece has along a fence that may be at either."""
    long: dict[bool, float] = {True: 0.0, False: 0.0}
    for edge in outline.anticlockwise.edges:
        way = edge.end.minus(edge.start)
        if abs(way.x) > SHALLOW * abs(way.y):
            long[way.x > 0] += abs(way.x)
    return min(long.values())


def wider(shop: Shop, length: float) -> float:
    """What to allow on the width of a part of that length for planing both edges, mm."""
    short, middle, long = shop.wider
    return short if length <= 1000.0 else middle if length <= 2000.0 else long


def first_lean(part: Part) -> float:
    """How far the end that is sawn first leans along the grain, as a share of the width: the end of one edge that is
    least off square. 0 where the piece is first sawn square."""
    return _first_end(part) or 0.0


def _first_end(part: Part) -> float | None:
    """The lean of the end of one edge that is least off square; None where every such end leans more than another, or
    there is none, so that the piece is first sawn square to its length."""
    ends = _ends(part)
    least = min((lean for side in ends.values() for lean in side), default=0.0)
    if not any(len(side) == 1 and side[0] < least + UPRIGHT for side in ends.values()):
        return None
    return least if least > UPRIGHT else 0.0


def _ends(part: Part) -> dict[bool, list[float]]:
    """The leans of the edges that are ends, by whether they are the right one's; empty where there are none."""
    ends: dict[bool, list[float]] = {}
    for edge in part.blank.anticlockwise.edges:
        way = edge.end.minus(edge.start)
        if abs(way.x) <= SHALLOW * abs(way.y) and edge.length > 0.01:
            ends.setdefault(way.y > 0, []).append(abs(way.x / way.y))
    return ends


def pitch(shop: Shop, part: Part) -> float:
    """How much of a strip each piece takes: its length from point to point, a kerf, and what squaring it takes.
    Pieces lie all one way and leave the strip by cuts that are parallel, each the next one's first end."""
    return part.blank.bounds.width + shop.saw_kerf * hypot(1.0, first_lean(part)) + SQUARED


def strip_length(shop: Shop, part: Part, pieces: int) -> float:
    """Length of a strip of so many pieces, with an end to hold it by for the last cut, however that leans; never too
    short to be fed by hand."""
    lean = first_lean(part) * (part.blank.bounds.height + wider(shop, part.size[0]))
    return max(pieces * pitch(shop, part) + lean + shop.strip_end, shop.holding)


def on_a_strip(shop: Shop, part: Part, needed: int) -> int:
    """How many pieces to a strip: strips as equal as possible, none longer than is handy; 1 for no strip."""
    if part.blank.bounds.width >= shop.holding or needed < 2:
        return 1
    strips = 1
    while ceil(needed / strips) > 2 and strip_length(shop, part, ceil(needed / strips)) > LONGEST_STRIP:
        strips += 1
    return ceil(needed / strips)


def _boxed(blank: Outline, along: float, across: float) -> Outline:
    """The rectangle round a blank, larger on all sides."""
    box = blank.bounds
    return rectangle(box.left - along, box.bottom - across, box.right + along, box.top + across)


def _grown(blank: Outline, along: float, across: float) -> Outline:
    """A convex blank with its ends moved out along the grain and its edges across it; where that can't be drawn true,
    the rectangle round it."""
    box, whole = blank.bounds, _boxed(blank, along, across)
    edges = [edge for edge in blank.anticlockwise.edges if edge.length > 0.01]
    if not all(isinstance(edge, Line) for edge in edges):
        return whole
    lines = [_moved(edge.start, edge.end, along, across) for edge in edges]
    corners = [_crossing(lines[i - 1], line) for i, line in enumerate(lines)]
    met = [corner for corner in corners if corner is not None]
    spare = max(along, SHALLOW * across) + 0.01
    inside = all(box.left - spare <= p.x <= box.right + spare for p in met)
    if len(met) < len(lines) or not inside:
        return whole
    grown = polygon(met)
    return grown if all(grown.contains(point) for point in blank.points) else whole


def _moved(start: Point, end: Point, along: float, across: float) -> tuple[Point, Point]:
    """A line of the outline moved outwards: an end along the grain, an edge across it; a slanting end at least so far
    that the allowance across the grain is kept."""
    way = end.minus(start)
    if abs(way.x) > SHALLOW * abs(way.y):
        shift = Point(0.0, -across if way.x > 0 else across)
    else:
        along = max(along, across * abs(way.x / way.y))
        shift = Point(along if way.y > 0 else -along, 0.0)
    return start.plus(shift), end.plus(shift)


def _crossing(one: tuple[Point, Point], other: tuple[Point, Point]) -> Point | None:
    """Where two lines cross; None where they are as good as parallel."""
    first, second = one[1].minus(one[0]), other[1].minus(other[0])
    turn = first.cross(second)
    if abs(turn) < 1e-6 * first.length * second.length:
        return None
    return one[0].plus(first, other[0].minus(one[0]).cross(second) / turn)
