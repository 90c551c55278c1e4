"""The page as an outside checker of accessibility and our own of letters see it, at every width, in light and dark,
every panel open."""

from __future__ import annotations

from typing import Any

import pytest

from tests.live.browser import browsing, typed, until
from tests.live.conftest import Open
from tests.page.browser import MEASURE
from tests.page.checker import armed, whole

CHAPTERS = ("table", "rack", "shop", "beside", "making", "bench")

LETTERS = ("overlaps", "clipped", "tiny", "crossed", "eaten", "faint", "narrow")
"""What may be amiss with letters."""

VIEWS = ("above", "section", "round", "apart", "part")


def _complaints(view: Any, width: int) -> list[Any]:
    """What is found amiss in what is open, what letters suffer, and what is wider than the window."""
    view.evaluate("scrollTo(0, 0)")
    found = view.evaluate("settled().then(() => measured())")
    letters = [(what, found[what]) for what in LETTERS if found[what]]
    return letters + ([] if found["scroll"] <= width else ["wider"]) + whole(view)


@pytest.mark.slow
@pytest.mark.parametrize("look", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 800, 1280, 1920])
def test_the_checker_has_nothing_to_say(page: Open, width: int, look: str) -> None:
    """Of any chapter with all its folds open, of any picture, of sizes that are refused or make no table."""
    with browsing(page.url, viewport={"width": width, "height": 900}, color_scheme=look, bypass_csp=True) as view:
        armed(view)
        view.evaluate(MEASURE.read_text(encoding="utf-8"))
        view.locator("#keep [name=name]").evaluate("(one) => { one.value = 'as it was'; one.form.requestSubmit(); }")
        until(view, "document.querySelector('.variant') !== null")
        told: dict[str, list[Any]] = {}
        for chapter in CHAPTERS:
            view.evaluate(f"location.hash = '{chapter}'")
            until(view, f"!document.querySelector('[data-of={chapter}]').hidden")
            view.wait_for_timeout(300)
            view.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
            told[chapter] = _complaints(view, width)
        view.evaluate("location.hash = 'table'")
        for seen in VIEWS:
            view.locator(f"[name=view][value={seen}]").check()
            view.wait_for_timeout(500)
            told[seen] = _complaints(view, width)
        typed(view, "top.diameter", 99_999)
        view.wait_for_selector(".size.bad .fault")
        told["refused"] = _complaints(view, width)
        typed(view, "top.thickness", 14.5)
        until(view, "!document.getElementById('stopped').hidden", 30)
        told["no table"] = _complaints(view, width)
        view.locator("#undo").click()
        until(view, "document.getElementById('stopped').hidden", 30)
        view.locator("[data-chapter=beside]").click()
        view.locator(".variant button").last.click()
        assert {what: found for what, found in told.items() if found} == {}
        assert view.complaints == []
