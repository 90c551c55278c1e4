"""Paper: pages of the size told, every line of a drawing where the record puts it, each page showing its share."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import islice
from typing import Any

from templategen.catalogue import translated, worded
from templategen.errors import OutputError
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.proof.difference import Difference
from templategen.proof.drawn import Drawn
from templategen.proof.faces import HIDDEN, INSIDE, OUTSIDE, WORKED, inside, plainly
from templategen.proof.legends import Wood, legend_differences
from templategen.proof.lines import Lines, off_lines
from templategen.proof.outlines import describe_miss, places
from templategen.proof.part_files import Measured
from templategen.proof.read_pdf import Ink, Page, read_pdf
from templategen.proof.read_record import Record, placement_in
from templategen.proof.recorded import Recorded

ON_PAPER = 0.02
"""How far a printed line may lie from where the record has it, mm: a fifth of the finest line."""

PAGE_SIZE = 0.1
"""How far the size of a page may differ, mm."""

TRUE_SCALE = 1e-5
"""How far a page's scales and leans may differ from the printer's correction: a hundredth of a millimetre a metre."""

CUTS = OUTSIDE, INSIDE, "BLANK_OUTLINE"
SAWN = "outline", "blank"
HATCHED = "WASTE"
"""Layers that are sawn to, what lies on them, and the layer that lies on no line."""

LETTERS = re.compile(r"[^A-Za-z0-9]+")
"""What isn't compared of words: the letters of paper stand in for some signs."""

UNCUT = ("-roll.pdf", "-one-page.pdf")
"""Drawings of the whole table that are printed with all that stands beside it."""

APART = ("ITEM_NUMBER", "DIMENSION")
CLOSE = 0.05
"""Words so near the table are printed with it, as a share of its width."""


def paper_differences(
    entry: Record,
    parts: Mapping[str, Recorded],
    matrix: Sequence[float],
    data: bytes,
    measured: Measured,
    whole: Drawn | None = None,
) -> Iterator[Difference]:
    """Where one file isn't as the record says; `whole` is the drawing that it shows, where it shows no parts."""
    path = entry["path"]
    try:
        printed = read_pdf(data)
    except OutputError as trouble:
        yield Difference(path, "", str(trouble))
        return
    if len(printed.pages) != entry["pages"]:
        yield Difference(
            path,
            "",
            worded("has {pages} pages, the record says {pages2}", pages=len(printed.pages), pages2=entry["pages"]),
        )
        return
    front = entry.get("front", 0)
    if any(page.matrix is not None for page in printed.pages[:front]):
        yield Difference(path, "", translated("shows a drawing on a page of words"))
    rest = iter(printed.pages[front:])
    for spread in entry["spreads"]:
        own = list(islice(rest, len(spread["pages"])))
        found = list(_pages(spread, own, spread.get("matrix", matrix)))
        if not found:
            ink = printed.drawings[own[0].drawing]
            found = [*_covered(own, ink), *_shown(spread, parts, ink, measured), *_strays(spread, parts, ink)]
            found += legend_differences(ink, woods) if (woods := list(_woods(spread, parts))) else ()
            if whole and not spread["parts"]:
                found += _drawing(whole if path.endswith(UNCUT) else _bare(whole), ink)
        yield from (Difference(path, where, says) for where, says in found)


def _pages(spread: Record, pages: Sequence[Page], matrix: Sequence[float]) -> Iterator[tuple[str, str]]:
    """The pages' sizes, and how the drawing lies on them."""
    wide, high = spread["page_size"]
    for name, origin, page in zip(spread["pages"], spread["origins"], pages, strict=True):
        if max(abs(page.width - wide), abs(page.height - high)) > PAGE_SIZE:
            says = worded(
                "measures {width:.1f} x {height:.1f} mm, the record says {wide:.1f} x {high:.1f}",
                width=page.width,
                height=page.height,
                wide=wide,
                high=high,
            )
            yield worded("page {name}", name=name), says
        if page.matrix is None or page.drawing != pages[0].drawing:
            yield worded("page {name}", name=name), translated("doesn't show the drawing that it should")
            continue
        off = max(abs(a - b) for a, b in zip(page.matrix[:4], matrix, strict=True))
        away = max(abs(a - b) for a, b in zip(page.matrix[4:], origin, strict=True))
        if off > TRUE_SCALE:
            yield (
                worded("page {name}", name=name),
                worded("shows its drawing at another scale or slant: {off:.3f} % off", off=off * 100),
            )
        if away > ON_PAPER:
            yield (
                worded("page {name}", name=name),
                worded("shows its drawing {away:.3f} mm from where it should stand", away=away),
            )


