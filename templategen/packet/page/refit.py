"""The page of a re-fit: how the ring closes, and a sheet for each part still to cut."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from templategen.catalogue import translated
from templategen.checks.finding import Finding
from templategen.output.page.content import Grid, Page, Section, Sheet
from templategen.output.page.render import page_html
from templategen.packet.page.buy import cut_list
from templategen.packet.page.glance import found
from templategen.packet.page.jigs import jigs
from templategen.packet.page.links import linked, links
from templategen.packet.page.machines import machines
from templategen.packet.page.parts import part_sheet
from templategen.packet.page.picture import picture
from templategen.packet.page.print_check import files, printing
from templategen.packet.page.work import work
from templategen.packet.paper import PaperFiles
from templategen.paper.grid import paper_at_hand
from templategen.parts.part import Part
from templategen.work.plan import WorkPlan

if TYPE_CHECKING:
    from templategen.packet.refit_jigs import RefitJigs
    from templategen.shop.refit.refit import Refit


ANEW = "Make anew, by their sheets here: {}. Put the first packet's away, so that they are never taken for these."
FIRST = (
    "Of the first packet, by the sizes of the drawing: {}. They hold for parts that kept their codes; parts with a "
    "new code ({}) go by their set-ups' figures, each tried on its template first."
)
STILL = "Of the first packet, and still right: {}."
"""What a maker must know before the first jig is taken up again."""


def refit_page(
    re: Refit,
    parts: Sequence[Part],
    revision: str,
    findings: Sequence[Finding],
    made: Mapping[str, bytes],
    paper: PaperFiles,
    made_anew: RefitJigs,
    plan: WorkPlan,
) -> bytes:
    """The page as a file; `parts` are those still to cut, each with the number still wanted, `made` the files beside
    it."""
    table = re.rest.table
    sheets = tuple(part_sheet(table, part) for part in parts)
    cut = Section("parts", "Parts to cut", sheets) if sheets else None
    first = Section("first", "What to cut", (_jigs(re, made_anew), cut_list(re.rest.rest, 1)))
    todo = (first, work(table, plan), machines(table, plan)) if parts else ()
    drawn = jigs(table, made_anew.plan)
    sections = (found(table, findings), _ring(re, revision), *todo, drawn, cut, printing(paper), files(made))
    profile = re.drawn.profile
    standing = "Parts still to cut, re-fitted to those that are cut."
    key = f"{profile.sha256[:8]}{revision}"
    kept = tuple(linked(section, made) for section in sections if section is not None)
    page = Page(
        f"{profile.title}, re-fit",
        standing,
        revision,
        key,
        kept,
        paper_at_hand(profile.paper),
        at_machines=bool(profile.shop.machines),
    )
    return page_html(page).encode()


def _jigs(re: Refit, of: RefitJigs) -> Sheet:
    """Which jigs are made anew, which hold the drawing's sizes, which hold."""
    groups = ((ANEW, tuple(jig.code for jig in of.plan.jigs)), (FIRST, of.first), (STILL, of.still))
    told = (translated(says).format(", ".join(codes), ", ".join(re.rest.new)) for says, codes in groups if codes)
    return Sheet("which", "Jigs", tuple(told))


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
