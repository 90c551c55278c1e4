"""Blocks that push a piece along a fence, its end against it: what carries ends over a cutter, and backs the cut."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from math import ceil, cos, degrees, sin, tan

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.geometry.outline import Outline, polygon
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.jigs.angle_gauge import PAIR
from templategen.jigs.end_hold import FACES, JAW, Hold, held, hold
from templategen.jigs.jig import Critical, Jig
from templategen.jigs.piece import distance, piece, shown, step_of, tidy
from templategen.parts.part import Part
from templategen.parts.sides import side
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.units import length_by_rule

FRONT = 150.0
"""The edge that the piece lies against, at the least, mm."""

OVER = 12.0
"""Wood over the highest cut, mm."""

TURNED = "turned over"
"""How a block lies whose longer edge leads."""

DRAWN = "as drawn"
"""How it lies whose shorter edge leads."""

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
    def back(self) -> float:
        """From its front to its back, square to both."""
        return self.holds[0].back

    @property
    def outline(self) -> Outline:
        """Seen from above: an edge on the fence, y = 0, the piece at its front; it is pushed towards -x. Its back is
        parallel to its front, so that a clamp's jaws find both square."""
        along, ahead = Point(-sin(self.lean), -cos(self.lean)), Point(-cos(self.lean), sin(self.lean))
        far = along.times(self.front)
        return polygon((Point(0.0, 0.0), far, far.plus(ahead, -self.back), Point(self.back / cos(self.lean), 0.0)))

    def lying(self, one: Hold) -> tuple[Outline, ...]:
        """The block as it lies at a piece, and the second before that where there is one."""
        back = self.back / cos(self.lean)
        own = self.outline if one.lean >= 0 else Placement(back, turned_over=True).outline(self.outline)
        if one.scrap is None:
            return (own,)
        return own, Placement(-one.wide / cos(self.lean) - back).outline(own)

    @property
    def count(self) -> int:
        """How many are made."""
        return 2 if any(one.scrap is not None for one in self.holds) else 1


def clamp_opening(table: Table) -> float:
    """How wide the clamp opens that presses a piece, with its scrap, between blocks, mm; 0 where there are none."""
    holds = [one for block in push_blocks(table) for one in block.holds]
    return max((one.wide + one.back * (1 if one.scrap is None else 2) for one in holds), default=0.0)


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
        tuple(_use(blocks, profile.units)),
        ("Cut two test pieces, turn one over and lay the shoulders together: no light.",),
        ("Both hands behind the block's leading edge; the piece comes off once it is past the cutter.",),
        ways=tuple(_ways(table, blocks)),
    )


def _use(blocks: tuple[PushBlock, ...], units: Units) -> Iterator[str]:
    every = [one for block in blocks for one in block.holds]
    yield (
        "Screw the mitre gauge, turned to it, against its back, the machine's fence parallel to the slot; without a"
        " slot, or where the gauge doesn't turn so far or a jaw wants its place, screw a handle on top, behind the"
        " clamp, and press to the fence as you push; on the other side once the block is turned over."
    )
    yield said(
        "A short end along the machine's fence, the piece before it on the table itself, end flat on the fence, edge"
        " along the edge of the block that leads: as drawn its shorter one, turned over its longer; a clamp square"
        " across both, so far up that edge from the fence, its jaws {jaw} wide at most, clear of the table; pushed"
        " from right to left as drawn. The upper edge comes to the block with a left end's underside down and a right"
        " end's top, else the lower.",
        jaw=figured(length_by_rule(JAW, units, 0, 4)),
    )
    if any(one.scrap is not None for one in every):
        yield (
            "Where scrap is told a second block goes before the piece, and between both, from there outwards, scrap"
            " of the same strip: the clamp over both blocks presses piece and scrap alike."
        )
    if any(one.is_free and one.is_cut_again for one in every):
        yield "First: its corner is off the block, so this edge is cut before the one beside it, as the card tells."
    if any(one.is_free and not one.is_cut_again for one in every):
        yield "Knifed: beside an edge without a tongue its corner is off the block: knife the shoulder round first."
    yield "The first pass cuts the block too: it backs the wood; a lower cut after a higher one wants a fresh edge."


TRIED = "test pieces, the edge that ends in the sharp corner there as the upper one"
"""What lies at a block with an end kept from the saw's trial."""

HEADS = ("pieces", "block", "upper edge at it, clamp", "lower edge at it, clamp")


