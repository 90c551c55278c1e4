"""Follows the written plan from the boards to the finished table, and tells where it doesn't get there."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from math import ceil
from typing import Any

from templategen.catalogue import translated, worded
from templategen.proof.bench.boards import board_differences
from templategen.proof.bench.compare import differences
from templategen.proof.bench.cuts import WORK
from templategen.proof.bench.piece import BenchPiece
from templategen.proof.bench.rough import (
    blank_fits,
    edge_for_the_fence,
    out_of_its_thickness,
    rough_shapes,
    strip_lasts,
)
from templategen.proof.bench.safe import forbidden, met, out_of_reach, slips, too_much, topples
from templategen.proof.bench.written import Doing, Misfit
from templategen.proof.counts import TABLE_KINDS, wanted_of
from templategen.proof.difference import Difference
from templategen.proof.read_record import RECORD, Record
from templategen.proof.recorded import Recorded

SAME = 0.02
"""How far written sizes may be from what the bench measures, mm."""

IN_THE_RING = ("saw round", "trim", "drip groove", "edge round-over")
"""Work on the glued ring, which meets all that is in it."""

ENDS = ("crosscut", "mitre", "spline slot")
"""Work that is done once to an end, whichever face it goes by: a slot may be cut at a machine off one, by hand off
the other."""


STOPS = ("start", "end", "stop", "rear", "front", "line")
"""By which figures a part's cuts of one kind differ; pieces of one cut may be told them by other tools' names."""


@dataclass
class Bench:
    """What lies on it: the pieces by the code of their part, how each was last told, how many were cut each way."""

    shop: Record
    pieces: dict[str, BenchPiece] = field(default_factory=dict)
    told: dict[str, Record] = field(default_factory=dict)
    sawn_out: dict[str, tuple[Doing, Record]] = field(default_factory=dict)
    cut: Counter[tuple[str, ...]] = field(default_factory=Counter)
    layers: dict[str, int] = field(default_factory=dict)


def bench_differences(record: Record) -> Iterator[Difference]:
    """Where whoever does exactly what the plan says, and nothing else, doesn't end with the finished table."""
    plan = record["plan"]
    doings = [Doing(one) for one in plan["operations"]]
    parts = {one["code"]: Recorded(one) for one in record["parts"] if one["kind"] in TABLE_KINDS}
    wanted = wanted_of({**record, "tables": plan["tables"]})
    yield from _in_order(plan, doings)
    yield from _steps(record, doings)
    yield from _board_taken(record)
    bench = Bench(plan["shop"])
    for doing in doings:
        yield from _done(bench, doing, parts, wanted)
        yield from (Difference(RECORD, doing.name, says) for says in slips(doing, record))
    rough = rough_shapes(record, {code: told["after"] for code, (_, told) in bench.sawn_out.items()})
    made = {code: part for code, part in parts.items() if wanted[code]}
    yield from _finished(bench, made, rough, wanted)
    yield from board_differences(record, bench.sawn_out)


def _in_order(plan: Record, doings: Iterable[Doing]) -> Iterator[Difference]:
    """Numbers and days go up, minutes come to the whole."""
    day, minutes = 1, 0.0
    for number, doing in enumerate(doings, 1):
        one = doing.record
        if one["number"] != number or one["day"] < day:
            yield Difference(RECORD, doing.name, translated("doesn't stand in its order"))
        day, minutes = one["day"], minutes + one["minutes"]
    if day != plan["days"] or abs(minutes - plan["minutes"]) > SAME:
        yield Difference(RECORD, "plan", translated("days or minutes aren't those of its operations"))


def _steps(record: Record, doings: Iterable[Doing]) -> Iterator[Difference]:
    """Every step of the assembly is done once, in its order."""
    done = [(one.record["step"], one.does) for one in doings if "step" in one.record]
    wanted = [(step["step"], step["does"]) for step in record["assembly"]]
    if done != wanted:
        first = next(
            (str(one) for one, other in zip(wanted, done, strict=False) if one != other), translated("the last")
        )
        yield Difference(
            RECORD,
            "plan",
            worded("doesn't put the table together in the steps of its assembly: {first}", first=first),
        )


