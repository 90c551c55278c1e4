"""Reads the lines of an SVG by a path library; the size of the page is held against its box of coordinates."""

from __future__ import annotations

from math import isfinite
from typing import Any
from xml.etree import ElementTree

from templategen.errors import Fault, OutputError
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import circle, outline_of
from templategen.geometry.point import Point
from templategen.proof.drawn import Drawn

SAME_SCALE = 1e-6
"""How far millimetres of the page and units of its box may differ, as a share."""

DOCTYPE = b"<!DOCTYPE"
"""What we write has none, and entities it declares could be made to grow without end."""


def read_svg(data: bytes) -> Drawn:
    """The lines, in mm, y up, layers by the groups' `data-layer`.

    Raises:
        OutputError: the text is no SVG, or not true to size.
    """
    if DOCTYPE in data:
        raise OutputError(Fault("", "declares entities, which a drawing of ours never does"))
    try:
        root = ElementTree.fromstring(data)
        _check_scale(root)
        drawn = Drawn()
        for group in root.iter("{http://www.w3.org/2000/svg}g"):
            layer = group.get("data-layer")
            if layer:
                _add_group(drawn, layer, group)
        return drawn
    except (ElementTree.ParseError, ValueError, TypeError, LookupError, AttributeError, ArithmeticError) as trouble:
        raise OutputError(Fault("", f"can't be read as SVG ({trouble})")) from trouble


def _check_scale(root: ElementTree.Element) -> None:
    _, _, *box = (float(text) for text in root.attrib["viewBox"].split())
    for name, extent in zip(("width", "height"), box, strict=True):
        size = root.attrib[name]
        if not size.endswith("mm") or abs(float(size[:-2]) / extent - 1) > SAME_SCALE:
            raise ValueError(f"its {name} of {size} shows {extent:g} mm, so it isn't true to size")


def _add_group(drawn: Drawn, layer: str, group: ElementTree.Element) -> None:
    for element in group:
        kind = element.tag.rpartition("}")[2]
        if kind == "circle":
            x, y, radius = (float(element.attrib[name]) for name in ("cx", "cy", "r"))
            drawn.add_ring(layer, circle(x, -y, radius))
        elif kind == "path":
            _add_path(drawn, layer, element.attrib["d"])


def _add_path(drawn: Drawn, layer: str, text: str) -> None:
    from svgelements import Arc as RoundStep
    from svgelements import Close, Move, Path

    edges: list[Edge] = []
    closed = False
    for step in Path(text):
        if isinstance(step, Close):
            closed = True
        if not isinstance(step, Move) and step.start != step.end:
            edges.append(_round(step) if isinstance(step, RoundStep) else Line(_at(step.start), _at(step.end)))
    if closed:
        drawn.add_ring(layer, outline_of(edges))
    else:
        drawn.edges[layer].extend(edges)


def _round(step: Any) -> Arc:
    return Arc(_at(step.start), _at(step.end), _at(step.center), float(step.rx), -float(step.sweep))


def _at(point: Any) -> Point:
    x, y = float(point.x), -float(point.y)
    if not (isfinite(x) and isfinite(y)):
        raise ValueError("a coordinate that is no number")
    return Point(x, y)
