"""One writer at a time in a folder, whoever runs it: another thread, process, container, machine on a shared disk."""

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path


@contextmanager
def held(folder: Path) -> Iterator[bool]:
    """Holds the lock of `folder`, waiting for whoever has it; False where the system or the disk has no such locks.

    The lock is the folder's own (flock), so that nothing is left behind and it ends with whoever held it.
    """
    handle = _locked(folder, wait=True)
    try:
        yield handle is not None
    finally:
        if handle is not None:
            with suppress(OSError):
                os.close(handle)


def is_free(path: Path) -> bool:
    """Whether nobody holds the lock of a folder or file; False too where that can't be told."""
    handle = _locked(path, wait=False)
    if handle is None:
        return False
    os.close(handle)
    return True


def _locked(path: Path, wait: bool) -> int | None:
    try:
        import fcntl
    except ImportError:
        return None
    try:
        handle = os.open(path, os.O_RDONLY | os.O_NOFOLLOW)
    except OSError:
        return None
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
    except OSError:
        os.close(handle)
        return None
    return handle
