"""The page by keys alone: its chapters, its search, what is done, where one was and what is printed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.page.browser import written
from tests.page.test_screens import DESK, PHONE
from tests.shipped_packets import page_of

PRINTS = "window.asked = []; window.print = () => window.asked.push(document.body.dataset.print || 'all')"

SHEET = "document.activeElement.closest('article')?.id"

SEEN = """(() => {
  const at = document.activeElement, box = at.getBoundingClientRect();
  const nav = document.querySelector("nav").getBoundingClientRect();
  const under = nav.bottom > box.top && nav.top < box.bottom && nav.right > box.left && nav.left < box.right;
  return box.top > -1 && box.top < innerHeight && (!under || at.closest("nav") !== null);
})()"""
"""Whether what the keyboard is at stands in the window, and not under the contents."""


class Keys:
    """Someone without a pointer before a page of the browser."""

    def __init__(self, view: Any) -> None:
        self.view = view

    def at(self, what: str) -> bool:
        """Whether the keyboard is there."""
        return bool(self.view.evaluate(f"document.activeElement.matches({what!r})"))

    def press(self, *keys: str) -> None:
        """One after another."""
        for key in keys:
            self.view.keyboard.press(key)
        self.view.wait_for_timeout(100)

    def go(self, what: str, key: str = "Tab", most: int = 30) -> None:
        """That key until the keyboard is there."""
        for _ in range(most):
            self.press(key)
            if self.at(what):
                assert self.view.evaluate(SEEN), what
                return
        pytest.fail(f"no way to {what}")

    @property
    def sheet(self) -> str:
        """The sheet that the keyboard is in."""
        return str(self.view.evaluate(SHEET))

    @property
    def next(self) -> str:
        """What is told to be next."""
        return str(self.view.evaluate("document.querySelector('.next').innerText")).strip()


@pytest.fixture(params=[PHONE, pytest.param(DESK, marks=pytest.mark.wide)])
def keys(request: pytest.FixtureRequest, browser: Any, tmp_path: Path) -> Iterator[Keys]:
    """Before the side table's page, on a phone with keys and at a desk."""
    context = browser.new_context(viewport={"width": request.param, "height": 844})
    context.add_init_script(PRINTS)
    view = context.new_page()
    view.goto(written(tmp_path, page_of("towpath-side")).as_uri())
    yield Keys(view)
    context.close()


def ids(keys: Keys, what: str) -> set[str]:
    """Of all those."""
    return set(keys.view.evaluate(f"[...document.querySelectorAll({what!r})].map((one) => one.id)"))


def to_chapter(keys: Keys, name: str) -> None:
    """By the contents, from the head of the page."""
    if keys.view.evaluate("!document.querySelector('.contents').open"):
        keys.go("summary")
        keys.press("Enter")
    keys.go(f"nav a[href='#{name}']")
    keys.press("Enter")


def to_set_up(keys: Keys, number: int) -> None:
    """To a picture of it."""
    to_chapter(keys, "machines")
    keys.go(".view")
    for _ in range(80):
        if keys.sheet == f"machines-{number}":
            return
        keys.press("ArrowDown")
        assert keys.view.evaluate(SEEN)
    pytest.fail("no way there")


def test_a_set_up_is_marked_and_found_again(keys: Keys) -> None:
    """Its pieces are ticked; opened again the page is where one was, and the keyboard goes on from there."""
    to_set_up(keys, 7)
    keys.go("[data-tick]", "ArrowDown")
    keys.press(" ")
    tick = keys.view.evaluate("document.activeElement.dataset.tick")
    assert tick.startswith("machines-7-") and keys.view.evaluate("document.activeElement.checked")
    address = keys.view.url.split("#")[0]
    for again in ("reload", "open"):
        if again == "reload":
            keys.view.reload()
        else:
            keys.view.goto("about:blank")
            keys.view.goto(address)
        keys.view.wait_for_timeout(300)
        assert keys.sheet.startswith("machines-")
        assert keys.view.evaluate(f"document.querySelector('[data-tick={tick}]').checked")
        keys.press("Tab")
        assert keys.sheet.startswith("machines-") and keys.view.evaluate(SEEN)


def test_what_is_next_is_done_and_its_figures_found(keys: Keys) -> None:
    """Told at the head of the page: a button ticks it in the plan, its link leads to its set-up, whose picture is the
    first that the keyboard comes to."""
    keys.go(".next button")
    while "plane" not in keys.next:
        keys.press("Enter")
    count = keys.view.evaluate("document.querySelectorAll('#work-order input:checked').length")
    assert keys.next.startswith(f"{count} of ") and count > 0
    keys.go(".next a", "Shift+Tab")
    keys.press("Enter", "Tab")
    assert keys.sheet == "machines-1" and keys.view.evaluate(SEEN)


@pytest.mark.wide
def test_what_is_looked_for_is_gone_through(keys: Keys) -> None:
    """Only sheets that hold the words are shown, all their ticks and pictures are reached; Escape shows all."""
    keys.go("[data-find]")
    keys.view.keyboard.type("winding sticks")
    found = ids(keys, "article:not([hidden])")
    assert 0 < len(found) < 20
    reached = set()
    keys.go("main *")
    while not keys.at("body") and keys.sheet != "undefined":
        stood = None
        while stood != keys.view.evaluate("document.activeElement.outerHTML"):
            stood = keys.view.evaluate("document.activeElement.outerHTML")
            reached.add(keys.sheet)
            if not keys.at("summary, .scroll"):
                keys.press("ArrowDown")
        keys.press("Tab")
    with_stops = (
        "[...document.querySelectorAll('article:not([hidden]):has(input, .view, td a)')].map((one) => one.id)"
    )
    assert set(keys.view.evaluate(with_stops)) <= reached <= found
    keys.go("[data-find]", "Shift+Tab", 60)
    keys.press("Escape")
    assert keys.view.evaluate("document.querySelectorAll('article[hidden]').length") == 0


@pytest.mark.wide
def test_one_prints_what_one_stands_in(keys: Keys) -> None:
    """From a sheet Escape leads to what can be printed, and back to the same place."""
    to_set_up(keys, 4)
    told = {}
    for _ in range(4):
        keys.press("Escape")
        assert keys.at("[data-find]") and keys.view.evaluate(SEEN)
        keys.go("[data-go]")
        keys.press("Enter")
        told[keys.view.evaluate("window.asked.at(-1)")] = ids(keys, "article.chosen")
        keys.go("[data-print]", "Shift+Tab")
        keys.press("ArrowDown", "Tab", "Escape")
        assert keys.sheet == "machines-4" and keys.view.evaluate(SEEN)
    assert told["all"] == set() and "work-day-1" in told["day"]
    assert told["section"] == ids(keys, "#machines article")
    assert told["sheet"] == {"machines-at-1", "machines-4"}
