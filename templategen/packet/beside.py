"""Work done beside other work, on a second core where the system offers it cheaply."""

from __future__ import annotations

import os
import pickle
import sys
from collections.abc import Callable
from typing import Any, TypeVar

T = TypeVar("T")


def beside(work: Callable[[], T], wanted: bool) -> Callable[[], T]:
    """Starts `work` and gives back a call that waits for its value; what it raises is raised there.

    Where `wanted`, on Linux with two cores and while this process has one thread only, the work runs in a copy of
    this process; elsewhere when it is waited for. The bytes are the same either way.
    """
    if not wanted or not _may_copy():
        return work
    from multiprocessing import get_context

    fork = get_context("fork")
    here, there = fork.Pipe(duplex=False)
    child = fork.Process(target=_answer, args=(there, work), daemon=True)
    child.start()
    there.close()

    def wait() -> T:
        try:
            done, value = pickle.loads(here.recv_bytes())
        except EOFError:
            return work()
        finally:
            here.close()
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


def _answer(there: Any, work: Callable[[], object]) -> None:
    """What the copy does: sends the value, or the exception that stopped it."""
    try:
        answer: tuple[bool, object] = (True, work())
    except Exception as trouble:
        answer = (False, trouble)
    there.send_bytes(pickle.dumps(answer))
    there.close()
