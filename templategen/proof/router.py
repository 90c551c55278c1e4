"""The files of a part's clampings, cut once more: each bit is swept along what is drawn, the part turned over by the
line that is drawn, and what is then left of the wood held against the record.

All work of a face is square to it, so layers between two depths are exact; curves are stepped to a micrometre.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from templategen.catalogue import read_as, translated, worded
from templategen.geometry.outline import Outline
from templategen.geometry.placement import OVER, Placement
from templategen.geometry.point import Point
from templategen.geometry.refine import fine_polyline
from templategen.proof.difference import Difference
from templategen.proof.drawn import Drawn
from templategen.proof.notes import SKIN, UNIT, cut_of, left_out_of
from templategen.proof.outlines import TRUE, apart, describe_miss
from templategen.proof.part_files import Files, all_drawn, square
from templategen.proof.recorded import BOTTOM, TOP, Recorded, RecordedWork

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

PIECE, TURN, RECESS, PINS, BORED = "WORKPIECE", "TURN_LINE", "RECESS", "PINS", "BORED_HOLE"
RELIEF = "CORNER_RELIEF"

LAYER = re.compile(r"(TOP|BOTTOM)_([A-Z_]+?)_(\d+)(?:_(\d+))?(MM|IN)")
"""Face, task, depth and unit."""

AGREE = 0.01
"""Two faces agree to so much, and so thick is what counts as left or taken, mm."""

SPECK = 0.01
"""What is smaller isn't told, mm2."""

ROUNDED = 0.003
"""How far a depth in a layer's name may be off, mm: it is told to a micrometre or to 0.0001 in."""

THICKEST_SKIN = 3.0
"""More than this isn't cut with a knife, mm."""

STEP = 1e-3
QUARTER = 64


@dataclass(frozen=True, slots=True)
class Swept:
    """One outline on one layer: what is done there, how deep, with which bit."""

    layer: str
    task: str
    depth: float
    radius: float
    ring: Outline


@dataclass(frozen=True, slots=True)
class Lying:
    """One file as it is read: its face, in the frame of its drawing."""

    path: str
    face: str
    drawn: Drawn
    cuts: tuple[Swept, ...]
    left_out: frozenset[str]
    troubles: tuple[str, ...] = field(default=())

    @property
    def piece(self) -> Outline | None:
        """The wood as it lies, in a recess of its own outline or not."""
        rings = [ring for layer in (PIECE, RECESS) for ring in self.drawn.rings.get(layer, ())]
        return rings[0] if len(rings) == 1 else None

    @property
    def outline(self) -> Outline | None:
        """What is cut out."""
        rings = [cut.ring for cut in self.cuts if cut.task == "OUTSIDE"]
        return rings[0] if len(rings) == 1 else None

    @property
    def anchor(self) -> Outline | None:
        """What the finished part is known by: the outline cut out, else the wood as it lies, which is to size."""
        return self.outline or self.piece


def router_differences(part: Recorded, files: Files) -> Iterator[Difference]:
    """Where the files of one part don't come to the part."""
    read, unread = all_drawn(files, part.code)
    yield from unread
    lying = [_lying(path, drawn) for path, drawn in read.items()]
    for path, drawn in read.items():
        yield from square(path, drawn)
    for one in lying:
        yield from (Difference(one.path, part.code, says) for says in (*one.troubles, *_on_the_bed(one)))
    if any(one.troubles for one in lying) or not lying:
        return
    ways, said = _ways(lying)
    yield from (Difference(lying[0].path, part.code, says) for says in said)
    if ways:
        yield from _compared(part, lying, ways)


def _lying(path: str, drawn: Drawn) -> Lying:
    """A file taken apart: its cuts by layer and note."""
    words = [word.text for named in drawn.words.values() for word in named]
    told = dict(one for text in words if (one := cut_of(text)))
    face = TOP if path.endswith("-top.dxf") else BOTTOM
    cuts: list[Swept] = []
    troubles = []
    for layer, rings in drawn.rings.items():
        match = LAYER.fullmatch(layer)
        if match is None:
            continue
        depth = float(f"{match[3]}.{match[4] or 0}") * UNIT[match[5]]
        if match[1] != face.upper():
            troubles.append(worded("{layer} isn't work of the face that is up", layer=layer))
        if match[2] != "BY_HAND" and layer not in told:
            troubles.append(worded("no note tells the bit of {layer}", layer=layer))
        note = told.get(layer)
        radius = note.bit / 2 if note else 0.0
        if note and abs(note.passes * note.each - depth) > 0.01 * note.passes:
            troubles.append(worded("the passes told for {layer} don't come to its depth", layer=layer))
        cuts += (Swept(layer, match[2], depth, radius, ring) for ring in rings)
    left_out = frozenset(left[0] for text in words if (left := left_out_of(text)))
    return Lying(path, face, drawn, tuple(cuts), left_out, tuple(troubles))


