"""Every file of the record is there byte for byte, and no other; only such files are measured."""

from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from itertools import islice
from pathlib import Path

from templategen.catalogue import translated, worded
from templategen.proof.difference import Difference
from templategen.proof.read_record import RECORD, Record

LARGEST = 200_000_000
"""No file of a packet is larger, bytes."""

MOST_FILES = 20_000
"""So many files of a folder are looked at."""


@dataclass(frozen=True, slots=True)
class Held:
    """The files of a packet that are as its record has them: `read` gives their bytes, None for all others."""

    folder: Path
    sound: frozenset[str]

    def read(self, path: str) -> bytes | None:
        """The bytes of a sound file."""
        return content(self.folder, path) if path in self.sound else None


def held(folder: Path, record: Record) -> tuple[Held, list[Difference]]:
    """The sound files, and which are missing, altered, or not in the record."""
    listed = {file["path"]: file for file in record["files"]}
    wrong = {path: said for path, told in sorted(listed.items()) if (said := _altered(folder, path, told))}
    found = [Difference(path, "", said) for path, said in wrong.items()]
    if len(listed) < len(record["files"]):
        found.append(Difference(RECORD, "files", translated("a path stands twice")))
    return Held(folder, frozenset(listed) - frozenset(wrong)), [*found, *_others(folder, listed)]


def _others(folder: Path, listed: Record) -> Iterator[Difference]:
    inside = list(islice(folder.rglob("*"), MOST_FILES + 1))
    if len(inside) > MOST_FILES:
        yield Difference("", "", worded("holds more than {most_files} files", most_files=MOST_FILES))
    for there in sorted(inside[:MOST_FILES]):
        path = there.relative_to(folder).as_posix()
        if path != RECORD and path not in listed and (there.is_symlink() or not there.is_dir()):
            yield Difference(path, "", translated("isn't in the record"))


def content(folder: Path, path: str) -> bytes | None:
    """The bytes of a file of the packet, None where it is missing, too large, a link, or outside the folder."""
    whole = folder.joinpath(*path.split("/"))
    try:
        inside = whole.resolve().is_relative_to(folder.resolve())
        if not inside or whole.is_symlink() or not whole.is_file() or whole.stat().st_size > LARGEST:
            return None
        return whole.read_bytes()
    except (OSError, ValueError, RuntimeError):
        return None


def _altered(folder: Path, path: str, told: Record) -> str:
    """What is wrong with a file, "" for nothing."""
    data = content(folder, path)
    if data is None:
        return translated("is missing")
    if len(data) != told["bytes"]:
        return worded("has {data} bytes, the record says {bytes}", data=len(data), bytes=told["bytes"])
    if sha256(data).hexdigest() != told["sha256"]:
        return translated("was altered since it was written (its SHA-256 isn't the record's)")
    return ""
