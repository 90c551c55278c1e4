"""Makes a packet: every stage in order, from profile to bytes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from templategen.checks.finding import ORDER, Finding
from templategen.checks.run import examine
from templategen.packet.bench_lists import bench_lists
from templategen.packet.beside import beside
from templategen.packet.file_name import file_names
from templategen.packet.jigs import make_jigs, of_the_sheet, pieces_of, planned
from templategen.packet.lay_out import LaidStock, lay_out, stock_findings
from templategen.packet.offcut_list import offcut_list
from templategen.packet.record import record
from templategen.packet.shares import chosen
from templategen.parts.part import Part
from templategen.shop.closing.finding import closing_findings
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model import Profile

if TYPE_CHECKING:
    from templategen.drawing.machining import Routed
    from templategen.packet.paper import PaperShare

Progress = Callable[[str, float], None]
"""Told what is being made and how much of all the work is done, 0 to 1."""

PLAN_WEIGHT = 3.0
"""How much heavier the lines of the plan are, which is looked at on a screen rather than cut to."""

OF_THE_STOCK = ("lists/buy-list.csv", "lists/boards.csv", "lists/offcuts.toml")
"""Lists that belong to the stock: of several tables together there is one of each."""

LARGEST_PRICE = 1e5
"""Costs from here on are areas in mm2: the stock has no prices."""

REVISION = 8
"""Characters of the profile's hash that name a revision."""


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

    `only` names the shares wanted (parts, stock, paper, jigs, lists), `effort` the seconds by the clock for nesting
    (none for a fixed amount of work, the same each time), `tables` how many are made at once. With `second_core`
    parts and paper are made in a copy of the process while the stock is laid out; not for programs that run
    threads. Where the stock is laid out `elsewhere`, with that of other tables, this packet has no stock and no buy
    list of its own.

    Raises:
        DesignError: the table can't be built.
        OutputError: a share isn't known.
        ProfileError: the paper can't take the templates.
    """
    shares = chosen(only)
    tell = progress or (lambda _what, _share: None)
    tell("table", 0.0)
    table = build_table(profile)
    drawn = beside(lambda: _drawn(table, shares), second_core)
    tell("stock", 0.1)
    jigs, left_out = planned(table) if "jigs" in shares else ((), ())
    laid = elsewhere
    if laid is None and {"stock", "lists"} & set(shares):
        pieces = of_the_sheet(table, jigs)
        laid = lay_out(table, effort, tables, lambda share, best: tell(nesting_now(best), 0.1 + 0.2 * share), pieces)
    seen = examine(table)
    short = stock_findings(table, laid, of_the_sheet(table, jigs)) if laid else ()
    findings = [*seen.findings, *closing_findings(table), *short, *left_out]
    ordered = tuple(sorted(findings, key=lambda finding: ORDER[finding.level]))
    files: dict[str, bytes] = {}
    for share, make in (("stock", stock_files), ("lists", _lists)):
        if share in shares:
            files.update(make(table, laid))
    if "lists" in shares and laid is not None:
        files.update(bench_lists(table, laid, seen.plan))
    if elsewhere is not None:
        files = {path: data for path, data in files.items() if path not in OF_THE_STOCK}
    tell("jigs", 0.4)
    made = make_jigs(table, jigs, revision(profile)) if "jigs" in shares else None
    tell("parts", 0.5)
    parts, paper = drawn()
    files = {**parts, **files, **(made.files if made else {}), **(paper.files if paper else {})}
    tell("packet.json", 1.0)
    told, text = record(table, seen.plan, ordered, laid, files, paper, made)
    return Packet(table, ordered, {"packet.json": text.encode(), **files}, told)


def nesting_now(best: float | None) -> str:
    """What is being made while stock is laid out: the best cost so far, or its area in m2 where no price is given."""
    if best is None:
        return "stock"
    return f"stock, best {best:.2f}" if best < LARGEST_PRICE else f"stock, best {best / 1e6:.2f} m2"


def revision(profile: Profile) -> str:
    """A short name for this state of the profile, from its hash."""
    return profile.sha256[:REVISION]


def _drawn(table: Table, shares: Iterable[str]) -> tuple[dict[str, bytes], PaperShare | None]:
    """Parts and paper, which need nothing but the table."""
    parts = dict(_parts(table)) if "parts" in shares else {}
    return parts, _paper(table) if "paper" in shares else None


def part_files(part: Part, profile: Profile, revised: str) -> Iterator[tuple[str, bytes]]:
    """The sheet of one part, in two formats."""
    from templategen.drawing.part_sheet import part_drawing
    from templategen.output.dxf import dxf_bytes
    from templategen.output.svg import svg_text

    overrun, relief = profile.shop.router_bit / 2, profile.dxf.corner_relief
    drawing = part_drawing(part, profile.title, revised, overrun, profile.units, relief)
    yield f"parts/{part.code}.dxf", dxf_bytes(drawing, profile.dxf.version, profile.dxf.units)
    yield f"parts/{part.code}.svg", svg_text(drawing).encode()


def _parts(table: Table) -> Iterator[tuple[str, bytes]]:
    from templategen.drawing.elevation import elevation_drawing
    from templategen.drawing.plan import plan_drawing
    from templategen.output.dxf import dxf_bytes
    from templategen.output.svg import svg_text

    profile = table.profile
    for part in table.parts:
        yield from part_files(part, profile, revision(profile))
    plan = plan_drawing(table, revision(profile))
    yield "drawings/plan.dxf", dxf_bytes(plan, profile.dxf.version, profile.dxf.units)
    yield "drawings/plan.svg", svg_text(plan, PLAN_WEIGHT).encode()
    elevation = elevation_drawing(table, revision(profile))
    yield "drawings/elevation.dxf", dxf_bytes(elevation, profile.dxf.version, profile.dxf.units)
    yield "drawings/elevation.svg", svg_text(elevation, PLAN_WEIGHT).encode()


def routed_parts(table: Table) -> Routed:
    """What the sheets for a routing machine must know of the parts and the jigs' pieces."""
    from templategen.drawing.machining import Routed
    from templategen.jigs.seats import seats

    jigs, _ = planned(table)
    parts = {part.code: part for part in (*table.parts, *pieces_of(jigs))}
    return Routed(parts, table.profile.shop.router_bit, seats(jigs))


