"""The outside checker of accessibility, asked so that a long page takes it a minute and not ten.

Its contrast of words looks at every element of the page for every word. Words that look alike on grounds that look
alike come out alike, so it is asked for one of each kind in each chapter; all other rules are asked of the whole
page.
Of letters in drawings it says that it can't tell: `measure.js` reckons those, all of them.
"""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import Any

from tests.page.browser import Look, looks

CONTRAST = "color-contrast"

MORE = ("duplicate-id", "target-size")
"""Rules that the checker leaves off by itself."""

KINDS = Path(__file__).with_name("kinds.js").read_text(encoding="utf-8")

FOUND = """([asked, rules]) => axe.run(asked || document, { resultTypes: ["violations"], ...rules }).then((told) =>
  told.violations.map((one) => [one.id, one.nodes[0].html]))"""


def armed(view: Any) -> None:
    """Opens every fold of a page, and lets the checker in."""
    view.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    view.evaluate(files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8"))


def whole(view: Any) -> list[Any]:
    """What every rule says of a small page, each with the first element that it blames."""
    found: list[Any] = view.evaluate(FOUND, [None, {}])
    return found


def faint(view: Any) -> list[Any]:
    """Words that stand out too little, by one of each kind."""
    found: list[Any] = view.evaluate(f"{KINDS}\n({FOUND})([{{ include: kinds() }}, {{ runOnly: ['{CONTRAST}'] }}])")
    return found


def other_than_faint(view: Any) -> list[Any]:
    """What all other rules say."""
    rules = {CONTRAST: {"enabled": False}, **{rule: {"enabled": True} for rule in MORE}}
    found: list[Any] = view.evaluate(FOUND, [None, {"rules": rules}])
    return found


def complaints(view: Any, seen_as: tuple[tuple[int, Look], ...]) -> dict[tuple[int, Look], list[Any]]:
    """What is found amiss at each width in each look; what colours don't change is asked once."""
    told: dict[tuple[int, Look], list[Any]] = {}
    for width, look in seen_as:
        looks(view, width, look)
        view.evaluate("settled()")
        told[width, look] = faint(view) + ([] if look == "dark" else other_than_faint(view))
    return told
