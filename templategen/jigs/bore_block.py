"""Blocks that guide a drill held in the hand: one on two knife lines, one astride a leg's tenon."""

from collections.abc import Iterator
from math import ceil

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, hole, line, piece, shown
from templategen.joinery.bolt import BoltAndNut
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.table.rails import top_bolt, top_leg_joint, top_peg

GUIDED = 3.0
"""Height of a block as a multiple of the bit's diameter, to keep the bit square (shop practice)."""

LEAST_HIGH = 30.0
"""The least height of a block, however thin the bit, mm."""

AROUND = 30.0
"""Width of block round its hole, for clamps and reference lines, mm."""

SHORT = 1.0
"""Gap between the cheeks and the leg's shoulders, mm."""

BEFORE_USE = "Back the bit out often to clear it; a block that has grown hot or loose is made anew."

CAUTIONS = (
    "Clamp block and work; never hold either in the hand. Both hands on the drill, feet apart: the bit may catch.",
    "Measure and change bits with the drill unplugged.",
)


def bore_block(table: Table) -> Iterator[Jig]:
    """A block for each bore of a bolted top that is told by two distances; none where the top is glued on."""
    bolt, profile = top_bolt(table.sizes), table.profile
    if bolt is None:
        return
    bores = (
        (translated("counterbore"), bolt.counterbore, bolt.sink), (translated("bolt hole"), bolt.hole, 0.0),
        (translated("cross bore"), bolt.nut, bolt.cross),
    )  # fmt: skip
    pieces: list[Part] = []
    scribes: list[Scribe] = []
    figures: list[Critical] = []
    for number, (name, across, deep) in enumerate(bores, 1):
        code, reach = f"BORE-BLOCK-{number}", across / 2 + AROUND
        shape, middle = rectangle(-reach, -reach, reach, reach), Point(0, 0)
        plate, count = said("plate of the block, {name}", name=name), _plates(profile, across)
        pieces.append(piece(profile, code, plate, shape, count=count, holes=(hole(middle, across),)))
        scribes += _crossed(code, across / 2, reach)
        figures.append(Critical(said("{name}: diameter of the bit", name=name), across, "mm", code))
        if deep:
            high = _plates(profile, across) * profile.jigs.thickness
            figures.append(
                Critical(said("{name}: stop on the bit", name=name), deep + high, "mm", how="its depth + plates")
            )
    yield Jig(
        "BORE-BLOCK",
        "blocks that guide a drill",
        tuple(part.code for part in table.parts if part.kind == "leg" or part.cuts("counterbore")),
        tuple(pieces),
        tuple(scribes),
        tuple(figures),
        (
            _stacked(translated("the plates of each block")),
            "Carry the scribed lines down the block's sides with a square.",
            "Knife the two distances told on the wood; lay the block's lines on them and clamp it.",
            BEFORE_USE,
        ),
        (
            said(
                "Bore a test strip through each block: a square on it touches the bit all along, {within}.",
                within=_within(profile),
            ),
        ),
        CAUTIONS,
    )


def end_block(table: Table) -> Iterator[Jig]:
    """A block astride a leg's dry tenon, its hole in the tenon's middle and square to its end; none where the top is
    glued on."""
    bolt, profile, tenon = top_bolt(table.sizes), table.profile, top_leg_joint(table.sizes)
    if bolt is None:
        return
    wide, thick, plate, cheek = tenon.width, tenon.thickness, "END-BLOCK-PLATE", "END-BLOCK-CHEEK"
    count = _plates(profile, bolt.hole)
    high = end_block_high(table) + tenon.length - SHORT
    middle, edge, side = Point(wide / 2, thick / 2), Point(0, thick / 2), Point(wide / 2, 0)
    yield Jig(
        "END-BLOCK",
        "block that guides a drill into a leg's end",
        tuple(part.code for part in table.parts if part.kind == "leg"),
        (
            piece(profile, plate, "plate of the block", rectangle(0, 0, wide, thick), count=count,
                  holes=(hole(middle, bolt.hole),)),
            piece(profile, cheek, "cheek, on the tenon's face", rectangle(0, 0, wide, high), count=2),
        ),
        (line(cheek, Point(0, tenon.length - SHORT), Point(wide, tenon.length - SHORT), "plates from here up"),),
        (
            Critical("diameter of the bit", bolt.hole, "mm", plate),
            distance("tenon's edge to the middle of the bit", plate, edge, middle, "tenon width / 2"),
            distance("tenon's face to the middle of the bit", plate, side, middle, "tenon thickness / 2"),
            *_deep(bolt, end_block_high(table)),
        ),
        (
            _stacked(translated("the plates")),
            (
                "Stand the stack on the end of a leg's tenon, its edges level with the tenon's, and glue a cheek to"
                " either side against the tenon's faces, one thickness of paper between cheek and tenon."
            ),
            "Set it on each tenon, edges level, and clamp the cheeks; the bit goes on through the cross bore.",
            BEFORE_USE,
        ),
        (
            (
                said("Bore a test strip with the same tenon: the hole comes as far from both faces and from both "
                     "edges, {within}, where it goes in and where it meets the cross bore.", within=_within(profile))
            ),
        ),
        CAUTIONS,
    )  # fmt: skip


