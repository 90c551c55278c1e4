"""A watch over a folder while it is written: what a killed or interrupted writer has begun is cleared away."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

SHELL = "/bin/sh"

WATCH = 'read -r told || exec "$@"'
"""Waits for a word; where the writer ends without it, the rest of the line is run."""

CLEAR = (
    "import sys; sys.path[:] = sys.argv[2:]; from pathlib import Path; "
    "from templategen.output.folder import clear; clear(Path(sys.argv[1]))"
)


@contextmanager
def watched(target: Path) -> Iterator[None]:
    """While this lasts a small process of the shell's waits, out of reach of what is sent to the writer's group.

    Where there is no such shell nothing is watched, and the next run clears away what a killed one left.
    """
    from subprocess import DEVNULL, PIPE, Popen, TimeoutExpired

    watcher = None
    command = [SHELL, "-c", WATCH, "sh", sys.executable, "-I", "-c", CLEAR]
    command += [os.path.abspath(path) for path in (str(target), *sys.path)]
    if os.path.exists(SHELL) and sys.executable:
        with suppress(OSError, ValueError):
            watcher = Popen(command, stdin=PIPE, stdout=DEVNULL, stderr=DEVNULL, cwd="/", start_new_session=True)
    word = b"done\n"
    try:
        yield
    except BaseException as trouble:
        word = word if isinstance(trouble, Exception) else b""  # interrupted: whatever was under way is cleared away
        raise
    finally:
        if watcher is not None and watcher.stdin is not None:
            with suppress(OSError):
                watcher.stdin.write(word)
                watcher.stdin.close()
            with suppress(TimeoutExpired):
                watcher.wait(1.0)
