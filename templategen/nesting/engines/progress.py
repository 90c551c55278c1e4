"""How an engine tells of its progress."""

from collections.abc import Callable

Progress = Callable[[float, float | None], None]
"""Told how much of the work is done, 0 to 1, and what the best layout so far costs (None until one is whole)."""
