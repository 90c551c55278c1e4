"""The measured ring closed and seated in its table: where each segment stands, and what to recut where it can't."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import atan2, fsum, pi, tan

from templategen.geometry.placement import Placement
from templategen.geometry.point import Point, polar
from templategen.shop.refit.close import Closed, Reach, close
from templategen.shop.refit.piece import Joint, Laid, RingPiece, lay, missing_angle, regular, start
from templategen.shop.refit.settle import Settled
from templategen.table.assembly import Table
from templategen.table.profile.limits import Limits
from templategen.table.sizes import Sizes

EVEN_SHARE = 0.25
"""Segments still to cut share one shape while no slide is more than this share of the step allowed."""

HOLD = 0.01
"""How much the designed place counts against one shoulder of a cut rail."""


@dataclass(frozen=True, slots=True)
class Seated:
    """The closed ring in the table's frame; `slides` is how far each segment stands out from where the design has it,
    along the line from the axis through its middle, mm."""

    closed: Closed
    slides: tuple[float, ...]
    changed: bool

    @property
    def laid(self) -> tuple[Laid, ...]:
        """Where each segment lies."""
        return self.closed.laid


def designed(sizes: Sizes) -> RingPiece:
    """A segment as drawn."""
    return regular(sizes.segments, sizes.inner_length, sizes.profile.top.rim_width)[0]


def pieces_of(table: Table, settled: Settled) -> tuple[RingPiece, ...]:
    """The ring's segments in order: those cut as measured, the others as drawn."""
    drawn = designed(table.sizes)
    pieces = []
    for number, placed in enumerate(table.placed[: table.sizes.segments], 1):
        copy = (placed.code, number)
        if copy not in settled.cut:
            pieces.append(drawn)
            continue
        pieces.append(
            RingPiece(
                settled.best(copy, "length", drawn.length),
                settled.best(copy, "left_angle", drawn.left),
                settled.best(copy, "right_angle", drawn.right),
                settled.best(copy, "width", drawn.width),
                cut=True,
            )
        )
    return tuple(pieces)


def closed_ring(pieces: Sequence[RingPiece], limits: Limits) -> Closed:
    """The ring closed within the maker's limits as well as it goes."""
    return close(pieces, Reach(limits.refit_angle, limits.refit_length), EVEN_SHARE * limits.joint_step)


def seat(sizes: Sizes, closed: Closed, shoulders: dict[int, float]) -> Seated:
    """The ring laid over the design so that its corners come nearest to their places; then moved, not turned, so that
    the shoulders of cut rails (by arm number) are met alike."""
    drawn = regular(sizes.segments, sizes.inner_length, sizes.profile.top.rim_width)
    nominal, _ = lay(drawn, (Joint(),) * len(drawn), start(len(drawn), drawn[0]))
    changed = any(replace(piece, cut=False) != drawn[0] for piece in closed.pieces)
    if changed:
        closed = replace(closed, laid=_laid_over(closed.laid, nominal))
    if any(abs(edge_on_arm(sizes, closed.laid, arm) - far) > 1e-9 for arm, far in shoulders.items()):
        closed = replace(closed, laid=_met(sizes, closed.laid, shoulders))
        changed = True
    slides = tuple(
        on_line(one, polar(1, 2 * index * sizes.mitre)) - sizes.inner_apothem for index, one in enumerate(closed.laid)
    )
    return Seated(closed, slides, changed)


def _laid_over(laid: Sequence[Laid], nominal: Sequence[Laid]) -> tuple[Laid, ...]:
    """Least squares of all inner corners: the turn and the move in closed form."""
    pairs = [(a.corner, b.corner) for a, b in zip(laid, nominal, strict=True)]
    pairs += [(a.left_corner, b.left_corner) for a, b in zip(laid, nominal, strict=True)]
    count = len(pairs)
    mine = Point(fsum(a.x for a, _ in pairs) / count, fsum(a.y for a, _ in pairs) / count)
    theirs = Point(fsum(b.x for _, b in pairs) / count, fsum(b.y for _, b in pairs) / count)
    both = [(a.minus(mine), b.minus(theirs)) for a, b in pairs]
    turn = atan2(fsum(a.cross(b) for a, b in both), fsum(a.dot(b) for a, b in both))
    move = theirs.minus(mine.turned(turn))
    way = Placement(move.x, move.y, turn)
    return tuple(Laid(way.point(one.corner), one.heading + turn, one.piece) for one in laid)


