"""The sheet of one jig: its pieces, the figures it stands by, how it is used and how it is proved before."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import fsum

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.drawing.cautions import ALL
from templategen.drawing.drawing import Drawing, Mark, Shape, Words, marks_box
from templategen.drawing.layers import FRAME, TEXT, VIEW_TITLE
from templategen.drawing.lettering import LINE_FEED, WIDTH_OF_LETTER, height_for, in_lines
from templategen.drawing.manner import Manner
from templategen.drawing.move import moved
from templategen.drawing.part_sheet import size_check
from templategen.drawing.scribed import scribed, with_distances, work_notes
from templategen.drawing.view import bottom_view
from templategen.geometry.bounds import Bounds
from templategen.geometry.outline import rectangle
from templategen.geometry.overrun import OVERRUN
from templategen.geometry.point import Point
from templategen.jigs.jig import Critical, Jig
from templategen.jigs.piece import sizes_of
from templategen.parts.part import Part
from templategen.shop.cautions import general
from templategen.table.profile.choices import Machine, Units
from templategen.units import angle_words

NARROWEST = 420.0
"""Pieces go side by side while they fit in the widest of them or in this, mm."""

TALLEST = 7.0
"""Capitals of a jig's sheet are never taller, mm."""


@dataclass(frozen=True, slots=True)
class JigSheet:
    """The drawing, and where each piece's own origin lies on it."""

    drawing: Drawing
    sites: Mapping[str, Point]


def drawn_pieces(
    jig: Jig, by: float = OVERRUN, units: Units = "mm", layers: Units = "mm"
) -> Mapping[str, tuple[Mark, ...]]:
    """The marks of each piece by its code, for sheet and paper alike."""
    manner = Manner(_height(jig), by, units, layers=layers)
    return {part.code: scribed(jig, part, manner) for part in jig.parts}


def jig_sheet(
    jig: Jig,
    title: str,
    revision: str = "",
    by: float = OVERRUN,
    units: Units = "mm",
    drawn: Mapping[str, tuple[Mark, ...]] | None = None,
    machines: Sequence[Machine] = ALL,
) -> JigSheet:
    """The sheet, true size. The first piece stands at its own coordinates, the others beside it and below; `drawn`
    are their marks where they are known."""
    manner = Manner(_height(jig), by, units, layers=units)
    known = drawn if drawn is not None else drawn_pieces(jig, by, units)
    blocks = [(part.code, _block(jig, part, known[part.code], manner)) for part in jig.parts]
    sites: dict[str, Point] = {}
    marks = list(_flow(blocks, sites, manner.height))
    box = marks_box(marks)
    columns = max(40, int(max(box.width, NARROWEST) / (manner.height * WIDTH_OF_LETTER)))
    marks = _above(marks, _wrapped(_header(jig, title, revision, manner), columns), manner.height)
    marks += size_check(marks_box(marks), manner.height)
    marks = _below(marks, _wrapped(_text(jig, manner, machines), columns), manner.height)
    frame = marks_box(marks).grown(manner.height * 2)
    drawing = Drawing(f"{title} {jig.code}".strip(), (*marks, Shape(FRAME, rectangle(*frame))))
    return JigSheet(drawing, sites)


def _height(jig: Jig) -> float:
    widest = max(max(part.outline.bounds.width, part.outline.bounds.height) for part in jig.parts)
    return min(TALLEST, height_for(widest))


def _block(jig: Jig, part: Part, drawn: tuple[Mark, ...], manner: Manner) -> tuple[Mark, ...]:
    """A piece with its title above it, and its underside below it where that is worked."""
    marks = with_distances(jig, part, drawn, manner)
    if any(face.name == "bottom" for face in part.worked_faces):
        below = bottom_view(part, manner).marks
        box, own = marks_box(below), marks_box(marks)
        marks = (*marks, *moved(below, Point(own.left - box.left, own.bottom - box.top - manner.height * 3)))
    height, box = min(manner.height, 5.0), marks_box(marks)
    columns = max(30, int(box.width / (height * WIDTH_OF_LETTER)))
    number = part.count if part.count > 1 else None
    title = said("{code}: {name}[, {number} to make]", code=part.code, name=part.name, number=number)
    lines = [title, f"{translated(part.wood)} {manner.sizes(*sizes_of(part))}"]
    lines += [*part.notes, *work_notes(part, manner)]
    return tuple(_above(list(marks), _wrapped(lines, columns), height, VIEW_TITLE))


