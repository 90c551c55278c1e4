"""The table at a glance, and what was found."""

from collections.abc import Iterator, Sequence
from functools import partial
from math import fsum

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.checks.finding import Finding
from templategen.drawing.drawing import Drawing
from templategen.drawing.spot_drawing import spot_drawing
from templategen.english import tag
from templategen.output.page.content import Grid, Picture, Section, Sheet
from templategen.packet.jigs import JigPlan
from templategen.packet.lay_out import LaidStock
from templategen.packet.page.picture import FAILED, picture
from templategen.packet.page.sizes import counted, size
from templategen.packet.paper import PaperFiles
from templategen.packet.trial_offcuts import strips_sawn
from templategen.shop.trial_wood import trial_wood
from templategen.shop.weigh import mass_kg
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.work.plan import WorkPlan


def looks(table: Table, drawing: Drawing | None) -> Picture:
    """The finished table; where it couldn't be drawn an empty picture."""
    if drawing is None:
        return Picture(FAILED, "not drawn, see the findings", True, 0, 8.0)
    return picture(drawing, "glance", said("{title}, as it stands", title=table.profile.title), True, True)


def standing(findings: Sequence[Finding], tables: int) -> str:
    """How the table stands, and for how many this page is."""
    levels = [finding.level for finding in findings]
    if "stop" in levels:
        told = translated("Not ready to cut: see what must be settled first.")
    elif "caution" in levels:
        told = translated("It goes together; read what to take care of before cutting.")
    elif {one.list for one in findings} - {"information"}:
        told = translated("Calculated, checked and found to fit; see below.")
    else:
        told = translated("Calculated, checked and found to fit: nothing to settle before cutting.")
    if tables == 1:
        return told
    rest = said(
        "For {tables} tables: stock, set-ups and lists are for all of them, drawings and steps for one.",
        tables=tables,
    )
    return f"{told} {rest}"


def glance(
    table: Table,
    tables: int,
    finished: Picture,
    findings: Sequence[Finding],
    laid: LaidStock | None,
    paper: PaperFiles,
    jigs: JigPlan,
    work: WorkPlan,
) -> Section:
    """What is grave first, then sizes, weight, wood and numbers, beside the finished table."""
    grave = [finding for finding in findings if finding.level != "note"]
    first = (
        Grid(
            _columns("level", "where", "finding"),
            tuple((translated(one.level), one.where, one.described(table.profile.units).says) for one in grave),
            translated("settle or understand these before you cut"),
            levels=tuple(finding.level for finding in grave),
            language=tag(of_catalogue=True),
        ),
    )
    facts = Grid(
        ("what", "how much"),
        (*_facts(table, tables, findings), *_stocked(table, laid, work), *_paper_and_jigs(paper, jigs)),
    )
    words = "Every piece is measured against every other; the findings below say what to mind."
    sheet = Sheet("table", "", (words,), (finished,), grids=(*(first if grave else ()), facts))
    return Section("glance", "At a glance", (sheet,))


def _facts(table: Table, tables: int, findings: Sequence[Finding]) -> Iterator[tuple[str, str]]:
    top, units = table.profile.top, table.profile.units
    sizes = {"across": size(top.diameter, units), "high": size(top.height, units), "edge": top.edge}
    yield translated("top"), said("{across} across, {high} high, edge {edge:word}", **sizes)
    yield (
        translated("rim and rails"),
        said(
            "{segments} segments, {rails} rails, {thick} thick",
            segments=top.segments,
            rails=top.rails,
            thick=size(top.thickness, units),
        ),
    )
    yield (
        translated("slats"),
        said(
            "{count} a field, {wide} wide, gaps of {gap}, run {run:word}",
            count=table.slats_per_field,
            wide=size(table.spacing.width, units),
            gap=size(table.spacing.gap, units),
            run=table.profile.slats.run,
        ),
    )
    yield translated("wood"), ", ".join(translated(wood) for wood in dict.fromkeys(part.wood for part in table.parts))
    yield translated("mass"), said("about {mass:kg}; two persons lift it", units, mass=round(mass_kg(table), 1))
    seats = next((finding for finding in findings if finding.kind == "seats"), None)
    if seats is not None:
        yield translated("seats"), f"{seats.measured:g}"
    pieces = counted(len(table.placed), tables)
    yield (
        translated("pieces"),
        said(
            "{pieces} of {kinds:# kind}, {joints:# joint}",
            pieces=pieces,
            kinds=len(table.parts),
            joints=len(table.joints),
        ),
    )


