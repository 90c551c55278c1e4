"""Quantities for machines."""

from collections.abc import Mapping
from typing import Any

from templategen.explain.quantity import Quantity
from templategen.explain.story import Story
from templategen.units import inch_fraction

PLACES = 12
"""Decimals of written numbers."""


def quantity_json(quantity: Quantity, units: str) -> dict[str, Any]:
    """One figure; lengths in mm, of an inch profile also as a fraction with what that shows too much."""
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
