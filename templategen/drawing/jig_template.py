"""Paper templates of a jig's pieces: what is cut and scribed, to print, stick on and work to."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from templategen.checks.describe import said
from templategen.drawing.drawing import Mark
from templategen.drawing.jig_sheet import drawn_pieces, figure_line
from templategen.drawing.label import Label, labelled
from templategen.drawing.layers import THROUGH_INSIDE, THROUGH_OUTSIDE
from templategen.drawing.manner import Manner
from templategen.drawing.pattern import Pattern, Sited, Template
from templategen.drawing.pieces import Taken, pieces
from templategen.drawing.scribe_words import LETTER
from templategen.drawing.scribed import work_notes
from templategen.drawing.tag import tag
from templategen.drawing.template_words import SMALL, UPRIGHT, wrapped
from templategen.geometry.bounds import Bounds
from templategen.geometry.placement import Placement
from templategen.jigs.jig import Jig
from templategen.parts.part import Part
from templategen.table.profile.choices import Units

FINE: Mapping[str, float] = {THROUGH_OUTSIDE.name: 0.35, THROUGH_INSIDE.name: 0.35}
FINEST = 0.18
"""Widths of the lines on paper, fine enough to cut to their middle, mm."""

MOST_FIGURES = 4
"""So many of a jig's distances stand on a piece's paper; the sheet has them all."""


def jig_templates(
    jig: Jig, units: Units, drawn: Mapping[str, tuple[Mark, ...]] | None = None
) -> tuple[Template, ...]:
    """One template for each piece, at its own coordinates; `drawn` are the pieces' marks where they are known."""
    known = drawn if drawn is not None else drawn_pieces(jig, 0.0, units)
    return tuple(_template(jig, part, known[part.code], units) for part in jig.parts)


def _template(jig: Jig, part: Part, drawn: tuple[Mark, ...], units: Units) -> Template:
    manner = Manner(LETTER, 0.0, units, layers=units)
    marks = sorted(_fine(drawn), key=_is_cut)
    thick = manner.size(part.thickness)
    name = said("{name}, {wood:word}, {thick} thick", name=part.name, wood=part.wood, thick=thick)
    told = f"{part.code} × {part.count}, {name}", said("revision {revision}", revision=jig.revision)
    used = said("How it is used and proved: {path}", path=f"jigs/{jig.code}")
    lines = (*told, *_legend(jig, part, manner), used)
    at = part.outline.bounds.centre
    labels = [Label(at, wrapped(line), UPRIGHT, SMALL, shrinks=True, roams=True, need=(line,)) for line in lines]
    words, left = labelled(labels, part.region, Taken((box.grown(0.6) for box in pieces(marks, 4.0)), 1.5), LETTER)
    holes = tuple(Bounds.grown(hole.bounds, 3.0) for hole in part.holes)
    every = (*words, *tag(left, part.outline, marks), *marks)
    return Template(
        part.code, part.count, name, "",
        (Pattern(every, (part.region,), holes, (Sited(part.code, "top", Placement()),)),),
    )  # fmt: skip


def _is_cut(mark: Mark) -> bool:
    """Cut lines are drawn last, on top of all."""
    return mark.layer.name in FINE


def _fine(marks: tuple[Mark, ...]) -> Iterator[Mark]:
    for mark in marks:
        layer = replace(mark.layer, weight=FINE.get(mark.layer.name, min(mark.layer.weight, FINEST)))
        yield replace(mark, layer=layer)


def _legend(jig: Jig, part: Part, manner: Manner) -> Iterator[str]:
    """The figures of the piece, and what the letters of its pockets mean."""
    yield from (note.partition(" [")[0] for note in work_notes(part, manner))
    figures = [figure for figure in jig.figures if figure.part == part.code]
    yield from (figure_line(figure, manner).partition(" = ")[0] for figure in figures[:MOST_FIGURES])
