"""Routed sheets cut once more: bits are swept along what the files draw, from both faces, and what is left is held
against the record. Every part must hang on the sheet after the last pass."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from math import pi
from typing import TYPE_CHECKING, Any

from templategen.catalogue import read_as, translated, worded
from templategen.geometry.outline import Outline, rectangle
from templategen.geometry.placement import Placement
from templategen.proof.difference import Difference
from templategen.proof.drawn import Drawn
from templategen.proof.notes import SUCTION, UNIT, cut_of, left_out_of, size_of
from templategen.proof.outlines import TRUE, apart
from templategen.proof.part_files import Files, all_drawn
from templategen.proof.read_record import Record, outline_in, placement_in
from templategen.proof.recorded import BOTTOM, TOP, Recorded
from templategen.proof.router import (
    AGREE,
    LAYER,
    PINS,
    RELIEF,
    ROUNDED,
    SPECK,
    THICKEST_SKIN,
    TURN,
    Lying,
    Swept,
    cleared_by,
    face_work_differences,
    flat_of,
    solid_pieces,
    spot_of,
    walk_of,
)
from templategen.proof.stock_files import UNDERSIDE

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

THROUGH = {"THROUGH_OUTSIDE": "OUTSIDE", "BLANK_OUTLINE": "OUTSIDE", "THROUGH_INSIDE": "INSIDE"}
"""Layers of what goes right through, whatever the sheet; their notes tell how deep."""

TAB, SCREW, WASTE = "HOLDING_TAB", "HOLDING_SCREW", "LOOSE_WASTE"

PIECE, SLIM = 25.0, 2.0
"""Waste that comes loose must be told from so many mm2 on, if it is wider than this, mm."""

WORN = 0.1
"""Waste that is told to come loose may still hang by twice this, mm: a bit's wear decides."""

BORDER = 1.0
"""A bit comes no nearer to the edge of the sheet, mm."""

BESIDE_JOINT = 0.2
"""So far off a joint's face nothing may be left standing, mm."""

NECK = 0.02
"""Wood thinner than this is what rounding leaves beside a tab, mm."""

GRIPPED = 0.02
"""A strip a hundredth of a millimetre wide round a tab lies in wood on each side by so much at the least, mm2."""

BEARING = ("groove", "tongue", "tenon", "lap", "spline-slot", "mortise")
"""Work whose sides a mate bears on."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part where it lies: what is cut out, whether that is its own outline, and how it came there."""

    recorded: Recorded
    way: Placement
    ring: Outline
    finished: bool

    @property
    def up(self) -> str:
        """Its face that lies up."""
        return BOTTOM if self.way.turned_over else TOP


def routed_sheet_differences(piece: Record, parts: Mapping[str, Recorded], files: Files) -> Iterator[Difference]:
    """Where the DXF files of one routed piece don't come to its parts, or let one go too early."""
    read, _ = all_drawn({name: data for name, data in files.items() if name.endswith(".dxf")}, piece["name"])
    upper = next(((name, drawn) for name, drawn in read.items() if UNDERSIDE not in name), None)
    under = next(((name, drawn) for name, drawn in read.items() if UNDERSIDE in name), None)
    if upper is None or piece.get("mode") != "routed":
        return
    sheet = _Sheet(piece, parts, upper[1], under[1] if under else None)
    for is_under, says in sheet.differences():
        yield Difference(under[0] if is_under and under else upper[0], f"{piece['name']} {piece['piece']}", says)


