"""Work beside other work gives the same value, and the same refusal."""

from __future__ import annotations

import os
import pickle
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from templategen.errors import DesignError, Fault
from templategen.packet.second_core import on_second_core


@pytest.mark.parametrize("wanted", [True, False])
def test_the_value_comes_back(wanted: bool) -> None:
    """The waited-for value is the work's own, wherever it ran."""
    assert on_second_core(lambda: {"bytes": b"\x00" * 300_000}, wanted)() == {"bytes": b"\x00" * 300_000}


@pytest.mark.parametrize("wanted", [True, False])
def test_a_refusal_comes_back(wanted: bool) -> None:
    """What the work refuses is refused where it is waited for, each fault whole."""
    fault = Fault("paper.margin", "too wide", "make it smaller", "own.toml", 7)

    def refuse() -> None:
        raise DesignError(fault)

    with pytest.raises(DesignError) as refusal:
        on_second_core(refuse, wanted)()
    assert refusal.value.faults == (fault,)


def test_errors_survive_their_journey() -> None:
    """An error pickled and read back has its faults and its message."""
    error = DesignError([Fault("a", "b", "c"), Fault("d", "e")])
    again = pickle.loads(pickle.dumps(error))
    assert again.faults == error.faults and str(again) == str(error)


def test_a_copy_that_dies_is_made_up_for() -> None:
    """When the copy is killed the work is done here instead."""
    here = os.getpid()

    def dies() -> str:
        if os.getpid() != here:
            os._exit(9)
        return "done"

    assert on_second_core(dies, True)() == "done"


@pytest.mark.skipif(sys.platform != "linux" or (os.cpu_count() or 1) < 2, reason="no second core to work on")
def test_a_process_of_one_thread_works_beside() -> None:
    """In a fresh process the work runs in a copy, and a copy that is killed is made up for."""
    program = (
        "import os; from templategen.packet.second_core import on_second_core; here = os.getpid();"
        "print(on_second_core(os.getpid, True)() != here,"
        " on_second_core(lambda: os.getpid() == here or os._exit(9), True)())"
    )
    told = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert told.stdout.split() == ["True", "True"]


LEFT = """
import os, signal, sys, time
signal.signal(signal.SIGHUP, signal.SIG_DFL)  # whoever runs the tests may be deaf to them
signal.signal(signal.SIGINT, signal.default_int_handler)
from templategen.packet.second_core import on_second_core
def work():
    print(os.getpid(), flush=True)
    time.sleep(60)
wait = on_second_core(work, True)
if sys.argv[1] == "wait":
    wait()
time.sleep(60)
"""


@pytest.mark.skipif(sys.platform != "linux" or (os.cpu_count() or 1) < 2, reason="no second core to work on")
@pytest.mark.parametrize("sent", [signal.SIGKILL, signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
@pytest.mark.parametrize("when", ["work", "wait"])
def test_the_copy_ends_with_its_parent(sent: signal.Signals, when: str) -> None:
    """However a run ends, its copy is gone at once, and whoever reads its output isn't kept waiting."""
    run = subprocess.Popen([sys.executable, "-c", LEFT, when], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    assert run.stdout is not None
    copy = int(run.stdout.readline())
    run.send_signal(sent)
    run.wait(20)
    assert run.communicate(timeout=20)[0] == b""
    end = time.monotonic() + 5
    while Path(f"/proc/{copy}").exists() and time.monotonic() < end:
        time.sleep(0.01)
    assert not Path(f"/proc/{copy}").exists()


@pytest.mark.parametrize("wanted", [True, False])
def test_what_cannot_be_sent_is_worked_out_here(wanted: bool) -> None:
    """An answer that can't travel between processes comes from this one."""
    assert on_second_core(lambda: lambda: 7, wanted)()() == 7
