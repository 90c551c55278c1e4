"""The page by keys alone: every panel reached and used, from a new table to its packet; focus never lost."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.live.browser import browsing, until
from tests.live.conftest import ended, opened
from tests.live.test_study import held


class Keys:
    """Someone without a pointer."""

    def __init__(self, view: Any, path: Path) -> None:
        self.view, self.path = view, path

    @property
    def written(self) -> dict[str, Any]:
        """What stands in the file."""
        return tomllib.loads(self.path.read_text(encoding="utf-8"))

    def at(self, what: str) -> bool:
        """Whether the focus is there."""
        return bool(self.view.evaluate(f"document.activeElement.matches({what!r})"))

    def press(self, *keys: str) -> None:
        """Each key, after which someone still stands somewhere."""
        for key in keys:
            self.view.keyboard.press(key)
            assert not self.at("body"), f"lost by {key}"

    def go(self, what: str, key: str = "Tab", most: int = 400) -> None:
        """Tab to it."""
        for _ in range(most):
            self.view.keyboard.press(key)
            if self.at(what):
                return
        pytest.fail(f"no way to {what}")

    def type(self, text: str) -> None:
        """Over what stands in the field, and Enter."""
        self.press("Control+a")
        self.view.keyboard.type(text)
        self.press("Enter")

    def chapter(self, name: str) -> None:
        """Back to the head of the page, and into it."""
        self.view.evaluate("document.getElementById('undo').disabled ? 0 : document.getElementById('undo').focus()")
        self.go(f"[data-chapter={name}]")
        self.press("Enter")
        until(self.view, f"!document.querySelector('[data-of={name}]').hidden")

    def told(self, where: str, text: str, seconds: float = 60) -> None:
        """Until that text stands there, and still someone stands somewhere."""
        until(self.view, f"document.querySelector({where!r}).textContent.includes({text!r})", seconds)
        assert not self.at("body"), f"lost when {text} was told"


def _sizes(keys: Keys) -> None:
    """A size typed, refused and mended, stepped on the picture, another picture and part chosen, units changed."""
    keys.go("#k-top-diameter")
    keys.type("1311")
    keys.told("#undo", "across the finished rim")
    keys.type("99999")
    until(keys.view, "document.querySelector('.size.bad .offers button') !== null", 30)
    keys.go(".size.bad .offers button")
    keys.press("Enter")
    until(keys.view, "document.activeElement.id === 'k-top-diameter'", 30)
    keys.go("#undo", "Shift+Tab")
    keys.press("Enter")
    until(keys.view, "document.getElementById('k-top-diameter').value === '1311'", 30)
    keys.go("#k-top-diameter")
    keys.go("#drawn")
    keys.view.locator("#drawn").select_option("top.diameter")
    keys.go(".grip")
    keys.press("ArrowRight", "ArrowRight", "ArrowRight")
    until(keys.view, "document.getElementById('k-top-diameter').value === '1314'", 30)
    until(keys.view, "document.activeElement.matches('.grip')")
    keys.press("+", "-", "0")
    keys.go("[name=view]", "Shift+Tab")
    for name in ("section", "round", "apart", "part"):
        keys.press("ArrowRight")
        until(keys.view, f"document.querySelector('[name=view]:checked').value === '{name}'")
    until(keys.view, "document.querySelectorAll('#flat svg').length > 1", 30)
    keys.go("#part")
    keys.press("ArrowDown")
    keys.go("[name=view]", "Shift+Tab")
    keys.press("ArrowRight")
    until(keys.view, "!document.getElementById('drawn').closest('label').hidden", 30)
    keys.go("#drawn")
    keys.press("ArrowDown")
    keys.go("#found summary")
    keys.press("Enter", "Enter")


def _boards(keys: Keys) -> None:
    """A board added and priced, a knot and a rectangle put on it and a knot taken away, an end that is no use."""
    keys.go("#add-board")
    keys.press("Enter")
    until(keys.view, "document.querySelector('#rack .board') !== null", 30)
    keys.go("#rack [aria-label^='price each']")
    keys.type("21.5")
    for kind, fields in (("knot", ("30", "817", "52")), ("rectangle", ("60", "25", "1200", "31"))):
        keys.go("#rack .board select")
        keys.press("k" if kind == "knot" else "r")
        for value in fields:
            keys.go("#rack .board input")
            keys.press("Control+a")
            keys.view.keyboard.type(value)
        keys.go("#rack .board button")
        keys.press("Enter")
        many = 1 if kind == "knot" else 2
        until(keys.view, f"document.querySelectorAll('.knot').length === {many}", 30)
        keys.view.evaluate("document.getElementById('add-board').focus()")
    [board] = keys.written["stock"]
    assert board["price"] == 21.5
    assert board["faults"] == [[817, 52, 30]] and board["fault_areas"] == [[1200, 31, 60, 25]]
    keys.go("circle.knot")
    keys.press("Delete")
    until(keys.view, "document.querySelectorAll('.knot').length === 1", 30)
    keys.go("#rack [aria-label$='no use at the left end']")
    keys.type("120")
    until(keys.view, "document.querySelector('.bad-end') !== null", 30)
    assert keys.written["stock"][0]["bad_ends"] == [120, 0]


def _shop(keys: Keys) -> None:
    """A fold opened, a tool's size typed."""
    keys.go("[data-section=shop] summary")
    keys.press("Enter")
    keys.go("#k-shop-saw_kerf")
    keys.type("2.6")
    held(keys.path, "shop.saw_kerf", 2.6)


def _variants(keys: Keys) -> None:
    """One kept, the table changed back to it, and it put away."""
    keys.go("#keep [name=name]")
    keys.type("first")
    until(keys.view, "document.querySelector('.variant') !== null", 30)
    keys.go(".variant button")
    keys.press("Enter")
    keys.go(".variant button")
    keys.press("Enter")
    until(keys.view, "document.querySelector('.variant') === null", 30)


def _measured(keys: Keys) -> None:
    """A size typed for the second piece, and struck out."""
    keys.go("#measured-place")
    keys.press("ArrowDown")
    keys.go("#measured-sizes input")
    keys.type("300.5")
    until(keys.view, "document.querySelector('#noted button') !== null", 30)
    keys.go("#noted button")
    keys.press("Enter")
    until(keys.view, "document.querySelector('#noted button') === null", 30)


def _packet(keys: Keys) -> None:
    """Begun, stopped, begun again and made; its links are the next to be reached."""
    keys.go("#begin")
    keys.press("Enter")
    until(keys.view, "document.activeElement.matches('#stop')", 30)
    keys.press("Enter")
    until(keys.view, "document.activeElement.matches('#begin')", 30)
    keys.press("Enter")
    until(keys.view, "document.querySelector('#packet iframe') !== null", 900)
    until(keys.view, "document.activeElement.matches('#packet a')")


@pytest.mark.slow
def test_by_keys_alone_a_new_table_becomes_a_packet(tmp_path: Path, request: pytest.FixtureRequest) -> None:
    """Tab, Enter, arrows and letters, in every chapter."""
    path = tmp_path / "new.toml"
    page = opened(path)
    request.addfinalizer(page.process.kill)
    with browsing(page.url) as view:
        keys = Keys(view, path)
        _sizes(keys)
        for name, act in (("rack", _boards), ("shop", _shop), ("beside", _variants), ("bench", _measured)):
            keys.chapter(name)
            act(keys)
        keys.chapter("making")
        _packet(keys)
        assert view.complaints == []
    assert (tmp_path / "new-packet" / "index.html").is_file()
    assert ended(page) == 0
