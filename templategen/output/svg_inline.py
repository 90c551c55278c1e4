"""Inline SVG: a drawing as a compact element for a page, coloured by the page's own style sheet.

Each layer is a group of class `l-NAME`, each part in it a group with `data-part`. Line widths stand in millimetres of
paper and don't grow with the picture; colours are CSS variables, so that light and dark pages both read.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from html import escape
from itertools import groupby
from math import pi

from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.drawing.lettering import text_box
from templategen.drawing.tidy import printable, tidied
from templategen.errors import Fault, OutputError
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import Outline
from templategen.output.numbers import digits

CAPITAL_SHARE = 0.716
"""Height of a capital as a share of the font size in the plain sans-serif faces."""

WIDER = 1.25
"""Room for words in faces that run wider than ours; a page can't know which it is shown in."""

MOST_TURN = 2 * pi / 3
"""Arcs that turn further are written as two."""

FONT = "system-ui,sans-serif"


@dataclass(frozen=True, slots=True)
class _Pen:
    """How numbers are written: `places` decimals, about the drawing's own origin."""

    places: int

    def number(self, value: float) -> str:
        return digits(value, self.places)

    @property
    def fine(self) -> int:
        """How many of the last decimal make one."""
        return int(10**self.places)

    def move(self, across: int, down: int) -> str:
        """Two whole numbers of the last decimal; a minus sign parts them by itself."""
        second = _told(down, self.places)
        return f"{_told(across, self.places)}{'' if second.startswith('-') else ' '}{second}"


@lru_cache(maxsize=1 << 16)
def _told(count: int, places: int) -> str:
    """So many of the last decimal as a number."""
    whole, rest = divmod(abs(count), 10**places)
    text = f"{whole}.{rest:0{places}d}".rstrip("0").rstrip(".")
    return f"-{text}" if count < 0 else text


def inline_svg(drawing: Drawing, prefix: str, description: str = "", style: str = "", projected: bool = False) -> str:
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
    pen = _Pen(_places(max(box.width, box.height)))
    view = " ".join(pen.number(value) for value in (box.left, -box.top, box.width, box.height))
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" role="img" viewBox="{view}" '
        f'aria-labelledby="{prefix}-t {prefix}-d" font-family="{FONT}">'
        f'<title id="{prefix}-t">{_safe(sheet.title)}</title><desc id="{prefix}-d">'
        f"{_safe(description or _description(sheet))}</desc>{_alone(style, box, pen) if style else ''}"
    )
    marks: dict[str, list[Mark]] = defaultdict(list)
    for mark in sheet.marks:
        marks[mark.layer.name].append(mark)
    groups = (_layer_group(layer, marks[layer.name], pen) for layer in _order(sheet))
    return head + "".join(groups) + "</svg>"


def _alone(style: str, box: Bounds, pen: _Pen) -> str:
    """The style sheet and white paper of a drawing that stands alone, so that dark viewers show dark lines."""
    x, y, width, height = (pen.number(value) for value in (box.left, -box.top, box.width, box.height))
    return f'<style>{style}</style><rect x="{x}" y="{y}" width="{width}" height="{height}" fill="#fff"/>'


def _paper(sheet: Drawing) -> Bounds:
    words = (mark for mark in sheet.marks if isinstance(mark, Words))
    boxes = [_ends_box(sheet), *(text_box(replace(mark, height=mark.height * WIDER)) for mark in words)]
    box = Bounds.around(boxes)
    return box.grown(max(box.width, box.height) / 100)


def _ends_box(sheet: Drawing) -> Bounds:
    """The box of all lines; many are straight, of which the ends say all."""
    lines = [mark.edge for mark in sheet.marks if isinstance(mark, Stroke)]
    ends = [point for edge in lines if isinstance(edge, Line) for point in (edge.start, edge.end)]
    rings = [mark.outline for mark in sheet.marks if isinstance(mark, Shape)]
    ends += [vertex.point for ring in rings for vertex in ring]
    round_ones = [edge.bounds for edge in lines if isinstance(edge, Arc)]
    round_ones += [ring.bounds for ring in rings if any(vertex.bulge for vertex in ring)]
    xs, ys = [point.x for point in ends], [point.y for point in ends]
    straight = [Bounds(min(xs), min(ys), max(xs), max(ys))] if ends else []
    return Bounds.around([*straight, *round_ones])


def _places(extent: float) -> int:
    """Decimals that tell a ten thousandth of the whole apart: one for a table, three for a detail."""
    return 1 if extent > 500 else 2 if extent > 50 else 3