def _covered(pages: Sequence[Page], ink: Ink) -> Iterator[tuple[str, str]]:
    """No end of a line of the drawing falls between the pages' windows."""
    import numpy as np

    chords = np.concatenate([np.zeros((0, 4)), *ink.chords.values()])
    points = np.concatenate((chords[:, :2], chords[:, 2:]))
    seen = np.zeros(len(points), dtype=bool)
    for page in pages:
        a, b, c, d, e, f = page.matrix or (1, 0, 0, 1, 0, 0)
        at = points @ np.array(((a, b), (c, d))) + np.array((e, f))
        left, bottom, right, top = page.window
        box = (max(left, 0.0), max(bottom, 0.0)), (min(right, page.width), min(top, page.height))
        seen |= ((at >= np.array(box[0]) - ON_PAPER) & (at <= np.array(box[1]) + ON_PAPER)).all(axis=1)
    if not seen.all():
        x, y = points[int(np.argmin(seen))]
        yield f"({x:.1f}, {y:.1f})", translated("falls between the pages")


def _shown(spread: Record, parts: Mapping[str, Recorded], ink: Ink, measured: Measured) -> Iterator[tuple[str, str]]:
    """Every face of the spread: all that the record has of it lies on a printed line."""
    every = one_array(chords for layer, chords in ink.chords.items() if layer != HATCHED)
    cut = one_array(chords for layer, chords in ink.chords.items() if layer in CUTS)
    for site in spread["parts"]:
        part = parts.get(site["code"])
        if part is None:
            yield site["code"], translated("is printed, but isn't among the parts")
            continue
        way = placement_in(site)
        for what, face, edges in _lines(part, site["face"]):
            own = [*places(way.edge(edge) for edge in edges)]
            off = distances(own, cut if what in SAWN else every)
            worst = max(range(len(own)), key=lambda i: off[i], default=None)
            if what not in SAWN:
                measured[what, plainly(face)] += 1
            if worst is not None and off[worst] > ON_PAPER:
                yield (
                    worded("{code}, {what} on {face}", code=part.code, what=translated(what), face=face),
                    describe_miss(float(off[worst]), own[worst]),
                )


def _lines(part: Recorded, face: str) -> Iterator[tuple[str, str, Sequence[Edge]]]:
    """What a template shows, in the part's own frame: the cut, and all work that lies in the wood."""
    yield "outline", face, [edge for ring in (part.outline, *part.holes) for edge in ring.edges]
    yield "blank", face, part.sawn_first.edges
    for work in part.works:
        if work.face == face or not work.runs_along:
            yield work.kind, work.face, list(inside(part.from_above(work).edges, part.sawn_first))


def _woods(spread: Record, parts: Mapping[str, Recorded]) -> Iterator[Wood]:
    """The wood of every template on a drawing."""
    for site in spread["parts"]:
        if site["code"] in parts:
            part, way = parts[site["code"]], placement_in(site)
            yield Wood(
                part.code,
                way.outline(part.sawn_first),
                tuple(way.outline(hole) for hole in part.holes),
                part.is_jig,
                part.record["revision"],
            )


