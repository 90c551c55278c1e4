"""Paper templates: pages of the size told, every cut line where the record puts it, unbroken from page to page."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import islice
from typing import Any

from templategen.errors import OutputError
from templategen.geometry.edge import Edge
from templategen.geometry.point import Point
from templategen.proof.difference import Difference
from templategen.proof.faces import inside, plainly
from templategen.proof.lines import AT_ONCE, to_lines
from templategen.proof.outlines import places, told
from templategen.proof.part_files import Measured
from templategen.proof.read_pdf import Page, read_pdf
from templategen.proof.read_record import Record, placement_in
from templategen.proof.recorded import Recorded

ON_PAPER = 0.02
"""How far a printed line may lie from where the record has it, mm: a fifth of the finest line."""

PAGE_SIZE = 0.1
"""How far the size of a page may differ, mm."""


def paper_differences(
    entry: Record, parts: Mapping[str, Recorded], matrix: Sequence[float], data: bytes, measured: Measured
) -> Iterator[Difference]:
    """Where one file of templates isn't as the record says."""
    path = entry["path"]
    try:
        pages = list(read_pdf(data, any(spread["parts"] for spread in entry["spreads"])))
    except OutputError as trouble:
        yield Difference(path, "", str(trouble))
        return
    if len(pages) != entry["pages"]:
        yield Difference(path, "", f"has {len(pages)} pages, the record says {entry['pages']}")
        return
    rest = iter(pages)
    for spread in entry["spreads"]:
        own = list(islice(rest, len(spread["pages"])))
        yield from _sizes(path, spread, own)
        for site in spread["parts"]:
            yield from _site(path, site, parts, spread, own, matrix, measured)


def _sizes(path: str, spread: Record, pages: Sequence[Page]) -> Iterator[Difference]:
    wide, high = spread["page_size"]
    for name, page in zip(spread["pages"], pages, strict=True):
        if max(abs(page.width - wide), abs(page.height - high)) > PAGE_SIZE:
            says = f"measures {page.width:.1f} x {page.height:.1f} mm, the record says {wide:.1f} x {high:.1f}"
            yield Difference(path, f"page {name}", says)


def _site(
    path: str,
    site: Record,
    parts: Mapping[str, Recorded],
    spread: Record,
    pages: Sequence[Page],
    matrix: Sequence[float],
    measured: Measured,
) -> Iterator[Difference]:
    """One face of one part: each point measured lies on a line of a page."""
    part = parts.get(site["code"])
    if part is None:
        yield Difference(path, site["code"], "is printed, but isn't among the parts")
        return
    way, names, points = placement_in(site), list[str](), list[Point]()
    for what, edges in _lines(part, site["face"], measured):
        own = [*places(way.edge(edge) for edge in edges)]
        points += own
        names += [what] * len(own)
    off = off_paper(points, spread["origins"], pages, matrix)
    for what in dict.fromkeys(names):
        worst = max((i for i, name in enumerate(names) if name == what), key=lambda i: off[i])
        if off[worst] > ON_PAPER:
            yield Difference(path, f"{site['code']}, {what} on {site['face']}", told(off[worst], points[worst]))


def _lines(part: Recorded, face: str, measured: Measured) -> Iterator[tuple[str, Sequence[Edge]]]:
    """What a template shows, in the part's own frame: the cut, and all work that lies in the wood."""
    yield "outline", [edge for ring in (part.outline, *part.holes) for edge in ring.edges]
    for work in part.works:
        if work.face == face or not work.runs_along:
            measured[work.kind, plainly(work.face)] += 1
            yield work.kind, list(inside(part.from_above(work).edges, part.outline))


def off_paper(
    points: Sequence[Point], origins: Sequence[Sequence[float]], pages: Sequence[Page], matrix: Sequence[float]
) -> list[float]:
    """How far each point lies from the nearest line printed on any page that it falls on."""
    import numpy as np

    a, b, c, d = matrix
    best, there = np.full(len(points), np.inf), np.array(points, dtype=float).reshape(-1, 2)
    for origin, page in zip(origins, pages, strict=True):
        where = there @ np.array(((a, b), (c, d))) + np.array(origin)
        on = (where >= 0).all(axis=1) & (where <= (page.width, page.height)).all(axis=1)
        if on.any() and len(page.chords):
            best[on] = np.minimum(best[on], _distances(where[on], page.chords))
    return [float(off) for off in best]


def _distances(points: Any, chords: Any) -> Any:
    """From each point to the nearest chord."""
    import numpy as np

    best = np.full(len(points), np.inf)
    step = max(1, AT_ONCE // len(chords))
    for first in range(0, len(points), step):
        part = slice(first, first + step)
        best[part] = to_lines(points[part], chords).min(axis=1)
    return best
