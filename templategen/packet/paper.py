"""The paper of a packet: templates on as few sheets as can be, whole drawings, the printer's test sheet."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import degrees
from typing import Any

from templategen.catalogue import translated, worded
from templategen.drawing.balloons import BALLOON
from templategen.drawing.drawing import Drawing, Mark, Words, marks_box
from templategen.drawing.layers import DIMENSION
from templategen.drawing.pattern import Pattern
from templategen.fit.plan import Plan
from templategen.output.packet_json import number, numbers
from templategen.output.pdf import tiled_pdf_of
from templategen.output.pdf_first_pages import Cover, Front, Listed, front_of
from templategen.output.pdf_furniture import Heading
from templategen.packet.lost import or_lost
from templategen.paper.correction import correction_of
from templategen.paper.imposition import Imposed, impose
from templategen.paper.tiling import Tiled, tiled
from templategen.parts.part import Part
from templategen.parts.revision import part_revision
from templategen.shop.gluing.marks import marks_of
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.table.profile.model_of_shop import Paper

ROLL = 914.0
"""Width of the rolls that most plotters take, mm (36 in)."""

ONE_PAGE = 4900.0
"""Largest side of a page that readers of PDF open, mm."""


TEST_SHEET = "paper/1-test-sheet.pdf"
TEMPLATES = "paper/2-templates.pdf"
ONE_BY_ONE = "paper/one-by-one"
WHOLE_TABLE = "paper/whole-table"
"""What is printed, in the order of its names, and the folders of what may be printed besides."""


@dataclass(frozen=True, slots=True)
class PaperFiles:
    """The files by path, and what the record tells of them; `homes` says on which file each part is alone."""

    files: Mapping[str, bytes]
    record: Mapping[str, Any] | None
    homes: Mapping[str, str]


WHOLE = {"plan": ("plan", "plan at true size"), "elevation": ("elevation", "elevation at true size")}
"""What drawings of the whole table are called, and in their feet."""

BESIDE = 0.05
"""Words so near the table are printed with it, as a share of its width: the arms' numbers, no title."""

NO_PAPER = PaperFiles({}, None, {})


def paper_files(table: Table, plan: Plan, drawn: Drawing | None, elevation: Drawing | None) -> PaperFiles:
    """All paper that the profile asks for: templates of every part, the plan and the elevation.

    Raises:
        OutputError: paper that can't take the drawings.
    """
    drawings = [
        (name, drawing) for name, drawing in (("plan", drawn), ("elevation", elevation)) if drawing is not None
    ]
    return templates_on_paper(table, table.parts, plan, drawings)


def templates_on_paper(
    table: Table, parts: Sequence[Part], plan: Plan, drawings: Sequence[tuple[str, Drawing]] = ()
) -> PaperFiles:
    """Templates of `parts`, the printer's test sheet, and drawings of the whole table by name.

    Raises:
        OutputError: paper that can't take the drawings.
    """
    from templategen.drawing.template import template
    from templategen.output.pdf_test_sheet import test_sheet_pdf

    profile = table.profile
    inches = profile.units == "in"
    files = {TEST_SHEET: test_sheet_pdf(profile.paper, profile.title, inches)}
    letters = {number: mark.letter for number, mark in marks_of(table, plan).items()}

    def printed(path: str, sheets: Sequence[tuple[Tiled, Heading]], title: str, front: Front | None = None) -> bool:
        """Whether the file was made."""
        made = or_lost(path, lambda: tiled_pdf_of(sheets, title, front), None)
        files.update({path: made} if made is not None else {})
        return made is not None

    known = [or_lost(f"paper/{part.code}", partial(template, part, table, part_revision(part), letters), None)
             for part in parts]  # fmt: skip
    imposed, apart = impose([one for one in known if one is not None], profile.paper)
    homes: dict[str, str] = {}
    alone: list[dict[str, Any]] = []
    for one in apart:
        code = one.templates[0].code
        path = f"{ONE_BY_ONE}/{code}.pdf"
        if printed(path, [(one.tiled, heading(one, profile.title, profile.units))], f"{profile.title}: {code}"):
            homes[code] = path
            alone.append(pages_record(path, [one.tiled]))
    told: list[dict[str, Any]] = []
    front = or_lost("paper/first page", lambda: _front(table, imposed, letters), None)
    sheets = [(one.tiled, heading(one, profile.title, profile.units)) for one in imposed]
    if sheets and printed(TEMPLATES, sheets, worded("{title}: templates", title=profile.title), front):
        told.append(pages_record(TEMPLATES, [one.tiled for one in imposed], front.pages if front else 0))
    whole: list[dict[str, Any]] = []
    for name, drawing in drawings:
        for path, laid, head in or_lost(f"paper/{name}", partial(_whole, name, drawing, table), []):
            if printed(path, [(laid, head)], f"{profile.title}: {translated(WHOLE[name][0])}"):
                whole.append(pages_record(path, [laid]))
    return PaperFiles(files, _record(profile.paper, imposed, told, alone, whole), homes)


