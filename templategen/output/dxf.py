"""The DXF writer: a drawing as the bytes of one file, true size, for any of four versions of the format.

Closed contours are LWPOLYLINE with bulge (POLYLINE in R12), full circles CIRCLE, strokes LINE or ARC,
words TEXT. The header says unit and exact extents.
"""

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
from typing import Any, Literal

from templategen.drawing.drawing import Drawing, Shape, Stroke, Words
from templategen.drawing.layer import DASHES, PALETTE, Layer
from templategen.drawing.tidy import tidied
from templategen.english import spelt
from templategen.errors import Fault, OutputError
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Arc, Line
from templategen.geometry.point import Point
from templategen.output.numbers import rounded

Version = Literal["R12", "R2000", "R2010", "R2018"]
Units = Literal["mm", "in"]

ASCII_ONLY: tuple[Version, ...] = ("R12", "R2000")
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

DASH_WIDTH = 0.5
"""The line types are for lines so wide, mm."""


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
        sheet.draw(_DxfPen(document.modelspace(), version, scale))
        stream = StringIO()
        document.write(stream)
    return stream.getvalue().encode("ascii" if version in ASCII_ONLY else "utf-8")


def _library() -> Any:
    """The DXF library, loaded without its settings and without its font cache in the home folder."""
    if "ezdxf" not in sys.modules:
        with _no_settings_files(), _own_environment():
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
def _own_environment() -> Iterator[None]:
    """None of the library's variables, and for its folders one of ours, whose list of fonts is empty: no text is
    measured here, so the machine isn't searched, and nothing is written."""
    own = dict.fromkeys(("XDG_CACHE_HOME", "XDG_CONFIG_HOME"), str(Path(__file__).parent))
    before = {name: value for name, value in os.environ.items() if name in own or name.startswith("EZDXF_")}
    for name in before:
        del os.environ[name]
    os.environ.update(own)
    try:
        yield
    finally:
        for name in own:
            del os.environ[name]
        os.environ.update(before)


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
    name = layer.line_type.upper().replace("-", "_")
    if not document.linetypes.has_entry(name):
        shares = DASHES[layer.line_type]
        lengths = [rounded((-1) ** i * share * DASH_WIDTH * scale, PLACES) for i, share in enumerate(shares)]
        total = rounded(sum(abs(length) for length in lengths), PLACES)
        document.linetypes.add(name, [total, *lengths], description=layer.line_type)
    return name


class _DxfPen:
    """Adds each mark to the model space, every length times `scale`; a track, too, along which a stroke is added."""

    def __init__(self, space: Any, version: Version, scale: float) -> None:
        self._space, self._scale = space, scale
        self._ring = space.add_polyline2d if version == "R12" else space.add_lwpolyline
        self._ascii_only = version in ASCII_ONLY
        self._layer = {"layer": ""}

    def ring(self, shape: Shape) -> None:
        self._layer = {"layer": shape.layer.name}
        round_one = shape.outline.circle
        if round_one is not None:
            self._space.add_circle(self._at(round_one[0]), self._size(round_one[1]), dxfattribs=self._layer)
            return
        corners = [(self._size(v.x), self._size(v.y), rounded(v.bulge, BULGE_PLACES)) for v in shape.outline]
        self._ring(corners, format="xyb", close=True, dxfattribs=self._layer)

    def stroke(self, stroke: Stroke) -> None:
        self._layer = {"layer": stroke.layer.name}
        stroke.edge.walk(self)

    def line(self, line: Line) -> None:
        self._space.add_line(self._at(line.start), self._at(line.end), dxfattribs=self._layer)

    def arc(self, arc: Arc) -> None:
        walk = arc if arc.sweep > 0 else arc.reversed
        first = rounded(degrees(walk.start_angle) % 360, PLACES)
        last = rounded((first + degrees(walk.sweep)) % 360, PLACES)
        self._space.add_arc(self._at(arc.centre), self._size(arc.radius), first, last, dxfattribs=self._layer)

    def words(self, words: Words) -> None:
        from ezdxf.enums import TextEntityAlignment as Alignment

        ends = {"start": Alignment.LEFT, "middle": Alignment.CENTER, "end": Alignment.RIGHT}
        text = self._space.add_text(
            escaped(spelt(words.text), self._ascii_only),
            height=self._size(words.height),
            rotation=rounded(degrees(words.turn), PLACES),
            dxfattribs={"layer": words.layer.name},
        )
        text.set_placement(self._at(words.at), align=ends[words.anchor])

    def _at(self, point: Point) -> tuple[float, float]:
        return self._size(point.x), self._size(point.y)

    def _size(self, length: float) -> float:
        return rounded(length * self._scale, PLACES)


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
