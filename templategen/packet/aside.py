"""What needs nothing of the stock and can be made while it is laid out: proofs, parts, paper, pictures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from templategen.checks.run import Examination, examine
from templategen.packet.drawn_parts import drawn_parts
from templategen.packet.jigs import planned
from templategen.packet.list_files import closing_files
from templategen.packet.revision import revision
from templategen.table.assembly import Table

if TYPE_CHECKING:
    from templategen.packet.page.gather import DrawnPage
    from templategen.packet.paper import PaperShare


@dataclass(frozen=True, slots=True)
class Aside:
    """The table examined, the files of parts and of the closing study, the paper, and the page as far as it goes."""

    seen: Examination
    parts: Mapping[str, bytes]
    closing: Mapping[str, bytes]
    paper: PaperShare | None
    page: DrawnPage | None


def made_aside(table: Table, shares: Sequence[str], tables: int) -> Aside:
    """All of it, as far as the shares ask for it.

    Raises:
        ProfileError: the paper can't take the templates.
    """
    seen = examine(table)
    parts = dict(drawn_parts(table)) if "parts" in shares else {}
    closing = dict(closing_files(table)) if "lists" in shares else {}
    paper = page = None
    if "paper" in shares:
        from templategen.packet.paper import make_paper

        paper = make_paper(table, revision(table.profile))
    if "page" in shares:
        from templategen.packet.page.gather import drawn_page
        from templategen.packet.page.shown import Shown

        jigs = planned(table)[0] if "jigs" in shares else ()
        page = drawn_page(Shown(table, seen.plan, jigs, revision(table.profile), tables))
    return Aside(seen, parts, closing, paper, page)
