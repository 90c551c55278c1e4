"""Folders and files written whole or not at all."""

import os
import re
import shutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path, PurePosixPath, PureWindowsPath
from time import time

from templategen.catalogue import fault_of, translated, worded
from templategen.errors import Fault, OutputError
from templategen.output import lock
from templategen.output.ours import Held, carry_over, discard, held_in
from templategen.output.swap import swapped
from templategen.output.watch import watched

PART = ".{name}.part-{mark}"
"""The new folder while it is written, beside the old one."""

OLD = ".{name}.old-{mark}"
"""The old folder for the moment of the exchange."""

MARKED = re.compile(r"-[0-9a-f]{12}$")
"""How the names of such folders end; a maker's own may begin alike."""

STALE = 86_400.0
"""Where nothing tells whether its writer still runs, what is left of a run is cleared away after so many seconds."""


def check_target(target: Path, inputs: Iterable[str | os.PathLike[str]] = ()) -> None:
    """Whether the folder `target` may be written from the files `inputs`: for telling before the work begins.

    Raises:
        OutputError: an input or the working folder lies in it, it is no packet of ours, something of ours in it was
            changed, no right to write there.
    """
    target = _whole(target)
    with _refusals_in_words(target):
        for name in inputs:
            if _lies_in(name, target):
                found = worded("{name} lies in the folder to be written", name=name)
                raise OutputError(
                    Fault(str(target), found, translated("move it out of there, or choose another folder"))
                )
        _check_parent(target)
        with lock.held(target.parent):
            _check_target(target)
            held_in(target)


def write_folder(target: Path, files: Mapping[str, bytes]) -> None:
    """Write `files` (relative path -> content) as the folder `target`, which is replaced as a whole.

    The folder is written beside the target, brought to disk, and exchanged by renaming; where anything fails the
    target is left as it was. Of a packet that stands there only the files that its record names, with the bytes it
    names, are replaced; whatever else lies in it is the maker's and stays in its place.

    Raises:
        OutputError: a path that leaves the folder, a target that is no packet or was changed, a name that a file of
            the maker's has, no right or no room to write.
    """
    target = _whole(target)
    faults = tuple(_unsafe(name) for name in files if _strays(name)) + tuple(_clashes(files))
    if faults:
        raise OutputError(faults)
    with _refusals_in_words(target):
        _check_parent(target)
        with watched(target), _begun(target) as part:
            _write_all(part, files)
            with lock.held(target.parent):
                _check_target(target)
                _exchange(part, target)


def clear(target: Path) -> None:
    """Clears away what runs that died have left beside `target`."""
    with lock.held(target.parent) as alone:
        _clean(target, alone)


def write_file(path: Path, content: bytes, replace: bool = False) -> None:
    """Write one file whole or not at all; an existing one only with `replace`.

    Raises:
        OutputError: the file exists, or it can't be written.
    """
    path = _whole(path)
    with _refusals_in_words(path):
        _check_parent(path)
        if path.is_dir():
            raise OutputError(fault_of(str(path), "is a folder", "give the name of a file"))
        if os.path.lexists(path) and not replace:
            raise OutputError(
                fault_of(str(path), "exists already", "choose another name, or replace it with --replace")
            )
        part = _free_name(path, PART)
        with lock.held(path.parent) as alone:
            _clean(path, alone)
            try:
                _write(part, content)
                if replace:
                    os.replace(part, path)
                else:
                    _claim(part, path)
                _sync_folder(path.parent)
            finally:
                with suppress(OSError):
                    part.unlink(missing_ok=True)


def _claim(part: Path, path: Path) -> None:
    """Give the file its name unless another has come to stand there meanwhile."""
    try:
        os.link(part, path)
    except FileExistsError:
        raise OutputError(fault_of(str(path), "exists already", "choose another name")) from None
    except OSError:
        os.rename(part, path)


def _whole(target: Path) -> Path:
    """The target with its folder resolved; its own name is kept, so that it can't be a link's goal.

    Raises:
        OutputError: a path without a name of its own, as `/` or `..`.
    """
    text = os.fspath(target)
    if "\x00" in text:
        raise OutputError(fault_of(repr(text), "isn't a name", "give a name without NUL"))
    whole = Path(os.path.abspath(text))
    if not whole.name:
        raise OutputError(fault_of(text, "names no folder of its own", "give a folder to be made"))
    return whole


def _strays(name: str) -> bool:
    """Whether a path of the packet is anything but plain names joined by `/`."""
    if not name or "\\" in name or any(ord(letter) < 32 or ord(letter) == 127 for letter in name):
        return True
    if PureWindowsPath(name).drive or PurePosixPath(name).is_absolute():
        return True
    return any(step in ("", ".", "..") or ":" in step for step in name.split("/"))


def _unsafe(name: str) -> Fault:
    return fault_of("packet", "the file name {name!r} leads out of the folder", "use plain names", name=name)


def _clashes(files: Mapping[str, bytes]) -> Iterator[Fault]:
    """Names that are one on systems that don't tell capitals apart, or a file where a folder is needed."""
    seen: dict[str, str] = {}
    folders = {"/".join(name.split("/")[:i]).lower() for name in files for i in range(1, name.count("/") + 1)}
    for name in files:
        if name.lower() in seen:
            yield fault_of(
                "packet", "{seen!r} and {name!r} are one name on some systems", seen=seen[name.lower()], name=name
            )
        if name.lower() in folders:
            yield fault_of("packet", "{name!r} is both a file and a folder", name=name)
        seen[name.lower()] = name


