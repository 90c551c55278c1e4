"""A part where it stands in the table."""

from dataclasses import dataclass
from math import cos, pi, sin

from templategen.geometry.placement import Placement
from templategen.parts.face import Point3

Axes = tuple[Point3, Point3, Point3]


@dataclass(frozen=True, slots=True)
class Placed:
    """One copy of part `code`. `at` is where the part's own origin goes, `axes` where its x, y and z point.

    For parts that lie flat, `turn` (radians) and `turned_over` say the same as the axes: turned over in the
    part's own y axis first, then turned. A part that stands (a leg) has its x axis up and `turn` for its y axis,
    which then points at `turn` + a quarter.
    """

    code: str
    at: Point3
    axes: Axes
    turn: float
    turned_over: bool = False

    def point(self, x: float, y: float, z: float) -> Point3:
        """Where a point of the part goes in the table."""
        ax, ay, az = self.axes
        return Point3(
            self.at.x + x * ax.x + y * ay.x + z * az.x,
            self.at.y + x * ax.y + y * ay.y + z * az.y,
            self.at.z + x * ax.z + y * ay.z + z * az.z,
        )


def lying(code: str, placement: Placement, z: float, thickness: float) -> Placed:
    """A flat part with its lower face at height `z`."""
    c, s = cos(placement.turn), sin(placement.turn)
    over = -1.0 if placement.turned_over else 1.0
    axes = (Point3(over * c, over * s, 0), Point3(-s, c, 0), Point3(0, 0, over))
    at = Point3(placement.x, placement.y, z + (thickness if placement.turned_over else 0.0))
    return Placed(code, at, axes, placement.turn, placement.turned_over)


def standing(code: str, at: Point3, arm: float, rake: float) -> Placed:
    """A leg whose x axis rises, leaning by `rake` towards the outside of arm direction `arm` (radians)."""
    c, s = cos(arm), sin(arm)
    up = Point3(sin(rake) * c, sin(rake) * s, cos(rake))
    out = Point3(cos(rake) * c, cos(rake) * s, -sin(rake))
    return Placed(code, at, (up, out, Point3(-s, c, 0)), arm - pi / 2)
