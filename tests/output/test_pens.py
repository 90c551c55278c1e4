"""Every pen draws what the recorder was given: each mark, in order, on its layer, each arc the way it turns."""

from __future__ import annotations

import io
import re
from itertools import pairwise
from math import atan2, cos, degrees, radians, sin
from xml.etree import ElementTree

import pdfplumber
import pytest
from svgpathtools import parse_path

from templategen.geometry.point import Point
from templategen.output.dxf import MM_PER_INCH, Units, Version, dxf_bytes
from templategen.output.svg import svg_text
from templategen.output.svg_inline import inline_svg
from templategen.table.profile.model_of_shop import Paper
from tests.drawing.recorder import lopsided, recorded
from tests.output.group_codes import Entity, entities
from tests.output.tiled import tiled_pdf

NS = {"s": "http://www.w3.org/2000/svg"}
DRAWING = lopsided()
WALKS = recorded(DRAWING).walks()
WORDS = [said for said in recorded(DRAWING).said if said[0] == "words"]


def test_the_recorder_is_given_everything_in_order() -> None:
    """Rings, strokes and words come as they stand in the drawing, edges as lines and true arcs."""
    verbs = [said[0] for said in recorded(DRAWING).said]
    assert verbs == [
        *("ring", "line", "arc", "arc", "line", "arc"), *("stroke", "line"), *("stroke", "arc"),
        *("ring", "arc", "arc"), *("stroke", "arc"), "words", *("stroke", "line"), "words", "words",
    ]  # fmt: skip


def near(found: object, wanted: object, within: float) -> bool:
    """Whether two points agree."""
    return found == pytest.approx(wanted, abs=within)


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_dxf_draws_what_is_recorded(version: Version, units: Units) -> None:
    """Entities in the drawing's own order, every end and every middle of an arc where it was drawn."""
    size = MM_PER_INCH if units == "in" else 1.0
    drawn = entities(dxf_bytes(DRAWING, version, units))
    lines = [one for one in drawn if one.name != "TEXT"]
    assert [one.layer for one in lines] == [layer for _, layer, _ in WALKS]
    for entity, (verb, _, steps) in zip(lines, WALKS, strict=True):
        assert near([c * size for c in traced(entity)], [c for point in ends(verb, steps) for c in point], 1e-8)
    told = [one for one in drawn if one.name == "TEXT"]
    for entity, (_, layer, text, at, height, anchor, turn) in zip(told, WORDS, strict=True):
        assert isinstance(at, Point) and isinstance(turn, float) and isinstance(height, float)
        assert (entity.layer, entity.text(1)) == (layer, text)
        assert near([entity.number(code) * size for code in (11, 21, 40)], [*at, height], 1e-8)
        assert near(float(entity.text(50) or 0), degrees(turn), 1e-8)
        assert int(entity.text(72) or 0) == {"start": 0, "middle": 1, "end": 2}[str(anchor)]


def ends(verb: str, steps: list[tuple[object, ...]]) -> list[Point]:
    """Every corner and middle of an arc of a walk; an open arc as it lies anticlockwise."""
    points: list[Point] = []
    for _, *step in steps:
        points += step  # type: ignore[arg-type]
    if verb == "stroke" and len(points) == 3:
        (a, b, c) = points
        return points if b.minus(a).cross(c.minus(b)) > 0 else points[::-1]
    return points


def traced(entity: Entity) -> list[float]:
    """The same of an entity of the file, from its group codes alone."""
    if entity.name == "LINE":
        return [entity.number(code) for code in (10, 20, 11, 21)]
    if entity.name in ("ARC", "CIRCLE"):
        x, y, radius = (entity.number(code) for code in (10, 20, 40))
        first, last = (0.0, 360.0) if entity.name == "CIRCLE" else (entity.number(50), entity.number(51))
        sweep = (last - first) % 360 or 360.0
        shares = (0.0, 0.25, 0.5, 0.5, 0.75, 1.0) if entity.name == "CIRCLE" else (0.0, 0.5, 1.0)
        angles = [radians(first + share * sweep) for share in shares]
        return [c for angle in angles for c in (x + radius * cos(angle), y + radius * sin(angle))]
    found: list[float] = []
    for (x0, y0, bulge), (x1, y1, _) in entity.sides:
        middle = (x0 + x1) / 2 + bulge * (y1 - y0) / 2, (y0 + y1) / 2 - bulge * (x1 - x0) / 2
        found += [x0, y0, *(middle if bulge else ()), x1, y1]
    return found


def svg_points(path: str) -> list[tuple[float, float]]:
    """Corners of a path, y up, with the middle of each arc; arcs that were parted for their size are one again."""
    return [(p.real, -p.imag) for piece in parse_path(path) for p in (piece.start, piece.point(0.5), piece.end)]