def _check_parent(target: Path) -> None:
    parent = target.parent
    if not parent.is_dir():
        remedy = translated("make it first, or choose another place")
        raise OutputError(Fault(str(target), worded("its folder {parent} doesn't exist", parent=parent), remedy))
    if not os.access(parent, os.W_OK | os.X_OK):
        raise OutputError(fault_of(str(parent), "you may not write there", "choose another place"))


def _check_target(target: Path) -> None:
    _check_parent(target)
    if target.is_symlink():
        raise OutputError(fault_of(str(target), "is a link", "give the folder itself"))
    if not target.exists():
        return
    if not target.is_dir():
        raise OutputError(fault_of(str(target), "is a file", "give the name of a folder"))
    if _lies_in(os.curdir, target):
        remedy = translated("go up one (cd ..) and name it from there, or name a folder to be made")
        raise OutputError(Fault(str(target), translated("you are in this folder, and it is to be replaced"), remedy))


def _lies_in(path: str | os.PathLike[str], folder: Path) -> bool:
    """Whether a path is the folder or lies in it, links followed."""
    try:
        return Path(os.path.realpath(path)).is_relative_to(os.path.realpath(folder))
    except (OSError, ValueError):
        return False


def _free_name(target: Path, pattern: str) -> Path:
    """A name beside the target that no other run takes."""
    from secrets import token_hex

    return target.parent / pattern.format(name=target.name, mark=token_hex(6))


def _write_all(part: Path, files: Mapping[str, bytes]) -> None:
    for name in sorted(files):
        path = part.joinpath(*name.split("/"))
        path.parent.mkdir(parents=True, exist_ok=True)
        _write(path, files[name])
    for folder in sorted((path for path in part.rglob("*") if path.is_dir()), reverse=True):
        _sync_folder(folder)
    _sync_folder(part)


def _write(path: Path, content: bytes) -> None:
    with path.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _sync_folder(folder: Path) -> None:
    """Bring a folder's entries to disk, on systems that can."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


@contextmanager
def _begun(target: Path) -> Iterator[Path]:
    """An empty folder beside the target, locked before anyone else can see it free; gone in the end."""
    part = _free_name(target, PART)
    with ExitStack() as ours:
        with lock.held(target.parent) as alone:
            _clean(target, alone)
            _check_target(target)
            held_in(target)
            part.mkdir()
            ours.enter_context(lock.held(part))
        try:
            yield part
        finally:
            shutil.rmtree(part, ignore_errors=True)


def _exchange(part: Path, target: Path) -> None:
    """The new folder takes the target's name, with all that is the maker's in it: in one step where the system can,
    else in two."""
    own = held_in(target)
    carry_over(own, target, part)
    old = _free_name(target, OLD)
    if target.exists() and swapped(part, target):
        os.rename(part, old)
        _sync_folder(target.parent)
        discard(old, own, target)
        return
    held = target.exists()
    if held:
        os.rename(target, old)
    try:
        os.rename(part, target)
    except OSError:
        if held:
            os.rename(old, target)
        raise
    _sync_folder(target.parent)
    if held:
        discard(old, own, target)


def _clean(target: Path, alone: bool) -> None:
    """Clear away what runs that died have left; an old folder is put back where its successor never came.

    Whoever is `alone`, holding the parent's lock, knows that no run is exchanging folders; who still writes a new
    folder holds that one's lock.
    """
    for kind in ("old", "part"):
        for path in sorted(target.parent.glob(f".{_literal(target.name)}.{kind}-*")):
            dead = _is_stale(path) or (alone and (kind == "old" or lock.is_free(path)))
            if not dead or not MARKED.search(path.name):
                continue
            if kind == "old" and not os.path.lexists(target):
                os.rename(path, target)
            elif kind == "old":
                discard(path, _held_or_none(path), target)
            elif path.is_dir() and not path.is_symlink():
                shutil.rmtree(path, ignore_errors=True)
            else:
                path.unlink(missing_ok=True)


def _held_or_none(folder: Path) -> Held:
    try:
        return held_in(folder)
    except OutputError:
        return Held()


def _is_stale(path: Path) -> bool:
    try:
        return time() - path.lstat().st_mtime > STALE
    except OSError:
        return False


def _literal(name: str) -> str:
    return re.sub(r"([*?\[])", r"[\1]", name)


@contextmanager
def _refusals_in_words(target: Path) -> Iterator[None]:
    """Whatever the system refuses, told in the maker's words."""
    try:
        yield
    except OutputError:
        raise
    except OSError as error:
        raise OutputError(Fault(str(target), *_reason(error))) from error


def _reason(error: OSError) -> tuple[str, str]:
    import errno

    known = {
        errno.ENOSPC: ("the disk is full", "make room; nothing was changed"),
        errno.EDQUOT: ("your share of the disk is full", "make room; nothing was changed"),
        errno.EACCES: ("you may not write there", "choose another place; nothing was changed"),
        errno.EPERM: ("you may not write there", "choose another place; nothing was changed"),
        errno.EROFS: ("the disk can only be read", "choose another place; nothing was changed"),
        errno.ENAMETOOLONG: ("the name is too long", "choose a shorter one; nothing was changed"),
    }
    said = (error.strerror or str(error)).lower()
    return known.get(error.errno or 0, (f"can't be written ({said})", "nothing was changed"))
