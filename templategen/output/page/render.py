"""Makes the HTML of a page: style and script inside, nothing fetched from anywhere."""

import json
import re
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from templategen.catalogue import figured, tag_of, translated
from templategen.drawing.tidy import printable
from templategen.english import spelt, tag
from templategen.output.page.content import Page
from templategen.output.svg_style import drawing_style

HERE = Path(__file__).parent

UNSAFE = {"<": "\\u003c", ">": "\\u003e", "&": "\\u0026", "\u2028": "\\u2028", "\u2029": "\\u2029"}
"""Letters that could end a script or a line of it (HTML standard, restrictions for script contents)."""

MIXED = re.compile(
    r'<(script|style|svg|text|head)\b.*?</\1>|<article id="first-cut-list".*?</table>|<[^>]*>'
    r"|(\d+-\d+/\d+(?: in\b)?)",
    re.DOTALL,
)
"""What stays as it is (drawings, tags, the cut list, whose cells don't break), or a mixed fraction."""

ONE_FIGURE = re.compile(r"(?:\S+ )?[\d.,/-]+ (?:mm|in)")
FEW, WORD, SETTING = 10, 18, 26
"""Letters of a cell, of a word, and of a setting with its figure, from which a cell breaks."""

FOOTER = (
    "Guards on. The machine's manual, local law and a competent person come before this page. Strength and stability "
    "figures are screening checks."
)

FOOTER_BY_HAND = (
    "Local law and a competent person come before this page. Strength and stability figures are screening checks."
)
"""In a shop without machines."""


def page_html(page: Page) -> str:
    """The file. The same page gives the same text."""
    headed = replace(page, sections=tuple(section.headed for section in page.sections))
    return _unbroken(_template().render(
        page=headed, style=_style(), script=_script(page), scene=_json(dict(page.scene)),
        english=tag(), catalogue=tag(of_catalogue=True),
        footer=translated(FOOTER) if page.at_machines else translated(FOOTER_BY_HAND),
        take_care=translated("Take care"),
    ))  # fmt: skip


def _unbroken(html: str) -> str:
    """The file with mixed fractions of an inch in one piece each: a browser ends a line behind their hyphen."""
    return MIXED.sub(lambda found: f'<span class="whole">{found[2]}</span>' if found[2] else found[0], html)


@cache
def _template() -> Any:
    import jinja2
    from markupsafe import Markup

    environment = jinja2.Environment(
        autoescape=True, trim_blocks=True, lstrip_blocks=True, undefined=jinja2.StrictUndefined, finalize=_shown
    )
    environment.filters["markup"] = Markup
    environment.filters["figured"] = figured
    environment.filters["translated"] = translated
    environment.filters["address"] = address
    environment.filters["tag_of"] = lambda words: tag_of(translated(words))
    environment.filters["joined"] = _joined
    environment.tests["whole"] = _is_whole
    return environment.from_string((HERE / "page.html.j2").read_text(encoding="utf-8"))


def _is_whole(cell: str) -> bool:
    """Whether a cell of a list stays in one line: a few letters, a short word, a figure with its unit, one behind its
    setting."""
    few = len(cell) < (FEW if " " in cell else WORD)
    return few or (len(cell) < SETTING and ONE_FIGURE.fullmatch(cell) is not None)


def _joined(titles: list[str], last: str) -> str:
    return ", ".join(map(translated, (*titles, last) if last else titles))


def _shown(value: Any) -> Any:
    """Words without control characters, in the English of the packet; markup as it is."""
    return spelt(printable(value)) if type(value) is str else value


def address(text: str) -> str:
    """A name as it can stand in an address within the page."""
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-") or "x"


@cache
def _style() -> str:
    return drawing_style() + "\n" + (HERE / "page.css").read_text(encoding="utf-8")


def _script(page: Page) -> str:
    return "".join((HERE / name).read_text(encoding="utf-8") for name in ("turning.js", "page.js"))


def _json(value: object) -> str:
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"), sort_keys=True, allow_nan=False)
    return "".join(UNSAFE.get(letter, letter) for letter in text)
