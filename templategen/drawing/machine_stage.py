"""What stands about a piece that is seen from above at a machine: fence, stop, feed, and what is named on it."""

from collections.abc import Iterator, Sequence

from templategen.drawing.bench_view import LETTERS, BenchView, lies_up
from templategen.drawing.drawing import Mark
from templategen.drawing.jig_marks import made
from templategen.drawing.lettering import text_width
from templategen.drawing.machine_marks import Squeeze, along, fixed, named, pointing, words
from templategen.geometry.bounds import Bounds
from templategen.geometry.outline import polygon
from templategen.geometry.point import Point

UNDER = 4.2
"""A stop's name reaches no further under the piece, in capital heights."""

STRIP = 1.6
"""The depth of a strip along the fence, in capital heights."""


def box_of(points: Sequence[Point]) -> Bounds:
    """The least upright rectangle round points."""
    return Bounds.around(Bounds(x, y, x, y) for x, y in points)


class Stage:
    """The fence along the top of the piece, the stop at its end, and what is named on the piece. A `lined` strip of
    that code stands between them."""

    def __init__(self, view: BenchView, squeeze: Squeeze, box: Bounds, lined: str = "") -> None:
        self.view, self.squeeze = view, squeeze
        self.left, self.right = squeeze(box.left), squeeze(box.right)
        self.low, self.top = box.bottom, box.top
        self.letter = max(self.right - self.left, 1.6 * (self.top - self.low)) / LETTERS
        self.lined, self.back = lined, self.top + (self.letter * STRIP if lined else 0.0)

    def strip(self, at: float, slant: float, right: float) -> Iterator[Mark]:
        """The strip from where the blade meets its lined face, its end sawn as the blade slants, to a place."""
        if self.lined:
            end = Point(at + slant * (self.back - self.top), self.back)
            ring = (Point(at, self.top), Point(right, self.top), Point(right, self.back), end)
            yield from made(polygon(ring), self.lined)
            yield words(self.lined, (at + right) / 2, (self.top + self.back) / 2, self.letter * 0.9)

    def fence(self, left: float, right: float) -> Iterator[Mark]:
        """The fence, in it what lies at it."""
        letter = self.letter
        yield from fixed(left, self.back, right, self.back + letter * 1.9)
        told = named("fence, {lies}", lies=self.view.side(self.view.lay.against))
        yield words(told, (left + right) / 2, self.back + letter * 0.95, letter)

    def stop(self, at: float, right: bool, name: str = "stop") -> Iterator[Mark]:
        """A square stop whose face is at a place, its name under it."""
        out = self.letter * (1.4 if right else -1.4)
        yield from fixed(at, self.top, at + out, self.low)
        told = named(name)
        past = max(self.letter * 0.7, text_width(told, self.letter) / 2 - UNDER * self.letter)
        yield words(told, at + (past if right else -past), self.low - self.letter * 1.1, self.letter)

    def feed(self, left: float, aside: float) -> Iterator[Mark]:
        """An arrow to the left of all that is drawn, the way in which the piece is pushed over the cutter: along the
        cut, which goes so far to the right while it crosses the piece. Whoever pushes it stands at the arrow's foot,
        so that left and right as drawn are theirs the other way round."""
        run = Point(aside, self.low - self.top).unit.times(self.top - self.low)
        start = Point(left - self.letter * 3 - max(run.x, 0.0), self.top)
        yield from pointing(start, start.plus(run), self.letter)
        yield words(named("feed, from you"), start.x + self.letter, self.top + self.letter * 0.95, self.letter, "end")

    def up(self, ring: Sequence[Point], blade: float) -> Iterator[Mark]:
        """What lies up, on the wood beside its break, as high and as near the middle as it finds room, or else under
        it, under the blade's words where the blade comes out there."""
        letter, text, wood_ = self.letter * 0.9, lies_up(self.view, self.view.lay.up), polygon(ring)
        half, middle, slant = text_width(text, letter) / 2, (self.left + self.right) / 2, (self.top - self.low) * 0.1
        gaps = [self.squeeze(spot) for spot, _ in self.squeeze.gaps]
        steps = sorted(range(-20, 21), key=abs)
        rows = range(1 + int((self.top - self.low) / letter))
        for spot in (
            Point(middle + half * step / 5, self.top - letter * (1.1 + row)) for row in rows for step in steps
        ):
            corners = (spot.plus(Point(side * half, up * letter)) for side in (-1, 1) for up in (-0.6, 0.6))
            if all(abs(spot.x - gap) > half + slant for gap in gaps) and all(map(wood_.contains, corners)):
                yield words(text, spot.x, spot.y, letter)
                return
        under = box_of([point for point in ring if point.y < self.low + 1e-6]).centre.x
        lay = self.view.lay
        end = self.right if lay.stop_at and self.view.is_right(lay.stop_at) else self.left
        by_stop = bool(lay.stop_at) and abs(end - under) < half + self.letter * UNDER
        row = 5.3 if by_stop or abs(under - blade) < half + self.letter * 1.6 else 1.1
        yield words(text, under, self.low - self.letter * row, letter)

    def over(self, at: float, to: float, text: str, row: int = 0, outermost: bool = True) -> Iterator[Mark]:
        """A figure along the fence."""
        y = self.back + self.letter * (3.2 + 2.3 * row)
        yield from along(at, to, y, text, self.letter, self.back + self.letter * 2.1, outermost)
