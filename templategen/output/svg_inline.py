"""Inline SVG: a drawing as a compact element for a page, coloured by the page's own style sheet.

Each layer is a group of class `l-NAME`, each part in it a group with `data-part`; words stand in groups of their own
after all lines, which they interrupt, as figures on drawings do (ISO 129-1). Line widths stand in millimetres of
paper and don't grow with the picture; colours are CSS variables, so that light and dark pages both read.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from html import escape
from math import pi

from templategen.catalogue import translated
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words, words_of
from templategen.drawing.layer import Layer
from templategen.drawing.tidy import printable, tidied
from templategen.english import language, spelt, tag
from templategen.errors import Fault, OutputError
from templategen.geometry.bounds import Bounds
from templategen.output.numbers import digits
from templategen.output.svg import CAPITAL_SHARE
from templategen.output.svg_path import ShortPath, short_ring

WIDER = 1.25
"""Room for words in faces that run wider than ours; a page can't know which it is shown in."""

FONT = "system-ui,sans-serif"


def inline_svg(drawing: Drawing, prefix: str, style: str = "", projected: bool = False) -> str:
    """The element. `prefix` starts every id, which are so told apart from those of other drawings on the page;
    `style` is a style sheet to go inside, where the drawing stands alone. A `projected` picture of solids needs no
    tidying: its lines are found from finished parts, each once.

    Raises:
        OutputError: a coordinate is no number, nothing is drawn, or the prefix can't start an id.
    """
    if not (prefix.isascii() and prefix[:1].isalpha() and prefix.replace("-", "").isalnum()):
        raise OutputError(Fault(printable(prefix) or "prefix", "can't start the id of an element", "use letters"))
    sheet = drawing if projected else tidied(drawing)
    box = _paper(sheet)
    places = _places(max(box.width, box.height))
    view = tuple(digits(value, places) for value in (box.left, -box.top, box.width, box.height))
    spoken = f' lang="{tag(of_catalogue=True)}"' if language() != "english" else ""
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" role="img"{spoken} viewBox="{" ".join(view)}" '
        f'aria-labelledby="{prefix}-t {prefix}-d" font-family="{FONT}">'
        f'<title id="{prefix}-t">{_safe(sheet.title)}</title><desc id="{prefix}-d">'
        f"{_safe(_description(sheet))}</desc>{_alone(style, *view) if style else ''}"
    )
    marks: dict[str, list[Mark]] = defaultdict(list)
    for mark in sheet.marks:
        marks[mark.layer.name].append(mark)
    layers = _order(sheet)
    lines = "".join(
        _layer_group(layer, [one for one in marks[layer.name] if not isinstance(one, Words)], places)
        for layer in layers
    )
    words = "".join(_layer_group(layer, words_of(marks[layer.name]), places) for layer in layers)
    return f"{head}{lines}{words}</svg>"


def _alone(style: str, x: str, y: str, width: str, height: str) -> str:
    """The style sheet and white paper of a drawing that stands alone, so that dark viewers show dark lines."""
    return f'<style>{style}</style><rect x="{x}" y="{y}" width="{width}" height="{height}" fill="#fff"/>'


def _paper(sheet: Drawing) -> Bounds:
    words = (replace(words, height=words.height * WIDER).box for words in words_of(sheet.marks))
    box = Bounds.around((sheet.bounds, *words))
    return box.grown(max(box.width, box.height) / 100)


def _places(extent: float) -> int:
    """Decimals that tell a ten thousandth of the whole apart: one for a table, three for a detail."""
    return 1 if extent > 500 else 2 if extent > 50 else 3


def _order(sheet: Drawing) -> list[Layer]:
    """Tones lie under lines."""
    return sorted(sheet.layers, key=lambda layer: not layer.filled)


def _description(sheet: Drawing) -> str:
    return "; ".join(dict.fromkeys(translated(layer.title) for layer in sheet.layers)) + "."


def _layer_group(layer: Layer, marks: Sequence[Mark], places: int) -> str:
    """A layer's lines or its words: what belongs to no part, then each part in a group of its own."""
    if not marks:
        return ""
    parts: dict[str, list[Mark]] = defaultdict(list)
    for mark in marks:
        parts[mark.part].append(mark)
    body = "".join(_part_group(part, own, places) for part, own in sorted(parts.items()))
    return (
        f'<g class="l l-{_safe(layer.name)} {_kind(layer)}"><title>{_safe(translated(layer.title))}</title>{body}</g>'
    )


def _kind(layer: Layer) -> str:
    """The classes by which the page's style draws the layer."""
    if layer.filled:
        return f"tone c-{layer.colour}"
    return f"c-{layer.colour} t-{layer.line_type} w{round(layer.weight * 100)}"


def _part_group(part: str, marks: Sequence[Mark], places: int) -> str:
    pen = _InlinePen(places)
    for mark in marks:
        mark.draw(pen)
    body, code = pen.text, _safe(part)
    return f'<g data-part="{code}"><title>{code}</title>{body}</g>' if part else body


class _InlinePen:
    """Lines of one layer and part are one path, so are its outlines; words stand after them.

    Strokes that go on where the one before ends are one walk.
    """

    def __init__(self, places: int) -> None:
        self._places = places
        self._walks: list[str | ShortPath] = []
        self._words: list[str] = []
        self._last: Stroke | None = None

    def ring(self, shape: Shape) -> None:
        self._last = None
        self._walks.append(short_ring(shape.outline, self._places))

    def stroke(self, stroke: Stroke) -> None:
        walk = self._walks[-1] if self._last and self._last.edge.end == stroke.edge.start else None
        if not isinstance(walk, ShortPath):
            walk = ShortPath(stroke.edge.start, self._places)
            self._walks.append(walk)
        stroke.edge.walk(walk)
        self._last = stroke

    def words(self, words: Words) -> None:
        self._last = None
        x, y = digits(words.at.x, self._places), digits(-words.at.y, self._places)
        anchor = "" if words.anchor == "start" else f' text-anchor="{words.anchor}"'
        turn = f' transform="rotate({digits(-words.turn * 180 / pi, 2)} {x} {y})"' if words.turn else ""
        size = digits(words.height / CAPITAL_SHARE, 2)
        self._words.append(f'<text x="{x}" y="{y}" font-size="{size}"{anchor}{turn}>{_safe(words.text)}</text>')

    @property
    def text(self) -> str:
        """All elements."""
        walks = "".join(walk if isinstance(walk, str) else walk.text for walk in self._walks)
        return (f'<path d="{walks}"/>' if walks else "") + "".join(self._words)


def _safe(text: str) -> str:
    return escape(printable(spelt(text)), quote=True)
