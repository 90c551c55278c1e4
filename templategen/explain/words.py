"""A figure in words: its value in the maker's units, its formula with the values put in, its terms."""

import re
from collections.abc import Iterator, Mapping
from math import isclose
from textwrap import wrap
from typing import Any

from templategen.catalogue import figured, translated, worded
from templategen.checks.wording import SIGNS
from templategen.english import language
from templategen.explain.book import Quantity
from templategen.explain.evaluate import evaluate
from templategen.explain.story import Story
from templategen.units import angle_words, inch_fraction, show_length, trimmed

SYMBOLS = (
    "across", "alike", "angle", "area", "arm", "arms", "arris", "bare", "base", "bevel", "bisector", "cheek",
    "coats", "copies", "corner", "count", "cover", "deep", "density", "dry", "each", "edge", "end", "face", "faces",
    "factor", "fed", "first", "foot", "free", "further", "gap", "glued", "half", "head", "high", "hold", "hole",
    "inner", "kerf", "lap", "last", "lean", "least", "left", "less", "level", "low", "margin", "mitre", "more",
    "now", "odd", "off", "over", "own", "past", "pitch", "play", "rail", "rake", "relief", "right", "rim",
    "run", "short", "side", "sink", "sizing", "span", "spare", "spread", "start", "stop", "stub", "sunk",
    "swing", "tenon", "then", "tip", "trench", "turn", "under", "upper", "wall", "warmth", "waste", "water",
    "wet", "whole",
)  # fmt: skip
"""Symbols of formulas that are words; a translator is asked for `symbol wall`, as a word may mean more elsewhere."""

DIGITS = 4
"""Decimals of a displayed value; trailing noughts are left out."""

PUT_IN = 6
"""Decimals of the values put into a formula."""

SMALLEST_TOLD = 1e-3
"""A value smaller than this is shown with as many significant digits instead."""

IN_INCHES = {
    "mm": (1 / 25.4, "in"), "mm2": (25.4**-2, "sq in"), "mm3": (25.4**-3, "cu in"), "kg": (2.204622622, "lb"),
}  # fmt: skip
"""The unit that inch profiles show instead, and the factor to it."""

WIDTH = 100
"""Characters in a line; longer formulas are broken between their terms."""


def format_value(value: float, unit: str, units: str) -> str:
    """A value with its unit; lengths of an inch profile as a fraction with its error, and in mm."""
    if unit == "mm" and units == "in":
        fraction, error = inch_fraction(value)
        off = "" if abs(error) < 5e-4 else f" {'-' if error > 0 else '+'} {trimmed(abs(error), 3)} mm"
        return figured(f"{fraction}{off} = {digits(value, DIGITS)} mm")
    sign = "°" if unit == "deg" else f" {SIGNS.get(unit) or translated(unit)}"
    return figured(f"{digits(value, DIGITS)}{sign}".strip())


def value_in_units(value: float, unit: str, units: str) -> str:
    """A value in the maker's units alone, as the page shows it."""
    if units == "in" and unit == "mm":
        return show_length(value, units)
    if units == "in" and unit in IN_INCHES:
        times, named = IN_INCHES[unit]
        return figured(f"{digits(value * times, DIGITS)} {named}")
    if unit == "deg":
        return figured(angle_words(value))
    return figured(f"{digits(value, DIGITS)} {SIGNS.get(unit, unit)}".strip())


def worked(quantity: Quantity, pages: Mapping[str, Quantity], units: str) -> str:
    """The formula, and the formula with its values; in inches where it holds in inches too."""
    values = {symbol: pages[name].value for symbol, name in quantity.terms}
    if units == "in" and quantity.unit in IN_INCHES:
        inches = {symbol: values[symbol] * _times(pages[name].unit) for symbol, name in quantity.terms}
        if isclose(evaluate(quantity.formula, inches), quantity.value * _times(quantity.unit), rel_tol=1e-9):
            return _both(quantity.formula, inches)
        return worded("reckoned in metric units: {formula}", formula=_both(quantity.formula, values))
    return _both(quantity.formula, values)


def _both(formula: str, values: Mapping[str, float]) -> str:
    return f"{_as_read(formula)} = {_with(formula, values)}"


def _times(unit: str) -> float:
    return IN_INCHES.get(unit, (1.0, unit))[0]


