"""What every nesting engine offers."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Protocol

from templategen.nesting.stock import Item, Layout, Piece

Progress = Callable[[float, float | None], None]
"""Told how much of the work is done, 0 to 1, and what the best layout so far costs (None until one is whole)."""


class Engine(Protocol):
    """Lays items on pieces; whatever it returns is proved elsewhere."""

    @property
    def name(self) -> str:
        """What the engine is called in reports."""

    def nest(
        self,
        items: Sequence[Item],
        pieces: Sequence[Piece],
        spacing: float,
        seconds: float | None = None,
        progress: Progress | None = None,
    ) -> Layout:
        """Lay all items, `spacing` mm apart; what finds no place is named in `Layout.unplaced`.

        `seconds` is the effort asked for; None asks for the engine's default. Whether the same call gives the same
        layout each engine says itself.
        """
