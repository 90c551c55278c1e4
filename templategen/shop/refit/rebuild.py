"""The table once re-fitted: parts cut as they are, parts still to cut as they must be, each where it stands."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import atan2, fsum, pi

from templategen.catalogue import translated
from templategen.errors import DesignError, Fault
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.parts.part import Part
from templategen.shop.refit.piece import Laid, RingPiece
from templategen.shop.refit.rail import refitted_rail
from templategen.shop.refit.read import places
from templategen.shop.refit.ring import Seated, designed, edge_on_arm
from templategen.shop.refit.segment import GRAZE, Span, refitted_segment, too_short
from templategen.shop.refit.settle import SAME, Copy, Settled
from templategen.shop.refit.slats import Recut, agree, recut_slats, slat_part
from templategen.table.assembly import Table, with_mates
from templategen.table.placed import Placed, lying
from templategen.table.slat_parts import make_slats

SECOND = "-2"
"""Behind the code of a part drawn anew, so that its sheets are never taken for the first ones."""


@dataclass(frozen=True, slots=True)
class Rebuilt:
    """The re-fitted table, how many copies of each code are still to cut, the code in the first drawing of each new
    one, every slat as its place wants it and where tongues enter each segment (by number among the placed copies).
    `base` is the table that its shared sizes make, before any part got a shape of its own, `waiting` the copies (by
    number) still to cut."""

    table: Table
    base: Table
    to_cut: Mapping[str, int]
    was: Mapping[str, str]
    slats: Mapping[int, Recut]
    tongues: Mapping[int, Sequence[Span]]
    waiting: frozenset[int] = frozenset()

    @property
    def rest(self) -> Table:
        """The table with the parts still to cut alone, each as often as it is still wanted."""
        parts = (replace(part, count=self.to_cut.get(part.code, 0)) for part in self.table.parts)
        return replace(self.table, parts=tuple(part for part in parts if part.count))

    @property
    def new(self) -> tuple[str, ...]:
        """Codes drawn anew and still to cut."""
        return tuple(code for code, first in self.was.items() if code != first and self.to_cut.get(code))


@dataclass(slots=True)
class _Shape:
    """A shape met among the copies of one code: its part and the copies that have it."""

    part: Part
    cut: bool
    own: bool
    copies: list[int]


def copies_of(table: Table) -> list[Copy]:
    """Code and place of every placed copy, in order."""
    rest = {part.code: iter(places(table, part)) for part in table.parts}
    return [(placed.code, next(rest[placed.code])) for placed in table.placed]


def rebuild(drawn: Table, base: Table, settled: Settled, seated: Seated) -> Rebuilt:
    """`drawn` is the table as first drawn, `base` the same with the sizes that its parts share as measured.

    Raises: DesignError where the measured sizes would give other parts than were drawn.
    """
    _refuse_others(drawn, base)
    recut, spans = _slats(drawn, base, seated)
    copies = copies_of(drawn)
    shapes: dict[str, list[_Shape]] = defaultdict(list)
    for index, copy in enumerate(copies):
        part, own = _wanted(drawn, base, settled, seated, index, copy, recut, spans)
        _sort_in(shapes[copy[0]], part, copy in settled.cut, own, index)
    waiting = frozenset(index for index, copy in enumerate(copies) if copy not in settled.cut)
    return replace(_assembled(drawn, base, settled, seated, shapes, recut), tongues=spans, waiting=waiting)


def _refuse_others(drawn: Table, base: Table) -> None:
    """Sizes so far from the drawing that other parts, or more or fewer of them, would be needed."""
    if [p.code for p in drawn.placed] != [p.code for p in base.placed]:
        says = translated("the sizes measured would need other parts than were drawn")
        raise DesignError(
            Fault("measured", says, translated("write them into the profile, and make the packet anew"))
        )


def _slats(drawn: Table, base: Table, seated: Seated) -> tuple[dict[int, Recut], Mapping[int, Sequence[Span]]]:
    if base is drawn and not seated.changed:
        return {}, {}
    _, laid = make_slats(base.sizes, base.spacing)
    kinds = {part.code: part.kind for part in drawn.parts}
    first = next((i for i, placed in enumerate(drawn.placed) if kinds[placed.code] == "slat"), 0)
    made, spans = recut_slats(base.sizes, laid, seated.laid)
    return {first + number: one for number, one in enumerate(made)}, spans


def _wanted(
    drawn: Table, base: Table, settled: Settled, seated: Seated, index: int, copy: Copy,
    recut: Mapping[int, Recut], spans: Mapping[int, Sequence[Span]],
) -> tuple[Part, bool]:  # fmt: skip
    """What the copy is or must become, and whether it is this place's own."""
    first, part = drawn.part(copy[0]), base.part(copy[0])
    cut = copy in settled.cut
    if part.kind == "rim-segment":
        return _segment(first, part, base, seated, index, cut, _entered(drawn, seated, index, spans))
    if cut:
        return first, False
    if part.kind == "rail":
        return _rail(part, base, seated, index), False
    if index in recut:
        one = recut[index]
        same = first.body is not None and part.features == first.features and part.thickness == first.thickness
        if same and agree(one.outline, first.outline) and agree(one.body, first.body or first.outline):
            return first, False
        return slat_part(part, one, base.sizes), False
    return part, False


