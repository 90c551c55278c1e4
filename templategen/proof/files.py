"""Every file of the record is there byte for byte, and no other."""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

from templategen.proof.difference import Difference
from templategen.proof.read_record import RECORD, Record


def file_differences(folder: Path, record: Record) -> Iterator[Difference]:
    """Files that are missing, altered, or not in the record."""
    listed = {file["path"]: file for file in record["files"]}
    for path, told in sorted(listed.items()):
        yield from _altered(folder, path, told)
    for there in sorted(folder.rglob("*")):
        path = there.relative_to(folder).as_posix()
        if path != RECORD and path not in listed and (there.is_symlink() or not there.is_dir()):
            yield Difference(path, "", "isn't in the record")


def content(folder: Path, path: str) -> bytes | None:
    """The bytes of a file of the packet, None where it is missing, a link, or outside the folder."""
    whole = folder.joinpath(*path.split("/"))
    inside = whole.resolve().is_relative_to(folder.resolve())
    return whole.read_bytes() if inside and whole.is_file() and not whole.is_symlink() else None


def _altered(folder: Path, path: str, told: Record) -> Iterator[Difference]:
    data = content(folder, path)
    if data is None:
        yield Difference(path, "", "is missing")
    elif len(data) != told["bytes"]:
        yield Difference(path, "", f"has {len(data)} bytes, the record says {told['bytes']}")
    elif sha256(data).hexdigest() != told["sha256"]:
        yield Difference(path, "", "was altered since it was written (its SHA-256 isn't the record's)")