def _front(table: Table, imposed: Sequence[Imposed], letters: Mapping[int, str]) -> Front:
    """The first pages; they are laid out twice, since their number shifts the pages that they tell."""
    from templategen.drawing.lettered_plan import lettered_plans
    from templategen.drawing.template import is_sawn_later

    def laid(before: int) -> Front:
        later = any(is_sawn_later(part) for part in table.parts)
        return front_of(
            Cover(
                table.profile.title, tuple(_listed(imposed, before)), partial(lettered_plans, table, letters),
                later, table.profile.paper.trace_offset > 0, table.profile.units,
            ),
            table.profile.paper,
        )  # fmt: skip

    return laid(laid(0).pages)


def _listed(imposed: Sequence[Imposed], before: int) -> Iterator[Listed]:
    """Every template with its pages, in the order of the pages."""
    page = before + 1
    for one in imposed:
        last = page + one.tiled.pages - 1
        where = worded("page {page}" if last == page else "pages {page} to {last}", page=page, last=last)
        for template in one.templates:
            yield Listed(template.code, template.name, template.count, where)
        page = last + 1


def heading(one: Imposed, title: str, units: Units) -> Heading:
    """What stands at the foot of the sheets of one or several templates."""
    from templategen.drawing.title_block import hand_words

    inches = units == "in"
    if len(one.templates) > 1:
        code = ", ".join(template.code for template in one.templates)
        return Heading(title, code, 0, "", "", inches)
    (template,) = one.templates
    turn, correction = one.tiled.turn, one.tiled.correction
    centre = None
    if template.centre is not None:
        middle = template.faces[0].wood[0].bounds.centre
        way = template.centre.minus(middle)
        centre = correction.direction(way.turned(turn)) if way.length > 100 else None
    grain = correction.direction(template.grain.turned(turn)) if template.grain is not None else None
    hand = hand_words(template.hand)
    return Heading(title, template.code, template.count, "", f"{template.name}{hand}", inches, grain, centre)


def _whole(name: str, drawing: Drawing, table: Table) -> list[tuple[str, Tiled, Heading]]:
    """A drawing of the whole table: on the profile's paper, on a roll, and on one page for a plotter."""
    profile = table.profile
    pattern = Pattern(drawing.marks)
    heading = Heading(
        profile.title,
        translated(WHOLE[name][0]).upper(),
        0,
        worded("revision {revision}", revision=part_revision(*table.parts)),
        translated(WHOLE[name][1]),
        profile.units == "in",
    )
    alone = Pattern(tuple(_bare(drawing)))
    laid = [(f"{WHOLE_TABLE}/{name}.pdf", tiled((alone,), profile.paper, turning=False), heading)]
    box = pattern.box
    for kind, size in (("roll", (ROLL,)), ("one-page", (box.width * 1.1 + 80, box.height * 1.1 + 80))):
        if max(size) <= ONE_PAGE:
            paper = replace(profile.paper, size=size, margin=10.0, scale_x=1.0, scale_y=1.0, skew=0.0)
            laid.append((f"{WHOLE_TABLE}/{name}-{kind}.pdf", tiled((pattern,), paper, turning=False), heading))
    return laid


def _bare(drawing: Drawing) -> Iterator[Mark]:
    """The table and the words in and close round it: balloons, sizes, parts list and title take a sheet for each few
    letters, and stand in the drawing's own file."""
    marks = [mark for mark in drawing.marks if mark.layer.name not in (BALLOON.name, DIMENSION.name)]
    box = marks_box([mark for mark in marks if not isinstance(mark, Words)])
    near = box.grown(BESIDE * box.width)
    yield from (mark for mark in marks if not isinstance(mark, Words) or near.meets(mark.box))


def _record(
    paper: Paper,
    imposed: Sequence[Imposed],
    files: Sequence[Mapping[str, Any]],
    alone: Sequence[Mapping[str, Any]],
    whole: Sequence[Mapping[str, Any]],
) -> dict[str, Any]:
    """What the record says: `print` is what to print in its order, `files` hold every template on the fewest sheets,
    `alone` the same parts one by one."""
    printed = [{"path": TEST_SHEET, "pages": 1}, *({"path": file["path"], "pages": file["pages"]} for file in files)]
    sheets = sum(file["pages"] for file in printed)
    saved = sum(one.naive - one.tiled.pages for one in imposed)
    return {
        "size": paper.size if isinstance(paper.size, str) else list(paper.size),
        "margin": number(paper.margin),
        "overlap": number(paper.overlap),
        "scale_x": number(paper.scale_x),
        "scale_y": number(paper.scale_y),
        "skew_deg": number(degrees(paper.skew)),
        "matrix": numbers(correction_of(paper).matrix[:4]),
        "sheets": sheets,
        "plain_sheets": sheets + saved,
        "saved": saved,
        "print": printed,
        "files": list(files),
        "alone": list(alone),
        "drawings": list(whole),
    }


def pages_record(path: str, spreads: Sequence[Tiled], front: int = 0) -> dict[str, Any]:
    """A file of paper as the record tells it: how each drawing lies on its pages, and each part on its drawing;
    `front` are pages of words before them."""
    return {
        "path": path,
        "pages": front + sum(one.pages for one in spreads),
        "front": front,
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
