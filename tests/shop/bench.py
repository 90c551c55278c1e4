"""A bench that does just what set-ups say: it saws, grooves and bores bars by their figures and knows no part.

Frame: a bar lies along x, its low edge on y = 0, its bottom on z = 0. A piece is a pile of layers, each a shapely
shape between two heights. Only figures and lays are read; what a part should be comes in last, in `differences`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import acos, cos, hypot, pi, radians, sin
from typing import Any

from shapely import affinity
from shapely.geometry import LineString, Polygon, box
from shapely.ops import unary_union

from templategen.geometry.refine import fine_polyline
from templategen.parts.part import Part
from templategen.shop.set_ups.set_up import Cut, Lay, SetUp, Side

FAR = 9000.0
ROUGH = 4000.0
EXACT = 1e-6
THIN = 1e-4
SAGITTA = 4e-4
"""How far chords may leave their arcs, mm."""

HAIR = 0.005
"""Half of the hundredth of a millimetre to which piece and part must agree."""

OVER: dict[str, Side] = {"top": "bottom", "bottom": "top", "low": "high", "high": "low"}


class Misfit(Exception):  # noqa: N818 - the trade's word
    """Figures of one set-up that contradict each other."""


@dataclass
class Shaped:
    """An arris that a bit takes: the strip of the face, the bit's size."""

    kind: str
    face: str
    strip: Any
    size: float


