"""What each operation does to a piece, by the figures and the lay alone."""

from collections.abc import Callable, Mapping
from itertools import pairwise
from math import cos, hypot, radians, sin, tan
from typing import Any

from shapely.geometry import Point, Polygon, box

from templategen.catalogue import translated
from templategen.proof.bench.piece import EXACT, ROUGH, BenchPiece, Shaped, disc, half_plane, outside, sorted_box
from templategen.proof.bench.written import Cut, Lay, Misfit

OVER = {"top": "bottom", "bottom": "top", "low": "high", "high": "low"}


def _plane(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    """The face side is the top, and a planer's bed guides by it."""
    if lay.worked != "bottom":
        raise Misfit(translated("the face side isn't planed to thickness, the other one is"))
    piece.thickness = cut.value("height")


def _rip(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    piece.width = cut.value("fence")
    piece.layers = [(0.0, piece.thickness, box(-ROUGH, 0, ROUGH, piece.width))]


def _lean(cut: Cut) -> float:
    """The angle off square; saw and gauge must say the same."""
    angle, gauge = cut.value("angle"), cut.value("gauge")
    if abs(angle + gauge - 90) > EXACT:
        raise Misfit(translated("saw and gauge"))
    return radians(90 - gauge)


def _turned_right(lay: Lay, lean: float, end: str) -> None:
    """The gauge stands one way; a piece that lies otherwise says that it is swung."""
    as_it_stands = (lay.up == "top") == ((end == "right") == (lay.against == "low"))
    if lean > EXACT and lay.swung == as_it_stands:
        raise Misfit(translated("the piece lies the wrong way round for the gauge"))


def _saw_off(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    """Off goes all past a line that leans to the stop, the further from the fence the more; away from it where it is
    marked on the corner that it takes off."""
    lean, end = _lean(cut), lay.worked.split("-")[0]
    _turned_right(lay, lean, end)
    way = 1.0 if end == "right" else -1.0
    fence = 0.0 if lay.against == "low" else piece.width
    if lay.stop_at:
        bounds = piece.bounds
        if lay.stop_at == end:
            raise Misfit(translated("the stop is at the end that is cut"))
        told = next((name for name in ("length", "beyond") if name in cut.figures), "stop")
        x, lean = (bounds[0] if way > 0 else bounds[2]) + way * cut.value(told), -lean if told == "beyond" else lean
        if lay.over and told != "length" and piece.plan.distance(Point(x, fence)) > EXACT:
            raise Misfit(translated("the line is told where no wood is"))
    else:
        x, piece.apart = 0.0, cut.figures.get("apart", 0.0)
        piece.clean = [(x, fence), (x - way * abs(tan(lean)) * piece.width, piece.width - fence)]
    in_y = 1.0 if lay.against == "low" else -1.0
    normal = (-way * cos(lean), -in_y * sin(lean))
    waste = half_plane((x, fence), (-normal[0], -normal[1]))
    if lay.worked not in piece.lines and piece.plan.intersection(waste).area < EXACT:
        raise Misfit(translated("the saw meets no wood"))
    piece.lines[lay.worked] = ((x, fence), normal)
    piece.sawn.append(normal)
    piece.take(waste)
    piece.blank = piece.plan
    if lay.stop_at and cut.does == "crosscut":
        piece.lengths.append(piece.bounds[2] - piece.bounds[0])


def _offsets(cut: Cut, along: float = 1.0) -> list[float]:
    """Where each pass begins, square to the cut; `along` turns what is moved along a fence into that."""
    count = round(cut.value("passes"))
    if count < 1 or (count > 1 and "step" not in cut.figures):
        raise Misfit(translated("no pass, or no step between passes"))
    step = cut.value("step") * along if count > 1 else 0.0
    return [number * step for number in range(count)]


def _passed(cut: Cut, along: float = 1.0) -> float:
    """The width that all passes clear, which must leave nothing between them and be as told."""
    cutter, offsets = cut.value("cutter"), _offsets(cut, along)
    if any(b - a > cutter + EXACT for a, b in pairwise(offsets)):
        raise Misfit(translated("wood between passes"))
    width = offsets[-1] + cutter
    if abs(width - cut.value("width")) > EXACT:
        raise Misfit(translated("the passes don't come to the width"))
    return width


def _lap(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    """The stop is as wide as the piece: it touches the end itself, of a tenon or between rounded corners."""
    lean, far = _lean(cut), "right" if lay.stop_at == "left" else "left"
    _turned_right(lay, lean, far)
    _face_down(lay)
    way = 1.0 if lay.stop_at == "left" else -1.0
    x0, _, x1, _ = piece.bounds
    x = (x0 if way > 0 else x1) + way * cut.value("stop")
    fence, in_y = (0.0, 1.0) if lay.against == "low" else (piece.width, -1.0)
    outwards = (way * cos(lean), in_y * sin(lean))
    width = _passed(cut, cos(lean))
    near = half_plane((x, fence), outwards)
    past = half_plane((x + outwards[0] * width, fence + outwards[1] * width), outwards)
    piece.take(near.difference(past), *_heights(piece, lay, _lap_depth(piece, cut)))


def _lap_depth(piece: BenchPiece, cut: Cut) -> float:
    """As told, or what the piece as it was planed has over what must stay of it, which must be the same."""
    depth = _depth(cut)
    if abs(piece.thickness - cut.figures.get("stays", piece.thickness - depth) - depth) > EXACT:
        raise Misfit(translated("what stays isn't what the depth leaves of the thickness"))
    return depth


def _depth(cut: Cut) -> float:
    """How deep all levels go, which must be as told."""
    depth, deepen = cut.value("height"), cut.figures.get("deepen")
    count = round(cut.figures.get("levels", 1))
    if count < 1 or (deepen is None) != (count == 1):
        raise Misfit(translated("levels without a depth for each, or one level with"))
    if deepen and abs(count * deepen - depth) > EXACT:
        raise Misfit(translated("the levels don't come to the depth"))
    return depth


def _heights(piece: BenchPiece, lay: Lay, depth: float) -> tuple[float, float]:
    return (piece.thickness - depth, piece.thickness) if lay.worked == "top" else (0.0, depth)


def _face_down(lay: Lay) -> None:
    if lay.over and lay.up != lay.worked:
        raise Misfit(translated("the worked face isn't under the tool"))
    if not lay.over and lay.up != OVER.get(lay.worked, {"left": "right", "right": "left"}.get(lay.worked, "")):
        raise Misfit(translated("the worked face isn't at the cutter"))


def _between_cheeks(piece: BenchPiece, cut: Cut, lay: Lay) -> tuple[float, float]:
    """The heights that a groove takes, told from the face at the fence."""
    fence, width = cut.value("fence"), _passed(cut)
    if lay.against == "top":
        return piece.thickness - fence - width, piece.thickness - fence
    return fence, fence + width


def _groove(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    _face_down(lay)
    x0, _, x1, _ = piece.bounds
    if lay.over:
        near, far = piece.along_edge(lay.worked)
        way, origin = (-1.0, far) if lay.stop_at == "right" else (1.0, near)
        left, right = sorted(origin + way * at for at in _stops(cut))
    else:
        along = _towards_the_rear(lay, 1.0 if lay.worked == "low" else -1.0)
        left, right = sorted(along * at for at in _between_blocks(cut, lay, along, along * x0, along * x1))
    depth = _depth(cut)
    y = (0.0, depth) if lay.worked == "low" else (piece.width - depth, piece.width)
    piece.take(box(left, y[0], right, y[1]), *_between_cheeks(piece, cut, lay))


def _stops(cut: Cut) -> tuple[float, float]:
    if "rear" in cut.figures or "front" in cut.figures:
        raise Misfit(translated("blocks are told for a tool that goes over the piece"))
    return cut.figures.get("start", -ROUGH), cut.figures.get("end", ROUGH)


def _towards_the_rear(lay: Lay, from_below: float) -> float:
    """Which way along the piece its rear lies, told for one whose underside is at the fence: its maker sees the face
    that isn't there, and feeds from his right hand to his left."""
    return from_below if lay.against == "bottom" else -from_below


def _between_blocks(cut: Cut, lay: Lay, along: float, *spots: float) -> tuple[float, float]:
    """Where a cut ends and starts, both along the way to the rear: where the piece is let down with its rear at the
    block behind, and where it has come to the one before."""
    front, rear = min(spots), max(spots)
    if "start" in cut.figures or "end" in cut.figures:
        raise Misfit(translated("no block is told for a piece that is fed over the cutter"))
    names = ("left", "right") if lay.worked in ("low", "high") else ("low", "high")
    at_rear = "rear" in cut.figures
    if cut.figures.keys() & {"rear", "front"} and lay.stop_at != names[(along > 0) is at_rear]:
        raise Misfit(translated("the piece lies with the wrong end at its block"))
    begins = rear - cut.value("rear") if at_rear else -ROUGH
    if "line" in cut.figures:
        return begins, rear - cut.value("line")
    return begins, front + cut.value("front") if "front" in cut.figures else ROUGH


def _slot(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    """In an end, told along it from where a stop touches the piece as it stands."""
    _face_down(lay)
    (x, y), (nx, ny) = piece.lines[lay.worked]
    up = (-ny, nx) if nx > 0 else (ny, -nx)
    touches = [(px - x) * up[0] + (py - y) * up[1] for px, py in _corners(piece.plan)]
    if lay.over:
        way = 1.0 if lay.stop_at == "high" else -1.0
        touch = max(way * at for at in touches)
        spots_along = [way * (touch - at) for at in _stops(cut)]
    else:
        along = _towards_the_rear(lay, 1.0 if nx < 0 else -1.0)
        spots_along = [along * at for at in _between_blocks(cut, lay, along, *(along * at for at in touches))]
    depth = _depth(cut)
    foot, top = ((x + up[0] * at, y + up[1] * at) for at in sorted(spots_along))
    spots = [foot, top, (top[0] + nx * depth, top[1] + ny * depth), (foot[0] + nx * depth, foot[1] + ny * depth)]
    back = [(p[0] - nx * 2 * i, p[1] - ny * 2 * i) for p, i in zip(spots, (1, 1, 0, 0), strict=True)]
    taken = Polygon(back).intersection(piece.blank)
    if taken.symmetric_difference(piece.slots.setdefault(lay.worked, taken)).area > EXACT * taken.length:
        raise Misfit(translated("the slot is told otherwise than it was for the pieces before"))
    piece.take(Polygon(back), *_between_cheeks(piece, cut, lay))


def _corners(shape: Any) -> list[tuple[float, float]]:
    return list(shape.convex_hull.exterior.coords)


def _rebate(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    """From the end in to the shoulder; passes after the first go towards the end and must reach it."""
    _face_down(lay)
    length, cutter, offsets = cut.value("fence"), cut.value("cutter"), _offsets(cut)
    if any(b - a > cutter + EXACT for a, b in pairwise(offsets)):
        raise Misfit(translated("wood between passes"))
    left = length - offsets[-1] - cutter
    if left > EXACT or (left < -EXACT and len(offsets) > 1):
        raise Misfit(translated("the passes don't end at the end"))
    (x, y), (nx, ny) = piece.lines[lay.against]
    leans = _lean(cut) if "gauge" in cut.figures else radians(cut.figures.get("angle", 0.0))
    if ("angle" in cut.figures or lay.led) and abs(abs(ny) - sin(leans)) > EXACT:
        raise Misfit(translated("the shoulder doesn't lie along the end"))
    inner = half_plane((x + nx * length, y + ny * length), (-nx, -ny))
    if any(one.face == lay.worked and one.size > _depth(cut) + EXACT for one in piece.shaped):
        raise Misfit(translated("an eased edge goes deeper than the rebate that follows it"))
    piece.take(inner, *_heights(piece, lay, _lap_depth(piece, cut)))


def _nib(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    """As far as the rebates beside it, all past a line told from the far end's point."""
    lean, end = _lean(cut), "right" if lay.stop_at == "left" else "left"
    _face_down(lay)
    _turned_right(lay, lean, end)
    way, bounds = (1.0 if end == "right" else -1.0), piece.bounds
    fence, in_y = (0.0, 1.0) if lay.against == "low" else (piece.width, -1.0)
    x = (bounds[0] if way > 0 else bounds[2]) + way * cut.value("stop")
    past = half_plane((x, fence), (way * cos(lean), in_y * sin(lean)))
    piece.take(past, *_heights(piece, lay, cut.value("height")))


def _shoulder(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    """A corner: back from the end, in from the edge along the shoulder, right through."""
    _face_down(lay)
    (x, y), (nx, ny) = piece.lines[lay.against]
    lean = radians(cut.figures.get("angle", 0.0))
    if abs(abs(ny) - sin(lean)) > EXACT:
        raise Misfit(translated("the shoulder doesn't lie along the end"))
    length, margin = cut.value("fence"), cut.value("height")
    if abs(cut.figures.get("edge", piece.width - margin) + margin - piece.width) > EXACT:
        raise Misfit(translated("the cheek isn't where the fence at the other edge has it"))
    up = (-ny, nx) if nx > 0 else (ny, -nx)
    on = (x + nx * length, y + ny * length)
    edge = 0.0 if lay.worked == "low" else piece.width
    way = 1.0 if lay.worked == "low" else -1.0
    foot = (on[0] + up[0] * (edge - on[1]) / up[1], edge)
    cheek = (foot[0] + way * up[0] * margin, foot[1] + way * up[1] * margin)
    past_shoulder = half_plane(on, (-nx, -ny))
    piece.take(past_shoulder.intersection(half_plane(cheek, (-way * up[0], -way * up[1]))))


def _mortise(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    if lay.up != lay.worked:
        raise Misfit(translated("the worked face lies down"))
    x0, _, x1, _ = piece.bounds
    stop, length = cut.value("stop"), cut.value("length")
    left = x0 + stop if lay.stop_at == "left" else x1 - stop - length
    low = cut.value("edge")
    shape = box(left, low, left + length, low + cut.value("width"))
    piece.take(shape, *_heights(piece, lay, cut.value("height")))


def _bore(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    x0, _, x1, _ = piece.bounds
    at = x1 - cut.value("stop") if lay.stop_at == "right" else x0 + cut.value("stop")
    heights = _heights(piece, lay, cut.value("height")) if "height" in cut.figures else ()
    piece.take(disc(at, cut.value("edge"), cut.value("width") / 2), *heights)


def _peg_bore(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    """Across the piece from edge to edge, told from the face at the fence: as wide and as high as the bit."""
    if lay.up != lay.worked or lay.against != "bottom":
        raise Misfit(translated("the worked edge lies down, or the underside isn't at the fence"))
    x0, _, x1, _ = piece.bounds
    at = x1 - cut.value("stop") if lay.stop_at == "right" else x0 + cut.value("stop")
    radius, high = cut.value("width") / 2, cut.value("edge")
    piece.take(box(at - radius, -1, at + radius, piece.width + 1), high - radius, high + radius)


def _pin_slot(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    """A bore, and all between it and the end at the stop as wide as that."""
    at, half = piece.bounds[2] - cut.value("stop"), cut.value("width") / 2
    edge = cut.value("edge") if lay.against == "low" else piece.width - cut.value("edge")
    if lay.stop_at != "right":
        raise Misfit(translated("the slot isn't at the right end"))
    piece.take(disc(at, edge, half).union(box(at, edge - half, ROUGH, edge + half)))


def _end_bore(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    """Down from the middle of what is left of an end, told by its faces: as wide and as high as the bit."""
    if lay.up != lay.worked:
        raise Misfit(translated("the worked end lies down"))
    (x, y), (nx, ny) = piece.lines[lay.worked]
    up = (-ny, nx) if nx > 0 else (ny, -nx)
    on_end = [at for at in _corners(piece.plan) if abs((at[0] - x) * nx + (at[1] - y) * ny) < EXACT]
    foot = min(on_end, key=lambda at: at[0] * up[0] + at[1] * up[1])
    radius, depth = cut.value("width") / 2, cut.value("height")
    near, far = cut.value("edge") - radius, cut.value("edge") + radius
    spots = [(foot[0] + up[0] * u + nx * d, foot[1] + up[1] * u + ny * d)
             for u, d in ((near, -1.0), (far, -1.0), (far, depth), (near, depth))]  # fmt: skip
    piece.take(Polygon(spots), cut.value("middle") - radius, cut.value("middle") + radius)


def _round_corner(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    x0, _, x1, _ = piece.bounds
    radius = cut.value("radius")
    x, way_x = (x0, 1) if lay.worked == "left" else (x1, -1)
    y, way_y = (0.0, 1) if lay.against == "low" else (piece.width, -1)
    centre = (x + way_x * radius, y + way_y * radius)
    piece.take(box(*sorted_box((x, y), centre)).difference(disc(*centre, radius)))


def _ease(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    if lay.up != lay.worked:
        raise Misfit(translated("the worked face lies down"))
    size, kind = cut.value("radius" if "radius" in cut.figures else "size"), cut.does.removeprefix("edge ")
    for floor, face in piece.laid_bare(lay.worked):
        strip = _stopped(_along_the_edge(piece, face, lay.against, size), piece, cut, lay)
        if not strip.is_empty:
            piece.shaped.append(Shaped(kind, lay.worked, strip, size, floor))
            return
    raise Misfit(translated("there is no wood to lead the bit along"))


def _along_the_edge(piece: BenchPiece, face: Any, against: str, size: float) -> Any:
    """The strip of a face, or of what lies bare under it, that the bit takes from end to end."""
    if piece.circle and against == "high":
        x, y, radius = piece.circle
        return face.intersection(outside(x, y, radius - size, face.bounds))
    x0, y0, x1, y1 = face.bounds
    if against in ("low", "high"):
        near, far = (y0, y0 + size) if against == "low" else (y1 - size, y1)
        return face.intersection(box(x0 - 1, near, x1 + 1, far))
    whole = Polygon(piece.plan.buffer(0).exterior).simplify(EXACT)
    return whole.difference(whole.buffer(-size, join_style="mitre"))


def _stopped(strip: Any, piece: BenchPiece, cut: Cut, lay: Lay) -> Any:
    """The strip without what lies past the stops, told from both ends alike or from the one at the stop."""
    x0, _, x1, _ = piece.bounds
    if lay.stop_at:
        long = cut.value("stop")
        worked = (x0 - 1, x0 + long) if lay.stop_at == "left" else (x1 - long, x1 + 1)
        return strip.intersection(box(worked[0], -1e4, worked[1], 1e4))
    for name, keep in (("stop", False), ("start", True)):
        if name in cut.figures:
            middle = box(x0 + cut.figures[name], -1e4, x1 - cut.figures[name], 1e4)
            strip = strip.intersection(middle) if keep else strip.difference(middle)
    return strip


def _saw_round(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    """The blade's middle runs a circle about the pivot; its near face leaves the disc."""
    radius = cut.value("radius")
    if "middle" in cut.figures and abs(cut.value("middle") - cut.value("kerf") / 2 - radius) > EXACT:
        raise Misfit(translated("near face and middle of the kerf"))
    x0, x1 = piece.along_edge("low")
    centre = ((x0 + x1) / 2 + cut.figures.get("aside", 0.0), -_from_pivot(piece, cut))
    piece.circle = (*centre, radius)
    piece.take(outside(*centre, radius, piece.bounds))


def _drip_groove(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    """Along the ring's edge in the face that lies up, which is its underside."""
    if (lay.worked, lay.up, lay.against) != ("bottom", "bottom", "high"):
        raise Misfit(translated("the groove isn't in the underside along the rim's edge"))
    near, far = cut.value("fence"), cut.value("fence") + cut.value("width")
    if piece.circle:
        x, y, radius = piece.circle
        band = outside(x, y, radius - far, piece.bounds).difference(outside(x, y, radius - near, piece.bounds))
    else:
        band = box(-ROUGH, piece.width - far, ROUGH, piece.width - near)
    piece.take(band, 0.0, cut.value("height"))


def _from_pivot(piece: BenchPiece, cut: Cut) -> float:
    """From the pivot to a piece's inner edge; to a spline's through the corner of the ring that it is glued in."""
    if "inset" not in cut.figures:
        return cut.value("pivot")
    code, pivot = cut.ring
    if code not in piece.beside:
        raise Misfit(translated("the ring isn't there that it is glued in"))
    left, right = piece.beside[code].along_edge("low")
    return hypot(pivot, (right - left) / 2) + cut.value("inset")


def _trim(piece: BenchPiece, cut: Cut, lay: Lay) -> None:
    x0, _, x1, _ = piece.bounds
    tip, lean = ((x0 + x1) / 2, cut.value("length")), radians(cut.value("angle"))
    for way in (1, -1):
        piece.take(half_plane(tip, (way * sin(lean), cos(lean))))


Work = Callable[[BenchPiece, Cut, Lay], None]

WORK: Mapping[str, Work] = {
    "plane": _plane, "rip": _rip, "crosscut": _saw_off, "mitre": _saw_off, "lap": _lap, "groove": _groove,
    "spline slot": _slot, "rebate": _rebate, "nib": _nib, "shoulder": _shoulder, "mortise": _mortise, "bore": _bore,
    "drain": _bore, "counterbore": _bore, "drill through": _bore, "cross bore": _bore, "end bore": _end_bore,
    "peg bore": _peg_bore, "tenon bore": _bore, "pin slot": _pin_slot, "relief": _lap,
    "round corner": _round_corner, "round-over": _ease, "chamfer": _ease, "bead": _ease,
    "saw round": _saw_round, "trim": _trim, "drip groove": _drip_groove,
    "edge round-over": _ease,
}  # fmt: skip