def _entered(drawn: Table, seated: Seated, index: int, spans: Mapping[int, Sequence[Span]]) -> list[Span]:
    """The tongues that enter a segment, of all places where one template serves several."""
    pieces, code = seated.closed.pieces, drawn.placed[index].code
    if pieces[index].cut or not seated.closed.alike:
        return list(spans.get(index, ()))
    shared = (i for i, piece in enumerate(pieces) if not piece.cut and drawn.placed[i].code == code)
    return [span for i in shared for span in spans.get(i, ())]


def _segment(
    first: Part, part: Part, base: Table, seated: Seated, index: int, cut: bool, spans: Sequence[Span]
) -> tuple[Part, bool]:
    piece = seated.closed.pieces[index]
    plain = designed(base.sizes)
    if cut and too_short(first, base.sizes, piece, spans) <= GRAZE:
        spans = ()
    if _same_piece(piece, plain) and not (cut and spans):
        return (first if cut else part), False
    own = cut or not seated.closed.alike
    centre = placement_of(seated.laid[index]).inverse.point(Point(0, 0))  # of the table, as the segment sees it
    if not own:
        alike = [one for one in seated.laid if not one.piece.cut]
        centre = Point(0, -fsum(one.corner.dot(one.outward) for one in alike) / len(alike))
        return refitted_segment(part, base.sizes, piece, centre, spans), False
    return refitted_segment(part, base.sizes, piece, centre, spans), True


def _same_piece(one: RingPiece, other: RingPiece) -> bool:
    """Whether two pieces are of one shape, cut or not."""
    sizes = [(p.length, p.left, p.right, p.width) for p in (one, other)]
    return all(abs(a - b) <= SAME / 1000 for a, b in zip(*sizes, strict=True))


def placement_of(laid: Laid) -> Placement:
    """Where a segment's own frame lies: its origin at the middle of its inner edge, x to the right."""
    return Placement(laid.middle.x, laid.middle.y, laid.heading - pi)


def _rail(part: Part, base: Table, seated: Seated, index: int) -> Part:
    if not seated.changed:
        return part
    sizes = base.sizes
    number = _rail_number(base, index)
    near, far = (edge_on_arm(sizes, seated.laid, arm) for arm in (number, number + sizes.rails))
    if max(abs(near - sizes.inner_apothem), abs(far - sizes.inner_apothem)) <= SAME:
        return part
    return refitted_rail(part, sizes, near, far)


def _rail_number(base: Table, index: int) -> int:
    codes = [placed.code for placed in base.placed]
    return index - next(i for i, code in enumerate(codes) if base.part(code).kind == "rail")


def _sort_in(shapes: list[_Shape], part: Part, cut: bool, own: bool, index: int) -> None:
    """Adds a copy to the shape it has, or makes a new one of it."""
    for shape in shapes:
        if not own and not shape.own and _alike(shape.part, part):
            shape.copies.append(index)
            return
    shapes.append(_Shape(part, cut, own, [index]))


def _alike(one: Part, other: Part) -> bool:
    if one is other:
        return True
    if one.kind != "slat" or one.thickness != other.thickness:
        return one == other
    assert one.body is not None and other.body is not None
    near = agree(one.outline, other.outline) and agree(one.body, other.body)
    return near and [f.depth for f in one.features] == [f.depth for f in other.features]


