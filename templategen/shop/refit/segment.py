"""A rim segment of its own length and end angles, carrying the work of the one drawn."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import tan

from templategen.geometry.clip import clip_disc, clip_half_plane
from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.placement import OVER
from templategen.geometry.point import Point
from templategen.parts.face import flat_faces, side_faces
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.shop.refit.piece import RingPiece
from templategen.shop.refit.ring import OneEnd
from templategen.table.edges import ROUND_OVER
from templategen.table.rim import drip_groove, inner_edge
from templategen.table.sizes import Sizes

Span = tuple[float, float]
"""A stretch of the inner edge, mm from its middle, to the right positive."""

NEAR = 1e-6

GRAZE = 0.1
"""A tongue that reaches less than this past a joint is pared away rather than a groove cut through for it, mm."""


def blank_of(piece: RingPiece) -> Outline:
    """The mitred blank in the part's frame: x to the right along the inner edge, y outwards."""
    half = piece.length / 2
    right, left = piece.width * tan(piece.right), piece.width * tan(piece.left)
    return polygon(((-half, 0), (half, 0), (half + right, piece.width), (-half - left, piece.width)))


def refitted_segment(part: Part, sizes: Sizes, piece: RingPiece, centre: Point, tongues: Sequence[Span]) -> Part:
    """`part` with the piece's shape. `centre` is the table's centre in the part's frame, `tongues` what enters its
    groove: stopped grooves are made to reach past them."""
    blank = blank_of(piece)
    outline = clip_disc(blank, centre, sizes.radius)[0] if sizes.is_sawn else blank
    inner_left, inner_right, outer_right, outer_left = blank.points
    sides = [
        ("edge-1", inner_left, inner_right),
        ("end-1", inner_right, outer_right),
        ("end-2", outer_left, inner_left),
    ]
    if not sizes.is_sawn:
        sides.insert(2, ("edge-2", outer_right, outer_left))
    work = [*_grooves(part, sizes, piece, tongues), *_slots(part, piece)]
    rounded = any(feature.operation == ROUND_OVER for feature in part.features)
    work += _round_over(sizes, outline, centre, piece) if rounded else []
    work += inner_edge(sizes, outline)
    work += drip_groove(sizes, outline, centre, piece.width) if part.cuts("drip-groove") else ()
    return replace(
        part,
        blank=blank,
        outline=outline,
        features=tuple(work),
        faces=(*flat_faces(outline, part.thickness), *side_faces(sides, part.thickness)),
    )


def _grooves(part: Part, sizes: Sizes, piece: RingPiece, tongues: Sequence[Span]) -> Iterator[Feature]:
    """Each groove where it was from the middle on, longer where tongues ask for it; ends that ran out run out again.

    A tongue that no groove was drawn for gets the nearest one made longer.
    """
    was = part.face("edge-1").outline.bounds.width
    half, ease = piece.length / 2, sizes.profile.joints.end_clearance
    drawn = [feature for feature in part.features if feature.face == "edge-1"]
    spans = [(f.outline.bounds.left - was / 2, f.outline.bounds.right - was / 2) for f in drawn]
    asked = _asked(spans, tongues, half)
    for groove, (start, end), owed in zip(drawn, spans, asked, strict=True):
        box = groove.outline.bounds
        start = min([start, *(low - ease for low, _ in owed)])
        end = max([end, *(high + ease for _, high in owed)])
        if box.left <= NEAR or start <= -half:
            start = -half - groove.depth * tan(piece.left)
        if box.right >= was - NEAR or end >= half:
            end = half + groove.depth * tan(piece.right)
        yield replace(groove, outline=rectangle(start + half, box.bottom, end + half, box.top))


def too_short(part: Part, sizes: Sizes, piece: RingPiece, tongues: Sequence[Span]) -> float:
    """By how much a tongue as it stands reaches past the end of the groove as drawn, mm; below 0 all go in."""
    pairs = zip(_grooves(part, sizes, piece, ()), _grooves(part, sizes, piece, tongues), strict=True)
    boxes = [(one.outline.bounds, other.outline.bounds) for one, other in pairs]
    reach = max((max(a.left - b.left, b.right - a.right) for a, b in boxes), default=0.0)
    return reach - sizes.profile.joints.end_clearance


def opens_groove(part: Part, end: OneEnd) -> bool:
    """Whether one end sawn anew lays open a groove that stopped short of it: nothing would then hide it."""
    long = part.face("edge-1").outline.bounds.width
    boxes = [feature.outline.bounds for feature in part.features if feature.face == "edge-1"]
    left = [box.left if end.side == "left" else long - box.right for box in boxes]
    return any(NEAR < short < end.inner + GRAZE for short in left)


def _asked(grooves: Sequence[Span], tongues: Sequence[Span], half: float) -> list[list[Span]]:
    """For each groove the tongues that enter the segment nearest to it; those that only graze it ask for nothing."""
    asked: list[list[Span]] = [[] for _ in grooves]
    for low, high in tongues:
        if min(high, half) - max(low, -half) < GRAZE or not grooves:
            continue
        gaps = [max(start - high, low - end) for start, end in grooves]
        asked[gaps.index(min(gaps))].append((low, high))
    return asked


def _slots(part: Part, piece: RingPiece) -> Iterator[Feature]:
    """Spline slots at their distance from the inner corners; those that ran out at the rim run out again."""
    for slot in part.cuts("spline-slot"):
        was = part.face(slot.face).outline.bounds.width
        box = slot.outline.bounds
        at_right = slot.face == "end-1"
        face = piece.right_face if at_right else piece.left_face
        near, far = (box.left, box.right) if at_right else (was - box.right, was - box.left)
        far = face if far >= was - NEAR else far
        first, last = (near, far) if at_right else (face - far, face - near)
        yield replace(slot, outline=rectangle(first, box.bottom, last, box.top))


def _round_over(sizes: Sizes, outline: Outline, centre: Point, piece: RingPiece) -> Iterator[Feature]:
    radius = sizes.profile.top.edge_round
    if sizes.is_sawn:
        strips = clip_disc(outline, centre, sizes.radius - radius, keep="outside")
    else:
        strips = clip_half_plane(outline, Point(0, piece.width - radius), Point(0, 1))
    for strip in strips:
        yield Feature("round-over", "top", strip, radius, ROUND_OVER)
        yield Feature("round-over", "bottom", OVER.outline(strip), radius, ROUND_OVER)
