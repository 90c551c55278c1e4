"""An errand: work in a process of its own that tells what it finds as it goes, and may be called off at any time."""

import os
import signal
import sys
from collections.abc import Callable
from contextlib import suppress
from importlib import import_module
from multiprocessing import get_all_start_methods, get_context
from threading import Lock, Thread
from typing import Any

from templategen.errors import TemplategenError

Told = Callable[[str, Any], None]
"""Told what kind of news it is, and the news as plain values."""

WARM = "templategen.live.reckon"
"""What every errand needs, loaded once where the system can copy a loaded process."""

PATIENCE = 1.0
"""Seconds that a process called off is waited for; none outlives the one that began it."""


def ways() -> Any:
    """How processes are begun: copied from one that has all loaded and no threads, or anew where that can't be."""
    if "forkserver" not in get_all_start_methods():
        return get_context("spawn")
    context = get_context("forkserver")
    context.set_forkserver_preload([WARM])
    return context


class Errand:
    """A function of `reckon` by its name, `work(*takes, tell)`, in its own process; `told` hears its news in a thread
    of this one, and `end` with its exit code at last. Only the process itself loads what the work needs."""

    def __init__(self, work: str, takes: tuple[Any, ...], told: Told) -> None:
        self._work, self._takes, self._told = work, takes, told
        self._process: Any = None
        self._lock = Lock()
        self._off = False
        self._thread = Thread(target=self._run, daemon=True)
        self._thread.start()

    def call_off(self) -> None:
        """Ends the process at once; nothing more is told."""
        self._told = _nobody
        with self._lock:
            self._off = True
            if self._process is not None:
                self._process.kill()

    def gone(self) -> None:
        """Waits for a moment until process and thread have ended."""
        self._thread.join(PATIENCE)

    @property
    def goes(self) -> bool:
        """Whether it is still under way."""
        return self._thread.is_alive()

    def _run(self) -> None:
        """Begins the process, which takes a while the first time, and listens to it."""
        context = ways()
        here, there = context.Pipe(duplex=False)
        with here:
            process = context.Process(target=_go, args=(self._work, self._takes, there), daemon=False)
            process.start()
            there.close()
            with self._lock:
                self._process = process
                if self._off:
                    process.kill()
            with suppress(EOFError, OSError):
                while True:
                    self._told(*here.recv())
        process.join()
        with self._lock:
            self._process, code = None, process.exitcode
            process.close()
        self._told("end", code)


def _nobody(_kind: str, _news: Any) -> None:
    """Hears nothing."""


def _go(work: str, takes: tuple[Any, ...], there: Any) -> None:
    """What the process does: refusals are news, too, and so is a mistake of ours."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _end_with_parent()

    def tell(kind: str, news: Any) -> None:
        there.send((kind, news))

    try:
        getattr(import_module(WARM), work)(*takes, tell)
    except TemplategenError as refusal:
        tell("refused", [fault_json(fault) for fault in refusal.faults])
    except BrokenPipeError:
        pass
    except MemoryError:
        tell("trouble", "the table asks for more than this machine holds")
    except Exception as trouble:
        from templategen.errors import arose_at

        tell("trouble", f"this is a mistake in templategen: {type(trouble).__name__}{arose_at(trouble)}")


def _end_with_parent() -> None:
    """Where the system can, the process ends with the one that it is a copy of."""
    if sys.platform == "linux":
        from templategen.packet.second_core import end_with

        end_with(os.getppid())


def fault_json(fault: Any) -> dict[str, Any]:
    """A fault as plain values."""
    return {"where": fault.where, "found": fault.found, "remedy": fault.remedy, "line": fault.line}
