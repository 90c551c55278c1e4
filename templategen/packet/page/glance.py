"""The table at a glance, and what was found."""

from __future__ import annotations

from math import fsum

from templategen.checks.told import told_range, told_size
from templategen.drawing.exploded import finished_drawing
from templategen.output.page.content import Grid, Section, Sheet
from templategen.packet.page.made import Made
from templategen.packet.page.picture import picture
from templategen.shop.weigh import mass_kg

LEVELS = {"stop": "stop", "caution": "caution", "note": "note"}


def glance(made: Made) -> Section:
    """Sizes, weight, wood, numbers, beside the finished table."""
    table = made.table
    looks = (picture(finished_drawing(table), "glance", f"{made.table.profile.title}, as it stands", large=True),)
    facts = Grid(("what", "how much"), tuple(_facts(made)))
    return Section("glance", "At a glance", (Sheet("table", "", pictures=looks, grids=(facts,)),))


def _facts(made: Made) -> list[tuple[str, str]]:
    table, record = made.table, made.record
    top, laid = table.profile.top, made.laid
    seats = next((finding for finding in made.findings if "seat" in finding.unit), None)
    slats = (
        f"{table.slats_per_field} a field, {made.size(table.spacing.width)} wide, "
        f"gaps of {made.size(table.spacing.gap)}, run {table.profile.slats.run}"
    )
    rows = [
        ("top", f"{made.size(top.diameter)} across, {made.size(top.height)} high, {top.edge}"),
        ("rim and rails", f"{top.segments} segments, {top.rails} rails, {made.size(top.thickness)} thick"),
        ("slats", slats),
        ("wood", ", ".join(dict.fromkeys(part.wood for part in table.parts))),
        ("mass", f"about {mass_kg(table):.0f} kg; two persons lift it"),
        ("pieces", f"{len(table.placed)} of {len(table.parts)} kinds, {len(table.joints)} joints"),
    ]
    if seats is not None:
        rows.append(("seats", f"{seats.measured:g}"))
    if laid is not None and laid.sheets:
        cost = fsum(one.sheet.piece.price for one in laid.sheets)
        rows.append(("stock", f"{len(laid.sheets)} pieces" + (f", {cost:.2f} in all" if cost else "")))
        rows += [("no layout can cost less than", f"{made.record['stock_bound']['cost']:g}")] if cost else []
    if record.get("paper"):
        paper = record["paper"]
        rows.append(
            ("paper", f"{paper['sheets']} sheets hold every template, {paper['saved']} fewer than one by one")
        )
    if made.jigs:
        rows.append(("jigs", f"{len(made.jigs)}"))
    return rows


def found(made: Made) -> Section:
    """The findings, the gravest first."""
    rows, levels = [], []
    for finding in made.findings:
        measured = told_size(finding.measured, finding.unit, made.units)
        beside = ", ".join(words for words in (measured, told_range(finding, made.units)) if words)
        why = f"; {finding.why}" if finding.why else ""
        rows.append((finding.level, finding.where, f"{finding.says}{why}", beside))
        levels.append(finding.level)
    grave = sum(level != "note" for level in levels)
    word = "1 finding to settle or to understand before cutting" if grave == 1 else f"{grave} findings to settle"
    words = (word if grave else "Nothing to settle: it fits and goes together. The notes inform.",)
    grid = Grid(("level", "where", "what", "measured and wanted"), tuple(rows), levels=tuple(levels))
    return Section("found", "Before you cut", (Sheet("findings", "", words, grids=(grid,)),))
