"""Reads a DXF from its group codes alone (DXF reference: HEADER, TABLES and ENTITIES).

Whatever a viewer or a machine would show otherwise than it stands there is refused: turned or raised drawings, layers
that are off, blocks, lines of other kinds, a second list of lines, words in other scripts of formatting.
"""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import cos, radians, sin

from templategen.catalogue import translated, worded
from templategen.errors import Fault, OutputError
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Arc, Line
from templategen.geometry.outline import Outline, circle
from templategen.geometry.point import Point, Vertex
from templategen.proof.drawn import Drawn, Word, finite

Pair = tuple[int, str]

MM_PER_UNIT = {("1", "0"): 25.4, ("4", "1"): 1.0}
"""By $INSUNITS and $MEASUREMENT, which must agree: inches, millimetres."""

SQUARE_LAYER, SQUARE_SIDE = "SIZE_CHECK", 100.0
"""Where a file carries no unit, its test square tells it."""

VERSIONS = ("AC1009", "AC1015", "AC1024", "AC1032")
OLDEST = "AC1009"
"""R12, which has no place for the unit."""

SECTIONS = ("HEADER", "CLASSES", "TABLES", "BLOCKS", "ENTITIES", "OBJECTS")

PLAIN = frozenset({0, 5, 8, 100, 330})
"""Codes that every entity may carry: name, handle, layer, class, owner."""

CODES = {
    "LWPOLYLINE": frozenset({10, 20, 42, 70, 90}),
    "POLYLINE": frozenset({10, 20, 30, 66, 70}),
    "VERTEX": frozenset({10, 20, 30, 42, 70}),
    "SEQEND": frozenset[int](),
    "CIRCLE": frozenset({10, 20, 30, 40}),
    "LINE": frozenset({10, 11, 20, 21, 30, 31}),
    "ARC": frozenset({10, 20, 30, 40, 50, 51}),
    "TEXT": frozenset({1, 10, 11, 20, 21, 30, 31, 40, 50, 72}),
}
"""The kinds of line, and the codes that each of them may carry besides; all others turn, lift, hide or widen it."""

FLAT = (30, 31)
"""Heights, all nought."""

CLOSED = "1"
ANCHORS = {"0": "start", "1": "middle", "2": "end"}

SAME_EXTENT = 1e-4
"""How far the extents that the header tells may differ from those of the lines, in the file's units."""

MOST_PAIRS = 2_000_000
"""A file of more codes isn't read."""


def read_dxf(data: bytes) -> Drawn:
    """The lines and words, in mm.

    Raises:
        OutputError: the text is no DXF as we write it, or it shows otherwise than it says.
    """
    try:
        sections = _sections(_pairs(data))
        drawn, layers = Drawn(), _layers(sections["TABLES"])
        _no_blocks(sections["BLOCKS"])
        for name, codes in _entities(sections["ENTITIES"]):
            _add(drawn, name, codes, layers)
        _check_extents(sections["HEADER"], drawn)
        return _scaled(drawn, _unit(sections["HEADER"], drawn))
    except (ValueError, LookupError, ArithmeticError) as trouble:
        raise OutputError(Fault("", worded("can't be read as DXF ({trouble})", trouble=trouble))) from trouble


def _pairs(data: bytes) -> list[Pair]:
    lines = data.decode("utf-8", "replace").replace("\r\n", "\n").removesuffix("\n").split("\n")
    if len(lines) > 2 * MOST_PAIRS:
        raise ValueError(translated("it holds more lines than a drawing of ours ever does"))
    return [(int(code), value.strip()) for code, value in zip(lines[::2], lines[1::2], strict=True)]


def _sections(pairs: Sequence[Pair]) -> dict[str, Sequence[Pair]]:
    """Each section by its name, once and in order; nothing stands between or after them."""
    found: dict[str, Sequence[Pair]] = {}
    place = 0
    while pairs[place] == (0, "SECTION"):
        name, end = pairs[place + 1][1], pairs.index((0, "ENDSEC"), place)
        if name in found or name not in SECTIONS:
            raise ValueError(worded("a section {name} too many", name=name))
        found[name], place = pairs[place + 2 : end], end + 1
    if pairs[place:] != [(0, "EOF")]:
        raise ValueError(translated("it doesn't end after its last section"))
    return found


