"""Closes a ring: what the pieces still to cut must measure, and what then stays open.

First the angles: the mitres must make a full turn. What they lack is shared by the ends still to cut, as far as they
may be corrected; the rest stays open and is shared so that all joints gape alike, which makes the widest gap the
least there can be.
Then the lengths. One template may serve all that is still to cut: as long as keeps the ring its size, or as drawn, if
small slides along the joints do the rest. Else of all lengths, leans and slides that bring the ring's end back to its
beginning those are taken whose squares, each over its weight, add up to least. A slide opens nothing, so the gap is
never more than the angles leave.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import asin, fsum, pi

from templategen.catalogue import translated, worded
from templategen.errors import DesignError, Fault
from templategen.geometry.point import Point, polar
from templategen.shop.refit.piece import Joint, Laid, RingPiece, lay, missing_angle, start, widest

ROUNDS = 60
"""Steps of Newton's method at most; five do."""

CLOSED = 1e-10
"""A ring whose end is this near to its beginning is closed, mm."""

ASTRAY = 1e-6
"""A ring whose end stays further from its beginning was never closed, mm."""

SLIDE, LENGTH, LEAN = 1.0, 3.0, 3.0
"""How freely slides, lengths and leans (at a segment's ends) may change, mm: a slide counts nine times as much."""


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a piece still to cut may differ from the drawing: radians at each end, mm in length."""

    angle: float
    length: float


@dataclass(frozen=True, slots=True)
class Closed:
    """A ring closed: its pieces, its joints (joint i behind piece i) and where each piece lies, the first where the
    design has it. `alike` says whether all pieces still to cut share one shape."""

    pieces: tuple[RingPiece, ...]
    joints: tuple[Joint, ...]
    laid: tuple[Laid, ...]
    alike: bool

    @property
    def gaps(self) -> tuple[float, ...]:
        """The widest gap at each joint, mm."""
        return tuple(
            widest(joint, piece, following)
            for joint, piece, following in zip(
                self.joints, self.pieces, (*self.pieces[1:], self.pieces[0]), strict=True
            )
        )

    @property
    def widest(self) -> float:
        """The widest of all, mm."""
        return max(self.gaps)

    @property
    def step(self) -> float:
        """The largest slide, mm."""
        return max(abs(joint.slide) for joint in self.joints)


@dataclass(frozen=True, slots=True)
class _Free:
    """Something that may change: its weight, the furthest it may go, and how it moves the ring's end."""

    weight: float
    most: float
    moves: Callable[[Sequence[Laid]], Point]


def close(pieces: Sequence[RingPiece], reach: Reach, even: float) -> Closed:
    """The ring closed as well as it can be; pieces still to cut get one shape where slides up to `even` mm do.

    Raises: DesignError where no slides bring the ring together.
    """
    turned, left = share_angles(pieces, reach)
    wedge = wedges(turned, left)
    if any(not piece.cut for piece in pieces):
        for sized in (share_lengths(turned, reach), turned):
            alike = _lengths(sized, wedge, reach, alike=True)
            if alike.step <= even:
                return alike
    return _lengths(turned, wedge, reach, alike=False)


def share_angles(pieces: Sequence[RingPiece], reach: Reach) -> tuple[tuple[RingPiece, ...], float]:
    """The pieces with the missing angle shared by all ends still to cut, and what is missing still."""
    missing = missing_angle(pieces)
    ends = 2 * sum(not piece.cut for piece in pieces)
    each = max(-reach.angle, min(reach.angle, missing / ends)) if ends else 0.0
    turned = tuple(
        piece if piece.cut or each == 0 else replace(piece, left=piece.left + each, right=piece.right + each)
        for piece in pieces
    )
    left = missing - ends * each
    return turned, left if abs(left) > 1e-15 * len(pieces) else 0.0


def wedges(pieces: Sequence[RingPiece], left: float) -> tuple[float, ...]:
    """The missing angle shared by all joints so that all gape alike: the wedges' sines times their faces are one gap,
    which Newton's method finds."""
    pairs = zip(pieces, (*pieces[1:], pieces[0]), strict=True)
    faces = [min(one.left_face, after.right_face) for one, after in pairs]
    gap = left / fsum(1 / face for face in faces)
    for _ in range(ROUNDS):
        off = left - fsum(asin(gap / face) for face in faces)
        if abs(off) <= CLOSED * 1e-3:
            break
        gap += off / fsum(1 / (face * face - gap * gap) ** 0.5 for face in faces)
    return tuple(asin(gap / face) for face in faces)


def share_lengths(pieces: Sequence[RingPiece], reach: Reach) -> tuple[RingPiece, ...]:
    """The pieces still to cut, longer or shorter by an equal share of what the cut ones are off in all."""
    drawn = next((piece.length for piece in pieces if not piece.cut), 0.0)
    count = sum(not piece.cut for piece in pieces)
    if not count:
        return tuple(pieces)
    off = fsum(piece.length - drawn for piece in pieces if piece.cut)
    each = max(-reach.length, min(reach.length, -off / count))
    return tuple(piece if piece.cut or each == 0 else replace(piece, length=drawn + each) for piece in pieces)


