"""The page on a phone: fingers draw sizes about and pictures nearer, letters can be read."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from tests.live.browser import browsing, until
from tests.live.conftest import Open

PHONE = {"viewport": {"width": 390, "height": 800}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}

LEAST_LETTERS = 10.99
"""Pixels."""

SMALLEST = """Math.min(...[...document.querySelectorAll('#flat [font-size]')].map(
  (one) => Number(one.getAttribute('font-size')) * one.ownerSVGElement.getScreenCTM().a))"""

LINE = """(() => {
  const line = document.querySelector('.span line'), frame = document.querySelector('#flat svg').getScreenCTM();
  const [a, b] = [[line.x1, line.y1], [line.x2, line.y2]].map(
    ([x, y]) => new DOMPoint(x.baseVal.value, y.baseVal.value).matrixTransform(frame));
  const long = Math.hypot(b.x - a.x, b.y - a.y);
  return [b.x, b.y, (b.x - a.x) / long, (b.y - a.y) / long];
})()"""
"""Where the end of the dimension is that can be drawn about, and which way it goes."""


class Fingers:
    """Touches as a phone tells them to the browser."""

    def __init__(self, view: Any) -> None:
        self.view, self.wire = view, view.context.new_cdp_session(view)

    def tell(self, kind: str, *places: tuple[float, float]) -> None:
        """One event, a place for each finger."""
        points = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(places)]
        self.wire.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
        self.view.wait_for_timeout(40)

    def draw(self, x: float, y: float, dx: float, dy: float) -> None:
        """Down, along, up."""
        self.tell("touchStart", (x, y))
        for step in range(1, 6):
            self.tell("touchMove", (x + dx * step / 5, y + dy * step / 5))
        self.tell("touchEnd")


def _written(page: Open, key: str) -> float:
    section, _, name = key.partition(".")
    return float(tomllib.loads(page.path.read_text(encoding="utf-8"))[section][name])


@pytest.mark.slow
@pytest.mark.parametrize(
    ("seen", "key", "out"),
    [("section", "top.height", 9), ("section", "base.length", -8), ("above", "top.rim_width", -7),
     ("section", "top.diameter", 6)],
)  # fmt: skip
def test_a_finger_draws_a_size_about(page: Open, seen: str, key: str, out: int) -> None:
    """By its dimension's end, held somewhat beside it; the page doesn't scroll meanwhile, and the size grows as the
    finger goes outwards."""
    with browsing(page.url, **PHONE) as view:
        view.locator(f"[name=view][value={seen}]").check()
        until(view, f"[...document.getElementById('drawn').options].some((one) => one.value === '{key}')")
        view.wait_for_timeout(300)
        view.select_option("#drawn", key)
        view.locator(".span .grip").scroll_into_view_if_needed()
        before, scrolled = _written(page, key), view.evaluate("window.scrollY")
        x, y, right, down = view.evaluate(LINE)
        Fingers(view).draw(x - 9, y + 6, right * out, down * out)
        until(view, f"Number(document.getElementById('k-{key.replace('.', '-')}').value) !== {before}")
        assert (_written(page, key) - before) * out > 0
        assert view.evaluate("window.scrollY") == scrolled
        assert view.complaints == []


@pytest.mark.slow
def test_letters_can_be_read_and_two_fingers_draw_nearer(page: Open) -> None:
    """At least eleven pixels in every flat picture; nothing makes the page wider than the phone, and what two fingers
    draw nearer is the picture, not the page."""
    with browsing(page.url, **PHONE) as view:
        for seen in ("section", "part", "above"):
            view.locator(f"[name=view][value={seen}]").check()
            view.wait_for_timeout(800)
            assert view.evaluate(SMALLEST) >= LEAST_LETTERS, seen
            assert view.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
        view.locator("#flat").scroll_into_view_if_needed()
        box = view.locator("#flat").bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        wide = "document.querySelector('#flat svg').clientWidth"
        before, fingers = view.evaluate(wide), Fingers(view)
        fingers.tell("touchStart", (x - 30, y), (x + 30, y))
        for step in range(1, 7):
            fingers.tell("touchMove", (x - 30 - 10 * step, y), (x + 30 + 10 * step, y))
        fingers.tell("touchEnd")
        assert 2.5 * before < view.evaluate(wide) < 3.5 * before
        assert view.evaluate("visualViewport.scale") == 1
        view.locator("#whole").click()
        assert view.evaluate(wide) == before
        assert view.complaints == []
