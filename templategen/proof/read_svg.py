"""Reads the lines and words of an SVG; paths by a library made for them.

Only what our drawings are made of is let through: whatever else could stand in the file would move, hide, cover or
repeat a line in some viewer.
"""

import re
from collections.abc import Mapping
from typing import Any
from xml.etree import ElementTree

from templategen.catalogue import translated, worded
from templategen.errors import Fault, OutputError
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import circle, outline_of
from templategen.geometry.point import Point
from templategen.proof.drawn import Drawn, Word, finite

SAME_SCALE = 1e-6
"""How far millimetres of the page and units of its box may differ, as a share."""

FORBIDDEN = (b"<!DOCTYPE", b"<!ENTITY", b"<?xml-", b"<![CDATA[")
"""What we never write: entities could be made to grow without end, style sheets hide lines."""

SVG = "{http://www.w3.org/2000/svg}"

LANGUAGE = "{http://www.w3.org/XML/1998/namespace}lang"
"""What words are in (XML 1.0, 2.12)."""

ALLOWED: Mapping[str, frozenset[str]] = {
    "svg": frozenset({LANGUAGE, "width", "height", "viewBox", "role", "version", "baseProfile"}),
    "title": frozenset(),
    "desc": frozenset(),
    "defs": frozenset(),
    "rect": frozenset({"x", "y", "width", "height", "fill", "stroke"}),
    "g": frozenset({"data-layer", "data-line-type", "fill", "stroke", "stroke-linejoin", "stroke-width",
                    "stroke-dasharray"}),
    "path": frozenset({"d"}),
    "circle": frozenset({"cx", "cy", "r"}),
    "text": frozenset({"x", "y", "font-size", "font-family", "text-anchor", "fill", "stroke", "transform"}),
}  # fmt: skip
"""Every element of our drawings, and what it may carry."""

INSIDE: Mapping[str, frozenset[str]] = {
    "svg": frozenset({"title", "desc", "defs", "rect", "g"}),
    "g": frozenset({"title", "desc", "path", "circle", "text"}),
}
"""What may stand in what."""

STEPS = re.compile(r"[MLAZ0-9.\s-]+")
TURN = re.compile(r"rotate\((\S+) (\S+) (\S+)\)")

DASHES: Mapping[str, tuple[float, ...]] = {
    "continuous": (),
    "dashed": (12, 3),
    "long-dash-dot": (24, 3, 0.5, 3),
    "long-dash-double-dot": (24, 3, 0.5, 3, 0.5, 3),
    "dotted": (0.5, 3),
}
"""Line types in line widths (ISO 128-2); other dashes could be so far apart that a line isn't seen."""

THINNEST, WIDEST = 0.05, 5.0
"""Line widths that can be seen and worked to, mm."""

CAPITAL_SHARE = 0.716
"""Height of a capital as a share of the font size in the plain sans-serif faces."""

FAINTEST = 0.85
"""Lines lighter than this share of white can't be seen on it (mean of the three channels)."""

ROUND_OFF = 2e-6
"""Two numbers of the file that are one may differ by so much."""


def read_svg(data: bytes) -> Drawn:
    """The lines and words, in mm, y up, layers by the groups' `data-layer`.

    Raises:
        OutputError: the text is no SVG as we write it, or not true to size.
    """
    try:
        for word in FORBIDDEN:
            if word in data:
                raise ValueError(worded("it holds {word}, which a drawing of ours never does", word=word.decode()))
        root = ElementTree.fromstring(data)
        _check(root, "")
        box = _check_scale(root)
        drawn = Drawn()
        for group in root.findall(f"{SVG}g"):
            _add_group(drawn, group)
        _check_shown(drawn, box)
        return drawn
    except (ElementTree.ParseError, ValueError, TypeError, LookupError, AttributeError, ArithmeticError) as trouble:
        raise OutputError(Fault("", worded("can't be read as SVG ({trouble})", trouble=trouble))) from trouble


def _check(element: ElementTree.Element, within: str) -> None:
    """The element and all in it are of the kinds that our drawings are made of."""
    name = str(element.tag).removeprefix(SVG)
    if name not in ALLOWED or (within and name not in INSIDE.get(within, ())):
        raise ValueError(
            worded(
                "an element {name} in {within}, which a drawing of ours never has",
                name=name,
                within=within or translated("the file"),
            )
        )
    extra = set(element.attrib) - ALLOWED[name]
    if extra:
        raise ValueError(worded("{name} has {extra}, which a drawing of ours never has", name=name, extra=min(extra)))
    for child in element:
        _check(child, name)


