"""Reads pages by a PDF library: the drawing that a file holds, and how each page shows it.

A drawing stands once in a file, in millimetres of its own frame; every page shows it through a window. Whatever our
files never hold is refused: it could scale, shift, turn, cover or hide what is printed.
"""

import re
import zlib
from base64 import a85decode
from collections import defaultdict
from collections.abc import Iterator, Sequence
from ctypes import POINTER, c_float, c_int, c_uint, c_ulong, c_void_p, cast, create_string_buffer
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from templategen.catalogue import translated, worded
from templategen.errors import Fault, OutputError
from templategen.geometry.point import Point

MM = 72 / 25.4
"""Points to a millimetre."""

STEPS = 48
"""Chords for a curve of a sixteenth of a turn: within 8 micrometres at a radius of a metre."""

DEEPEST = 4
"""Forms in forms that are looked into."""

STREAM = re.compile(rb"\bstream\r?\n(.*?)endstream\b", re.DOTALL)
PAGE = re.compile(rb"/Type /Page\b")
NAME = re.compile(rb"/([^\s/<>\[\]()]*)")
WORDS = re.compile(rb"\((?:[^()\\]|\\.|\((?:[^()\\]|\\.)*\))*\)", re.DOTALL)

NAMES = frozenset(
    b"""Alt Ascent ASCII85Decode Author BaseFont BBox CapHeight Catalog Contents Count CreationDate Creator D Descent
    Dest DisplayDocTitle Document False Figure Filter First FirstChar Fit Flags FlateDecode Font FontBBox
    FontDescriptor FontFile2 FontName Form FormType H1 H2 ID ImageB ImageC ImageI Info ItalicAngle K Keywords Kids
    Lang Last LastChar Length Length1 Marked MarkInfo Matrix MediaBox MissingWidth ModDate Name Next None Nums
    OCG OCGs OCProperties ON Order Outlines P Page PageMode Pages Parent ParentTree PDF Pg Prev PrintScaling
    ProcSet Producer Properties Resources Root Rotate S Size StemV StructElem StructParents StructTreeRoot
    Subject Subtype Text Title ToUnicode Trans Trapped TrueType Type UseNone ViewerPreferences Widths XObject
    true""".split()
)
"""Every word of the format that our files hold."""

OWN_NAMES = re.compile(rb"L\d+|F\d+\+\d+|FormXob\.[\w.-]+|[A-Z]{6}\+BitstreamVeraSans-(Roman|Bold)")
"""Names that a file gives to its layers, letters and drawings."""

MOST_BYTES = 64_000_000
"""A file that holds more, unpacked, isn't read."""

FAINTEST = 0.9
"""What is lighter than this share of white can't be seen on it, and covers what lies under it."""

SHADED = "waste, shaded"

Segment = tuple[float, ...]
"""Ends of a line, or the four points of a curve."""


class Lettered(NamedTuple):
    """A line of words and the corners of the box round its letters, which may be turned."""

    text: str
    corners: tuple[Point, ...]


@dataclass(slots=True)
class Ink:
    """A drawing in its own frame, mm, y up: by layer every line as short chords (rows x0, y0, x1, y1), and words."""

    chords: dict[str, Any] = field(default_factory=dict)
    lettered: dict[str, list[Lettered]] = field(default_factory=lambda: defaultdict(list))

    @property
    def words(self) -> dict[str, list[str]]:
        """The words alone."""
        found = {layer: [one.text for one in words] for layer, words in self.lettered.items()}
        return defaultdict(list, found)


@dataclass(frozen=True, slots=True)
class Page:
    """One page, mm from its lower left corner: `matrix` (a, b, c, d, e, f) takes the drawing there, and `window`
    (left, bottom, right, top) is what of it is shown; no matrix on a page without a drawing. `drawing` is its name in
    the file, `ink` what lies on the page besides."""

    width: float
    height: float
    matrix: tuple[float, ...] | None
    window: tuple[float, ...]
    drawing: str
    ink: Ink | None


@dataclass(frozen=True, slots=True)
class Printed:
    """A file: its pages, and its drawings by name."""

    pages: tuple[Page, ...]
    drawings: dict[str, Ink]