def _met(sizes: Sizes, laid: Sequence[Laid], shoulders: dict[int, float]) -> tuple[Laid, ...]:
    ways = {arm: polar(1, arm * sizes.field_angle) for arm in shoulders}
    off = {arm: far - edge_on_arm(sizes, laid, arm) for arm, far in shoulders.items()}
    xx = HOLD + fsum(way.x**2 for way in ways.values())
    yy = HOLD + fsum(way.y**2 for way in ways.values())
    xy = fsum(way.x * way.y for way in ways.values())
    bx, by = (fsum(off[arm] * way[axis] for arm, way in ways.items()) for axis in (0, 1))
    whole = xx * yy - xy * xy
    move = Point((yy * bx - xy * by) / whole, (xx * by - xy * bx) / whole)
    return tuple(replace(one, corner=one.corner.plus(move)) for one in laid)


def on_line(laid: Laid, way: Point) -> float:
    """How far from the axis in direction `way` a segment's inner edge is met."""
    return laid.corner.dot(laid.outward) / way.dot(laid.outward)


def edge_on_arm(sizes: Sizes, laid: Sequence[Laid], arm: int) -> float:
    """How far along an arm the inner edge of its segment comes nearest over the rail's width: a square shoulder there
    touches it."""
    segment, way = laid[arm * sizes.segments_per_field], polar(1, arm * sizes.field_angle)
    lean = abs(way.cross(segment.outward)) / way.dot(segment.outward)
    return on_line(segment, way) - (sizes.half_rail * lean if lean > 1e-12 else 0.0)


def within(closed: Closed, limits: Limits) -> bool:
    """Whether all gaps and steps are within the limits."""
    return closed.widest <= limits.joint_gap + 1e-9 and closed.step <= limits.joint_step + 1e-9


def to_recut(pieces: Sequence[RingPiece], limits: Limits, drawn: RingPiece) -> tuple[int, ...]:
    """The fewest cut segments, by number in the ring from 0, that make the ring close when cut anew: one after the
    other that which helps most, and of those that do, the one in whose place a piece as drawn makes the best ring."""
    left = list(pieces)
    chosen: list[int] = []
    while not within(closed_ring(left, limits), limits) and any(piece.cut for piece in left):
        tries = []
        for index, piece in enumerate(left):
            if piece.cut:
                closed = closed_ring(_with(left, index, drawn), limits)
                plain = closed_ring(_with(left, index, replace(drawn, cut=True)), limits)
                gape, step = (round(max(size, 0.0), 9) for size in _over(closed, limits))
                tries.append((gape, step, _off_true(plain, limits) + _off_true(closed, limits) / 100, index))
        index = min(tries)[-1]
        left[index] = drawn
        chosen.append(index)
    return tuple(chosen)


@dataclass(frozen=True, slots=True)
class OneEnd:
    """One end of a cut segment sawn anew: `left` or `right`, at `angle` radians off square; how much shorter its
    inner and its outer edge become by it, mm."""

    side: str
    angle: float
    inner: float
    outer: float


def one_end(pieces: Sequence[RingPiece], index: int, limits: Limits, drawn: RingPiece) -> OneEnd | None:
    """How one end of that segment, sawn anew, closes the ring: the end that comes out nearer to the drawing; None
    where neither does. What is missing in all mitres goes into it, and a cut only takes wood off."""
    piece, missing = pieces[index], missing_angle(pieces)
    tries = []
    for side, old in (("left", piece.left), ("right", piece.right)):
        new = old + missing
        if not 0.0 < new < pi / 3:
            continue
        longer = piece.width * (tan(new) - tan(old))
        end = OneEnd(side, new, max(longer, 0.0), max(-longer, 0.0))
        sawn = replace(piece, length=piece.length - end.inner)
        sawn = replace(sawn, left=new) if side == "left" else replace(sawn, right=new)
        if sawn.length > 0 and within(closed_ring(_with(pieces, index, sawn), limits), limits):
            tries.append((abs(new - drawn.left), end.inner, side, end))
    return min(tries)[-1] if tries else None


def _over(closed: Closed, limits: Limits) -> tuple[float, float]:
    """By how much gaps and steps are over their limits, mm."""
    return closed.widest - limits.joint_gap, closed.step - limits.joint_step


def _with(pieces: Sequence[RingPiece], index: int, piece: RingPiece) -> list[RingPiece]:
    return [*pieces[:index], piece, *pieces[index + 1 :]]


def _off_true(closed: Closed, limits: Limits) -> float:
    """How far from a true ring: gaps and slides over their limits, root of the mean squares."""
    pairs = zip(closed.gaps, closed.joints, strict=True)
    squares = [(gap / limits.joint_gap) ** 2 + (joint.slide / limits.joint_step) ** 2 for gap, joint in pairs]
    return float((fsum(squares) / len(squares)) ** 0.5)