def _order(sheet: Drawing) -> list[Layer]:
    """Tones lie under lines."""
    return sorted(sheet.layers, key=lambda layer: not layer.filled)


def _description(sheet: Drawing) -> str:
    return "; ".join(dict.fromkeys(layer.title for layer in sheet.layers)) + "."


def _layer_group(layer: Layer, marks: Sequence[Mark], pen: _Pen) -> str:
    """A layer: what belongs to no part, then each part in a group of its own."""
    parts: dict[str, list[Mark]] = defaultdict(list)
    for mark in marks:
        parts[mark.part].append(mark)
    body = "".join(_part_group(part, own, pen) for part, own in sorted(parts.items()))
    return f'<g class="l l-{_safe(layer.name)} {_kind(layer)}"><title>{_safe(layer.title)}</title>{body}</g>'


def _kind(layer: Layer) -> str:
    """The classes by which the page's style draws the layer."""
    if layer.filled:
        return f"tone c-{layer.colour}"
    return f"c-{layer.colour} t-{layer.line_type} w{round(layer.weight * 100)}"


def _part_group(part: str, marks: Sequence[Mark], pen: _Pen) -> str:
    body = "".join(_elements(marks, pen))
    code = _safe(part)
    return f'<g data-part="{code}"><title>{code}</title>{body}</g>' if part else body


def _elements(marks: Iterable[Mark], pen: _Pen) -> Iterator[str]:
    """Lines of one layer and part are one path, so are its outlines; words stand after them."""
    walks: list[str] = []
    words: list[str] = []
    for kind, run in groupby(marks, type):
        if kind is Stroke:
            walks += _strokes([mark for mark in run if isinstance(mark, Stroke)], pen)
        elif kind is Shape:
            walks += [_ring(mark.outline, pen) for mark in run if isinstance(mark, Shape)]
        else:
            words += [_text(mark, pen) for mark in run if isinstance(mark, Words)]
    if walks:
        yield f'<path d="{"".join(walks)}"/>'
    yield from words


def _strokes(strokes: Sequence[Stroke], pen: _Pen) -> Iterator[str]:
    """Strokes that go on where the one before ends are one walk."""
    walk: list[Edge] = []
    for stroke in strokes:
        if walk and walk[-1].end != stroke.edge.start:
            yield _walk(walk, pen)
            walk = []
        walk.append(stroke.edge)
    if walk:
        yield _walk(walk, pen)


def _ring(outline: Outline, pen: _Pen) -> str:
    edges = outline.edges
    return _walk(edges if isinstance(edges[-1], Arc) else edges[:-1], pen) + "Z"


def _walk(edges: Sequence[Edge], pen: _Pen) -> str:
    """A path: absolute start, then steps told from where the last rounded one ended, so that no error adds up.

    Corners are whole numbers of the last decimal, y down.
    """
    fine = pen.fine
    x, y = round(edges[0].start.x * fine), round(-edges[0].start.y * fine)
    steps = ["M" + pen.move(x, y)]
    letter = ""
    for edge in edges:
        for piece in _pieces(edge):
            ex, ey = round(piece.end.x * fine), round(-piece.end.y * fine)
            arc = isinstance(piece, Arc)
            if not arc and ex == x and ey == y:
                continue
            text = pen.move(ex - x, ey - y)
            if isinstance(piece, Arc):
                radius = pen.number(piece.radius)
                text = f"{radius} {radius} 0 0 {0 if piece.sweep > 0 else 1} {text}"
            name = "a" if arc else "l"
            gap = "" if name != letter or text.startswith("-") else " "
            steps.append((name if name != letter else gap) + text)
            letter, x, y = name, ex, ey
    return "".join(steps) if len(steps) > 1 else steps[0] + "h0"


def _pieces(edge: Edge) -> tuple[Edge, ...]:
    if isinstance(edge, Arc) and abs(edge.sweep) > MOST_TURN:
        return edge.between(0.0, 0.5), edge.between(0.5, 1.0)
    return (edge,)


def _text(words: Words, pen: _Pen) -> str:
    x, y = pen.number(words.at.x), pen.number(-words.at.y)
    anchor = "" if words.anchor == "start" else f' text-anchor="{words.anchor}"'
    turn = f' transform="rotate({digits(-words.turn * 180 / pi, 2)} {x} {y})"' if words.turn else ""
    size = digits(words.height / CAPITAL_SHARE, 2)
    return f'<text x="{x}" y="{y}" font-size="{size}"{anchor}{turn}>{_safe(words.text)}</text>'


def _safe(text: str) -> str:
    return escape(printable(text), quote=True)
