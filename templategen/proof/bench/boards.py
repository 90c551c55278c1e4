"""Boards sawn as they are laid out: cut by cut in the order numbered, until each blank lies by itself."""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any

from shapely import get_parts
from shapely.geometry import LineString, Point, Polygon, box
from shapely.strtree import STRtree

from templategen.catalogue import translated, worded
from templategen.geometry.refine import fine_polyline
from templategen.proof.bench.piece import FAR, SAGITTA
from templategen.proof.bench.written import Doing
from templategen.proof.difference import Difference
from templategen.proof.read_record import RECORD, Record, outline_in, placement_in

CORNER = 0.5
"""A corner on which wood may stay, which later cuts take: no larger share of the blank's length and width."""

TRUE = 0.05
"""How far wood may be off, mm."""


def board_differences(record: Record, sawn_out: Mapping[str, tuple[Doing, Record]]) -> Iterator[Difference]:
    """Where the layouts don't give the blanks that the plan begins with; `sawn_out` are its pieces by code. What a
    router finishes isn't sawn out."""
    found: Counter[str] = Counter()
    finished = {code for piece in record["stock"] for code, one in piece["sawn_out"].items() if one.get("finished")}
    sawn_out = {code: one for code, one in sawn_out.items() if code not in finished}
    for piece in record["stock"]:
        yield from _sawn(piece, record["plan"]["shop"]["holding"])
        for entry in piece["placements"]:
            found[entry["code"]] += 1
        for code in {entry["code"] for entry in piece["placements"]}.intersection(sawn_out):
            yield from _as_planned(piece, code, *sawn_out[code])
    woods = {part["code"]: part["wood"] for part in record["parts"]}
    boards = {(piece["wood"], round(piece["thickness"], 3)) for piece in record["stock"]}
    for code, (doing, told) in sawn_out.items():
        if not found[code] and (woods.get(code), round(told["after"][2], 3)) not in boards:
            continue  # no board of that thickness is there; it stands on the buy list
        wanted = told["count"] - record.get("unplaced", {}).get(code, 0) // told["holds"]
        if found[code] != wanted:
            yield Difference(
                RECORD,
                f"{doing.name}, {code}",
                worded("wants {wanted}, {found} are laid out", wanted=wanted, found=found[code]),
            )


def joint_board_differences(
    record: Mapping[str, Any], packets: Mapping[str, Mapping[str, Any]]
) -> Iterator[Difference]:
    """The same for several tables on one stock: the record at the head has the layouts, with codes behind the folders
    of the packets whose plans begin with the blanks."""
    plans = {label: packet["plan"] for label, packet in packets.items() if "plan" in packet}
    if not plans:
        return
    sawn_out = {
        f"{label}/{piece['code']}": (Doing(one), piece)
        for label, plan in plans.items()
        for one in plan["operations"]
        for piece in one["pieces"]
        if piece["before"] is None
    }
    holding = max(plan["shop"]["holding"] for plan in plans.values())
    yield from board_differences({**record, "plan": {"shop": {"holding": holding}}}, sawn_out)


def _as_planned(piece: Record, code: str, doing: Doing, told: Record) -> Iterator[Difference]:
    """A blank on a board has the size and the number of parts that the plan says."""
    laid = piece["sawn_out"][code]
    around = outline_in(laid["outline"]).bounds
    sizes = (around.width, around.height, piece["thickness"])
    where = f"{piece['name']} {piece['piece']}, {code}"
    if any(abs(one - other) > TRUE for one, other in zip(sizes, told["after"], strict=True)):
        shown = " x ".join(f"{size:.2f}" for size in sizes)
        yield Difference(
            RECORD, where, worded("is {shown} mm there, {name} has it otherwise", shown=shown, name=doing.name)
        )
    if laid["pieces"] != told["holds"]:
        yield Difference(
            RECORD,
            where,
            worded(
                "holds {pieces} parts there, {holds} in {name}",
                pieces=laid["pieces"],
                holds=told["holds"],
                name=doing.name,
            ),
        )


