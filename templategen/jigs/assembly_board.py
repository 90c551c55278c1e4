"""The assembly board: the whole top marked out at full size, each part by its code, in pieces that join."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import atan2, cos, degrees, hypot

from templategen.catalogue import figured, translated, worded
from templategen.checks.describe import said
from templategen.geometry.edge import Line
from templategen.geometry.merge import merged
from templategen.geometry.outline import Outline, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point, polar
from templategen.geometry.tolerance import ON_EDGE
from templategen.jigs.board_pieces import BoardPiece, board_outline, parted, usable_sheet, within
from templategen.jigs.caul import Caul
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, mark, piece, shown
from templategen.jigs.wedge_board import STOP, Wedges
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.placed import Placed
from templategen.units import angle_words

EDGE = 15.0
"""Board outside the stops, mm."""

BATTEN = (300.0, 70.0)
"""A batten under a seam: across it and along it, mm."""

CODE_LINE = 24.0
"""Length of the line along which a part's code stands, mm."""

CODE_ROOM = 45.0
"""The distance to keep between a part's code and the nearest seam where possible, mm."""

LETTER_LINE = 12.0
"""Length of the line along which a joint's letter stands, mm."""

BESIDE = 18.0
"""How far beside its joint a letter stands, mm."""

WITNESS = 40.0
"""Length of a witness mark across a seam, mm."""

ON_BEARERS = {
    True: "Joined and on its bearers: stop lines of opposite joints {apart} apart, all pairs within {near}; the "
    "longest diagonals alike.",
    False: "On its bearers: stop lines of opposite joints {apart} apart, all pairs within {near}; the longest "
    "diagonals alike.",
}
"""What is measured on the board where it lies, by whether it is joined of several pieces."""

CARRIED = {
    True: "Two persons carry the pieces; bearers under the whole board, no seam in the air.",
    False: "Two persons carry the board; bearers under all of it.",
}

SHOWN = ("rim-segment", "rail", "slat")


def assembly_board(table: Table) -> Iterator[Jig]:
    """The board for one table."""
    board = _Board(table)
    profile = table.profile
    yield Jig(
        "ASSEMBLY",
        "assembly board",
        tuple(part.code for part in table.parts if part.kind in SHOWN),
        tuple(_pieces(board)),
        (*_lines(board), *_codes(board), *_seams(board)),
        tuple(_figures(board)),
        tuple(_use(board)),
        (
            (
                said(
                    ON_BEARERS[len(board.pieces) > 1],
                    apart=shown(2 * board.wedges.reach, profile),
                    near=shown(0.5, profile),
                )
            ),
            "Two straight battens on edge across the board, sighted over: no twist to be seen.",
            "Lay the dry parts on their codes: every edge on its line before any glue is opened.",
        ),
        (said(CARRIED[len(board.pieces) > 1]),),
    )


@dataclass(frozen=True)
class _Board:
    """The board in the table's frame, seen from above with the top's upper face up."""

    table: Table

    @property
    def wedges(self) -> Wedges:
        """What stands on it."""
        return Wedges(Caul(self.table.sizes))

    @property
    def apothem(self) -> float:
        """From the axis to the board's flats."""
        return self.wedges.reach + STOP[1] + EDGE

    @cached_property
    def pieces(self) -> tuple[BoardPiece, ...]:
        """The pieces it is parted into."""
        outline = board_outline(self.table.sizes.segments, self.apothem)
        return parted(outline, usable_sheet(self.table.profile), self.table.profile.shop.router_bit)

    def code(self, part: BoardPiece) -> str:
        """The piece's code."""
        return f"ASSEMBLY-{1 + self.pieces.index(part)}"


def _pieces(board: _Board) -> Iterator[Part]:
    profile, count = board.table.profile, len(board.pieces)
    for number, one in enumerate(board.pieces, 1):
        name = translated("assembly board")
        if count > 1:
            name = said("assembly board, piece {number} of {count}", number=number, count=count)
        yield piece(profile, board.code(one), name, one.outline, "jig")
    seams = len(_seam_lines(board))
    if seams:
        yield piece(profile, "ASSEMBLY-BATTEN", "batten under a seam", rectangle(0, 0, *BATTEN), "jig", 3 * seams)


def _lines(board: _Board) -> Iterator[Scribe]:
    """Every part's edges and the stops' faces, each line once, cut at the seams."""
    aslant = all(_is_aslant(Point(1, 0).turned(one.turn)) for one in _slats(board.table))
    for whole in merged((*_part_lines(board.table), *_stop_lines(board))):
        for one in board.pieces:
            inside = within(whole, one.outline)
            if inside is not None:
                placed = aslant and _is_aslant(whole.direction_at(0.0)) and _is_in_first_field(board.table, whole)
                yield replace(mark(board.code(one), "line", inside), placed=placed)


