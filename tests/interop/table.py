"""The table of readers in the developers' notes: how far each is off, at worst, by version.

`python -m tests.interop.table` writes it anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, log10
from pathlib import Path
from tempfile import TemporaryDirectory

from templategen.output.svg import svg_text
from tests.interop.readers import Layer, Seen, by_gdal, by_javascript, by_svgelements, by_svgpathtools
from tests.interop.test_readers import VERSIONS, drawings, truth, written

NOTES = Path(__file__).parents[2] / "DEVELOPERS.md"
BEGIN, END = "<!-- readers: begin -->", "<!-- readers: end -->"
NAME = "towpath-dining"
LANGUAGES = {
    "dxf-parser": "JavaScript", "dxf": "JavaScript", "GDAL": "C++",
    "svgpathtools": "Python", "svgelements": "Python", "svg-path-properties": "JavaScript",
}  # fmt: skip


def error(seen: Seen, wanted: dict[str, Layer]) -> float:
    """The worst share by which a layer's length is off."""
    off = (abs(seen.layers[name].length / layer.length - 1) for name, layer in wanted.items() if layer.length)
    return max(off)


def spoken(off: float) -> str:
    """An error as the next power of ten, so that it doesn't change from machine to machine."""
    return "exact" if off < 1e-9 else f"under 1e{ceil(log10(off))}"


def rows(folder: Path) -> Iterator[tuple[str, list[str]]]:
    """Each reader with a cell for each version, then for SVG."""
    found: dict[str, list[float]] = {name: [] for name in LANGUAGES}
    for version in VERSIONS:
        files = dict(written(NAME, version, folder))
        told = by_javascript(list(files))
        found["GDAL"].append(max(error(by_gdal(path), truth(drawing)) for path, drawing in files.items()))
        for reader, seen in told.items():
            found[reader].append(max(error(seen[str(path)], truth(drawing)) for path, drawing in files.items()))
    svg = {}
    for number, drawing in enumerate(drawings(NAME)):
        path = folder / f"{number}.svg"
        path.write_text(svg_text(drawing), encoding="utf-8")
        svg[path] = drawing
    for name, read in (("svgpathtools", by_svgpathtools), ("svgelements", by_svgelements)):
        found[name].append(max(error(read(path), truth(drawing)) for path, drawing in svg.items()))
    (seen,) = by_javascript(list(svg)).values()
    found["svg-path-properties"].append(max(error(seen[str(path)], truth(drawing)) for path, drawing in svg.items()))
    for name, errors in found.items():
        cells = [spoken(off) for off in errors]
        yield name, [*cells, "-"] if len(cells) == len(VERSIONS) else ["-"] * len(VERSIONS) + cells


def table() -> str:
    """The table as it should stand."""
    lines = [f"| reader | language | {' | '.join(VERSIONS)} | SVG |", "| --- " * (len(VERSIONS) + 3) + "|"]
    with TemporaryDirectory() as folder:
        lines += [f"| {name} | {LANGUAGES[name]} | {' | '.join(cells)} |" for name, cells in rows(Path(folder))]
    return "\n".join(lines)


def documented() -> str:
    """The table as it stands."""
    return NOTES.read_text(encoding="utf-8").partition(BEGIN)[2].partition(END)[0].strip()


if __name__ == "__main__":
    before, _, rest = NOTES.read_text(encoding="utf-8").partition(BEGIN)
    NOTES.write_text(f"{before}{BEGIN}\n{table()}\n{END}{rest.partition(END)[2]}", encoding="utf-8")
