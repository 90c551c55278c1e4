"""The leg's corners: a template to mark them on the blank's ends, and gauges to try them by."""

from collections.abc import Iterator

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.geometry.bounds import Bounds
from templategen.geometry.fillet import fillet
from templategen.geometry.outline import Outline, polygon
from templategen.geometry.point import Point
from templategen.geometry.rounded import rounded_rectangle
from templategen.geometry.tolerance import SHORTEST_EDGE
from templategen.jigs.jig import ROUTERS, Critical, Jig, Scribe, has_any
from templategen.jigs.piece import distance, line, piece, shown
from templategen.parts.kinds import ROUTING
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Legs

ARM = 40.0
"""Length of the gauge along each face of the leg beyond the corner's own, mm."""

WEB = 30.0
"""Width of the gauge's arms, mm."""


def leg_corners(table: Table) -> Iterator[Jig]:
    """The corner's template and gauge; none for square legs."""
    legs, profile = table.profile.legs, table.profile
    if legs.corner in ("square", "beaded") or legs.corner_size <= 0:
        return
    size = shown(legs.corner_size, profile)
    rounded = legs.corner == "rounded"
    cutter = translated("a 45° bevel bit or a plane")
    if rounded:
        cutter = said("a round-over bit of {size} radius", size=size)
    yield Jig(
        "LEG-CORNER",
        "template and gauge for the legs' corners",
        ("LEG",),
        tuple(_pieces(table)),
        tuple(_scribes(legs)),
        tuple(_figures(legs)),
        (
            ("Hold the square template flush with all four faces on each end of the blank before the tenons are "
            "cut, and draw its corners."),
            said("Then take off the four long corners, from end to end of the whole blank, with {cutter} led by its "
                 "bearing, or plane them to the lines, first flats, then between them.", cutter=cutter)
            if (legs.section - legs.tenon[0]) / 2 >= legs.corner_size
            else said("Take off the four long corners with {cutter} led by its bearing, from shoulder mark to "
                      "shoulder mark, or plane them to the lines, first flats, then between them.", cutter=cutter),
            "The gauge must touch both faces and the corner at once, anywhere along the leg.",
        ),
        (
            said("Run the bit along STRIP-LEG and try the gauge: light along the faces means too "
                 "little taken off, light at the corner's middle too much. {size} from each face is right.",
                 size=size),
        ),
        (ROUTING,) if has_any(table, ROUTERS) else (),
    )  # fmt: skip


def section(legs: Legs) -> Outline:
    """The leg's section with its corners eased, origin in its middle."""
    half, size = legs.section / 2, legs.corner_size
    if legs.corner == "rounded":
        return rounded_rectangle(Bounds(-half, -half, half, half), size)
    cut = half - size
    if cut <= SHORTEST_EDGE:
        return polygon(((0, -half), (half, 0), (0, half), (-half, 0)))
    return polygon(
        (
            (-cut, -half),
            (cut, -half),
            (half, -cut),
            (half, cut),
            (cut, half),
            (-cut, half),
            (-half, cut),
            (-half, -cut),
        )
    )


def gauge(legs: Legs) -> Outline:
    """An angle piece whose inside fits the corner; the leg lies where x and y are positive, its corner at 0."""
    size, arm = legs.corner_size, legs.corner_size + ARM
    ring = [(0.0, 0.0), (0.0, arm), (-WEB, arm), (-WEB, -WEB), (arm, -WEB), (arm, 0.0)]
    if legs.corner == "rounded":
        whole = polygon(ring).anticlockwise
        at = next(i for i, p in enumerate(whole.points) if p == Point(0.0, 0.0))
        return fillet(whole, at, size)
    return polygon([(0.0, size), *ring[1:], (size, 0.0)]).anticlockwise


def _pieces(table: Table) -> Iterator[Part]:
    legs, profile = table.profile.legs, table.profile
    yield piece(profile, "LEG-CORNER-PLATE", "template of the leg's section", section(legs), "template")
    yield piece(profile, "LEG-CORNER-GAUGE", "gauge for a leg's corner", gauge(legs), "gauge")


def _scribes(legs: Legs) -> Iterator[Scribe]:
    half = legs.section / 2
    for x, y in ((1.0, 0.0), (0.0, 1.0)):
        out, back = Point(half * x, half * y), Point(-half * x, -half * y)
        yield line("LEG-CORNER-PLATE", back, out, "", "witness")


def _figures(legs: Legs) -> Iterator[Critical]:
    half, size = legs.section / 2, legs.corner_size
    yield distance("across the template", "LEG-CORNER-PLATE", Point(-half, 0), Point(half, 0), "legs.section")
    if legs.corner == "rounded":
        centre = Point(size, size)
        yield distance("radius of the gauge", "LEG-CORNER-GAUGE", centre, Point(0, size), "legs.corner_size")
    else:
        ends = Point(0, size), Point(size, 0)
        yield distance("width of the bevel", "LEG-CORNER-GAUGE", *ends, "legs.corner_size * sqrt 2")
