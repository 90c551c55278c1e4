"""The table at a glance, and what was found."""

from __future__ import annotations

from collections.abc import Iterator
from math import fsum

from templategen.checks.finding import Finding
from templategen.checks.told import told_range, told_size
from templategen.drawing.exploded import finished_drawing
from templategen.output.page.content import Grid, Picture, Section, Sheet
from templategen.packet.page.made import Made
from templategen.packet.page.picture import picture
from templategen.packet.page.shown import Shown
from templategen.shop.weigh import mass_kg


def looks(shown: Shown) -> Picture:
    """The finished table."""
    title = shown.table.profile.title
    return picture(finished_drawing(shown.table), "glance", f"{title}, as it stands", True, True)


def glance(made: Made, finished: Picture) -> Section:
    """What is grave first, then sizes, weight, wood and numbers, beside the finished table."""
    grave = [finding for finding in made.findings if finding.level != "note"]
    first = (
        Grid(
            ("level", "where", "what"),
            tuple((finding.level, finding.where, finding.says) for finding in grave),
            "settle or understand these before you cut",
            levels=tuple(finding.level for finding in grave),
        ),
    )
    facts = Grid(("what", "how much"), tuple(_facts(made)))
    words = "Every piece is measured against every other; the findings below say what to mind."
    sheet = Sheet("table", "", (words,), (finished,), grids=(*(first if grave else ()), facts))
    return Section("glance", "At a glance", (sheet,))


def _facts(made: Made) -> Iterator[tuple[str, str]]:
    shown, table = made.shown, made.shown.table
    top, size = table.profile.top, shown.size
    yield "top", f"{size(top.diameter)} across, {size(top.height)} high, edge {top.edge}"
    yield "rim and rails", f"{top.segments} segments, {top.rails} rails, {size(top.thickness)} thick"
    widths = f"{size(table.spacing.width)} wide, gaps of {size(table.spacing.gap)}"
    yield "slats", f"{table.slats_per_field} a field, {widths}, run {table.profile.slats.run}"
    yield "wood", ", ".join(dict.fromkeys(part.wood for part in table.parts))
    yield "mass", f"about {mass_kg(table):.0f} kg; two persons lift it"
    seats = next((finding for finding in made.findings if finding.unit in ("seats", "persons")), None)
    if seats is not None:
        yield "seats", f"{seats.measured:g}"
    yield "pieces", f"{shown.counted(len(table.placed))} of {len(table.parts)} kinds, {len(table.joints)} joints"
    yield from _stocked(made)
    if made.record.get("paper"):
        paper = made.record["paper"]
        yield "paper", f"{paper['sheets']} sheets hold every template, {paper['saved']} fewer than one by one"
    if shown.jigs:
        yield "jigs", f"{len(shown.jigs)}, of {sum(len(jig.parts) for jig in shown.jigs)} kinds of piece"


def _stocked(made: Made) -> Iterator[tuple[str, str]]:
    """What the wood comes to."""
    if made.laid is None or not made.laid.sheets:
        return
    cost = fsum(one.sheet.piece.price for one in made.laid.sheets)
    counts = "; ".join(f"{count} of {name}" for name, count in made.laid.used.items())
    yield "boards and sheets", f"{len(made.laid.sheets)}: {counts}"
    if cost:
        each = f", {cost / made.shown.tables:.2f} a table" if made.shown.tables > 1 else ""
        yield "stock costs", f"{cost:.2f} in all{each}; no layout can cost less than {_least(made)}"


def _least(made: Made) -> str:
    return f"{made.record['stock_bound']['cost']:.2f}"


def found(made: Made) -> Section:
    """The findings, the gravest first; notes apart, since they only inform."""
    grave = [finding for finding in made.findings if finding.level != "note"]
    notes = [finding for finding in made.findings if finding.level == "note"]
    settle = Sheet(
        "settle", "To settle or to understand",
        () if grave else ("Nothing: it fits, goes together and stands. The notes inform.",),
        grids=(findings_grid(made, grave),) if grave else (),
    )  # fmt: skip
    inform = Sheet("notes", "Notes", grids=(findings_grid(made, notes),))
    return Section("found", "Before you cut", (settle, inform) if notes else (settle,))


def findings_grid(made: Made, findings: list[Finding]) -> Grid:
    """A row for each."""
    rows = tuple(
        (finding.level, finding.where, f"{finding.says}; {finding.why}" if finding.why else finding.says,
         _beside(made, finding))
        for finding in findings
    )  # fmt: skip
    return Grid(("level", "where", "what", "measured"), rows, levels=tuple(finding.level for finding in findings))


def _beside(made: Made, finding: Finding) -> str:
    measured = told_size(finding.measured, finding.unit, made.shown.units)
    return ", ".join(words for words in (measured, told_range(finding, made.shown.units)) if words)
