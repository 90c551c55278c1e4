"""Sheets read back from their files, and all that is wrong with them, found by other means than drew them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np
import shapely

from templategen.drawing.mates import meetings
from templategen.drawing.template import template
from templategen.geometry.outline import Outline
from templategen.output.pdf import tiled_pdf_of
from templategen.packet.paper import heading
from templategen.paper.imposition import Imposed, impose
from templategen.parts.revision import part_revision
from templategen.proof.legends import Wood, legend_differences
from templategen.proof.read_pdf import Ink, Lettered, Page, Printed, read_pdf
from templategen.table.assembly import Table
from templategen.table.profile.model_of_shop import Paper
from templategen.units import length_figure

CUTS = ("THROUGH_OUTSIDE", "THROUGH_INSIDE", "BLANK_OUTLINE")
BESIDE = ("TAG", "TRACE", "CENTRE_END")
"""Layers that have ink on the waste, too."""

TOUCHING = 0.05
"""Boxes of letters are drawn in a little before they are held against others, mm."""

JOINED = 0.01
"""Crosses of two sheets that lie on each other agree to this, mm."""

Letters = Mapping[int, str]
Boxes = list[tuple[str, shapely.Polygon]]


def flat(outline: Outline) -> shapely.Polygon:
    """A fine polygon."""
    return shapely.Polygon([edge.point_at(step / 60) for edge in outline.edges for step in range(60)])


def imposed_of(table: Table, paper: Paper, letters: Letters | None = None) -> tuple[Imposed, ...]:
    """A table's templates on some paper."""
    return impose([template(part, table, part_revision(part), letters) for part in table.parts], paper)[0]


def woods_of(table: Table, one: Imposed) -> list[Wood]:
    """What is sawn first of every template on a drawing, told from the parts."""
    found = []
    for site in one.tiled.pattern.sited:
        part = table.part(site.code)
        ring = part.blank if part.kind in ("rim-segment", "spline") else part.outline
        holes = tuple(site.way.outline(hole) for hole in part.holes)
        found.append(Wood(part.code, site.way.outline(ring), holes, False, part_revision(part)))
    return found


def box_of(word: Lettered, matrix: Sequence[float] = (1, 0, 0, 1, 0, 0)) -> shapely.Polygon:
    """The box of some letters, carried to a page."""
    a, b, c, d, e, f = matrix
    return shapely.Polygon([(a * x + c * y + e, b * x + d * y + f) for x, y in word.corners]).buffer(-TOUCHING)


def lying_over(words: Boxes, cuts: shapely.Geometry) -> Iterator[str]:
    """Words over other words and over lines that are sawn to."""
    tree = shapely.STRtree([box for _, box in words])
    for i, j in zip(*tree.query([box for _, box in words], predicate="intersects"), strict=True):
        if i < j:
            yield f'"{words[i][0]}" over "{words[j][0]}"'
    yield from (f'"{text}" over a cut line' for text, box in words if box.intersects(cuts))


def faults_of(table: Table, one: Imposed, letters: Letters | None = None) -> Iterator[str]:
    """What is wrong with one pattern, on its drawing and on each of its pages."""
    title, units = table.profile.title, table.profile.units
    printed = read_pdf(tiled_pdf_of([(one.tiled, heading(one, title, units))], "x"))
    (ink,) = printed.drawings.values()
    yield from (": ".join(fault) for fault in legend_differences(ink, woods_of(table, one)))
    yield from missing(table, one, ink, letters or {})
    yield from strays(woods_of(table, one), ink)
    yield from _on_pages(printed, ink)
    yield from gaping(one, printed)


def _on_pages(printed: Printed, ink: Ink) -> Iterator[str]:
    """Words over words, and over cut lines, of the drawing and of each page's own with what it shows."""
    cuts = shapely.union_all(_lines(ink, CUTS))
    drawn = [word for words in ink.lettered.values() for word in words]
    yield from lying_over([(word.text, box_of(word)) for word in drawn], cuts)
    for page in printed.pages:
        assert page.ink is not None and page.matrix is not None
        near = shapely.transform(cuts, lambda at, m=page.matrix: at @ np.array([m[:2], m[2:4]]) + np.array(m[4:]))
        shown = shapely.box(*page.window)
        own = [(word.text, box_of(word)) for words in page.ink.lettered.values() for word in words]
        seen = [(word.text, box_of(word, page.matrix)) for word in drawn]
        tree = [(text, box) for text, box in seen if box.intersects(shown)]
        for (text, box), (other, there) in ((a, b) for a in own for b in tree):
            if box.intersects(there.intersection(shown)):
                yield f'page {page.drawing}: "{text}" over "{other}"'
        yield from lying_over(own, near.intersection(shown))


