"""The pen: what draws marks. A file format, the page and a recorder for tests are pens."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from templategen.drawing.drawing import Shape, Stroke, Words


class Pen(Protocol):
    """Takes a drawing's marks one by one, in their order: `drawing.draw(pen)`.

    How a line runs is asked of its edges, which walk along a track with true arcs (`geometry.edge.Track`).
    """

    def ring(self, shape: Shape) -> None:
        """A closed outline."""

    def stroke(self, stroke: Stroke) -> None:
        """An open line or arc."""

    def words(self, words: Words) -> None:
        """A line of text."""
