"""Holes in which a cut begins that starts in the wood: the cutter stands in one before it turns, clear of the wood at
every pass. A round hole as wide as the cut is too small: at its end line the bit would stand in a corner of it."""

from collections.abc import Iterator, Mapping
from math import isclose

from templategen.catalogue import figured
from templategen.checks.describe import said
from templategen.parts.part import Part
from templategen.shop.set_ups.feed import is_closed
from templategen.shop.set_ups.set_up import Cut, SetUp
from templategen.table.assembly import Table
from templategen.table.profile.choices import HandTool, Machine, Units
from templategen.units import MM_PER_INCH, length_by_rule

BORERS: tuple[Machine | HandTool, ...] = ("drill press", "drill", "brace")
"""What bores them."""

CLEAR: Mapping[Units, float] = {"mm": 0.5, "in": float(MM_PER_INCH) / 64}
"""How far a squared hole goes past the cut's lines all round, mm (shop practice)."""

BELOW: Mapping[Units, float] = {"mm": 1.0, "in": float(MM_PER_INCH) / 32}
"""How much deeper than the cut a hole is bored, so that the bit turns free at its last level, too, mm (shop
practice)."""

NEAR = 0.01
"""Distances within this are one, mm."""


def starts(table: Table, set_up: SetUp) -> Iterator[str]:
    """Where the holes stand, for each cut that is closed at both ends, and how large those are made that it starts
    in."""
    closed, units = list(filter(is_closed, set_up.cuts)), table.profile.units
    for cut in closed:
        for code in cut.codes:
            wide = set_up.value("width", cut)
            sizes = wide, set_up.value("height", cut) + BELOW[units], set_up.value("fence", cut) + wide / 2
            one, other = _middles(set_up, cut, table.part(code), wide)
            across, deep, off, near, far = (figured(length_by_rule(size, units)) for size in (*sizes, one, other))
            told = (
                "{code}: first bore both ends of the cut, {across} across and {deep} deep, that end clamped level:"
                " middles {off} from the face at the fence, {near} and {far} from the corner on the outer edge"
                if set_up.operation == "spline slot"
                else "{code}: first bore both ends of the cut, {across} across and {deep} deep, the piece clamped on"
                " edge: middles {off} from the face at the fence, {near}[ and {far}] inside the corners of that edge"
            )
            far = "" if isclose(one, other, abs_tol=NEAR) else far
            yield said(told, code=code, across=across, deep=deep, off=off, near=near, far=far)
    if of_rim := [cut for cut in closed if any(table.part(code).kind == "rim-segment" for code in cut.codes)]:
        # a test strip has no mitred ends to meet the blocks
        yield said(
            "first on a piece of the scrap ring: set it down at the rear block, mark its hole over the cutter, and"
            " bore it there; feed it {far} at most, as far as the part goes",
            far=figured(length_by_rule(min(_fed(set_up, cut) for cut in of_rim), units)),
        )
    for wide in dict.fromkeys(set_up.value("width", cut) for cut in closed):
        yield said(
            "chop the hole that lies over the cutter, the piece at the rear block, out to {square} square about its"
            " middle: the bit stands free in it at every pass",
            square=figured(length_by_rule(wide + 2 * CLEAR[units], units)),
        )


def _fed(set_up: SetUp, cut: Cut) -> float:
    """How far a part is fed from its rear block to its front block, mm."""
    start, end = (one.figure.value for one in cut.otherwise if one.name in ("start", "end"))
    return end - start - set_up.value("cutter", cut)


def _middles(set_up: SetUp, cut: Cut, part: Part, wide: float) -> tuple[float, float]:
    """How far in they stand: in a groove each from its own corner, left first, in a mitre both from the outer one."""
    if set_up.operation == "spline slot":
        start, end = (one.figure.value for one in cut.otherwise if one.name in ("start", "end"))
        return start + wide / 2, end - wide / 2
    groove = part.cuts("groove")[0]
    face, box = part.face(groove.face).outline.bounds, groove.outline.bounds
    return box.left - face.left + wide / 2, face.right - box.right + wide / 2
