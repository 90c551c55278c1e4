"""Parts as solids, built from what packet.json says and nothing else, for proofs of fit.

Needs manifold3d; arcs are cut into chords fine enough that their sagitta stays under a hundredth of a millimetre.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan, atan2, cos, hypot, sin, sqrt
from typing import Any

import numpy as np

SAGITTA = 0.002


def ring(outline: Sequence[Sequence[float]]) -> list[tuple[float, float]]:
    """The outline's corners, arcs as chords."""
    points: list[tuple[float, float]] = []
    for i, (x, y, bulge) in enumerate(outline):
        x1, y1, _ = outline[(i + 1) % len(outline)]
        points.append((x, y))
        if abs(bulge) < 1e-12:
            continue
        to_centre = (1 - bulge * bulge) / (4 * bulge)
        cx, cy = (x + x1) / 2 - (y1 - y) * to_centre, (y + y1) / 2 + (x1 - x) * to_centre
        radius, sweep = hypot(x - cx, y - cy), 4 * atan(bulge)
        steps = max(2, int(abs(sweep) / sqrt(8 * SAGITTA / radius)) + 1)
        start = atan2(y - cy, x - cx)
        points += [
            (cx + radius * cos(start + sweep * k / steps), cy + radius * sin(start + sweep * k / steps))
            for k in range(1, steps)
        ]
    return points


def prism(outline: Sequence[Sequence[float]], low: float, high: float) -> Any:
    """The outline, from z = `low` to `high`."""
    import manifold3d

    section = manifold3d.CrossSection([np.array(ring(outline))])
    return manifold3d.Manifold.extrude(section, high - low).translate([0, 0, low])


def solid(part: dict[str, Any]) -> Any:
    """A part: its outline's prism less holes and features; rounded and chamfered edges are left sharp."""
    thickness = part["size"][2]
    body = prism(part["outline"], 0, thickness)
    for hole in part["holes"]:
        body -= prism(hole, -1, thickness + 1)
    faces = {face["name"]: face for face in part["faces"]}
    for feature in part["features"]:
        if feature["kind"] in ("round-over", "chamfer", "hole"):
            continue
        face = faces[feature["face"]]
        along, up = np.array(face["along"]), np.array(face["up"])
        frame = np.column_stack([along, up, np.cross(along, up), np.array(face["origin"])])
        body -= prism(feature["outline"], -feature["depth"], 1).transform(frame)
    return body


def placed(body: Any, spot: dict[str, Any]) -> Any:
    """The solid where it stands in the table."""
    axes = np.array(spot["axes"]).T
    return body.transform(np.column_stack([axes, np.array(spot["at"])]))


def standing(record: dict[str, Any]) -> list[Any]:
    """Every copy of the packet in place."""
    solids = {part["code"]: solid(part) for part in record["parts"]}
    return [placed(solids[spot["code"]], spot) for spot in record["placed"]]


def clashes(record: dict[str, Any], least: float = 0.01) -> list[tuple[str, str, float]]:
    """Pairs of copies that share more than `least` mm3."""
    bodies = standing(record)
    boxes = [body.bounding_box() for body in bodies]
    found = []
    for i, one in enumerate(boxes):
        for j in range(i + 1, len(boxes)):
            other = boxes[j]
            if all(one[k] < other[k + 3] and other[k] < one[k + 3] for k in range(3)):
                shared = (bodies[i] ^ bodies[j]).volume()
                if shared > least:
                    found.append((record["placed"][i]["code"], record["placed"][j]["code"], shared))
    return found
