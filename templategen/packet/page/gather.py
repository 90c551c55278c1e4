"""The page of a packet from all that was made: what hangs on the table alone is drawn first, the rest at the end."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from templategen.drawing.scene import scene
from templategen.output.page.content import Page, Picture, Section
from templategen.output.page.render import page_html
from templategen.packet.page.drawings import drawings
from templategen.packet.page.figures import figures
from templategen.packet.page.glance import found, glance, looks
from templategen.packet.page.jigs import jigs
from templategen.packet.page.machines import machines
from templategen.packet.page.made import Made
from templategen.packet.page.parts import parts
from templategen.packet.page.print_check import files, printing
from templategen.packet.page.shown import Shown
from templategen.packet.page.stock import stock
from templategen.packet.page.together import together
from templategen.packet.page.year import year


@dataclass(frozen=True, slots=True)
class DrawnPage:
    """What of a page needs nothing but the table; it can be made while the stock is laid out."""

    shown: Shown
    finished: Picture
    sections: Mapping[str, Section]
    scene: Mapping[str, object]


def drawn_page(shown: Shown) -> DrawnPage:
    """The sections that hang on the table alone, each with its pictures."""
    made = (drawings(shown), machines(shown), parts(shown), jigs(shown), together(shown), year(shown), figures(shown))
    sections = {section.name: section for section in made if section is not None}
    return DrawnPage(shown, looks(shown), sections, scene(shown.table, shown.plan))


def page_file(drawn: DrawnPage, made: Made) -> bytes:
    """The page as a file."""
    return page_html(page_of(drawn, made)).encode()


def page_of(drawn: DrawnPage, made: Made) -> Page:
    """The whole page, findings first, in the order of the work."""
    known = drawn.sections
    order = (
        glance(made, drawn.finished), found(made), known["drawings"], stock(made), known["machines"], known["parts"],
        known.get("jigs"), known["together"], known["year"], printing(made), known["figures"], files(made),
    )  # fmt: skip
    profile = made.shown.table.profile
    sections = tuple(linked(section, made.paths) for section in order if section is not None)
    return Page(profile.title, standing(made), made.shown.revision, profile.sha256[:16], sections, drawn.scene)


def standing(made: Made) -> str:
    """How the table stands, and for how many this page is."""
    levels = [finding.level for finding in made.findings]
    tables = made.shown.tables
    if "stop" in levels:
        told = "Not ready to cut: see what must be settled first."
    elif "caution" in levels:
        told = "It goes together; read what to take care of before cutting."
    else:
        told = "Built, measured and found to fit: nothing to settle before cutting."
    if tables == 1:
        return told
    return f"{told} For {tables} tables: stock, set-ups and lists are for all of them, drawings and steps for one."


def linked(section: Section, paths: Iterable[str]) -> Section:
    """The section with links only to files that are there, to the record, or to other pages."""
    there = {*paths, "packet.json"}
    sheets = (
        replace(sheet, links=tuple(link for link in sheet.links if link[0] in there or link[0].endswith(".html")))
        for sheet in section.sheets
    )
    return replace(section, sheets=tuple(sheets))
