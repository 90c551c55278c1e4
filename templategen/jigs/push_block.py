"""Blocks that push a piece along a fence, its end against it: what carries ends over a cutter, and backs the cut."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil, cos, degrees, sin

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.geometry.outline import Outline, polygon
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.jigs.end_hold import DEEP, JAW, Hold, held
from templategen.jigs.jig import Critical, Jig
from templategen.jigs.piece import distance, piece, shown, tidy
from templategen.parts.part import Part
from templategen.parts.sides import side
from templategen.table.assembly import Table

FRONT = 150.0
"""The edge that the piece lies against, at the least, mm."""

OVER = 12.0
"""Wood over the highest cut, mm."""

SAME = 1e-4
"""Leans within this are one, degrees."""


@dataclass(frozen=True, slots=True)
class PushBlock:
    """A block for all that leans alike; `front` is the length of the edge that the piece lies at where it leans the
    way it is pushed. Turned over it leans back. Where scrap is told it is made twice."""

    lean: float
    front: float
    holds: tuple[Hold, ...]

    @property
    def outline(self) -> Outline:
        """Seen from above: an edge on the fence, y = 0, the piece at its front; it is pushed towards -x. Its back is
        parallel to its front, so that a clamp's jaws find both square."""
        along, ahead = Point(-sin(self.lean), -cos(self.lean)), Point(-cos(self.lean), sin(self.lean))
        far = along.times(self.front)
        return polygon((Point(0.0, 0.0), far, far.plus(ahead, -DEEP), Point(DEEP / cos(self.lean), 0.0)))

    def lying(self, one: Hold) -> tuple[Outline, ...]:
        """The block as it lies at a piece, and the second before that where there is one."""
        back = DEEP / cos(self.lean)
        own = self.outline if one.lean >= 0 else Placement(back, turned_over=True).outline(self.outline)
        if one.scrap is None:
            return (own,)
        return own, Placement(-one.wide / cos(self.lean) - back).outline(own)

    @property
    def count(self) -> int:
        """How many are made."""
        return 2 if any(one.scrap is not None for one in self.holds) else 1


def push_blocks(table: Table) -> tuple[PushBlock, ...]:
    """The blocks that ends are held against, least lean first."""
    found: dict[float, list[Hold]] = {}
    for one in held(table):
        lean = next((lean for lean in found if abs(degrees(lean - abs(one.lean))) < SAME), abs(one.lean))
        found.setdefault(lean, []).append(one)
    found = {lean: list(_at_one_place(holds)) for lean, holds in found.items()}
    return tuple(
        PushBlock(lean, tidy(table.profile, max(FRONT, *(one.reach for one in holds))), tuple(holds))
        for lean, holds in sorted(found.items())
    )


def _at_one_place(holds: Iterable[Hold]) -> Iterator[Hold]:
    """The holds with the clamp where most others have it, too, if they have wood there."""
    kept = list(holds)
    for one in kept:
        alike = [each.clamp for each in kept if each.scrap is one.scrap is None and each.lean * one.lean >= 0]
        place = max((at for at in alike if at + JAW / 2 <= one.both[1]), default=one.clamp)
        yield replace(one, clamp=max(one.clamp, place))


def end_sled(table: Table) -> Iterator[Jig]:
    """A block for each angle at which ends are rebated; turned over it serves the other hand."""
    blocks, profile = push_blocks(table), table.profile
    if not blocks:
        return
    codes = tuple(dict.fromkeys(hold.code for one in blocks for hold in one.holds))
    deepest = max(f.depth for code in codes for f in table.part(code).cuts("tongue", "tenon"))
    layers = max(2, ceil((deepest + OVER) / profile.jigs.thickness))
    yield Jig(
        "END-SLED",
        "sled for ends: blocks along the fence",
        codes,
        tuple(_pieces(table, blocks, layers)),
        (),
        tuple(_figures(blocks)),
        tuple(_use(blocks)),
        ("Cut two test pieces, turn one over and lay the shoulders together: no light.",),
        ("Both hands behind the block's front; the piece comes off once it is past the cutter.",),
        ways=tuple(_ways(table, blocks)),
    )