def _flow(blocks: Sequence[tuple[str, tuple[Mark, ...]]], sites: dict[str, Point], height: float) -> Iterator[Mark]:
    """The first block where it is, each other one as high up as there is room, then as far left."""
    boxes = [marks_box(marks) for _, marks in blocks]
    gap = height * 4
    across = max(NARROWEST, *(box.width for box in boxes), fsum(box.width * box.height for box in boxes) ** 0.5)
    placed: list[Bounds] = []
    for (code, marks), box in zip(blocks, boxes, strict=True):
        by = _room(box, placed, across, gap)
        placed.append(Bounds(box.left + by.x, box.bottom + by.y, box.right + by.x, box.top + by.y))
        sites[code] = by
        yield from moved(marks, by)


def _room(box: Bounds, placed: Sequence[Bounds], across: float, gap: float) -> Point:
    """How far a block must be moved to its place beside or below those already placed."""
    if not placed:
        return Point(0.0, 0.0)
    first = placed[0]
    lefts = [first.left, *(other.right + gap for other in placed)]
    tops = [first.top, *(other.bottom - gap for other in placed)]
    spots = sorted((-top, left) for top in tops for left in lefts if left + box.width <= first.left + across + 1e-6)
    for level, left in spots:
        here = Bounds(left, -level - box.height, left + box.width, -level).grown(gap * 0.49)
        if not any(here.meets(other.grown(gap * 0.49)) for other in placed):
            return Point(left - box.left, -level - box.top)
    return Point(first.left - box.left, min(tops) - box.top)


def _header(jig: Jig, title: str, revision: str, manner: Manner) -> list[str]:
    inches = manner.units == "in"
    lines = [
        title,
        f"{jig.code}  {jig.name}",
        said("for {codes:all}", codes=jig.serves) if jig.serves else "",
        translated(
            "True size, figures in inches. What is scribed is cut by nothing."
            if inches
            else "True size, figures in millimetres. What is scribed is cut by nothing."
        ),
        said("Revision {revision}", revision=revision) if revision else "",
    ]
    return [line for line in lines if line.strip()]


def _text(jig: Jig, manner: Manner, machines: Sequence[Machine]) -> Iterator[str]:
    """Figures, use, proof, cautions."""
    if jig.figures:
        yield translated("Figures it stands by")
        yield from (f"  {figure_line(figure, manner)}" for figure in jig.figures)
    for heading, lines in ((translated("Before its first use"), jig.proof), (translated("Use"), jig.told)):
        if lines:
            yield heading
            yield from (f"  {number}. {line}" for number, line in enumerate(lines, 1))
    yield translated("Take care")
    yield from (f"  {translated(line)}" for line in dict.fromkeys((*jig.cautions, *general(machines))))


def figure_line(figure: Critical, manner: Manner) -> str:
    """A figure as the list says it, with the formula it comes from."""
    value = angle_words(figure.value) if figure.unit == "deg" else manner.figure(figure.value)
    unit = "" if figure.unit == "deg" else f" {manner.units if figure.unit == 'mm' else figure.unit}"
    how = f" = {figure.how}" if figure.how else ""
    return f"{figure.name}: {figured(value)}{unit}{how}"


def _wrapped(lines: Sequence[str] | Iterator[str], columns: int) -> list[str]:
    """The lines, none longer than so many letters; what is carried over stands further in."""
    kept: list[str] = []
    for line in lines:
        indent = " " * (len(line) - len(line.lstrip()) + 2)
        kept += in_lines(line, columns, indent) or [""]
    return kept


def _above(marks: list[Mark], lines: Sequence[str], height: float, layer: object = TEXT) -> list[Mark]:
    box = marks_box(marks)
    at = box.top + height * 1.5
    chosen = TEXT if layer is TEXT else VIEW_TITLE
    words: list[Mark] = [
        Words(chosen, Point(box.left, at + i * height * LINE_FEED), height, line)
        for i, line in enumerate(reversed(lines))
    ]
    return [*marks, *reversed(words)]


def _below(marks: list[Mark], lines: Sequence[str], height: float) -> list[Mark]:
    """Lines under everything; those that belong under a heading stand further in."""
    box = marks_box(marks)
    words = []
    for i, line in enumerate(lines):
        indent = len(line) - len(line.lstrip())
        at = Point(box.left + indent * height * 0.6, box.bottom - height * (4 + i * LINE_FEED))
        words.append(Words(TEXT, at, height, line.strip()))
    return [*marks, *words]
