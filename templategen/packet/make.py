"""Makes a packet: every stage in order, from profile to bytes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from templategen.checks.finding import ORDER, Finding
from templategen.packet.aside import made_aside
from templategen.packet.bench_lists import bench_lists
from templategen.packet.beside import beside
from templategen.packet.jigs import make_jigs, of_the_sheet, planned
from templategen.packet.lay_out import LaidStock, lay_out, stock_findings
from templategen.packet.list_files import list_files
from templategen.packet.record import record, with_page
from templategen.packet.revision import revision
from templategen.packet.shares import chosen
from templategen.packet.stock_files import stock_files
from templategen.shop.closing.finding import closing_findings
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model import Profile

Progress = Callable[[str, float], None]
"""Told what is being made and how much of all the work is done, 0 to 1."""

OF_THE_STOCK = ("lists/buy-list.csv", "lists/boards.csv", "lists/offcuts.toml")
"""Lists that belong to the stock: of several tables together there is one of each."""

LARGEST_PRICE = 1e5
"""Costs from here on are areas in mm2: the stock has no prices."""


@dataclass(frozen=True, slots=True)
class Packet:
    """What a maker holds: the table, what was found, and every file as bytes by its path in the folder."""

    table: Table
    findings: tuple[Finding, ...]
    files: Mapping[str, bytes]
    record: Mapping[str, Any]

    @property
    def exit_code(self) -> int:
        """0 when nothing is worse than a note, else 1."""
        return 1 if any(finding.level != "note" for finding in self.findings) else 0


def make_packet(
    profile: Profile,
    only: Iterable[str] | None = None,
    effort: float | None = None,
    progress: Progress | None = None,
    tables: int = 1,
    second_core: bool = False,
    elsewhere: LaidStock | None = None,
) -> Packet:
    """The packet for `profile`, in memory; `write_packet` puts it in a folder.

    `only` names the shares wanted (parts, stock, paper, jigs, lists, page), `effort` the seconds by the clock for
    nesting (none for a fixed amount of work, the same each time), `tables` how many are made at once. With
    `second_core` proofs, parts, paper and the page's pictures are made in a copy of the process while the stock is
    laid out; not for programs that run threads. Where the stock is laid out `elsewhere`, with that of other tables,
    this packet has no stock and no buy list of its own.

    Raises:
        DesignError: the table can't be built.
        OutputError: a share isn't known.
        ProfileError: the paper can't take the templates.
    """
    shares = chosen(only)
    tell = progress or (lambda _what, _share: None)
    tell("table", 0.0)
    table = build_table(profile)
    beside_it = beside(lambda: made_aside(table, shares, tables), second_core)
    tell("stock", 0.1)
    jigs, left_out = planned(table) if "jigs" in shares else ((), ())
    laid = elsewhere
    if laid is None and {"stock", "lists"} & set(shares):
        pieces = of_the_sheet(table, jigs)
        laid = lay_out(table, effort, tables, lambda share, best: tell(nesting_now(best), 0.1 + 0.2 * share), pieces)
    files: dict[str, bytes] = {}
    for share, make in (("stock", stock_files), ("lists", list_files)):
        if share in shares:
            files.update(make(table, laid))
    tell("jigs", 0.4)
    made = make_jigs(table, jigs, revision(profile)) if "jigs" in shares else None
    tell("parts", 0.5)
    aside = beside_it()
    if "lists" in shares and laid is not None:
        files.update(aside.closing)
        files.update(bench_lists(table, laid, aside.seen.plan))
    if elsewhere is not None:
        files = {path: data for path, data in files.items() if path not in OF_THE_STOCK}
    short = stock_findings(table, laid, of_the_sheet(table, jigs)) if laid else ()
    findings = [*aside.seen.findings, *closing_findings(table), *short, *left_out]
    ordered = tuple(sorted(findings, key=lambda finding: ORDER[finding.level]))
    paper, page = aside.paper, aside.page
    files = {**aside.parts, **files, **(made.files if made else {}), **(paper.files if paper else {})}
    told, text = record(table, aside.seen.plan, ordered, laid, files, paper, made)
    if page is not None:
        from templategen.packet.page.gather import page_file
        from templategen.packet.page.made import Made

        tell("page", 0.9)
        files["index.html"] = page_file(page, Made(page.shown, ordered, laid, told, elsewhere is not None))
        told, text = with_page(told, files)
    tell("packet.json", 1.0)
    return Packet(table, ordered, {"packet.json": text.encode(), **files}, told)


def nesting_now(best: float | None) -> str:
    """What is being made while stock is laid out: the best cost so far, or its area in m2 where no price is given."""
    if best is None:
        return "stock"
    return f"stock, best {best:.2f}" if best < LARGEST_PRICE else f"stock, best {best / 1e6:.2f} m2"