def _board_taken(record: Record) -> Iterator[Difference]:
    """Segments that are glued apart from the cross, on the one board on which that lies by then."""
    kinds = {part["code"]: part["kind"] for part in record["parts"]}
    steps, cross = record["assembly"], False
    for number, step in enumerate(steps):
        own = {move["placed"] for move in step["moves"]}
        later = {move["placed"] for other in steps[number + 1 : -1] for move in other["moves"]}
        adds = {kinds.get(code) for code in step["adds"]}
        if cross and "rim-segment" in adds and own <= later:
            yield Difference(
                RECORD, "plan", worded("step {step} needs the board on which the cross lies", step=step["step"])
            )
        cross = cross or "rail" in adds


def _done(
    bench: Bench, doing: Doing, parts: Mapping[str, Recorded], wanted: Mapping[str, int]
) -> Iterator[Difference]:
    """One operation: what is forbidden or out of reach, then the cuts, then what the pieces measure."""
    found: list[str] = []
    try:
        for told in doing.record["pieces"]:
            found += (
                _taken_up(bench, doing, told)
                if told["code"] in parts
                else [worded("{code} is no part of the table", code=told["code"])]
            )
            found += (*forbidden(doing, told, bench.shop["holding"]), *too_much(doing, told, bench.shop))
        for cut in doing.cuts:
            found += (*out_of_reach(doing, cut, bench.shop), *met(doing, cut))
            for lay in cut.lays:
                if doing.does in IN_THE_RING and wanted.get(lay.code) == 0:
                    continue  # it was cut before the re-fit, and goes round with the rest
                piece = bench.pieces[lay.code]
                piece.beside = bench.pieces
                found += topples(doing, piece, lay)
                WORK[doing.does](piece, cut, lay)
                stops = sorted(round(cut.figures[name], 3) for name in STOPS if name in cut.figures)
                place = f"{lay.worked} {lay.against} {lay.stop_at} {stops}"
                bench.cut[lay.code, doing.does, lay.worked if doing.does in ENDS else place] += lay.pieces
        for told in doing.record["pieces"]:
            found += _measured(bench, doing, told)
    except Misfit as misfit:
        found.append(str(misfit))
    except KeyError as missing:
        found.append(worded("{missing} isn't on the bench, or nobody knows how it is done", missing=missing))
    except (ValueError, ArithmeticError) as trouble:
        found.append(worded("can't be worked: {trouble}", trouble=trouble))
    for says in found:
        yield Difference(RECORD, doing.name, says)


def _taken_up(bench: Bench, doing: Doing, told: Record) -> Iterator[str]:
    """Pieces come as the operation before left them; what is sawn out of boards comes new."""
    code, last = told["code"], bench.told.get(told["code"])
    if told["before"] is None:
        if last is not None:
            yield worded("{code} is sawn out twice", code=code)
        bench.sawn_out[code] = doing, told
        bench.pieces[code] = BenchPiece(thickness=told["after"][2])
    elif last is None:
        yield worded("{code} was never sawn out", code=code)
    elif any(abs(one - other) > SAME for one, other in zip(last["after"], told["before"], strict=True)):
        yield worded("{code} doesn't come as it was left", code=code)
    elif any(after > before + SAME for before, after in zip(told["before"], told["after"], strict=True)):
        yield f"{code} grows"
    if last is not None:
        yield from _as_many(last, told, doing.does == "saw flatwise")
    bench.told[code] = told


