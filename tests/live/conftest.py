"""A running page: the command itself in a process of its own, on a copy of a shipped profile."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from templategen.packet.shipped import shipped_text


@dataclass(frozen=True, slots=True)
class Open:
    """The process, its address and the file that it shows."""

    process: subprocess.Popen[str]
    url: str
    path: Path

    @property
    def host(self) -> str:
        """Name and port."""
        return urlsplit(self.url).netloc

    @property
    def token(self) -> str:
        """What lets a page in."""
        return urlsplit(self.url).path.strip("/")


def opened(path: Path, *more: str) -> Open:
    """The command with that profile."""
    words = [sys.executable, "-m", "templategen", "open", str(path), "--no-browser", "--shop", "none", *more]
    process = subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    assert process.stdout is not None
    found = None
    while found is None:
        line = process.stdout.readline()
        assert line, "the page never opened"
        found = re.search(r"http://127\S+", line)
    return Open(process, found[0], path)


def ended(page: Open, by: int = signal.SIGTERM) -> int:
    """Its exit code once it was told to end."""
    page.process.send_signal(by)
    return page.process.wait(10)


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Open]:
    """The lopsided side table, open."""
    path = tmp_path_factory.mktemp("live") / "terrace.toml"
    path.write_text(shipped_text("towpath-side"), encoding="utf-8")
    shown = opened(path)
    yield shown
    if shown.process.poll() is None:
        ended(shown)
