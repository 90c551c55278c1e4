"""The centre of an area."""

from math import cos, sin

from templategen.errors import Fault, GeometryError
from templategen.geometry.edge import Arc, Edge
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point


def centroid(outline: Outline) -> Point:
    """The centre of an outline's area, exact for lines and arcs.

    Triangles from the first vertex, and for each arc the circular segment between it and its chord, whose centre
    lies 4 r sin3(a/2) / (3 (a - sin a)) from the arc's centre for a sweep a (Green's theorem).

    Raises:
        GeometryError: an outline without area.
    """
    origin = outline.vertices[0].point
    area, moment = 0.0, Point(0.0, 0.0)
    for edge in outline.edges:
        a, b = edge.start.minus(origin), edge.end.minus(origin)
        triangle = a.cross(b) / 2
        area += triangle
        moment = moment.plus(a.plus(b), triangle / 3)
        extra, centre = _segment(edge)
        area += extra
        moment = moment.plus(centre.minus(origin), extra)
    if not area:
        raise GeometryError(Fault("centroid", "an outline without area has no centre"))
    return origin.plus(moment, 1 / area)


def _segment(edge: Edge) -> tuple[float, Point]:
    """Signed area between an edge and its chord, and its first moment's place."""
    if not isinstance(edge, Arc):
        return 0.0, edge.start
    sweep, radius = edge.sweep, edge.radius
    area = radius**2 / 2 * (sweep - sin(sweep))
    if area == 0:
        return 0.0, edge.start
    reach = 4 * radius * sin(sweep / 2) ** 3 / (3 * (sweep - sin(sweep)))
    middle = edge.start_angle + sweep / 2
    return area, Point(edge.centre.x + reach * cos(middle), edge.centre.y + reach * sin(middle))
