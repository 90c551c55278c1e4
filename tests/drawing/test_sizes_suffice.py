"""A part can be made from what stands on its sheet: each corner of the wood and of its pockets is told."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

import pytest
import shapely

from templategen.drawing.dimension import overall
from templategen.drawing.drawing import Stroke, Words, words_of
from templategen.drawing.manner import Manner
from templategen.drawing.part_sheet import part_drawing
from templategen.geometry.bounds import Bounds
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.geometry.refine import fine_polyline
from templategen.packet.shipped import shipped_names
from templategen.parts.part import Part
from tests.drawing.shipped_tables import table_of, text_shape

FIGURE = re.compile(r"(?<![\w.])(?:(\d+)-)?(\d+)/(\d+)(?![\w/])|(?<![\w./-])(\d+(?:\.\d+)?)(?![\w/-])")

NEAR = {"mm": 0.006, "in": 25.4 / 128 + 0.01}
"""How far a figure may lie off what it tells: half a hundredth, half a 64th."""

EDGE = 0.3
"""So near to the edge of a view, mm, a corner is told as lying on it: no rule shows so little."""


def figures(text: str) -> Iterator[float]:
    """All sizes in a text, in its unit."""
    for whole, over, under, plain in FIGURE.findall(text):
        yield float(plain) if plain else float(whole or 0) + float(over) / float(under)


def corners(part: Part) -> Iterator[tuple[str, float]]:
    """How far each corner of each pocket within the wood, and each of the outline, lies from the lower left of its
    view, both ways; and how deep the pockets are."""
    for feature in part.features:
        if feature.traits.is_pocket:
            yield f"{feature.kind} deep", feature.depth
            yield from _corners(feature.kind, feature.outline, part.face(feature.face).outline)
    yield from _corners("outline", part.outline, part.outline)


def _corners(name: str, outline: Outline, wood: Outline) -> Iterator[tuple[str, float]]:
    """Corners at the very edges of the view are told by its length and width."""
    box, inside = wood.bounds, shapely.Polygon(fine_polyline(wood, 0.02)).buffer(-0.01)
    for point in outline.points:
        if outline is wood or inside.contains(shapely.Point(point.x, point.y)):
            for size, whole in ((point.x - box.left, box.width), (point.y - box.bottom, box.height)):
                yield name, whole if whole - size < EDGE else 0.0 if size < EDGE else size


@pytest.mark.parametrize("name", shipped_names())
def test_every_side_of_every_pocket_is_told(name: str) -> None:
    """By its own figure, or by the middle and the size of what is set out from its middle."""
    table = table_of(name)
    units = table.profile.units
    unit, near = (25.4 if units == "in" else 1.0), NEAR[units]
    for part in table.parts:
        texts = _texts(part, units)
        told, middles, sizes = ({unit * value for text in texts if word in text for value in figures(text)}
                                for word in ("", "middle", " in" if units == "in" else " mm"))  # fmt: skip
        both = told | {middle + side * size / 2 for middle in middles for size in sizes for side in (-1, 1)}
        missing = [(what, round(size, 3)) for what, size in corners(part) if size
                   if not any(abs(size - one) < near for one in (both if "deep" not in what else told))]  # fmt: skip
        assert missing == [], part.code


def _texts(part: Part, units: str) -> list[str]:
    sheet = part_drawing(part, "t", units=units)  # type: ignore[arg-type]
    return [words.text for words in words_of(sheet.marks) if words.layer.name in ("TEXT", "DIMENSION")]


def test_edges_are_told_to_lie_top_face_up() -> None:
    """Wherever one is drawn, and only there."""
    for part in table_of("towpath-side").parts:
        edges = any(face.name not in ("top", "bottom") for face in part.worked_faces)
        assert ("Edges and ends are seen from outside, the top face up." in _texts(part, "mm")) == edges, part.code


@pytest.mark.parametrize("high", [4.0, 9.0, 40.0])
def test_a_figure_that_is_longer_than_what_it_measures_touches_no_line(high: float) -> None:
    """Lines that lead to the wood end before it."""
    marks = overall(Bounds(0, 0, 38.1 * 3, high), Manner(5.0, units="in"), 20, 20)
    (words,) = (mark for mark in marks if isinstance(mark, Words) and mark.turn)
    for mark in marks:
        if isinstance(mark, Stroke):
            ends = [mark.edge.point_at(share) for share in (0.0, 0.5, 1.0)]
            assert all(text_shape(words).distance(_line(*pair)) > 0.5 for pair in pairwise(ends))


def _line(one: Point, other: Point) -> shapely.LineString:
    return shapely.LineString([(one.x, one.y), (other.x, other.y)])
