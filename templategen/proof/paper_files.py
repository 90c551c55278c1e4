"""Paper templates: pages of the size told, every cut line where the record puts it, unbroken from page to page."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import islice
from typing import Any

from templategen.errors import OutputError
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.proof.difference import Difference
from templategen.proof.outlines import places, told
from templategen.proof.read_pdf import Page, read_pdf
from templategen.proof.read_record import Record, outline_in, placement_in

ON_PAPER = 0.02
"""How far a printed line may lie from where the record has it, mm: a fifth of the finest line."""

PAGE_SIZE = 0.1
"""How far the size of a page may differ, mm."""


def paper_differences(
    entry: Record, parts: Mapping[str, Record], matrix: Sequence[float], data: bytes
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
            yield from _site(path, site, parts, spread, own, matrix)


def _sizes(path: str, spread: Record, pages: Sequence[Page]) -> Iterator[Difference]:
    wide, high = spread["page_size"]
    for name, page in zip(spread["pages"], pages, strict=True):
        if max(abs(page.width - wide), abs(page.height - high)) > PAGE_SIZE:
            says = f"measures {page.width:.1f} x {page.height:.1f} mm, the record says {wide:.1f} x {high:.1f}"
            yield Difference(path, f"page {name}", says)


def _site(
    path: str,
    site: Record,
    parts: Mapping[str, Record],
    spread: Record,
    pages: Sequence[Page],
    matrix: Sequence[float],
) -> Iterator[Difference]:
    """One face of one part: each point measured lies on a line of a page."""
    part = parts.get(site["code"])
    if part is None:
        yield Difference(path, site["code"], "is printed, but isn't among the parts")
        return
    rings = [placement_in(site).outline(outline_in(ring)) for ring in (part["outline"], *part["holes"])]
    off, at = worst_on_paper(rings, spread["origins"], pages, matrix)
    if off > ON_PAPER:
        yield Difference(path, f"{site['code']}, {site['face']}", told(off, at))


def worst_on_paper(
    rings: Sequence[Outline], origins: Sequence[Sequence[float]], pages: Sequence[Page], matrix: Sequence[float]
) -> tuple[float, Point | None]:
    """The place of the rings that is farthest from any printed line, and how far."""
    import numpy as np

    points = [point for ring in rings for point in places(ring.edges)]
    a, b, c, d = matrix
    best = np.full(len(points), np.inf)
    for (x, y), page in zip(origins, pages, strict=True):
        where = np.array([(x + a * p.x + c * p.y, y + b * p.x + d * p.y) for p in points])
        on = (where >= 0).all(axis=1) & (where[:, 0] <= page.width) & (where[:, 1] <= page.height)
        if on.any() and page.chords:
            best[on] = np.minimum(best[on], _distances(where[on], np.array(page.chords)))
    worst = int(np.argmax(best))
    return float(best[worst]), points[worst]


def _distances(points: Any, chords: Any) -> Any:
    """From each point to the nearest chord."""
    import numpy as np

    start, along = chords[:, :2], chords[:, 2:] - chords[:, :2]
    square = np.maximum((along**2).sum(axis=1), 1e-30)
    found = []
    for point in points:
        share = np.clip(((point - start) * along).sum(axis=1) / square, 0.0, 1.0)
        found.append(np.hypot(*(start + share[:, None] * along - point).T).min())
    return np.array(found)
