"""Lists as CSV: RFC 4180, UTF-8 without a mark, lines ended by CR LF."""

from collections.abc import Iterable, Sequence
from math import isfinite
from unicodedata import normalize

from templategen.catalogue import column
from templategen.english import spelt
from templategen.errors import Fault, OutputError
from templategen.output.numbers import digits

Cell = str | int | float | None
"""Words, a number of ours, or nothing."""

PLACES = 3
"""Decimals of a length in a list: a thousandth of a millimetre."""

FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""Words that begin so, in full width too, are run as a formula by some spreadsheets."""

GUARD = "'"
"""Set before such words, so that they are read as words."""


def csv_bytes(header: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """A table with one heading line; cells are quoted where they must be.

    Numbers are written with up to PLACES decimals and a full stop. Words that a spreadsheet might run as a
    formula get a leading apostrophe; numbers, negative ones too, don't.

    Raises:
        OutputError: a number that isn't finite, or a row that isn't as long as the heading.
    """
    lines: list[list[Cell]] = [list(map(column, header)), *(list(row) for row in rows)]
    for number, line in enumerate(lines):
        if len(line) != len(header):
            found = f"{len(line)} cells, the heading has {len(header)}"
            raise OutputError(Fault(f"list, line {number + 1}", found))
    text = "".join(",".join(_cell(cell) for cell in line) + "\r\n" for line in lines)
    return text.encode("utf-8", errors="replace")


def _cell(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return _quoted(_guarded(spelt(cell)))
    if not isfinite(cell):
        raise OutputError(Fault("list", f"{cell} is no number to write"))
    return str(int(cell)) if isinstance(cell, int) else digits(cell, PLACES)


def _guarded(words: str) -> str:
    words = words.replace("\x00", "")
    first = normalize("NFKC", words.lstrip(" \n\ufeff\u3000")[:1])
    return GUARD + words if first in FORMULA else words


def _quoted(words: str) -> str:
    if any(mark in words for mark in ',"\r\n') or words != words.strip():
        return '"' + words.replace('"', '""') + '"'
    return words