def _records(pairs: Sequence[Pair]) -> Iterator[tuple[str, Sequence[Pair]]]:
    """Each record with its codes."""
    starts = [i for i, (code, _) in enumerate(pairs) if code == 0]
    if pairs and starts[:1] != [0]:
        raise ValueError(translated("a code that belongs to nothing"))
    for first, last in pairwise([*starts, len(pairs)]):
        yield pairs[first][1], pairs[first + 1 : last]


def _layers(tables: Sequence[Pair]) -> frozenset[str]:
    """The layers that are shown: on, thawed and printed."""
    shown = set()
    for name, codes in _records(tables):
        if name == "LAYER":
            told = dict(codes)
            if len(told) < sum(code != 100 for code, _ in codes) + (100 in told):
                raise ValueError(worded("a layer {get} that tells something twice", get=told.get(2, "")))
            if int(told.get(62, "7")) >= 0 and not int(told.get(70, "0")) & 5 and told.get(290, "1") != "0":
                shown.add(told[2])
    return frozenset(shown)


def _no_blocks(blocks: Sequence[Pair]) -> None:
    for name, _ in _records(blocks):
        if name not in ("BLOCK", "ENDBLK"):
            raise ValueError(worded("a block that holds a {name}", name=name))


def _entities(pairs: Sequence[Pair]) -> Iterator[tuple[str, list[Pair]]]:
    """Each entity with its codes; the vertices of an old polyline are gathered in it."""
    old: list[Pair] | None = None
    for name, codes in _records(pairs):
        _check_codes(name, codes)
        if (old is not None) != (name in ("VERTEX", "SEQEND")):
            raise ValueError(worded("a {name} out of its place", name=name))
        if name == "POLYLINE":
            old = [pair for pair in codes if pair[0] not in (10, 20, 30)]
        elif name == "VERTEX" and old is not None:
            old += [pair for pair in codes if pair[0] in (10, 20, 42)]
        elif name == "SEQEND" and old is not None:
            yield "LWPOLYLINE", old
            old = None
        else:
            yield name, list(codes)


def _check_codes(name: str, codes: Sequence[Pair]) -> None:
    """Nothing that would show a line elsewhere, at another height, wider, or not at all."""
    known = CODES.get(name)
    if known is None:
        raise ValueError(worded("a {name}, which a drawing of ours never holds", name=name))
    for code, value in codes:
        if code not in known and code not in PLAIN:
            raise ValueError(
                worded(
                    "a {name} with code {code} = {value}, which a drawing of ours never has",
                    name=name,
                    code=code,
                    value=value,
                )
            )
        if code in FLAT and float(value) != 0.0:
            raise ValueError(worded("a {name} that isn't flat", name=name))
    once = [code for code, _ in codes if code != 100 and (name != "LWPOLYLINE" or code not in (10, 20, 42))]
    if len(once) > len(set(once)):
        raise ValueError(worded("a {name} that tells something twice", name=name))


def _add(drawn: Drawn, name: str, codes: list[Pair], layers: frozenset[str]) -> None:
    layer = _text(codes, 8)
    if layer not in layers:
        raise ValueError(worded("a {name} on layer {layer}, which isn't shown", name=name, layer=layer))
    if name == "LWPOLYLINE":
        drawn.rings[layer].append(_ring(codes, layer))
    elif name == "CIRCLE":
        drawn.rings[layer].append(circle(_number(codes, 10), _number(codes, 20), _positive(codes, 40)))
    elif name == "LINE":
        start, end = (Point(_number(codes, x), _number(codes, x + 10)) for x in (10, 11))
        drawn.strokes[layer].append(Line(start, end))
    elif name == "ARC":
        drawn.strokes[layer].append(_arc(codes))
    else:
        drawn.words[layer].append(_word(codes))


def _ring(codes: list[Pair], layer: str) -> Outline:
    corners: list[list[float]] = []
    for code, value in codes:
        if code == 10:
            corners.append([finite(value), 0.0, 0.0])
        elif code in (20, 42) and corners:
            corners[-1][1 if code == 20 else 2] = finite(value)
    if _text(codes, 70) != CLOSED:
        raise ValueError(worded("an open outline on {layer}", layer=layer))
    if int(next((value for code, value in codes if code == 90), str(len(corners)))) != len(corners):
        raise ValueError(worded("an outline on {layer} that doesn't have the corners it tells", layer=layer))
    return Outline(tuple(Vertex(*corner) for corner in corners))


