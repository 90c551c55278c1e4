"""Proves a packet: record, bytes, and what every file measures."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from templategen.proof.counts import count_differences
from templategen.proof.difference import Difference, Proof
from templategen.proof.files import content, file_differences
from templategen.proof.jig_files import jig_differences
from templategen.proof.lists import CUT_LIST, list_differences
from templategen.proof.paper_files import paper_differences
from templategen.proof.part_files import READERS, Measured, part_differences, whole_differences
from templategen.proof.read_record import RECORD, Record, against_schema, read_record
from templategen.proof.recorded import Recorded
from templategen.proof.stock_files import stock_differences

STRAIGHT = (1.0, 0.0, 0.0, 1.0)
"""The correction of a printer that is true."""


def prove(folder: Path) -> Proof:
    """Reads the packet in `folder` back and measures it.

    Raises:
        OutputError: no packet stands there, or its record can't be read.
    """
    record = read_record(folder)
    said = against_schema(record)
    if said:
        return Proof(0, (Difference(RECORD, "", f"isn't as its schema has it: {said}"),))
    measured: Counter[str] = Counter({"by their bytes": len(record["files"])})
    work: Measured = Counter()
    found = [*file_differences(folder, record), *count_differences(record)]
    try:
        found += _measured(folder, record, measured, work)
    except (ValueError, KeyError, TypeError, ZeroDivisionError, IndexError) as trouble:
        found.append(Difference(RECORD, "", f"holds shapes that can't be measured ({trouble})"))
    return Proof(len(record["files"]), tuple(dict.fromkeys(found)), dict(measured), dict(sorted(work.items())))


def _measured(folder: Path, record: Record, measured: Counter[str], work: Measured) -> Iterator[Difference]:
    parts = {part["code"]: Recorded(part) for part in record["parts"]}
    for part in parts.values():
        own = [path for path in part.record["files"] if path.startswith("parts/")]
        yield from part_differences(part, _readable(folder, own, measured, "by every face of their parts"), work)
    for jig in record.get("jigs", ()):
        files = _readable(folder, jig["files"], measured, "by every piece of their jigs")
        yield from jig_differences(jig, parts, files, work)
    for piece in record["stock"]:
        files = _readable(folder, piece["files"], measured, "by what lies on the stock")
        yield from stock_differences(piece, parts, files)
    paper = record.get("paper") or {}
    for entry in (entry for kind in ("files", "alone", "drawings") for entry in paper.get(kind, ())):
        data = content(folder, entry["path"])
        if data is not None:
            measured["by the lines on their pages"] += 1
            yield from paper_differences(entry, parts, paper.get("matrix", STRAIGHT), data, work, _whole(folder, entry))
    whole = [file["path"] for file in record["files"] if file["path"].startswith("drawings/")]
    yield from whole_differences(_readable(folder, whole, measured, "against their twin in another format"))
    data = content(folder, CUT_LIST)
    if data is not None:
        measured["by the sizes listed"] += 1
        yield from list_differences(record, data)


def _readable(folder: Path, paths: list[str], measured: Counter[str], how: str) -> dict[str, bytes]:
    """The files of these that a reader knows."""
    files = {}
    for path in paths:
        data = content(folder, path) if path.rpartition(".")[2] in READERS else None
        if data is not None:
            files[path] = data
            measured[how] += 1
    return files


def _whole(folder: Path, entry: Record) -> Drawn | None:
    """The drawing for machines that a file of pages shows too, None where there is none that can be read."""
    name = entry["path"].rpartition("/")[2].removesuffix(".pdf").removesuffix("-roll").removesuffix("-one-page")
    data = content(folder, f"drawings/{name}.dxf")
    return all_drawn({"drawings.dxf": data}, "")[0].get("drawings.dxf") if data is not None else None
