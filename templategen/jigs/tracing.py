"""Tracing patterns: one of sheet for each shape, to run a pencil or a bearing round and a knife along."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, pi

from templategen.catalogue import translated, worded
from templategen.checks.describe import said
from templategen.geometry.bounds import Bounds
from templategen.geometry.coincide import uncovered
from templategen.geometry.edge import Line
from templategen.geometry.offset import offset
from templategen.geometry.outline import Outline, distance_to
from templategen.geometry.placement import OVER, Placement
from templategen.geometry.point import Point
from templategen.geometry.rounded import rounded_rectangle
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, hole, line, piece, point, shown
from templategen.parts.part import Part
from templategen.parts.sameness import same_outline
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.table.rim import WITH_THE_RING

FINGER = 25.0
"""Diameter of the hole that a finger lifts the pattern by, mm."""

WALL = 6.0
"""Least sheet between holes, and between a hole and the edge, mm."""

PLAY = 0.5
"""How much wider a slot is than the router's bit, mm."""

KINDS = ("rim-segment", "rail", "slat", "spline", "leg", "base-rail", "foot")

CAUTIONS = (
    "Knife: cut away from the hand that holds the pattern, several light strokes, the pattern nailed or clamped.",
    "A bearing follows the pattern only while it is held down: nail both ends, heads below the face.",
)


@dataclass(frozen=True, slots=True)
class _Knife:
    """A line of a joint, in plan, with the waste to its left; `side` is the face that the joint is cut into."""

    edge: Line
    side: str


def tracing_patterns(table: Table) -> Iterator[Jig]:
    """A pattern for each shape, mirrored hands by one, where `jigs.patterns` asks for them."""
    if table.profile.jigs.patterns == "none":
        return
    left = [part for part in table.parts if part.kind in KINDS]
    while left:
        part, *rest = left
        alike = [other for other in rest if _same(part, other)]
        turned = [other for other in rest if other not in alike and _same(part, other, over=True)]
        left = [other for other in rest if other not in alike and other not in turned]
        yield _jig(table.profile, (part, *alike), turned)


def traced(part: Part, by: float) -> Outline:
    """The pattern's edge, `by` mm inside the line that is sawn first: a pencil that far off draws just that line."""
    ring = (part.blank if part.kind in WITH_THE_RING else part.outline).anticlockwise
    return max(offset(ring, -by), key=lambda one: abs(one.area)) if by else ring


def _same(one: Part, other: Part, over: bool = False) -> bool:
    """Whether one pattern does for both parts, as it lies or turned over; lying either way round."""
    return any(
        _alike(one, other, Placement(turn=turn, turned_over=over), list(_knives(one)), list(_knives(other)))
        for turn in (0.0, pi)
    )


def _alike(one: Part, other: Part, way: Placement, knives: Sequence[_Knife], others: Sequence[_Knife]) -> bool:
    ring, there = way.outline(traced(one, 0.0)).anticlockwise, traced(other, 0.0)
    by = there.bounds.centre.minus(ring.bounds.centre)
    if len(knives) != len(others) or not same_outline(Placement(*by).outline(ring), there, 1e-3):
        return False
    middles = [(knife.side, way.point(knife.edge.point_at(0.5)).plus(by, 1.0)) for knife in knives]
    return all(
        any(side == b.side and at.distance(b.edge.point_at(0.5)) < 1e-3 for b in others) for side, at in middles
    )


def _knives(part: Part) -> Iterator[_Knife]:
    """The straight lines of joints inside the wood, waste to their left; what is bored through is not knifed."""
    ring = traced(part, 0.0)
    for feature in part.features:
        if not (feature.is_flat and feature.traits.is_pocket) or feature.traits.through:
            continue
        plan = OVER.outline(feature.outline) if feature.face == "bottom" else feature.outline
        for edge in plan.anticlockwise.edges:
            for shown_piece in uncovered(edge, ring.edges) if isinstance(edge, Line) else ():
                middle = shown_piece.point_at(0.5)
                if isinstance(shown_piece, Line) and ring.contains(middle) and ring.distance(middle) > 0.5:
                    yield _Knife(shown_piece, feature.face)


def _jig(profile: Profile, parts: Sequence[Part], turned: Sequence[Part]) -> Jig:
    first = parts[0]
    code, by = f"PATTERN-{first.code}", profile.paper.trace_offset
    ring = traced(first, by)
    wide = max(profile.shop.router_bit + PLAY, 1.5)
    slots = _slots(list(_knives(first)), ring, wide)
    holes = (*slots, *_finger(ring, slots))
    names = ", ".join(part.code for part in parts)
    over = ", ".join(part.code for part in turned)
    name = said("pattern for {names}[; turned over {over}]", names=names, over=over)
    whole = piece(profile, code, name, ring, "template", holes=holes)
    return Jig(
        code, whole.name, tuple(part.code for part in (*parts, *turned)), (whole,),
        (*_nails(code, ring, holes), *_wastes(code, first, holes), *_faces(code, ring, names, over)),
        tuple(_figures(code, ring)),
        use=tuple(_use(profile, first, by, bool(over))), proof=_proof(profile, first, by), cautions=CAUTIONS,
    )  # fmt: skip