def read_pdf(data: bytes) -> Printed:
    """The pages and drawings of a file.

    Raises:
        OutputError: the bytes are no PDF as we write it.
    """
    import pypdfium2

    try:
        names = _checked(data)
        document = pypdfium2.PdfDocument(data)
    except (pypdfium2.PdfiumError, ValueError, zlib.error) as trouble:
        raise OutputError(Fault("", worded("can't be read as PDF ({trouble})", trouble=trouble))) from trouble
    drawings: dict[str, Ink] = {}
    try:
        if len(document) != len(names):
            raise ValueError(translated("its tree of pages doesn't lead to every page once"))
        return Printed(
            tuple(_page(page, name, drawings) for page, name in zip(document, names, strict=True)), drawings
        )
    except (pypdfium2.PdfiumError, ValueError) as trouble:
        raise OutputError(Fault("", worded("can't be read as PDF ({trouble})", trouble=trouble))) from trouble
    finally:
        document.close()


def _checked(data: bytes) -> list[str]:
    """The name of the drawing on each page, once the file is found to hold nothing but what ours hold."""
    room, heads = MOST_BYTES, []
    for body in data.split(b"endobj"):
        match = STREAM.search(body)
        if match:
            room -= _unpacked(body[: match.start()], match[1], room)
            body = body[: match.start()] + body[match.end() :]
        heads.append(body)
    plain = WORDS.sub(b"()", b"endobj".join(heads))
    if re.search(rb"\bstream\b", plain) or plain.count(b"%%EOF") != 1 or not plain.rstrip().endswith(b"%%EOF"):
        raise ValueError(translated("it holds more than a file of ours, or was added to"))
    for name in set(NAME.findall(plain)):
        if name not in NAMES and not OWN_NAMES.fullmatch(name):
            raise ValueError(
                worded("it holds /{name}, which a file of ours never does", name=name.decode("ascii", "replace"))
            )
    if plain.count(b"/MediaBox [ 0 0 ") != plain.count(b"/MediaBox") or plain.count(b"/Rotate 0 ") != plain.count(
        b"/Rotate"
    ):
        raise ValueError(translated("a page that is shifted or turned"))
    if plain.count(b"/Matrix [ 1 0 0 1 0 0 ]") != plain.count(b"/Matrix"):
        raise ValueError(translated("a drawing that is moved within the file"))
    return list(_drawing_names(plain))


def _unpacked(told: bytes, packed: bytes, room: int) -> int:
    """How many bytes a stream unpacks to; no more than there is room for."""
    if b"/ASCII85Decode" in told:
        packed = a85decode(packed.strip().removesuffix(b"~>"))
    opened = zlib.decompressobj()
    size = len(opened.decompress(packed, room))
    if opened.unconsumed_tail or not opened.eof:
        raise ValueError(translated("a stream that is broken off, or unpacks without end"))
    return size


def _drawing_names(plain: bytes) -> Iterator[str]:
    """For each page the one drawing it may show, "" for none; a name always means the same drawing."""
    meant: dict[bytes, bytes] = {}
    for body in re.split(rb"\bendobj\b", plain):
        if PAGE.search(body):
            named = re.findall(rb"/FormXob\.(drawing-\d+) (\d+) 0 R", body)
            if len(named) > 1 or any(meant.setdefault(name, target) != target for name, target in named):
                raise ValueError(translated("a page of two drawings"))
            yield named[0][0].decode() if named else ""


def _page(page: Any, name: str, drawings: dict[str, Ink]) -> Page:
    """A page; its drawing is read where it is met first."""
    width, height = (size / MM for size in page.get_size())
    matrix: tuple[float, ...] | None = None
    window: tuple[float, ...] = (0.0, 0.0, width, height)
    own = _Reading(page, 1 / MM)
    for thing in page.get_objects(max_depth=1):
        if thing.type != FORM:
            own.add(thing)
        elif matrix is None and name:
            matrix = tuple(value / MM for value in thing.get_matrix().get())
            window = _window(thing) or window
        elif _window(thing) or not _is_true(thing.get_matrix().get()):
            raise ValueError(translated("a ruler or comb that isn't true to size, or is hidden in part"))
    if matrix is not None and name not in drawings:
        whole = _Reading(page, 1.0)
        first = next(thing.raw for thing in page.get_objects(max_depth=1) if thing.type == FORM)
        for thing in page.get_objects(max_depth=DEEPEST):
            if thing.type != FORM and thing.container is not None and _same(thing.container.raw, first):
                whole.add(thing)
        drawings[name] = whole.ink()
    found = Page(width, height, matrix, window, name if matrix is not None else "", own.ink())
    page.close()
    return found


