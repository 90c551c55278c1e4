"""The lists that follow from the record alone: what is cut, what is bought, what is left."""

import csv
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping
from io import StringIO

from templategen.catalogue import column, read_as, translated, worded
from templategen.proof.counts import wanted_of
from templategen.proof.difference import Difference
from templategen.proof.files import Held
from templategen.proof.read_record import Record

HAIR = 1e-4
"""Listed sizes of offcuts may be larger by so much: what lies so near to a whole step is told as that step, mm."""

CUT_LIST, BUY_LIST, OFFCUTS = "lists/cut-list.csv", "lists/buy-list.csv", "lists/offcuts.toml"

HALF_DIGIT = {1: 0.0501, 2: 0.0051}
"""Half of the last digit that a list carries, by its decimals, mm; and rounding."""

FOR_THE_BENCH = ("jig", "gauge", "template", "caul", "spacer")
"""Kinds that no cut list holds."""

GUARD = "'"
"""Set before words that a spreadsheet would run."""

LONGEST_CELL = 20_000
"""No cell is longer."""

COLUMNS = (
    "name", "count", "wood", "length_mm", "width_mm", "thickness_mm", "revision", "pieces", "cost", "price_each",
    "item", "kind", "amount", "unit", "minutes",
)  # fmt: skip
"""The columns that are read, whatever language their heads are in."""

Row = Mapping[str, str]


def list_differences(record: Record, files: Held, measured: Counter[str]) -> Iterator[Difference]:
    """Rows that are missing or too many, or don't say what the record says."""
    for path, of_list in ((CUT_LIST, _cut_list), (BUY_LIST, _buy_list), (OFFCUTS, _offcuts)):
        data = files.read(path)
        if data is not None:
            measured["by the sizes listed"] += 1
            try:
                yield from (Difference(path, where, says) for where, says in of_list(record, data.decode("utf-8")))
            except (ValueError, LookupError, TypeError, csv.Error) as trouble:
                yield Difference(path, "", worded("can't be read ({trouble})", trouble=str(trouble)[:100]))


def read_rows(text: str) -> list[Row]:
    """The rows of a list, each cell by the English head of its column."""
    read = csv.DictReader(StringIO(text), strict=True)
    english = {column(name): name for name in COLUMNS}
    read.fieldnames = [english.get(name, name) for name in read.fieldnames or ()]
    return list(read)


def _rows(text: str) -> dict[str, Row]:
    """The rows by their first cell."""
    if max(map(len, text.splitlines()), default=0) > LONGEST_CELL:
        raise ValueError(translated("a line that no list of ours has"))
    rows = read_rows(text)
    named: dict[str, Row] = {next(iter(row.values())).removeprefix(GUARD): row for row in rows}
    if len(named) < len(rows):
        raise ValueError(translated("a row stands twice"))
    return named


def _cut_list(record: Record, text: str) -> Iterator[tuple[str, str]]:
    rows, wanted = _rows(text), wanted_of(record)
    for part in record["parts"]:
        row = rows.pop(part["code"], None)
        if row is None:
            if part["kind"] not in FOR_THE_BENCH and wanted[part["code"]]:
                yield part["code"], translated("isn't listed")
            continue
        try:
            count, _ = int(row["count"]), [float(row[f"{name}_mm"]) for name in ("length", "width", "thickness")]
        except ValueError as trouble:
            yield part["code"], worded("can't be read ({trouble})", trouble=str(trouble)[:100])
            continue
        if count != wanted[part["code"]]:
            yield (
                part["code"],
                worded("{listed} pieces, the record says {wanted}", listed=count, wanted=wanted[part["code"]]),
            )
        if (row["name"], row["wood"]) != (part["name"], translated(part["wood"])):
            yield part["code"], translated("is called or made otherwise than the record says")
        if row["revision"] != part["revision"]:
            yield (
                part["code"],
                worded(
                    "revision {revision}, the record says {revision2}",
                    revision=row["revision"],
                    revision2=part["revision"],
                ),
            )
        yield from _sizes(part["code"], row, part["size"], 2)
    yield from ((code, translated("isn't in the record")) for code in rows)


def _sizes(where: str, row: Row, sizes: list[float], digits: int) -> Iterator[tuple[str, str]]:
    told = [float(row[f"{name}_mm"]) for name in ("length", "width", "thickness")]
    if not all(abs(size - true) <= HALF_DIGIT[digits] for size, true in zip(told, sizes, strict=True)):
        yield where, worded("sizes {told}, the record says {sizes}", told=told, sizes=sizes)


def _buy_list(record: Record, text: str) -> Iterator[tuple[str, str]]:
    rows, used = _rows(text), Counter(piece["name"] for piece in record["stock"])
    for name, count in used.items():
        piece = next(piece for piece in record["stock"] if piece["name"] == name)
        row = rows.pop(name, None)
        if row is None:
            yield name, translated("is used, but isn't listed")
            continue
        cost = count * piece["price"]
        if int(row["pieces"]) != count or abs(float(row["cost"]) - cost) > HALF_DIGIT[2]:
            yield (
                name,
                worded(
                    "{pieces} pieces at {cost}, the record uses {count} at {cost2:.2f}",
                    pieces=row["pieces"],
                    cost=row["cost"],
                    count=count,
                    cost2=cost,
                ),
            )
        if row["wood"] != translated(piece["wood"]) or abs(float(row["price_each"]) - piece["price"]) > HALF_DIGIT[2]:
            yield name, translated("is of another wood or price than the record says")
        yield from _sizes(name, row, [*piece["size"], piece["thickness"]], 1)
    codes = {part["code"] for part in record["parts"]} | {
        name for name in rows if name.rpartition("/")[2].startswith(("STRIP-", "SCRAP-"))
    }
    codes |= {name for name in rows if read_as(worded("{stock}, for test strips"), name)}
    yield from ((name, translated("isn't used by the record")) for name, row in rows.items() if name not in codes)


def _offcuts(record: Record, text: str) -> Iterator[tuple[str, str]]:
    """What is listed lies within an offcut of the layouts, or comes of a board bought for test strips; pieces of one
    together cover no more than it does. (That nothing is missing is seen where the list is made anew.)"""
    room = {
        f"{piece['name'][:40].strip()} {piece['piece']} offcut {number}": (
            *box[2:],
            piece["thickness"],
            piece["wood"],
        )
        for piece in record["stock"]
        for number, box in enumerate(piece["offcuts"], 1)
    }
    listed: dict[str, float] = {}
    for entry in tomllib.loads(text).get("stock", []):
        name, sizes = entry["name"], [_millimetres(entry[key]) for key in ("length", "width", "thickness")]
        own = next((one for one in (name, name.rpartition("-")[0]) if one in room), "")
        if not own and any(read_as(worded("{stock}, one more"), one) for one in (name, name.rpartition("-")[0])):
            continue
        if not own or (sizes[2], entry["wood"], entry["count"]) != (*room[own][2:], 1):
            yield name, translated("is called or made otherwise than the record says")
            continue
        listed[own] = listed.get(own, 0.0) + sizes[0] * sizes[1]
        length, width, *_ = room[own]
        most = length * width + HAIR * (length + width)
        if sizes[0] > length + HAIR or sizes[1] > width + HAIR or listed[own] > most:
            yield (
                name,
                worded("measures {sizes}, the record says {n}", sizes=sizes, n=[round(length, 2), round(width, 2)]),
            )


def _millimetres(value: object) -> float:
    return float(str(value).removesuffix(" mm"))
