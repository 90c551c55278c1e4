"""The drawings of stock show what the record lays on it, and nothing is laid past the edge or over a fault."""

from collections.abc import Iterator, Mapping, Sequence
from math import pi
from typing import Any

from templategen.catalogue import translated, worded
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, circle, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.proof.difference import Difference
from templategen.proof.drawn import Drawn
from templategen.proof.faces import INSIDE, OUTSIDE, WOOD
from templategen.proof.outlines import TRUE, apart, describe_miss, worst_off
from templategen.proof.part_files import Files, all_drawn, pair_differences, square
from templategen.proof.read_record import RECORD, Record, outline_in, placement_in
from templategen.proof.recorded import Recorded

EDGE, TRIM, CUT, FAULT, OFFCUT = "STOCK_OUTLINE", "TRIM_MARGIN", "SAW_CUT", "FAULT", "OFFCUT"
BLANK = "BLANK_OUTLINE"

ELSE = {OUTSIDE: "TOP_OUTSIDE_", BLANK: "TOP_BLANK_", INSIDE: "BORED_HOLE"}
"""How layers begin of lines that are cut to a skin in place of right through, and of holes too small for a bit."""

UNDERSIDE = "-bottom."
"""In the name of a file that shows a sheet with its underside up."""

Wanted = tuple[str, str, Outline]
"""What an outline is, the layer it lies on, and the outline."""


def stock_differences(piece: Record, parts: Mapping[str, Recorded], files: Files) -> Iterator[Difference]:
    """Where one piece of stock isn't as the record says."""
    name = f"{piece['name']} {piece['piece']}"
    laid = list(_laid(piece, parts))
    for code, ring in ((code, ring) for code, layer, ring in laid if layer != INSIDE):
        yield from _lies_well(name, code, ring, piece)
    read, unread = all_drawn(files, name)
    yield from unread
    wanted = [("edges", EDGE, rectangle(0, 0, *piece["size"])), *laid, *_marked(piece)]
    for path, drawn in read.items():
        yield from square(path, drawn)
        shown = list(_turned(wanted, piece)) if UNDERSIDE in path else wanted
        for where, says in (*_outlines(shown, drawn), *_saw_cuts(piece, drawn)):
            yield Difference(path, f"{name}, {translated(where)}", says)
    for face in (True, False):
        yield from pair_differences({path: drawn for path, drawn in read.items() if (UNDERSIDE in path) is face})


def _turned(wanted: Sequence[Wanted], piece: Record) -> Iterator[Wanted]:
    """What the underside shows of it: turned over about the middle line along x, parts as outlines only."""
    over = Placement(0.0, piece["size"][1], pi, True)
    for where, layer, ring in wanted:
        if layer not in (INSIDE, OFFCUT):
            yield where, WOOD if layer in (OUTSIDE, BLANK) else layer, over.outline(ring)


def _laid(piece: Record, parts: Mapping[str, Recorded]) -> Iterator[Wanted]:
    """Every part where it lies; of one that a router finishes its holes too, which are cut in one go."""
    for entry in piece["placements"]:
        if entry["code"] in parts:
            part, way = parts[entry["code"]], placement_in(entry)
            is_finished = piece.get("sawn_out", {}).get(part.code, {}).get("finished", False)
            layer = OUTSIDE if is_finished else BLANK
            yield part.code, layer, way.outline(outline_in(_sawn_out(piece, entry, part)))
            if is_finished:
                yield from (
                    (worded("{code}, hole", code=part.code), INSIDE, way.outline(hole)) for hole in part.holes
                )


def _sawn_out(piece: Record, entry: Record, part: Recorded) -> Any:
    """The outline that is laid: what is sawn out for the part, or one of the part's own."""
    if entry.get("uses") == "sawn_out":
        return piece["sawn_out"][part.code]["outline"]
    return part.record[entry.get("uses", "outline")]