class _Sheet:
    """One piece of stock with what its files cut; all shapes as the upper face shows them."""

    def __init__(self, piece: Record, parts: Mapping[str, Recorded], upper: Drawn, under: Drawn | None) -> None:
        self.size: tuple[float, float] = (float(piece["size"][0]), float(piece["size"][1]))
        self.thickness = float(piece.get("planed") or piece["thickness"])
        self.drawn, self.under = upper, under
        self.over = Placement(0.0, self.size[1], pi, True)
        self.laid = list(_laid(piece, parts))
        self.troubles: list[tuple[bool, str]] = []
        self.above = self._cuts(upper, False)
        self.below = self._cuts(under, True) if under else []
        both = [drawn for drawn in (upper, under) if drawn]
        self.words = [word.text for drawn in both for named in drawn.words.values() for word in named]
        self.left_out = [
            (parts, layer) for text in self.words if (note := left_out_of(text)) for layer, parts in (note,)
        ]

    def _cuts(self, drawn: Drawn, is_under: bool) -> list[Swept]:
        """What one file cuts, where that lies on the upper face."""
        words = [word.text for named in drawn.words.values() for word in named]
        told = dict(one for text in words if (one := cut_of(text)))
        found = []
        for layer, rings in drawn.rings.items():
            match = LAYER.fullmatch(layer)
            task = THROUGH.get(layer) or (match[2] if match else "")
            if not task:
                continue
            note = told.get(layer)
            if match and match[1] != ("BOTTOM" if is_under else "TOP"):
                self.troubles.append((is_under, worded("{layer} isn't work of the face that is up", layer=layer)))
            if note is None and task != "BY_HAND":
                self.troubles.append((is_under, worded("no note tells the bit of {layer}", layer=layer)))
                continue
            depth = float(f"{match[3]}.{match[4] or 0}") * UNIT[match[5]] if match else note.depth  # type: ignore[union-attr]
            radius = note.bit / 2 if note else 0.0
            for ring in rings:
                there = self.over.outline(ring) if is_under else ring
                found.append(Swept(layer, "OUTSIDE" if task == "BLANK" else task, depth, radius, there.anticlockwise))
        return found

    def differences(self) -> Iterator[tuple[bool, str]]:
        """Everything that is wrong, and whether it is the underside's file that is."""
        yield from self.troubles
        if self.troubles:
            return
        yield from ((is_under, says) for is_under in (False, True) for says in self._on_the_sheet(is_under))
        if self.under:
            yield from ((True, says) for says in self._register(self.under))
        yield from self._faces()
        for says in (*self._outlines(), *self._holds(), *self._tabs(), *self._waste()):
            yield False, says

    def _on_the_sheet(self, is_under: bool) -> Iterator[str]:
        """No bit leaves the sheet, and none meets a pin or a screw."""
        inner = flat_of(rectangle(BORDER, BORDER, self.size[0] - BORDER, self.size[1] - BORDER))
        fixed = [flat_of(ring) for layer in (PINS, SCREW) for ring in self.drawn.rings.get(layer, ())]
        for cut in self.below if is_under else self.above:
            if cut.task == "BY_HAND":
                continue
            swept = self.swept(cut)
            if not inner.covers(swept):
                yield worded("the bit of {layer} leaves the sheet", layer=cut.layer)
            if any(swept.intersects(one) for one in fixed if cut.task != "PIN_HOLE"):
                yield worded("the bit of {layer} meets a pin or a screw", layer=cut.layer)

    def swept(self, cut: Swept) -> Any:
        """All that a cut takes, tabs left aside."""
        if cut.task == "PIN_HOLE":
            return flat_of(cut.ring)
        return walk_of(cut).buffer(cut.radius, 16) if cut.task == "OUTSIDE" else cleared_by(cut)

    def _register(self, under: Drawn) -> Iterator[str]:
        """Both files turn the sheet about one line, and the pins stand in the holes that were cut."""
        lines = [drawn.strokes.get(TURN, []) for drawn in (self.drawn, under)]
        middle = self.size[1] / 2
        if any(len(found) != 1 for found in lines):
            yield translated("the line of turning over isn't drawn once in each file")
        elif any(abs(end.y - middle) > TRUE for found in lines for end in (found[0].start, found[0].end)):
            yield translated("the line of turning over isn't the middle line")
        holes = [cut.ring for cut in self.below if cut.task == "PIN_HOLE"]
        pins = self.drawn.rings.get(PINS, [])
        off = [min((apart(pin, hole)[0] for hole in holes), default=float("inf")) for pin in pins]
        if len(holes) != 2 or len(pins) != 2 or max(off) > AGREE:
            yield translated("the pins don't stand in the holes turned over")
            return
        ends = sorted(hole.bounds.centre.x for hole in holes)
        if abs(ends[0] - (self.size[0] - ends[1])) < 1.0:
            yield translated("a sheet turned about the wrong line goes on the pins too")

    def _faces(self) -> Iterator[tuple[bool, str]]:
        """The pockets of every part that is finished, from both faces, with what neighbours cut into it."""
        for is_under, cuts in ((False, self.above), (True, self.below)):
            boxes = [cut.ring.bounds for cut in cuts]
            for part in self.laid:
                near = [cut for cut, box in zip(cuts, boxes, strict=True) if box.meets(part.ring.bounds)]
                if part.finished:
                    face = part.up if not is_under else (TOP if part.up == BOTTOM else BOTTOM)
                    left_out = frozenset(name for codes, name in self.left_out if part.recorded.code in codes)
                    lying = Lying("", face, self.drawn, tuple(near), left_out)
                    yield from (
                        (is_under, f"{part.recorded.code}: {says}")
                        for says in face_work_differences(part.recorded, lying, part.way.inverse)
                    )
                elif any(_taken(part, cut) > SPECK for cut in near if _clears(cut)):
                    yield is_under, worded("{code}: a pocket runs into the blank", code=part.recorded.code)

    def _outlines(self) -> Iterator[str]:
        """No part's outline is cut into by another's pass; what a bit leaves round it is told."""
        from shapely import STRtree, union_all

        rings = [flat_of(part.ring) for part in self.laid]
        tree = STRtree(rings)
        hand = union_all([
            cleared_by(cut) if cut.task == RELIEF else flat_of(cut.ring)
            for cut in self.above if cut.task in ("BY_HAND", RELIEF)
        ]).buffer(AGREE)  # fmt: skip
        for cut in self.above:
            if cut.task != "OUTSIDE":
                continue
            swept, own = self.swept(cut), flat_of(cut.ring)
            for i in tree.query(swept).tolist():
                for piece in solid_pieces(swept.intersection(rings[i]), None):
                    yield worded(
                        "{code}: the bit of an outline takes wood {spot}",
                        code=self.laid[i].recorded.code,
                        spot=spot_of(piece),
                    )
            closed = own.buffer(cut.radius, 64).buffer(-cut.radius, 64)
            for piece in solid_pieces(closed.difference(own), hand):
                yield worded("the bit of an outline leaves wood {spot}", spot=spot_of(piece))
            if cut.depth < self.thickness - THICKEST_SKIN:
                yield worded("{layer} doesn't go through {thickness:g} mm", layer=cut.layer, thickness=self.thickness)

    @cached_property
    def tabs(self) -> list[Any]:
        """The boxes that no pass goes through."""
        return [flat_of(ring) for ring in self.drawn.rings.get(TAB, ())]

    @cached_property
    def tab_tree(self) -> Any:
        """The boxes, to be asked for those near by."""
        from shapely import STRtree

        return STRtree(self.tabs)

    @cached_property
    def taken(self) -> Any:
        """What is gone at the lower face after every pass, piece by piece, to be asked for by place."""
        from shapely import STRtree, union_all

        taken: list[BaseGeometry] = []
        for cut in self.above:
            if cut.task == "OUTSIDE" and cut.depth > self.thickness - ROUNDED:
                walk = walk_of(cut)
                near = [self.tabs[i] for i in self.tab_tree.query(walk, "dwithin", cut.radius).tolist()]
                lifted = union_all(near).buffer(cut.radius - 1e-4, 32)
                taken.append(walk.difference(lifted).buffer(cut.radius + 1e-3, 32))
            elif cut.task in ("INSIDE", RELIEF) and cut.depth > self.thickness:
                taken.append(cleared_by(cut))
        taken += [cleared_by(cut) for cut in self.below if cut.task != "BY_HAND"]
        return STRtree(taken)

    def low(self, place: Any) -> Any:
        """What is left of a small place at the lower face: one pass after the other is taken off, since to join
        passes that run all round their parts takes ten times as long."""
        for i in self.taken.query(place, "intersects").tolist():
            place = place.difference(self.taken.geometries[i])
        return place

    @cached_property
    def low_board(self) -> Any:
        """What is left of the whole sheet at the lower face; three checks ask for it."""
        from shapely import union_all

        return flat_of(rectangle(0, 0, *self.size)).difference(union_all(self.taken.geometries))

    @cached_property
    def firm(self) -> Any:
        """What is left low down, with the parts above it, in one piece with the edge of the sheet by more than a
        crumb."""
        return self._hanging(0.05)

    def _hanging(self, thin: float) -> Any:
        """What is in one piece with the edge of the sheet by more than twice as much."""
        from shapely import prepare, union_all

        board = flat_of(rectangle(0, 0, *self.size))
        left: Any = union_all([self.low_board, *(flat_of(part.ring) for part in self.laid)]).buffer(-thin)
        whole = union_all([one for one in getattr(left, "geoms", (left,)) if one.distance(board.boundary) < 2 * thin])
        prepare(whole)
        return whole

    def _holds(self) -> Iterator[str]:
        """Every part hangs on the sheet, or is large enough for suction, and no tab stands at a joint."""
        least = next(
            (size_of(told["least"]) for text in self.words if (told := read_as(translated(SUCTION), text))), None
        )
        for part in self.laid:
            code, wood = part.recorded.code, flat_of(part.ring)
            is_sucked = least is not None and wood.area >= least
            if not is_sucked and not self.firm.covers(wood.buffer(-0.15)):
                yield worded("{code} is loose after its last pass", code=code)
            if not self._is_skinned(part):
                for joint in _joints(part):
                    strip = joint.buffer(BESIDE_JOINT, cap_style="flat").difference(wood.buffer(0.05))
                    left = self.low(strip)
                    if left.area > SPECK and left.difference(self.by_hand).area > SPECK:
                        yield worded(
                            "{code}: wood stands on the face of a joint {spot}", code=code, spot=spot_of(joint)
                        )

    def _waste(self) -> Iterator[str]:
        """What falls out between the parts is marked, and what is marked falls out."""
        from shapely import union_all

        parts = union_all([flat_of(part.ring) for part in self.laid])
        rest: Any = self.low_board.difference(union_all([parts, self.firm.buffer(0.06)]))
        free = rest.buffer(-SLIM / 2).buffer(SLIM / 2)
        told = [flat_of(ring) for ring in self.drawn.rings.get(WASTE, ())]
        known = union_all(told).buffer(0.2)
        for piece in getattr(free, "geoms", (free,)):
            if piece.difference(known).buffer(-SLIM / 2).area > PIECE:
                yield worded("waste comes loose that isn't told {spot}", spot=spot_of(piece))
        for one in told:
            if one.intersection(self._hanging(WORN)).buffer(-SLIM / 2).area > PIECE:
                yield worded("what is told to come loose doesn't {spot}", spot=spot_of(one))

    @cached_property
    def by_hand(self) -> Any:
        """What is left by the bit from above and told."""
        from shapely import union_all

        return union_all([flat_of(cut.ring) for cut in self.above if cut.task == "BY_HAND"]).buffer(0.05)

    def _is_skinned(self, part: Part) -> bool:
        """Whether its line is cut to a skin only."""
        skins = (cut for cut in self.above if cut.task == "OUTSIDE" and cut.depth <= self.thickness - ROUNDED)
        return any(cut.ring.bounds.meets(part.ring.bounds) and apart(cut.ring, part.ring)[0] < TRUE for cut in skins)

    def _tabs(self) -> Iterator[str]:
        """Every tab stands whole, and reaches wood on two sides that it alone joins there."""
        from shapely import STRtree, union_all

        boxes = STRtree([box.buffer(NECK) for box in self.tabs])
        rest: Any = self.low_board.difference(union_all(boxes.geometries))
        tree = STRtree([piece for piece in getattr(rest, "geoms", (rest,)) if piece.area > SPECK])
        for box in self.tabs:
            if box.area - self.low(box).area > SPECK:
                yield worded("a tab is cut off {spot}", spot=spot_of(box))
            round_it = box.buffer(NECK + 0.01)
            near = boxes.geometries[boxes.query(round_it, "intersects")]
            rim: Any = self.low(round_it.difference(union_all(near)))
            grips = [one for one in getattr(rim, "geoms", (rim,)) if one.area > GRIPPED]
            held = {i for one in grips for i in tree.query(one.representative_point(), "within").tolist()}
            if len(held) < 2:
                yield worded("a tab ends in air {spot}", spot=spot_of(box))


