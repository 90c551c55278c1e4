"""Links from the page to the files beside it."""

from collections.abc import Iterable
from dataclasses import replace

from templategen.output.page.content import Section

Links = tuple[tuple[str, str], ...]
"""Files beside the page: path and words."""


def links(*paths: str) -> Links:
    """Files as links that are called by their paths; `linked` leaves out those that aren't made."""
    return tuple((path, path) for path in paths)


def linked(section: Section, paths: Iterable[str]) -> Section:
    """The section with links only to files that are there, to the record, or to other pages."""
    there = {*paths, "packet.json"}
    sheets = (
        replace(sheet, links=tuple(link for link in sheet.links if link[0] in there or link[0].endswith(".html")))
        for sheet in section.sheets
    )
    return replace(section, sheets=tuple(sheets))