class _Reading:
    """What is gathered from the objects of a page or drawing; `scale` takes their frame to mm."""

    def __init__(self, page: Any, scale: float) -> None:
        self._text, self._scale = page.get_textpage(), scale
        self._segments: dict[str, list[Segment]] = defaultdict(list)
        self._words: dict[str, list[Lettered]] = defaultdict(list)

    def add(self, thing: Any) -> None:
        """Takes one object, which must be a line or words that can be seen."""
        layer = _layer(thing.raw)
        if thing.type == PATH:
            fills, strokes = _painted(thing.raw)
            if fills + strokes != 1 or not _is_seen(thing.raw, strokes):
                raise ValueError(
                    worded(
                        "paint that can't be seen, or covers what is under it, on {where}",
                        where=layer or translated("a page"),
                    )
                )
            if layer != translated(SHADED):
                self._segments[layer] += _walk(thing.raw, thing.get_matrix())
        elif thing.type == TEXT:
            if not _is_seen(thing.raw, False) or _invisible(thing.raw):
                raise ValueError(translated("words that can't be seen"))
            self._words[layer].append(Lettered(_text(thing.raw, self._text.raw), _corners(thing.raw, self._scale)))
        else:
            raise ValueError(translated("a picture or shade, which a file of ours never holds"))

    def ink(self) -> Ink:
        """All of it."""
        return Ink(
            {layer: _chords(segments) * self._scale for layer, segments in self._segments.items()}, self._words
        )


TEXT, PATH, FORM = 1, 2, 5
"""Kinds of object (PDFium: fpdf_edit.h)."""


def _layer(raw: Any) -> str:
    """The name of the layer an object is marked with, up to its colon; "" without one."""
    import pypdfium2.raw as pdfium

    for index in range(pdfium.FPDFPageObj_CountMarks(raw)):
        mark = pdfium.FPDFPageObj_GetMark(raw, index)
        room, length = create_string_buffer(1024), c_ulong()
        target = cast(room, POINTER(pdfium.FPDF_WCHAR))
        if pdfium.FPDFPageObjMark_GetParamStringValue(mark, b"Name", target, 1024, length):
            return room.raw[: length.value].decode("utf-16-le", "replace").rstrip("\0").partition(":")[0]
    return ""


def _painted(raw: Any) -> tuple[bool, bool]:
    """Whether a path is filled, and whether it is stroked."""
    import pypdfium2.raw as pdfium

    fills, strokes = c_int(), c_int()
    pdfium.FPDFPath_GetDrawMode(raw, fills, strokes)
    return fills.value != 0, bool(strokes.value)


def _is_seen(raw: Any, strokes: bool) -> bool:
    """Whether paint stands out from white paper."""
    import pypdfium2.raw as pdfium

    channels = [c_uint() for _ in range(4)]
    colour = pdfium.FPDFPageObj_GetStrokeColor if strokes else pdfium.FPDFPageObj_GetFillColor
    colour(raw, *channels)
    red, green, blue, cover = (channel.value for channel in channels)
    return cover == 255 and red + green + blue <= 3 * 255 * FAINTEST


def _invisible(raw: Any) -> bool:
    import pypdfium2.raw as pdfium

    return bool(pdfium.FPDFTextObj_GetTextRenderMode(raw) != pdfium.FPDF_TEXTRENDERMODE_FILL)