def _marked(piece: Record) -> Iterator[Wanted]:
    """Faults, offcuts and what is trimmed off."""
    length, width = piece["size"]
    for x, y, across in piece["faults"]:
        if across > 0:
            yield "knot", FAULT, circle(x, y, across / 2)
    for x, y, long, wide in piece.get("fault_areas", ()):
        yield "fault", FAULT, rectangle(x, y, x + long, y + wide)
    for x, y, long, wide in piece["offcuts"]:
        yield "offcut", OFFCUT, rectangle(x, y, x + long, y + wide)
    margin = piece.get("margin", 0.0)
    left, right, bottom, top = margin if isinstance(margin, list) else [margin] * 4
    if any((left, right, bottom, top)) and left < length - right and bottom < width - top:
        yield "margin", TRIM, rectangle(left, bottom, length - right, width - top)


def _outlines(wanted: Sequence[Wanted], drawn: Drawn) -> Iterator[tuple[str, str]]:
    """Every outline wanted is drawn on its layer, each for itself, and no other."""
    shown = {WOOD} if any(layer == WOOD for _, layer, _ in wanted) else {OUTSIDE, BLANK, INSIDE}
    rest = {layer: list(drawn.rings.get(layer, ())) for layer in (EDGE, TRIM, FAULT, OFFCUT, *sorted(shown))}
    for layer, other in ELSE.items():
        if layer in rest:
            rest[layer] += (ring for name, rings in drawn.rings.items() if name.startswith(other) for ring in rings)
    for where, layer, ring in wanted:
        near = [(apart(ring, other), i) for i, other in enumerate(rest[layer]) if _near(ring, other)]
        (off, at), which = min(near, key=lambda one: one[0][0], default=((float("inf"), Point(0, 0)), -1))
        if off > TRUE:
            yield where, describe_miss(off, at)
        if which >= 0:
            del rest[layer][which]
    for layer, rings in rest.items():
        for ring in rings:
            yield (
                layer,
                worded(
                    "an outline at ({left:.2f}, {bottom:.2f}) that the record doesn't have",
                    left=ring.bounds.left,
                    bottom=ring.bounds.bottom,
                ),
            )


def _near(one: Outline, other: Outline) -> bool:
    return one.bounds.meets(other.bounds)


def _saw_cuts(piece: Record, drawn: Drawn) -> Iterator[tuple[str, str]]:
    """Every saw cut is drawn from end to end, and no other."""
    cuts = [Line(Point(*cut["from"]), Point(*cut["to"])) for cut in piece.get("cuts", ())]
    cuts = [cut for cut in cuts if cut.length > TRUE]
    strokes = list(drawn.strokes.get(CUT, ()))
    for number, cut in enumerate(cuts, 1):
        match = next((stroke for stroke in strokes if _same_ends(cut, stroke)), None)
        if match is None:
            yield (
                worded("saw cut {number}", number=number),
                describe_miss(*worst_off([cut], strokes)) or translated("isn't drawn from end to end"),
            )
        else:
            strokes.remove(match)
    for stroke in strokes:
        yield (
            CUT,
            worded("a line at ({x:.2f}, {y:.2f}) that the record doesn't have", x=stroke.start.x, y=stroke.start.y),
        )


def _same_ends(cut: Line, stroke: object) -> bool:
    if not isinstance(stroke, Line):
        return False
    there = cut.start.distance(stroke.start), cut.end.distance(stroke.end)
    back = cut.start.distance(stroke.end), cut.end.distance(stroke.start)
    return min(max(there), max(back)) <= TRUE


def _lies_well(name: str, code: str, ring: Outline, piece: Record) -> Iterator[Difference]:
    box, (length, width) = ring.bounds, piece["size"]
    if box.left < -TRUE or box.bottom < -TRUE or box.right > length + TRUE or box.top > width + TRUE:
        yield Difference(RECORD, f"{name}, {code}", translated("lies past the edge of the stock"))
    for x, y, across in piece["faults"]:
        at = Point(x, y)
        if ring.winding(at) != 0 or ring.distance(at) < across / 2 - TRUE:
            yield Difference(RECORD, f"{name}, {code}", worded("lies on the fault at ({x:g}, {y:g})", x=x, y=y))
