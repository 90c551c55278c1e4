"""The colours of a page, in light and dark."""

from __future__ import annotations

import re

import pytest

from templategen.output.page import render
from templategen.output.svg_style import _INKS, _TONES

CSS = render._style()

WORDS = ("ink", "soft", "lead", "stop", "care", "note")

LEAST = 4.5
"""WCAG 2.2, 1.4.3: contrast of words."""


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    full = colour[1:] if len(colour) == 7 else "".join(2 * letter for letter in colour[1:])
    shares = [int(full[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    linear = [share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """The contrast of two colours, 1 to 21."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def variables(mode: str) -> dict[str, str]:
    """The page's own colours in light or dark, as its style sheet sets them."""
    rules = re.findall(r":root\{(--paper[^}]*)\}", CSS)
    return dict(re.findall(r"--([a-z]+):(#[0-9a-f]+)", rules[0 if mode == "light" else 1]))


def test_contrast_is_reckoned_right() -> None:
    """Black on white is 21, a colour on itself 1, and the grey #767676 just passes on white."""
    assert contrast("#000", "#fff") == pytest.approx(21)
    assert contrast("#123456", "#123456") == pytest.approx(1)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("mode", ["light", "dark"])
def test_words_stand_out_from_the_page(mode: str) -> None:
    """Every colour of words has 4.5 to 1 on sheets and on the ground between them."""
    colours = variables(mode)
    for name in WORDS:
        for behind in ("paper", "ground"):
            assert contrast(colours[name], colours[behind]) >= LEAST, (mode, name, behind)


@pytest.mark.parametrize("mode", ["light", "dark"])
def test_letters_of_drawings_stand_out_from_paper_and_wood(mode: str) -> None:
    """Every ink has 4.5 to 1 on the sheet and on the lightest wood, on which codes stand."""
    which = 0 if mode == "light" else 1
    paper = variables(mode)["paper"]
    for name, pair in _INKS.items():
        for behind in (paper, _TONES["WOOD_LIGHT"][which]):
            assert contrast(pair[which], behind) >= LEAST, (mode, name, behind)
