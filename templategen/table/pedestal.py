"""The pedestal: legs, the lapped ground cross and its feet."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import atan2, cos, hypot, sin, tan

from templategen.catalogue import translated
from templategen.geometry.clip import clip_half_plane
from templategen.geometry.outline import Outline, circle, polygon, rectangle
from templategen.geometry.placement import OVER, Placement
from templategen.geometry.point import Point, Vertex
from templategen.joinery.lap import CrossLap
from templategen.parts.face import flat_faces, side_faces
from templategen.parts.feature import Feature
from templategen.parts.kinds import FeatureKind
from templategen.parts.part import Part
from templategen.table.edges import BASE_EDGE, SHORT, eased, long_edges, mirrored, round_end
from templategen.table.profile.choices import Units
from templategen.table.profile.model import Profile
from templategen.table.rails import POSITIONS, WORDS, leg_joint, pole_hole, top_bolt, top_leg_joint, top_peg
from templategen.table.sizes import Sizes

QUARTER_BULGE = 2**0.5 - 1
"""Bulge of a quarter circle: tan(22.5 degrees)."""


CORNERS: Mapping[str, FeatureKind] = {"rounded": "round-over", "chamfered": "chamfer", "beaded": "bead"}
"""How the legs' arrises are eased."""


@dataclass(frozen=True, slots=True)
class LegAxis:
    """A leg's axis in the plane of its arm: r outwards from the table's axis, h up from the lower shoulder.

    `rake` is how far it leans outwards going up, radians (negative when the feet stand wider than the top).
    """

    low: float
    high: float
    height: float

    @property
    def rake(self) -> float:
        """Lean from upright."""
        return atan2(self.high - self.low, self.height)

    @property
    def length(self) -> float:
        """Along the axis between the shoulders."""
        return hypot(self.high - self.low, self.height)

    def in_leg(self, r: float, h: float) -> Point:
        """A point of the arm's plane in the leg's frame: x along its axis, y outwards, from the lower shoulder."""
        c, s = cos(self.rake), sin(self.rake)
        out = r - self.low
        return Point(out * s + h * c, out * c - h * s)


def leg_axis(sizes: Sizes) -> LegAxis:
    """Where the legs' axes run."""
    legs = sizes.profile.legs
    return LegAxis(legs.base_centre_distance, legs.centre_distance, sizes.leg_height)


def make_leg(sizes: Sizes) -> Part:
    """The leg, lying on its side: x up the leg, y away from the table's axis, its side view from above."""
    axis, section, tenon = leg_axis(sizes), sizes.profile.legs.section, leg_joint(sizes)
    half = section / 2 / cos(axis.rake)
    shoulders, lengths = ((0.0, axis.low), (axis.height, axis.high)), _tenon_lengths(sizes)
    lower, upper = (
        _tenon_view(axis, h, r, tenon.width, long) for (h, r), long in zip(shoulders, lengths, strict=True)
    )
    corners = {(h, side): axis.in_leg(r + side * half, h) for h, r in shoulders for side in (1, -1)}
    ring = [
        corners[0.0, -1], lower[0], lower[1], lower[2], lower[3], corners[0.0, 1],
        corners[axis.height, 1], upper[3], upper[2], upper[1], upper[0], corners[axis.height, -1],
    ]  # fmt: skip
    raw = polygon(p for i, p in enumerate(ring) if p.distance(ring[i - 1]) > 1e-9).anticlockwise
    shift = Placement(x=-raw.bounds.left)
    outline = shift.outline(raw)
    body = shift.outline(
        polygon((corners[0.0, -1], corners[0.0, 1], corners[axis.height, 1], corners[axis.height, -1]))
    ).anticlockwise
    features: list[Feature] = []
    for view, joint in ((lower, tenon), (upper, top_leg_joint(sizes))):
        zone = shift.outline(polygon(view)).anticlockwise
        features.extend(joint.cheeks(zone, section, ()))
    features.extend(_eased_corners(sizes, body))
    spare = (_point_to_point(sizes, axis) - outline.bounds.right) / 2
    sides = [
        ("edge-1", shift.point(corners[0.0, -1]), shift.point(corners[axis.height, -1])),
        ("edge-2", shift.point(corners[axis.height, 1]), shift.point(corners[0.0, 1])),
    ]
    if bolt := top_bolt(sizes):
        nut = shift.point(axis.in_leg(axis.high, axis.height - bolt.below))
        features.extend(bolt.in_leg("end-2", tenon.width, nut))
        sides.insert(1, ("end-2", shift.point(upper[1]), shift.point(upper[2])))
    if peg := top_peg(sizes):
        features.append(peg.in_leg(*shift.point(axis.in_leg(axis.high, axis.height + peg.in_tenon))))
    return Part(
        code="LEG",
        name=translated("leg"),
        kind="leg",
        count=sizes.arms,
        wood=sizes.profile.wood,
        thickness=section,
        blank=rectangle(-spare, -section / 2, outline.bounds.right + spare, section / 2),
        outline=outline,
        features=tuple(features),
        faces=(*flat_faces(outline, section), *side_faces(sides, section)),
    )