def _strays(spread: Record, parts: Mapping[str, Recorded], ink: Ink) -> Iterator[tuple[str, str]]:
    """Lines on layers of cuts and work that the record doesn't have."""
    cut, work, woods, pockets = list[Edge](), list[Edge](), list[Outline](), list[Outline]()
    for site in spread["parts"]:
        if site["code"] in parts:
            part, way = parts[site["code"]], placement_in(site)
            woods.append(way.outline(part.sawn_first))
            pockets += (way.outline(part.from_above(one)) for one in part.on(site["face"]) if not one.runs_along)
            for what, _, edges in _lines(part, site["face"]):
                (cut if what in SAWN else work).extend(way.edge(edge) for edge in edges)
    for layer, chords in ink.chords.items() if spread["parts"] else ():
        if layer in (*CUTS, HIDDEN) or WORKED.fullmatch(layer):
            known = cut if layer in CUTS else work
            yield from _off_edges(layer, chords, known, woods, pockets if WORKED.fullmatch(layer) else ())


def _bare(whole: Drawn) -> Drawn:
    """What of the whole table is printed on single sheets: no balloons, no sizes, and of words those on the table
    or close round it."""
    kept = [layer for layer in whole.layers if layer not in APART]
    box = Bounds.around(edge.bounds for edge in whole.edges(kept))
    near = box.grown(CLOSE * box.width)
    words = {layer: [word for word in whole.words[layer] if near.meets(Bounds(*word.at, *word.at))] for layer in kept}
    return Drawn(
        {layer: whole.rings[layer] for layer in kept}, {layer: whole.strokes[layer] for layer in kept}, words
    )


def _drawing(whole: Drawn, ink: Ink) -> Iterator[tuple[str, str]]:
    """A drawing of the whole table, layer by layer: its lines and words are those of the file for machines."""
    for layer in dict.fromkeys((*whole.layers, *ink.chords, *ink.words)):
        edges, chords = whole.edges([layer]), one_array([ink.chords[layer]] if layer in ink.chords else [])
        points = [*places(edges)]
        off = distances(points, chords)
        worst = max(range(len(points)), key=lambda i: off[i], default=None)
        if worst is not None and off[worst] > ON_PAPER:
            yield layer, describe_miss(float(off[worst]), points[worst])
        yield from _off_edges(layer, chords, edges)
        wanted = Counter(LETTERS.sub("", word.text) for word in whole.words.get(layer, ()))
        there = Counter(LETTERS.sub("", words) for words in ink.words.get(layer, ()))
        for words in (wanted - there) | (there - wanted):
            yield layer, worded('the words "{words}" are on one of the two only', words=words)


def _off_edges(
    layer: str, chords: Any, edges: Iterable[Edge], woods: Sequence[Outline] = (), pockets: Sequence[Outline] = ()
) -> Iterator[tuple[str, str]]:
    """Where a printed line lies on none of the edges; work may run on off the wood and into other pockets."""
    import numpy as np

    ends = np.stack((chords[:, :2], (chords[:, :2] + chords[:, 2:]) / 2, chords[:, 2:]), axis=1).reshape(-1, 2)
    away = (Point(*map(float, end)) for end in ends[Lines(edges).off(ends) > ON_PAPER])
    for at in islice((at for at in away if _on_wood(at, woods, pockets)), 1):
        yield layer, worded("a line at ({x:.2f}, {y:.2f}) that shouldn't be there", x=at.x, y=at.y)


def _on_wood(point: Point, woods: Sequence[Outline], pockets: Sequence[Outline]) -> bool:
    if any(pocket.contains(point, ON_PAPER) for pocket in pockets):
        return False
    return not woods or any(wood.contains(point, 0.0) and wood.distance(point) > ON_PAPER for wood in woods)


def one_array(chords: Iterable[Any]) -> Any:
    """Chords of several layers as one array."""
    import numpy as np

    return np.concatenate([np.zeros((0, 4)), *chords])


def distances(points: Sequence[Point], chords: Any) -> Any:
    """From each point to the nearest chord; endless without any."""
    import numpy as np

    return off_lines(np.array(points, dtype=float).reshape(-1, 2), chords)
