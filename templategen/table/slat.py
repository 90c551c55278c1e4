"""Slats: a band of a field, its body and its tongues, by one rule for every end shape."""

from dataclasses import dataclass
from math import pi

from templategen.geometry.clip import clip_half_plane
from templategen.geometry.outline import Outline, polygon
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point, polar
from templategen.geometry.tolerance import ON_EDGE
from templategen.table.field import Border, Field
from templategen.table.sizes import Sizes
from templategen.table.spacing import Spacing

GRAZE = 0.01
"""A band that reaches less far than this into a field has no slat there, mm: no saw could cut it."""


@dataclass(frozen=True, slots=True)
class FittedSlat:
    """One slat where it lies in the table: `body` between its shoulders, `outline` with its tongues, the borders
    that its tongues pass (a long edge may lie along a rail without one), and the direction of its run (radians)."""

    field: Field
    band: tuple[float, float]
    run: float
    body: Outline
    outline: Outline
    ends: tuple[Border, ...]

    @property
    def to_band(self) -> Placement:
        """The placement that lays the slat's run along x with the band across y."""
        return Placement(turn=-self.run)


def run_direction(field: Field) -> float:
    """The direction of a slat's length in `field`; its band is measured to the left of it."""
    run = field.sizes.profile.slats.run
    if run == "straight":
        return 0.0
    return field.bisector - (0.0 if run == "along" else pi / 2)


def base_fields(sizes: Sizes) -> tuple[Field, ...]:
    """The fields that differ: one where all are turned copies, half of them for a straight run."""
    count = sizes.rails if sizes.profile.slats.run == "straight" else 1
    return tuple(Field(sizes, number) for number in range(count))


def fit_slats(field: Field, spacing: Spacing) -> tuple[FittedSlat, ...]:
    """The slats of one field, in the order of their bands; a band that misses or only grazes the field gives none."""
    run = run_direction(field)
    fitted = (fit_slat(field, band, run) for band in spacing.bands)
    return tuple(slat for slat in fitted if slat is not None)


def fit_slat(field: Field, band: tuple[float, float], run: float) -> FittedSlat | None:
    """The slat of one band whose length lies in direction `run`, or None where the band misses or only grazes."""
    across = polar(1, run).left
    shoulders = tuple(b.pushed(-field.sizes.clearances.shoulder) if b.kind == "arm" else b for b in field.borders)
    body = _cut_band(field.within(field.square, shoulders), band, across)
    if body is None or _reach(body, across) < GRAZE:
        return None
    touched = [shoulder.touches(body) for shoulder in shoulders]
    length = field.sizes.tongue_length
    pushed = [
        b.pushed(length) if b.kind == "arm" or meets else b for b, meets in zip(shoulders, touched, strict=True)
    ]
    outline = _cut_band(field.within(field.square, [*pushed, field.apex_border]), band, across)
    if outline is None:
        return None
    met = (border for border, meets in zip(field.borders, touched, strict=True) if meets)
    ends = tuple(border for border in met if any(piece.area > ON_EDGE for piece in border.beyond(outline)))
    return FittedSlat(field, band, run, body, outline, ends)


def _reach(body: Outline, across: Point) -> float:
    """How far a body reaches across its run."""
    heights = [across.dot(point) for point in body.points]
    return max(heights) - min(heights)


def _cut_band(outline: Outline, band: tuple[float, float], across: Point) -> Outline | None:
    low = clip_half_plane(outline, across.times(band[0]), across)
    if not low:
        return None
    both = clip_half_plane(low[0], across.times(band[1]), across.times(-1))
    return both[0] if both else None


def end_zones(body: Outline, outline: Outline) -> tuple[Outline, ...]:
    """The tongues in plan: what `outline` has beyond `body`, one zone for each end.

    Both are convex and anticlockwise and share the slat's long edges, or a corner where an end comes to a point
    on its trimmed tongue; the zones lie between the corners that they share.
    """
    inner = _with_corners(body.points, outline.points)
    outer = _with_corners(outline.points, body.points)
    shared = [i for i, point in enumerate(outer) if _place(inner, point) is not None]
    zones = []
    for first, last in zip(shared, shared[1:] + shared[:1], strict=True):
        out = _walk(outer, first, last)
        back = _walk(inner, _place(inner, outer[first]), _place(inner, outer[last]))
        ring = [*out, *reversed(back[1:-1])]
        if len(ring) > 2 and polygon(ring).area > ON_EDGE:
            zones.append(polygon(ring))
    return tuple(zones)


def _place(ring: list[Point], point: Point) -> int | None:
    """The index of `point` among the corners of `ring`, or None."""
    return next((i for i, corner in enumerate(ring) if corner.distance(point) < ON_EDGE), None)


def _walk(ring: list[Point], first: int | None, last: int | None) -> list[Point]:
    """The corners from `first` round to `last`, both included."""
    assert first is not None and last is not None
    steps = (last - first) % len(ring) or len(ring)
    return [ring[(first + i) % len(ring)] for i in range(steps + 1)]


def _with_corners(ring: tuple[Point, ...], others: tuple[Point, ...]) -> list[Point]:
    """The corners of `ring`, and in between those of `others` that lie on its edges."""
    chain: list[Point] = []
    for start, end in zip(ring, ring[1:] + ring[:1], strict=True):
        along = end.minus(start)
        shares = [point.minus(start).dot(along) / along.dot(along) for point in others]
        reach = ON_EDGE / along.length
        inside = [
            (share, point)
            for share, point in zip(shares, others, strict=True)
            if reach < share < 1 - reach and start.plus(along, share).distance(point) < ON_EDGE
        ]
        chain.extend([start, *(point for _, point in sorted(inside))])
    return chain
