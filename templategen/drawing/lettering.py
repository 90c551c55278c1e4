"""Lettering: heights by ISO 3098 and room for a line of text."""

from textwrap import wrap

from templategen.units import tied, untied

HEIGHTS = (3.5, 5.0, 7.0, 10.0)
"""Capital heights of ISO 3098 that read in a workshop, mm."""

WIDTH_OF_LETTER = 0.85
"""Room for one letter as a share of the capital height, on the generous side."""

LINE_FEED = 1.8
"""Distance between base lines as a share of the capital height."""


def height_for(extent: float) -> float:
    """The capital height for a drawing whose longer side is `extent` mm: about one in 120."""
    return next((height for height in HEIGHTS if height >= extent / 120), HEIGHTS[-1])


def text_width(text: str, height: float) -> float:
    """Room for a line of text, mm, on the generous side."""
    return len(text) * height * WIDTH_OF_LETTER


def in_lines(words: str, letters: int, indent: str = "") -> list[str]:
    """The words in lines of at most so many letters, the later ones behind an `indent`; no code ends at its hyphen,
    no figure stands away from its unit."""
    lines = wrap(tied(words), letters, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False)
    return [untied(line) for line in lines]