def _lines(ink: Ink, layers: Sequence[str]) -> np.ndarray:
    """All chords of some layers."""
    every = [ink.chords[layer] for layer in layers if layer in ink.chords]
    return shapely.linestrings(np.concatenate([np.zeros((0, 4)), *every]).reshape(-1, 2, 2))


def missing(table: Table, one: Imposed, ink: Ink, letters: Letters) -> Iterator[str]:
    """What a template needs and doesn't tell inside its outline or on its tag: how thick, of what wood, which face is
    up, how the grain runs, the letters of its joints."""
    woods = [flat(wood.outline) for wood in woods_of(table, one)]
    tags = list(tags_of(ink, woods))
    words = [(word.text, box_of(word)) for words in ink.lettered.values() for word in words]
    for number, (site, wood) in enumerate(zip(one.tiled.pattern.sited, woods, strict=True)):
        part = table.part(site.code)
        room = [wood, *(frame for frame, place in tags if place == number)]
        told = " ".join(text for text, box in words if any(area.contains(box) for area in room))
        units = table.profile.units
        face = "this side up: top" if site.face == "top" else "other side up"
        needed = [f"{length_figure(part.thickness, units)} {units} thick", part.wood, face]
        if site.face == "top":
            needed += [f"joint {met.letters}" for met in meetings(table, part, letters) if met.letters]
        yield from (f'{part.code}, {site.face}: "{say}" is not told' for say in needed if say not in told)
        grain = _lines(ink, ["GRAIN"])
        if "grain a" not in told and not any(wood.contains(line) for line in grain):
            yield f"{part.code}, {site.face}: nothing tells the grain"


def tags_of(ink: Ink, woods: Sequence[shapely.Polygon]) -> Iterator[tuple[shapely.Polygon, int]]:
    """Every tag's border with the place of the template that its line leads to."""
    lines = _lines(ink, ["TAG"])
    for frame in shapely.polygonize([shapely.union_all(lines)]).geoms if len(lines) else ():
        for line in lines:
            start, end = (shapely.Point(at) for at in line.coords)
            if frame.exterior.distance(start) < TOUCHING < frame.distance(end):
                yield from ((frame, i) for i, wood in enumerate(woods) if wood.exterior.distance(end) < TOUCHING)


def strays(woods: Sequence[Wood], ink: Ink) -> Iterator[str]:
    """Marks that leave the wood they belong to."""
    every = shapely.union_all([flat(wood.outline) for wood in woods]).buffer(TOUCHING)
    for layer in (layer for layer in ink.chords if layer not in BESIDE):
        away = ~shapely.covers(every, _lines(ink, [layer]))
        if away.any():
            yield f"{layer}: {away.sum()} lines leave the outline"


def gaping(one: Imposed, printed: Printed) -> Iterator[str]:
    """Neighbours whose crosses, carried back to the drawing, don't lie on each other."""
    pages = dict(zip(((tile.column, tile.row) for tile in one.tiled.grid.tiles), printed.pages, strict=True))
    for (column, row), page in pages.items():
        for other in ((column + 1, row), (column, row + 1)):
            if other in pages:
                here, there = crosses(page), crosses(pages[other])
                off = np.hypot(*(here[:, None] - there[None]).transpose(2, 0, 1))
                met = int((off < JOINED).sum())
                if met < 2 or ((off >= JOINED) & (off < 1.0)).any():
                    yield f"sheets {(column, row)} and {other} meet at {met} crosses"


def crosses(page: Page) -> np.ndarray:
    """Middles of a page's crosses, in the drawing's own frame."""
    assert page.ink is not None and page.matrix is not None
    chords = np.concatenate([np.zeros((0, 4)), *page.ink.chords.values()])
    size = np.abs(chords[:, 2:] - chords[:, :2])
    level = chords[(size[:, 1] < 1e-4) & (size[:, 0] > 8) & (size[:, 0] < 30)]
    upright = chords[(size[:, 0] < 1e-4) & (size[:, 1] > 8) & (size[:, 1] < 30)]
    found = [
        (u[0], h[1])
        for h in level
        for u in upright
        if min(h[0], h[2]) < u[0] < max(h[0], h[2]) and min(u[1], u[3]) < h[1] < max(u[1], u[3])
    ]
    a, b, c, d, e, f = page.matrix
    back = np.linalg.inv(np.array([[a, b], [c, d]]))
    return (np.array(found).reshape(-1, 2) - np.array([e, f])) @ back
