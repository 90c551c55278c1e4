"""The SVG writer, read back by svgpathtools and as plain XML."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest

from templategen.drawing.drawing import Drawing, Shape, Stroke, Words
from templategen.drawing.layer import PALETTE, Layer
from templategen.drawing.layers import THROUGH_OUTSIDE
from templategen.drawing.part_sheet import part_drawing
from templategen.errors import OutputError
from templategen.geometry.edge import Line
from templategen.geometry.outline import circle, rectangle
from templategen.geometry.point import Point
from templategen.output.svg import svg_text
from tests.drawing import samples

NS = {"s": "http://www.w3.org/2000/svg"}
PARTS = {make.__name__: make() for make in samples.ALL}
DRAWINGS = {name: part_drawing(part, "Towpath table") for name, part in PARTS.items()}
TEXTS = {name: svg_text(drawing) for name, drawing in DRAWINGS.items()}
every_part = pytest.mark.parametrize("name", PARTS)


def root(text: str) -> ElementTree.Element:
    return ElementTree.fromstring(text.encode())


def group(text: str, layer: str) -> ElementTree.Element:
    (found,) = [g for g in root(text).findall("s:g", NS) if g.get("data-layer") == layer]
    return found


@every_part
def test_paths_measure_what_the_outline_measures(name: str) -> None:
    """svgpathtools finds the outline's corners with y turned round, its true arcs and its length."""
    svgpathtools = pytest.importorskip("svgpathtools")
    (element,) = group(TEXTS[name], "THROUGH_OUTSIDE").findall("s:path", NS)
    path = svgpathtools.parse_path(element.attrib["d"])
    outline = PARTS[name].outline
    assert len(path) == len(outline)
    for piece, edge in zip(path, outline.edges, strict=True):
        assert (piece.start.real, -piece.start.imag) == pytest.approx(edge.start, abs=1e-6)
        middle = piece.point(0.5)
        assert (middle.real, -middle.imag) == pytest.approx(edge.point_at(0.5), abs=2e-6)
    assert path.length() == pytest.approx(outline.length, abs=1e-5)
    assert element.attrib["d"].endswith("Z")


@every_part
def test_the_paper_is_true_to_size(name: str) -> None:
    """Width and height in millimetres are the viewBox's own, and it holds every line."""
    top = root(TEXTS[name])
    left, low, width, height = (float(value) for value in top.attrib["viewBox"].split())
    assert (top.attrib["width"], top.attrib["height"]) == (f"{width:g}mm", f"{height:g}mm") or (
        float(top.attrib["width"].removesuffix("mm")),
        float(top.attrib["height"].removesuffix("mm")),
    ) == (width, height)
    box = DRAWINGS[name].bounds
    assert left < box.left
    assert left + width > box.right
    assert low < -box.top
    assert low + height > -box.bottom


@every_part
def test_each_layer_is_a_group_with_a_title(name: str) -> None:
    """One group for each layer, titled with its name and what it asks, in its colour and line type."""
    groups = root(TEXTS[name]).findall("s:g", NS)
    assert [g.get("data-layer") for g in groups] == [layer.name for layer in DRAWINGS[name].layers]
    for g, layer in zip(groups, DRAWINGS[name].layers, strict=True):
        assert g.findtext("s:title", namespaces=NS) == f"{layer.name}: {layer.title}"
        assert g.get("stroke") == PALETTE[layer.colour]
        assert (g.get("stroke-dasharray") is None) == (layer.line_type == "continuous")
        assert float(g.attrib["stroke-width"]) == layer.weight


@every_part
def test_every_number_has_fixed_digits(name: str) -> None:
    """No number has more than six decimals, an exponent, or is minus nought."""
    for element in root(TEXTS[name]).iter():
        for key, value in element.attrib.items():
            if key in ("d", "x", "y", "cx", "cy", "r", "viewBox", "font-size", "stroke-width", "transform"):
                for number in re.findall(r"-?\d[\d.e+-]*", value):
                    assert re.fullmatch(r"-?\d+(\.\d{1,6})?", number), value
                    assert float(number) != 0 or number == "0"