def _taken(part: Part, cut: Swept) -> float:
    return float(flat_of(part.ring).intersection(cleared_by(cut)).area)


def _clears(cut: Swept) -> bool:
    return cut.task not in ("BY_HAND", "OUTSIDE", "PIN_HOLE")


def _laid(piece: Record, parts: Mapping[str, Recorded]) -> Iterator[Part]:
    for entry in piece["placements"]:
        if entry["code"] in parts:
            told, way = piece["sawn_out"][entry["code"]], placement_in(entry)
            ring = way.outline(outline_in(told["outline"])).anticlockwise
            yield Part(parts[entry["code"]], way, ring, bool(told.get("finished")))


def _joints(part: Part) -> Iterator[Any]:
    """The stretches of a part's line that become the face of a joint: its ends, worked edges, the sides of flat work
    that a mate bears on."""
    import shapely

    recorded, ring = part.recorded, flat_of(part.ring).exterior.buffer(1e-4)
    lines = []
    for name, side in recorded.sides.items():
        if name.startswith("end-") or recorded.on(name):
            end = side.start.plus(side.along, side.wood.bounds.right)
            lines.append(shapely.LineString([part.way.point(side.start), part.way.point(end)]))
    for work in recorded.works:
        if work.face in (TOP, BOTTOM) and work.kind in BEARING:
            plan = part.way.outline(recorded.from_above(work))
            lines += [shapely.LineString([edge.start, edge.end]) for edge in plan.edges if not edge.bulge]
    yield from (line for line in lines if ring.covers(line))
