"""What in a folder is ours: only files that its record names, with the bytes it names; all else is the maker's."""

import json
import os
import shutil
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from filecmp import cmp
from hashlib import sha256
from itertools import chain, count
from pathlib import Path

from templategen.catalogue import translated, worded
from templategen.errors import Fault, OutputError

MARK = "packet.json"
"""The record at the head of a packet."""

LARGEST_RECORD = 200_000_000
"""A record is read up to so many bytes."""

NAMED = 5
"""So many of the maker's files are named in a refusal."""


@dataclass(frozen=True, slots=True)
class Held:
    """What lies in a folder that is to be replaced: paths from it, with `/`.

    `ours` are files as we wrote them; `changed` were ours and have other bytes now; `foreign` are files and links of
    the maker's, `folders` those without anything of ours in them.
    """

    ours: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()
    foreign: tuple[str, ...] = ()
    folders: tuple[str, ...] = ()


def held_in(target: Path) -> Held:
    """What lies in the folder `target`; nothing where there is none.

    Raises:
        OutputError: it isn't a packet of ours, files of ours in it were changed, or a folder in it is closed.
    """
    if not target.is_dir() or not any(target.iterdir()):
        return Held()
    named = _named(target)
    files, folders = _walk(target)
    closed = [folder for folder in (".", *folders) if not os.access(target / folder, os.W_OK | os.X_OK)]
    if closed:
        found = worded("you may not change {listed} in it, so it can't be replaced", listed=_listed(closed))
        raise OutputError(Fault(str(target), found, translated("open it for writing, or choose another folder")))
    ours = [path for path in files if path in named and _as_written(target / path, named[path])]
    changed = tuple(path for path in files if path in named and path not in set(ours))
    if changed:
        one = len(changed) == 1
        found = worded(
            "{listed} changed since we wrote it" if one else "{listed} changed since we wrote them",
            listed=_listed(changed),
        )
        remedy = translated("move what you want to keep elsewhere, or choose another folder; nothing was touched")
        raise OutputError(Fault(str(target), found, remedy))
    needed = {folder for path in ours for folder in _above(path)}
    foreign = tuple(path for path in files if path not in named)
    return Held(tuple(ours), changed, foreign, tuple(folder for folder in folders if folder not in needed))


def carry_over(held: Held, target: Path, part: Path) -> None:
    """The maker's own files and folders take their places in the new folder `part`; in `target` they stay as well.

    Raises:
        OutputError: one has a name that a new file needs.
    """
    taken = [path for path in held.foreign if os.path.lexists(part / path) or _blocked(part, path)]
    if taken:
        one = len(taken) == 1
        found = worded(
            "{listed} is yours, and the packet needs the name"
            if one
            else "{listed} are yours, and the packet needs the name",
            listed=_listed(taken),
        )
        remedy = translated("move it elsewhere, or choose another folder; nothing was touched")
        raise OutputError(Fault(str(target), found, remedy))
    for folder in held.folders:
        with suppress(FileExistsError):
            (part / folder).mkdir(parents=True, exist_ok=True)
    for path in held.foreign:
        (part / path).parent.mkdir(parents=True, exist_ok=True)
        _second_name(target / path, part / path)


def discard(old: Path, held: Held, new: Path) -> None:
    """Removes the old folder's own files, and whatever of the maker's stands in `new` too; what came to lie there
    meanwhile is moved over, beside a file of that name where there is one."""
    for path in sorted(held.ours, key=MARK.__eq__):  # the record last: killed midway, it still tells what is ours
        with suppress(OSError):
            (old / path).unlink(missing_ok=True)
    for path in sorted(set(_walk(old)[0]).difference(held.ours)):
        with suppress(OSError):
            _settle(old / path, new, path)
    for folder in reversed(_walk(old)[1]):
        with suppress(OSError):
            (old / folder).rmdir()
    with suppress(OSError):
        old.rmdir()


