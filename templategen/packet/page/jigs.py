"""The jigs: each with its sheet, the figures it stands by, how it is proved and used."""

from collections.abc import Iterator
from functools import partial

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.drawing.drawing import Drawing, Mark, Stroke, marks_box
from templategen.drawing.jig_in_use import is_drawn, jig_in_use
from templategen.drawing.jig_places import places, without_whole
from templategen.drawing.jig_sheet import figure_line
from templategen.drawing.layers import TEXT
from templategen.drawing.manner import Manner
from templategen.drawing.move import moved
from templategen.drawing.rows import in_rows
from templategen.drawing.scribe_words import LETTER
from templategen.drawing.scribed import muddled, scribed, with_distances, work_notes
from templategen.english import tag
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.point import Point
from templategen.jigs.jig import Jig
from templategen.jigs.piece import sizes_of
from templategen.kept.keep import kept
from templategen.output.page.content import Fold, Grid, Picture, Section, Sheet
from templategen.packet.jigs import JigPlan
from templategen.packet.page.links import links
from templategen.packet.page.parts import LAYER
from templategen.packet.page.picture import picture
from templategen.packet.page.sizes import size
from templategen.parts.part import Part
from templategen.shop.cautions import general
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units

PIECES = ("piece", "what it is", "number", "of", "size")

WHOLE = 0.01
"""A piece that covers its box to within this is a plain rectangle, mm2."""

LETTERS = (44.0, 54.0, 66.0, 81.0, 100.0, 122.0, 150.0, 180.0)
"""A piece is so many capital heights long; more where words would lie on each other or on lines."""

MANY = 8
"""Where so many lie on each other the next size isn't tried."""

SHOWN = ("SLED-BASE", "END-SLED", "STOPS-", "TEST-MORTISE-BASE")
"""Pieces that the picture in use, their names or the rails' like pieces say all of begin so."""

HALVED = "TEST-BASE-"
"""So do two that are halved, like the rails' but for the depth that their row tells."""

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
    alike: dict[tuple[str, ...], list[Jig]] = {}
    for jig in plan.jigs:
        alike.setdefault(jig.use or (jig.code,), []).append(jig)
    sheets = (first, *(_sheet(tuple(jigs), table.profile.units, _used(jigs[0], table)) for jigs in alike.values()))
    return Section(
        "jigs", "Jigs", sheets, general(table.profile.shop.machines), pairs=True, language=tag(of_catalogue=True)
    )


def _used(jig: Jig, table: Table) -> tuple[Picture, ...]:
    """It put together and in use, where its pieces alone don't show it."""
    if not is_drawn(jig):
        return ()
    return (
        picture(
            partial(jig_in_use, jig, table), f"{jig.code}-used", said("{code} in use", code=jig.code), projected=True
        ),
    )


@kept
def _sheet(jigs: tuple[Jig, ...], units: Units, used: tuple[Picture, ...]) -> Sheet:
    """Of jigs that are used alike."""
    parts = [(part, _row_name(jig, part, units)) for jig in jigs for part in jig.parts]
    rows = tuple(
        (part.code, name, str(part.count), translated(part.wood), _size(part, units)) for part, name in parts
    )
    manner = Manner(1.0, units=units)
    lines = tuple(figure_line(figure, manner) for jig in jigs for figure in jig.figures)
    paths = links(*(f"jigs/{jig.code}.{kind}" for jig in jigs for kind in ("dxf", "svg", "pdf")))
    lies = (Grid(one.ways[0], one.ways[1:]) for one in jigs if one.ways)
    cautions = dict.fromkeys(told for jig in jigs for told in jig.cautions)
    name, last = jigs[0].name, jigs[-1].code if len(jigs) > 1 else ""
    title = f"{jigs[0].code}, {name}"
    if last:
        title = said("{first} to {last}, {name}", first=jigs[0].code, last=last, name=name.partition(",")[0])
    return Sheet(
        jigs[0].code,
        title,
        _serves(jigs),
        used + tuple(_picture(jig, part, units) for jig in jigs for part in jig.parts if _is_told(jig, part)),
        (Grid(PIECES, rows, figures=(2,), ticks=True), *lies),
        jigs[0].use,
        tuple(dict.fromkeys(told for jig in jigs for told in jig.proof)),
        folds=(Fold("figures it stands by", lines),),
        cautions=tuple(cautions),
        links=paths,
        holds=tuple(f"jig:{jig.code}" for jig in jigs),
    )