def stock_files(
    table: Table, laid: LaidStock | None, known: Callable[[Table], Routed] = routed_parts
) -> Iterator[tuple[str, bytes]]:
    """A drawing of each piece of stock, in two formats; `known` tells what sheets for a routing machine must know."""
    from templategen.drawing.stock_sheet import stock_drawing
    from templategen.output.dxf import dxf_bytes
    from templategen.output.svg import svg_text

    assert laid is not None
    profile = table.profile
    names = file_names(stock.name for stock in profile.stock)
    routed = known(table) if any(one.sheet.piece.mode == "routed" for one in laid.sheets) else None
    for one in laid.sheets:
        sheet, items = one.sheet, {item.code: item for item in one.supply.items}
        drawing = stock_drawing(sheet, items, profile.title, profile.units, one.cuts, one.offcuts, routed)
        stem = f"stock/{names[sheet.piece.name]}-{sheet.number}"
        yield f"{stem}.dxf", dxf_bytes(drawing, profile.dxf.version, profile.dxf.units)
        yield f"{stem}.svg", svg_text(drawing).encode()


def _paper(table: Table) -> PaperShare:
    from templategen.packet.paper import make_paper

    return make_paper(table, revision(table.profile))


def _closing(table: Table) -> Iterator[tuple[str, bytes]]:
    """Whether the ring will close: the list and its picture."""
    from templategen.drawing.closing_picture import closing_picture
    from templategen.output.svg import svg_text
    from templategen.output.table_csv import csv_bytes
    from templategen.shop.closing.listed import closing_list
    from templategen.shop.closing.study import closing_study

    profile, study = table.profile, closing_study(table.sizes)
    yield "lists/closing.csv", csv_bytes(*closing_list(study, profile.units))
    yield "lists/closing.svg", svg_text(closing_picture(study, profile.title, profile.units)).encode()


def _lists(table: Table, laid: LaidStock | None) -> Iterator[tuple[str, bytes]]:
    from templategen.output.table_csv import csv_bytes
    from templategen.shop.buy_list import buy_list
    from templategen.shop.cut_list import cut_list
    from templategen.shop.set_ups.rows import set_up_list

    assert laid is not None
    yield "lists/cut-list.csv", csv_bytes(*cut_list(table, laid.tables))
    yield "lists/set-ups.csv", csv_bytes(*set_up_list(table, laid.tables))
    yield from _closing(table)
    yield "lists/offcuts.toml", offcut_list(table, laid).encode()
    yield "lists/buy-list.csv", csv_bytes(*buy_list(table, laid.used, laid.unserved, laid.tables))
