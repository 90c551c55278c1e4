"""Two folders change names in one step, on systems that can: there is no moment without the one or the other."""

import os
import sys
from pathlib import Path
from typing import Any

HERE = -100
"""Paths are told from the working folder (AT_FDCWD of fcntl.h on Linux)."""

RENAME_EXCHANGE = 2
"""Flag of renameat2 on Linux (linux/fs.h)."""

RENAME_SWAP = 2
"""Flag of renamex_np on macOS (sys/stdio.h)."""


def swapped(one: Path, other: Path) -> bool:
    """Exchanges the two names; False where the system or the disk can't, and then nothing was changed."""
    first, second = os.fsencode(one), os.fsencode(other)
    try:
        if sys.platform == "linux":
            return bool(_library().renameat2(HERE, first, HERE, second, RENAME_EXCHANGE) == 0)
        if sys.platform == "darwin":
            return bool(_library().renamex_np(first, second, RENAME_SWAP) == 0)
    except (AttributeError, OSError):
        pass
    return False


def _library() -> Any:
    import ctypes

    return ctypes.CDLL(None, use_errno=True)
