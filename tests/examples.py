"""What `output_examples/` shows of the dining table's packet: `python -m tests.examples` makes it anew and tells what
has changed."""

from __future__ import annotations

import csv
import io
import json
import shutil
from collections import Counter
from collections.abc import Iterator, Mapping
from difflib import unified_diff
from fnmatch import fnmatchcase
from itertools import islice
from pathlib import Path
from typing import Any

NAME = "towpath-dining"
FOLDER = Path(__file__).parent.parent / "output_examples" / NAME
REMAKE = "python -m tests.examples"

SHOWN = (
    "index.html", "packet.json", "lists/*", "drawings/*.svg", "drawings/plan.dxf",
    "parts/RIM-A.*", "parts/RAIL-LOW.*", "parts/SLAT-03.*", "parts/LEG.*",
    "stock/rim-boards-1.*", "stock/slat-boards-1.*", "jigs/PIVOT.*", "jigs/MITRE-GAUGE.*",
    "paper/one-by-one/SPLINE.pdf", "paper/1-test-sheet.pdf", "paper/2-templates.pdf",
)  # fmt: skip
"""One or two files of every kind: what tells a newcomer most, and a change of output first."""

MOST = 6
"""Changes told of one file."""

SHADE = 40
"""Of 255: a spot of a printed page that is lighter or darker by less is the same."""


def shown(files: Mapping[str, bytes]) -> dict[str, bytes]:
    """The files of a packet that are shown."""
    return {path: data for path, data in files.items() if any(fnmatchcase(path, wanted) for wanted in SHOWN)}


def kept() -> dict[str, bytes]:
    """The files that are there."""
    return {path.relative_to(FOLDER).as_posix(): path.read_bytes() for path in FOLDER.rglob("*") if path.is_file()}


def changes(old: Mapping[str, bytes], new: Mapping[str, bytes]) -> list[str]:
    """What is otherwise, file by file, each in the terms of its kind."""
    told = [f"{path}: is no longer made" for path in old if path not in new]
    told += [f"{path}: is new" for path in new if path not in old]
    for path in old:
        if path in new and old[path] != new[path]:
            found = list(islice(_KINDS[path.rpartition(".")[2]](old[path], new[path]), MOST + 1))
            told += [f"{path}: {one}" for one in found[:MOST]]
            told += [f"{path}: and more"] if len(found) > MOST else []
    return told


def _lines(old: bytes, new: bytes) -> Iterator[str]:
    """Lines of a text."""
    both = (data.decode("utf-8").splitlines() for data in (old, new))
    for line in unified_diff(*both, n=0, lineterm=""):
        if not line.startswith(("---", "+++", "@@")):
            yield f"{'was' if line[0] == '-' else 'is'} {line[1:].strip()[:200]}"


def _entities(old: bytes, new: bytes) -> Iterator[str]:
    """What is drawn on each layer of a DXF; what stands before names the library's version, which may change."""
    one, other = (_by_layer(data.decode("utf-8", "replace")) for data in (old, new))
    for layer, kind, text in one - other:
        yield f"{kind} gone from {layer}: {text[:160]}"
    for layer, kind, text in other - one:
        yield f"{kind} new on {layer}: {text[:160]}"


def _by_layer(text: str) -> Counter[tuple[str, str, str]]:
    lines = text[text.index("ENTITIES") :].splitlines()[1:]
    found: Counter[tuple[str, str, str]] = Counter()
    layer = kind = ""
    values: list[str] = []
    for code, value in zip(lines[::2], lines[1::2], strict=False):
        if code.strip() == "0":
            found[layer, kind, " ".join(values)] += 1
            layer, kind, values = "", value.strip(), []
        elif code.strip() == "8":
            layer = value.strip()
        elif code.strip() not in ("5", "100", "330"):
            values.append(value.strip())
    return found


def _rows(old: bytes, new: bytes) -> Iterator[str]:
    """Cells of a list by their row and column; rows count in order."""
    one, other = (list(csv.reader(io.StringIO(data.decode("utf-8")))) for data in (old, new))
    if one[:1] != other[:1] or len(one) != len(other):
        yield from _lines(old, new)
        return
    for number, (was, now) in enumerate(zip(one, other, strict=True), 1):
        for column, a, b in zip(one[0], was, now, strict=False):
            if a != b:
                yield f"row {number} ({was[0]}), {column}: was {a!r}, is {b!r}"


def _record(old: bytes, new: bytes) -> Iterator[str]:
    """Values of the record by their place, but for hashes of files: some hold a library's version."""
    one, other = (json.loads(data) for data in (old, new))
    for record in (one, other):
        record["files"] = [file["path"] for file in record["files"]]
    yield from _values("", one, other)


def _values(place: str, old: Any, new: Any) -> Iterator[str]:
    if isinstance(old, dict) and isinstance(new, dict):
        for key in {**old, **new}:
            yield from _values(f"{place}.{key}".lstrip("."), old.get(key), new.get(key))
    elif _by_code(old) and _by_code(new):
        yield from _values(place, _by_code(old), _by_code(new))
    elif isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        for number, (a, b) in enumerate(zip(old, new, strict=True)):
            name = a.get("code", number) if isinstance(a, dict) else number
            yield from _values(f"{place}.{name}", a, b)
    elif old != new:
        yield f"{place}: was {json.dumps(old)[:100]}, is {json.dumps(new)[:100]}"


def _by_code(value: Any) -> dict[str, Any]:
    """A list of things that have a code each of their own, by it; nothing of any other."""
    if not (isinstance(value, list) and value and all(isinstance(one, dict) and "code" in one for one in value)):
        return {}
    found = {one["code"]: one for one in value}
    return found if len(found) == len(value) else {}


def _pages(old: bytes, new: bytes) -> Iterator[str]:
    """Pages as pictures, two spots to the millimetre."""
    import numpy as np
    import pypdfium2

    one, other = (pypdfium2.PdfDocument(data) for data in (old, new))
    if len(one) != len(other):
        yield f"was {len(one)} pages, is {len(other)}"
        return
    for number, (a, b) in enumerate(zip(one, other, strict=True), 1):
        was, now = (page.render(scale=2 * 25.4 / 72, grayscale=True).to_numpy().astype(int) for page in (a, b))
        if was.shape != now.shape:
            yield f"page {number}: was {a.get_size()} points, is {b.get_size()}"
            continue
        rows, columns = np.nonzero(abs(was - now).reshape(was.shape[:2]) > SHADE)
        if len(rows):
            across, down = (columns.min() / 2, columns.max() / 2), (rows.min() / 2, rows.max() / 2)
            yield (
                f"page {number}: looks otherwise from {across[0]:.0f} to {across[1]:.0f} mm across, "
                f"{down[0]:.0f} to {down[1]:.0f} mm down"
            )


_KINDS = {
    "json": _record, "csv": _rows, "dxf": _entities, "pdf": _pages, "svg": _lines, "html": _lines, "toml": _lines,
}  # fmt: skip


def remake() -> list[str]:
    """Writes the folder anew; what has changed."""
    import templategen
    from templategen.packet.shipped import shipped_text

    made = shown(
        templategen.make_packet(templategen.profile_from_text(shipped_text(NAME), NAME), second_core=True).files
    )
    told = changes(kept(), made)
    shutil.rmtree(FOLDER, ignore_errors=True)
    for path, data in made.items():
        place = FOLDER / path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(data)
    return told


if __name__ == "__main__":
    print("\n".join(remake()) or "as it was")
