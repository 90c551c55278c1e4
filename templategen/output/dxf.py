"""The DXF writer: a drawing as the bytes of one file, true size, for any of four versions of the format.

Closed contours are LWPOLYLINE with bulge (POLYLINE in R12), full circles CIRCLE, strokes LINE or ARC,
words TEXT. The header says unit and exact extents.
"""

from __future__ import annotations

import logging
import os
import re
import sys
from collections.abc import Callable, Iterator
from configparser import ConfigParser
from contextlib import contextmanager
from io import StringIO
from math import degrees
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Literal

from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words
from templategen.drawing.layer import PALETTE, Layer, LineType
from templategen.drawing.tidy import tidied
from templategen.errors import Fault, OutputError
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.output.numbers import rounded

Version = Literal["R12", "R2000", "R2010", "R2018"]
Units = Literal["mm", "in"]

MM_PER_INCH = 25.4
PLACES = 10
BULGE_PLACES = 15
LONGEST_TEXT = 250
"""Characters of a line of text as written; R12 readers stop at 255."""

LAYER_NAME = re.compile(r"[A-Z0-9_-]{1,31}")

COLOUR_NUMBERS = {
    "black": 7,
    "orange": 40,
    "sky": 151,
    "green": 122,
    "yellow": 2,
    "blue": 152,
    "vermilion": 20,
    "purple": 231,
}
"""The numbered colour nearest in hue, for readers without true colour; 7 turns white on black by itself."""

DASHES: dict[LineType, tuple[str, tuple[float, ...]]] = {
    "dashed": ("DASHED", (6.0, -1.5)),
    "long-dash-dot": ("LONG_DASH_DOT", (12.0, -1.5, 0.25, -1.5)),
    "long-dash-double-dot": ("LONG_DASH_DOUBLE_DOT", (12.0, -1.5, 0.25, -1.5, 0.25, -1.5)),
    "dotted": ("DOTTED", (0.25, -1.5)),
}
"""ISO 128-2 line types for a line 0.5 mm wide: dash 12 d, long dash 24 d, dot 0.5 d, gap 3 d; mm."""


def dxf_bytes(drawing: Drawing, version: Version = "R2000", units: Units = "mm") -> bytes:
    """The file. In inches every length is divided by 25.4 and the header says so (R12 has no place for it).

    Raises:
        OutputError: a coordinate is no number, a layer's name can't be written, nothing is drawn.
    """
    sheet = tidied(drawing)
    scale = 1 / MM_PER_INCH if units == "in" else 1.0
    ezdxf = _library()
    with _same_bytes(ezdxf):
        document = ezdxf.new(version, units=_unit_number(version, units))
        _set_header(document, version, units, sheet.bounds, scale)
        for layer in sheet.layers:
            _add_layer(document, layer, scale)
        space = document.modelspace()
        for mark in sheet.marks:
            _add_mark(space, mark, version, scale)
        stream = StringIO()
        document.write(stream)
    return stream.getvalue().encode("ascii" if version in ("R12", "R2000") else "utf-8")


def _library() -> Any:
    """The DXF library, loaded without its settings files and without its font cache in the home folder."""
    if "ezdxf" not in sys.modules:
        with TemporaryDirectory() as folder, _no_settings_files(), _cache_in(folder):
            import ezdxf
    import ezdxf

    return ezdxf


@contextmanager
def _no_settings_files() -> Iterator[None]:
    read: Callable[..., list[str]] = ConfigParser.read
    ConfigParser.read = lambda *_, **__: []  # type: ignore[method-assign]
    try:
        yield
    finally:
        ConfigParser.read = read  # type: ignore[assignment, method-assign]


@contextmanager
def _cache_in(folder: str) -> Iterator[None]:
    """An empty list of fonts to find instead of a search through the machine: no text is measured here."""
    cache = Path(folder) / "ezdxf" / "font_manager_cache.json"
    cache.parent.mkdir()
    cache.write_text('{"version": 2, "font-faces": []}', encoding="utf-8")
    before = os.environ.get("XDG_CACHE_HOME")
    os.environ["XDG_CACHE_HOME"] = folder
    try:
        yield
    finally:
        if before is None:
            del os.environ["XDG_CACHE_HOME"]
        else:
            os.environ["XDG_CACHE_HOME"] = before


@contextmanager
def _same_bytes(ezdxf: Any) -> Iterator[None]:
    """Fixed dates and identifiers, so that one drawing always gives the same file; no log lines."""
    options, log = ezdxf.options, logging.getLogger("ezdxf")
    before, level = options.write_fixed_meta_data_for_testing, log.level
    options.write_fixed_meta_data_for_testing = True
    log.setLevel(logging.ERROR)
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before
        log.setLevel(level)


def _unit_number(version: Version, units: Units) -> int:
    if version == "R12":
        return 0
    return 1 if units == "in" else 4