def _point_to_point(sizes: Sizes, axis: LegAxis) -> float:
    """A leg over its tenons: both ends are cut at the rake right across, so they lean over its whole width."""
    lean, section = abs(axis.rake), sizes.profile.legs.section
    return (axis.height + sum(_tenon_lengths(sizes))) / cos(lean) + section * tan(lean)


def _tenon_lengths(sizes: Sizes) -> tuple[float, float]:
    """Of the lower and the upper tenon."""
    return leg_joint(sizes).length, top_leg_joint(sizes).length


def leg_origin(sizes: Sizes) -> Point:
    """Where the leg's own origin lies in its arm's plane: r from the table's axis, h above the lower shoulder."""
    axis = leg_axis(sizes)
    back = -_lowest(sizes, axis)
    return Point(axis.low - back * sin(axis.rake), -back * cos(axis.rake))


def _lowest(sizes: Sizes, axis: LegAxis) -> float:
    """The smallest x of the leg before it is shifted to start at 0."""
    tenon = leg_joint(sizes)
    half = sizes.profile.legs.section / 2 / cos(axis.rake)
    lower = _tenon_view(axis, 0.0, axis.low, tenon.width, tenon.length)
    return min(p.x for p in (*lower, *(axis.in_leg(axis.low + side * half, 0.0) for side in (1, -1))))


def _tenon_view(axis: LegAxis, h: float, r: float, width: float, length: float) -> list[Point]:
    """The tenon's four corners from the side, square to the shoulder at height `h`, inner shoulder corner first."""
    away = length if h > 0 else -length
    spots = ((-1, 0.0), (-1, away), (1, away), (1, 0.0))
    return [axis.in_leg(r + side * width / 2, h + rise) for side, rise in spots]


def _eased_corners(sizes: Sizes, body: Outline) -> Iterator[Feature]:
    """The four long arrises between the shoulders, two seen from each side."""
    legs = sizes.profile.legs
    if legs.corner == "square" or legs.corner_size <= 0:
        return
    kind = CORNERS[legs.corner]
    half, size = legs.section / 2, legs.corner_size
    for y, inward in ((-half + size, Point(0, -1)), (half - size, Point(0, 1))):
        for strip in clip_half_plane(body, Point(0, y), inward):
            yield Feature(kind, "top", strip, size, "ease the arris")
            yield Feature(kind, "bottom", OVER.outline(strip), size, "ease the arris")


def base_lap(sizes: Sizes) -> CrossLap:
    """The crossing of the base rails; under relieved ones the laps share what the relief leaves."""
    base = sizes.profile.base
    codes = tuple(f"BASE-{position}" for position in POSITIONS[sizes.rails])
    floor = relief_depth(sizes)
    clearance = sizes.clearances.base_lap
    return CrossLap(codes, base.rail_width / 2, base.thickness, floor, base.thickness, clearance)


