"""The page: its views of parts show what the record says of every face, and its cut list the sizes."""

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from html import unescape

from templategen.catalogue import translated, worded
from templategen.errors import Fault, OutputError
from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline, circle, outline_of
from templategen.geometry.point import Point
from templategen.proof.counts import wanted_of
from templategen.proof.difference import Difference
from templategen.proof.drawn import Drawn
from templategen.proof.faces import HIDDEN, INSIDE, OUTSIDE, WOOD, WORKED, Site, title_of
from templategen.proof.lines import Lines
from templategen.proof.outlines import describe_miss, places
from templategen.proof.pockets import parted
from templategen.proof.read_record import Record
from templategen.proof.read_svg import path_edges
from templategen.proof.recorded import TOP, Recorded

PAGE = "index.html"

DRAWING = re.compile(r'<svg [^>]*class="drawing"[^>]*>(?:(?!</svg>).)*</svg>', re.DOTALL)
TITLE = re.compile(r"<title[^>]*>([^<]*)</title>")
GROUP = re.compile(r'<g class="l l-([A-Z0-9_]+)[^"]*">(.*?)(?=<g class="l l-|</svg>)', re.DOTALL)
PATH = re.compile(r'<path d="([^"]*)"\s*/>')
CIRCLE = re.compile(r'<circle cx="([^"]*)" cy="([^"]*)" r="([^"]*)"\s*/>')
ROW = re.compile(r'<tr data-part="([^"]*)">(.*?)</tr>', re.DOTALL)
CELL = re.compile(r"<td[^>]*>(.*?)</td>", re.DOTALL)
CUT_LIST = re.compile(r'<article id="first-cut-list".*?</table>', re.DOTALL)
MOVED = re.compile(r"<(?:g|path|svg)\b[^>]*\b(?:transform|style|display|visibility|opacity)\s*=")

ON_SCREEN = 0.16
"""How far a line of a picture on a screen may lie from where the record has it, mm: it has one decimal."""

SCRIPTS = 2
"""The turning picture's bodies, and the page's own script."""

FIGURE = re.compile(r"([^a-z(]*?)(?: (mm|in)\b.*)?$", re.DOTALL)
"""A figure of a list, its unit, and what it is about in other words."""

UNITS = {"mm": 1.0, "in": 25.4}
LAST_DIGIT = {"mm": 0.0051, "in": 25.4 / 128 + 0.001}
"""Half of a hundredth of a millimetre, or of a 64th of an inch, mm."""
IN_DECIMALS = 25.4 * 0.0005 + 0.0001
"""Half of a thousandth of an inch, mm: what is no whole 64th is told so."""


def page_differences(data: bytes, record: Record, parts: Mapping[str, Recorded]) -> Iterator[Difference]:
    """Where the page isn't as the record says."""
    text = data.decode("utf-8", "replace")
    if text.count("<script") != SCRIPTS or re.search(r"<(?:iframe|object|embed|link|base)\b|\son\w+=", text):
        yield Difference(PAGE, "", translated("holds a script or a frame too many"))
    if MOVED.search(text):
        yield Difference(PAGE, "", translated("holds a drawing that is moved or hidden"))
    yield from _views(text, record, parts)
    yield from _cut_list(text, record)


def _views(text: str, record: Record, parts: Mapping[str, Recorded]) -> Iterator[Difference]:
    """Every worked face of every part of the table has one view, which shows it."""
    made = wanted_of(record)
    wanted = {
        f"{part.code}: {title_of(part, face)}": (part, face)
        for part in parts.values()
        if f"parts/{part.code}.dxf" in part.record["files"] or (made[part.code] and _is_of_table(part, record))
        for face in dict.fromkeys((TOP, *part.worked))
    }
    for drawing in DRAWING.finditer(text):
        title = unescape(TITLE.search(drawing[0])[1])  # type: ignore[index]
        part, face = wanted.pop(title, (None, ""))
        if part is None or part.wood(face) is None:
            continue
        try:
            for where, says in _view(Site(part, face, Point(0.0, 0.0)), _drawn(drawing[0])):
                yield Difference(PAGE, f"{part.code}, {where}", says)
        except OutputError as trouble:
            yield Difference(PAGE, title, str(trouble))
    for title in wanted:
        yield Difference(PAGE, title, translated("isn't shown"))


def _is_of_table(part: Recorded, record: Record) -> bool:
    return any(placed["code"] == part.code for placed in record["placed"])


