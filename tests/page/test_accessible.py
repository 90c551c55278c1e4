"""The page asked by an outside checker of accessibility, at every width, in light, dark and as it is printed."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from templategen.packet.shipped import shipped_names
from tests.page.browser import browser
from tests.page.test_screens import WIDTHS
from tests.shipped_packets import page_of

LOOKS = ("light", "dark", "print")

FOUND = """axe.run(document, { resultTypes: ["violations"] }).then(function (told) {
  return told.violations.map(function (one) { return [one.id, one.nodes[0].html]; });
})"""


@contextmanager
def _browsing() -> Iterator[Any]:
    sync_api = pytest.importorskip("playwright.sync_api", reason="playwright isn't installed")
    path = browser()
    with sync_api.sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield chromium
        chromium.close()


def _complaints(chromium: Any, page: Path, width: int, look: str) -> list[Any]:
    """What the checker says of a page with all its folds open."""
    scheme = "dark" if look == "dark" else "light"
    opened = chromium.new_page(viewport={"width": width, "height": 900}, color_scheme=scheme, bypass_csp=True)
    opened.goto(page.as_uri())
    opened.emulate_media(media="print" if look == "print" else "screen")
    opened.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
    opened.evaluate(files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8"))
    found: list[Any] = opened.evaluate(FOUND)
    opened.close()
    return found


@pytest.mark.slow
@pytest.mark.parametrize("name", shipped_names())
def test_the_checker_has_nothing_to_say(name: str, tmp_path: Path) -> None:
    """No finding on a phone, a tablet and a desk, by day, by night and on paper; a page with a fault has one."""
    page, faulty = tmp_path / "page.html", tmp_path / "faulty.html"
    page.write_text(page_of(name), encoding="utf-8")
    faulty.write_text(
        '<title>t</title><main><img src="data:,"><p style="color:#ccc">grey</p></main>', encoding="utf-8"
    )
    with _browsing() as chromium:
        told = {one for one, _ in _complaints(chromium, faulty, 390, "light")}
        assert {"image-alt", "color-contrast", "html-has-lang"} <= told
        for width in WIDTHS.values():
            for look in LOOKS:
                assert _complaints(chromium, page, width, look) == [], (width, look)