@dataclass
class Piece:
    """A bar on its way to being a part. `blank` is what it was when its ends were sawn, `lengths` what it measured
    after each square cut to a stop."""

    thickness: float = 0.0
    width: float = 0.0
    layers: list[tuple[float, float, Any]] = field(default_factory=list)
    lines: dict[str, tuple[tuple[float, float], tuple[float, float]]] = field(default_factory=dict)
    shaped: list[Shaped] = field(default_factory=list)
    circle: tuple[float, float, float] | None = None
    blank: Any = None
    lengths: list[float] = field(default_factory=list)
    before: Sequence[SetUp] = ()

    @property
    def plan(self) -> Any:
        """All of it, seen from above."""
        return unary_union([shape for _, _, shape in self.layers])

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Its extents, seen from above."""
        return _around(shape for _, _, shape in self.layers)

    def take(self, shape: Any, low: float | None = None, high: float | None = None) -> None:
        """Removes a shape between two heights, or right through."""
        low, high = 0.0 if low is None else low, self.thickness if high is None else high
        kept = []
        for z0, z1, old in self.layers:
            cuts = sorted({z0, z1, *(z for z in (low, high) if z0 < z < z1)})
            for a, b in pairwise(cuts):
                inside = low - 1e-12 <= a and b <= high + 1e-12
                kept.append((a, b, old.difference(shape) if inside else old))
        self.layers = kept

    def surface(self, face: str) -> Any:
        """What is left of the face itself."""
        at = max(self.layers, key=lambda one: one[1]) if face == "top" else min(self.layers, key=lambda one: one[0])
        return at[2]

    def along_edge(self, edge: str) -> tuple[float, float]:
        """Where an edge of the bar starts and ends."""
        y = EXACT if edge == "low" else self.width - EXACT
        line = LineString([(-FAR, y), (FAR, y)])
        left, _, right, _ = _around(shape.intersection(line) for _, _, shape in self.layers)
        return left, right


def _around(shapes: Iterable[Any]) -> tuple[float, float, float, float]:
    boxes = [shape.bounds for shape in shapes if not shape.is_empty]
    if not boxes:
        raise Misfit("nothing is left there")
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def made(set_ups: Sequence[SetUp], code: str) -> Piece:
    """The piece that comes of doing every set-up in turn for one part."""
    piece = Piece()
    for place, set_up in enumerate(set_ups):
        piece.before = set_ups[:place]
        for cut in set_up.cuts:
            for lay in cut.lays:
                if lay.code == code:
                    WORK[set_up.operation](piece, set_up, cut, lay)
    return piece


def _plane(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    piece.thickness = set_up.value("height")


def _rip(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    piece.width = set_up.value("fence")
    piece.layers = [(0.0, piece.thickness, box(-ROUGH, 0, ROUGH, piece.width))]


def _lean(set_up: SetUp, cut: Cut) -> float:
    """The angle off square; saw and gauge must say the same."""
    angle, gauge = set_up.value("angle", cut), set_up.value("gauge", cut)
    if abs(angle + gauge - 90) > EXACT:
        raise Misfit("saw and gauge")
    return radians(90 - gauge)


def _turned_right(lay: Lay, lean: float, end: str) -> None:
    """The gauge stands one way; a piece that lies otherwise says that it is swung."""
    as_it_stands = (lay.up == "top") == ((end == "right") == (lay.against == "low"))
    if lean > EXACT and lay.swung == as_it_stands:
        raise Misfit("the piece lies the wrong way round for the gauge")


def _saw_off(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    """Off goes all past a line that leans to the stop, the further from the fence the more."""
    lean, end = _lean(set_up, cut), lay.worked.split("-")[0]
    _turned_right(lay, lean, end)
    way = 1.0 if end == "right" else -1.0
    fence = 0.0 if lay.against == "low" else piece.width
    if lay.stop_at:
        bounds = piece.bounds
        if lay.stop_at == end:
            raise Misfit("the stop is at the end that is cut")
        x = (bounds[0] if way > 0 else bounds[2]) + way * set_up.value("stop", cut)
    else:
        x = 0.0
    in_y = 1.0 if lay.against == "low" else -1.0
    normal = (-way * cos(lean), -in_y * sin(lean))
    piece.lines[lay.worked] = ((x, fence), normal)
    piece.take(_half_plane((x, fence), (-normal[0], -normal[1])))
    piece.blank = piece.plan
    if lay.stop_at and set_up.operation == "crosscut":
        piece.lengths.append(piece.bounds[2] - piece.bounds[0])


def _half_plane(point: tuple[float, float], towards: tuple[float, float]) -> Any:
    (x, y), (nx, ny) = point, towards
    a, b = (x - ny * FAR, y + nx * FAR), (x + ny * FAR, y - nx * FAR)
    return Polygon([a, b, (b[0] + nx * FAR, b[1] + ny * FAR), (a[0] + nx * FAR, a[1] + ny * FAR)])


def _offsets(set_up: SetUp, cut: Cut, along: float = 1.0) -> list[float]:
    """Where each pass begins, square to the cut; `along` turns what is moved along a fence into that."""
    count = round(set_up.value("passes", cut))
    if count < 1 or (count > 1 and set_up.setting("step", cut) is None):
        raise Misfit("no pass, or no step between passes")
    step = set_up.value("step", cut) * along if count > 1 else 0.0
    return [number * step for number in range(count)]


def _passed(set_up: SetUp, cut: Cut, along: float = 1.0) -> float:
    """The width that all passes clear, which must leave nothing between them and be as told."""
    cutter, offsets = set_up.value("cutter", cut), _offsets(set_up, cut, along)
    if any(b - a > cutter + EXACT for a, b in pairwise(offsets)):
        raise Misfit("wood between passes")
    width = offsets[-1] + cutter
    if abs(width - set_up.value("width", cut)) > EXACT:
        raise Misfit("the passes don't come to the width")
    return width


def _lap(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    lean, far = _lean(set_up, cut), "right" if lay.stop_at == "left" else "left"
    _turned_right(lay, lean, far)
    _face_down(lay)
    way = 1.0 if lay.stop_at == "left" else -1.0
    x0, x1 = piece.along_edge(lay.against)
    x = (x0 if way > 0 else x1) + way * set_up.value("stop", cut)
    fence, in_y = (0.0, 1.0) if lay.against == "low" else (piece.width, -1.0)
    outwards = (way * cos(lean), in_y * sin(lean))
    width = _passed(set_up, cut, cos(lean))
    near = _half_plane((x, fence), outwards)
    past = _half_plane((x + outwards[0] * width, fence + outwards[1] * width), outwards)
    piece.take(near.difference(past), *_heights(piece, lay, _depth(set_up, cut)))


def _depth(set_up: SetUp, cut: Cut) -> float:
    """How deep all levels go, which must be as told."""
    depth, levels = set_up.value("height", cut), set_up.setting("levels", cut)
    deepen = set_up.setting("deepen", cut)
    count = round(levels.figure.value) if levels else 1
    if count < 1 or (deepen is None) != (count == 1):
        raise Misfit("levels without a depth for each, or one level with")
    if deepen and abs(count * deepen.figure.value - depth) > EXACT:
        raise Misfit("the levels don't come to the depth")
    return depth


def _heights(piece: Piece, lay: Lay, depth: float) -> tuple[float, float]:
    return (piece.thickness - depth, piece.thickness) if lay.worked == "top" else (0.0, depth)


def _face_down(lay: Lay) -> None:
    if lay.up != OVER.get(lay.worked, {"left": "right", "right": "left"}.get(lay.worked, "")):
        raise Misfit("the worked face isn't at the cutter")


def _between_cheeks(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> tuple[float, float]:
    """The heights that a groove takes, told from the face at the fence."""
    fence, width = set_up.value("fence", cut), _passed(set_up, cut)
    if lay.against == "top":
        return piece.thickness - fence - width, piece.thickness - fence
    return fence, fence + width


def _groove(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    _face_down(lay)
    x0, _, x1, _ = piece.bounds
    way, origin = (-1.0, x1) if lay.stop_at == "right" else (1.0, x0)
    spots = sorted(origin + way * at for at in _stops(set_up, cut))
    depth = _depth(set_up, cut)
    y = (0.0, depth) if lay.worked == "low" else (piece.width - depth, piece.width)
    piece.take(box(spots[0], y[0], spots[1], y[1]), *_between_cheeks(piece, set_up, cut, lay))


def _stops(set_up: SetUp, cut: Cut) -> tuple[float, float]:
    start, end = set_up.setting("start", cut), set_up.setting("end", cut)
    return (start.figure.value if start else -ROUGH), (end.figure.value if end else ROUGH)


def _slot(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    """In an end, told along it from where a stop touches the piece as it stands."""
    _face_down(lay)
    (x, y), (nx, ny) = piece.lines[lay.worked]
    up = (-ny, nx) if nx > 0 else (ny, -nx)
    way = 1.0 if lay.stop_at == "high" else -1.0
    touch = max(way * (px * up[0] + py * up[1]) for px, py in _corners(piece.plan)) - way * (x * up[0] + y * up[1])
    depth, (start, end) = _depth(set_up, cut), _stops(set_up, cut)
    near, far = (way * (touch - at) for at in (start, end))
    foot, top = ((x + up[0] * at, y + up[1] * at) for at in sorted((near, far)))
    spots = [foot, top, (top[0] + nx * depth, top[1] + ny * depth), (foot[0] + nx * depth, foot[1] + ny * depth)]
    back = [(p[0] - nx * 2 * i, p[1] - ny * 2 * i) for p, i in zip(spots, (1, 1, 0, 0), strict=True)]
    piece.take(Polygon(back), *_between_cheeks(piece, set_up, cut, lay))


def _corners(shape: Any) -> list[tuple[float, float]]:
    return list(shape.convex_hull.exterior.coords)


def _rebate(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    """From the end in to the shoulder; passes after the first go towards the end and must reach it."""
    _face_down(lay)
    length, cutter, offsets = set_up.value("fence", cut), set_up.value("cutter", cut), _offsets(set_up, cut)
    if any(b - a > cutter + EXACT for a, b in pairwise(offsets)):
        raise Misfit("wood between passes")
    left = length - offsets[-1] - cutter
    if left > EXACT or (left < -EXACT and len(offsets) > 1):
        raise Misfit("the passes don't end at the end")
    (x, y), (nx, ny) = piece.lines[lay.against]
    inner = _half_plane((x + nx * length, y + ny * length), (-nx, -ny))
    piece.take(inner, *_heights(piece, lay, _depth(set_up, cut)))


def _nib(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    """As far as the rebates beside it, all past a line told from the far end's point."""
    lean, end = _lean(set_up, cut), "right" if lay.stop_at == "left" else "left"
    _face_down(lay)
    _turned_right(lay, lean, end)
    way, bounds = (1.0 if end == "right" else -1.0), piece.bounds
    fence, in_y = (0.0, 1.0) if lay.against == "low" else (piece.width, -1.0)
    x = (bounds[0] if way > 0 else bounds[2]) + way * set_up.value("stop", cut)
    past = _half_plane((x, fence), (way * cos(lean), in_y * sin(lean)))
    piece.take(past, *_heights(piece, lay, set_up.value("height", cut)))


