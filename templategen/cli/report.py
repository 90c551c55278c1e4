"""What the commands print of a table and its findings."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from textwrap import wrap
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from templategen.checks.finding import Finding
    from templategen.table.assembly import Table

WIDTH = 90
"""Characters of a finding's line."""

FIGURE = re.compile(r"(\d) (?=\S)")

COLOURS = {"stop": "red", "caution": "yellow", "note": "cyan"}


def table_lines(table: Table) -> Iterator[str]:
    """The table in a few lines."""
    from templategen.checks.wording import format_size

    profile, units = table.profile, table.profile.units

    def size(value: float) -> str:
        return format_size(value, "mm", units)

    name = f"{profile.title} ({profile.name})" if profile.title != profile.name else profile.name
    yield click.style(name, bold=True)
    top = profile.top
    yield (
        f"top {size(top.diameter)} across, {size(top.height)} high, {top.edge}; {top.segments} rim segments, "
        f"{top.rails} rails; {profile.wood}"
    )
    yield (
        f"{table.slats_per_field} slats a field, {size(table.spacing.width)} wide with gaps of "
        f"{size(table.spacing.gap)}, run {profile.slats.run}"
    )
    yield f"{len(table.placed)} parts of {len(table.parts)} kinds, {len(table.joints)} joints"


def finding_lines(findings: Iterable[Finding], units: str, whole: bool = False) -> Iterator[str]:
    """Each finding: level and key, what it says, measured and wanted; a note in one line unless `whole`. Where one
    asks for something to be done, that in place of both."""
    for finding in findings:
        level = click.style(f"{finding.level:<7}", fg=COLOURS[finding.level])
        told = finding.told(units)
        if told.do:
            lines = _wrapped(f"{told.do} ({told.whole})")
            yield f"{click.style('do     ', bold=True)}  {lines[0]}"
            yield from (f"         {line}" for line in lines[1:])
            continue
        if finding.level == "note" and not whole:
            first, *rest = _wrapped(f"{finding.where}: {told.whole}")
            yield f"{level}  {first}"
            yield from (f"         {line}" for line in rest)
            continue
        yield f"{level}  {finding.where}"
        for words in (told.whole, told.why):
            yield from (f"         {line}" for line in _wrapped(words))


def _wrapped(words: str) -> list[str]:
    """Lines that part no figure from its unit and no code at its hyphen."""
    held = FIGURE.sub("\\1\N{NO-BREAK SPACE}", words)
    lines = wrap(held, WIDTH, break_long_words=False, break_on_hyphens=False)
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]


def verdict(findings: Iterable[Finding]) -> str:
    """The last line."""
    levels = [finding.level for finding in findings]
    stops, cautions = levels.count("stop"), levels.count("caution")
    if not stops and not cautions:
        return "nothing to settle before cutting"
    parts = [f"{stops} to settle before cutting"] if stops else []
    parts += [f"{cautions} to take care of"] if cautions else []
    return ", ".join(parts)


def paper_lines(paper: Mapping[str, Any] | None) -> Iterator[str]:
    """What to print, in its order, on how many sheets, and what to measure; what is there besides."""
    if paper is None:
        return
    size = paper["size"] if isinstance(paper["size"], str) else " x ".join(f"{side:g}" for side in paper["size"])
    yield f"print at 100 %, never fitted to the page, {paper['sheets']} sheets of {size}, in this order:"
    for place, file in enumerate(paper["print"]):
        sheets = "1 sheet" if file["pages"] == 1 else f"{file['pages']} sheets"
        yield f"  {file['path']}  {sheets}; {FIRST_SHEET if place == 0 else OTHER_SHEETS}"
    besides = {entry["path"].rpartition("/")[0] for kind in ("alone", "drawings") for entry in paper[kind]}
    yield f"  {paper['saved']} sheets saved; only if wanted: {', '.join(sorted(besides))}"


FIRST_SHEET = "measure its square and both diagonals before you print more, as it says"
OTHER_SHEETS = "its first page explains; measure the rulers on every sheet"


def price_lines(files: Mapping[str, bytes]) -> Iterator[str]:
    """What the tables cost, where a price was worked out."""
    import csv

    data = files.get("lists/price.csv")
    if data is not None:
        total = list(csv.DictReader(data.decode().splitlines()))[-1]
        yield f"price {total['cost']}, {total['from']}; lists/price.csv tells how it comes about"


def stock_lines(least: Mapping[str, Any] | None, stock: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    """What the layouts take, and how far that may be from the best possible."""
    if least is None or not stock:
        return
    cost, bound = least["used_cost"], least["cost"]
    if not bound:
        yield f"{len(stock)} pieces of stock"
        return
    told = "the least possible" if least["gap"] <= 0 else f"at most {least['gap']:.1%} above the least possible"
    yield f"{len(stock)} pieces of stock, at {cost:g} {told} (proved: {bound:g}, {least['pieces']} pieces)"
