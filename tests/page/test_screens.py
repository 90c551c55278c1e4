"""The page on screens, as a browser draws it."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from templategen.drawing.cut_words import FROM_THERE
from templategen.packet.shipped import shipped_names
from tests.page.browser import Look, loaded, looked_at, looks, written
from tests.shipped_packets import packet_files, page_of

PHONE, TABLET, DESK = 390, 800, 1280
"""Widths of windows, pixels."""

PAPER = {"A4": 718, "letter": 740}
"""Widths of what is printed on within its margins, pixels."""

LEAST = {PHONE: 8.0, **dict.fromkeys((TABLET, DESK), 9.0), **dict.fromkeys(PAPER.values(), 5.0)}
"""Pixels of the smallest letters by the width: on a phone less, so that more pictures are seen whole; in print
capitals of nearly a millimetre."""

AMISS = ("errors", "overlaps", "clipped", "tiny", "crossed", "eaten", "faint", "narrow", "requests", "unreached")

LARGEST = 3_000_000
"""Bytes of a page that is still small."""

TICK = """(function () {
  var box = document.querySelectorAll("input[data-tick]")[3];
  box.click();
  return { name: box.dataset.tick, kept: JSON.stringify(localStorage) };
})()"""

TICKED = """(function () {
  var boxes = Array.from(document.querySelectorAll("input:checked"));
  var names = boxes.map(function (box) { return box.dataset.tick; });
  boxes.forEach(function (box) { box.click(); });
  return { names: names, kept: JSON.stringify(localStorage) };
})()"""

LIGHT = """(function () {
  var row = document.querySelector("tr[data-part]"), code = row.dataset.part;
  function part(one) { return one.dataset.part; }
  function lit() { return Array.from(document.querySelectorAll(".lit")).map(part); }
  row.dispatchEvent(new PointerEvent("pointerover", { bubbles: true }));
  var pointed = lit();
  document.body.dispatchEvent(new PointerEvent("pointerover", { bubbles: true }));
  var left = lit();
  row.querySelector("input").focus();
  return { code: code, pointed: pointed, left: left, focused: lit() };
})()"""

TURN = """(function () {
  var canvas = document.querySelector(".turn canvas"), seen = [];
  window.requestAnimationFrame = function (draw) { draw(0); };
  function set(name, value) {
    var input = document.querySelector(name);
    input.value = value;
    input.dispatchEvent(new Event("input"));
    seen.push(canvas.toDataURL());
  }
  set("[data-about]", 30);
  set("[data-about]", 75);
  set("[data-apart]", 100);
  canvas.dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowUp", bubbles: true, cancelable: true }));
  seen.push(canvas.toDataURL());
  return { shown: !document.querySelector(".turn").hidden, views: new Set(seen).size, long: seen[0].length };
})()"""
"""No frames are drawn by themselves without a screen, so each is asked for at once."""


class Links(HTMLParser):
    """What a page points at and the ids it has; whatever else may fetch something."""

    def __init__(self) -> None:
        super().__init__()
        self.hrefs: list[str] = []
        self.ids: list[str] = []
        self.fetched: list[str] = []
        self.headings: list[int] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        if "id" in told:
            self.ids.append(told["id"] or "")
        if tag == "a":
            self.hrefs.append(told.get("href") or "")
        if tag in ("link", "img", "iframe", "object", "embed", "source", "use") or "src" in told:
            self.fetched.append(tag)
        if len(tag) == 2 and tag[0] == "h" and tag[1].isdigit():
            self.headings.append(int(tag[1]))


def read(html: str) -> Links:
    """The page's links."""
    links = Links()
    links.feed(html)
    return links


def seen_as(html: str) -> tuple[tuple[int, Look], ...]:
    """On phone, tablet and desk, by day and by night, and as wide as the paper it is printed on."""
    paper = next(width for name, width in PAPER.items() if f"size:{name} " in html)
    screens: tuple[Look, Look] = ("light", "dark")
    return (*((width, look) for look in screens for width in (PHONE, TABLET, DESK)), (paper, "print"))


@pytest.mark.parametrize("name", shipped_names())
def test_nothing_overlaps_or_is_cut_off_anywhere(name: str, browser: Any, tmp_path: Path) -> None:
    """Every word stands clear of every other and of lines, whole, as tall as it can be read and 4.5 to 1 on
    what it stands on; the page never moves sideways, no script fails, nothing is fetched; what must be scrolled is
    reached by keys."""
    view = loaded(browser, written(tmp_path, page_of(name)))
    for width, look in seen_as(page_of(name)):
        looks(view, width, look)
        found = view.evaluate(f"settled().then(() => measured({LEAST[width]}))")
        assert found["width"] == width and found["scroll"] <= width, look
        assert found["letters"] > 1000
        assert {what: found[what] for what in AMISS if found[what]} == {}, (width, look)
        assert found["turning"] == (look != "print"), "the turning picture shows where there is WebGL"
    view.close()


@pytest.mark.parametrize("name", shipped_names())
def test_every_link_leads_somewhere(name: str) -> None:
    """Links lead to files of the packet or to places of the page, and every file of lists and drawings has one."""
    packet, html = packet_files(name), page_of(name)
    links = read(html)
    assert len(set(links.ids)) == len(links.ids)
    assert not re.search(r"<th[^>]*></th>", html), "every column has a head"
    files = {href for href in links.hrefs if not href.startswith("#")}
    assert files <= set(packet)
    assert {path for path in packet if path.startswith("lists/")} <= files
    assert {href[1:] for href in links.hrefs if href.startswith("#")} <= set(links.ids)
    assert links.fetched == []
    kinds = {kind for names in re.findall(r'<figure class="([^"]*)"', html) for kind in names.split()}
    assert kinds <= {"large", "small", "lettered", "mute", "broad", "brief", "tall"}
    assert "http" not in html.replace("http://www.w3.org/2000/svg", "").replace("http-equiv", "")
    assert len(packet["index.html"]) < LARGEST


