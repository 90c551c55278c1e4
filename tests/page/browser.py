"""A browser without a screen: shows a page at several widths at once, runs scripts in each, prints to PDF."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections.abc import Mapping, Sequence
from html import unescape
from pathlib import Path
from typing import Any

import pytest

NAMES = ("chromium", "chromium-browser", "google-chrome")

MEASURE = Path(__file__).with_name("measure.js")

FRAMES = Path(__file__).with_name("frames.html")

SECONDS = 100
"""Longest wait for one run."""


def browser() -> str:
    """The program; the test is skipped where there is none."""
    found = next((path for path in map(shutil.which, NAMES) if path), None)
    if found is None:
        pytest.skip("no chromium here to look at pages")
    return found


def run(folder: Path, page: Path, *options: str) -> str:
    """What the browser puts out when it opens a page; it has nowhere to fetch from."""
    told = subprocess.run(
        [
            browser(), "--headless", "--no-sandbox", "--disable-gpu", "--enable-unsafe-swiftshader",
            "--hide-scrollbars", "--disable-background-networking", "--disable-extensions", "--no-first-run",
            "--disable-sync",
            f"--user-data-dir={folder / 'profile'}", *options, page.as_uri(),
        ],
        capture_output=True, text=True, check=False, timeout=SECONDS,
    )  # fmt: skip
    return told.stdout


def looked_at(folder: Path, html: str, widths: Mapping[str, int], *scripts: str) -> dict[str, Sequence[Any]]:
    """For each frame's name the values of the scripts, expressions or promises, each in the page loaded anew; a frame
    is as wide as told.

    A browser's own window is never narrower than 500 pixels, so pages stand in frames; a frame's width is what its
    style sheet goes by.
    """
    asked = ",".join(f"function () {{ return ({script}); }}" for script in scripts)
    inside = f"<script>{MEASURE.read_text(encoding='utf-8')}\nwindow.answers = [{asked}];</script>"
    task = {"text": html.replace("<title>", inside + "<title>", 1), "widths": dict(widths), "count": len(scripts)}
    page = folder / "frames.html"
    frames = FRAMES.read_text(encoding="utf-8")
    page.write_text(frames.replace('"TASK"', json.dumps(task).replace("<", "\\u003c")), encoding="utf-8")
    dump = run(folder, page, "--window-size=1400,1000", "--virtual-time-budget=60000", "--dump-dom")
    found = re.search(r'<pre id="told">(.*?)</pre>', dump, re.DOTALL)
    assert found is not None, dump[-2000:]
    told: dict[str, Sequence[Any]] = json.loads(unescape(found.group(1)))
    return told


def printed(folder: Path, html: str) -> Path:
    """The page printed to PDF."""
    page, paper = folder / "page.html", folder / "page.pdf"
    page.write_text(html, encoding="utf-8")
    run(folder, page, f"--print-to-pdf={paper}", "--no-pdf-header-footer", "--virtual-time-budget=10000")
    return paper
