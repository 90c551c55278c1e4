"""A browser without a screen: shows a page at several widths, in light, dark and as it is printed, prints to PDF."""

from __future__ import annotations

import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Literal

import pytest

NAMES = ("chromium", "chromium-browser", "google-chrome")

MEASURE = Path(__file__).with_name("measure.js")

HIGH = 900
"""Pixels of a window."""

Look = Literal["light", "dark", "print"]


@contextmanager
def browsing() -> Iterator[Any]:
    """The system's Chromium; the test is skipped where there is none. It has nowhere to fetch from."""
    sync_api = pytest.importorskip("playwright.sync_api", reason="playwright isn't installed")
    found = next((path for path in map(shutil.which, NAMES) if path), None)
    if found is None:
        pytest.skip("no chromium here to look at pages")
    with sync_api.sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=found, args=["--no-sandbox", "--enable-unsafe-swiftshader"]
        )
        yield browser
        browser.close()


def loaded(browser: Any, page: Path) -> Any:
    """The file in a window of its own, which can be measured."""
    view = browser.new_page(bypass_csp=True, viewport={"width": 1280, "height": HIGH})
    view.add_init_script(path=MEASURE)
    view.goto(page.as_uri())
    return view


def looks(view: Any, width: int, look: Look) -> None:
    """Makes the window as wide as told, and the page look so."""
    view.set_viewport_size({"width": width, "height": HIGH})
    view.emulate_media(
        media="print" if look == "print" else "screen", color_scheme="dark" if look == "dark" else "light"
    )


def written(folder: Path, html: str) -> Path:
    """The page as a file."""
    page = folder / "page.html"
    page.write_text(html, encoding="utf-8")
    return page


def looked_at(browser: Any, page: Path, width: int, *scripts: str) -> Sequence[Any]:
    """The values of the scripts, expressions or promises, each in the page loaded anew."""
    view = loaded(browser, page)
    looks(view, width, "light")
    told = [view.reload() and view.evaluate(script) for script in scripts]
    view.close()
    return told


def printed(browser: Any, page: Path) -> Path:
    """The page printed to PDF."""
    view, paper = loaded(browser, page), page.with_suffix(".pdf")
    view.pdf(path=paper, prefer_css_page_size=True)
    view.close()
    return paper