def test_svg_draws_what_is_recorded() -> None:
    """In each layer's group the marks in their order, with y turned down."""
    root = ElementTree.fromstring(svg_text(DRAWING).encode())
    for group in root.findall("s:g", NS):
        layer = group.get("data-layer")
        shown = [element for element in group if element.tag.endswith(("path", "circle"))]
        wanted = [(verb, steps) for verb, name, steps in WALKS if name == layer]
        assert len(shown) == len(wanted)
        for element, (_, steps) in zip(shown, wanted, strict=True):
            if element.tag.endswith("circle"):
                assert [element.get(key) for key in ("cx", "cy", "r")] == ["61", "-29", "6.5"]
                continue
            corners = [point for _, first, *_, last in steps for point in (first, last)]
            middles = [step[2] for step in steps if step[0] == "arc"]
            found = svg_points(element.attrib["d"])
            assert near(found[0], corners[0], 1e-5) and near(found[-1], corners[-1], 1e-5)
            for point in (*corners, *middles):
                assert any(near(one, point, 1e-4) for one in found), point
    texts = root.findall(".//s:text", NS)
    for element, (_, _, text, at, height, anchor, turn) in zip(texts, WORDS, strict=True):
        assert isinstance(at, Point) and isinstance(height, float) and isinstance(turn, float)
        assert (element.text, element.get("text-anchor")) == (text, anchor)
        assert near((float(element.attrib["x"]), -float(element.attrib["y"])), at, 1e-6)
        assert near(float(element.attrib["font-size"]) * 0.716, height, 1e-5)
        turned = re.match(r"rotate\((\S+) ", element.get("transform") or "rotate(0 ")
        assert turned and near(-float(turned[1]), degrees(turn), 1e-5)


def test_the_page_draws_what_is_recorded() -> None:
    """In each part's group of each layer every end and middle, to the last decimal that the page writes."""
    root = ElementTree.fromstring(inline_svg(DRAWING, "t"))
    groups = {g.get("class", "").split()[1][2:]: g for g in root.findall("s:g", NS)}
    for mark, (verb, layer, steps) in zip([m for m in DRAWING.marks if m.edges], WALKS, strict=True):
        group = groups[layer] if not mark.part else groups[layer].find(f"s:g[@data-part='{mark.part}']", NS)
        assert group is not None, (verb, layer)
        (path,) = group.findall("s:path", NS)
        found = svg_points(path.attrib["d"])
        for point in [point for _, *step in steps for point in step]:
            assert any(near(one, point, 0.02) for one in found), (verb, layer, point)


def test_paper_draws_what_is_recorded() -> None:
    """One page holds every line at true size, each where the others say it lies."""
    data = tiled_pdf(DRAWING, Paper((297.0, 420.0), 8, 12, 1, 1), "lopsided")
    with pdfplumber.open(io.BytesIO(data)) as document:
        (page,) = document.pages
        drawn = [
            [(float(x) / 72 * 25.4, float(page.height - y) / 72 * 25.4) for x, y in one["pts"]]
            for one in (*page.lines, *page.curves, *page.rects)
        ]
    points = [point for one in drawn for point in one]
    walks = [[point for _, first, *_, last in steps for point in (first, last)] for _, _, steps in WALKS]
    (first, last) = walks[1]
    assert isinstance(first, Point) and isinstance(last, Point)
    moves = [
        (a[0] - first.x, a[1] - first.y)
        for one in drawn for a, b in pairwise(one)
        if near((b[0] - a[0], b[1] - a[1]), last.minus(first), 1e-3)
    ]  # fmt: skip
    assert len(moves) == 1, "the long line is drawn once, from its own start to its own end"
    dx, dy = moves[0]
    for walk in walks:
        for point in walk:
            assert isinstance(point, Point)
            assert any(near(one, (point.x + dx, point.y + dy), 2e-3) for one in points), point


def test_a_turned_drawing_is_turned_in_every_mark() -> None:
    """Marks carried along by a turn and a move are recorded where the placement takes their points."""
    from templategen.drawing.move import placed
    from templategen.geometry.placement import Placement

    way = Placement(11.0, -3.0, 0.4)
    for before, after in zip(DRAWING.marks, placed(DRAWING.marks, way), strict=True):
        for one, other in zip(before.edges, after.edges, strict=True):
            for share in (0.0, 0.3, 1.0):
                assert near(other.point_at(share), way.point(one.point_at(share)), 1e-9)
    level = [words for words in placed(DRAWING.marks, way) if not words.edges]
    assert [round(atan2(sin(w.turn), cos(w.turn)) - 0.4, 9) for w in level] == [  # type: ignore[union-attr]
        round(w.turn, 9) for w in DRAWING.marks if not w.edges  # type: ignore[union-attr]
    ]  # fmt: skip
