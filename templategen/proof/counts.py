"""The record agrees with itself: every part is there as often as the table and the stock need it."""

from collections import Counter
from collections.abc import Iterator

from templategen.catalogue import translated, worded
from templategen.proof.difference import Difference
from templategen.proof.read_record import RECORD, Record

TABLE_KINDS = ("rim-segment", "rail", "slat", "spline", "leg", "base-rail", "foot")
"""Kinds of part that stand in the table; the others are made to make them with."""


def wanted_of(record: Record) -> dict[str, int]:
    """How many of each part are made: as many as stand in all tables, of a re-fit as many as it leaves to cut."""
    tables, rest = record.get("tables", 1), record.get("refit", {}).get("to_cut")
    return {
        part["code"]: part["count"] * tables if rest is None else int(rest.get(part["code"], 0))
        for part in record["parts"]
    }


def count_differences(record: Record) -> Iterator[Difference]:
    """Codes and counts that contradict each other."""
    parts = {part["code"]: part for part in record["parts"]}
    if len(parts) < len(record["parts"]):
        yield Difference(RECORD, "parts", translated("a code stands twice"))
    yield from _standing(record, parts)
    yield from _named(record, parts)
    yield from _laid(record, parts)
    listed = {file["path"] for file in record["files"]}
    for entry in (*record["parts"], *record["stock"]):
        for path in entry["files"]:
            if path not in listed:
                yield Difference(
                    path, entry.get("code", entry.get("name", "")), translated("is named, but not among the files")
                )


def _standing(record: Record, parts: dict[str, Record]) -> Iterator[Difference]:
    standing = Counter(placed["code"] for placed in record["placed"])
    for code in sorted(set(standing) - set(parts)):
        yield Difference(RECORD, code, translated("stands in the table, but isn't among the parts"))
    for code, part in parts.items():
        if part["kind"] in TABLE_KINDS and part["count"] != standing[code]:
            yield Difference(
                RECORD,
                code,
                worded(
                    "is made {count} times, stands in it {standing} times",
                    count=part["count"],
                    standing=standing[code],
                ),
            )


def _named(record: Record, parts: dict[str, Record]) -> Iterator[Difference]:
    for joint in record["joints"]:
        for code in joint["parts"]:
            if code not in parts:
                yield Difference(
                    RECORD,
                    code,
                    worded("meets others in a {kind}, but isn't among the parts", kind=translated(joint["kind"])),
                )
    moved = {move["placed"] for step in record["assembly"] for move in step.get("moves", ())}
    for place, placed in enumerate(record["placed"] if moved else ()):
        if place not in moved:
            yield Difference(
                RECORD, placed["code"], worded("stands in place {place}, but no step puts it there", place=place)
            )


def _laid(record: Record, parts: dict[str, Record]) -> Iterator[Difference]:
    """A part that is cut from the stock at all is cut from it as often as it is made."""
    laid: Counter[str] = Counter()
    spare: Counter[str] = Counter()
    for piece in record["stock"]:
        for code in (placement["code"] for placement in piece["placements"]):
            each = piece.get("sawn_out", {}).get(code, {}).get("pieces", 1)
            laid[code] += each
            spare[code] = each - 1
    unplaced = record.get("unplaced", {})
    tables = record.get("tables", 1)
    for code in sorted(set(laid) - set(parts)):
        yield Difference(RECORD, code, translated("is laid on stock, but isn't among the parts"))
    for code in sorted((set(laid) | set(unplaced)) & set(parts)):
        wanted = parts[code]["count"] * (tables if parts[code]["kind"] in TABLE_KINDS else 1)
        if not 0 <= laid[code] + unplaced.get(code, 0) - wanted <= spare[code]:
            yield Difference(
                RECORD,
                code,
                worded("is laid on stock {laid} times, wanted {wanted} times", laid=laid[code], wanted=wanted),
            )
