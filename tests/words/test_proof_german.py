"""What `prove` tells of a difference is told out of the catalogue: no sentence in its rooms stands by itself."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import templategen
from templategen.catalogue import texts_of, translated
from templategen.english import spoken
from templategen.geometry.point import Point
from templategen.proof.counts import count_differences
from templategen.proof.difference import Difference
from templategen.proof.outlines import describe_miss
from tests.words.texts import TELL

ROOT = Path(templategen.__file__).parent
ROOMS = (*(ROOT / "proof").rglob("*.py"), ROOT / "packet/proved.py", ROOT / "packet/worked_anew.py")

ASKED_FOR = {
    "spline slot", "drill through", "cross bore", "end bore", "peg bore", "tenon bore", "pin slot", "round corner",
    "saw round", "drip groove", "edge round-over", "saw flatwise", "plane down", "face and edge", "groove cutter",
    "router bit", "table saw", "circular saw", "mitre saw", "top face", "underside (turned over left to right)",
    "waste, shaded", "across: {size}", "sq in", "work at the bench",
}  # fmt: skip
"""Names by which a proof asks a record, or reads words on a sheet."""

TOLD = (*TELL, "read_as", "compile", "column")


def bare(path: Path) -> Iterator[str]:
    """Sentences of a file that are told in English alone, notes on paper that are read back left out."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    inner = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        told = isinstance(node, ast.Call) and getattr(node.func, "id", getattr(node.func, "attr", "")) in TOLD
        named = isinstance(node, ast.Assign) and all(getattr(one, "id", "").isupper() for one in node.targets)
        if told or named or isinstance(node, ast.JoinedStr):
            inner |= {id(one) for one in ast.walk(node) if one is not node}
    for node in ast.walk(tree):
        if id(node) not in inner and isinstance(node, ast.JoinedStr | ast.Constant):
            parts = node.values if isinstance(node, ast.JoinedStr) else [node]
            text = "".join(one.value for one in parts if isinstance(one, ast.Constant) and isinstance(one.value, str))
            if re.search("[a-z]{2}", text) and " " in text.strip() and text not in ASKED_FOR:
                yield text


def test_no_sentence_of_a_proof_stands_by_itself() -> None:
    """A new one is written in `worded` or `translated`, and its German is asked for as that of every text."""
    assert len(ROOMS) > 30
    found = [(path.name, text) for path in ROOMS for text in bare(path)]
    assert not [one for one in found if not one[1].startswith(("by ", "against "))]


def test_a_difference_is_told_in_german() -> None:
    """Whole, with a decimal comma where people read it, and its code as it is."""
    record = {"parts": [{"code": "LEG", "kind": "leg", "count": 3, "files": []}], "placed": [{"code": "LEG"}],
              "joints": [], "assembly": [], "stock": [], "files": []}  # fmt: skip
    with spoken("german", ()):
        (found,) = count_differences(record)
        off = Difference("parts/LEG.svg", "", describe_miss(0.25, Point(1.5, 2.0)))
        assert str(found) == "packet.json: LEG: wird 3 mal gemacht, steht 1 mal darin"
        assert str(off) == "parts/LEG.svg: liegt bei (1,50; 2,00) um 0,250 mm daneben"
    assert found.says == "wird 3 mal gemacht, steht 1 mal darin" and translated("is missing") == "is missing"
    assert texts_of("german")["is missing"] == "fehlt"
