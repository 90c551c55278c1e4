"""The page asked by an outside checker of accessibility, at every width, in light, dark and as it is printed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from templategen.packet.shipped import shipped_names
from tests.page.browser import loaded, looks, written
from tests.page.checker import armed, complaints, faint, other_than_faint
from tests.page.test_screens import DESK, PHONE, seen_as
from tests.shipped_packets import page_of

FAULTS = {
    "color-contrast": "all('#work td.wide').at(-1).style.color = getComputedStyle(document.body).backgroundColor",
    "image-alt": "all('#jigs article').at(-1).append(new Image())",
    "button-name": "all('#parts article')[1].append(document.createElement('button'))",
    "label": "all('#machines input')[2].closest('li, td').innerHTML = '<input type=checkbox>'",
    "svg-img-alt": "all('#parts svg.drawing').at(-1).removeAttribute('aria-labelledby'), "
    "all('#parts svg.drawing').at(-1).querySelectorAll('title, desc').forEach((one) => one.remove())",
    "duplicate-id": "all('#stock article').at(-1).id = all('#stock article')[0].id",
    "nested-interactive": "all('#work td a')[3].innerHTML += '<button>x</button>', "
    "all('#work td a')[3].setAttribute('role', 'button')",
    "landmark-no-duplicate-main": "all('#year article')[0].append(document.createElement('main'))",
    "region": "document.body.insertAdjacentHTML('beforeend', '<p>In no landmark</p>')",
    "heading-order": "all('#jigs h3')[2].outerHTML = '<h6>Too deep</h6>'",
    "list": "all('#machines ul')[1].append(document.createElement('div'))",
    "target-size": "all('#files summary').at(-1).insertAdjacentHTML('afterend', "
    '\'<a href=#year style="font-size:6px">a</a> <a href=#year style="font-size:6px">b</a>\')',
    "scrollable-region-focusable": "all('#first .scroll')[0].setAttribute('style', 'width:40px;overflow:scroll'), "
    "all('#first .scroll')[0].removeAttribute('tabindex'), "
    "all('#first .scroll :is(a, input)').forEach((one) => { one.tabIndex = -1 })",
}
"""Faults by the rule that is to find them, each in another chapter of the page or another place in it."""


@pytest.mark.slow
@pytest.mark.parametrize("name", shipped_names())
def test_the_checker_has_nothing_to_say(name: str, browser: Any, tmp_path: Path) -> None:
    """No finding on a phone, a tablet and a desk, by day, by night and on paper."""
    view = loaded(browser, written(tmp_path, page_of(name)))
    armed(view)
    told = complaints(view, seen_as(page_of(name)))
    assert {where: found for where, found in told.items() if found} == {}


@pytest.mark.slow
def test_the_checker_finds_faults_of_every_kind(browser: Any, tmp_path: Path) -> None:
    """Put into the page one after another, at the end of chapters, in its middle, by day and by night."""
    view = loaded(browser, written(tmp_path, page_of("towpath-side")))
    armed(view)
    looks(view, DESK, "light")
    view.evaluate("window.all = (what) => [...document.querySelectorAll(what)]")
    for fault in FAULTS.values():
        view.evaluate(f"() => {{ {fault} }}")
    told = {rule for rule, _ in other_than_faint(view)}
    assert set(FAULTS) - told == {"color-contrast"}
    assert [rule for rule, _ in faint(view)] == ["color-contrast"]
    view.evaluate("all('#work td.wide').at(-1).style.color = ''")
    assert faint(view) == []
    looks(view, PHONE, "dark")
    view.evaluate("all('#jigs .story li').at(-1).style.color = '#555'")
    assert [rule for rule, _ in faint(view)] == ["color-contrast"]
    view.evaluate("all('#parts .drawing text').at(-1).style.fill = '#555'")
    assert len(view.evaluate("measured()")["faint"]) == 1