def _assembled(
    drawn: Table, base: Table, settled: Settled, seated: Seated,
    shapes: Mapping[str, Sequence[_Shape]], recut: Mapping[int, Recut],
) -> Rebuilt:  # fmt: skip
    copies = copies_of(drawn)
    parts: list[Part] = []
    was: dict[str, str] = {}
    to_cut: dict[str, int] = {}
    codes: dict[int, str] = {}
    for first in drawn.parts:
        for code, name, shape in _coded(first, shapes.get(first.code, ()), copies, recut):
            here = shape.copies
            parts.append(replace(shape.part, code=code, name=name, count=len(here)))
            was[code] = first.code
            todo = sum(copies[index] not in settled.cut for index in here)
            if todo:
                to_cut[code] = todo
            codes.update(dict.fromkeys(here, code))
    changed = any(code != first for code, first in was.items()) or seated.changed or base is not drawn
    if not changed:
        return Rebuilt(drawn, base, to_cut, was, recut, {})
    thick = {part.code: part.thickness for part in parts}
    placed = tuple(
        _level(base, index, thick[codes[index]], _stands(base, seated, index, codes[index]))
        for index in range(len(copies))
    )
    joints = tuple(replace(j, parts=(codes[j.placed[0]], codes[j.placed[1]])) for j in base.joints)
    table = replace(base, parts=with_mates(_named_mates(parts, was), joints), placed=placed, joints=joints)
    return Rebuilt(table, base, to_cut, was, recut, {})


def _coded(
    first: Part, shapes: Sequence[_Shape], copies: Sequence[Copy], recut: Mapping[int, Recut]
) -> Iterator[tuple[str, str, _Shape]]:
    """Each shape with its code and name: the first drawing's where it is unchanged."""
    anew = [shape for shape in shapes if not shape.own and shape.part != first]
    for shape in shapes:
        if shape.own:
            place = copies[shape.copies[0]][1]
            state = "as cut" if shape.cut else "re-fitted"
            yield f"RIM-{place:02d}", f"rim segment at place {place}, {state}", shape
        elif shape.part == first:
            yield first.code, first.name, shape
        else:
            letter = "" if len(anew) == 1 else f"-{_letters(anew.index(shape))}"
            fields = sorted({recut[index].field for index in shape.copies if index in recut})
            where = f" for field {', '.join(map(str, fields))}" if letter and fields else ""
            yield f"{first.code}{SECOND}{letter}", f"{first.name}, re-fitted{where}", shape


def _letters(number: int) -> str:
    """A, B ... Z, AA ..."""
    return (_letters(number // 26 - 1) if number >= 26 else "") + chr(ord("A") + number % 26)


def _named_mates(parts: Sequence[Part], was: Mapping[str, str]) -> list[Part]:
    """Laps and mortises name their mates themselves: by the codes that these have now."""
    now: dict[str, list[str]] = defaultdict(list)
    for code, first in was.items():
        now[first].append(code)
    return [
        replace(
            part,
            features=tuple(
                replace(f, mates=tuple(code for mate in f.mates for code in now.get(mate, [mate])))
                for f in part.features
            ),
        )
        for part in parts
    ]


def _stands(base: Table, seated: Seated, index: int, code: str) -> Placed:
    """Where a copy stands now: segments and splines with the ring, all else as in the drawing."""
    placed = replace(base.placed[index], code=code)
    sizes = base.sizes
    if not seated.changed:
        return placed
    if index < sizes.segments:
        return lying(code, placement_of(seated.laid[index]), placed.at.z, base.profile.top.thickness)
    joint = index - sizes.segments
    if joint < sizes.segments and base.part(base.placed[index].code).kind == "spline":
        return lying(code, _at_joint(base, seated, joint, index), placed.at.z, 0.0)
    return placed


FLUSH = ("rim-segment", "rail", "slat")
"""Parts of the top, whose upper faces stand level whatever their thickness."""


def _level(base: Table, index: int, thickness: float, placed: Placed) -> Placed:
    """The copy lowered or raised so that its upper face is where the drawing has it."""
    part = base.part(base.placed[index].code)
    if part.kind not in FLUSH or thickness == part.thickness:
        return placed
    return replace(placed, at=placed.at._replace(z=placed.at.z + part.thickness - thickness))


def _at_joint(base: Table, seated: Seated, joint: int, index: int) -> Placement:
    """The frame of a spline: as far along its joint as in the drawing."""
    placed = base.placed[index]
    along = (placed.at.x**2 + placed.at.y**2) ** 0.5 - base.sizes.inner_corner
    here, after = seated.laid[joint], seated.laid[(joint + 1) % len(seated.laid)]
    way = here.left_way.plus(after.right_way).unit
    corner = here.left_corner.plus(after.corner).times(0.5)
    at = corner.plus(way, along)
    return Placement(at.x, at.y, atan2(way.y, way.x) - pi / 2)