def _serves(jigs: tuple[Jig, ...]) -> tuple[str, ...]:
    told = [(jig.code, ", ".join(jig.serves)) for jig in jigs if jig.serves]
    if len(jigs) == 1:
        return tuple(said("For {serves}.", serves=serves) for _, serves in told)
    each = (said("{code} for {serves}", code=code, serves=serves) for code, serves in told)
    return (f"{'; '.join(each)}.",) if told else ()


def _picture(jig: Jig, part: Part, units: Units) -> Picture:
    drawn = partial(_piece, jig, part, units)
    notes = (LAYER.sub("", note) for note in work_notes(part, Manner(1.0, units=units)))
    depths = (", ".join(note.split(", ")[:2]) for note in notes)
    across = dict.fromkeys(size(hole.bounds.width, units) for hole in part.holes if hole.circle)
    bored = (said("bored {wide}", wide=", ".join(across)),) if across else ()
    below = part.notes if part.kind == "gauge" and part.features_on("bottom") else ()
    caption = "; ".join((f"{part.code}, {part.name}", *depths, *below, *bored))
    return picture(drawn, f"{jig.code}-{part.code}", caption, large=_is_long(part))


def _is_told(jig: Jig, part: Part) -> bool:
    """Whether there is more to the piece than its size."""
    told = any(scribe.part == part.code for scribe in jig.scribes) or not _plain(part)
    return told and not part.code.startswith(SHOWN) and not _is_halved(jig, part)


def _is_halved(jig: Jig, part: Part) -> bool:
    """Whether it is one of two test pieces whose like is drawn already."""
    return part.code.startswith(HALVED) and len(jig.parts) == 2


def _row_name(jig: Jig, part: Part, units: Units) -> str:
    """What it is; how it is made, too, where no picture of it tells that."""
    if _is_told(jig, part):
        return part.name
    if _is_halved(jig, part):
        above = (said("from above: {deep} deep", deep=size(one.depth, units)) for one in part.features_on("top"))
        return "; ".join((*above, *part.notes))
    return "; ".join((part.name, *part.notes))


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
    tries: list[tuple[int, tuple[Mark, ...]]] = []
    sizes = list(LETTERS)
    while sizes:
        letters = sizes.pop(0)
        letter = max(LETTER / 2, max(box.width / rows, box.height) / letters)
        told = () if rows > 1 else places(jig, part, manner, letter)
        jig = without_whole(jig, part) if told else jig
        drawn = (*told, *scribed(jig, part, manner, letter, folded=True, clear_of=told))
        if rows > 1:
            drawn = scribed(jig, part, manner, letter, folded=True, clear_of=tuple(_breaks(marks_box(drawn), rows)))
        drawn = with_distances(jig, part, drawn, manner, letter)
        tries.append((muddled(drawn), drawn))
        if not tries[-1][0]:
            break
        sizes = sizes[1:] if len(sizes) > 1 and tries[-1][0] > MANY else sizes
    marks = min(tries, key=lambda tried: tried[0])[1]
    if rows > 1:
        whole = marks_box(marks)
        marks = tuple(in_rows(moved(marks, Point(-whole.left, 0.0)), whole.width, rows, whole.height + letter))
    return Drawing(part.code, marks)


def _breaks(whole: Bounds, rows: int) -> Iterator[Mark]:
    """Where the rows of a picture end, which no name lies across."""
    for row in range(1, rows):
        x = whole.left + whole.width * row / rows
        yield Stroke(TEXT, Line(Point(x, whole.bottom), Point(x, whole.top)))


def _size(part: Part, units: Units) -> str:
    return " x ".join(size(one, units).removesuffix(f" {units}") for one in sizes_of(part)) + f" {units}"
