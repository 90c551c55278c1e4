"""The scene: the table's solids as plain numbers, small enough to be turned by a short script on a page."""

from typing import Any

from templategen.drawing.exploded import explode
from templategen.fit.plan import Plan
from templategen.table.assembly import Table
from templategen.view.facets import Facets, part_facets

PER_MM = 10
"""Coordinates are whole numbers of tenths of a millimetre."""


def scene(table: Table, plan: Plan) -> dict[str, Any]:
    """The table for a script that paints facets from far to near, as JSON values.

    `solids` holds for each code its corners `p` (x, y, z, x, y, z ... in tenths of a millimetre, in the part's own
    frame) and its facets `f` (three corners, anticlockwise from outside, and which of their sides are edges to be
    drawn: 1 for the side from the first corner to the second, 2 for the next, 4 for the last). `bodies` holds every
    copy: its `code`, the columns of its turning and its place `m` (three unit vectors, then the origin in tenths) and
    `away`, by how much it is pulled out when the table is exploded, tenths of a millimetre. `middle` is the middle of
    the table.
    """
    shifts = explode(table, plan)
    bodies = [
        {
            "code": placed.code,
            "m": [*(round(value, 6) + 0.0 for axis in placed.axes for value in axis), *_tenths(placed.at)],
            "away": _tenths(shift),
        }
        for placed, shift in zip(table.placed, shifts, strict=True)
    ]
    return {
        "per_mm": PER_MM,
        "middle": _tenths((0.0, 0.0, table.profile.top.height / 2)),
        "radius": round(table.sizes.outer_apothem * PER_MM),
        "solids": {part.code: _solid(part_facets(part)) for part in table.parts},
        "bodies": bodies,
    }


def _tenths(values: Any) -> list[int]:
    return [round(float(value) * PER_MM) for value in values]


def _solid(facets: Facets) -> dict[str, list[int]]:
    drawn = {
        (min(a, b), max(a, b))
        for (a, b), sharp in zip(facets.edges.tolist(), facets.sharp.tolist(), strict=True)
        if sharp
    }
    flat: list[int] = []
    for corners in facets.triangles.tolist():
        a, b, c = corners
        sides = sum(bit for bit, pair in ((1, (a, b)), (2, (b, c)), (4, (c, a))) if (min(pair), max(pair)) in drawn)
        flat += [a, b, c, sides]
    return {"p": _tenths(facets.corners.reshape(-1).tolist()), "f": flat}
