"""The jigs: each with its sheet, the figures it stands by, how it is proved and used."""

from functools import partial

from templategen.drawing.cautions import DEFER, DUST
from templategen.drawing.drawing import Drawing, Mark, marks_box
from templategen.drawing.jig_sheet import figure_line
from templategen.drawing.manner import Manner
from templategen.drawing.move import moved
from templategen.drawing.rows import in_rows
from templategen.drawing.scribed import LETTER, overlapping, scribed, with_distances
from templategen.geometry.point import Point
from templategen.jigs.jig import Jig
from templategen.kept.keep import kept
from templategen.output.page.content import Fold, Grid, Section, Sheet
from templategen.packet.jigs import JigPlan
from templategen.packet.page.links import links
from templategen.packet.page.picture import picture
from templategen.packet.page.sizes import size
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units

GENERAL = (DUST, DEFER)
"""What holds for every jig and stands at the head of all."""

PIECES = ("piece", "what it is", "number", "of", "size")

WHOLE = 0.01
"""A piece that covers its box to within this is a plain rectangle, mm2."""

LETTERS = (44.0, 66.0, 100.0, 150.0)
"""A piece is so many capital heights long; more where the words would lie on each other."""

SLENDER = 8.0
"""A piece longer than so many of its widths is shown in rows, the left end first."""

LONG = 250.0
"""A longer piece takes the whole width of the page, mm."""


def jigs(table: Table, plan: JigPlan) -> Section | None:
    """A sheet for each, None where there are none."""
    if not plan.jigs:
        return None
    rows = tuple((jig.code, jig.name, ", ".join(jig.serves)) for jig in plan.jigs)
    first = Sheet("list", "What is made with what", grids=(Grid(("jig", "what it is", "for"), rows),))
    sheets = (first, *(_sheet(jig, table.profile.units) for jig in plan.jigs))
    return Section("jigs", "Jigs", sheets, GENERAL, pairs=True)


@kept
def _sheet(jig: Jig, units: Units) -> Sheet:
    scribed_on = {scribe.part for scribe in jig.scribes}
    told = [part for part in jig.parts if part.code in scribed_on or not _plain(part)]
    pictures = tuple(
        picture(
            partial(_piece, jig, part, units),
            f"{jig.code}-{part.code}",
            _describe(part, units),
            large=_is_long(part),
        )
        for part in told
    )
    rows = tuple((part.code, part.name, str(part.count), part.wood, _size(part, units)) for part in jig.parts)
    pieces = Grid(PIECES, rows, figures=(2,), ticks=True)
    manner = Manner(1.0, units=units)
    words = tuple(f"For {', '.join(jig.serves)}." for _ in jig.serves[:1])
    figures = (Fold("figures it stands by", tuple(figure_line(figure, manner) for figure in jig.figures)),)
    paths = links(*(f"jigs/{jig.code}.{kind}" for kind in ("dxf", "svg", "pdf")))
    cautions = tuple(told for told in dict.fromkeys(jig.cautions) if told not in GENERAL)
    return Sheet(
        jig.code, f"{jig.code}, {jig.name}", words, pictures, (pieces,), jig.use, jig.proof, folds=figures,
        cautions=cautions, links=paths,
    )  # fmt: skip


def _plain(part: Part) -> bool:
    """Whether the piece is a plain rectangle, of which a line in the list says all."""
    box = part.outline.bounds
    return not (part.features or part.holes or part.outline.area < box.width * box.height - WHOLE)


def _is_long(part: Part) -> bool:
    box = part.outline.bounds
    return max(box.width, box.height) > LONG


def _piece(jig: Jig, part: Part, units: Units) -> Drawing:
    """One piece with what is scribed on it, lettered by its own size for a screen."""
    box = part.outline.bounds
    manner = Manner(LETTER, units=units, layers=units)
    rows = max(1, round(box.width / box.height / SLENDER))
    rows = 1 if any(vertex.bulge for vertex in part.outline) else rows
    marks: tuple[Mark, ...] = ()
    for letters in LETTERS:
        letter = max(LETTER / 2, max(box.width / rows, box.height) / letters)
        marks = with_distances(jig, part, scribed(jig, part, manner, letter), manner, letter)
        if not overlapping(marks):
            break
    if rows > 1:
        whole = marks_box(marks)
        marks = tuple(in_rows(moved(marks, Point(-whole.left, 0.0)), whole.width, rows, whole.height + letter * 2))
    return Drawing(part.code, marks)


def _describe(part: Part, units: Units) -> str:
    return f"{part.code}, {part.name}: {part.count} of {part.wood}, {_size(part, units)}"


def _size(part: Part, units: Units) -> str:
    return " x ".join(size(one, units).removesuffix(f" {units}") for one in part.size) + f" {units}"
