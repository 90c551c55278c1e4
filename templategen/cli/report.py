"""What the commands print of a table and its findings."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from textwrap import wrap
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from pathlib import Path

    from templategen.checks.finding import Finding
    from templategen.table.assembly import Table

WIDTH = 90
"""Characters of a finding's line."""

FIGURE = re.compile(r"(\d) (?=\S)")

COLOURS = {"stop": "red", "caution": "yellow", "note": "cyan"}


def table_lines(table: Table) -> Iterator[str]:
    """The table in a few lines."""
    from templategen.checks.describe import said

    profile = table.profile
    name = f"{profile.title} ({profile.name})" if profile.title != profile.name else profile.name
    yield click.style(name, bold=True)
    top = profile.top
    yield said(
        "top {across:size} across, {high:size} high; rim {edge:word}, of {segments} segments; {rails} rails; "
        "{wood:word}", profile.units,
        across=top.diameter, high=top.height, edge=top.edge, segments=top.segments, rails=top.rails,
        wood=profile.wood,
    )  # fmt: skip
    yield said(
        "{count:# slat} a field, {wide:size} wide with gaps of {gap:size}, run {run:word}", profile.units,
        count=table.slats_per_field, wide=table.spacing.width, gap=table.spacing.gap, run=profile.slats.run,
    )  # fmt: skip
    yield said(
        "{parts} parts of {kinds:# kind}, {joints:# joint}",
        parts=len(table.placed), kinds=len(table.parts), joints=len(table.joints),
    )  # fmt: skip


def finding_lines(findings: Iterable[Finding], units: str, whole: bool = False) -> Iterator[str]:
    """Three lists: what to beware of, with its key, limit and remedy; what is to be done; what only informs, which is
    counted unless `whole`."""
    from templategen.catalogue import translated
    from templategen.checks.describe import said
    from templategen.checks.finding import NOTES

    findings = tuple(findings)
    lists = {name: [one for one in findings if one.list == name] for name in NOTES}
    for finding in (*lists["beware"], *(lists["information"] if whole else ())):
        told = finding.described(units)
        level = "beware" if finding.list == "beware" and finding.level == "note" else finding.level
        yield f"{click.style(f'{translated(level):<7}', fg=COLOURS[finding.level])}  {finding.where}"
        for words in (told.whole, told.do, told.why):
            yield from (f"         {line}" for line in _wrapped(words))
    todo = translated("do")
    for finding in lists["do"]:
        told = finding.described(units)
        first, *rest = _wrapped(f"{told.do} ({told.whole})")
        yield f"{click.style(f'{todo:<7}', bold=True)}  {first}"
        yield from (f"         {line}" for line in rest)
    if lists["information"] and not whole:
        yield said(
            "{count:# figure} within limits besides: check --whole tells them", count=len(lists["information"])
        )


def _wrapped(words: str) -> list[str]:
    """Lines that part no figure from its unit and no code at its hyphen."""
    held = FIGURE.sub("\\1\N{NO-BREAK SPACE}", words)
    lines = wrap(held, WIDTH, break_long_words=False, break_on_hyphens=False)
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]


def verdict(findings: Iterable[Finding]) -> str:
    """The last line."""
    from templategen.catalogue import translated
    from templategen.checks.describe import said

    told = tuple(findings)
    stops = sum(one.level == "stop" for one in told)
    beware, todo = (sum(one.list == name for one in told) for name in ("beware", "do"))
    parts = [said("{count} to settle before cutting", count=stops)] if stops else []
    parts += [said("{count} to beware of", count=beware - stops)] if beware > stops else []
    parts += [said("{count} to do", count=todo)] if todo else []
    return ", ".join(parts) or translated("nothing to settle before cutting")


def paper_lines(paper: Mapping[str, Any] | None) -> Iterator[str]:
    """What to print, in its order, on how many sheets, and what to measure; what is there besides."""
    if paper is None:
        return
    from templategen.catalogue import translated
    from templategen.checks.describe import said

    size = paper["size"] if isinstance(paper["size"], str) else " x ".join(f"{side:g}" for side in paper["size"])
    yield said(
        "print at 100 %, never fitted to the page, {sheets} sheets of {size}, in this order:",
        sheets=paper["sheets"], size=size,
    )  # fmt: skip
    for place, file in enumerate(paper["print"]):
        what = translated(FIRST_SHEET if place == 0 else OTHER_SHEETS)
        yield said("  {path}  {sheets:# sheet}; {what}", path=file["path"], sheets=file["pages"], what=what)
    besides = sorted({entry["path"].rpartition("/")[0] for kind in ("alone", "drawings") for entry in paper[kind]})
    yield said(
        "  {saved} sheets saved by sharing them; print only if wanted: {besides:all}",
        saved=paper["saved"], besides=besides,
    )  # fmt: skip


FIRST_SHEET = "measure its square and both diagonals before you print more, as it says"
OTHER_SHEETS = "its first page explains; measure the rulers on every sheet"


def price_lines(files: Mapping[str, bytes]) -> Iterator[str]:
    """What the tables cost, where a price was worked out."""
    import csv

    data = files.get("lists/price.csv")
    if data is not None:
        from templategen.catalogue import column
        from templategen.checks.describe import said

        *_, total = csv.DictReader(data.decode().splitlines())
        least, most = map(float, re.findall(r"\d+\.\d+", total[column("from")]))
        yield said(
            "price {cost:.2f}, between {least:.2f} and {most:.2f}; lists/price.csv tells how it comes about",
            cost=float(total[column("cost")]), least=least, most=most,
        )  # fmt: skip


def stock_lines(least: Mapping[str, Any] | None, stock: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    """What the layouts take, and how far that may be from the best possible."""
    if least is None or not stock:
        return
    from templategen.checks.describe import said

    used, cost, bound = len(stock), least["used_cost"], least["cost"]
    if not bound:
        yield said("{used:# piece} of stock used", used=used)
    elif least["gap"] <= 0:
        yield said(
            "{used:# piece} of stock used for the parts, at {cost:g}; no layout can cost less", used=used, cost=cost
        )
    else:
        yield said(
            "{used:# piece} of stock used for the parts, at {cost:g}; it is proved that none can cost less than "
            "{bound:g}",
            used=used, cost=cost, bound=bound,
        )  # fmt: skip


def written_lines(files: Mapping[str, bytes], folder: Path, found: Iterable[Finding]) -> Iterator[str]:
    """What was written, and how the table stands."""
    from templategen.checks.describe import said

    size = sum(map(len, files.values())) / 1e6
    wrote = said("{count} files, {size:.1f} MB, in {folder}", count=len(files), size=size, folder=str(folder))
    yield f"{wrote}; {verdict(found)}"
