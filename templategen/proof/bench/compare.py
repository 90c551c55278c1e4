"""Where a piece that came off the bench isn't the part that the record tells."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Any

from shapely import affinity
from shapely.geometry import Polygon
from shapely.ops import unary_union

from templategen.catalogue import translated, worded
from templategen.geometry.outline import Outline
from templategen.geometry.refine import fine_polyline
from templategen.proof.bench.piece import EXACT, SAGITTA, BenchPiece, Shaped
from templategen.proof.bench.written import Misfit
from templategen.proof.recorded import Recorded, RecordedWork

THIN = 1e-4

HAIR = 0.005
"""Half of the hundredth of a millimetre to which piece and part must agree."""

CHORDS = SAGITTA * 2 / 3
"""How far the chords of two tellings of one arc lie apart on the mean, one of them in its arc, mm."""

OFFSET = 0.003
"""How far an offset may lie beside the true one on the mean, as a share of its distance: GEOS takes corners smaller
than a hundredth of the distance for none."""

SLIVER = 0.02
"""Half the width of what two tellings of one arc leave between them at most, mm."""


def differences(piece: BenchPiece, part: Recorded) -> Iterator[str]:
    """Where the piece isn't the part, told once for each place; none when all agrees within a hundredth."""
    if abs(piece.thickness - part.thickness) > EXACT:
        yield translated("thickness")
        return
    wanted = _layers_of(part)
    plan = unary_union([shape for _, _, shape in wanted])
    found = piece.plan
    if found.is_empty:
        yield translated("nothing is left")
        return
    dx, dy = plan.bounds[0] - found.bounds[0], plan.bounds[1] - found.bounds[1]
    yield from _blank_differences(piece, part)
    laid = [(a, b, affinity.translate(shape, dx, dy)) for a, b, shape in piece.layers]
    for z0, z1 in _slabs((*laid, *wanted)):
        one, other = _at(laid, (z0 + z1) / 2), _at(wanted, (z0 + z1) / 2)
        if differ(one, other):
            yield worded("between {z0:.3f} and {z1:.3f}", z0=z0, z1=z1)
    yield from _shaped_differences([_left(piece, one, dx, dy) for one in piece.shaped], part)


def _left(piece: BenchPiece, one: Shaped, dx: float, dy: float) -> Shaped:
    """What later cuts have left of an arris that was taken before them."""
    left = one.strip.intersection(piece.surface(one.face, one.floor))
    return replace(one, strip=affinity.translate(left, dx, dy))


def _blank_differences(piece: BenchPiece, part: Recorded) -> Iterator[str]:
    """Whether ends were cut to the cut list's length; raked legs' blanks are square bars as long as their points."""
    if any(abs(length - part.blank.bounds.width) > 2 * HAIR for length in piece.lengths):
        yield translated("length")
    box_ = piece.blank.bounds
    if abs(box_[2] - box_[0] - part.blank.bounds.width) > 2 * HAIR:
        yield translated("length from point to point")
    low = part.blank.bounds
    moved = affinity.translate(piece.blank, low.left - box_[0], low.bottom - box_[1])
    if part.record["kind"] != "leg" and differ(moved, _shape(part.blank)):
        yield translated("blank")


def differ(one: Any, other: Any) -> bool:
    """Whether two shapes are apart by more than a hundredth of a millimetre anywhere, or in area by what no hair of
    their outlines explains."""
    apart = one.symmetric_difference(other)
    if apart.area < HAIR * HAIR:
        return False
    if not apart.buffer(-HAIR, join_style="mitre").is_empty:
        return True
    return bool(abs(one.area - other.area) > 2e-4 * (one.length + 1))


def _slabs(layers: Iterable[tuple[float, float, Any]]) -> Iterator[tuple[float, float]]:
    heights = sorted({round(z, 7) for a, b, _ in layers for z in (a, b)})
    for z0, z1 in pairwise(heights):
        if z1 - z0 > THIN:
            yield z0, z1


def _at(layers: Iterable[tuple[float, float, Any]], z: float) -> Any:
    found = [shape for a, b, shape in layers if a < z < b]
    return found[0] if len(found) == 1 else unary_union(found)


def _layers_of(part: Recorded) -> list[tuple[float, float, Any]]:
    """The finished part as layers, from its outline, holes and features; arrises left sharp."""
    body = _shape(part.outline).difference(unary_union([_shape(hole) for hole in part.holes]))
    whole = BenchPiece(part.thickness, 0, [(0.0, part.thickness, body)])
    for work in part.works:
        if work.runs_along or part.goes_through(work):
            continue
        plan = _shape(part.from_above(work))
        if work.face == "top":
            whole.take(plan, part.thickness - work.depth, part.thickness)
        elif work.face == "bottom":
            whole.take(plan, 0.0, work.depth)
        else:
            box = work.outline.bounds
            whole.take(_run_out(part, work), box.bottom, box.top)
    return whole.layers


def _run_out(part: Recorded, work: RecordedWork) -> Any:
    """Work on an upright face from above, a millimetre out past it so that no sliver stays."""
    if work.face not in part.sides:
        raise Misfit(worded("{code} has no face {face}", code=part.code, face=work.face))
    side, box = part.sides[work.face], work.outline.bounds
    corners = ((box.left, -1.0), (box.right, -1.0), (box.right, work.depth), (box.left, work.depth))
    spots = [side.start.plus(side.along, u).plus(side.along.left, depth) for u, depth in corners]
    return Polygon([(spot.x, spot.y) for spot in spots])


def _shape(outline: Outline) -> Any:
    return Polygon(fine_polyline(outline, SAGITTA))


def _shaped_differences(shaped: Sequence[Shaped], part: Recorded) -> Iterator[str]:
    """What shaped cutters took along the edges of each face, all strips of one kind and size together."""
    wanted = [
        Shaped(work.kind, work.face, _shape(part.from_above(work)), work.depth, work.floor)
        for work in part.works
        if work.runs_along
    ]
    for kind, face, size, floor in sorted({_way(one) for one in (*wanted, *shaped)}):
        one, other = (
            unary_union([strip.strip for strip in strips if _way(strip) == (kind, face, size, floor)])
            for strips in (wanted, shaped)
        )
        apart = one.symmetric_difference(other)
        if apart.area > (CHORDS + OFFSET * size) * (one.length + 1) or _has_body(apart, size):
            yield worded("{kind} of the {face}", kind=translated(kind), face=face) + (
                worded(", {floor:g} mm under it", floor=floor) if floor else ""
            )


def _has_body(apart: Any, size: float) -> bool:
    """Whether shapes are apart by more than slivers anywhere, as at an end that stops elsewhere."""
    return not apart.buffer(-(SLIVER + 3 * OFFSET * size), join_style="mitre").is_empty


def _way(one: Shaped) -> tuple[str, str, float, float]:
    return one.kind, one.face, round(one.size, 6), round(one.floor, 6)
