"""Where ink lies on a sheet, so that words find paper."""

from collections import defaultdict
from collections.abc import Iterable
from math import floor

from templategen.geometry.bounds import Bounds

SQUARE = 15.0
"""Side of the squares by which ink is found, mm."""


class Ink:
    """Boxes that hold ink, found by the squares they lie in."""

    def __init__(self, boxes: Iterable[Bounds] = ()) -> None:
        self._squares: dict[tuple[int, int], list[Bounds]] = defaultdict(list)
        self.take(boxes)

    def take(self, boxes: Iterable[Bounds]) -> None:
        """Adds boxes."""
        for box in boxes:
            for square in _squares(box):
                self._squares[square].append(box)

    def meets(self, boxes: Iterable[Bounds]) -> bool:
        """Whether any of the boxes lies on ink."""
        held = self._squares
        for box in boxes:
            left, bottom, right, top = box
            for square in _squares(box):
                for x0, y0, x1, y1 in held.get(square, ()):
                    if left <= x1 and x0 <= right and bottom <= y1 and y0 <= top:
                        return True
        return False


def _squares(box: Bounds) -> list[tuple[int, int]]:
    left, right = floor(box.left / SQUARE), floor(box.right / SQUARE)
    low, high = floor(box.bottom / SQUARE), floor(box.top / SQUARE)
    if left == right and low == high:
        return [(left, low)]
    return [(column, row) for column in range(left, right + 1) for row in range(low, high + 1)]
