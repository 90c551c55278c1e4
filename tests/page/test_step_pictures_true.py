"""Pictures of the assembly's steps held to the record: the ring is drawn sawn round only once it is."""

from __future__ import annotations

import json
import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from svgelements import Line, Path

from templategen.drawing.projection import FROM_ABOVE
from templategen.packet.shipped import shipped_names
from tests.shipped_packets import packet_files, page_of

STEP = re.compile(r'<svg [^>]*aria-labelledby="d-step-(\d+)-t.*?</svg>', re.S)

NEAR = 0.35
"""A line's length may be off by this, mm, and lines as far apart are one: pictures are written to a tenth."""


def straight(svg: str, code: str) -> Iterator[tuple[np.ndarray, np.ndarray]]:
    """The straight lines of a part's contours, y upwards."""
    for layer in ElementTree.fromstring(svg).iter():
        if "CONTOUR" not in layer.get("class", ""):
            continue
        for group in (one for one in layer.iter() if one.get("data-part") == code):
            for path in (one for one in group.iter() if one.tag.endswith("path")):
                for edge in (one for one in Path(path.get("d", "")) if isinstance(one, Line)):
                    yield np.array([edge.start.x, -edge.start.y]), np.array([edge.end.x, -edge.end.y])


def outer_edge(part: Mapping[str, Any], placed: Mapping[str, Any]) -> np.ndarray:
    """A copy's outer edge in the picture, from corner to corner of its blank."""
    (x1, y1, _), (x2, y2, _) = part["blank"][2:4]
    along, across, _ = (np.array(axis) for axis in placed["axes"])
    return np.array(FROM_ABOVE.at((x2 - x1) * along + (y2 - y1) * across))


def has(svg: str, code: str, wanted: np.ndarray) -> bool:
    """Whether a straight line of the part runs as far and the same way; it may be drawn in pieces."""
    far = float(np.linalg.norm(wanted))
    way = wanted / far
    rows: dict[int, list[float]] = defaultdict(list)
    for start, end in straight(svg, code):
        if abs(np.cross([*way, 0], [*(end - start), 0])[2]) < NEAR:
            rows[round((way[0] * start[1] - way[1] * start[0]) / NEAR)] += [start @ way, end @ way]
    return any(abs(max(row) - min(row) - far) < NEAR for row in rows.values())


@pytest.mark.parametrize("name", shipped_names())
def test_a_ring_is_drawn_as_it_is_at_each_step(name: str) -> None:
    """Its segments' straight outer edges from corner to corner of their blanks as long as the plan hasn't sawn it
    round, in every picture that shows them; none of them afterwards."""
    record = json.loads(packet_files(name)["packet.json"])
    rims = {part["code"]: part for part in record["parts"] if part["kind"] == "rim-segment"}
    copies = [one for one in record["placed"] if one["code"] in rims]
    pictures = {found[1]: found[0] for found in STEP.finditer(page_of(name))}
    is_round, seen = False, []
    for one in record["plan"]["operations"]:
        is_round |= one["operation"] in ("saw round", "trim")
        svg = pictures[str(one["step"])] if "step" in one else ""
        if any(f'data-part="{code}"' in svg for code in rims):
            straight_on = sum(has(svg, at["code"], outer_edge(rims[at["code"]], at)) for at in copies)
            assert straight_on == 0 if is_round else straight_on >= len(copies) // 2, (one["step"], straight_on)
            seen.append(is_round)
    assert seen[-1] and not seen[0] and len(seen) >= 3