def _set_header(document: Any, version: Version, units: Units, box: Bounds, scale: float) -> None:
    low = (rounded(box.left * scale, PLACES), rounded(box.bottom * scale, PLACES), 0.0)
    high = (rounded(box.right * scale, PLACES), rounded(box.top * scale, PLACES), 0.0)
    document.header["$EXTMIN"], document.header["$EXTMAX"] = low, high
    space = document.modelspace()
    if version != "R12":
        document.header["$MEASUREMENT"] = 0 if units == "in" else 1
    space.reset_extents(low, high)
    document.set_modelspace_vport(
        height=max(box.height, box.width / 1.5) * scale * 1.05,
        center=(rounded(box.centre.x * scale, PLACES), rounded(box.centre.y * scale, PLACES)),
    )


def _add_layer(document: Any, layer: Layer, scale: float) -> None:
    if not LAYER_NAME.fullmatch(layer.name):
        raise OutputError(
            Fault("layer", f"{layer.name!r} can't be a layer's name", "use A-Z, 0-9, _ and -, up to 31")
        )
    new = document.layers.add(
        layer.name, color=COLOUR_NUMBERS.get(layer.colour, 7), linetype=_line_type(document, layer, scale)
    )
    new.dxf.lineweight = round(layer.weight * 100)
    if layer.colour in PALETTE and layer.colour != "black":
        code = PALETTE[layer.colour]
        new.rgb = int(code[1:3], 16), int(code[3:5], 16), int(code[5:7], 16)


def _line_type(document: Any, layer: Layer, scale: float) -> str:
    if layer.line_type == "continuous":
        return "CONTINUOUS"
    name, dashes = DASHES[layer.line_type]
    if not document.linetypes.has_entry(name):
        lengths = [rounded(dash * scale, PLACES) for dash in dashes]
        total = rounded(sum(abs(length) for length in lengths), PLACES)
        document.linetypes.add(name, [total, *lengths], description=layer.line_type)
    return name


def _add_mark(space: Any, mark: Mark, version: Version, scale: float) -> None:
    attributes = {"layer": mark.layer.name}
    if isinstance(mark, Words):
        _add_words(space, mark, version, scale)
    elif isinstance(mark, Stroke):
        _add_stroke(space, mark, scale)
    elif (round_one := mark.outline.circle) is not None:
        (x, y), radius = round_one
        at = rounded(x * scale, PLACES), rounded(y * scale, PLACES)
        space.add_circle(at, rounded(radius * scale, PLACES), dxfattribs=attributes)
    else:
        add = space.add_polyline2d if version == "R12" else space.add_lwpolyline
        add(_corners(mark, scale), format="xyb", close=True, dxfattribs=attributes)


def _corners(shape: Shape, scale: float) -> list[tuple[float, float, float]]:
    return [
        (rounded(v.x * scale, PLACES), rounded(v.y * scale, PLACES), rounded(v.bulge, BULGE_PLACES))
        for v in shape.outline
    ]


def _add_stroke(space: Any, stroke: Stroke, scale: float) -> None:
    edge, attributes = stroke.edge, {"layer": stroke.layer.name}
    if isinstance(edge, Line):
        ends = [(rounded(p.x * scale, PLACES), rounded(p.y * scale, PLACES)) for p in (edge.start, edge.end)]
        space.add_line(*ends, dxfattribs=attributes)
        return
    walk = edge if edge.sweep > 0 else edge.reversed
    first = rounded(degrees(walk.start_angle) % 360, PLACES)
    space.add_arc(
        (rounded(edge.centre.x * scale, PLACES), rounded(edge.centre.y * scale, PLACES)),
        rounded(edge.radius * scale, PLACES),
        first,
        rounded((first + degrees(walk.sweep)) % 360, PLACES),
        dxfattribs=attributes,
    )


def _add_words(space: Any, words: Words, version: Version, scale: float) -> None:
    from ezdxf.enums import TextEntityAlignment

    align = {
        "start": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "end": TextEntityAlignment.RIGHT,
    }[words.anchor]
    text = space.add_text(
        escaped(words.text, ascii_only=version in ("R12", "R2000")),
        height=rounded(words.height * scale, PLACES),
        rotation=rounded(degrees(words.turn), PLACES),
        dxfattribs={"layer": words.layer.name},
    )
    at = rounded(words.at.x * scale, PLACES), rounded(words.at.y * scale, PLACES)
    text.set_placement(at, align=align)


def escaped(text: str, ascii_only: bool) -> str:
    """The text with nothing a reader takes for a command, other letters as \\U+XXXX where asked."""
    plain = re.sub(r"%(?=%)", "% ", text).replace("^", "^ ").replace("\\U+", "\\ U+").replace("\\M+", "\\ M+")
    written = ""
    for letter in plain:
        code = ord(letter)
        new = letter if code < 128 or not ascii_only else f"\\U+{code:04X}" if code < 0x10000 else "?"
        if len(written) + len(new) > LONGEST_TEXT:
            break
        written += new
    return written
