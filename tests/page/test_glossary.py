"""The page's list of words."""

from __future__ import annotations

import re
from pathlib import Path

from templategen.packet.page.glossary import WORDS, glossary

SOURCES = Path(__file__).parents[2] / "templategen"


def test_words_are_in_order_and_used() -> None:
    """From a to z, each told once, and each is a word that we use elsewhere than in the list."""
    (grid,) = glossary().grids
    assert [row[0] for row in grid.rows] == sorted(WORDS)
    elsewhere = " ".join(
        path.read_text(encoding="utf-8").lower() for path in SOURCES.rglob("*.py") if path.name != "glossary.py"
    )
    stems = {word: re.sub(r"^saw (flat)", r"\1", word) for word in WORDS}
    assert [word for word, stem in stems.items() if stem not in elsewhere] == []
