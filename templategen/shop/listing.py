"""A list as it is written: header and rows."""

Cell = str | float
"""Words, or a number."""

Listing = tuple[list[str], list[list[Cell]]]
"""The names of the columns, and the cells of each row."""
