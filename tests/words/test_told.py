"""Whatever a command or a refusal tells stands in the catalogue: no text is written where it would stay English."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from templategen.catalogue import texts_of
from tests.words.texts import REFUSE, ROOT, TELL, _locals, _name

TOLD = {"say": (0,), "warn": (0,), "echo": (0,), "secho": (0,), "style": (0,), "Fault": (1, 2), "Lesson": (3,)}
TOLD |= dict.fromkeys(("UsageError", "BadParameter", "ClickException"), (0,))
"""Calls that tell somebody something, and which of their arguments are the words."""

LINES = ("cli", "job")
"""Rooms whose functions yield lines that are printed, and whose ValueErrors say what would do."""

SENT_IN = ("_report",)
"""Functions whose lines are for whoever looks after the program."""

FOR_PROGRAMS = (
    "drawing/tidy.py", "explain/evaluate.py", "geometry/", "nesting/verify.py", "nesting/verify_cuts.py",
    "output/dxf.py", "output/svg_inline.py", "output/table_csv.py", "parts/feature.py",
)  # fmt: skip
"""Where only a call from Python is refused: no profile, file or page of a maker comes to these sentences. What is
found there in spite of that is a mistake of ours."""

WORDS = re.compile(r"(?<![\w.-])[A-Za-z]{2,}(?![\w.]*\w*=)")


def test_whatever_is_told_stands_in_the_catalogue() -> None:
    """Each text that a command prints or a refusal says is asked for from there, not written into the call."""
    assert outside() == []


def outside() -> list[tuple[str, int, str]]:
    """Texts told as they stand: file, line, text."""
    files = (path for path in sorted(ROOT.rglob("*.py")) if not _place(path).startswith(FOR_PROGRAMS))
    return [(_place(path), *one) for path in files for one in untold(path.read_text(), _place(path))]


def untold(text: str, place: str) -> Iterator[tuple[int, str]]:
    """What a file tells as it stands, with its lines."""
    for function in ast.walk(ast.parse(text)):
        if isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef) and function.name not in SENT_IN:
            given = _locals(function)
            for node in ast.walk(function):
                yield from (one for arg in _words_of(node, place) for one in _written(arg, given) if _says(one[1]))


def _words_of(node: ast.AST, place: str) -> Iterator[ast.AST]:
    lines = place.startswith(LINES)
    if isinstance(node, ast.Call):
        at = TOLD.get(_name(node.func), (0,) if lines and _name(node.func) == "ValueError" else ())
        yield from (node.args[n] for n in at if n < len(node.args))
        yield from (word.value for word in node.keywords if at and word.arg in ("found", "remedy", "message"))
    elif isinstance(node, ast.Yield) and lines and node.value is not None:
        yield node.value


def _written(node: ast.AST, given: Mapping[str, list[ast.AST]]) -> Iterator[tuple[int, str]]:
    """Texts that an expression writes itself; what a call gives is that call's, and the catalogue's."""
    match node:
        case ast.Constant(value=str(text)):
            yield node.lineno, text
        case ast.JoinedStr(values=values):
            yield node.lineno, "".join(one.value if isinstance(one, ast.Constant) else " " for one in values)
            for one in values:
                yield from _written(one.value, given) if isinstance(one, ast.FormattedValue) else ()
        case ast.Name(id=name):
            inner = {key: value for key, value in given.items() if key != name}
            for one in given.get(name, ()):
                yield from _written(one, inner)
        case ast.IfExp(body=one, orelse=other) | ast.BinOp(left=one, right=other):
            yield from _written(one, given)
            yield from _written(other, given)
        case ast.BoolOp(values=several) | ast.Tuple(elts=several) | ast.List(elts=several):
            for one in several:
                yield from _written(one, given)
        case ast.Call(func=ast.Attribute(attr="join"), args=[ast.GeneratorExp(elt=one)]):
            yield from _written(one, given)


def _says(text: str) -> bool:
    return bool(WORDS.search(text))


def _place(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


@pytest.mark.parametrize(
    "line",
    [
        'say(f"wrote {name}")',
        'found = "no such thing" if name else ""\n    raise ProfileError(Fault("", found, ""))',
        'Fault("", translated("no such thing"), f"try {name}")',
        'yield f"in the profile: {name}"',
        'raise click.UsageError("one or the other")',
        'say(", ".join(f"{one} again" for one in name))',
    ],
)
def test_a_text_outside_the_catalogue_is_seen(line: str) -> None:
    """The test would fail for each of these."""
    assert list(untold(f"def told(name):\n    {line}\n", "cli/new.py"))


@pytest.mark.parametrize("ask", [*TELL[2:4], *[name for name in REFUSE if name == "fault_of"]])
def test_what_is_asked_for_is_the_catalogues(ask: str) -> None:
    """Nothing is found where the catalogue is asked."""
    assert not list(untold(f'def told(name):\n    say({ask}("wrote {{name}}", name=name))\n', "cli/new.py"))


NO_SIGN = re.compile(r"[\d}] ?(deg|degrees|percent|per cent|mm2|mm3|m2|m3|Grad|Prozent)\b|\+/-|[\d}]%")


def test_a_unit_has_one_sign() -> None:
    """Degrees, squares and shares alike wherever they are told; but what a file takes is told as it takes it."""
    told = [text for pair in texts_of("german").items() for text in pair]
    found = [text for text in told if NO_SIGN.search(text)]
    assert not [
        text for text in found if not re.search(r'\d deg"|-2 (to|bis) 2 deg|0\.05 deg|skew of|Schräglauf von', text)
    ]