def _text(raw: Any, page: Any) -> str:
    import pypdfium2.raw as pdfium

    room = create_string_buffer(2048)
    size = pdfium.FPDFTextObj_GetText(raw, page, cast(room, POINTER(pdfium.FPDF_WCHAR)), 2048)
    return room.raw[: min(size, 2048)].decode("utf-16-le", "replace").rstrip("\0")


def _corners(raw: Any, scale: float) -> tuple[Point, ...]:
    import pypdfium2.raw as pdfium

    quad = pdfium.FS_QUADPOINTSF()
    if not pdfium.FPDFPageObj_GetRotatedBounds(raw, quad):
        raise ValueError(translated("words without a place"))
    pairs = ((quad.x1, quad.y1), (quad.x2, quad.y2), (quad.x3, quad.y3), (quad.x4, quad.y4))
    return tuple(Point(x * scale, y * scale) for x, y in pairs)


def _is_true(matrix: Sequence[float]) -> bool:
    """Whether a form is shown in millimetres, upright."""
    return all(abs(value - wanted) < 1e-4 for value, wanted in zip(matrix[:4], (MM, 0.0, 0.0, MM), strict=True))


def _same(one: Any, other: Any) -> bool:
    """Whether two handles lead to one object."""
    return bool(cast(one, c_void_p).value == cast(other, c_void_p).value)


def _window(thing: Any) -> tuple[float, ...] | None:
    """The box through which a form is shown, None where it is shown as a whole."""
    import pypdfium2.raw as pdfium

    clip = pdfium.FPDFPageObj_GetClipPath(thing.raw)
    x, y, corners = c_float(), c_float(), []
    if pdfium.FPDFClipPath_CountPaths(clip) < 1:
        return None
    if pdfium.FPDFClipPath_CountPaths(clip) > 1:
        raise ValueError(translated("a drawing behind two windows"))
    for index in range(pdfium.FPDFClipPath_CountPathSegments(clip, 0)):
        pdfium.FPDFPathSegment_GetPoint(pdfium.FPDFClipPath_GetPathSegment(clip, 0, index), x, y)
        corners.append((x.value / MM, y.value / MM))
    across, up = zip(*corners, strict=True)
    box = min(across), min(up), max(across), max(up)
    if any(min(abs(u - box[0]), abs(u - box[2])) + min(abs(v - box[1]), abs(v - box[3])) > 1e-3 for u, v in corners):
        raise ValueError(translated("a window that isn't upright"))
    return box


def _walk(raw: Any, matrix: Any) -> Iterator[Segment]:
    import pypdfium2.raw as pdfium

    at: tuple[float, float] | None = None
    first: tuple[float, float] | None = None
    curve: list[tuple[float, float]] = []
    x, y = c_float(), c_float()
    for index in range(pdfium.FPDFPath_CountSegments(raw)):
        segment = pdfium.FPDFPath_GetPathSegment(raw, index)
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        point = matrix.on_point(x.value, y.value)
        kind = pdfium.FPDFPathSegment_GetType(segment)
        if kind == pdfium.FPDF_SEGMENT_MOVETO or at is None:
            at, first = point, point
        elif kind == pdfium.FPDF_SEGMENT_BEZIERTO:
            curve.append(point)
            if len(curve) == 3:
                yield *at, *curve[0], *curve[1], *curve[2]
                at, curve = point, []
        else:
            yield *at, *point
            at = point
        if pdfium.FPDFPathSegment_GetClose(segment) and first is not None and at != first:
            yield *at, *first
            at = first


def _chords(segments: Sequence[Segment]) -> Any:
    import numpy as np

    straight = np.array([one for one in segments if len(one) == 4], dtype=float).reshape(-1, 4)
    bent = np.array([one for one in segments if len(one) == 8], dtype=float).reshape(-1, 8)
    return np.concatenate((straight, _flattened(bent)))


def _flattened(curves: Any) -> Any:
    """The chords of cubic curves (rows of four points)."""
    import numpy as np

    t = np.linspace(0.0, 1.0, STEPS + 1)
    weights = np.stack(((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3))
    points = np.einsum("kt,nkd->ntd", weights, curves.reshape(-1, 4, 2))
    return np.concatenate((points[:, :-1], points[:, 1:]), axis=2).reshape(-1, 4)
