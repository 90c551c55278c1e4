"""A ring of segments, each with its own length and end angles, laid end to end."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, fsum, pi, sin, tan

from templategen.geometry.point import Point, polar


@dataclass(frozen=True, slots=True)
class RingPiece:
    """A segment by its inner edge: `length` mm, and its mitres off square, radians.

    `left` and `right` are the ends as seen from the table's centre: going anticlockwise round the ring a segment
    begins at its right end. `width` is measured square to the inner edge.
    """

    length: float
    left: float
    right: float
    width: float
    cut: bool = False

    @property
    def left_face(self) -> float:
        """Length of the mitre at the left end."""
        return self.width / cos(self.left)

    @property
    def right_face(self) -> float:
        """Length of the mitre at the right end."""
        return self.width / cos(self.right)


@dataclass(frozen=True, slots=True)
class Joint:
    """How two pieces meet: the joint behind a piece's left end.

    `wedge` is the angle by which the faces stand open, positive where they are open outside; they touch at the other
    end. `slide` is how far the next piece stands outwards along the face, mm.
    """

    wedge: float = 0.0
    slide: float = 0.0


@dataclass(frozen=True, slots=True)
class Laid:
    """Where a piece lies: the inner corner at its right end, and the direction of its inner edge going
    anticlockwise."""

    corner: Point
    heading: float
    piece: RingPiece

    @property
    def left_corner(self) -> Point:
        """The inner corner at its left end."""
        return self.corner.plus(polar(self.piece.length, self.heading))

    @property
    def middle(self) -> Point:
        """The middle of its inner edge."""
        return self.corner.plus(polar(self.piece.length / 2, self.heading))

    @property
    def left_way(self) -> Point:
        """The direction of its left face, outwards."""
        return polar(1, self.heading - pi / 2 + self.piece.left)

    @property
    def right_way(self) -> Point:
        """The direction of its right face, outwards."""
        return polar(1, self.heading - pi / 2 - self.piece.right)

    @property
    def outward(self) -> Point:
        """Square to its inner edge, away from the table's centre."""
        return polar(1, self.heading - pi / 2)

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Inner right, inner left, outer left, outer right."""
        left = self.left_corner.plus(self.left_way, self.piece.left_face)
        return self.corner, self.left_corner, left, self.corner.plus(self.right_way, self.piece.right_face)


def widest(joint: Joint, piece: RingPiece, following: RingPiece) -> float:
    """The gap at a joint's open end, mm: the faces touch at the other."""
    return sin(abs(joint.wedge)) * min(piece.left_face, following.right_face)


def next_to(laid: Laid, joint: Joint, following: RingPiece) -> Laid:
    """Where the piece after `laid` lies."""
    along = laid.left_way
    opened = widest(joint, laid.piece, following) if joint.wedge < 0 else 0.0
    corner = laid.left_corner.plus(along.left, opened).plus(along, joint.slide)
    return Laid(corner, laid.heading + laid.piece.left + following.right + joint.wedge, following)


def lay(pieces: Sequence[RingPiece], joints: Sequence[Joint], first: Laid) -> tuple[tuple[Laid, ...], Laid]:
    """The ring laid from its first piece on, and where that first piece would lie again once round: closed when it
    lies where it began."""
    laid = [first]
    for joint, piece in zip(joints, (*pieces[1:], pieces[0]), strict=True):
        laid.append(next_to(laid[-1], joint, piece))
    return tuple(laid[:-1]), laid[-1]


def missing_angle(pieces: Sequence[RingPiece]) -> float:
    """What the mitres lack of a full turn, radians; positive where the ring stays open outside."""
    return 2 * pi - fsum(angle for piece in pieces for angle in (piece.left, piece.right))


def regular(count: int, length: float, width: float) -> tuple[RingPiece, ...]:
    """The ring as designed."""
    mitre = pi / count
    return (RingPiece(length, mitre, mitre, width),) * count


def start(count: int, piece: RingPiece) -> Laid:
    """Where the first piece of the designed ring lies: its middle on the x axis."""
    apothem = piece.length / 2 / tan(pi / count)
    return Laid(Point(apothem, -piece.length / 2), pi / 2, piece)


def opening(laid: Laid, following: Laid) -> tuple[float, float]:
    """The gap of a joint at its inner and at its outer end, square to the face behind it, mm; below 0 they overlap.

    Each end is measured where the shorter of the two faces ends.
    """
    square = laid.left_way.left
    face = min(laid.piece.left_face, following.piece.right_face)
    inner = following.corner.minus(laid.left_corner).dot(square)
    ends = following.corner.plus(following.right_way, face), laid.left_corner.plus(laid.left_way, face)
    return inner, ends[0].minus(ends[1]).dot(square)
