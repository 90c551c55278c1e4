"""Runs that end badly, many times: `python -m tests.endings [KILLS] [ENDING ...] [--make]` (Linux, as root).

A folder with a packet and files of the maker's is written anew while the writer is killed, interrupted, loses its
output or its disk, or meets another in a process-number space of its own. Five seconds later the packet must be
whole, old or new, every file of the maker's there, no process and no temporary file left. `--make` has the command
itself write, which takes longer; without it the writer of folders does.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext, suppress
from pathlib import Path
from random import Random
from uuid import uuid4

from templategen.packet.shipped import shipped_text
from tests.output.test_folder import WRITING, held, recorded

MINE = {"notes/rim.txt": b"left too long", "photograph.jpg": b"knot"}
MARK = "TEMPLATEGEN_ENDING"
SOON = 5.0


def hearing() -> None:
    """A run begun in the background of a shell is deaf to interrupts, which it hands on; a maker's isn't."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


class Scene:
    """A folder that holds a packet and the maker's files, and who writes it."""

    def __init__(self, above: Path, whole: bool) -> None:
        self.above, self.target, self.whole = above, above / "packet", whole
        self.mark = uuid4().hex
        profile = above.parent / f"{above.name}.toml"
        profile.write_text(shipped_text("towpath-side"), encoding="utf-8")
        make = ("-m", "templategen", "make", str(profile), "-o", str(self.target), "--only", "parts")
        self.words = (sys.executable, *(make if whole else ("-c", WRITING, str(self.target), "-1")))
        self.once = self.words if whole else (*self.words[:-1], "1")
        subprocess.run(self.once, check=True, capture_output=True)
        self.packets = [held(self.target)] if whole else [
            recorded({f"parts/{letter}{i}.dxf": letter.encode() * 9_000 for i in range(40)}) for letter in "ab"
        ]  # fmt: skip
        for path, data in MINE.items():
            (self.target / path).parent.mkdir(exist_ok=True)
            (self.target / path).write_bytes(data)

    def begun(self, *before: str, **more: int) -> subprocess.Popen[bytes]:
        """A writer that is found again by its environment, as are its children."""
        streams = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, **more}
        return subprocess.Popen(
            [*before, *self.words],
            env={**os.environ, MARK: self.mark},
            preexec_fn=hearing,  # noqa: PLW1509 (one thread)
            **streams,
        )  # type: ignore[call-overload,no-any-return]

    def wrong(self) -> str:
        """What isn't as it must be, once five seconds have passed at most."""
        end, said = time.monotonic() + SOON, "?"
        while said and time.monotonic() < end:
            said = self._wrong()
            time.sleep(0.05 if said else 0)
        return said

    def _wrong(self) -> str:
        if not any({**packet, **MINE} == held(self.target) for packet in self.packets):
            return "the packet isn't whole, or a file of the maker's is gone"
        if beside := [path.name for path in self.above.iterdir() if path != self.target]:
            return f"left beside it: {beside}"
        return f"processes left: {left}" if (left := list(self._alive())) else ""

    def _alive(self) -> Iterator[int]:
        for path in Path("/proc").glob("[0-9]*/environ"):
            with suppress(OSError):
                if f"{MARK}={self.mark}".encode() in path.read_bytes():
                    yield int(path.parent.name)


def signalled(scene: Scene, chance: Random, sent: signal.Signals) -> None:
    """Sends a signal at some moment, of which the writer has nothing but such as matter."""
    run = scene.begun(stdout=subprocess.PIPE)
    assert run.stdout is not None
    if not scene.whole:
        run.stdout.readline()
    time.sleep(chance.uniform(0.0, 8.0 if scene.whole else 0.5))
    run.send_signal(sent)
    run.wait()
    run.stdout.close()


def without_reader(scene: Scene, chance: Random) -> None:
    """Nobody reads what the run says; one that never ends by itself is ended by then."""
    reading, writing = os.pipe()
    os.close(reading)
    run = scene.begun(stdout=writing)
    os.close(writing)
    with suppress(subprocess.TimeoutExpired):
        run.wait(timeout=120 if scene.whole else chance.uniform(0.3, 2))
    run.terminate()
    run.wait()


def in_pairs(scene: Scene, _: Random) -> None:
    """Two at once that can't see each other's process number."""
    apart = ("unshare", "--pid", "--fork", "--kill-child", "--mount-proc")
    words, scene.words = scene.words, scene.once
    runs = [scene.begun(*apart) for _ in range(2)]
    scene.words = words
    assert [run.wait() for run in runs] == [0, 0], "a run failed"


def on_a_full_disk(scene: Scene, chance: Random) -> None:
    """The disk is filled but for a little, and the writer fails."""
    room = os.statvfs(scene.above)
    with (scene.above.parent / scene.above.name / ".fill").open("wb") as fill:
        fill.write(b"\0" * max(0, room.f_bavail * room.f_frsize - chance.randrange(4_096, 300_000)))
    run = scene.begun()
    with suppress(subprocess.TimeoutExpired):
        run.wait(timeout=60)
    run.kill()
    run.wait()
    (scene.above / ".fill").unlink()


@contextmanager
def small_disk(above: Path) -> Iterator[None]:
    """A disk of two megabytes there."""
    subprocess.run(["mount", "-t", "tmpfs", "-o", "size=2M", "tmpfs", str(above)], check=True)
    try:
        yield
    finally:
        subprocess.run(["umount", "-l", str(above)], check=False)


def campaign(kills: int, whole: bool, names: set[str]) -> int:
    """All endings, each so often; prints the counts and what went wrong."""
    endings: dict[str, tuple[int, Callable[[Scene, Random], None]]] = {
        "killed": (kills, lambda scene, chance: signalled(scene, chance, signal.SIGKILL)),
        "terminated": (kills // 4, lambda scene, chance: signalled(scene, chance, signal.SIGTERM)),
        "interrupted": (kills // 4, lambda scene, chance: signalled(scene, chance, signal.SIGINT)),
        "without a reader": (kills // 4, without_reader),
        "in pairs": (kills // 4, in_pairs),
        "full disk": (kills // 10, on_a_full_disk),
    }
    wrong: Counter[str] = Counter()
    for name, (count, end) in endings.items():
        if names and name not in names:
            continue
        with tempfile.TemporaryDirectory() as folder:
            above = Path(folder, "made")
            above.mkdir()
            with small_disk(above) if name == "full disk" else nullcontext():
                scene, chance = Scene(above, whole), Random(name)
                for number in range(count):
                    end(scene, chance)
                    if said := scene.wrong():
                        wrong[name] += 1
                        print(f"{name} {number + 1}: {said}", flush=True)
        print(f"{name}: {count - wrong[name]} of {count} well", flush=True)
    return 1 if wrong else 0


if __name__ == "__main__":
    given = {word for word in sys.argv[1:] if word != "--make"}
    numbers = {word for word in given if word.isdigit()}
    raise SystemExit(campaign(int(max(numbers, default="200")), "--make" in sys.argv, given - numbers))
