"""The page in a real browser, by pointer and by keys."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from templategen.live.pictures import shown
from templategen.table.assembly import build_table
from templategen.table.profile.read import read_profile
from tests.live.browser import browsing, typed, until
from tests.live.conftest import Open


def written(page: Open) -> dict[str, Any]:
    """What stands in the file."""
    return tomllib.loads(page.path.read_text(encoding="utf-8"))


def held(view: Any, text: str) -> str:
    """An expression: the picture shows that text."""
    return f"document.querySelector('#flat').textContent.includes('{text}')"


def test_a_size_is_typed_and_the_picture_follows(page: Open) -> None:
    """In a real browser, without a word of complaint from it."""
    with browsing(page.url) as view:
        typed(view, "top.diameter", 869)
        until(view, held(view, "869 mm across"))
        assert written(page)["top"]["diameter"] == 869
        view.locator("#undo").click()
        until(view, "document.querySelector('#undo').disabled")
        view.locator("[value=round]").check()
        until(view, "!document.querySelector('#turn').hidden")
        assert view.complaints == []


@pytest.mark.slow
def test_sizes_are_changed_and_taken_back_and_the_picture_follows(page: Open) -> None:
    """Typed, stepped, drawn about by an end, changed by an editor, refused and mended; each stands in the file."""
    first = page.path.read_text(encoding="utf-8")
    with browsing(page.url) as view:
        typed(view, "top.diameter", 871)
        until(view, held(view, "871 mm across"))
        assert written(page)["top"]["diameter"] == 871
        table = build_table(read_profile(page.path, "none"))
        told = view.request.get(f"{page.url}picture?view=above").json()["svg"]
        assert told == shown(table, "above")["svg"]
        view.locator("#k-top-diameter").press("ArrowUp")
        until(view, held(view, "872 mm across"))
        typed(view, "top.diameter", 9999)
        view.wait_for_selector(".size.bad .fault")
        view.locator(".size.bad .offers button").first.click()
        until(view, held(view, "4000 mm across"))
        view.locator("#undo").click()
        until(view, held(view, "872 mm across"))
        view.hover("[data-key='top.rim_width'] .says")
        grip = view.locator(".span .grip")
        grip.scroll_into_view_if_needed()
        before = written(page)["top"]["rim_width"]
        box = grip.bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        view.mouse.move(x, y)
        view.mouse.down()
        view.mouse.move(x + 4, y - 4, steps=4)
        view.mouse.up()
        until(view, f"document.querySelector('#k-top-rim_width').value !== '{before}'")
        assert written(page)["top"]["rim_width"] < before
        text = page.path.read_text(encoding="utf-8").replace("diameter = 872", "diameter = 873 # by hand")
        page.path.write_text(text, encoding="utf-8")
        until(view, held(view, "873 mm across"))
        while view.locator("#undo").is_enabled():
            told = view.locator("#undo").inner_text() + view.locator("#redo").inner_text()
            view.keyboard.press("Control+z") if view.evaluate(
                "document.activeElement === document.body"
            ) else view.locator("#undo").click()
            until(view, "document.querySelector('#undo').textContent + document.querySelector('#redo').textContent "
                  f"!== {told!r}")  # fmt: skip
        assert page.path.read_text(encoding="utf-8") == first
        assert view.complaints == []


@pytest.mark.slow
def test_a_part_that_is_pointed_at_brings_its_sizes_forward(page: Open) -> None:
    """And every chapter and picture opens on a small screen, by keys alone, wider than nothing."""
    with browsing(page.url, viewport={"width": 390, "height": 800}, color_scheme="dark") as view:
        view.locator("#flat [data-part=LEG], #flat [data-part=RIM-A]").first.dispatch_event("pointerover")
        until(view, "document.querySelectorAll('.size.near').length > 3")
        view.locator("[name=view]").first.focus()
        for name in ("section", "round", "apart", "part"):
            view.keyboard.press("ArrowRight")
            until(view, f"document.querySelector('[name=view]:checked').value === '{name}'")
        until(view, "document.querySelectorAll('#flat svg').length > 1")
        for name in ("rack", "shop", "beside", "making", "bench", "table"):
            view.locator(f"[data-chapter={name}]").focus()
            view.keyboard.press("Enter")
            until(view, f"!document.querySelector('[data-of={name}]').hidden")
            assert view.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
        assert view.complaints == []
