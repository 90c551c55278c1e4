"""The page as stages: each section is one, so that all but what hangs on the stock can be made while that is laid
out, and each is made anew only when what it shows has changed."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from templategen.checks.finding import Finding
from templategen.drawing.scene import scene
from templategen.output.page.content import Page, Section
from templategen.output.page.render import page_html
from templategen.packet.followed import FOLLOWED
from templategen.packet.lost import or_lost
from templategen.packet.page.buy import first
from templategen.packet.page.drawings import drawings
from templategen.packet.page.figures import figures
from templategen.packet.page.glance import found, glance, standing
from templategen.packet.page.jigs import jigs
from templategen.packet.page.links import linked
from templategen.packet.page.machines import machines
from templategen.packet.page.parts import parts
from templategen.packet.page.print_check import files, printing
from templategen.packet.page.steps import steps
from templategen.packet.page.stock import stock
from templategen.packet.page.work import work
from templategen.packet.page.year import year
from templategen.packet.pipeline import Stage, share, stage
from templategen.packet.share_files import CUSTOMER_PICTURE, FILES, LOOKS, PAPER
from templategen.packet.stages import CLOSING, FIGURES, FINDINGS, HARDWARE, JIGS, LAID, SET_UPS, WORK
from templategen.packet.table_stages import LOST_SO_FAR, PLAN, SHAPE, TABLE, TABLES, gravest_first
from templategen.paper.grid import paper_at_hand
from templategen.table.assembly import Table


def _page(
    table: Table,
    tables: int,
    findings: Sequence[Finding],
    files: Mapping[str, bytes],
    turning: Mapping[str, object],
    *sections: Section | None,
) -> bytes:
    """The page as a file, findings first, in the order of the work."""
    profile = table.profile
    kept = tuple(linked(section, files) for section in sections if section is not None)
    told = standing(findings, tables)
    paper = paper_at_hand(profile.paper)
    page = Page(
        profile.title, told, profile.revision, profile.sha256[:16], kept, paper, turning, bool(profile.shop.machines)
    )
    return page_html(page).encode()


def _section(name: str, work: Callable[..., Section | None], *of: Stage[Any]) -> Stage[Section | None]:
    return share(f"page: {name}", "page", work, *of, without=None)


SCENE: Stage[Mapping[str, object]] = share(
    "page: turning picture", "page",
    lambda table, plan: or_lost("page, turning picture", lambda: scene(table, plan), {}), SHAPE, PLAN, without={},
)  # fmt: skip
DRAWINGS = _section("drawings", drawings, SHAPE, PLAN)
MACHINES = _section("set-ups", machines, SHAPE, WORK)
PARTS = _section("parts", parts, SHAPE, PLAN, TABLES, SET_UPS, FIGURES)
JIG_SHEETS = _section("jigs", jigs, SHAPE, JIGS)
STEPS = _section("steps", steps, SHAPE, PLAN, WORK, CLOSING)
YEAR = _section("year", year, SHAPE)
SIZES = _section("figures", figures, TABLE, FIGURES)

FIRST = _section("buying", first, TABLE, TABLES, LAID, HARDWARE, WORK)
STOCK_SHEETS = _section("stock", stock, TABLE, LAID)
PLAN_OF_WORK = _section("plan of work", work, TABLE, WORK)

LOST: Stage[tuple[Finding, ...]] = stage(
    "drawings that failed", lambda lost, *_: tuple(dict.fromkeys(lost)), LOST_SO_FAR, FILES, LOOKS, SCENE, DRAWINGS,
    FIRST, PLAN_OF_WORK,
    MACHINES, PARTS, JIG_SHEETS, STEPS, YEAR, STOCK_SHEETS,
)  # fmt: skip
FOUND = stage("all findings", gravest_first, LOST, FOLLOWED, FINDINGS)

PAGE = share(
    "page", "page", _page, TABLE, TABLES, FOUND, FILES, SCENE,
    _section("at a glance", glance, TABLE, TABLES, LOOKS, FOUND, LAID, PAPER, JIGS, WORK),
    _section("findings", found, TABLE, FOUND),
    FIRST, PLAN_OF_WORK, STOCK_SHEETS, MACHINES, JIG_SHEETS, STEPS, DRAWINGS, PARTS, YEAR,
    _section("printing", printing, PAPER),
    _section("files", files, FILES),
    SIZES,
    without=b"",
)  # fmt: skip

OF_THE_TABLE = (LOOKS, CUSTOMER_PICTURE, SCENE, DRAWINGS, MACHINES, PARTS, STEPS, YEAR, SIZES)
"""What can be made before the stock is laid out; the jigs' sheets stay with the jigs."""