def _drawn(text: str) -> Drawn:
    """The lines of one inline drawing by layer."""
    drawn = Drawn()
    for layer, body in GROUP.findall(text):
        for path in PATH.findall(body):
            for walk in re.findall(r"M[^M]*", path):
                edges = path_edges(walk)
                if walk.rstrip().endswith(("Z", "z")):
                    drawn.rings[layer].append(outline_of(edges))
                else:
                    drawn.strokes[layer] += edges
        for x, y, radius in CIRCLE.findall(body):
            try:
                drawn.rings[layer].append(circle(float(x), -float(y), float(radius)))
            except ValueError as trouble:
                raise OutputError(
                    Fault("", worded("a circle that can't be read ({trouble})", trouble=trouble))
                ) from trouble
    return drawn


def _view(site: Site, drawn: Drawn) -> Iterator[tuple[str, str]]:
    """One face: all the record has of it is drawn, and nothing else on layers of wood and work."""
    cut = site.face == TOP
    rings: Sequence[Outline] = (site.wood, *site.holes)
    wood = [edge for ring in rings for edge in ring.edges]
    work = [edge for one in site.works for edge in site.lines_of(one)]
    inner = [piece for piece in parted(work, site.wood.edges) if site.wood.contains(piece.point_at(0.5), ON_SCREEN)]
    for where, edges, layers in (
        ("outline", wood, [OUTSIDE, INSIDE] if cut else [WOOD]),
        ("work", inner, drawn.layers),
        (translated("work of other faces"), site.dashed, drawn.layers),
    ):
        off, at = Lines(drawn.edges(layers)).worst(list(places(edges)))
        if off > ON_SCREEN:
            yield worded("{what} on {face}", what=translated(where), face=site.face), describe_miss(off, at)
    yield from _strays(site, drawn, [*wood, *work, *site.dashed])


def _strays(site: Site, drawn: Drawn, known: Sequence[Edge]) -> Iterator[tuple[str, str]]:
    lines = Lines(known)
    for layer in drawn.layers:
        if layer in (OUTSIDE, INSIDE, WOOD, HIDDEN) or WORKED.fullmatch(layer):
            pockets = [one.outline for one in site.works if not one.runs_along and WORKED.fullmatch(layer)]
            points = [point for point in places(drawn.edges([layer])) if _inside(site.wood, pockets, point)]
            off, at = lines.worst(points)
            if off > ON_SCREEN and at is not None:
                yield (
                    worded("{what} on {face}", what=layer, face=site.face),
                    worded("a line at ({x:.1f}, {y:.1f}) that the record doesn't have", x=at.x, y=at.y),
                )


def _inside(wood: Outline, pockets: Sequence[Outline], point: Point) -> bool:
    """Whether the point lies in wood, its edge and pockets that others may run into left out."""
    if any(pocket.contains(point, ON_SCREEN) for pocket in pockets):
        return False
    return wood.contains(point, 0.0) and wood.distance(point) > ON_SCREEN


def _cut_list(text: str, record: Record) -> Iterator[Difference]:
    """The page's cut list says number and sizes as the record has them."""
    table = CUT_LIST.search(text)
    rows = {
        unescape(code): [unescape(cell) for cell in CELL.findall(row)]
        for code, row in ROW.findall(table[0] if table else "")
    }
    made = wanted_of(record)
    for part in record["parts"]:
        row = rows.get(part["code"])
        if row is None:
            if made[part["code"]] and any(placed["code"] == part["code"] for placed in record["placed"]):
                yield Difference(PAGE, worded("cut list, {code}", code=part["code"]), translated("isn't listed"))
            continue
        true = [made[part["code"]], *part["size"]]
        said = [_size(cell) for cell in (row[3], *row[5:8])]
        if [part["code"], part["name"], translated(part["wood"])] != [row[1], row[2], row[4]]:
            yield Difference(
                PAGE,
                worded("cut list, {code}", code=part["code"]),
                translated("is called or made otherwise than the record says"),
            )
        if any(abs(value - size) > within for (value, within), size in zip(said, true, strict=True)):
            yield Difference(
                PAGE,
                worded("cut list, {code}", code=part["code"]),
                worded("{names}, the record says {true}", names=", ".join(row[3:]), true=true),
            )


def _size(cell: str) -> tuple[float, float]:
    """A figure in mm, and how far it may be rounded."""
    match = FIGURE.match(re.sub(r"<[^>]*>", "", cell).strip())
    figure, unit = match.groups("") if match else ("", "")
    figure = figure.replace(",", ".")
    within = IN_DECIMALS if unit == "in" and "." in figure else LAST_DIGIT.get(unit, 0.0)
    try:
        return float(sum(map(Fraction, re.split("[ -]", figure)))) * UNITS.get(unit, 1.0), within
    except (ValueError, ArithmeticError):
        return float("inf"), 0.0