def end_block_high(table: Table) -> float:
    """How high the plates of the block on a leg's tenon are, which a bit passes first, mm; 0 where there is none."""
    bolt, profile = top_bolt(table.sizes), table.profile
    return _plates(profile, bolt.hole) * profile.jigs.thickness if bolt else 0.0


def draw_block(table: Table) -> Iterator[Jig]:
    """A block whose one hole is told from two edges: one goes level with the rail's underside, the other against the
    leg's shoulder, nearer by the draw; none where no leg is draw-bored."""
    peg, profile, code = top_peg(table.sizes), table.profile, "DRAW-BLOCK-PLATE"
    if peg is None:
        return
    reach, half, middle = peg.thickness / 2 + AROUND, peg.thickness / 2, Point(0, 0)
    count, left = _plates(profile, peg.thickness), Point(-reach, 0)
    by_shoulder, by_rail = Point(0, -peg.in_tenon), Point(0, peg.rise)
    yield Jig(
        "DRAW-BLOCK",
        "block that has the pegs' draw in it",
        tuple(part.code for part in table.parts if part.cuts("peg-hole")),
        (piece(profile, code, "plate of the block", rectangle(-reach, by_shoulder.y, reach, by_rail.y), count=count,
               holes=(hole(middle, peg.thickness),)),),
        (
            line(code, left, Point(-half, 0)),
            line(code, Point(half, 0), Point(reach, 0)),
            line(code, Point(0, half), by_rail, "RAIL"),
            line(code, Point(0, -half), by_shoulder, "LEG"),
        ),
        (
            Critical("diameter of the bit", peg.thickness, "mm", code),
            distance("middle of the hole to the edge RAIL", code, middle, by_rail, "legs.peg: its rise"),
            distance("middle of the hole to the edge LEG", code, by_shoulder, middle, "its rise - its draw"),
        ),
        (
            _stacked(translated("the plates")),
            "Write RAIL and LEG on the edges, on the block's sides too, and carry the lines down.",
            "On a rail: clamp a straight strip to its underside, RAIL against it, the line on the distance told.",
            "On a tenon: push LEG against the shoulder, the line on the tenon's middle; clamp it to the cheek.",
            BEFORE_USE,
        ),
        (
            said("Bore a test strip twice, RAIL level with its end, then LEG: from that end the holes differ by "
                 "{draw}, {within}.", draw=shown(peg.draw, profile), within=_within(profile)),
        ),
        CAUTIONS,
    )  # fmt: skip


def _plates(profile: Profile, across: float) -> int:
    """How many plates make a block high enough."""
    return ceil(max(LEAST_HIGH, GUIDED * across) / profile.jigs.thickness - 1e-9)


def _crossed(code: str, inner: float, outer: float) -> Iterator[Scribe]:
    """The lines through the hole's middle, from its rim to the edges."""
    for start, end in ((inner, outer), (-outer, -inner)):
        yield line(code, Point(start, 0), Point(end, 0))
        yield line(code, Point(0, start), Point(0, end))


def _deep(bolt: BoltAndNut, high: float) -> Iterator[Critical]:
    yield Critical("depth from the tenon's end", bolt.bore, "mm", how="tenon + down to the nut + nut / 2 + spare")
    yield Critical("stop on the bit, from the block's top", bolt.bore + high, "mm", how="the same + plates")


def _stacked(what: str) -> str:
    return said(
        "Glue {what} on top of each other about a waxed dowel as thick as the hole; draw it out before it sets.",
        what=what,
    )


def _within(profile: Profile) -> str:
    return said("within {near}", near=shown(0.3, profile))