def _check_scale(root: ElementTree.Element) -> tuple[float, float, float, float]:
    """The box of coordinates, which white paper fills; a millimetre of the page is a unit of it."""
    left, top, *extents = _numbers(root.attrib["viewBox"].split())
    for name, extent in zip(("width", "height"), extents, strict=True):
        size = root.attrib[name]
        if not size.endswith("mm") or abs(finite(size[:-2]) / extent - 1) > SAME_SCALE:
            raise ValueError(
                worded(
                    "its {name} of {size} shows {extent:g} mm, so it isn't true to size",
                    name=name,
                    size=size,
                    extent=extent,
                )
            )
    box = (left, top, *extents)
    (paper,) = root.findall(f"{SVG}rect")
    first = next(child for child in root if child.tag in (f"{SVG}rect", f"{SVG}g"))
    white = paper.attrib["fill"].upper() == "#FFFFFF" and paper.attrib["stroke"] == "none"
    laid = _numbers(paper.attrib[name] for name in ("x", "y", "width", "height"))
    if first is not paper or not white or any(abs(a - b) > ROUND_OFF for a, b in zip(laid, box, strict=True)):
        raise ValueError(translated("its white paper isn't under all that is drawn"))
    return left, top, extents[0], extents[1]


def _check_shown(drawn: Drawn, box: tuple[float, float, float, float]) -> None:
    """Nothing is drawn past the paper's edge, where no viewer shows it."""
    left, top, width, height = box
    for edge in drawn.edges():
        own = edge.bounds
        if own.left < left or own.right > left + width or own.top > -top or own.bottom < -top - height:
            raise ValueError(translated("a line lies past the edge of the page"))


def _add_group(drawn: Drawn, group: ElementTree.Element) -> None:
    layer = group.attrib["data-layer"]
    if layer in drawn.layers:
        raise ValueError(worded("two groups of layer {layer}", layer=layer))
    _check_ink(group, layer)
    for element in group:
        kind = element.tag.removeprefix(SVG)
        if kind == "circle":
            x, y, radius = _numbers(element.attrib[name] for name in ("cx", "cy", "r"))
            if radius <= 0:
                raise ValueError(translated("a circle of no size"))
            drawn.rings[layer].append(circle(x, -y, radius))
        elif kind == "path":
            _add_path(drawn, layer, element.attrib["d"])
        elif kind == "text":
            drawn.words[layer].append(_word(element))


def _check_ink(group: ElementTree.Element, layer: str) -> None:
    """The layer's lines can be seen: their colour, width and dashes."""
    told = group.attrib
    width = finite(told["stroke-width"])
    dashes = _numbers(told.get("stroke-dasharray", "").split())
    wanted = [width * dash for dash in DASHES[told["data-line-type"]]]
    if told["fill"] != "none" or not THINNEST <= width <= WIDEST or not _is_seen(told["stroke"]):
        raise ValueError(worded("layer {layer} isn't drawn in lines that can be seen", layer=layer))
    if len(dashes) != len(wanted) or any(abs(a - b) > 0.01 for a, b in zip(dashes, wanted, strict=True)):
        raise ValueError(worded("layer {layer} isn't drawn in the line type it tells", layer=layer))


def _is_seen(colour: str) -> bool:
    if not re.fullmatch(r"#[0-9A-Fa-f]{6}", colour):
        return False
    return sum(int(colour[i : i + 2], 16) for i in (1, 3, 5)) <= 3 * 255 * FAINTEST


def _word(element: ElementTree.Element) -> Word:
    told = element.attrib
    x, y = _numbers((told["x"], told["y"]))
    turn = 0.0
    if "transform" in told:
        match = TURN.fullmatch(told["transform"])
        if match is None:
            raise ValueError(worded("words moved by {transform}", transform=told["transform"][:40]))
        turn, *about = _numbers(match.groups())
        if any(abs(a - b) > ROUND_OFF for a, b in zip(about, (x, y), strict=True)):
            raise ValueError(translated("words turned about another point than their own"))
    if not _is_seen(told["fill"]) or told["stroke"] != "none" or len(element):
        raise ValueError(translated("words that can't be seen"))
    height = finite(told["font-size"]) * CAPITAL_SHARE
    return Word(Point(x, -y), height, element.text or "", told["text-anchor"], -turn)


def _add_path(drawn: Drawn, layer: str, text: str) -> None:
    if not STEPS.fullmatch(text) or text.count("M") != 1 or text.count("Z") > text.endswith("Z"):
        raise ValueError(worded("a path of other steps than ours on {layer}", layer=layer))
    edges = path_edges(text)
    if text.endswith("Z"):
        drawn.rings[layer].append(outline_of(edges))
    else:
        drawn.strokes[layer].extend(edges)


def path_edges(text: str) -> list[Edge]:
    """The lines and arcs of one path, y up."""
    from svgelements import Arc as RoundStep
    from svgelements import Move, Path

    return [
        _round(step) if isinstance(step, RoundStep) else Line(_at(step.start), _at(step.end))
        for step in Path(text)
        if not isinstance(step, Move) and step.start != step.end
    ]


def _round(step: Any) -> Arc:
    if abs(step.rx - step.ry) > ROUND_OFF:
        raise ValueError(translated("an arc that isn't round"))
    return Arc(_at(step.start), _at(step.end), _at(step.center), float(step.rx), -float(step.sweep))


def _at(point: Any) -> Point:
    return Point(*_numbers((point.x, -point.y)))


def _numbers(texts: Any) -> list[float]:
    return [finite(text) for text in texts]