def _slots(knives: Sequence[_Knife], ring: Outline, wide: float) -> list[Outline]:
    """A slot for each line where the sheet bears it; no slot leaves less than a wall to the edge and to others."""
    made: list[Outline] = []
    middles: list[Line] = []
    for knife in knives:
        along = knife.edge.direction_at(0.0)
        off = along.left.times(-1)  # on the wood's side, where the sheet is widest
        end = 1.6 * (wide / 2 + WALL)
        if knife.edge.length < 2 * end + wide:
            continue
        start, stop = knife.edge.start.plus(along, end), knife.edge.end.plus(along, -end)
        middle = Line(start.plus(off, wide / 2), stop.plus(off, wide / 2))
        spots = [middle.point_at(step / 10) for step in range(11)]
        if any(not ring.contains(at) or ring.distance(at) < wide / 2 + WALL for at in spots):
            continue
        if any(distance_to(other, at) < wide + WALL for other in middles for at in spots):
            continue
        middles.append(middle)
        made.append(_slot(middle, wide))
    return made


def _slot(middle: Line, wide: float) -> Outline:
    """Straight sides and round ends about a middle line."""
    half, length = wide / 2, middle.length
    along = middle.direction_at(0.0)
    way = Placement(*middle.start, atan2(along.y, along.x))
    return way.outline(rounded_rectangle(Bounds(-half, -half, length + half, half), half))


def _finger(ring: Outline, taken: Sequence[Outline]) -> Iterator[Outline]:
    """A hole to lift it by, near the middle, where there is wood enough."""
    box = ring.bounds
    for step in (0, 1, -1, 2, -2, 3, -3, 4, -4):
        at = Point(box.centre.x + step * box.width / 10, box.centre.y)
        if ring.contains(at) and _clear(ring, taken, at, FINGER / 2 + WALL):
            yield hole(at, FINGER)
            return


def _nails(code: str, ring: Outline, taken: Sequence[Outline]) -> Iterator[Scribe]:
    """Two places to nail through, as far apart as may be, on the pattern's middle."""
    box = ring.bounds
    steps = [0.12 + 0.02 * step for step in range(17)]
    for shares in (steps, [1 - share for share in steps]):
        spots = (Point(box.left + box.width * share, box.centre.y) for share in shares)
        clear = next((at for at in spots if ring.contains(at) and _clear(ring, taken, at, WALL)), None)
        if clear is not None:
            yield point(code, clear)


def _clear(ring: Outline, taken: Sequence[Outline], at: Point, room: float) -> bool:
    return ring.distance(at) > room and all(not one.contains(at) and one.distance(at) > room for one in taken)


def _wastes(code: str, part: Part, taken: Sequence[Outline]) -> Iterator[Scribe]:
    """In the middle of each joint, that it is the waste, and which side it is cut from."""
    for feature in part.features:
        if feature.is_flat and feature.traits.is_pocket:
            plan = OVER.outline(feature.outline) if feature.face == "bottom" else feature.outline
            at = plan.bounds.centre
            ends = Point(at.x - 4, at.y), Point(at.x + 4, at.y)
            if all(not one.contains(end) and one.distance(end) > 1 for one in taken for end in ends):
                yield line(code, *ends, "waste" if feature.face == "top" else "waste, other side")


def _faces(code: str, ring: Outline, names: str, over: str) -> Iterator[Scribe]:
    """Which side is up for which part, on the longest straight edge: the one to lay against a straight edge."""
    straight = [edge for edge in ring.edges if isinstance(edge, Line)]
    if straight:
        edge = max(straight, key=lambda one: one.length)
        moved = Line(edge.point_at(0.3).plus(edge.direction_at(0.0).left, 4.0),
                     edge.point_at(0.7).plus(edge.direction_at(0.0).left, 4.0))  # fmt: skip
        words = said("this side up: {names}[; turned over: {over}]", names=names, over=over)
        yield line(code, moved.start, moved.end, words, "witness")


def _figures(code: str, ring: Outline) -> Iterator[Critical]:
    for edge in sorted((edge for edge in ring.edges if isinstance(edge, Line)), key=lambda one: -one.length)[:1]:
        yield distance(
            "along a straight edge", code, edge.start, edge.end, "the part's edge, less what the pencil adds"
        )


def _use(profile: Profile, part: Part, by: float, has_twin: bool) -> Iterator[str]:
    off = translated("a knife or a sharp pencil, close up")
    if by:
        off = said("a pencil whose lead runs {by} off the edge", by=shown(by, profile))
    yield said(
        "Lay the pattern on the side of the wood that it names, its marked straight edge on a straight one; {off}.",
        off=off,
    )
    if has_twin:
        yield "For the other hand turn the pattern over; write the code on the wood at once."
    yield "Nail it through the two points, or hold it by tape; take it up by the finger hole."
    if part.kind in WITH_THE_RING:
        yield "It is the blank that is traced: what is round is sawn when the ring is glued."
    yield "A joint's line is that side of a slot which is next to the waste: run the knife along it, then join up."
    yield "Slots of joints on the other side serve with wood and pattern both turned over."


def _proof(profile: Profile, part: Part, by: float) -> tuple[str, ...]:
    size = " x ".join(shown(value, profile) for value in (part.size[0], part.size[1]))
    told = worded(
        "Trace it once on paper and measure: {size} over all, to the pencil's line."
        if by
        else "Trace it once on paper and measure: {size} over all.",
        size=size,
    )
    return (told,)
