"""Lists as CSV, read back by the standard library."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.errors import OutputError
from templategen.output.table_csv import csv_bytes

words = st.text(st.characters(exclude_characters="\x00", exclude_categories=("Cs",)), max_size=12)


def read(data: bytes) -> list[list[str]]:
    """The table as another reader has it."""
    return list(csv.reader(io.StringIO(data.decode("utf-8"), newline="")))


def test_a_list_reads_as_written() -> None:
    """The whole file, byte for byte."""
    data = csv_bytes(
        ("code", "length", "note"), [("R1", 497.1000004, "a, b"), ("L2", -0.0, 'say "cut"'), ("X", 3, None)]
    )
    assert data == b'code,length,note\r\nR1,497.1,"a, b"\r\nL2,0,"say ""cut"""\r\nX,3,\r\n'


@settings(max_examples=150)
@given(st.lists(st.tuples(words, words), max_size=6))
def test_words_come_back(rows: list[tuple[str, str]]) -> None:
    """Whatever the words, a reader finds them again, but for the guard before a formula."""
    back = read(csv_bytes(("a", "b"), rows))[1:]
    assert len(back) == len(rows)
    for line, row in zip(back, rows, strict=True):
        assert [cell.removeprefix("'") for cell in line] == [cell.removeprefix("'") for cell in row]


@pytest.mark.parametrize("cell", ["=1+1", "+A1", "-cmd", "@SUM(A1)", "\t=1", "\r=1", " =1", "\n=1", "\ufeff=1"])
def test_formulas_are_guarded(cell: str) -> None:
    """Words that a spreadsheet would run get an apostrophe."""
    assert read(csv_bytes(("a",), [(cell,)]))[1] == ["'" + cell]


def test_negative_numbers_are_not_guarded() -> None:
    """Our own numbers stay numbers."""
    assert csv_bytes(("a",), [(-1.5,), (-3,)]) == b"a\r\n-1.5\r\n-3\r\n"


@pytest.mark.parametrize("cell", [float("nan"), float("inf")])
def test_no_number_is_refused(cell: float) -> None:
    """A number that isn't finite is an error."""
    with pytest.raises(OutputError, match="no number"):
        csv_bytes(("a",), [(cell,)])


def test_ragged_rows_are_refused() -> None:
    """A row longer than the heading is an error that names its line."""
    with pytest.raises(OutputError, match="line 3"):
        csv_bytes(("a", "b"), [("x", "y"), ("x",)])


@pytest.mark.parametrize("sign", ["\uff1d", "\uff0b", "\uff0d", "\uff20", "\u3000=", "\ufe66"])
def test_signs_in_full_width_are_guarded(sign: str) -> None:
    """Spreadsheets of eastern settings read wide signs as the narrow ones."""
    assert csv_bytes(("a",), [(f"{sign}1+1",)]).decode().split("\r\n")[1].lstrip('"').startswith("'")
    assert csv_bytes(("a",), [("",), ("\u6728",)]).decode() == "a\r\n\r\n\u6728\r\n"