def _sawn(piece: Record, holding: float) -> Iterator[Difference]:
    """Sawn stock, cut by cut; every blank must come off whole."""
    if piece.get("mode") != "sawn":
        return
    where = f"{piece['name']} {piece['piece']}"
    blanks = [(entry["code"], _laid(piece, entry)) for entry in piece["placements"]]
    tree = STRtree([_shrunk(blank) for _, blank in blanks])
    rest = [box(0, 0, *piece["size"])]
    for cut in piece["cuts"]:
        at = Point(cut["through"])
        hit = next((number for number, one in enumerate(rest) if one.covers(at)), None)
        if hit is None:
            yield Difference(
                RECORD,
                worded("{where}, saw cut {number}", where=translated(where), number=cut["number"]),
                translated("goes through no piece of the board"),
            )
            continue
        whole = rest.pop(hit)
        kerf = _kerf(cut, piece["kerf"]).intersection(whole)
        for number in tree.query(kerf, predicate="intersects"):
            yield Difference(
                RECORD,
                worded("{where}, saw cut {number}", where=translated(where), number=cut["number"]),
                worded("saws into {blanks}", blanks=blanks[number][0]),
            )
        if _length(whole) < holding - TRUE and kerf.area > 0:
            says = worded(
                "saws a piece {length:.0f} mm long, under the {holding:g} mm that a hand may feed",
                length=_length(whole),
                holding=holding,
            )
            yield Difference(
                RECORD, worded("{where}, saw cut {number}", where=translated(where), number=cut["number"]), says
            )
        rest += [one for one in _polygons(whole.difference(kerf)) if one.area > TRUE]
    loose = [shape for one in rest for shape in _polygons(_shrunk(one))]
    for (code, _), blank in zip(blanks, tree.geometries, strict=True):
        if not any(one.covers(blank.representative_point()) and _freed(one, blank) for one in loose):
            yield Difference(RECORD, f"{where}, {code}", translated("doesn't come off the board by its saw cuts"))


def _shrunk(shape: Any) -> Any:
    """A shape all round smaller by what wood may be off: waste that hangs on by a corner falls off."""
    return shape.buffer(-TRUE, join_style="mitre")


def _freed(one: Any, blank: Any) -> bool:
    """Whether wood is a blank: nothing is missing, and what it has over are corners within the box round it."""
    missing, over = (shape.buffer(-TRUE / 2, join_style="mitre") for shape in (blank - one, one - blank))
    return bool(missing.is_empty and (over.is_empty or all(_corner(waste, blank) for waste in get_parts(over))))


def _corner(waste: Any, blank: Any) -> bool:
    long, wide = (blank.bounds[side + 2] - blank.bounds[side] for side in (0, 1))
    left, low, right, high = waste.bounds
    small = right - left <= CORNER * long and high - low <= CORNER * wide
    return bool(small and blank.envelope.buffer(TRUE).covers(waste))


def _laid(piece: Record, entry: Record) -> Any:
    outline = outline_in(piece["sawn_out"][entry["code"]]["outline"])
    return Polygon(fine_polyline(placement_in(entry).outline(outline), SAGITTA))


def _kerf(cut: Record, wide: float) -> Any:
    """The whole line of a cut, as wide as the saw: what isn't in the piece that is cut stays as it is."""
    (x0, y0), (x1, y1) = cut["from"], cut["to"]
    long = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 or 1.0
    ux, uy = (x1 - x0) / long * FAR, (y1 - y0) / long * FAR
    return LineString([(x0 - ux, y0 - uy), (x1 + ux, y1 + uy)]).buffer(wide / 2, cap_style="flat")


def _length(shape: Any) -> float:
    left, _, right, _ = shape.bounds
    return float(right - left)


def _polygons(shape: Any) -> Iterator[Any]:
    yield from getattr(shape, "geoms", (shape,))
