"""Slats cut to the shoulders as they stand: each field from its own measured sides."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import pi

from templategen.catalogue import translated, worded
from templategen.errors import DesignError, Fault
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.parts.face import flat_faces
from templategen.parts.part import Part
from templategen.shop.refit.piece import Laid
from templategen.shop.refit.segment import Span
from templategen.table.field import Border, Field
from templategen.table.sizes import Sizes
from templategen.table.slat import FittedSlat, fit_slat
from templategen.table.slat_parts import LaidSlat, slat_features

SHARE = 0.05
"""Slats whose corners agree within this share a template, mm: a third of what glue bridges, finer than a saw cuts."""


@dataclass(frozen=True, slots=True)
class Recut:
    """A slat as its place wants it: body and outline in the frame of the part that lies there in the drawing, and the
    number of its field, which lies between the arm of that number and the next."""

    code: str
    field: int
    body: Outline
    outline: Outline


def measured_field(sizes: Sizes, number: int, laid: Sequence[Laid]) -> Field:
    """Field `number` with its segments' inner edges where they stand."""
    sides = []
    for border in Field(sizes, number).borders:
        if border.kind == "rim":
            here = laid[border.index]
            border = replace(border, outward=here.outward, distance=here.corner.dot(here.outward))
        sides.append(border)
    return Field(sizes, number, tuple(sides))


def recut_slats(
    sizes: Sizes, slats: Sequence[LaidSlat], laid: Sequence[Laid]
) -> tuple[tuple[Recut, ...], Mapping[int, Sequence[Span]]]:
    """Every laid slat re-fitted, in the same order, and where its tongues enter each segment's inner edge.

    Raises: DesignError where a field has no room for a slat any more.
    """
    fields: dict[int, Field] = {}
    made: list[Recut] = []
    spans: dict[int, list[Span]] = defaultdict(list)
    for slat in slats:
        number = (slat.fitted.field.number + slat.fields_on) % sizes.arms
        field = fields.setdefault(number, measured_field(sizes, number, laid))
        run = slat.fitted.run + slat.fields_on * sizes.field_angle
        fitted = fit_slat(field, slat.fitted.band, run)
        if fitted is None:
            says = worded("field {number} has no room left for {code}", number=number + 1, code=slat.code)
            raise DesignError(Fault("measured", says, translated("check what was measured on its segments")))
        own = slat.placement.inverse
        made.append(Recut(slat.code, number + 1, own.outline(fitted.body), own.outline(fitted.outline)))
        for border in fitted.ends:
            if border.kind == "rim":
                spans[border.index].append(_entered(fitted, border, laid[border.index]))
    return tuple(made), spans


def _entered(fitted: FittedSlat, border: Border, laid: Laid) -> Span:
    """The stretch of a segment's inner edge behind which a tongue lies, from the edge's middle, right positive."""
    back = Placement(laid.middle.x, laid.middle.y, laid.heading - pi).inverse
    xs = [back.point(p).x for piece in border.beyond(fitted.outline) for p in piece.points]
    return min(xs), max(xs)


def slat_part(part: Part, recut: Recut, sizes: Sizes) -> Part:
    """`part` with the shape its place wants."""
    return replace(
        part,
        blank=recut.outline,
        outline=recut.outline,
        body=recut.body,
        features=slat_features(recut.body, recut.outline, sizes),
        faces=flat_faces(recut.outline, part.thickness),
    )


def agree(one: Outline, other: Outline) -> bool:
    """Whether every corner of each outline lies that near to the other."""
    return all(other.distance(p) <= SHARE for p in one.points) and all(one.distance(p) <= SHARE for p in other.points)


def too_long(part: Part, recut: Recut) -> float:
    """By how much a slat cut as `part` is longer than its place, mm; below 0 it is short."""
    assert part.body is not None
    return part.body.bounds.width - recut.body.bounds.width
