"""Work done beside other work, on a second core where the system offers it cheaply."""

import os
import pickle
import signal
import sys
from collections.abc import Callable
from contextlib import suppress
from typing import Any, TypeVar

T = TypeVar("T")

PR_SET_PDEATHSIG = 1
"""Has the system end a process when its parent ends, however that came about (linux/prctl.h)."""


def on_second_core(work: Callable[[], T], wanted: bool) -> Callable[[], T]:
    """Starts `work` and gives back a call that waits for its value; what it raises is raised there.

    Where `wanted`, on Linux with two cores and while this process has one thread only, the work runs in a copy of
    this process, which ends with it; elsewhere when it is waited for. The bytes are the same either way.
    """
    if not wanted or not _may_copy():
        return work
    from multiprocessing import get_context

    fork = get_context("fork")
    here, there = fork.Pipe(duplex=False)
    child = fork.Process(target=_answer, args=(here, there, work, os.getpid()), daemon=True)
    child.start()
    there.close()

    def wait() -> T:
        try:
            done, value = pickle.loads(here.recv_bytes())
        except EOFError:
            return work()
        finally:
            here.close()
            child.kill()
            child.join()
        if not done:
            raise value
        result: T = value
        return result

    return wait


def _may_copy() -> bool:
    """Whether a copy of this process is cheap and safe: copying one that runs threads may lock the copy up."""
    if sys.platform != "linux" or (os.cpu_count() or 1) < 2:
        return False
    try:
        return len(os.listdir("/proc/self/task")) == 1
    except OSError:
        return False


def _answer(here: Any, there: Any, work: Callable[[], object], parent: int) -> None:
    """What the copy does: sends the value, or the exception that stopped it. What can't be sent, or has nobody to
    take it, is let go: whoever waits does the work again."""
    here.close()
    end_with(parent)
    try:
        answer: tuple[bool, object] = (True, work())
    except Exception as trouble:
        answer = (False, _with_its_way(trouble))
    with suppress(Exception):
        there.send_bytes(pickle.dumps(answer))
    there.close()


def end_with(parent: int) -> None:
    """Binds this process to its parent: interrupts are the parent's to hear, and its end is this one's."""
    import ctypes

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    with suppress(AttributeError, OSError):
        ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, signal.SIGKILL)
    if os.getppid() != parent:
        os._exit(1)


def _with_its_way(trouble: Exception) -> Exception:
    """The exception with a note of where it arose, which doesn't travel by itself."""
    from traceback import format_exception

    trouble.add_note("".join(format_exception(trouble)))
    return trouble