def relief_depth(sizes: Sizes) -> float:
    """How far the underside of a base rail is cut away between its feet."""
    base = sizes.profile.base
    return base.foot_thickness if base.feet == "relieved" else 0.0


def drain_holes(sizes: Sizes) -> tuple[Outline, ...]:
    """Through the floors of the legs' mortises, which face up and would hold what runs down a leg."""
    radius, out = sizes.profile.base.drain_hole / 2, sizes.profile.legs.base_centre_distance
    return tuple(circle(x, 0, radius) for x in (-out, out)) if radius > 0 else ()


CHANNEL: Mapping[Units, float] = {"mm": 5.0, "in": 25.4 * 3 / 16}
"""How deep a channel in a sole is (shop practice), mm."""


def is_shut(profile: Profile) -> bool:
    """Whether a flat floor shuts the drain holes: all of each comes out under a foot that stands on it."""
    base = profile.base
    inner = base.length / 2 - base.foot_length
    return base.glides == "none" and profile.legs.base_centre_distance - base.drain_hole / 2 > inner


def sole_channels(sizes: Sizes) -> tuple[Outline, ...]:
    """What is chiselled by hand into the soles of a relieved base rail, from each drain hole to where its foot ends,
    as wide as the hole; seen from above. None where water runs out beside the foot."""
    base = sizes.profile.base
    if relief_depth(sizes) <= 0 or base.drain_hole <= 0 or not is_shut(sizes.profile):
        return ()
    inner, out = base.length / 2 - base.foot_length, sizes.profile.legs.base_centre_distance
    half = base.drain_hole / 2
    return rectangle(inner, -half, out, half), rectangle(-out, -half, -inner, half)


def make_base(sizes: Sizes) -> tuple[Part, ...]:
    """The base rails, lowest first, and the pads where there are any."""
    lap = base_lap(sizes)
    rails = tuple(_base_rail(sizes, lap, number, code) for number, code in enumerate(lap.codes))
    return (*rails, *_pads(sizes))


def _base_rail(sizes: Sizes, lap: CrossLap, number: int, code: str) -> Part:
    base = sizes.profile.base
    half, b = base.length / 2, base.rail_width / 2
    outline = rounded_bar(-half, half, b, base.end_round, base.end_round)
    features: list[Feature] = list(lap.features(number))
    if relief_depth(sizes) > 0:
        inner = half - base.foot_length
        plan = OVER.outline(rectangle(-inner, -b, inner, b))
        features.append(Feature("relief", "bottom", plan, relief_depth(sizes), "rebate"))
    features.extend(_eased_base(sizes, lap, outline))
    distance = sizes.profile.legs.base_centre_distance
    features.extend(leg_joint(sizes).mortise("top", x, ("LEG",)) for x in (-distance, distance))
    holes = (*pole_hole(sizes), *drain_holes(sizes))
    features.extend(_bored(hole, base.thickness) for hole in holes)
    straight = half - base.end_round
    sides = [
        ("edge-1", Point(-straight, -b), Point(straight, -b)),
        ("edge-2", Point(straight, b), Point(-straight, b)),
    ]
    name = f"{WORDS[code.removeprefix('BASE-')]} base rail"
    return Part(
        code=code,
        name=translated(name),
        kind="base-rail",
        count=1,
        wood=sizes.profile.wood,
        thickness=base.thickness,
        blank=rectangle(-half, -b, half, b),
        outline=outline,
        features=tuple(features),
        holes=holes,
        faces=(*flat_faces(outline, base.thickness), *side_faces(sides, base.thickness)),
    )


