"""Rounded rectangles: upright, all four corners alike."""

from templategen.errors import Fault, GeometryError
from templategen.geometry.bounds import Bounds
from templategen.geometry.outline import Outline, outline_through
from templategen.geometry.point import Vertex
from templategen.geometry.tolerance import EQUAL, SHORTEST_EDGE

QUARTER_BULGE = 2**0.5 - 1
"""Bulge of a quarter circle: tan(22.5 degrees)."""


def rounded_rectangle(box: Bounds, radius: float) -> Outline:
    """The box with its corners rounded, anticlockwise; with half its width as the radius it ends in half circles.

    Raises:
        GeometryError: the radius is more than half a side.
    """
    most = min(box.width, box.height) / 2
    if radius > most + EQUAL:
        found = f"corners of {radius:.3f} don't fit on sides of {box.width:.3f} and {box.height:.3f}"
        raise GeometryError(Fault("corner", found, f"at most {most:.3f} fits"))
    r, bulge = min(max(radius, 0.0), most), QUARTER_BULGE if radius > SHORTEST_EDGE else 0.0
    x0, y0, x1, y1 = box
    ring = (
        Vertex(x0 + r, y0), Vertex(x1 - r, y0, bulge), Vertex(x1, y0 + r), Vertex(x1, y1 - r, bulge),
        Vertex(x1 - r, y1), Vertex(x0 + r, y1, bulge), Vertex(x0, y1 - r), Vertex(x0, y0 + r, bulge),
    )  # fmt: skip
    return outline_through(ring)
