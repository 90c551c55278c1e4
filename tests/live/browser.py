"""A real browser, driven: the system's Chromium where there is one."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from time import monotonic, sleep
from typing import Any

import pytest


@contextmanager
def browsing(url: str, **looks: Any) -> Iterator[Any]:
    """A page of the browser at that address; what it complains of is kept as `complaints`."""
    sync_api = pytest.importorskip("playwright.sync_api", reason="playwright isn't installed")
    chromium = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if chromium is None:
        pytest.skip("there is no Chromium")
    with sync_api.sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        page = browser.new_page(**{"viewport": {"width": 1280, "height": 900}, **looks})
        page.complaints = []
        page.on("pageerror", lambda trouble: page.complaints.append(str(trouble)))
        page.on("console", lambda said: page.complaints.append(said.text) if said.type == "error" else None)
        page.goto(url)
        page.wait_for_selector("#flat svg")
        yield page
        browser.close()


def until(page: Any, what: str, seconds: float = 15.0) -> float:
    """Waits until an expression holds in the page, which may evaluate no text itself; the seconds it took."""
    begun = monotonic()
    while not page.evaluate(what):
        assert monotonic() - begun < seconds, f"never: {what}"
        sleep(0.004)
    return monotonic() - begun


def typed(page: Any, key: str, value: object) -> None:
    """Types a size and leaves the field."""
    field = page.locator(f"#k-{key.replace('.', '-')}")
    field.evaluate("one => { one.closest('details').open = true }")
    field.fill(str(value))
    field.press("Enter")
