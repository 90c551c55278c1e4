"""The canvas: millimetres, y up, embedded letters, the same bytes on every run."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from io import BytesIO
from typing import Any

POINTS = 72 / 25.4
"""PDF points in a millimetre."""

FONT = "Vera"
BOLD = "VeraBd"

CAP_SHARE = 0.729
"""Capital height as a share of the font's size (from the font's own outlines)."""

GREY = "#666666"
"""Furniture, so that it stands back from the lines to cut by."""

STAND_INS = {"⌀": "Ø", "→": ">", "←": "<", "′": "'", "″": '"', "−": "–", "‑": "-", "\u202f": " "}
"""Letters that the font lacks, and what is set instead."""


MOST_LETTERS = 400
"""No line on paper has room for more."""


class Ink:
    """A PDF under way. Every length is in millimetres of paper from the lower left corner of the page."""

    def __init__(self, width: float, height: float, title: str) -> None:
        from reportlab.pdfgen.canvas import Canvas

        _register()
        self.size = width, height
        self._bytes = BytesIO()
        page = width * POINTS, height * POINTS
        self.canvas: Any = Canvas(self._bytes, pagesize=page, invariant=1, pdfVersion=(1, 6), pageCompression=1)
        self.canvas.setTitle(plain(title))
        self.canvas.setAuthor("")
        self.canvas.setCreator("templategen")
        self.canvas.setSubject("Print at 100 %, never fitted to the page")
        self.canvas.setViewerPreference("PrintScaling", "None")

    def begin_page(self) -> None:
        """Set up millimetres on a new page."""
        self.canvas.scale(POINTS, POINTS)

    def end_page(self) -> None:
        """Finish the page."""
        self.canvas.showPage()

    def finish(self) -> bytes:
        """The file."""
        self.canvas.save()
        return self._bytes.getvalue()

    def pen(self, weight: float, colour: str = "#000000", dashes: Sequence[float] = ()) -> None:
        """Line width and dashes in mm, and the colour of lines and letters."""
        from reportlab.lib.colors import HexColor

        self.canvas.setLineWidth(weight)
        self.canvas.setStrokeColor(HexColor(colour))
        self.canvas.setFillColor(HexColor(colour))
        self.canvas.setDash(list(dashes), 0) if dashes else self.canvas.setDash()

    def line(self, x0: float, y0: float, x1: float, y1: float) -> None:
        """A straight line."""
        self.canvas.line(x0, y0, x1, y1)

    def rectangle(self, x: float, y: float, width: float, height: float, fill: bool = False) -> None:
        """A box, or with `fill` a filled one without an edge."""
        self.canvas.rect(x, y, width, height, stroke=int(not fill), fill=int(fill))

    def text(
        self,
        x: float,
        y: float,
        words: str,
        height: float,
        anchor: str = "start",
        turn: float = 0.0,
        bold: bool = False,
    ) -> None:
        """A line of text of capital height `height`; `turn` in degrees about (x, y)."""
        font = BOLD if bold else FONT
        words = settable(words, font)
        self.canvas.saveState()
        self.canvas.translate(x, y)
        if turn:
            self.canvas.rotate(turn)
        self.canvas.setFont(font, height / CAP_SHARE)
        shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
        self.canvas.drawString(-shift * text_length(words, height, bold), 0, words)
        self.canvas.restoreState()


def text_length(words: str, height: float, bold: bool = False) -> float:
    """Length of a line of text of capital height `height`, mm."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    _register()
    font = BOLD if bold else FONT
    return float(stringWidth(settable(words, font), font, height / CAP_SHARE))


def fitted(words: str, height: float, room: float, bold: bool = False) -> str:
    """The words, cut with an ellipsis where they are longer than `room` mm."""
    words = plain(words)[:MOST_LETTERS]
    if text_length(words, height, bold) <= room:
        return words
    letters = range(len(words) + 1)
    fits = bisect_right(letters, room, key=lambda n: text_length(words[:n] + "…", height, bold)) - 1
    return words[:fits].rstrip() + "…" if fits > 0 else ""


def plain(words: str) -> str:
    """One line of printing characters."""
    words = " ".join(str(words).split())
    return "".join(letter for letter in words if letter.isprintable())


def settable(words: str, font: str) -> str:
    """The words with letters that the font has; a question mark where it has neither letter nor stand-in."""
    from reportlab.pdfbase.pdfmetrics import getFont

    _register()
    face: Any = getFont(font)
    known = face.face.charToGlyph
    spelt = (STAND_INS.get(letter, letter) if ord(letter) not in known else letter for letter in plain(words))
    return "".join(letter if ord(letter) in known else "?" for letter in spelt)


def _register() -> None:
    from reportlab.pdfbase.pdfmetrics import getRegisteredFontNames, registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    for font in (FONT, BOLD):
        if font not in getRegisteredFontNames():
            registerFont(TTFont(font, f"{font}.ttf"))
