"""A process of its own for the packing solver, which may end the process it runs in.

Whatever happens there, what comes back is answers or nothing. The process is told how long it may live; it ends when
that time is up, when it is closed, or when the one who asks is gone, whichever comes first.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from contextlib import suppress
from importlib.util import find_spec
from pathlib import Path
from queue import Empty, SimpleQueue
from threading import Thread
from typing import IO, Any

WORKER = Path(__file__).with_name("worker.py")
"""The script that the process runs."""

QUITTING = 1.0
"""How long a killed process may take to be gone, seconds."""


def able() -> bool:
    """Whether such a process can be started here and would find its solver."""
    try:
        return bool(sys.executable) and WORKER.is_file() and find_spec("packingsolver") is not None
    except (ImportError, ValueError):
        return False


class Child:
    """A worker process; use it in a `with` block."""

    def __init__(self, seconds: float, worker: Path | None = None) -> None:
        self.seconds, self.worker = seconds, worker or WORKER
        self.process: subprocess.Popen[str] | None = None
        self.waiting: SimpleQueue[dict[str, Any]] = SimpleQueue()

    def __enter__(self) -> Child:
        with suppress(OSError, ValueError):
            self.process = subprocess.Popen(
                [sys.executable, "-P", str(self.worker), f"{self.seconds:.3f}"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                text=True,
                encoding="utf-8",
                creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
            )
            Thread(target=_listen, args=(self.process.stdout, self.waiting), daemon=True).start()
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    @property
    def alive(self) -> bool:
        """Whether it still runs."""
        return self.process is not None and self.process.poll() is None

    def ask(self, request: dict[str, Any]) -> bool:
        """Sends a request; False where nobody is there to take it."""
        if self.process is None or self.process.stdin is None or not self.alive:
            return False
        try:
            self.process.stdin.write(json.dumps(request) + "\n")
            self.process.stdin.flush()
        except (OSError, ValueError):
            return False
        return True

    def answers(self, seconds: float = 0.0) -> Iterator[dict[str, Any]]:
        """What came back since; waits so long for the first of it."""
        try:
            yield self.waiting.get(timeout=seconds) if seconds > 0 else self.waiting.get_nowait()
            while True:
                yield self.waiting.get_nowait()
        except Empty:
            return

    def close(self) -> None:
        """Ends the process, and waits until it is gone."""
        process = self.process
        if process is None:
            return
        self.process = None
        with suppress(OSError):
            process.kill()
        with suppress(subprocess.TimeoutExpired):
            process.wait(QUITTING)
        # Its output is closed by the one who reads it.
        with suppress(OSError, ValueError):
            if process.stdin is not None:
                process.stdin.close()


def _listen(lines: IO[str] | None, waiting: SimpleQueue[dict[str, Any]]) -> None:
    """Queues answers until the process is gone; what isn't an answer is left out."""
    if lines is None:
        return
    with lines, suppress(OSError, ValueError):
        for line in lines:
            with suppress(ValueError):
                answer = json.loads(line)
                if isinstance(answer, dict):
                    waiting.put(answer)
