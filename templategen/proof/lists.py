"""The cut list says of every part what the record says."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from io import StringIO

from templategen.proof.difference import Difference
from templategen.proof.read_record import Record

CUT_LIST = "lists/cut-list.csv"
HALF_DIGIT = 0.0051
"""Half of the last digit that a list carries, mm; and rounding."""

GUARD = "'"
"""Set before words that a spreadsheet would run."""


def list_differences(record: Record, data: bytes) -> Iterator[Difference]:
    """Rows that are missing, or don't measure what the record says."""
    rows = {row["code"].removeprefix(GUARD): row for row in csv.DictReader(StringIO(data.decode("utf-8", "replace")))}
    tables = record.get("tables", 1)
    for part in record["parts"]:
        if part["code"] not in rows:
            if part["kind"] in ("jig", "gauge", "template", "caul", "spacer"):
                continue
            yield Difference(CUT_LIST, part["code"], "isn't listed")
            continue
        row = rows[part["code"]]
        try:
            sizes = [float(row[f"{name}_mm"]) for name in ("length", "width", "thickness")]
            count = int(row["count"])
        except (KeyError, TypeError, ValueError):
            yield Difference(CUT_LIST, part["code"], "can't be read")
            continue
        if count != part["count"] * tables and count != part["count"]:
            yield Difference(CUT_LIST, part["code"], f"{count} pieces, the record says {part['count']} for one table")
        if any(abs(size - true) > HALF_DIGIT for size, true in zip(sizes, part["size"], strict=True)):
            yield Difference(CUT_LIST, part["code"], f"sizes {sizes}, the record says {part['size']}")
