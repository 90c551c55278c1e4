"""The page of a packet from all that was made."""

from __future__ import annotations

from templategen.drawing.scene import scene
from templategen.output.page.content import Page
from templategen.packet.page.drawings import drawings
from templategen.packet.page.figures import figures
from templategen.packet.page.glance import found, glance
from templategen.packet.page.jigs import jigs
from templategen.packet.page.machines import machines
from templategen.packet.page.made import Made
from templategen.packet.page.parts import parts
from templategen.packet.page.print_check import files, printing
from templategen.packet.page.stock import stock
from templategen.packet.page.together import together
from templategen.shop.set_ups.run import set_ups


def page_of(made: Made) -> Page:
    """The whole page, findings first, in the order of the work."""
    tables = made.laid.tables if made.laid else 1
    passes = set_ups(made.table, tables)
    sections = (
        glance(made), found(made), drawings(made), stock(made), machines(made, passes), parts(made, passes),
        jigs(made), together(made), printing(made), figures(made), files(made),
    )  # fmt: skip
    profile = made.table.profile
    grave = any(finding.level == "stop" for finding in made.findings)
    standing = "Not ready to cut: see what must be settled first." if grave else "Built, measured and found to fit."
    more = f" For {tables} tables at once; counts on parts' sheets are for one." if tables > 1 else ""
    return Page(
        profile.title, standing + more, made.revision, profile.sha256[:16],
        tuple(section for section in sections if section is not None), scene(made.table, made.plan),
    )  # fmt: skip
