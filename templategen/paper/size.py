"""Sizes of paper by name."""

from math import isfinite

from templategen.errors import Fault, OutputError
from templategen.table.profile.model_of_shop import Paper

SIZES: dict[str, tuple[float, float]] = {
    "a0": (841, 1189), "a1": (594, 841), "a2": (420, 594), "a3": (297, 420), "a4": (210, 297),
    "a5": (148, 210), "a6": (105, 148),
    "b0": (1000, 1414), "b1": (707, 1000), "b2": (500, 707), "b3": (353, 500), "b4": (250, 353),
    "b5": (176, 250), "b6": (125, 176),
    "letter": (215.9, 279.4), "legal": (215.9, 355.6), "tabloid": (279.4, 431.8),
}  # fmt: skip
"""Width and height upright, mm (ISO 216; the American sizes are 8 1/2 x 11, 8 1/2 x 14 and 11 x 17 in)."""


def paper_size(paper: Paper) -> tuple[float, float | None]:
    """Width and height as named or given, mm; no height for a roll.

    Raises:
        OutputError: a name that isn't known, or sizes that no paper has.
    """
    if isinstance(paper.size, str):
        size = SIZES.get(paper.size.strip().lower())
        if size is None:
            found = f"{paper.size!r} is no paper size known here"
            raise OutputError(Fault("paper.size", found, f"use one of {', '.join(SIZES)}, [w, h] or [w]"))
        return size
    if len(paper.size) not in (1, 2) or not all(isfinite(side) and side > 0 for side in paper.size):
        raise OutputError(Fault("paper.size", f"{list(paper.size)}", "give [width, height], or [width] of a roll"))
    return paper.size[0], paper.size[1] if len(paper.size) == 2 else None