def _stocked(table: Table, laid: LaidStock | None, work: WorkPlan) -> Iterator[tuple[str, str]]:
    """What the wood comes to, with the boards that test strips take besides."""
    if laid is None or not laid.sheets:
        return
    shop, stock = table.profile.shop, table.profile.stock
    more = strips_sawn(shop, stock, laid, trial_wood(table, work.set_ups)).boards
    tried = fsum(one.price * more.get(one.name, 0) for one in stock)
    counts = "; ".join(said("{count} of {name}", count=count, name=name) for name, count in laid.used.items())
    yield translated("boards and sheets"), f"{len(laid.sheets)}: {counts}"
    if cost := fsum(one.sheet.piece.price for one in laid.sheets) + tried:
        told = said(
            "{cost:.2f} in all[, {each:.2f} a table][, {tried:.2f} of it for test strips]; no layout of the parts "
            "can cost less than {least:.2f}",
            cost=cost,
            each=cost / laid.tables if laid.tables > 1 else None,
            tried=tried or None,
            least=laid.least.cost,
        )
        yield translated("stock costs"), told


def _paper_and_jigs(paper: PaperFiles, jigs: JigPlan) -> Iterator[tuple[str, str]]:
    if told := paper.record:
        counts = {"sheets": told["sheets"], "saved": told["saved"]}
        yield (
            translated("paper"),
            said("{sheets} sheets hold every template, {saved} fewer than one by one", **counts),
        )
    if jigs.jigs:
        kinds = said("{jigs}, of {kinds:# kind} of piece", jigs=len(jigs.jigs), kinds=len(jigs.pieces))
        yield translated("jigs"), kinds


def found(table: Table, findings: Sequence[Finding]) -> Section:
    """What must be settled or understood, what is to be done, and apart from both what only informs."""
    grave, tasks, notes = ([one for one in findings if one.list == name] for name in ("beware", "do", "information"))
    units = table.profile.units
    settle = Sheet(
        "settle", translated("Beware"),
        () if grave else (translated("Nothing: it fits, goes together and stands."),),
        tuple(_places(table, grave)),
        grids=(findings_grid(grave, units),) if grave else (),
    )  # fmt: skip
    rows = tuple((one.described(units).do, one.where, one.described(units).whole) for one in tasks)
    do = Sheet("do", translated("Do this"), grids=(Grid(_columns("what to do", "where", "why"), rows),))
    inform = Sheet("notes", translated("For information"), grids=(findings_grid(notes, units),))
    told = [sheet for sheet, shown in ((settle, grave or not tasks), (do, tasks), (inform, notes)) if shown]
    return Section("found", translated("Before you cut"), tuple(told), language=tag(of_catalogue=True))


def _columns(*words: str) -> tuple[str, ...]:
    return tuple(map(translated, words))


def _places(table: Table, findings: Sequence[Finding]) -> Iterator[Picture]:
    """Where in its part each was measured, if it was in one place."""
    for number, finding in enumerate(findings, 1):
        if (spot := finding.spot) is not None:
            drawn = partial(spot_drawing, table.part(spot.part), spot, table.profile.units)
            yield picture(drawn, f"found-{number}", finding.described(table.profile.units).whole)


def findings_grid(findings: Sequence[Finding], units: Units) -> Grid:
    """A row for each."""
    told = [(one, one.described(units)) for one in findings]
    rows = tuple(
        (
            translated(one.level),
            one.where,
            "; ".join(part for part in (words.says, words.why, words.do) if part),
            words.figures,
        )
        for one, words in told
    )
    heading = _columns("level", "where", "finding", "measured")
    return Grid(heading, rows, levels=tuple(finding.level for finding in findings))
