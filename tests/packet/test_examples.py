"""output_examples holds what the tool makes today."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import templategen

EXAMPLES = Path(__file__).parent.parent.parent / "output_examples"
PROFILES = EXAMPLES.parent / "profiles"

REMAKE = "remake it: templategen make profiles/towpath-dining.toml -o output_examples/towpath-dining"


def drawn(dxf: bytes) -> bytes:
    """The entities of a DXF; the header names the library's version, which may change."""
    return dxf[dxf.index(b"ENTITIES") :]


def told(record: bytes) -> dict[str, object]:
    """The record without hashes of files whose bytes depend on a library's version."""
    value = json.loads(record)
    value["files"] = [file["path"] for file in value["files"]]
    return value


def pages(pdf: bytes) -> int:
    """How many pages a PDF has."""
    pypdfium2 = pytest.importorskip("pypdfium2")
    return len(pypdfium2.PdfDocument(pdf))


def test_example_packet_is_true() -> None:
    """A fresh packet of the dining table equals the one shown, file by file."""
    folder = EXAMPLES / "towpath-dining"
    packet = templategen.make_packet(templategen.read_profile(PROFILES / "towpath-dining.toml"))
    there = {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    assert set(there) == set(packet.files), REMAKE
    for path, data in packet.files.items():
        kind = path.rpartition(".")[2]
        same = {
            "dxf": lambda a, b: drawn(a) == drawn(b),
            "pdf": lambda a, b: pages(a) == pages(b),
            "json": lambda a, b: told(a) == told(b),
        }.get(kind, lambda a, b: a == b)
        assert same(data, there[path]), f"{path} differs; {REMAKE}"