def _shoulder(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    """A corner: back from the end, in from the edge along the shoulder, right through."""
    _face_down(lay)
    (x, y), (nx, ny) = piece.lines[lay.against]
    leaned = set_up.setting("angle", cut)
    lean = radians(leaned.figure.value) if leaned else 0.0
    if abs(abs(ny) - sin(lean)) > EXACT:
        raise Misfit("the shoulder doesn't lie along the end")
    length, margin = set_up.value("fence", cut), set_up.value("height", cut)
    up = (-ny, nx) if nx > 0 else (ny, -nx)
    on = (x + nx * length, y + ny * length)
    edge = 0.0 if lay.worked == "low" else piece.width
    way = 1.0 if lay.worked == "low" else -1.0
    foot = (on[0] + up[0] * (edge - on[1]) / up[1], edge)
    cheek = (foot[0] + way * up[0] * margin, foot[1] + way * up[1] * margin)
    past_shoulder = _half_plane(on, (-nx, -ny))
    piece.take(past_shoulder.intersection(_half_plane(cheek, (-way * up[0], -way * up[1]))))


def _mortise(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    if lay.up != lay.worked:
        raise Misfit("the worked face lies down")
    x0, _, x1, _ = piece.bounds
    stop, length = set_up.value("stop", cut), set_up.value("length", cut)
    left = x0 + stop if lay.stop_at == "left" else x1 - stop - length
    low = set_up.value("edge", cut)
    shape = box(left, low, left + length, low + set_up.value("width", cut))
    piece.take(shape, *_heights(piece, lay, set_up.value("height", cut)))


def _bore(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    x0 = piece.bounds[0]
    piece.take(_disc(x0 + set_up.value("stop", cut), set_up.value("edge", cut), set_up.value("width", cut) / 2))


def _disc(x: float, y: float, radius: float) -> Any:
    turns = int(2 * pi / _chord(radius)) + 1
    return Polygon([_on_circle(x, y, radius, 2 * pi * number / turns) for number in range(turns)])


def _outside(x: float, y: float, radius: float, around: tuple[float, float, float, float]) -> Any:
    """What of the box lies above a circle whose middle is below it, chords only where the box is."""
    left, low, right, high = around[0] - 1, around[1] - 1, around[2] + 1, around[3] + 1
    start, end = (acos((to - x) / radius) for to in (right, left))
    steps = int((end - start) / _chord(radius)) + 1
    arc = [_on_circle(x, y, radius, start + (end - start) * number / steps) for number in range(steps + 1)]
    above = Polygon([*arc, (left, high + radius), (right, high + radius)])
    return above.intersection(box(left, low, right, high))


def _chord(radius: float) -> float:
    """The turn of a chord that leaves its arc by the sagitta."""
    return float((8 * SAGITTA / radius) ** 0.5)


def _on_circle(x: float, y: float, radius: float, turn: float) -> tuple[float, float]:
    return x + radius * cos(turn), y + radius * sin(turn)


def _relief(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    x0, _, x1, _ = piece.bounds
    foot = set_up.value("stop", cut)
    piece.take(box(x0 + foot, -1, x1 - foot, piece.width + 1), 0.0, piece.thickness - set_up.value("fence", cut))


def _round_corner(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    x0, _, x1, _ = piece.bounds
    radius = set_up.value("radius", cut)
    x, way_x = (x0, 1) if lay.worked == "left" else (x1, -1)
    y, way_y = (0.0, 1) if lay.against == "low" else (piece.width, -1)
    centre = (x + way_x * radius, y + way_y * radius)
    piece.take(box(*sorted_box((x, y), centre)).difference(_disc(*centre, radius)))


def sorted_box(one: Sequence[float], other: Sequence[float]) -> tuple[float, float, float, float]:
    """The box between two corners."""
    return min(one[0], other[0]), min(one[1], other[1]), max(one[0], other[0]), max(one[1], other[1])


def _ease(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    if lay.up != lay.worked:
        raise Misfit("the worked face lies down")
    face, size = piece.surface(lay.worked), set_up.value("radius", cut)
    if piece.circle and lay.against == "high":
        x, y, radius = piece.circle
        strip = face.intersection(_outside(x, y, radius - size, face.bounds))
    else:
        x0, y0, x1, y1 = face.bounds
        strip = face.intersection(
            box(x0 - 1, y0, x1 + 1, y0 + size) if lay.against == "low" else box(x0 - 1, y1 - size, x1 + 1, y1)
        )
    kind = "chamfer" if set_up.operation == "chamfer" else "round-over"
    piece.shaped.append(Shaped(kind, lay.worked, strip, size))


def _saw_round(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    """The blade's middle runs a circle about the pivot; its near face leaves the disc."""
    radius = set_up.value("radius", cut)
    if set_up.setting("middle", cut):
        radius = set_up.value("middle", cut) - set_up.value("kerf", cut) / 2
    if abs(radius - set_up.value("radius", cut)) > EXACT:
        raise Misfit("near face and middle of the kerf")
    x0, x1 = piece.along_edge("low")
    centre = ((x0 + x1) / 2, -_from_pivot(piece, set_up, cut))
    piece.circle = (*centre, radius)
    piece.take(_outside(*centre, radius, piece.bounds))


def _from_pivot(piece: Piece, set_up: SetUp, cut: Cut) -> float:
    """From the pivot to a piece's inner edge; to a spline's through the corner of the ring that it is glued in."""
    inset = set_up.setting("inset", cut)
    if inset is None:
        return set_up.value("pivot", cut)
    ring = next(one for one in set_up.cuts if set_up.setting("pivot", one))
    segment = made(piece.before, ring.codes[0])
    left, right = segment.along_edge("low")
    return hypot(set_up.value("pivot", ring), (right - left) / 2) + inset.figure.value


def _trim(piece: Piece, set_up: SetUp, cut: Cut, lay: Lay) -> None:
    x0, _, x1, _ = piece.bounds
    tip, lean = ((x0 + x1) / 2, set_up.value("length", cut)), radians(set_up.value("angle", cut))
    for way in (1, -1):
        piece.take(_half_plane(tip, (way * sin(lean), cos(lean))))


WORK = {
    "plane": _plane, "rip": _rip, "crosscut": _saw_off, "mitre": _saw_off, "lap": _lap, "groove": _groove,
    "spline slot": _slot, "rebate": _rebate, "nib": _nib, "shoulder": _shoulder, "mortise": _mortise, "bore": _bore,
    "relief": _relief, "round corner": _round_corner, "round-over": _ease, "chamfer": _ease, "saw round": _saw_round,
    "trim": _trim, "edge round-over": _ease,
}  # fmt: skip


def differences(piece: Piece, part: Part) -> Iterator[str]:
    """Where the piece isn't the part, told once for each place; none when all agrees within a hundredth."""
    if abs(piece.thickness - part.thickness) > EXACT:
        yield "thickness"
        return
    wanted = _layers_of(part)
    plan = unary_union([shape for _, _, shape in wanted])
    found = piece.plan
    if found.is_empty:
        yield "nothing is left"
        return
    dx, dy = plan.bounds[0] - found.bounds[0], plan.bounds[1] - found.bounds[1]
    yield from _blank_differences(piece, part)
    laid = [(a, b, affinity.translate(shape, dx, dy)) for a, b, shape in piece.layers]
    for z0, z1 in _slabs((*laid, *wanted)):
        one, other = _at(laid, (z0 + z1) / 2), _at(wanted, (z0 + z1) / 2)
        if differ(one, other):
            yield f"between {z0:.3f} and {z1:.3f}"
    yield from _shaped_differences(
        [Shaped(s.kind, s.face, affinity.translate(s.strip, dx, dy), s.size) for s in piece.shaped], part
    )


def _blank_differences(piece: Piece, part: Part) -> Iterator[str]:
    """Whether ends were cut to the cut list's length; raked legs' blanks are square bars as long as their points."""
    if any(abs(length - part.blank.bounds.width) > 2 * HAIR for length in piece.lengths):
        yield "length"
    box_ = piece.blank.bounds
    if abs(box_[2] - box_[0] - part.blank.bounds.width) > 2 * HAIR:
        yield "length from point to point"
    low = part.blank.bounds
    moved = affinity.translate(piece.blank, low.left - box_[0], low.bottom - box_[1])
    if part.kind != "leg" and differ(moved, _shape(part.blank)):
        yield "blank"


def differ(one: Any, other: Any) -> bool:
    """Whether two shapes are apart by more than a hundredth of a millimetre anywhere, or in area by what no hair of
    their outlines explains."""
    apart = one.symmetric_difference(other)
    if apart.area < HAIR * HAIR:
        return False
    if not apart.buffer(-HAIR, join_style="mitre").is_empty:
        return True
    return bool(abs(one.area - other.area) > 2e-4 * (one.length + 1))


def _slabs(layers: Iterable[tuple[float, float, Any]]) -> Iterator[tuple[float, float]]:
    heights = sorted({round(z, 7) for a, b, _ in layers for z in (a, b)})
    for z0, z1 in pairwise(heights):
        if z1 - z0 > THIN:
            yield z0, z1


def _at(layers: Iterable[tuple[float, float, Any]], z: float) -> Any:
    found = [shape for a, b, shape in layers if a < z < b]
    return found[0] if len(found) == 1 else unary_union(found)


_KNOWN: dict[int, tuple[Part, list[tuple[float, float, Any]]]] = {}
"""Layers of parts met before, and the parts themselves, so that their ids stay theirs."""


def _layers_of(part: Part) -> list[tuple[float, float, Any]]:
    """The finished part as layers, made once."""
    if id(part) not in _KNOWN:
        _KNOWN[id(part)] = (part, _layers(part))
    return _KNOWN[id(part)][1]


def _layers(part: Part) -> list[tuple[float, float, Any]]:
    """The finished part as layers, from its outline, holes and features; arrises left sharp."""
    body = _shape(part.outline).difference(unary_union([_shape(hole) for hole in part.holes]))
    whole = Piece(part.thickness, 0, [(0.0, part.thickness, body)])
    for feature in part.features:
        if feature.kind in ("round-over", "chamfer", "hole"):
            continue
        if feature.face in ("top", "bottom"):
            depth = feature.depth
            span = (part.thickness - depth, part.thickness) if feature.face == "top" else (0.0, depth)
            whole.take(_seen(feature.outline, feature.face), *span)
            continue
        face, cut = part.face(feature.face), feature.outline.bounds
        ring_ = [(cut.left, -1.0), (cut.right, -1.0), (cut.right, feature.depth), (cut.left, feature.depth)]
        spots = [face.point(u, 0, depth) for u, depth in ring_]
        whole.take(Polygon([(spot.x, spot.y) for spot in spots]), cut.bottom, cut.top)
    return whole.layers


def _shape(outline: Any) -> Any:
    return Polygon(fine_polyline(outline, SAGITTA))


def _seen(outline: Any, face: str) -> Any:
    shape = _shape(outline)
    return affinity.scale(shape, -1, 1, origin=(0, 0)) if face == "bottom" else shape


def _shaped_differences(shaped: Sequence[Shaped], part: Part) -> Iterator[str]:
    wanted = [
        Shaped(f.kind, f.face, _seen(f.outline, f.face), f.depth)
        for f in part.features
        if f.kind in ("round-over", "chamfer")
    ]
    for want in wanted:
        if not any(_same(want, found) for found in shaped):
            yield f"{want.kind} of the {want.face}"
    if len(shaped) != len(wanted):
        yield "arrises"


def _same(one: Shaped, other: Shaped) -> bool:
    return (
        (one.kind, one.face) == (other.kind, other.face)
        and abs(one.size - other.size) < EXACT
        and not differ(one.strip, other.strip)
    )