def _arc(codes: list[Pair]) -> Arc:
    centre, radius = Point(_number(codes, 10), _number(codes, 20)), _positive(codes, 40)
    first, last = radians(_number(codes, 50)), radians(_number(codes, 51))
    sweep = (last - first) % radians(360.0)
    start, end = (Point(centre.x + radius * cos(angle), centre.y + radius * sin(angle)) for angle in (first, last))
    return Arc(start, end, centre, radius, sweep)


def _word(codes: list[Pair]) -> Word:
    anchor = ANCHORS[next((value for code, value in codes if code == 72), "0")]
    column = 10 if anchor == "start" else 11
    at = Point(_number(codes, column), _number(codes, column + 10))
    turn = finite(next((value for code, value in codes if code == 50), "0"))
    return Word(at, _positive(codes, 40), _plain(_text(codes, 1)), anchor, turn)


def _plain(text: str) -> str:
    """The words as they are read: letters of other alphabets told by their number, no signs split in two."""
    spelt = re.sub(r"\\U\+([0-9A-Fa-f]{4})", lambda match: chr(int(match[1], 16)), text)
    return spelt.replace("% %", "%%").replace("^ ", "^").replace("\\ U+", "\\U+").replace("\\ M+", "\\M+")


def _text(codes: Sequence[Pair], wanted: int) -> str:
    return next((value for code, value in codes if code == wanted), "")


def _number(codes: Sequence[Pair], wanted: int) -> float:
    return finite(_text(codes, wanted) or "nan")


def _positive(codes: Sequence[Pair], wanted: int) -> float:
    value = _number(codes, wanted)
    if value <= 0:
        raise ValueError(translated("a size of nought or less"))
    return value


def _variable(header: Sequence[Pair], name: str) -> dict[int, str]:
    """The values of one variable of the header, by code; none where it isn't there."""
    places = [i for i, pair in enumerate(header) if pair == (9, name)]
    if len(places) > 1:
        raise ValueError(worded("{name} is told twice", name=name))
    start = places[0] + 1 if places else len(header)
    end = next((i for i in range(start, len(header)) if header[i][0] == 9), len(header))
    return dict(header[start:end])


def _check_extents(header: Sequence[Pair], drawn: Drawn) -> None:
    """The header's extents are those of the lines: a machine and a viewer open the file by them."""
    box = Bounds.around(edge.bounds for edge in drawn.edges())
    told = [float(_variable(header, name)[code]) for name in ("$EXTMIN", "$EXTMAX") for code in (10, 20)]
    if any(abs(a - b) > SAME_EXTENT for a, b in zip(told, box, strict=True)):
        raise ValueError(translated("its extents aren't those of its lines"))


def _unit(header: Sequence[Pair], drawn: Drawn) -> float:
    """Millimetres to one unit of the file."""
    version = _variable(header, "$ACADVER").get(1, "")
    if version not in VERSIONS:
        raise ValueError(worded('its version "{version}" is none that we write', version=version))
    if version != OLDEST:
        named = MM_PER_UNIT.get(
            (_variable(header, "$INSUNITS").get(70, ""), _variable(header, "$MEASUREMENT").get(70, ""))
        )
        if named is None:
            raise ValueError(translated("its unit is neither millimetres nor inches"))
        return named
    square = drawn.rings.get(SQUARE_LAYER)
    if not square:
        raise ValueError(translated("it names no unit and has no test square"))
    return 1.0 if square[0].bounds.width > SQUARE_SIDE / 2 else 25.4


def _scaled(drawn: Drawn, unit: float) -> Drawn:
    if unit == 1.0:
        return drawn
    grown = Drawn()
    for layer, rings in drawn.rings.items():
        grown.rings[layer] = [Outline(tuple(Vertex(v.x * unit, v.y * unit, v.bulge) for v in ring)) for ring in rings]
    for layer, strokes in drawn.strokes.items():
        grown.strokes[layer] = [_grown(edge, unit) for edge in strokes]
    for layer, words in drawn.words.items():
        grown.words[layer] = [word._replace(at=word.at.times(unit), height=word.height * unit) for word in words]
    return grown


def _grown(edge: Line | Arc, unit: float) -> Line | Arc:
    start, end = edge.start.times(unit), edge.end.times(unit)
    if isinstance(edge, Line):
        return Line(start, end)
    return Arc(start, end, edge.centre.times(unit), edge.radius * unit, edge.sweep)
