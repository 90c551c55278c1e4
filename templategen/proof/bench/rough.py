"""Whether what was sawn out holds what was made of it."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

from shapely.geometry import Polygon, box
from shapely.geometry.polygon import orient

from templategen.catalogue import translated, worded
from templategen.proof.bench.piece import EXACT, FAR, BenchPiece, half_plane
from templategen.proof.read_record import Record, outline_in

SHALLOW = 20.0
"""How many times as far along the grain as across it an edge runs at least that lies along a fence."""


def rough_shapes(record: Record, sizes: Mapping[str, Sequence[float]]) -> dict[str, Any]:
    """What is sawn out for each part, from above: as laid on the boards, else the rectangle that the plan tells."""
    laid = {
        code: Polygon([(x, y) for x, y, _ in outline_in(sawn["outline"]).anticlockwise])
        for piece in record["stock"]
        for code, sawn in piece.get("sawn_out", {}).items()
        if code in sizes and not sawn.get("finished")
    }
    return {code: laid.get(code, box(0.0, 0.0, size[0], size[1])) for code, size in sizes.items()}


def blank_fits(piece: BenchPiece, shape: Any) -> Iterator[str]:
    """Whether the piece as its ends were sawn can be moved to where the rough blank holds it whole, with the whole
    width of an end that was cut clean: sawn off a point nearer to its tip, that end isn't clean yet."""
    corners = list(orient(shape.convex_hull).exterior.coords)
    points = [*piece.blank.convex_hull.exterior.coords, *piece.clean]
    room: Any = box(-FAR, -FAR, FAR, FAR)
    for (x0, y0), (x1, y1) in pairwise(corners):
        long = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        if long < EXACT:
            continue
        inwards = (-(y1 - y0) / long, (x1 - x0) / long)
        reached = min(inwards[0] * x + inwards[1] * y for x, y in points)
        least = inwards[0] * x0 + inwards[1] * y0 - reached - EXACT
        room = room.intersection(half_plane((inwards[0] * least, inwards[1] * least), inwards))
    if room.is_empty:
        yield translated("doesn't come out of what is sawn out for it")


def edge_for_the_fence(shape: Any, told: Record, holding: float) -> Iterator[str]:
    """Whether the shorter long edge of what is sawn out is long enough to be fed along a fence by hand, however long
    it is from point to point."""
    corners = list(orient(shape.convex_hull).exterior.coords)
    long = {True: 0.0, False: 0.0}
    for (x0, y0), (x1, y1) in pairwise(corners):
        if abs(x1 - x0) > SHALLOW * abs(y1 - y0):
            long[x1 > x0] += abs(x1 - x0)
    if 0 < min(long.values()) < holding - EXACT:
        yield worded(
            "{code} has an edge {length:.0f} mm long at the fence, under the {holding:g} mm that a hand may feed",
            code=told["code"],
            length=min(long.values()),
            holding=holding,
        )


def out_of_its_thickness(sawn_out: Record, told: Record, kerf: float) -> Iterator[str]:
    """Whether what is sawn flatwise into several is as thick as all of them, and a kerf between each two."""
    layers, thick = sawn_out["holds"] // told["holds"], sawn_out["after"][2]
    needed = layers * told["after"][2] + (layers - 1) * kerf
    if needed > thick + EXACT:
        yield worded(
            "{layers} of {code} out of one thickness take {needed:.1f} mm, the board has {thick:.1f} mm",
            layers=layers,
            code=told["code"],
            needed=needed,
            thick=thick,
        )
    if told["count"] > sawn_out["count"] * layers:
        yield worded(
            "{count} of {code} are sawn flatwise out of {count2}",
            count=told["count"],
            code=told["code"],
            count2=sawn_out["count"],
        )


def strip_lasts(piece: BenchPiece, told: Record, holds: int, shop: Record) -> Iterator[str]:
    """Whether a strip gives all the pieces that it `holds` in a row by the cuts as told, and leaves the end by which
    it is held for the last of them. Pieces lie all one way, since arrises of a strip are eased face by face."""
    if holds == 1:
        return
    if len(piece.sawn) < 2:
        yield translated("comes off a strip, and an end of it is never sawn across")
        return
    _, low, _, high = piece.blank.bounds
    first, second = piece.sawn[:2]
    apart, squared = piece.apart, abs(first[1] * second[0] - first[0] * second[1]) < EXACT
    slant = abs(first[1] / first[0])
    if not apart and not squared:
        yield translated("the other end is cut while pieces hang together, and leaves the strip slanting otherwise")
        return
    each = (_across(piece.blank, first) + shop["saw_kerf"]) / abs(first[0])
    if apart and apart < each - EXACT:
        yield worded("pieces come off a strip every {apart:.1f} mm, and take {each:.1f} mm", apart=apart, each=each)
    needed = holds * max(apart, each) + slant * (high - low) + shop["strip_end"]
    if told["after"][0] < needed - EXACT:
        yield worded(
            "a strip of {holds} takes {needed:.1f} mm, {after:.1f} mm are sawn out",
            holds=holds,
            needed=needed,
            after=told["after"][0],
        )


def _across(shape: Any, normal: tuple[float, float]) -> float:
    """How much room a shape takes between two lines square to `normal`."""
    reached = [normal[0] * x + normal[1] * y for x, y in shape.convex_hull.exterior.coords]
    return float(max(reached) - min(reached))
