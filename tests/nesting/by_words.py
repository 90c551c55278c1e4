"""A board sawn as its cuts are told: edge at the fence, end at the stop, angle and distance read out of the words;
its picture gives the piece in hand and which way a mitre leans."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import cos, radians, sin

from shapely import Point, Polygon, box

from templategen.drawing.cut_words import cut_words
from templategen.geometry.outline import Outline
from templategen.nesting.stock import Cut
from templategen.packet.lay_out import LaidSheet
from templategen.shop.rough import wider
from templategen.table.assembly import Table
from templategen.work.stock import marks_boards

ROUNDED = {"mm": 0.05, "in": 25.4 / 128}
"""By how much a told distance may be off the true one, mm."""

IN_A_ROW = 6
"""So many told distances follow from each other at most: divisions of the board, an end, a mitre."""

FAR = 1e5
"""Further than any board goes, mm."""

CUT = re.compile(
    r"cuts? (?P<first>\d+)(?: to (?P<last>\d+))?: (?P<kind>rip|crosscut|mitre)"
    r"(?:, (?P<angle>[\d.]+)° off square \(gauge (?P<gauge>[\d.]+)°\))?"
    r"(?:, (?P<edge>lower|upper) edge to the fence)?"
    r"(?:, (?P<end>left|right) end to the stop)? at (?P<at>.+)$"
)
MARKED = re.compile(
    r"cuts? (?P<first>\d+)(?: to (?P<last>\d+))?: (?P<kind>rip|crosscut|mitre)(?:, (?P<angle>[\d.]+)° off square)?"
    r", (?P<at>[^,]+) from the (?:(?P<end>left|right) end)?(?:, along the )?(?:(?P<edge>lower|upper) edge)?$"
)
"""The same where lines are marked, without fence, stop and gauge."""


@dataclass(frozen=True)
class Told:
    """One cut as its words say it."""

    kind: str
    at: float
    angle: float = 0.0
    edge: str = ""
    end: str = ""


def told_cuts(words: Sequence[str]) -> dict[int, Told]:
    """What each number is told to be."""
    found = {}
    for line in words:
        match = CUT.match(line) or MARKED.match(line)
        assert match, line
        angle, gauge = float(match["angle"] or 0), match.groupdict().get("gauge")
        assert not gauge or abs(angle + float(gauge) - 90) < 2e-3, line
        told = Told(match["kind"], length(match["at"]), angle, match["edge"] or "", match["end"] or "")
        for number in range(int(match["first"]), int(match["last"] or match["first"]) + 1):
            found[number] = told
    return found


def length(text: str) -> float:
    """A told length, mm: `84 mm`, `16-49/64 in`."""
    number, unit = text.split()
    return float(sum(map(Fraction, number.split("-")))) * {"mm": 1.0, "in": 25.4}[unit]


def half_plane(x: float, y: float, out: tuple[float, float]) -> Polygon:
    """All that lies behind a line through a spot, square to `out`."""
    (u, v), (a, b) = out, (-out[1], out[0])
    corners = ((a, b), (-a, -b), (-a - 2 * u, -b - 2 * v), (a - 2 * u, b - 2 * v))
    return Polygon([(x + dx * FAR, y + dy * FAR) for dx, dy in corners])


def sawn_by_words(
    size: tuple[float, float], cuts: Sequence[Cut], told: Mapping[int, Told], kerf: float, slack: float
) -> tuple[list[Polygon], list[str]]:
    """The pieces after all cuts, and what no saw could do as told."""
    wood, wrong = [box(0, 0, *size)], []
    for cut in cuts:
        held = next((piece for piece in wood if piece.contains(Point(cut.through))), None)
        if held is None:
            wrong.append(f"cut {cut.number} finds no piece")
            continue
        one = told[cut.number]
        (x, y), out = _near_face(held, cut, one)
        if one.kind == "mitre" and not _meets(held, (x, y), slack):
            wrong.append(f"cut {cut.number} is told where the edge at the fence isn't: {one}")
        near = held.intersection(half_plane(x, y, out))
        far = held.difference(half_plane(x + out[0] * kerf, y + out[1] * kerf, out))
        if held.area - near.area < 1e-3:
            wrong.append(f"cut {cut.number} meets no wood")
        wood.remove(held)
        wood += [part for half in (near, far) for part in getattr(half, "geoms", (half,)) if part.area > 1]
    return wood, wrong


def _near_face(held: Polygon, cut: Cut, one: Told) -> tuple[tuple[float, float], tuple[float, float]]:
    """A spot of the near side of the kerf, and the way from there into the kerf."""
    left, low, right, high = held.bounds
    if one.kind == "rip":
        return ((left, low + one.at), (0.0, 1.0)) if one.edge == "lower" else ((left, high - one.at), (0.0, -1.0))
    way = 1.0 if one.end == "left" else -1.0
    x = left + one.at if way > 0 else right - one.at
    leans = 1.0 if cut.angle > 0 else -1.0
    lean = leans * radians(one.angle)
    return (x, high if one.edge == "upper" else low), (way * cos(lean), -way * sin(lean))


def _meets(held: Polygon, spot: tuple[float, float], slack: float) -> bool:
    """Whether wood lies at the fence there."""
    x, y = spot
    return bool(held.boundary.intersection(box(x - slack, y - 1e-6, x + slack, y + 1e-6)).length > 1e-6)


def faults_by_words(one: LaidSheet, table: Table) -> Iterator[str]:
    """What a maker who saws a board as told finds wrong: cuts that can't be made so, blanks that lack wood of what is
    laid out, or of the finished piece with what is planed and sawn off it, and waste left past a blank's sizes."""
    if not one.cuts:
        return
    profile, piece = table.profile, one.sheet.piece
    items, parts = {item.code: item for item in one.supply.items}, {part.code: part for part in table.parts}
    where, slack = f"{piece.name} {one.sheet.number}", ROUNDED[profile.units] * IN_A_ROW
    told = told_cuts(cut_words(one.cuts, one.settings, profile.units, marks_boards(profile.shop.machines)))
    kerf = piece.apart(one.supply.spacing)
    wood, wrong = sawn_by_words((piece.length, piece.width), one.cuts, told, kerf, slack)
    yield from (f"{where}: {text}" for text in wrong)
    for laid in one.sheet.laid:
        wanted = flat(laid.placement.outline(items[laid.code].outline))
        found = max(wood, key=lambda rest, wanted=wanted: wanted.intersection(rest).area)
        if not wanted.difference(found).buffer(-slack / 2, join_style="mitre").is_empty:
            yield f"{where}: {laid.code} lacks {wanted.difference(found).area:.0f} mm2"
        if not wanted.envelope.buffer(slack, join_style="mitre").covers(found):
            yield f"{where}: {laid.code} keeps waste: {found.bounds} for {wanted.bounds}"
        if laid.code in parts and items[laid.code].pieces == items[laid.code].layers:
            allowed = min(profile.shop.longer, wider(profile.shop, parts[laid.code].size[0])) / 2 - slack
            blank = flat(laid.placement.outline(parts[laid.code].blank))
            if not found.covers(blank.buffer(max(0.0, allowed), join_style="mitre")):
                yield f"{where}: {laid.code} hasn't its allowance"


def flat(outline: Outline) -> Polygon:
    """What the saw frees of an outline: its hull."""
    points = [edge.point_at(step / 16) for edge in outline.edges for step in range(16)]
    hull = Polygon([(point.x, point.y) for point in points]).convex_hull
    return hull if not any(vertex.bulge for vertex in outline) else hull.envelope
