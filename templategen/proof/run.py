"""Proves a packet: record, bytes, and what every file measures."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from time import monotonic

from templategen.catalogue import translated, worded
from templategen.proof.bench.follow import bench_differences
from templategen.proof.counts import count_differences
from templategen.proof.difference import Difference, Outcome
from templategen.proof.drawn import Drawn
from templategen.proof.files import Held, held
from templategen.proof.jig_files import jig_differences
from templategen.proof.lists import list_differences
from templategen.proof.page import PAGE, page_differences
from templategen.proof.paper_files import paper_differences
from templategen.proof.part_files import READERS, Measured, all_drawn, part_differences, whole_differences
from templategen.proof.price import price_differences
from templategen.proof.printer_sheet import printer_sheet_differences
from templategen.proof.read_record import RECORD, Record, against_schema, broken_seal, read_record
from templategen.proof.recorded import Recorded
from templategen.proof.routed_sheets import routed_sheet_differences
from templategen.proof.router import router_differences
from templategen.proof.stock_files import stock_differences

STRAIGHT = (1.0, 0.0, 0.0, 1.0)
"""The correction of a printer that is true."""

TEST_SHEET = "paper/1-test-sheet.pdf"

WORDS = ("lists/labels.pdf", "customer/sheet.pdf", "parts/book-of-parts.pdf")
"""Held against the profile as a whole: nothing on them is measured by."""

BROKEN = (ValueError, LookupError, TypeError, AttributeError, ArithmeticError, RecursionError, MemoryError)
"""What shapes that can't be end in."""

LONGEST = 600.0
"""After so many seconds nothing more is measured, and that is told."""


def prove(folder: Path) -> Outcome:
    """Reads the packet in `folder` back and measures it.

    Raises:
        OutputError: no packet stands there, or its record can't be read.
    """
    record = read_record(folder)
    said = against_schema(record)
    if said:
        return Outcome(
            0, (Difference(RECORD, "", worded("isn't as its schema has it: {said}", said=said)),), unread=True
        )
    files, found = held(folder, record)
    found += [*broken_seal(record), *count_differences(record)]
    measured: Counter[str] = Counter({"by their bytes": len(record["files"])})
    work: Measured = Counter()
    found += measured_steps(files, record, measured, work)
    return Outcome(len(record["files"]), tuple(dict.fromkeys(found)), dict(measured), dict(sorted(work.items())))


def measured_steps(files: Held, record: Record, measured: Counter[str], work: Measured) -> list[Difference]:
    """What measuring of the files finds, one share after the other, as long as there is time."""
    found: list[Difference] = []
    started = monotonic()
    try:
        for step in _steps(files, record, measured, work):
            found += _measured(step)
            if monotonic() - started > LONGEST:
                return [
                    *found,
                    Difference(
                        "", "", worded("not all was measured: it took more than {longest:g} seconds", longest=LONGEST)
                    ),
                ]
    except BROKEN as trouble:
        found.append(
            Difference(
                RECORD, "", worded("holds something that can't be measured ({trouble})", trouble=str(trouble)[:200])
            )
        )
    return found


def _measured(step: Iterable[Difference]) -> Iterator[Difference]:
    """What one step finds, shapes that can't be reckoned with among it."""
    try:
        yield from step
    except BROKEN as trouble:
        yield Difference(
            RECORD, "", worded("holds something that can't be measured ({trouble})", trouble=str(trouble)[:200])
        )


def _steps(files: Held, record: Record, measured: Counter[str], work: Measured) -> Iterator[Iterable[Difference]]:
    """One share of the files after the other."""
    parts = {part["code"]: Recorded(part) for part in record["parts"]}
    for part in parts.values():
        own = [path for path in part.record["files"] if "/parts/" in f"/{path}"]
        read = _readable(files, own, measured, "by every face of their parts")
        yield part_differences(part, read, work)
        own = [path for path in part.record["files"] if "/router/" in f"/{path}"]
        yield router_differences(part, _readable(files, own, measured, "by cutting them once more"))
    for jig in record.get("jigs", ()):
        read = _readable(files, jig["files"], measured, "by every piece of their jigs")
        yield jig_differences(jig, parts, read, work)
    for piece in record["stock"]:
        read = _readable(files, piece["files"], measured, "by what lies on the stock")
        yield stock_differences(piece, parts, read)
        yield routed_sheet_differences(piece, parts, read)
    yield from _paper(files, record, parts, measured, work)
    whole = [file["path"] for file in record["files"] if file["path"].startswith("drawings/")]
    yield whole_differences(_readable(files, whole, measured, "against their twin in another format"))
    if "plan" in record:
        measured["by following the plan of work"] += 1
        yield bench_differences(record)
    yield list_differences(record, files, measured)
    yield price_differences(record, files, measured)
    page = files.read(PAGE)
    if page is not None and "packets" not in record:
        measured["by its drawings and lists"] += 1
        yield page_differences(page, record, parts)


def _paper(
    files: Held, record: Record, parts: Mapping[str, Recorded], measured: Counter[str], work: Measured
) -> Iterator[Iterable[Difference]]:
    """Every file of pages."""
    paper = record.get("paper") or {}
    entries = [entry for kind in ("files", "alone", "drawings") for entry in paper.get(kind, ())]
    entries += [jig["paper"] for jig in record.get("jigs", ()) if "paper" in jig]
    told = {entry["path"] for entry in entries} | {TEST_SHEET, *WORDS}
    for entry in entries:
        data = files.read(entry["path"])
        if data is not None:
            measured["by the lines on their pages"] += 1
            matrix = paper.get("matrix", STRAIGHT)
            yield paper_differences(entry, parts, matrix, data, work, _whole(files, entry["path"]))
    sheet = files.read(TEST_SHEET)
    if sheet is not None:
        measured["by the lines on their pages"] += 1
        yield printer_sheet_differences(TEST_SHEET, sheet)
    for file in record["files"]:
        if file["path"].endswith(".pdf") and file["path"] not in told and "packets" not in record:
            yield [Difference(file["path"], "", translated("isn't told of as paper, so its lines can't be measured"))]


def _readable(files: Held, paths: Iterable[str], measured: Counter[str], how: str) -> dict[str, bytes]:
    """The files of these that a reader knows."""
    read = {}
    for path in paths:
        data = files.read(path) if path.rpartition(".")[2] in READERS else None
        if data is not None:
            read[path] = data
            measured[how] += 1
    return read


def _whole(files: Held, path: str) -> Drawn | None:
    """The drawing for machines that a file of pages shows too, None where there is none that can be read."""
    name = path.rpartition("/")[2].removesuffix(".pdf").removesuffix("-roll").removesuffix("-one-page")
    data = files.read(f"drawings/{name}.dxf") if path.startswith("paper/") else None
    return all_drawn({"drawing.dxf": data}, "")[0].get("drawing.dxf") if data is not None else None