def _on_the_bed(one: Lying) -> Iterator[str]:
    """The piece lies in the corner of X0 and Y0, and no bit meets a pin."""
    piece = one.piece
    if piece is None:
        yield worded("{piece} or {recess} isn't drawn once", piece=PIECE, recess=RECESS)
        return
    if max(abs(piece.bounds.left), abs(piece.bounds.bottom)) > TRUE:
        yield translated("the piece doesn't lie at X0 Y0")
    corners = [vertex.point for cut in one.cuts if cut.task != RELIEF for vertex in cut.ring]
    for cut in one.cuts:
        if cut.task == RELIEF and min(cut.ring.distance(corner) for corner in corners) > AGREE:
            yield worded("{layer} stands at no corner", layer=cut.layer)
    for pin in (*one.drawn.rings.get(PINS, ()), *(cut.ring for cut in one.cuts if cut.task == "PIN_HOLE")):
        for cut in one.cuts:
            if cut.task not in ("BY_HAND", "PIN_HOLE") and walk_of(cut).distance(flat_of(pin)) < cut.radius:
                yield worded("the bit of {layer} meets a pin", layer=cut.layer)
        if not flat_of(piece).covers(flat_of(pin)):
            yield translated("a pin stands beside the wood")


def _ways(lying: Sequence[Lying]) -> tuple[dict[str, Placement], list[str]]:
    """For each file how its drawing is carried over to the first one's, and where two don't agree."""
    first = lying[0]
    ways = {first.path: Placement()}
    if len(lying) == 1:
        return ways, []
    second = lying[1]
    lines = [(one.drawn.strokes.get(TURN, []), one) for one in lying]
    if any(len(found) != 1 for found, _ in lines):
        return {}, [translated("the line of turning over isn't drawn once in each file")]
    line, other = (found[0] for found, _ in lines)
    if any(abs(edge.end.x - edge.start.x) > TRUE for edge in (line, other)):
        return {}, [translated("the line of turning over doesn't run along Y")]
    ways[second.path] = Placement(line.start.x + other.start.x, 0.0, 0.0, True)
    return _same_registers(first, second, line.start.x, ways)


def _same_registers(
    first: Lying, second: Lying, middle: float, ways: dict[str, Placement]
) -> tuple[dict[str, Placement], list[str]]:
    """The way of the second file, corrected by where its pins or its recess bring the part to lie."""
    holes = [cut.ring for one in (first, second) for cut in one.cuts if cut.task == "PIN_HOLE"]
    pins = [pin for one in (first, second) for pin in one.drawn.rings.get(PINS, ())]
    over = Placement(2 * middle, 0.0, 0.0, True)
    if holes or pins:
        turned = [over.outline(hole) for hole in holes]
        off = [min((apart(pin, hole)[0] for hole in turned), default=float("inf")) for pin in pins]
        if len(holes) != 2 or len(pins) != 2 or max(off) > AGREE:
            return {}, [
                worded("the pins stand {off:.3f} mm off the holes turned over", off=max(off, default=float("inf")))
            ]
        return ways, []
    laid = second.drawn.rings.get(RECESS, [])
    made = first.outline or second.outline or first.piece
    if len(laid) != 1 or made is None:
        return {}, [translated("nothing registers the second face to the first")]
    box, own = laid[0].bounds, over.outline(made).bounds
    brought = over.then(Placement(box.left - own.left, box.bottom - own.bottom))
    miss, at = apart(brought.outline(made), laid[0])
    if miss > AGREE:
        return {}, [worded("the recess isn't the part turned over: {miss}", miss=describe_miss(miss, at))]
    ways[second.path] = brought.inverse
    return ways, []