def _settle(file: Path, new: Path, path: str) -> None:
    """Removes a file that stands in `new` too, else moves it there."""
    if _same(file, new / path):
        file.unlink(missing_ok=True)
    elif not _blocked(new, path):
        (new / path).parent.mkdir(parents=True, exist_ok=True)
        os.rename(file, _free(new / path))


def _same(one: Path, other: Path) -> bool:
    """Whether two names have the same file, link or bytes."""
    if one.is_symlink() or other.is_symlink():
        return one.is_symlink() and other.is_symlink() and os.readlink(one) == os.readlink(other)
    try:
        return os.path.samefile(one, other) or cmp(one, other, shallow=False)
    except OSError:
        return False


def _free(path: Path) -> Path:
    """The path, or where that is taken the next with a number that is free."""
    names = (path.with_name(f"{path.stem} ({number}){path.suffix}") for number in count(2))
    return next(name for name in chain((path,), names) if not os.path.lexists(name))


def _named(target: Path) -> dict[str, str | None]:
    """The paths that the folder's record names, with their sha256; the record itself has none while its seal is true.

    Raises:
        OutputError: there is no record of ours.
    """
    from templategen.output.packet_json import sealed

    mark = target / MARK
    if not mark.is_file() or mark.is_symlink():
        found = worded("holds files but no {mark}, so it isn't a packet and is left alone", mark=MARK)
        raise OutputError(Fault(str(target), found, translated("choose an empty or a new folder")))
    try:
        with mark.open("rb") as stream:
            record = json.loads(stream.read(LARGEST_RECORD))
        named = {str(entry["path"]): str(entry["sha256"]) for entry in record["files"]}
        known = isinstance(record["templategen"], str) and record["format"] == 1
        true = "seal" not in record or sealed(record)["seal"] == record["seal"]
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        known = False
    if not known:
        found = worded("holds a {mark} that isn't a record of ours, so it is left alone", mark=MARK)
        raise OutputError(Fault(str(target), found, translated("choose an empty or a new folder")))
    return {**named, MARK: None if true else ""}


def _walk(target: Path) -> tuple[list[str], list[str]]:
    """Every file (links too) and every folder below `target`, in order; links are never followed."""
    files: list[str] = []
    folders: list[str] = []
    for at, names, plain in os.walk(target):
        here = Path(at).relative_to(target)
        links = [name for name in names if (Path(at) / name).is_symlink()]
        names[:] = sorted(name for name in names if name not in links)
        folders += [(here / name).as_posix() for name in names]
        files += [(here / name).as_posix() for name in sorted([*plain, *links])]
    return files, folders


def _as_written(path: Path, digest: str | None) -> bool:
    """Whether a file has the bytes that the record names."""
    if path.is_symlink() or not path.is_file():
        return False
    if digest is None:
        return True
    with path.open("rb") as stream:
        found = sha256()
        while block := stream.read(1 << 20):
            found.update(block)
    return found.hexdigest() == digest


def _above(path: str) -> Iterator[str]:
    """The folders that a path lies in."""
    steps = path.split("/")
    return ("/".join(steps[:i]) for i in range(1, len(steps)))


def _blocked(folder: Path, path: str) -> bool:
    """Whether a file stands where a folder on the way to `path` would be."""
    return any(os.path.lexists(folder / step) and not (folder / step).is_dir() for step in _above(path))


def _second_name(file: Path, name: Path) -> None:
    """The same file under a second name where the disk can, else a copy; links stay links."""
    if file.is_symlink():
        os.symlink(os.readlink(file), name)
        return
    try:
        os.link(file, name)
    except OSError:
        shutil.copy2(file, name)


def _listed(paths: tuple[str, ...] | list[str]) -> str:
    more = len(paths) - NAMED
    return ", ".join(paths[:NAMED]) + (f" and {more} more" if more > 0 else "")