def digits(value: float, places: int) -> str:
    """A number without trailing noughts; a small one to that many significant digits."""
    return f"{value:.{places}g}" if 0 < abs(value) < SMALLEST_TOLD else trimmed(value, places)


def symbol_words(symbol: str) -> str:
    """A symbol of a formula in the language that is spoken."""
    asked = f"symbol {symbol}"
    return translated(asked).removeprefix("symbol ")


def _as_read(formula: str) -> str:
    """A formula as people read it: words for its symbols, and between values that have commas semicolons."""
    if language() == "english":
        return formula
    words = _NAME.sub(lambda name: symbol_words(name[0]) if name[0] in SYMBOLS else name[0], formula)
    return figured(words.replace(", ", "; "))


_NAME = re.compile(r"[A-Za-z_]\w*")


def _with(formula: str, values: Mapping[str, float]) -> str:
    def value(match: re.Match[str]) -> str:
        if match[0] not in values:
            return match[0]
        text = digits(values[match[0]], PUT_IN)
        return f"({text})" if text.startswith("-") else text

    return _as_read(_NAME.sub(value, formula))


def story_lines(story: Story, pages: Mapping[str, Quantity], units: str) -> Iterator[str]:
    """Step by step from the answer down, then what was given and where it was set."""
    for step in story.steps:
        yield from step_lines(step, pages, units)
        yield ""
    if story.given:
        yield translated("given")
        yield from given_lines(story, units)


def step_lines(step: Quantity, pages: Mapping[str, Quantity], units: str) -> Iterator[str]:
    """One step: its name and value, what it is, its formula as written and with values, its source, and its terms."""
    yield f"{step.name} = {format_value(step.value, step.unit, units)}"
    yield from _wrapped(step.says, "  ")
    worth = [symbol for symbol, _ in step.terms]
    in_mm = translated("in mm: ") if units == "in" and step.unit == "mm" else ""
    if step.formula not in worth:
        values = {symbol: pages[name].value for symbol, name in step.terms}
        yield from _wrapped(f"= {_as_read(step.formula)}", "  ")
        yield from _wrapped(f"= {_with(step.formula, values)}", "  ", in_mm)
    if step.source:
        yield from _wrapped(worded("by: {source}", source=step.source), "  ")
    width = max((len(symbol_words(symbol)) for symbol in worth), default=0)
    for symbol, name in step.terms:
        term = pages[name]
        yield f"    {symbol_words(symbol):<{width}} = {name} = {format_value(term.value, term.unit, units)}"


def given_lines(story: Story, units: str) -> Iterator[str]:
    """What was given: name, value, where it comes from, what it is."""
    rows = [(q.name, format_value(q.value, q.unit, units), q.source, q.says) for q in story.given]
    names, values = (max(len(row[i]) for row in rows) for i in (0, 1))
    for name, value, source, says in rows:
        yield f"  {name:<{names}}  {value:<{values}}  {source}"
        yield from _wrapped(says, "      ")


def _wrapped(words: str, indent: str, before: str = "") -> Iterator[str]:
    lines = wrap(before + words, WIDTH - len(indent) - 2, break_long_words=False, break_on_hyphens=False)
    yield from (f"{indent}{'  ' if number else ''}{line}" for number, line in enumerate(lines))


PLACES = 12
"""Decimals of written numbers."""


def quantity_json(quantity: Quantity, units: str) -> dict[str, Any]:
    """One figure; lengths in mm, for an inch profile also as a fraction with its error."""
    told: dict[str, Any] = {
        "name": quantity.name,
        "says": quantity.says,
        "value": round(quantity.value, PLACES) + 0.0,
        "unit": quantity.unit,
        "formula": quantity.formula,
        "terms": dict(quantity.terms),
        "source": quantity.source,
    }
    if units == "in" and quantity.unit == "mm":
        fraction, error = inch_fraction(quantity.value)
        told |= {"inches": fraction, "inches_error_mm": round(error, 6) + 0.0}
    return told


def story_json(story: Story, pages: Mapping[str, Quantity], units: str) -> dict[str, Any]:
    """A figure with the steps that lead to it and what was given."""
    answer = (*story.steps, *story.given)[0]
    return {
        "exit": 0,
        "quantity": answer.name,
        "value": round(answer.value, PLACES) + 0.0,
        "unit": answer.unit,
        "steps": [quantity_json(step, units) for step in story.steps],
        "given": [quantity_json(leaf, units) for leaf in story.given],
    }
