"""Labels on paper: each in a box to cut out, its arrow up."""

from collections.abc import Sequence

from templategen.catalogue import worded
from templategen.output.pdf_canvas import GREY, Ink
from templategen.output.typeset import fitted, wrapped
from templategen.paper.grid import paper_size
from templategen.table.profile.model_of_shop import Paper
from templategen.work.labels import Label

WIDE, HIGH = 90.0, 37.5
"""A label, mm: shorter than most blanks are wide, seven rows to a page of A4 or letter."""

INSET = 3.0
"""From its edge to what stands in it, mm."""

NAME, LETTERS, FEED = 5.0, 1.9, 3.1
"""Heights of letters, and from line to line, mm."""

SET_SOLID = 1.35
"""From line to line at the least, in heights of letters."""

A_ROLL = 297.0
"""Length of the pages on a roll, mm."""


def labels_pdf(labels: Sequence[Label], paper: Paper, title: str) -> bytes:
    """As many pages as they take, rows from the top.

    Raises:
        OutputError: paper that isn't known.
    """
    across, up = paper_size(paper)
    width, height = across, up or A_ROLL
    wide = min(WIDE, width - 2 * paper.margin)
    columns = max(1, int((width - 2 * paper.margin) / wide + 1e-6))
    rows = max(1, int((height - 2 * paper.margin) / HIGH))
    ink = Ink(width, height, worded("Labels {title}", title=title))
    for first in range(0, len(labels), columns * rows):
        ink.begin_page()
        for place, label in enumerate(labels[first : first + columns * rows]):
            row, column = divmod(place, columns)
            with ink.tagged("P"):
                _label(ink, label, paper.margin + column * wide, height - paper.margin - (row + 1) * HIGH, wide)
        ink.end_page()
    return ink.finish()


def _label(ink: Ink, label: Label, left: float, bottom: float, wide: float) -> None:
    ink.pen(0.2, GREY, (2, 2))
    ink.rectangle(left, bottom, wide, HIGH)
    ink.pen(0.4)
    top, middle = bottom + HIGH - INSET, left + wide - 2 * INSET
    ink.line(middle, bottom + INSET, middle, top)
    ink.ring((middle, top + 0.5), (middle - 1.6, top - 4), (middle + 1.6, top - 4), fill=True)
    room = wide - 5 * INSET
    name = f"{label.name}   {worded('table {number}', number=label.table)}" if label.table > 1 else label.name
    ink.text(left + INSET, top - NAME, fitted(name, NAME, room, True), NAME, bold=True)
    lines = [line for words in label.lines for line in wrapped(words, LETTERS, room)]
    feed = min(FEED, (HIGH - 2 * INSET - NAME - 1) / len(lines))
    letters = min(LETTERS, feed / SET_SOLID)
    for number, words in enumerate(lines, 1):
        ink.text(left + INSET, top - NAME - number * feed - 1, fitted(words, letters, room), letters)
