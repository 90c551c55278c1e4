"""A re-fitted part's own figures, read off its drawing and written down under names of its own."""

from dataclasses import replace
from math import atan2, degrees

from templategen.explain.book import Unit
from templategen.explain.line import Corner, ExplainedLine, line_of
from templategen.explain.slats import ExplainedSlat
from templategen.geometry.edge import Arc
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ON_EDGE
from templategen.parts.part import Part
from templategen.shop.set_ups.ledger import PREFIX, Ledger
from templategen.shop.set_ups.rails import RailNames
from templategen.shop.set_ups.rim import SegmentNames
from templategen.shop.set_ups.slats import TONGUE
from templategen.table.assembly import Table

NEAR = 1e-6

REFITTED = "its re-fitted drawing"


class _Own:
    """Writes one part's figures."""

    def __init__(self, ledger: Ledger, part: Part) -> None:
        self.ledger, self.code = ledger, part.code

    def name(self, what: str) -> str:
        """The full name of a figure."""
        return f"{PREFIX}{self.code}.own.{what}"

    def write(self, what: str, says: str, value: float, unit: Unit = "mm") -> str:
        """A figure written down."""
        return self.ledger.given(f"{self.code}.own.{what}", says, value, unit, REFITTED)


def segment_names(ledger: Ledger, table: Table, part: Part) -> SegmentNames:
    """A segment's own figures: its mitres, its edges, where its grooves and slots lie, where the pivot is from it."""
    own = _Own(ledger, part)
    right_in, right_out, left_out, left_in = _blank_corners(part.blank)
    for kind in ("groove", "spline-slot"):
        for number, cut in enumerate(part.cuts(kind), 1):
            box = cut.outline.bounds
            own.write(f"{kind}_{number}.start", "where it starts on its face", box.left)
            own.write(f"{kind}_{number}.end", "where it ends on its face", box.right)
    wide = right_out.y - right_in.y
    pivot, aside = _pivot(table, part)
    return SegmentNames(
        own.name("")[:-1],
        own.write("width", "width", wide),
        own.write("left_mitre", "its left end off square", degrees(atan2(left_in.x - left_out.x, wide)), "deg"),
        own.write("right_mitre", "its right end off square", degrees(atan2(right_out.x - right_in.x, wide)), "deg"),
        own.write("outer", "along its outer edge, corner to corner", right_out.x - left_out.x),
        own.write("right_face", "along its right mitre", right_out.minus(right_in).length),
        own.write("pivot", "from the pivot to its inner edge, square to it", pivot),
        own.write("lean", "how far its left end leans out to the outer edge", left_in.x - left_out.x),
        own.write("aside", "from the middle of its inner edge to the foot of the pivot", aside)
        if abs(aside) > NEAR
        else "",
    )


def _blank_corners(blank: Outline) -> tuple[Point, Point, Point, Point]:
    """Inner right, outer right, outer left, inner left."""
    low, high = blank.bounds.bottom, blank.bounds.top
    inner = sorted(p.x for p in blank.points if p.y < (low + high) / 2)
    outer = sorted(p.x for p in blank.points if p.y > (low + high) / 2)
    return Point(inner[-1], low), Point(outer[-1], high), Point(outer[0], high), Point(inner[0], low)


def _pivot(table: Table, part: Part) -> tuple[float, float]:
    """How far the ring's middle lies from a segment's inner edge, and beside the middle of that edge."""
    arc = next((edge for edge in part.outline.edges if isinstance(edge, Arc)), None)
    if arc is None:
        return table.sizes.inner_apothem, 0.0
    return -arc.centre.y, arc.centre.x


def rail_names(ledger: Ledger, part: Part) -> RailNames:
    """A rail's own figures: its lengths from the crossing, and how far from an end each side groove stops."""
    own, box = _Own(ledger, part), part.blank.bounds
    long = ledger.value("joints.tongue_length")
    for place, groove in enumerate(part.cuts("groove"), 1):
        cut, face = groove.outline.bounds, part.face(groove.face).outline.bounds
        stops = cut.right - face.left if cut.left <= face.left + NEAR else face.right - cut.left
        own.write(f"groove_{place}", "from the end to where its side groove stops", long + stops)
    return RailNames(
        own.write("length", "a rail over its tenons", box.width),
        own.write("left", "twice its length from the crossing to its left end", -2 * box.left),
        own.write("right", "twice its length from the crossing to its right end", 2 * box.right),
        own.name("")[:-1],
    )


def slat_explained(ledger: Ledger, part: Part) -> ExplainedSlat:
    """A slat's own figures: the lines along its edges and where they meet, in the frame of its drawing."""
    own, box = _Own(ledger, part), part.blank.bounds
    run = own.write("run", "along its grain", 0.0, "deg")
    rise = own.write("rise", "across it", 90.0, "deg")
    for what, low, high in (("length", box.left, box.right), ("width", box.bottom, box.top)):
        own.write(f"{what}.from", f"where its {what} begins", low)
        own.write(f"{what}.to", f"where its {what} ends", high)
        own.write(what, f"{what} of the blank", high - low)
    lines = _lines(own, "edge", part.outline)
    shoulders = [
        line for line in _lines(own, "shoulder", part.body or part.outline) if _is_passed(line, part.outline)
    ]
    faces = {line.faces for line in shoulders}
    whole = tuple(replace(line, kind=TONGUE) if line.faces in faces else line for line in lines)
    around = [Point(*point) for point in part.outline.anticlockwise.points]
    corners = tuple(Corner(whole[i - 1], whole[i], point.x, point.y) for i, point in enumerate(around))
    return ExplainedSlat(own.name("")[:-1], 0, 0, run, rise, whole, corners, tuple(shoulders))


def _lines(own: _Own, what: str, outline: Outline) -> list[ExplainedLine]:
    """The line along each edge; parallel ones, of body and outline alike, share the name of their direction."""
    found = []
    for number, edge in enumerate(outline.anticlockwise.edges, 1):
        way = edge.end.minus(edge.start)
        turn = round(degrees(atan2(-way.x, way.y)), 7) % 360.0
        faces = own.write(f"faces_{turn:.5f}".replace(".", "_"), "direction that an edge faces", turn, "deg")
        reach = edge.start.dot(Point(way.y, -way.x).times(1 / way.length))
        distance = own.write(f"{what}_{number}", f"how far out its {what} {number} lies", reach)
        found.append(line_of(own.ledger.book, f"its {what} {number}", faces, distance))
    return found


def _is_passed(line: ExplainedLine, outline: Outline) -> bool:
    """Whether the slat goes on past a line of its body."""
    return max(line.past(point.x, point.y) for point in outline.points) > ON_EDGE
