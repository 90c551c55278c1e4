"""The paper of a packet: templates on as few sheets as can be, whole drawings, the printer's test sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import degrees
from typing import Any

from templategen.drawing.drawing import Drawing
from templategen.drawing.pattern import Pattern, Template
from templategen.output.packet_json import number, numbers
from templategen.output.pdf import tiled_pdf_of
from templategen.output.pdf_furniture import Heading
from templategen.packet.lost import or_lost
from templategen.packet.revision import revision
from templategen.paper.correction import correction_of
from templategen.paper.imposition import Imposed, impose
from templategen.paper.tiling import Tiled, tiled
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Paper

ROLL = 914.0
"""Width of the rolls that most plotters take, mm (36 in)."""

ONE_PAGE = 4900.0
"""Largest side of a page that readers of PDF open, mm."""


@dataclass(frozen=True, slots=True)
class PaperFiles:
    """The files by path, and what the record tells of them; `homes` says on which file each part is."""

    files: Mapping[str, bytes]
    record: Mapping[str, Any] | None
    homes: Mapping[str, str]


NO_PAPER = PaperFiles({}, None, {})


def paper_files(table: Table, plan: Drawing | None, elevation: Drawing | None) -> PaperFiles:
    """All paper that the profile asks for: templates of every part, the plan and the elevation.

    Raises:
        OutputError: paper that can't take the drawings.
    """
    drawn = [(name, drawing) for name, drawing in (("plan", plan), ("elevation", elevation)) if drawing is not None]
    return templates_on_paper(table, table.parts, revision(table.profile), drawn)


def templates_on_paper(
    table: Table, parts: Sequence[Part], revised: str, drawings: Sequence[tuple[str, Drawing]] = ()
) -> PaperFiles:
    """Templates of `parts`, the printer's test sheet, and drawings of the whole table by name.

    Raises:
        OutputError: paper that can't take the drawings.
    """
    from templategen.drawing.template import template
    from templategen.output.pdf_test_sheet import test_sheet_pdf

    profile = table.profile
    inches = profile.units == "in"
    files = {"paper/printer-test-sheet.pdf": test_sheet_pdf(profile.paper, profile.title, inches)}

    def printed(path: str, sheets: Sequence[tuple[Tiled, Heading]], title: str) -> bool:
        """Whether the file was made."""
        made = or_lost(path, lambda: tiled_pdf_of(sheets, title), None)
        files.update({path: made} if made is not None else {})
        return made is not None

    told: list[dict[str, Any]] = []
    homes: dict[str, str] = {}
    known = [or_lost(f"paper/{part.code}", partial(template, part, table), None) for part in parts]
    imposed, apart = impose([one for one in known if one is not None], profile.paper)
    single = {one.templates[0].code for one in imposed if len(one.templates) == 1}
    alone: list[dict[str, Any]] = []
    for one in apart:
        code = one.templates[0].code
        path = f"paper/{code}.pdf"
        if printed(path, [(one.tiled, heading(one, table, revised))], code):
            homes[code] = path
            (told if code in single else alone).append(pages_told(path, [one.tiled]))
    for path, group in _shared(imposed):
        codes = ", ".join(t.code for one in group for t in one.templates)
        if printed(path, [(one.tiled, heading(one, table, revised)) for one in group], codes):
            told.append(pages_told(path, [one.tiled for one in group]))
    whole: list[dict[str, Any]] = []
    for name, drawing in drawings:
        sheets = or_lost(f"paper/{name}", partial(_whole, name, drawing, table, revised), [])
        for path, laid, head in sheets:
            if printed(path, [(laid, head)], f"{profile.title}, {name}"):
                whole.append(pages_told(path, [laid]))
    return PaperFiles(files, _told(profile.paper, imposed, told, alone, whole), homes)


def _shared(imposed: Iterable[Imposed]) -> Iterator[tuple[str, list[Imposed]]]:
    """Paths and what is on each sheet that several parts share: long parts together, small parts on one file."""
    small: list[Imposed] = []
    number = 0
    for one in imposed:
        if len(one.templates) == 1:
            continue
        if one.tiled.pages == 1:
            small.append(one)
        else:
            number += 1
            yield f"paper/shared/long-parts-{number}.pdf", [one]
    if small:
        yield "paper/shared/small-parts.pdf", small


def heading(one: Imposed, table: Table, revised: str) -> Heading:
    """What stands at the head of the sheets of one or several templates."""
    profile = table.profile
    inches = profile.units == "in"
    if len(one.templates) > 1:
        code = ", ".join(template.code for template in one.templates)
        legend = tuple(tuple(_legend(template)) for template in one.templates)
        return Heading(profile.title, code, 0, f"revision {revised}", "", inches, legend)
    (template,) = one.templates
    turn, correction = one.tiled.turn, one.tiled.correction
    centre = None
    if template.centre is not None:
        middle = template.faces[0].wood[0].bounds.centre
        way = template.centre.minus(middle)
        centre = correction.direction(way.turned(turn)) if way.length > 100 else None
    grain = correction.direction(template.grain.turned(turn)) if template.grain is not None else None
    hand = f", {template.hand} hand" if template.hand else ""
    return Heading(
        profile.title, template.code, template.count, f"revision {revised}", f"{template.name}{hand}", inches,
        (template.legend,) if template.legend else (), grain, centre,
    )  # fmt: skip


def _legend(template: Template) -> Iterator[str]:
    """What a shared sheet says of one of its templates."""
    hand = f", {template.hand} hand" if template.hand else ""
    yield f"{template.code}: {template.name}{hand}, {template.count} wanted"
    yield from (f"  {line}" for line in template.legend)


def _whole(name: str, drawing: Drawing, table: Table, revised: str) -> list[tuple[str, Tiled, Heading]]:
    """A drawing of the whole table: on the profile's paper, on a roll, and on one page for a plotter."""
    profile = table.profile
    pattern = Pattern(drawing.marks)
    heading = Heading(
        profile.title, name.upper(), 0, f"revision {revised}", f"{name} at true size", profile.units == "in"
    )
    laid = [(f"paper/{name}.pdf", tiled((pattern,), profile.paper, turning=False), heading)]
    box = pattern.box
    for kind, size in (("roll", (ROLL,)), ("one-page", (box.width * 1.1 + 80, box.height * 1.1 + 80))):
        if max(size) <= ONE_PAGE:
            paper = replace(profile.paper, size=size, margin=10.0, scale_x=1.0, scale_y=1.0, skew=0.0)
            laid.append((f"paper/{name}-{kind}.pdf", tiled((pattern,), paper, turning=False), heading))
    return laid


