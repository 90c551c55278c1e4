"""Runs a library in a process of its own; started as a script, it imports nothing of ours.

Each line on standard input is a request, each line on standard output an answer, both JSON: a request has a `number`
and what its library asks for, an answer that number and a `layout` (bins with their parts), or `done` when a request
has been worked off. Lengths mm, angles degrees.
"""

import json
import os
import signal
import sys
from pathlib import Path
from queue import SimpleQueue
from runpy import run_path
from threading import Thread
from time import monotonic
from typing import Any

GRACE = 2.0
"""Seconds past its life after which the process is ended by the system, whatever it does."""


def main() -> None:
    """Answers requests until standard input ends: the first argument is its life in seconds, the second names the
    script beside this one that answers."""
    end = monotonic() + float(sys.argv[1])
    _mortal(float(sys.argv[1]) + GRACE)
    waiting: SimpleQueue[str] = SimpleQueue()
    Thread(target=_listen, args=(waiting,), daemon=True).start()
    # Its library is loaded while the first request is still being written.
    answer = run_path(str(Path(__file__).with_name(sys.argv[2])))["answer"]
    while True:
        request = json.loads(waiting.get())
        answer(request, end, _say)
        _say({"done": request["number"]})


def _listen(waiting: SimpleQueue[str]) -> None:
    """Queues requests; when the one who asks is gone, so is this process."""
    for line in sys.stdin:
        waiting.put(line)
    os._exit(0)


def _mortal(seconds: float) -> None:
    """Lets the system end this process in time, even inside a library that never comes back, and with no core."""
    if hasattr(signal, "setitimer"):
        signal.signal(signal.SIGALRM, signal.SIG_DFL)
        signal.setitimer(signal.ITIMER_REAL, seconds)
        signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        import resource

        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    except (ImportError, OSError, ValueError):
        pass


def _say(answer: dict[str, Any]) -> None:
    sys.stdout.write(json.dumps(answer) + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