def _compared(part: Recorded, lying: Sequence[Lying], ways: Mapping[str, Placement]) -> Iterator[Difference]:
    """All faces in the part's own frame, held against the record layer by layer."""
    cutting = next((one for one in lying if one.outline is not None), lying[0])
    anchor = cutting.anchor
    if anchor is None:
        yield Difference(cutting.path, part.code, translated("nothing tells where the part lies in the piece"))
        return
    up = lying[0].face == TOP
    to_part = Placement() if up else OVER
    seen = to_part.outline(ways[cutting.path].outline(anchor))
    home = _home(part, seen, cutting.outline is not None)
    if home is None:
        yield Difference(
            cutting.path, part.code, translated("cuts out neither the outline of the record nor its blank")
        )
        return
    for one in lying:
        way = ways[one.path].then(to_part).then(home)
        for says in (*face_work_differences(part, one, way), *_freed(part, one, way)):
            yield Difference(one.path, f"{part.code}, {one.face}", says)


def _home(part: Recorded, seen: Outline, cut: bool) -> Placement | None:
    """How the outline seen is moved onto the part's."""
    for wanted in (part.outline, part.blank):
        box, own = seen.bounds, wanted.bounds
        way = Placement(own.left - box.left, own.bottom - box.bottom)
        if apart(way.outline(seen), wanted)[0] <= (TRUE if cut else AGREE):
            return way
    return None


def face_work_differences(part: Recorded, one: Lying, way: Placement) -> Iterator[str]:
    """What is left standing and what is taken too much of one face, layer by layer."""
    from shapely import unary_union

    body = flat_of(part.outline)
    for hole in part.holes:
        body = body.difference(flat_of(hole))
    works = [work for work in part.on(one.face) if not work.runs_along]
    cuts = [cut for cut in one.cuts if cut.task not in ("BY_HAND", "OUTSIDE", "PIN_HOLE")]
    cleared = [(cut.depth, moved_by(cleared_by(cut), way)) for cut in cuts]
    hand = [(cut.depth, moved_by(flat_of(cut.ring), way)) for cut in one.cuts if cut.task == "BY_HAND"]
    known = [(work, flat_of(part.from_above(work))) for work in works]
    wanted = [(work.depth, shape) for work, shape in known if not _is_left_out(work, one)]
    for depth in sorted({round(depth, 2) for depth, _ in (*cleared, *wanted)}):
        least = depth - 2 * ROUNDED - 0.005
        want = unary_union([shape for deep, shape in wanted if deep >= least]).intersection(body)
        cut = unary_union([shape for deep, shape in cleared if deep >= least]).intersection(body)
        void = unary_union([shape for work, shape in known if work.depth >= least] + _reliefs(one, way, least))
        told = unary_union([shape for deep, shape in hand if deep >= least]).buffer(AGREE)
        yield from (
            worded("leaves wood {spot}, {depth:g} mm deep", spot=spot_of(piece), depth=depth)
            for piece in solid_pieces(want.difference(cut), told)
        )
        yield from (
            worded("takes wood {spot}, {depth:g} mm deep", spot=spot_of(piece), depth=depth)
            for piece in solid_pieces(cut.difference(void), None)
        )