@pytest.mark.parametrize("name", shipped_names())
def test_headings_go_down_in_order(name: str) -> None:
    """One first heading, and no level is left out."""
    levels = read(page_of(name)).headings
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


@pytest.mark.parametrize("name", ["towpath-inch"])
def test_boards_come_before_sheets_for_the_router(name: str) -> None:
    """Boards fill what the chapter before has left of its paper; on the first stands what cuts are told from."""
    chapter = page_of(name).partition('<section id="stock"')[2].partition("</section>")[0]
    pieces = chapter.split("<article ")[1:]
    routed = ["jig plywood" in piece.partition("</h3>")[0] for piece in pieces]
    assert any(routed) and not all(routed) and routed == sorted(routed)
    assert [FROM_THERE.partition(",")[0] in piece for piece in pieces] == [True, *[False] * (len(pieces) - 1)]


def test_ticks_parts_and_the_picture_answer(browser: Any, tmp_path: Path) -> None:
    """A tick is there when the page is opened again; a part that is pointed at, or reached by the keyboard, lights up
    in the drawings and goes out; the picture turns, comes apart and tilts."""
    page = written(tmp_path, page_of("towpath-side"))
    told = looked_at(browser, page, DESK, TICK, TICKED, TICKED, LIGHT, TURN)
    ticked, again, empty, light, turn = (
        answer if isinstance(answer, dict) else pytest.fail(answer) for answer in told
    )
    assert ticked["name"] in ticked["kept"]
    assert again["names"] == [ticked["name"]] and empty["names"] == []
    assert light["pointed"].count(light["code"]) == len(light["pointed"]) > 3
    assert light["left"] == [] and light["focused"] == light["pointed"]
    assert turn["shown"] and turn["views"] == 4 and turn["long"] > 5000


def test_a_set_up_is_printed_with_the_cautions_of_its_machine(browser: Any, tmp_path: Path) -> None:
    """Where that sheet alone is asked for."""
    view = loaded(browser, written(tmp_path, page_of("towpath-side")))
    view.evaluate("window.print = () => {}")
    second = "[...document.querySelectorAll('#machines article:not([id^=machines-at])')][1]"
    view.evaluate(f"{second}.scrollIntoView()")
    view.wait_for_timeout(200)
    view.select_option("[data-print]", "sheet")
    view.click("[data-go]")
    view.emulate_media(media="print")
    shown = (
        "[...document.querySelectorAll('article')].filter((one) => one.getClientRects().length).map((one) => one.id)"
    )
    told = view.evaluate(shown)
    assert len(told) == 2 and told[0].startswith("machines-at-")
    assert told[1] == view.evaluate(f"{second}.id")
    view.close()


def svg(*words: str) -> str:
    """A drawing of 100 by 100 that shows in 300 pixels."""
    text = "".join(words)
    return f'<main><svg class="d" width="300" viewBox="0 0 100 100">{text}</svg></main>'


@pytest.mark.wide
def test_the_measure_catches_faults(browser: Any, tmp_path: Path) -> None:
    """Words on each other, turned ones too, words past the edge, tiny and faint words, lines and the paper of other
    words over words, and a page too wide are told."""
    view = loaded(browser, written(tmp_path, "<!doctype html><title>t</title>"))
    looks(view, PHONE, "light")

    def told(body: str, what: str) -> Any:
        view.set_content(f"<!doctype html><html><head><title>t</title></head><body>{body}</body></html>")
        return view.evaluate("measured()")[what]

    def word(where: str, text: str = "word", size: float = 9, more: str = "") -> str:
        return f'<text {where} font-size="{size}" {more}>{text}</text>'

    level, beside = word('x="10" y="50"'), word('x="50" y="50"', "other")
    upright = word('x="20" y="60"', "across", more='transform="rotate(-90 20 60)"')
    assert told(svg(level, beside), "overlaps") == []
    assert told(svg(level, level), "overlaps")
    assert told(svg(level, upright), "overlaps")
    assert told(svg(word('x="90" y="50"')), "clipped")
    assert told(svg(word('x="10" y="50"', size=2)), "tiny")
    line, elsewhere = '<path stroke="#000" d="M0 48H90"/>', '<path stroke="#000" d="M0 20H90"/>'
    assert told(svg(line, level, elsewhere), "crossed") == []
    assert told(svg(f"<g>{level}</g>", f"<g>{line}</g>"), "crossed")
    assert told(svg(f"<g>{level}{line}</g>"), "crossed")
    paper = 'stroke="#fff" stroke-width="3" paint-order="stroke"'
    assert told(svg(level, word('x="34.5" y="50"', more=paper)), "eaten") == []
    assert told(svg(level, word('x="32" y="50"', more=paper)), "eaten")
    assert told(svg(level), "faint") == [] and told(svg(word('x="10" y="50"', more='fill="#888"')), "faint")
    assert told(svg(word('x="10" y="50"', more=paper.replace("fff", "888"))), "faint") == []
    assert told(svg(word('x="10" y="50"', more=paper.replace("fff", "333"))), "faint")
    assert told('<main><p style="width:600px">x</p></main>', "scroll") > PHONE
    caption = '<p style="width:{}px;overflow-wrap:anywhere">stop: along the fence</p>'
    assert told(f"<main>{caption.format(12)}</main>", "narrow")
    assert told(f"<main>{caption.format(120)}</main>", "narrow") == []
    broken = written(tmp_path, "<!doctype html><title>t</title><body><script>throw new Error('no')</script>")
    assert looked_at(browser, broken, PHONE, "measured()")[0]["errors"]