def _as_many(last: Record, told: Record, flatwise: bool) -> Iterator[str]:
    """A strip stays whole or is cut off into single pieces, as many as it holds or the last strip fewer; sawn
    flatwise it becomes several that hold its pieces between them."""
    if (
        flatwise
        and told["count"] * told["holds"] <= last["count"] * last["holds"]
        and last["holds"] % told["holds"] == 0
    ):
        return
    whole = told["holds"] == last["holds"] and told["count"] == last["count"]
    single = told["holds"] == 1 and ceil(told["count"] / last["holds"]) == last["count"]
    if not whole and not single:
        yield worded(
            "{count} of {code} are worked, {count2} were left, {holds} in each",
            count=told["count"],
            code=told["code"],
            count2=last["count"],
            holds=last["holds"],
        )


def _measured(bench: Bench, doing: Doing, told: Record) -> Iterator[str]:
    """What the pieces measure after an operation is what it says."""
    code, piece, after = told["code"], bench.pieces[told["code"]], told["after"]
    before = told["before"] or after
    if doing.does in ("saw flatwise", "plane down"):
        piece.thickness = after[2]
        yield from out_of_its_thickness(bench.sawn_out[code][1], told, bench.shop["resaw_kerf"])
        bench.layers[code] = max(1, bench.sawn_out[code][1]["holds"] // told["holds"])
    if doing.does == "plane" and before[2] - piece.thickness > bench.shop["planing"] + SAME:
        yield worded(
            "{code}: {n:.1f} mm are planed off, and nothing was sawn flatwise",
            code=code,
            n=before[2] - piece.thickness,
        )
    measured = {2: piece.thickness}
    if piece.layers:
        left, low, right, high = piece.bounds
        measured |= {1: high - low} | ({0: right - left} if _has_both_ends(piece) else {})
    for which, size in measured.items():
        if abs(size - after[which]) > SAME:
            yield worded(
                "{code} comes out {size:.3f} mm {way}, not {after:.3f}",
                code=code,
                size=size,
                way=translated(("long", "wide", "thick")[which]),
                after=after[which],
            )


def _has_both_ends(piece: BenchPiece) -> bool:
    """Whether both ends are sawn."""
    return {name.partition("-")[0] for name in piece.lines} == {"left", "right"}


def _finished(
    bench: Bench, parts: Mapping[str, Recorded], rough: Mapping[str, Any], wanted: Mapping[str, int]
) -> Iterator[Difference]:
    """Every part of the table is there, as often as it stands in it, and is what the record tells."""
    for code, part in parts.items():
        if code not in bench.sawn_out:
            yield Difference(RECORD, code, translated("is never made"))
            continue
        for says in (
            *_counted(bench, code, wanted[code], part.record["count"]),
            *_as_wanted(bench, part, rough[code]),
        ):
            yield Difference(RECORD, code, says)


def _counted(bench: Bench, code: str, needed: int, standing: int) -> Iterator[str]:
    """As many are made as are wanted, and each is worked everywhere; in the ring go all that stand in a table."""
    told = bench.told[code]
    if told["holds"] != 1 or told["count"] != needed:
        yield worded("{count} are made, {needed} stand in the table", count=told["count"], needed=needed)
    for (own, does, _), pieces in bench.cut.items():
        whole = max(needed, standing) if does in IN_THE_RING else needed
        if own == code and pieces != whole:
            yield worded("{does} is done to {pieces} of {whole}", does=translated(does), pieces=pieces, whole=whole)


def _as_wanted(bench: Bench, part: Recorded, rough: Any) -> Iterator[str]:
    """The piece is the part, and came out of its blank."""
    piece, told = bench.pieces[part.code], bench.sawn_out[part.code][1]
    if piece.blank is None:
        yield translated("has no ends")
        return
    try:
        yield from differences(piece, part)
        yield from blank_fits(piece, rough)
        yield from edge_for_the_fence(rough, told, bench.shop["holding"])
        yield from strip_lasts(piece, told, told["holds"] // bench.layers.get(part.code, 1), bench.shop)
    except Misfit as misfit:
        yield str(misfit)