def _eased_base(sizes: Sizes, lap: CrossLap, outline: Outline) -> Iterator[Feature]:
    """Above along both edges and round the ends; below as far as the pads, whose joint stays closed, or round the
    feet that stand on the ground, and between them clear of a foot by the bit, led along the relief's floor."""
    profile, size, floor = sizes.profile, sizes.profile.edges.base, relief_depth(sizes)
    foot, start = profile.base.length / 2 - profile.base.foot_length, lap.reach + SHORT
    clear = SHORT + size if floor > 0 else 0.0
    below = long_edges(start, foot - clear, profile.base.rail_width / 2, size)
    yield from eased(profile, mirrored(round_end(outline, start, size)), size, BASE_EDGE, "top")
    if floor > 0:
        yield from eased(profile, mirrored(round_end(outline, foot, size)), size, BASE_EDGE, "bottom")
    yield from eased(profile, mirrored(below), size, BASE_EDGE, "bottom", floor=floor)


def _eased_pad(sizes: Sizes, outline: Outline) -> Iterator[Feature]:
    """All round the sole, whose end grain would split off as the table is dragged."""
    middle, size = sizes.profile.base.foot_length / 2, sizes.profile.edges.base
    strips = (strip for right in (False, True) for strip in round_end(outline, middle, size, right))
    yield from eased(sizes.profile, strips, size, BASE_EDGE, "bottom")


def rounded_bar(left: float, right: float, half_width: float, left_round: float, right_round: float) -> Outline:
    """A bar along x, its corners rounded at each end by the radius given (0 for square)."""
    ring: list[Vertex] = []
    b = half_width
    corners: Sequence[tuple[float, float, int, float]] = (
        (left, -b, 0, left_round), (right, -b, 1, right_round), (right, b, 2, right_round), (left, b, 3, left_round)
    )  # fmt: skip
    for x, y, quarter, radius in corners:
        if radius <= 0:
            ring.append(Vertex(x, y))
            continue
        back = (Point(0, 1), Point(-1, 0), Point(0, -1), Point(1, 0))[quarter]
        ahead = back.left.times(-1)
        start, end = Point(x, y).plus(back, radius), Point(x, y).plus(ahead, radius)
        ring.extend((Vertex(*start, QUARTER_BULGE), Vertex(*end)))
    return Outline(_without_doubles(ring))


def _without_doubles(ring: Sequence[Vertex]) -> tuple[Vertex, ...]:
    """The ring without edges of no length: two arcs of half the width meet in one point."""
    kept = []
    for i, vertex in enumerate(ring):
        after = ring[(i + 1) % len(ring)]
        if vertex.point.distance(after.point) > 1e-9:
            kept.append(vertex)
    return tuple(kept)


def _pads(sizes: Sizes) -> tuple[Part, ...]:
    base = sizes.profile.base
    if base.feet != "pads":
        return ()
    b = base.rail_width / 2
    outline = rounded_bar(0, base.foot_length, b, 0.0, base.end_round)
    holes = _drained_pad(sizes)
    return (
        Part(
            code="FOOT",
            name=translated("foot"),
            kind="foot",
            count=sizes.arms,
            wood=sizes.profile.wood,
            thickness=base.foot_thickness,
            blank=rectangle(0, -b, base.foot_length, b),
            outline=outline,
            features=(*_eased_pad(sizes, outline), *(_bored(hole, base.foot_thickness) for hole in holes)),
            holes=holes,
            faces=flat_faces(outline, base.foot_thickness),
        ),
    )


def _bored(hole: Outline, thickness: float) -> Feature:
    return Feature("hole", "top", hole, thickness, "bore")


def _drained_pad(sizes: Sizes) -> tuple[Outline, ...]:
    """The same hole on through a pad that lies under all of it; beside the pad's end it is open already."""
    base = sizes.profile.base
    if base.length / 2 <= sizes.profile.legs.base_centre_distance:
        return ()
    at, radius = sizes.profile.legs.base_centre_distance - base.length / 2 + base.foot_length, base.drain_hole / 2
    return (circle(at, 0, radius),) if radius > 0 and at > radius else ()


def foot_placement(sizes: Sizes, arm: int) -> Placement:
    """Where the pad under arm `arm` lies in plan, its rounded end outwards."""
    turn = arm * sizes.field_angle
    inner = sizes.profile.base.length / 2 - sizes.profile.base.foot_length
    return Placement(inner * cos(turn), inner * sin(turn), turn)