def _freed(part: Recorded, one: Lying, way: Placement) -> Iterator[str]:
    """Cuts right through: holes are the record's, the outline frees the part and doesn't touch it."""
    from shapely import unary_union

    body, hand = flat_of(part.outline), [cut for cut in one.cuts if cut.task == "BY_HAND"]
    inside = [cut for cut in one.cuts if cut.task == "INSIDE"]
    if inside or one.outline is not None:
        holes = unary_union([flat_of(hole) for hole in part.holes])
        cut_holes = unary_union([moved_by(cleared_by(cut), way) for cut in inside])
        rings = (*(cut.ring for cut in hand), *one.drawn.rings.get(BORED, ()))
        told = unary_union([moved_by(flat_of(ring), way) for ring in rings]).buffer(AGREE)
        if part.holes:
            yield from (
                worded("leaves wood {spot} of a hole", spot=spot_of(piece))
                for piece in solid_pieces(holes.difference(cut_holes), told)
            )
        yield from (
            worded("takes wood {spot} as a hole", spot=spot_of(piece))
            for piece in solid_pieces(cut_holes.difference(holes), None)
        )
    for cut in (*inside, *(cut for cut in one.cuts if cut.task == "OUTSIDE")):
        if cut.depth < part.thickness - THICKEST_SKIN:
            yield worded("{layer} doesn't go through {thickness:g} mm", layer=cut.layer, thickness=part.thickness)
        elif cut.depth < part.thickness - ROUNDED and not any(
            read_as(translated(SKIN), word.text) for words in one.drawn.words.values() for word in words
        ):
            yield worded("{layer} leaves a skin that no note tells", layer=cut.layer)
    for cut in one.cuts:
        if cut.task == "OUTSIDE":
            path, ring = walk_of(cut), flat_of(cut.ring)
            taken = moved_by(path.buffer(cut.radius, QUARTER), way).intersection(body)
            kept = ring.buffer(cut.radius, QUARTER).buffer(-cut.radius, QUARTER).difference(ring)
            told = unary_union([flat_of(done.ring) for done in hand] + _reliefs(one, Placement(), 0.0)).buffer(AGREE)
            yield from (
                worded("the outline's bit takes wood {spot}", spot=spot_of(piece))
                for piece in solid_pieces(taken, None)
            )
            yield from (
                worded("the outline's bit leaves wood {spot}", spot=spot_of(piece))
                for piece in solid_pieces(kept, told)
            )


def _reliefs(one: Lying, way: Placement, least: float) -> list[Any]:
    """What is taken beyond corners on purpose, so that square wood goes in."""
    return [moved_by(cleared_by(cut), way) for cut in one.cuts if cut.task == RELIEF and cut.depth >= least]


def _is_left_out(work: RecordedWork, one: Lying) -> bool:
    """Whether a note says that the work is done elsewhere."""
    for layer in one.left_out:
        match = LAYER.fullmatch(layer)
        if match and match[1] == work.face.upper() and match[2] == work.kind.upper().replace("-", "_"):
            depth = float(f"{match[3]}.{match[4] or 0}") * UNIT[match[5]]
            if abs(depth - work.depth) <= ROUNDED:
                return True
    return False


def flat_of(ring: Outline) -> Any:
    """The polygon whose corners lie on an outline, a micrometre fine."""
    from shapely import Polygon

    shape = Polygon(fine_polyline(ring, STEP))
    if not shape.is_valid:
        raise ValueError(translated("a line that crosses itself"))
    return shape


def walk_of(cut: Swept) -> Any:
    """Where the middle of a bit goes: round outside the line, or all over inside it."""
    ring = flat_of(cut.ring)
    if cut.task == "OUTSIDE":
        return ring.buffer(cut.radius, QUARTER).exterior
    # A bit as wide as its hole goes straight down in the middle.
    return ring.buffer(3 * STEP - cut.radius, QUARTER)


def cleared_by(cut: Swept) -> Any:
    """All that a bit can clear inside a line; what it goes round falls out."""
    return walk_of(cut).buffer(cut.radius, QUARTER)


def moved_by(shape: BaseGeometry, way: Placement) -> Any:
    """A shape carried along by a placement."""
    from shapely.affinity import affine_transform

    x, y = way.direction(Point(1.0, 0.0)), way.direction(Point(0.0, 1.0))
    return affine_transform(shape, (x.x, y.x, x.y, y.y, way.x, way.y))


def solid_pieces(shape: BaseGeometry, told: BaseGeometry | None) -> Iterator[BaseGeometry]:
    """The pieces of a shape that are thick enough to matter and aren't told."""
    rest: Any = shape.buffer(-AGREE).buffer(AGREE)
    if told is not None:
        rest = rest.difference(told)
    for piece in getattr(rest, "geoms", [rest]):
        if piece.area > SPECK and not piece.buffer(-AGREE).is_empty:
            yield piece


def spot_of(piece: BaseGeometry) -> str:
    """How large a piece is and where, in words."""
    left, low, right, high = piece.bounds
    return worded(
        "{wide:.2f} x {tall:.2f} mm at ({x:.2f}, {y:.2f})",
        wide=right - left,
        tall=high - low,
        x=(left + right) / 2,
        y=(low + high) / 2,
    )
