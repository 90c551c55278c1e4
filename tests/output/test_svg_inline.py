"""Inline SVG, read back by an XML parser and by another library's paths."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from svgpathtools import Arc, parse_path

from templategen.drawing.drawing import Drawing, Shape, Stroke, Words
from templategen.drawing.exploded import finished_drawing
from templategen.drawing.layer import PALETTE, Layer
from templategen.drawing.part_sheet import face_views
from templategen.drawing.tones import SHOWN
from templategen.errors import OutputError
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, circle, polygon, rectangle
from templategen.geometry.point import Point, Vertex
from templategen.output.svg_inline import inline_svg
from templategen.output.svg_style import alone_style, drawing_style
from tests.drawing.shipped_tables import table_of

SVG = "{http://www.w3.org/2000/svg}"
EDGE = Layer("EDGE", "edges", weight=0.35)
HOSTILE = ('<script>alert("1")</script>', "a & b < c", "]]>", "\u202eright to left", "x" * 300, "'\"\x00\x1b")


def drawn(*marks: Shape | Stroke | Words, title: str = "a drawing") -> ET.Element:
    """The element of a drawing."""
    return ET.fromstring(inline_svg(Drawing(title, tuple(marks)), "t"))


@pytest.mark.parametrize("text", HOSTILE)
def test_any_text_is_text(text: str) -> None:
    """Markup and stray signs in titles, words, layers and codes stay text, and the element stays whole."""
    layer = Layer("EDGE", text, weight=0.35)
    root = drawn(Shape(layer, rectangle(0, 0, 9, 9), text), Words(layer, Point(1, 1), 2.0, text), title=text)
    assert {element.tag for element in root.iter()} <= {
        SVG + n for n in ("svg", "title", "desc", "g", "path", "text")
    }
    shown = [element.text for element in root.iter(SVG + "text")]
    assert shown == [" ".join("".join(c if c.isprintable() else " " for c in text).split())]


def test_ids_start_with_the_prefix() -> None:
    """Two drawings on a page share no id, and the title and description are those that the picture names."""
    sheet = Drawing("a drawing", (Shape(EDGE, rectangle(0, 0, 9, 9)),))
    ids = []
    for prefix in ("plan", "section-2"):
        root = ET.fromstring(inline_svg(sheet, prefix))
        own = [element.get("id") for element in root.iter() if element.get("id")]
        assert root.get("aria-labelledby", "").split() == own
        ids += own
    assert len(set(ids)) == len(ids) == 4


@pytest.mark.parametrize("prefix", ["", "9", "a b", 'a"b', "é"])
def test_a_prefix_that_is_no_id_is_refused(prefix: str) -> None:
    """An id that would break the element is an error, not a guess."""
    with pytest.raises(OutputError):
        inline_svg(Drawing("t", (Shape(EDGE, rectangle(0, 0, 9, 9)),)), prefix)


def test_layers_and_parts_are_groups() -> None:
    """Each layer is one group with its class and title, each part in it one group with its code; tones lie first."""
    tone = SHOWN.tones[0]
    marks = [Shape(EDGE, rectangle(k, 0, k + 1, 9), "AB"[k % 2]) for k in range(4)]
    root = drawn(*marks, Shape(tone, rectangle(0, 0, 9, 9), "A"), Stroke(EDGE, Line(Point(0, 0), Point(9, 9))))
    groups = root.findall(SVG + "g")
    assert [group.get("class", "").split()[1] for group in groups] == ["l-WOOD_LIGHT", "l-EDGE"]
    assert [group.find(SVG + "title").text for group in groups] == [tone.title, EDGE.title]  # type: ignore[union-attr]
    assert [part.get("data-part") for part in groups[1].findall(SVG + "g")] == ["A", "B"]


def test_paths_walk_the_outline_with_true_arcs() -> None:
    """A ring of lines and arcs comes back with its length, its corners to the last decimal, and its arcs as arcs."""
    ring = Outline((Vertex(0, 0), Vertex(80, 0, 0.4), Vertex(80, 50, -0.2), Vertex(13.37, 61.2), Vertex(0, 20)))
    root = drawn(Shape(EDGE, ring))
    path = parse_path(root.find(f".//{SVG}path").get("d"))  # type: ignore[union-attr]
    assert sum(isinstance(piece, Arc) for piece in path) == 2
    assert path.isclosed()
    assert path.length() == pytest.approx(ring.length, abs=0.05)
    for piece, vertex in zip(path, ring.vertices, strict=True):
        assert abs(piece.start - complex(vertex.x, -vertex.y)) < 0.01
    sweeps = [piece.sweep for piece in path if isinstance(piece, Arc)]
    assert sweeps == [False, True]


def test_a_circle_is_arcs() -> None:
    """A full circle is a closed walk of arcs with its circumference."""
    path = parse_path(drawn(Shape(EDGE, circle(5, 5, 30))).find(f".//{SVG}path").get("d"))  # type: ignore[union-attr]
    assert all(isinstance(piece, Arc) for piece in path)
    assert path.length() == pytest.approx(2 * 3.14159265 * 30, rel=1e-4)


def test_rounding_does_not_add_up() -> None:
    """The last corner of a walk of a thousand odd steps stands where it should."""
    points = [Point(k * 0.33333, (k % 7) * 1.11111) for k in range(1000)]
    root = drawn(*(Stroke(EDGE, Line(a, b)) for a, b in pairwise(points)))
    path = parse_path(root.find(f".//{SVG}path").get("d"))  # type: ignore[union-attr]
    assert abs(path[-1].end - complex(points[-1].x, -points[-1].y)) < 0.01


def test_numbers_are_short() -> None:
    """No number has more than three decimals, none is minus nought, and none is written with an exponent."""
    text = inline_svg(finished_drawing(table_of("towpath-side")), "t")
    numbers = re.findall(r"-?\d+\.?\d*(?:e-?\d+)?", "".join(re.findall(r' d="([^"]*)"', text)))
    assert len(numbers) > 500
    assert not [n for n in numbers if "e" in n or len(n.partition(".")[2]) > 3 or re.fullmatch(r"-0\.?0*", n)]


def test_the_view_holds_everything() -> None:
    """The view box reaches round every line and word, with y turned down."""
    root = drawn(Shape(EDGE, rectangle(-20, 30, 50, 90)), Words(EDGE, Point(60, 100), 5, "far out"))
    left, top, width, height = (float(v) for v in root.get("viewBox", "").split())
    assert left < -20 and top < -105 and left + width > 60 + 5 * 4 and top + height > -30


@pytest.mark.wide
def test_pictures_are_small() -> None:
    """A picture of the dining table takes less than 60 kB, a view of a part less than 12 kB."""
    assert len(inline_svg(finished_drawing(table_of("towpath-dining")), "t")) < 60_000
    for part in table_of("towpath-dining").parts:
        assert all(len(inline_svg(view.drawing, "t")) < 12_000 for view in face_views(part))


def test_the_style_knows_every_layer_class() -> None:
    """Every class that pictures and views use has a rule in the page's style, and every palette colour an ink."""
    style = drawing_style()
    used: set[str] = set()
    for drawing in (
        finished_drawing(table_of("towpath-side")),
        *(v.drawing for v in face_views(table_of("towpath-hex").parts[0])),
    ):
        for found in re.findall(r'class="l ([^"]*)"', inline_svg(drawing, "t")):
            used |= set(found.split()[1:])
    assert {name for name in used if f".{name}" not in style} <= {"t-continuous"}
    assert all(f"--d-{name}:" in style for name in PALETTE)


def luminance(colour: str) -> float:
    """Relative luminance by the sRGB formula."""
    parts = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize(("which", "paper"), [(0, "#ffffff"), (1, "#1b1b1b")])
def test_inks_read_on_their_paper(which: int, paper: str) -> None:
    """Every ink has a contrast of at least 3 to 1 against its paper, light and dark."""
    block = drawing_style().splitlines()[which]
    for name in PALETTE:
        ink = re.search(rf"--d-{name}:(#[0-9a-f]{{6}})", block)
        assert ink is not None
        low, high = sorted((luminance(ink[1]), luminance(paper)))
        assert (high + 0.05) / (low + 0.05) >= 3.0


def test_a_drawing_alone_brings_its_paper() -> None:
    """With its own style a drawing has white paper behind it and needs no variables."""
    text = inline_svg(Drawing("t", (Shape(EDGE, polygon(((0, 0), (9, 0), (4, 7)))),)), "t", style=alone_style())
    root = ET.fromstring(text)
    paper = root.find(SVG + "rect")
    assert paper is not None and paper.get("fill") == "#fff"
    assert "var(" not in text
