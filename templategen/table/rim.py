"""The ring: segments grooved only where a groove is owed, and the splines in their joints."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import cos, pi, sin, tan

from templategen.catalogue import translated, worded
from templategen.errors import DesignError, Fault
from templategen.geometry.clip import clip_disc, clip_half_plane
from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.placement import OVER, Placement
from templategen.geometry.point import Point, Vertex, polar
from templategen.geometry.tolerance import EQUAL
from templategen.joinery.spline import SplineJoint
from templategen.parts.face import flat_faces, side_faces
from templategen.parts.feature import Feature
from templategen.parts.kinds import KINDS
from templategen.parts.part import Part
from templategen.table.bounds.refusals import refusal
from templategen.table.edges import DRIP, INNER_EDGE, ROUND_OVER, SHAPED, eased
from templategen.table.runs import Run, reach_of_bevel, spline_start
from templategen.table.sizes import Sizes

SPLINE_WALL = 5.0
"""Wood kept between a spline slot and a groove beside it, mm (a groove's cheek in hardwood)."""

WITH_THE_RING = ("rim-segment", "spline")
"""Kinds whose last outline is sawn when the ring is glued."""

STOP_MARGIN = 10.0
"""Wood kept between a stopped spline and the ring's edges, round-over not counted, mm."""


@dataclass(frozen=True, slots=True)
class Ring:
    """Segments and splines as parts, and which part stands at each segment's and joint's number.

    Joint i lies between segment i and the next.
    """

    parts: tuple[Part, ...]
    segment_codes: tuple[str, ...]
    spline_codes: tuple[str, ...]
    splines: tuple[SplineJoint, ...]
    grooved: frozenset[int] = frozenset()

    def is_grooved(self, index: int) -> bool:
        """Whether a groove runs out through joint `index`."""
        return index in self.grooved


def make_ring(sizes: Sizes, runs: Mapping[int, Sequence[Run]]) -> Ring:
    """The ring, from the runs owed on each segment's inner edge (anticlockwise positive)."""
    splines = _splines(sizes, runs)
    segments, segment_codes = _segments(sizes, runs, splines)
    loose, spline_codes = _loose(sizes, splines)
    return Ring((*segments, *loose), segment_codes, spline_codes, splines, _grooved(sizes, runs))


def _grooved(sizes: Sizes, runs: Mapping[int, Sequence[Run]]) -> frozenset[int]:
    """The joints through which a groove runs out on either side."""
    after = {index for index, owed in runs.items() if any(run.to_joint for run in owed)}
    before = {(index - 1) % sizes.segments for index, owed in runs.items() if any(run.from_joint for run in owed)}
    return frozenset(after | before)


def segment_placement(sizes: Sizes, index: int) -> Placement:
    """Where segment `index` lies: its y axis points outwards."""
    angle = 2 * index * sizes.mitre
    at = polar(sizes.inner_apothem, angle)
    return Placement(at.x, at.y, angle - pi / 2)


def joint_placement(sizes: Sizes, index: int, along: float) -> Placement:
    """The frame of joint `index`, y outwards, its origin `along` the joint face from the inner corner."""
    angle = (2 * index + 1) * sizes.mitre
    at = polar(sizes.inner_corner + along, angle)
    return Placement(at.x, at.y, angle - pi / 2)


def blank_outline(sizes: Sizes) -> Outline:
    """The mitred blank: x along the grain from the middle, y from the inner edge outwards."""
    inner, outer, width = sizes.inner_length / 2, sizes.outer_length / 2, sizes.profile.top.rim_width
    return polygon(((-inner, 0), (inner, 0), (outer, width), (-outer, width)))


def finished_outline(sizes: Sizes) -> Outline:
    """The blank with its outer edge sawn to the arc about the table's centre."""
    if not sizes.is_sawn:
        return blank_outline(sizes)
    inner = sizes.inner_length / 2
    x, y = sizes.radius * sin(sizes.mitre), sizes.radius * cos(sizes.mitre) - sizes.inner_apothem
    bulge = tan(sizes.mitre / 2)
    return Outline((Vertex(-inner, 0), Vertex(inner, 0), Vertex(x, y, bulge), Vertex(-x, y)))


def _splines(sizes: Sizes, runs: Mapping[int, Sequence[Run]]) -> tuple[SplineJoint, ...]:
    joints, top = sizes.profile.joints, sizes.profile.top
    if joints.spline == "none":
        return ()
    half = sizes.inner_length / 2
    made = []
    for index in range(sizes.segments):
        beside = [_from_end(run, half) for run in runs.get(index, ())]
        beside += [_from_end(run.mirrored, half) for run in runs.get((index + 1) % sizes.segments, ())]
        start = spline_start(beside, sizes, SPLINE_WALL)
        stopped = joints.spline == "stopped"
        if stopped:
            start = max(start, STOP_MARGIN)
        end = sizes.wall_at_joint - STOP_MARGIN - top.edge_round if stopped else sizes.joint_face
        made.append(
            SplineJoint(
                joints.spline_thickness, joints.spline_depth, top.thickness / 2, start, end,
                start > 0, stopped, joints.glue_clearance, joints.end_clearance,
            )
        )  # fmt: skip
    _refuse_short(sizes, made)
    return tuple(made)


def _from_end(run: Run, half: float) -> Run:
    """The run measured from the segment's anticlockwise end."""
    return Run(half - run.end, half - run.start, run.to_joint, run.from_joint)


def _refuse_short(sizes: Sizes, splines: Sequence[SplineJoint]) -> None:
    least = 2 * sizes.profile.joints.spline_thickness
    room = min(min(s.spline_end, sizes.wall_at_joint) - s.spline_start for s in splines)
    if room < least:
        told = refusal("no-room-for-spline", {"left": max(0.0, room), "least": least})
        raise DesignError(Fault("joints.spline", told.found, told.other, kind="no-room-for-spline"))


def _segments(
    sizes: Sizes, runs: Mapping[int, Sequence[Run]], splines: Sequence[SplineJoint]
) -> tuple[tuple[Part, ...], tuple[str, ...]]:
    """The segments that differ as parts, and each segment's code; mirrored twins are left and right."""
    known: list[float] = []
    keys = [_key(sizes, index, runs, splines, known) for index in range(sizes.segments)]
    names: dict[tuple[object, ...], str] = {}
    hands: dict[tuple[object, ...], str] = {}
    for key in keys:
        twin = _mirrored(key)
        if key in names:
            continue
        if twin in names:
            names[key] = names[twin]
            hands[twin], hands[key] = "left", "right"
        else:
            names[key] = f"RIM-{chr(ord('A') + len(set(names.values())))}"
    codes = {key: name + hands.get(key, "")[:1].upper() for key, name in names.items()}
    parts = [
        _segment(
            sizes, codes[key], hands.get(key, ""), keys.count(key), runs.get(keys.index(key), ()),
            _at_ends(splines, keys.index(key)),
        )
        for key in names
    ]  # fmt: skip
    return tuple(parts), tuple(codes[key] for key in keys)


def _at_ends(splines: Sequence[SplineJoint], index: int) -> tuple[SplineJoint, SplineJoint] | None:
    """The splines at a segment's anticlockwise and clockwise ends."""
    return (splines[index], splines[index - 1]) if splines else None


def _key(
    sizes: Sizes,
    index: int,
    runs: Mapping[int, Sequence[Run]],
    splines: Sequence[SplineJoint],
    known: list[float],
) -> tuple[object, ...]:
    """What makes a segment differ: its groove runs, then the spline starts at its two ends, sizes as `known`."""
    ends = _at_ends(splines, index)
    starts = tuple(_same(s.start, known) for s in ends) if ends else ()
    owed = tuple((_same(r.start, known), _same(r.end, known)) for r in runs.get(index, ()))
    return owed, starts


def _mirrored(key: tuple[object, ...]) -> tuple[object, ...]:
    owed, starts = key
    assert isinstance(owed, tuple) and isinstance(starts, tuple)
    return tuple((-end, -start) for start, end in reversed(owed)), tuple(reversed(starts))


def _same(size: float, known: list[float]) -> float:
    """The size already `known` that this one equals, either way from the middle, else itself, then known too.

    Rounding would part sizes that lie on either side of a step by a rounding error.
    """
    for met in known:
        if abs(abs(size) - met) <= EQUAL:
            return met if size >= 0 else -met
    known.append(abs(size))
    return size


def _segment(
    sizes: Sizes,
    code: str,
    hand: str,
    count: int,
    runs: Sequence[Run],
    ends: tuple[SplineJoint, SplineJoint] | None,
) -> Part:
    top = sizes.profile.top
    blank, outline = blank_outline(sizes), finished_outline(sizes)
    inner_left, inner_right, outer_right, outer_left = outline.points
    sides = [
        ("edge-1", inner_left, inner_right),
        ("end-1", inner_right, blank.points[2]),
        ("end-2", blank.points[3], inner_left),
    ]
    if not sizes.is_sawn:
        sides.insert(2, ("edge-2", outer_right, outer_left))
    features = [_groove(sizes, run) for run in runs]
    if ends:
        features.append(ends[1].slot("end-1", sizes.joint_face, True, ()))
        features.append(ends[0].slot("end-2", sizes.joint_face, False, ()))
    features.extend(_round_over(sizes, outline))
    features.extend(inner_edge(sizes, outline))
    features.extend(drip_groove(sizes, outline, Point(0, -sizes.inner_apothem), top.rim_width))
    letter = code.removeprefix("RIM-")
    return Part(
        code=code,
        name=worded("rim segment {letter}", letter=letter),
        kind="rim-segment",
        count=count,
        wood=sizes.profile.wood,
        thickness=top.thickness,
        blank=blank,
        outline=outline,
        features=tuple(features),
        faces=(*flat_faces(outline, top.thickness), *side_faces(sides, top.thickness)),
        handed=hand,
    )


def _groove(sizes: Sizes, run: Run) -> Feature:
    """The groove on the inner edge: u runs clockwise round the table, against the run's own sense."""
    half, bevel = sizes.inner_length / 2, reach_of_bevel(sizes)
    start = half - run.end - (bevel if run.to_joint else 0.0)
    end = half - run.start + (bevel if run.from_joint else 0.0)
    return sizes.groove.groove("edge-1", start, end, ())


def _round_over(sizes: Sizes, outline: Outline) -> tuple[Feature, ...]:
    """The rounded outer edge, top and bottom, as a strip along it."""
    radius = sizes.profile.top.edge_round
    if radius <= 0:
        return ()
    centre = Point(0, -sizes.inner_apothem)
    if sizes.is_sawn:
        strips = clip_disc(outline, centre, sizes.radius - radius, keep="outside")
    else:
        strips = clip_half_plane(outline, Point(0, sizes.profile.top.rim_width - radius), Point(0, 1))
    features = []
    for strip in strips:
        features.append(Feature("round-over", "top", strip, radius, ROUND_OVER))
        features.append(Feature("round-over", "bottom", OVER.outline(strip), radius, ROUND_OVER))
    return tuple(features)


def inner_edge(sizes: Sizes, outline: Outline) -> Iterator[Feature]:
    """The arrises over and under the groove, from mitre to mitre."""
    size = sizes.profile.edges.rim
    strips = clip_half_plane(outline, Point(0, size), Point(0, -1)) if size > 0 else ()
    yield from eased(sizes.profile, strips, size, INNER_EDGE, "top", "bottom")


def drip_groove(sizes: Sizes, outline: Outline, centre: Point, width: float) -> Iterator[Feature]:
    """Along the rim's edge in the underside, from mitre to mitre, of a segment so wide about the table's `centre`."""
    inwards, across, depth = sizes.profile.top.drip_groove
    if depth <= 0:
        return
    if sizes.is_sawn:
        kept = clip_disc(outline, centre, sizes.radius - inwards)
        strips = [
            strip for one in kept for strip in clip_disc(one, centre, sizes.radius - inwards - across, "outside")
        ]
    else:
        kept = clip_half_plane(outline, Point(0, width - inwards), Point(0, -1))
        inner = Point(0, width - inwards - across)
        strips = [strip for one in kept for strip in clip_half_plane(one, inner, Point(0, 1))]
    yield from (Feature("drip-groove", "bottom", OVER.outline(strip), depth, DRIP) for strip in strips)


def _loose(sizes: Sizes, splines: Sequence[SplineJoint]) -> tuple[tuple[Part, ...], tuple[str, ...]]:
    """The loose splines that differ as parts, and each joint's code."""
    kinds = sorted(set(splines), key=lambda s: s.start)
    codes = {kind: "SPLINE" if len(kinds) == 1 else f"SPLINE-{'AB'[number]}" for number, kind in enumerate(kinds)}
    parts = [_spline(sizes, kind, codes[kind], splines.count(kind)) for kind in kinds]
    return tuple(parts), tuple(codes[spline] for spline in splines)


def _spline(sizes: Sizes, spline: SplineJoint, code: str, count: int) -> Part:
    """A spline: x across the joint, along its grain; y along the joint outwards from its inner end."""
    half, length = spline.half_width, spline.spline_end - spline.spline_start
    blank = rectangle(-half, 0, half, length)
    return Part(
        code=code,
        name=translated("spline") + (" " + code[-1] if code != "SPLINE" else ""),
        kind="spline",
        count=count,
        wood=sizes.profile.wood,
        thickness=spline.spline_thickness,
        blank=blank,
        outline=_trimmed(sizes, spline, blank),
        faces=flat_faces(blank, spline.spline_thickness),
        notes=("grain runs across the joint",),
    )


def _trimmed(sizes: Sizes, spline: SplineJoint, blank: Outline) -> Outline:
    """The spline once the ring is sawn round with it, or trimmed to the flats of a faceted one."""
    corner = sizes.inner_corner + spline.spline_start
    if sizes.is_sawn:
        return clip_disc(blank, Point(0, -corner), sizes.radius)[0]
    for side in (1, -1):
        outward = Point(0, 1).turned(side * sizes.mitre)
        foot = outward.times(sizes.outer_apothem).plus(Point(0, -corner))
        blank = clip_half_plane(blank, foot, outward.times(-1))[0]
    return blank


def eased_off_mitre(sizes: Sizes) -> float:
    """What the eased edges of the ring take off a mitre, mm2: the inner ones, before it is glued, are met aslant."""
    edges = sizes.profile.edges
    return rounded_off_mitre(sizes) + 2 * KINDS[SHAPED[edges.shape]].takes * edges.rim**2 / cos(sizes.mitre)


def rounded_off_mitre(sizes: Sizes) -> float:
    """What the round-overs of the glued ring take off a mitre, mm2."""
    return 2 * KINDS["round-over"].takes * sizes.profile.top.edge_round**2


def dripped_off_mitre(sizes: Sizes) -> float:
    """What the drip groove of the glued ring takes off a mitre, mm2: square across a sawn ring's, else aslant."""
    _, width, depth = sizes.profile.top.drip_groove
    return width * depth / (1.0 if sizes.is_sawn else cos(sizes.mitre))


def mitre_contact(sizes: Sizes, spline: SplineJoint | None, grooved: bool) -> float:
    """Area of one mitre in the finished ring less its slot and the groove that runs out through it, mm2."""
    top = sizes.profile.top
    wall = sizes.wall_at_joint
    slot = (min(spline.end, wall) - spline.start) * spline.thickness if spline else 0.0
    groove = sizes.groove.width * sizes.groove.depth / cos(sizes.mitre) if grooved else 0.0
    return wall * top.thickness - eased_off_mitre(sizes) - slot - groove - dripped_off_mitre(sizes)