def _lengths(pieces: tuple[RingPiece, ...], wedge: Sequence[float], reach: Reach, alike: bool) -> Closed:
    free = _free(pieces, reach, alike)
    values = [0.0] * len(free)
    closed = _changed(pieces, wedge, values, alike)
    end = _end(closed)
    for _ in range(ROUNDS):
        if end.length <= CLOSED:
            break
        values = _step(free, values, closed.laid, end)
        closed = _changed(pieces, wedge, values, alike)
        end = _end(closed)
    if not end.length <= ASTRAY:
        says = worded(
            "no ring can be laid of the segments as measured: its ends stay {length:.1f} mm apart", length=end.length
        )
        raise DesignError(Fault("measured", says, translated("check what was measured on the rim segments")))
    return closed


def _free(pieces: tuple[RingPiece, ...], reach: Reach, alike: bool) -> list[_Free]:
    """Slides of all joints, then, where shapes may differ, lengths and leans of the pieces still to cut."""
    count, mitre = len(pieces), pi / len(pieces)
    free = [_Free(SLIDE, float("inf"), _slide(i)) for i in range(count)]
    if alike:
        return free
    for i in (i for i in range(count) if not pieces[i].cut):
        piece = pieces[i]
        room = reach.angle - max(abs(piece.left - mitre), abs(piece.right - mitre))
        free.append(_Free(LENGTH, reach.length, _stretch(i)))
        free.append(_Free(LEAN / piece.length, max(room, 0.0), _lean(i)))
    return free


def _slide(index: int) -> Callable[[Sequence[Laid]], Point]:
    return lambda laid: laid[index].left_way


def _stretch(index: int) -> Callable[[Sequence[Laid]], Point]:
    return lambda laid: polar(1, laid[index].heading)


def _lean(index: int) -> Callable[[Sequence[Laid]], Point]:
    """A piece turned about its right inner corner, its left end turned back."""
    return lambda laid: polar(laid[index].piece.length, laid[index].heading).left


def _changed(pieces: tuple[RingPiece, ...], wedge: Sequence[float], values: Sequence[float], alike: bool) -> Closed:
    count = len(pieces)
    joints = tuple(Joint(*both) for both in zip(wedge, values[:count], strict=True))
    rest = iter(values[count:])
    made = []
    for piece in pieces:
        if piece.cut or alike:
            made.append(piece)
            continue
        longer, lean = next(rest), next(rest)
        made.append(replace(piece, length=piece.length + longer, left=piece.left - lean, right=piece.right + lean))
    first = start(count, made[0])
    laid, _ = lay(made, joints, first)
    return Closed(tuple(made), joints, laid, alike)


def _end(closed: Closed) -> Point:
    """How far past its beginning the ring ends, mm."""
    _, again = lay(closed.pieces, closed.joints, closed.laid[0])
    first = closed.laid[0]
    return again.corner.minus(first.corner)


def _step(free: Sequence[_Free], values: Sequence[float], laid: Sequence[Laid], end: Point) -> list[float]:
    """The values of least weighted squares that bring the end back, so far as a straight line tells.

    They are clip(weight^2 (moves . pull)) for one pull in the plane, found by Newton's method: values at their most
    are held, and let go where a new pull no longer drives them there. Slides have no most, so there always is one.
    """
    moves = [one.moves(laid) for one in free]
    wanted = Point(
        fsum(m.x * v for m, v in zip(moves, values, strict=True)) - end.x,
        fsum(m.y * v for m, v in zip(moves, values, strict=True)) - end.y,
    )
    held: dict[int, float] = {}
    asked: list[float] = []
    for _ in range(ROUNDS):
        asked = _asked(free, moves, wanted, held)
        over = {i: one.most if value > 0 else -one.most
                for i, (one, value) in enumerate(zip(free, asked, strict=True)) if abs(value) > one.most}  # fmt: skip
        if over == held:
            break
        held = over
    return [held.get(i, value) for i, value in enumerate(asked)]


def _asked(free: Sequence[_Free], moves: Sequence[Point], wanted: Point, held: dict[int, float]) -> list[float]:
    """What each would be under the pull that meets the two equations with those held: w^2 J^T (J w^2 J^T)^-1 rest."""
    rest = Point(
        wanted.x - fsum(moves[i].x * v for i, v in held.items()),
        wanted.y - fsum(moves[i].y * v for i, v in held.items()),
    )
    use = [i for i in range(len(free)) if i not in held]
    xx = fsum((free[i].weight * moves[i].x) ** 2 for i in use)
    yy = fsum((free[i].weight * moves[i].y) ** 2 for i in use)
    xy = fsum(free[i].weight ** 2 * moves[i].x * moves[i].y for i in use)
    whole = xx * yy - xy * xy
    a, b = (yy * rest.x - xy * rest.y) / whole, (xx * rest.y - xy * rest.x) / whole
    return [one.weight**2 * (move.x * a + move.y * b) for one, move in zip(free, moves, strict=True)]