def test_no_transform_moves_geometry() -> None:
    """Only text is turned; lines stand at their own coordinates."""
    for text in TEXTS.values():
        turned = [e.tag for e in root(text).iter() if "transform" in e.attrib]
        assert set(turned) <= {"{http://www.w3.org/2000/svg}text"}
        assert "vector-effect" not in text


def test_readers_are_told_what_it_is() -> None:
    """The document has a title and a description that names the layers, and a white ground."""
    top = root(TEXTS["slat"])
    assert top.findtext("s:title", namespaces=NS) == "Towpath table SL-3"
    assert "TOP_TONGUE_5_05MM" in (top.findtext("s:desc", namespaces=NS) or "")
    ground = top.find("s:rect", NS)
    assert ground is not None
    assert ground.get("fill") == "#FFFFFF"


@pytest.mark.parametrize("title", ["<script>alert(1)</script>&\"'", "a\x00\x0b\ud800\ufffe\nb", "]]>", "&#0;"])
def test_no_title_breaks_the_document(title: str) -> None:
    """Markup is escaped, letters XML can't hold are dropped, the document still parses."""
    part = replace(PARTS["slat"], name=title, notes=(title,))
    top = root(svg_text(part_drawing(part, title, title)))
    assert not [e for e in top.iter() if e.tag.endswith("script")]
    wanted = " ".join("".join(c if c.isprintable() else " " for c in title).split())
    assert any(wanted in (e.text or "") for e in top.iter("{http://www.w3.org/2000/svg}text"))


def test_the_same_drawing_gives_the_same_text() -> None:
    """Two runs are equal to the letter."""
    assert all(svg_text(drawing) == TEXTS[name] for name, drawing in DRAWINGS.items())


def test_a_small_drawing_whole() -> None:
    """The whole text of a square, a circle, a dashed line and a word."""
    thin = Layer("HIDDEN", "behind", "blue", "dashed", 0.25)
    marks = (
        Shape(THROUGH_OUTSIDE, rectangle(0, 0, 20, 10)),
        Shape(THROUGH_OUTSIDE, circle(10, 5, 2.5)),
        Stroke(thin, Line(Point(0, 5), Point(20, 5))),
    )
    text = svg_text(Drawing("square", marks))
    assert '<path d="M 0 0 L 20 0 L 20 -10 L 0 -10 L 0 0 Z" />' in text
    assert '<circle cx="10" cy="-5" r="2.5" />' in text
    assert '<path d="M 0 -5 L 20 -5" />' in text
    assert 'viewBox="-5 -15 30 20"' in text
    assert 'height="20mm"' in text
    assert 'stroke-dasharray="3 0.75"' in text


def test_half_circles_keep_their_middle() -> None:
    """An arc of half a circle is split so that rounding can't move its middle."""
    svgpathtools = pytest.importorskip("svgpathtools")
    from templategen.geometry.outline import Outline
    from templategen.geometry.point import Vertex

    slot = Outline((Vertex(0, 0), Vertex(100, 0, 1), Vertex(100, 2 * 11.1234567), Vertex(0, 2 * 11.1234567, 1)))
    text = svg_text(Drawing("slot", (Shape(THROUGH_OUTSIDE, slot),)))
    (element,) = group(text, "THROUGH_OUTSIDE").findall("s:path", NS)
    path = svgpathtools.parse_path(element.attrib["d"])
    reach = max(piece.point(i / 50).real for piece in path for i in range(51))
    assert reach == pytest.approx(100 + 11.1234567, abs=1e-5)


def test_what_is_no_number_is_refused() -> None:
    """NaN raises our error."""
    with pytest.raises(OutputError, match="no number"):
        svg_text(Drawing("t", (Stroke(THROUGH_OUTSIDE, Line(Point(0, float("nan")), Point(5, 5))),)))


def test_text_stays_on_the_paper(tmp_path: Path) -> None:
    """The paper grows for words that reach past the lines."""
    long = Words(Layer("TEXT", "words"), Point(0, 0), 5, "w" * 80)
    top = root(svg_text(Drawing("t", (Shape(THROUGH_OUTSIDE, circle(0, 0, 5)), long))))
    assert float(top.attrib["viewBox"].split()[2]) > 80 * 5 * 0.8
