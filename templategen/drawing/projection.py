"""Projection: the directions in which pictures are taken, all parallel."""

from math import cos, radians, sin

from templategen.view.sight import Sight


def seen_from(round_deg: float, rise_deg: float) -> Sight:
    """The eye in direction `round_deg` from the table's axis (anticlockwise from x), `rise_deg` above the level."""
    a, e = radians(round_deg), radians(rise_deg)
    near = (cos(e) * cos(a), cos(e) * sin(a), sin(e))
    return Sight((-sin(a), cos(a), 0.0), (-sin(e) * cos(a), -sin(e) * sin(a), cos(e)), near)


FROM_ABOVE = seen_from(-68.0, 32.0)
"""Turned off every usual arm, so that no two legs hide each other."""

FROM_BELOW = seen_from(-68.0, -26.0)

UPSIDE_DOWN = Sight(*((x, -y, -z) for x, y, z in FROM_ABOVE))
"""The same eye on what was turned over about the x axis: its underside is up."""

FRONT = Sight((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0))

PLAN = Sight((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
