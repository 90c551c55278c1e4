"""The page of a re-fit: how the ring closes, and a sheet for each part still to cut."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from templategen.checks.finding import Finding
from templategen.output.page.content import Grid, Page, Section, Sheet
from templategen.output.page.render import page_html
from templategen.packet.page.buy import cut_list
from templategen.packet.page.glance import found
from templategen.packet.page.links import linked, links
from templategen.packet.page.machines import machines
from templategen.packet.page.parts import part_sheet
from templategen.packet.page.picture import picture
from templategen.packet.page.print_check import files, printing
from templategen.packet.page.work import work
from templategen.packet.paper import PaperFiles
from templategen.parts.part import Part
from templategen.work.plan import WorkPlan

if TYPE_CHECKING:
    from templategen.shop.refit.refit import Refit


OLD_JIGS = (
    "No jig is made anew. A story stick, stop, spacer, caul or template that holds a size of a part drawn anew holds "
    "the old one: lay it on that part's new template first, and make or mark it again where they differ."
)
"""What a maker must know before the first jig is taken up again."""


def refit_page(
    re: Refit,
    parts: Sequence[Part],
    revision: str,
    findings: Sequence[Finding],
    made: Mapping[str, bytes],
    paper: PaperFiles,
    plan: WorkPlan,
) -> bytes:
    """The page as a file; `parts` are those still to cut, each with the number still wanted, `made` the files beside
    it."""
    table = re.rest.table
    sheets = tuple(part_sheet(table, part) for part in parts)
    cut = Section("parts", "Parts to cut", sheets) if sheets else None
    first = Section("first", "What to cut", (Sheet("jigs", "Jigs", (OLD_JIGS,)), cut_list(re.rest.rest, 1)))
    todo = (first, work(table, plan), machines(table, plan.set_ups)) if parts else ()
    sections = (found(table, findings), _ring(re, revision), *todo, cut, printing(paper), files(made))
    profile = re.drawn.profile
    standing = "Parts still to cut, re-fitted to those that are cut."
    key = f"{profile.sha256[:8]}{revision}"
    kept = tuple(linked(section, made) for section in sections if section is not None)
    return page_html(Page(f"{profile.title}, re-fit", standing, revision, key, kept)).encode()


def _ring(re: Refit, revision: str) -> Section:
    """The picture of the ring and every figure."""
    from templategen.drawing.refit_picture import refit_picture
    from templategen.shop.refit.listed import refit_list

    head, rows = refit_list(re)
    cells = tuple(tuple(str(cell) for cell in row) for row in rows)
    shown = picture(refit_picture(re, revision), "refit", "the ring as it will close", large=True)
    heading = tuple(name.replace("_", " ") for name in head)
    figures = tuple(i for i, name in enumerate(head) if name in ("value", "drawn", "value_in"))
    paths = links("lists/refit.csv", "lists/refit.svg")
    one = Sheet("ring", "", pictures=(shown,), grids=(Grid(heading, cells, figures=figures),), links=paths)
    return Section("ring", "How it closes", (one,))