def _slats(table: Table) -> list[Placed]:
    return [one for one in table.placed if table.part(one.code).kind == "slat"]


def _is_aslant(along: Point) -> bool:
    """Whether what runs so is told by no height and no distance from the left: neither level nor upright."""
    return min(abs(along.x), abs(along.y)) > ON_EDGE


def _is_in_first_field(table: Table, line: Line) -> bool:
    """Whether a line's middle lies between the first two rails and within the ring."""
    middle, field = line.point_at(0.5), table.sizes.field_angle
    aside = min(middle.dot(polar(1.0, turn).left) * way for turn, way in ((0.0, 1.0), (field, -1.0)))
    within_ring = middle.dot(polar(1.0, field / 2)) < table.sizes.inner_apothem - ON_EDGE
    return aside > table.sizes.half_rail + ON_EDGE and within_ring


def _part_lines(table: Table) -> Iterator[Line]:
    for placed in table.placed:
        part = table.part(placed.code)
        if part.kind in SHOWN:
            spot = Placement(placed.at.x, placed.at.y, placed.turn, placed.turned_over)
            yield from (edge for edge in spot.outline(_shape(table, part)).edges if isinstance(edge, Line))


def _shape(table: Table, part: Part) -> Outline:
    """What is marked: the blank of a segment, a rail between its shoulders, a slat between its own."""
    if part.kind == "rim-segment":
        return part.blank
    if part.kind == "rail":
        a, b = table.sizes.inner_apothem, table.sizes.half_rail
        return rectangle(-a, -b, a, b)
    return part.body or part.outline


def _stop_lines(board: _Board) -> Iterator[Line]:
    half = STOP[0] / 2
    for joint in range(board.table.sizes.segments):
        spot = board.wedges.stop_placement(joint)
        yield Line(spot.point(Point(-half, 0)), spot.point(Point(half, 0)))
        yield Line(spot.point(Point(0, 0)), spot.point(Point(0, STOP[1])))


def _codes(board: _Board) -> Iterator[Scribe]:
    """Its code on each part, clear of the seams; on a rail on both arms."""
    for spots, turn, code in _labels(board.table):
        half = Point(CODE_LINE / 2, 0).turned(turn)
        at, one = max(((spot, one) for spot in spots for one in board.pieces), key=_room)
        yield mark(board.code(one), "name", Line(at.plus(half, -1), at.plus(half)), code)


def lettered(table: Table, jig: Jig, letters: Mapping[int, str]) -> Jig:
    """The board with the `letters` of the joints that are glued on it, by their number: mitres and rails' ends, these
    with their arms."""
    board, scribes = _Board(table), []
    for number, letter in letters.items():
        spots, along = _joint_spots(table, number)
        if spots:
            at, one = max(((spot, one) for spot in spots for one in board.pieces), key=_room)
            told, half = f"({letter}){_arm(table, number)}", along.times(LETTER_LINE / 2)
            scribes.append(mark(board.code(one), "name", Line(at.minus(half), at.plus(half)), told))
    return replace(jig, scribes=(*jig.scribes, *scribes))


def _arm(table: Table, number: int) -> str:
    """The number of the arm whose rail ends in a joint, counted from the first anticlockwise."""
    joint = table.joints[number]
    at = next(one.at for one in (table.placed[i] for i in joint.placed) if table.part(one.code).kind == "rim-segment")
    arm = round(atan2(at.y, at.x) / table.sizes.field_angle) % table.sizes.arms
    return f" {worded('arm {arm}', arm=arm + 1)}" if joint.kind == "rail-tenon" else ""


def _joint_spots(table: Table, number: int) -> tuple[list[Point], Point]:
    """Where a joint's letter may stand on the board, the best first, and which way it runs, along the ring; none for
    what isn't joined there."""
    joint, sizes = table.joints[number], table.sizes
    ring = [one for one in (table.placed[i] for i in joint.placed) if table.part(one.code).kind == "rim-segment"]
    if joint.kind == "mitre":
        out = Point(sum(one.at.x for one in ring), sum(one.at.y for one in ring)).unit
        near, far = (apothem / cos(sizes.mitre) for apothem in (sizes.inner_apothem, sizes.outer_apothem))
        aside = out.left.times(BESIDE)
        return [out.times(near + (far - near) * share).plus(aside) for share in (0.5, 0.3, 0.7)], out.left
    if joint.kind == "rail-tenon":
        at = Point(ring[0].at.x, ring[0].at.y)
        out = at.unit
        return [at.plus(out, LETTER_LINE).plus(out.left.times(share)) for share in (0.0, BESIDE, -BESIDE)], out.left
    return [], Point(1.0, 0.0)


