"""Random jobs for the nesting tests, and a check of layouts written another way than the package's."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from math import atan2, cos, hypot, pi, sin, tan
from random import Random

from shapely import Point as Spot
from shapely import Polygon, affinity, box

from templategen.errors import Fault
from templategen.geometry.outline import Outline, circle, polygon, rectangle
from templategen.geometry.point import Vertex
from templategen.nesting.engines.rectangles import Rectangles
from templategen.nesting.nest import sawn
from templategen.nesting.stock import Item, Layout, Piece
from templategen.nesting.verify import verify


def trapezoid(length: float, width: float, mitre: float) -> Outline:
    """A mitred blank: its ends lean in by `mitre` mm each."""
    return polygon(((0, 0), (length, 0), (length - mitre, width), (mitre, width)))


def crescent(inner: float, outer: float, sweep: float) -> Outline:
    """A segment of a ring, with a bulging and a hollow arc."""
    bulge, half = tan(sweep / 4), sweep / 2
    ends = [(r * cos(a), r * sin(a)) for r, a in ((inner, half), (inner, -half), (outer, -half), (outer, half))]
    bulges = (-bulge, 0.0, bulge, 0.0)
    return Outline(tuple(Vertex(x, y, b) for (x, y), b in zip(ends, bulges, strict=True)))


def random_outline(dice: Random) -> Outline:
    """A blank such as tables are made of."""
    length, width = dice.uniform(60, 700), dice.uniform(20, 120)
    shapes = (
        lambda: rectangle(0, 0, length, width),
        lambda: trapezoid(length, width, min(length / 3, width * dice.choice((0.414, 0.577, 1.0)))),
        lambda: circle(dice.uniform(-50, 50), 10, dice.uniform(15, 60)),
        lambda: crescent(200, 200 + width, pi / 4),
        lambda: polygon(((0, 0), (length, 0), (length, width / 2), (length / 2, width / 2), (0, width))),
    )
    return dice.choice(shapes)()


def random_job(seed: int) -> tuple[list[Item], list[Piece], float]:
    """Items, pieces and a kerf."""
    dice = Random(seed)
    items = []
    for number in range(dice.randint(1, 7)):
        turn = dice.choice((0.0, 0.0, pi / 2, pi / 8))
        items.append(Item(f"P{number}", random_outline(dice), dice.randint(1, 6), turn, dice.random() < 0.3))
    pieces = []
    for number in range(dice.randint(1, 3)):
        length, width = dice.uniform(500, 2400), dice.uniform(90, 300)
        faults = tuple(
            (dice.uniform(-20, length + 20), dice.uniform(0, width), dice.uniform(1, 80))
            for _ in range(dice.choice((0, 0, 1, 3)))
        )
        count = dice.choice((None, 1, 3))
        price = dice.choice((0.0, 12.5))
        margin = dice.choice((0.0, 5.0))
        grain = dice.random() < 0.7
        areas = tuple(
            (dice.uniform(-20, length), dice.uniform(0, width), dice.uniform(1, 200), dice.uniform(1, 60))
            for _ in range(dice.choice((0, 0, 0, 1, 2)))
        )
        ends = dice.choice(((0.0, 0.0), (0.0, 0.0), (80.0, 0.0), (3.0, 120.0)))
        mode = dice.choice(("sawn", "routed"))
        pieces.append(Piece(f"B{number}", length, width, count, price, faults, margin, grain, areas, ends, mode))
    spacing = dice.choice((0.0, 1.0, 3.2))
    return items, [replace(piece, mode="routed") for piece in pieces] if spacing == 0 else pieces, spacing


def random_workshop(seed: int) -> tuple[list[Item], list[Piece], float]:
    """The same with edges trimmed each by its own, stock that is sawn and routed side by side with the kerf
    of each."""
    items, pieces, _ = random_job(seed)
    dice = Random(-seed - 1)
    kerf, bit = dice.choice(((3.0, 8.0), (3.2, 6.0), (8.0, 4.0)))
    told = []
    for piece in pieces:
        margin = dice.choice((piece.margin, tuple(dice.choice((0.0, 2.0, 12.5)) for _ in range(4))))
        own = kerf if piece.mode == "sawn" else bit
        told.append(replace(piece, margin=margin, spacing=0.0 if own == max(kerf, bit) else own))
    return items, told, max(kerf, bit)


def soon(items: Sequence[Item], pieces: Sequence[Piece], spacing: float, seconds: float = 0.02) -> Layout:
    """A layout by a few dozen fillings of our own engine, the same each time; not proved yet."""
    return Rectangles().nest(items, pieces, spacing, seconds)


def proved(layout: Layout, items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> tuple[Fault, ...]:
    """Everything that is wrong with a layout, the sawing of sawn pieces included; empty when it may be cut."""
    found = verify(layout, items, pieces, spacing)
    return found or tuple(fault for told in sawn(layout, items, spacing)[1].values() for fault in told)


def flat(outline: Outline, steps: int = 180) -> Polygon:
    """The outline as a polygon of points on it, arcs by the formula of the bulge."""
    ring: list[tuple[float, float]] = []
    corners = outline.vertices
    for first, last in zip(corners, corners[1:] + corners[:1], strict=True):
        ring.append((first.x, first.y))
        if first.bulge:
            chord, b = hypot(last.x - first.x, last.y - first.y), first.bulge
            rise = (1 - b * b) / (4 * b)
            x = (first.x + last.x) / 2 - (last.y - first.y) * rise
            y = (first.y + last.y) / 2 + (last.x - first.x) * rise
            radius, start, sweep = chord * (1 + b * b) / (4 * abs(b)), atan2(first.y - y, first.x - x), 0.0
            for step in range(1, steps):
                sweep = 4 * atan2(b, 1) * step / steps
                ring.append((x + radius * cos(start + sweep), y + radius * sin(start + sweep)))
    return Polygon(ring)


def wrongs(layout: Layout, items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> list[str]:
    """What is wrong with a layout, by polygons moved with another library."""
    known = {item.code: item for item in items}
    said = []
    seen = Counter(layout.unplaced)
    for sheet in layout.sheets:
        shapes = []
        margin = sheet.piece.margin
        left, right, bottom, top = margin if isinstance(margin, tuple) else (margin,) * 4
        start, end = sheet.piece.bad_ends
        room = box(left, bottom, sheet.piece.length - right, sheet.piece.width - top)
        room &= box(start, 0, sheet.piece.length - end, sheet.piece.width)
        room = room.buffer(1e-5, join_style="mitre")
        for laid in sheet.laid:
            seen[laid.code] += 1
            at, item = laid.placement, known[laid.code]
            shape = flat(item.outline)
            if at.turned_over:
                shape = affinity.scale(shape, -1, 1, origin=(0, 0))
                said += [] if item.may_turn_over else ["turned over"]
            shape = affinity.translate(affinity.rotate(shape, at.turn, (0, 0), use_radians=True), at.x, at.y)
            fibre = affinity.rotate(Spot(1, 0), -item.grain_turn, (0, 0), use_radians=True)
            if at.turned_over:
                fibre = Spot(-fibre.x, fibre.y)
            fibre = affinity.rotate(fibre, at.turn, (0, 0), use_radians=True)
            said += ["across the grain"] if sheet.piece.grain and abs(fibre.y) > 1e-9 else []
            said += [] if room.covers(shape) else ["over the margin"]
            for x, y, d in sheet.piece.defects:
                said += ["over a knot"] if shape.distance(Spot(x, y)) < d / 2 - 1e-5 else []
            for x, y, length, width in sheet.piece.defect_areas:
                said += ["over a fault"] if shape.intersection(box(x, y, x + length, y + width)).area > 1e-2 else []
            shapes.append(shape)
        for i, one in enumerate(shapes):
            for other in shapes[:i]:
                near = one.distance(other) < (sheet.piece.spacing or spacing) - 1e-5
                said += ["too near"] if near or one.intersection(other).area > 1e-2 else []
    said += ["counts"] if {c: n for c, n in seen.items() if n} != {i.code: i.count for i in items} else []
    for piece in pieces:
        used = sum(sheet.piece is piece for sheet in layout.sheets)
        said += ["more than in stock"] if piece.count is not None and used > piece.count else []
    return said
