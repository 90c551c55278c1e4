"""The canvas: millimetres, y up, embedded letters, the same bytes on every run."""

import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from io import BytesIO
from typing import Any

from templategen.catalogue import translated
from templategen.drawing.drawing import ANCHORS, Anchor
from templategen.english import spelt, tag
from templategen.output.pdf_tags import Tags
from templategen.output.typeset import CAP_SHARES, FONT, plain, register, text_length, typeset

POINTS = 72 / 25.4
"""PDF points in a millimetre."""

GREY = "#666666"
"""Furniture, so that it stands back from the lines to cut by."""

LARGEST = 5100.0
"""No page is larger, mm."""


@contextmanager
def _no_date_from_outside() -> Iterator[None]:
    """The library takes its fixed date from the environment where one stands there; ours is always the same."""
    date = os.environ.pop("SOURCE_DATE_EPOCH", None)
    try:
        yield
    finally:
        if date is not None:
            os.environ["SOURCE_DATE_EPOCH"] = date


class Ink:
    """A PDF under way. Every length is in millimetres of paper from the lower left corner of the page."""

    def __init__(self, width: float, height: float, title: str, language: str = "") -> None:
        register()
        self.size = width, height
        self._bytes = BytesIO()
        page = width * POINTS, height * POINTS
        options = {
            "pagesize": page,
            "invariant": 1,
            "pdfVersion": (1, 6),
            "pageCompression": 1,
            "lang": language or tag(of_catalogue=True),
        }
        with _no_date_from_outside():
            self.canvas: Any = _canvas_class()(self._bytes, initialFontName=FONT, **options)
        self.canvas.setTitle(plain(title))
        self.canvas.setAuthor("")
        self.canvas.setCreator("templategen")
        self.canvas.setSubject(plain(translated("Print at 100 %, never fitted to the page")))
        self.canvas.setViewerPreference("PrintScaling", "None")
        self.canvas.setViewerPreference("DisplayDocTitle", "true")
        self._layers: dict[str, tuple[str, Any]] = {}
        self._tags = self.canvas.tags
        self._bookmarks = 0
        self._stamps: set[str] = set()

    def begin_page(self, size: tuple[float, float] | None = None) -> None:
        """Set up millimetres on a new page, of a size of its own or that of the file."""
        width, height = size or self.size
        self.canvas.setPageSize((width * POINTS, height * POINTS))
        self.canvas.scale(POINTS, POINTS)

    def end_page(self) -> None:
        """Finish the page."""
        self.canvas.showPage()

    def stamp(self, name: str, at: tuple[float, float], draw: Callable[[], None]) -> None:
        """Shows what `draw` draws about (0, 0), with its origin at `at`; it is drawn once in a file."""
        if name not in self._stamps:
            self._stamps.add(name)
            self.keep(name, (-20, -20, LARGEST, LARGEST), draw)
        self.canvas.saveState()
        self.canvas.translate(*at)
        self.canvas.doForm(name)
        self.canvas.restoreState()

    def keep(self, name: str, box: Sequence[float], draw: Callable[[], None]) -> None:
        """A drawing that pages show by its name; to whoever hears the file it is part of what shows it."""
        outside, self._tags.is_open = self._tags.is_open, True
        self.canvas.beginForm(name, *box)
        draw()
        self.canvas.endForm()
        self._tags.is_open = outside

    @contextmanager
    def tagged(self, kind: str, alt: str = "") -> Iterator[None]:
        """What is drawn meanwhile is one element ("P", "H1", "Figure" with `alt` in words), or for the eye alone."""
        self._tags.begin(kind, plain(spelt(alt)))
        yield
        self._tags.end()

    def code(self, code: str) -> None:
        """Puts what `code_of` gave on the page."""
        self.canvas._code.append(code)

    def code_of(self, draw: Callable[[], object]) -> str:
        """What `draw` draws, as the file has it: only lines, since letters need fonts that the file must hold."""
        before = len(self.canvas._code)
        draw()
        return "\n".join(self.canvas._code[before:])

    def begin_layer(self, name: str) -> None:
        """What follows may be switched on and off by the reader under `name`."""
        from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFName, PDFString

        if name not in self._layers:
            group = PDFDictionary({"Type": PDFName("OCG"), "Name": PDFString(plain(name))})
            key, reference = f"L{len(self._layers) + 1}", self.canvas._doc.Reference(group)
            self._layers[name] = key, reference
            self.canvas.layers[key] = reference
        self.canvas._code.append(f"/OC /{self._layers[name][0]} BDC")

    def end_layer(self) -> None:
        """The end of a layer's share."""
        self.canvas._code.append("EMC")

    def bookmark(self, words: str, level: int = 0) -> None:
        """An entry of the outline that leads to this page."""
        self._bookmarks += 1
        key = f"page-{self._bookmarks}"
        self.canvas.bookmarkPage(key)
        self.canvas.addOutlineEntry(plain(spelt(words)) or "page", key, level)

    def finish(self) -> bytes:
        """The file."""
        self._catalogue_layers()
        self._tags.catalogue()
        self.canvas.save()
        return self._bytes.getvalue()

    def _catalogue_layers(self) -> None:
        from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary

        if not self._layers:
            return
        groups = [reference for _, reference in self._layers.values()]
        catalog = self.canvas._doc.Catalog
        shown = PDFDictionary({"Order": PDFArray(groups), "ON": PDFArray(groups)})
        catalog.OCProperties = PDFDictionary({"OCGs": PDFArray(groups), "D": shown})
        catalog.__NoDefault__ = [*catalog.__NoDefault__, "OCProperties"]
        catalog.__Refs__ = [*catalog.__Refs__, "OCProperties"]

    def pen(self, weight: float, colour: str = "#000000", dashes: Sequence[float] = ()) -> None:
        """Line width and dashes in mm, and the colour of lines and letters."""
        ink = _colour(colour)
        self.canvas.setLineWidth(weight)
        self.canvas.setStrokeColor(ink)
        self.canvas.setFillColor(ink)
        self.canvas.setDash(list(dashes), 0) if dashes else self.canvas.setDash()

    def line(self, x0: float, y0: float, x1: float, y1: float) -> None:
        """A straight line."""
        self.canvas.line(x0, y0, x1, y1)

    def ring(self, *points: tuple[float, float], fill: bool = False) -> None:
        """Straight lines round, or with `fill` what they enclose."""
        path = self.canvas.beginPath()
        path.moveTo(*points[0])
        for point in points[1:]:
            path.lineTo(*point)
        path.close()
        self.canvas.drawPath(path, stroke=int(not fill), fill=int(fill))

    def lines(self, lines: Iterable[tuple[float, float, float, float]]) -> None:
        """Many straight lines in one go."""
        path = self.canvas.beginPath()
        for x0, y0, x1, y1 in lines:
            path.moveTo(x0, y0)
            path.lineTo(x1, y1)
        self.canvas.drawPath(path, stroke=1, fill=0)

    def rectangle(self, x: float, y: float, width: float, height: float, fill: bool = False) -> None:
        """A box, or with `fill` a filled one without an edge."""
        self.canvas.rect(x, y, width, height, stroke=int(not fill), fill=int(fill))

    def text(
        self,
        x: float,
        y: float,
        words: str,
        height: float,
        anchor: Anchor = "start",
        turn: float = 0.0,
        bold: bool = False,
        kind: str = "P",
    ) -> None:
        """A line of text of capital height `height`; `turn` in degrees about (x, y). By itself it is an element."""
        if not self._tags.is_open:
            with self.tagged(kind):
                self.text(x, y, words, height, anchor, turn, bold)
            return
        words = spelt(words)
        length = text_length(words, height, bold)
        face, words = typeset(words, bold)
        self.canvas.saveState()
        self.canvas.translate(x, y)
        if turn:
            self.canvas.rotate(turn)
        self.canvas.setFont(face, height / CAP_SHARES[face])
        shift = ANCHORS[anchor]
        self.canvas.drawString(-shift * length, 0, words)
        self.canvas.restoreState()


@cache
def _colour(name: str) -> Any:
    from reportlab.lib.colors import HexColor

    return HexColor(name)


@cache
def _canvas_class() -> Any:
    """The library's canvas, whose pages and forms know the layers by name."""
    from reportlab.pdfbase.pdfdoc import PDFPage, PDFResourceDictionary
    from reportlab.pdfgen.canvas import Canvas

    base: Any = Canvas

    class Layered(base):  # type: ignore[misc]
        def __init__(self, *args: Any, **options: Any) -> None:
            self.layers: dict[str, Any] = {}
            super().__init__(*args, **options)
            self.tags = Tags(self)

        def _setXObjects(self, thing: Any) -> None:  # noqa: N802 - the library's name
            super()._setXObjects(thing)
            resources: Any = PDFResourceDictionary()
            resources.basicFonts()
            resources.allProcs()
            resources.Properties = self.layers
            if thing.XObjects:
                resources.XObject = thing.XObjects
            thing.Resources = resources
            if isinstance(thing, PDFPage):
                self.tags.close_page(thing)

    return Layered