def _room(place: tuple[Point, BoardPiece]) -> float:
    """How far inside a piece a code stands, up to the distance that matters; of equal places the first is used."""
    spot, one = place
    inside = one.outline.contains(spot)
    return min(round(one.outline.distance(spot), 6), CODE_ROOM) * (1 if inside else -1)


def _labels(table: Table) -> Iterator[tuple[list[Point], float, str]]:
    """Each part's code, its direction, and the places where it may stand, the best first."""
    for placed in table.placed:
        part = table.part(placed.code)
        if part.kind not in SHOWN:
            continue
        spot = Placement(placed.at.x, placed.at.y, placed.turn, placed.turned_over)
        box = _shape(table, part).bounds
        if part.kind == "rail":
            start, end = table.sizes.apex_along_arm, table.sizes.inner_apothem
            for side in (-1, 1):
                xs = [side * (start + (end - start) * share) for share in (0.5, 0.35, 0.65)]
                across = [share * table.sizes.half_rail for share in (0.0, 0.5, -0.5)]
                yield [spot.point(Point(x, y)) for y in across for x in xs], placed.turn, part.code
        else:
            xs = [box.centre.x + box.width * share for share in (0.0, -0.15, 0.15, -0.3, 0.3)]
            yield [spot.point(Point(x, box.centre.y)) for x in xs], placed.turn, part.code


def _seam_lines(board: _Board) -> list[tuple[BoardPiece, BoardPiece, Line]]:
    """Where two pieces meet, and the line they share, lower or left piece first."""
    found = []
    for i, one in enumerate(board.pieces):
        for other in board.pieces[i + 1 :]:
            for edge in one.outline.anticlockwise.edges:
                middle = edge.point_at(0.5)
                if isinstance(edge, Line) and edge.length > 1 and other.outline.distance(middle) < 1e-6:
                    shared = within(edge, other.outline)
                    if shared is not None:
                        found.append((one, other, shared))
    return found


def _seams(board: _Board) -> Iterator[Scribe]:
    """Three witness marks across each seam, on both pieces, numbered alike: they line up when the board is joined."""
    letter = 0
    for one, other, seam in _seam_lines(board):
        out = seam.direction_at(0.0).left
        for share in (0.12, 0.5, 0.88):
            at, name = seam.point_at(share), f"S{letter + 1}"
            letter += 1
            for part in (one, other):
                side = 1 if part.outline.contains(at.plus(out, 1.0)) else -1
                yield mark(board.code(part), "witness", Line(at, at.plus(out, side * WITNESS)), name)


def _figures(board: _Board) -> Iterator[Critical]:
    sizes, apart = board.table.sizes, 2 * board.wedges.reach
    yield Critical("stop line to opposite stop line", apart, "mm", how="2 (corner + back + gap)")
    yield Critical("across the blanks' outer flats", 2 * sizes.outer_apothem, "mm", how="diameter + 2 saw allowance")
    yield Critical("across the ring's inner flats", 2 * sizes.inner_apothem, "mm", how="2 (apothem - rim width)")
    for one in board.pieces:
        ends = max(
            ((p, q) for p in one.outline.points for q in one.outline.points),
            key=lambda pair: round(hypot(pair[0].x - pair[1].x, pair[0].y - pair[1].y), 6),
        )
        yield distance(
            said("longest diagonal of {code}", code=board.code(one)),
            board.code(one),
            *ends,
            "joins two corners of the piece",
        )


def _use(board: _Board) -> Iterator[str]:
    table = board.table
    if len(board.pieces) > 1:
        yield (
            "Join the pieces upside down on a flat floor: marks of one number in line, edges tight, battens "
            "glued and screwed under each seam."
        )
    yield "Marks are seen from above with the top's upper face up, as in the plan; parts lie between their lines."
    yield said(
        "Figures stand for lines along and across the board. The others lie alike, turned about its middle: rails "
        "by {field}, slats by half a turn, segments and stops by {segment}; mitres join the corners."
        if table.profile.slats.run == "straight"
        else "Figures stand for lines along and across the board. The others lie alike, turned about its middle: "
        "rails and slats by {field}, segments and stops by {segment}; mitres join the corners.",
        field=figured(angle_words(degrees(table.sizes.field_angle))),
        segment=figured(angle_words(degrees(2 * table.sizes.mitre))),
    )
    packing = table.sizes.slat_underside
    if packing > 0:
        yield said(
            "Pack the slats up on strips planed to what the rails measure less {less}, {high} where they came out"
            " right: grooves are measured from the top.",
            less=shown(table.profile.top.thickness - packing, table.profile),
            high=shown(packing, table.profile),
        )
    yield "Its stop lines are for the wedges' stops, where wedges press the ring; with a band they stay bare."
    if table.profile.top.edge == "sawn":
        yield "Segments lie on their blanks' lines: the ring is sawn round after it is glued."
    yield "Wax the board or lay film on it where glue may run."
