"""Words on paper: each lies whole inside the part it speaks of, or in a tag whose line leads to that part."""

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from templategen.catalogue import translated, worded
from templategen.geometry.bounds import Bounds
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.proof.read_pdf import Ink, Lettered

TAG = "TAG"

ON_LINE = 0.05
"""A tag's line ends nearer than this to the part it leads to, mm."""


class Wood(NamedTuple):
    """The wood of one template on a drawing: its code, what is sawn first, what goes through, its revision. A jig's
    scale may be figured `beside` it, since it shares its sheet with pieces of the same jig only."""

    code: str
    outline: Outline
    holes: tuple[Outline, ...]
    beside: bool
    revision: str


def legend_differences(ink: Ink, woods: Sequence[Wood]) -> Iterator[tuple[str, str]]:
    """Words over a line that is sawn to, in no part and no tag, or in another part than they name; templates without
    a name or their revision."""
    led = [(frame, _led_to(ink.chords[TAG], frame, woods)) for frame in _frames(ink.chords.get(TAG))]
    tags = [(frame, place) for frame, place in led if place is not None]
    named, revised = set[int](), set[int]()
    for word in (word for words in ink.lettered.values() for word in words):
        at = [i for i, wood in enumerate(woods) if any(wood.outline.contains(corner, 0.0) for corner in word.corners)]
        told = [i for frame, i in tags if _holds(frame, word)]
        if len(at) > 1 or (at and not _lies_in(word, woods[at[0]])):
            yield woods[at[0]].code, worded('the words "{text}" lie over a line that is sawn to', text=word.text)
        elif not at and len(told) != 1 and not woods[0].beside:
            yield woods[0].code, worded('the words "{text}" lie in no part and in no tag', text=word.text)
        owner = at[0] if at else told[0] if told else None
        if owner is None:
            continue
        for code in {wood.code for wood in woods}:
            counted = word.text.startswith((f"{code} ×", f"{code} x"))
            if woods[owner].code == code and (counted or word.text == code):
                named.add(owner)
            elif counted:
                yield woods[owner].code, worded('the words "{text}" speak of another part', text=word.text)
        if woods[owner].revision in word.text:
            revised.add(owner)
    for i, wood in enumerate(woods):
        if i not in named:
            yield wood.code, translated("isn't named in its template")
        elif i not in revised:
            yield wood.code, worded("isn't told to be of revision {revision} in its template", revision=wood.revision)


def _lies_in(word: Lettered, wood: Wood) -> bool:
    """Whether words are clear of the part's edges: corners inside, no corner of the part in the words."""
    sides = [Point(*corner) for corner in word.corners]
    inside = all(wood.outline.contains(corner, 0.0) for corner in sides)
    steps = [a.plus(b.minus(a), share) for a, b in zip(sides, (*sides[1:], sides[0]), strict=True)
             for share in (0.25, 0.5, 0.75)]  # fmt: skip
    clear = not any(hole.contains(at, 0.0) != hole.contains(sides[0], 0.0) for hole in wood.holes for at in sides)
    return inside and clear and all(wood.outline.contains(at, 0.0) for at in steps)


def _holds(frame: Bounds, word: Lettered) -> bool:
    return all(frame.left < x < frame.right and frame.bottom < y < frame.top for x, y in word.corners)


def _frames(chords: Any) -> Iterator[Bounds]:
    """The borders among a layer's lines: four upright or level lines in a row that close."""
    rows = [] if chords is None else [tuple(row) for row in chords.tolist()]
    for four in (rows[index : index + 4] for index in range(len(rows) - 3)):
        ends = all(_same(a[2:], b[:2]) for a, b in zip(four, (*four[1:], four[0]), strict=True))
        if ends:
            xs, ys = [row[0] for row in four], [row[1] for row in four]
            yield Bounds(min(xs), min(ys), max(xs), max(ys))


def _led_to(chords: Any, frame: Bounds, woods: Sequence[Wood]) -> int | None:
    """The place among `woods` that the line from a border leads to."""
    for x0, y0, x1, y1 in chords.tolist():
        if _on_border(frame, x0, y0) and not _on_border(frame, x1, y1):
            return next((i for i, wood in enumerate(woods) if wood.outline.distance(Point(x1, y1)) < ON_LINE), None)
    return None


def _on_border(frame: Bounds, x: float, y: float) -> bool:
    wide, narrow = frame.grown(ON_LINE), frame.grown(-ON_LINE)
    return (
        wide.left <= x <= wide.right
        and wide.bottom <= y <= wide.top
        and not (narrow.left < x < narrow.right and narrow.bottom < y < narrow.top)
    )


def _same(one: Sequence[float], other: Sequence[float]) -> bool:
    return max(abs(a - b) for a, b in zip(one, other, strict=True)) < ON_LINE