def _told(
    paper: Paper,
    imposed: Sequence[Imposed],
    files: Sequence[Mapping[str, Any]],
    alone: Sequence[Mapping[str, Any]],
    whole: Sequence[Mapping[str, Any]],
) -> dict[str, Any]:
    """What the record says: `files` together are the fewest sheets, `alone` the same parts one by one."""
    sheets = sum(one.tiled.pages for one in imposed)
    naive = sum(one.naive for one in imposed)
    return {
        "size": paper.size if isinstance(paper.size, str) else list(paper.size),
        "margin": number(paper.margin),
        "overlap": number(paper.overlap),
        "scale_x": number(paper.scale_x),
        "scale_y": number(paper.scale_y),
        "skew_deg": number(degrees(paper.skew)),
        "matrix": numbers(correction_of(paper).matrix[:4]),
        "sheets": sheets,
        "plain_sheets": naive,
        "saved": naive - sheets,
        "files": list(files),
        "alone": list(alone),
        "drawings": list(whole),
    }


def pages_told(path: str, spreads: Sequence[Tiled]) -> dict[str, Any]:
    """A file of paper as the record tells it: how each drawing lies on its pages, and each part on its drawing."""
    return {
        "path": path,
        "pages": sum(one.pages for one in spreads),
        "spreads": [
            {
                "page_size": numbers((one.grid.page_width, one.grid.page_height)),
                "columns": one.grid.columns,
                "rows": one.grid.rows,
                "pages": [tile.name for tile in one.grid.tiles],
                "matrix": numbers(one.correction.matrix[:4]),
                "origins": [numbers(_origin(one, index)) for index in range(one.pages)],
                "parts": [
                    {
                        "code": sited.code,
                        "face": sited.face,
                        "x": number(sited.way.x),
                        "y": number(sited.way.y),
                        "turn": number(degrees(sited.way.turn)),
                        "turned_over": sited.way.turned_over,
                    }
                    for sited in one.pattern.sited
                ],
            }
            for one in spreads
        ],
    }


def _origin(one: Tiled, index: int) -> tuple[float, float]:
    """Where the drawing's origin lies on a page, mm from its lower left corner (it may lie off the page)."""
    corner, window = one.grid.corner, one.grid.tiles[index].window
    return corner[0] - window.left, corner[1] - window.bottom
