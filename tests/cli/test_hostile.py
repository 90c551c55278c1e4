"""Files made to break the reader: a plain refusal, no traceback, nothing written outside the folder."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner

from templategen.cli import main
from templategen.proof.run import prove

STOCK = '[[stock]]\nname = "a{}"\nlength = 2400\nwidth = 150\nthickness = 38\n'

BOMBS: dict[str, bytes] = {
    "nothing": b"",
    "nul": b'format = 1\x00\ntitle = "a"',
    "latin-1": b'format = 1\ntitle = "caf\xe9"',
    "utf-16": "format = 1\n".encode("utf-16"),
    "half a surrogate": b'format = 1\ntitle = "\xed\xa0\x80"',
    "control characters": b'format = 1\ntitle = "a\\u0007b"',
    "lists in lists": b"a = " + b"[\n" * 50_000 + b"]\n" * 50_000,
    "key of many parts": b"[" + b".".join([b"a"] * 900) + b"]\n",
    "tables in tables": b"a = " + b"{a=" * 900 + b"1" + b"}" * 900,
    "number of many digits": b"format = 1\n[top]\ndiameter = " + b"9" * 3_900,
    "endless": b"format = 1\n[top]\ndiameter = 1e400",
    "no number": b"format = 1\n[top]\ndiameter = nan",
    "nearly nothing": b"format = 1\n[top]\ndiameter = 1e-300",
    "power": b'format = 1\n[top]\ndiameter = "9**9**9**9"',
    "product": b'format = 1\n[top]\ndiameter = "' + b"*".join([b"9999999999"] * 100) + b'"',
    "parentheses": b'format = 1\n[top]\ndiameter = "' + b"(" * 1_900 + b"1" + b")" * 1_900 + b'"',
    "a call": b"format = 1\n[top]\ndiameter = \"__import__('os').system('id')\"",
    "round and round": b'format = 1\n[values]\na = "values.b"\nb = "values.a"\n[top]\ndiameter = "values.a"',
    "doubling": b"format = 1\n[values]\n"
    + b"".join(b'v%d = "values.v%d + values.v%d"\n' % (i, i + 1, i + 1) for i in range(60))
    + b'v60 = 1\n[top]\ndiameter = "values.v0"',
    "knots without end": b"format = 1\n" + STOCK.encode() + b"faults = [\n" + b"[1,2,3],[4,5,6],\n" * 30_000 + b"]",
    "stock without end": b"format = 1\n" + b"".join(STOCK.format(i).encode() for i in range(9_000)),
    "sums without end": b"format = 1\n[values]\n" + b"".join(b'v%d = "1 mm + 2 mm"\n' % i for i in range(40_000)),
    "unknown keys without end": b"format = 1\n[top]\n" + b"".join(b"k%d = 1\n" % i for i in range(60_000)),
    "one long line": b'format = 1\ntitle = "' + b"x" * 900_000 + b'"',
    "a hundred megabytes": b"format = 1\n#" + b"x" * 100_000_000,
    "segments without end": b"format = 1\n[top]\nsegments = 1000002",
    "slats without end": b"format = 1\n[slats]\nwidth = 0.0001\ngap = 0.0001",
    "boards without end": b"format = 1\n" + STOCK.encode() + b"count = 99999999999999999999",
    "a date": b"format = 1\n[top]\ndiameter = 1979-05-27T07:32:00Z",
}


@pytest.mark.parametrize("name", BOMBS)
def test_files_made_to_break_the_reader_are_refused(name: str, tmp_path: Path) -> None:
    """Exit 2 and a plain line for each, no exception, nothing written."""
    profile = tmp_path / "bomb.toml"
    profile.write_bytes(BOMBS[name])
    for command in (["check"], ["make", "-o", str(tmp_path / "out")]):
        result = CliRunner().invoke(main, [*command, str(profile)])
        assert isinstance(result.exception, SystemExit), result.exception
        assert result.exit_code == 2, result.output
        assert "bomb.toml" in result.output
        assert "Traceback" not in result.output
    assert [path.name for path in tmp_path.iterdir()] == ["bomb.toml"]


TITLES = [
    (
        "<script>alert(1)</script> ]]>&amp;<!-- %%u%%d%%c \\U+202E {\\H10;x} {{ 7 * 7 }} {% raw %} "
        '"><img src=x onerror=alert(1)>'
    ),
    "=HYPERLINK('x')",
    "+1+1",
    "@SUM(A1)",
    "-2+3",
    "../../etc/passwd",
    "C:\\windows\\x",
    "كرسي حديقة משולחן 12",
    "木" * 60,
    "a" * 190,
]

SLOW = ("=HYPERLINK('x')", "+1+1", "@SUM(A1)", "-2+3", "../../etc/passwd", "C:\\windows\\x", "木" * 60)
"""Like another of them."""

SMALL = (
    '[top]\ndiameter = 800\nrails = 2\nsegments = 8\n[slats]\nwidth = 100\nchamfer = 0\n[joints]\nspline = "none"\n'
)
"""Few kinds of part, quickly made."""

NAMES = ["=cmd|calc", "../up", "CON", "a/b", "<b>x</b>", "."]


@pytest.mark.wide
@pytest.mark.parametrize(
    "title", [pytest.param(title, marks=pytest.mark.slow) if title in SLOW else title for title in TITLES]
)
def test_titles_are_only_ever_text(title: str, tmp_path: Path) -> None:
    """A title of markup, formulas, paths or foreign letters is written as text in every file, or refused plainly."""
    name = NAMES[TITLES.index(title) % len(NAMES)]
    text = (
        f"format = 1\ntitle = {json.dumps(title, ensure_ascii=False)}\n{SMALL}{STOCK.replace('a{}', name)}count = 9\n"
    )
    profile = tmp_path / "odd.toml"
    profile.write_text(text, encoding="utf-8")
    folder = tmp_path / "deep" / "out"
    folder.parent.mkdir()
    only = "parts" if TITLES.index(title) % 4 else "parts,stock,paper,lists"
    result = CliRunner().invoke(main, ["make", str(profile), "-o", str(folder), "--only", only])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    if result.exit_code == 2:
        assert "odd.toml" in result.output
        assert not folder.exists()
        return
    assert [path.name for path in folder.parent.iterdir()] == ["out"]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["deep", "odd.toml"]
    assert prove(folder).true, prove(folder).differences[:3]
    for path in folder.rglob("*.svg"):
        tree = ElementTree.parse(path)
        names = {element.tag.rpartition("}")[2] for element in tree.iter()}
        assert names <= {"svg", "g", "path", "circle", "rect", "text", "title", "desc", "defs"}, names
    for path in folder.rglob("*.csv"):
        for row in csv.reader(io.StringIO(path.read_text(encoding="utf-8"))):
            assert not any(cell.startswith(("=", "+", "@")) for cell in row), row