def _use(blocks: tuple[PushBlock, ...]) -> Iterator[str]:
    yield (
        "A short edge along the machine's fence, the piece before it on the table itself, end flat on the fence, edge"
        " along the block's front, a clamp square across both; pushed from right to left as drawn. At the block lies"
        " the upper edge for a left end with the underside down and a right end with the top down, else the lower."
    )
    if any(one.count > 1 for one in blocks):
        yield (
            "Where scrap is told a second block goes before the piece, and between both, further out, scrap of the"
            " same strip: the clamp over both blocks presses piece and scrap alike."
        )
    yield "The first pass cuts the block too: it backs the wood; a lower cut after a higher one wants a fresh edge."


HEADS = ("pieces", "end, face down", "block", "clamp from the fence", "scrap from", "corner")


def _ways(table: Table, blocks: tuple[PushBlock, ...]) -> Iterator[tuple[str, ...]]:
    """Which piece lies how, and where the clamp goes: a row for all that is held alike; no column is empty."""
    rows = [tuple(map(translated, HEADS))]
    for number, block in enumerate(blocks, 1):
        found: dict[tuple[str, ...], list[Hold]] = {}
        for one in sorted(block.holds, key=lambda one: one.lean < 0):
            lies = said("{number}[, {way}]", number=number, way=_way_up(one))
            scrap = "" if one.scrap is None else shown(one.scrap, table.profile)
            key = (lies, shown(one.clamp, table.profile), scrap, _corner(one))
            found.setdefault(key, []).append(one)
        rows += ((*lies, *key) for key, holds in found.items() for lies in _pieces_of(table, holds))
    kept = [place for place in range(len(HEADS)) if any(row[place] for row in rows[1:])]
    yield from (tuple(row[place] for place in kept) for row in rows)


def _way_up(one: Hold) -> str:
    """How the block lies."""
    if abs(degrees(one.lean)) < SAME:
        return ""
    return translated("as drawn") if one.lean > 0 else translated("turned over")


def _corner(one: Hold) -> str:
    """What saves a corner that the block doesn't back."""
    if not one.is_free:
        return ""
    if one.is_cut_again:
        return translated("free: this edge first, then the one beside it")
    return translated("free: knife it round first")


def _pieces_of(table: Table, holds: Iterable[Hold]) -> Iterator[tuple[str, str]]:
    """Parts, and their ends with the faces that lie down; those that lie alike together."""
    own: dict[str, dict[str, list[str]]] = {}
    for one in holds:
        own.setdefault(one.code, {}).setdefault(_end(one.end), []).append(side(one.down))
    alike: dict[str, list[str]] = {}
    for code, ends in own.items():
        told = ", ".join(f"{end}: {translated(' and ').join(faces)}" for end, faces in ends.items())
        alike.setdefault(told, []).append(code)
    order = [part.code for part in table.parts]
    yield from ((_run(codes, order), ends) for ends, codes in alike.items())


def _end(name: str) -> str:
    """An end, which of its edges."""
    end, _, number = name.partition("-")
    return said("{end}, edge {number} from below", end=side(end), number=number) if number else side(end)


def _run(codes: list[str], order: list[str]) -> str:
    """Codes that follow each other by the first and the last."""
    follow = all(order.index(b) - order.index(a) == 1 for a, b in pairwise(codes))
    return (
        said("{first} to {last}", first=codes[0], last=codes[-1]) if follow and len(codes) > 2 else ", ".join(codes)
    )


def _pieces(table: Table, blocks: tuple[PushBlock, ...], layers: int) -> Iterator[Part]:
    glued, deep = said("{layers} glued together", layers=layers), shown(DEEP, table.profile)
    for number, one in enumerate(blocks, 1):
        name = said("block, front and back {angle:deg} off square, {deep} apart", angle=degrees(one.lean), deep=deep)
        notes = (glued, *(("two such blocks",) if one.count > 1 else ()))
        yield piece(table.profile, f"END-SLED-{number}", name, one.outline, count=layers * one.count, notes=notes)


def _figures(blocks: tuple[PushBlock, ...]) -> Iterator[Critical]:
    for number, one in enumerate(blocks, 1):
        code, front = f"END-SLED-{number}", Point(-sin(one.lean), -cos(one.lean)).times(one.front)
        yield Critical(said("front of block {number}, off square", number=number), degrees(one.lean), "deg", code)
        yield distance(said("front of block {number}", number=number), code, Point(0, 0), front)