def _ways(table: Table, blocks: tuple[PushBlock, ...]) -> Iterator[tuple[str, ...]]:
    """Which end goes to which block and where the clamp goes: a row for all that is held alike."""
    yield tuple(map(translated, HEADS))
    for number, block in enumerate(blocks, 1):
        cells: dict[tuple[str, str], dict[str, str]] = {}
        for one in block.holds:
            cells.setdefault((one.code, one.end), {})[one.edge] = _held(table, one)
        found: dict[tuple[str, str], dict[str, list[str]]] = {}
        for (code, end), told in cells.items():
            key = told.get("high", ""), told.get("low", "")
            found.setdefault(key, {}).setdefault(code, []).append(_end(end))
        rows = {key: list(_pieces_of(table, ends)) for key, ends in found.items()}
        if tried := _tried(table, blocks, block):
            rows.setdefault(tried, []).append(translated(TRIED))
        for key, pieces in rows.items():
            yield "; ".join(pieces), str(number), *key


def _tried(table: Table, blocks: Iterable[PushBlock], block: PushBlock) -> tuple[str, str] | None:
    """How a test piece of slats lies at a block with the end kept from the saw's trial at its angle; None where a
    strip's square end serves, or no slat comes to the block."""
    holds = [one for each in blocks for one in each.holds if table.part(one.code).kind == "slat"]
    own = [table.part(one.code) for one in block.holds if one in holds]
    if not own or any(abs(degrees(one.lean)) <= SAME for one in holds):
        return None
    slat, (long, wide) = own[0], (PAIR[table.profile.units], max(part.size[1] for part in own))
    ring = polygon(((wide * tan(block.lean), 0.0), (long, 0.0), (long, wide), (0.0, wide)))
    trial = replace(slat, blank=ring, outline=ring, features=(), body=None)
    step, deep = step_of(table.profile), table.sizes.tongue_length
    found = [one for down in FACES if (one := hold(trial, "left", down, deep, step))]
    told = {one.edge: _held(table, one) for one in list(_at_one_place((*block.holds, *found)))[-len(found) :]}
    return told["high"], told["low"]


def _held(table: Table, one: Hold) -> str:
    """How the block lies, where the clamp goes and scrap begins, and what is done where the end's corner is
    off the block."""
    turned = abs(degrees(one.lean)) > SAME
    return said(
        "[{drawn}, ][{over}, ]{clamp}[, scrap {scrap}][, {first}][, {knifed}]",
        drawn=translated(DRAWN) if turned and one.lean > 0 else "",
        over=translated(TURNED) if turned and one.lean < 0 else "",
        clamp=shown(one.clamp, table.profile),
        scrap="" if one.scrap is None else shown(one.scrap, table.profile),
        first=translated("first") if one.is_free and one.is_cut_again else "",
        knifed=translated("knifed") if one.is_free and not one.is_cut_again else "",
    )


def _pieces_of(table: Table, ends: Mapping[str, list[str]]) -> Iterator[str]:
    """Parts with their ends; those with the same together."""
    alike: dict[str, list[str]] = {}
    for code, own in ends.items():
        alike.setdefault(", ".join(own), []).append(code)
    order = [part.code for part in table.parts]
    yield from (f"{_run(codes, order)}: {own}" for own, codes in alike.items())


def _end(name: str) -> str:
    """An end, which of its edges."""
    end, _, number = name.partition("-")
    return said("{end}, edge {number} from below", end=side(end), number=number) if number else side(end)


def _run(codes: list[str], order: list[str]) -> str:
    """Codes of one hand that follow each other by the first and the last."""
    runs: list[list[str]] = []
    for code in codes:
        follows = runs and order.index(code) == order.index(runs[-1][-1]) + 1
        if follows and _hand(code) == _hand(runs[-1][-1]):
            runs[-1].append(code)
        else:
            runs.append([code])
    return ", ".join(
        said("{first} to {last}", first=run[0], last=run[-1]) if len(run) > 2 else ", ".join(run) for run in runs
    )


def _hand(code: str) -> str:
    """What follows a code's number: of which hand it is."""
    return code.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ-").lstrip("0123456789")


def _pieces(table: Table, blocks: tuple[PushBlock, ...], layers: int) -> Iterator[Part]:
    glued = said("{layers} glued together", layers=layers)
    for number, one in enumerate(blocks, 1):
        turned = degrees(one.lean) > SAME
        name = said(
            "block: strip {deep} wide, an end {angle:deg} off square, its shorter edge {front} long"
            if turned
            else "block: strip {deep} wide, square, {front} long",
            deep=shown(one.back, table.profile),
            angle=degrees(one.lean),
            front=shown(one.front, table.profile),
        )
        notes = (glued, *(("two such blocks",) if one.count > 1 else ()))
        yield piece(table.profile, f"END-SLED-{number}", name, one.outline, count=layers * one.count, notes=notes)


def _figures(blocks: tuple[PushBlock, ...]) -> Iterator[Critical]:
    for number, one in enumerate(blocks, 1):
        code, front = f"END-SLED-{number}", Point(-sin(one.lean), -cos(one.lean)).times(one.front)
        yield Critical(said("front of block {number}, off square", number=number), degrees(one.lean), "deg", code)
        yield distance(said("front of block {number}", number=number), code, Point(0, 0), front)
