"""The live page in the language that is spoken: its own words, and those of its script."""

import json
import re
from collections.abc import Iterator
from html import escape
from pathlib import Path

from templategen.catalogue import translated
from templategen.english import tag

PAGE = Path(__file__).parent / "page"

TOLD = re.compile(r"""(>\s*|\s(?:aria-label|placeholder|title)=")([^\s<>"][^<>"]*[^\s<>"])(?=\s*[<"])""")
"""What a maker reads of the page: text between marks, and labels."""

ASKED = re.compile(r"""\bt\(("(?:[^"\\]|\\.)*")""")
"""A text in the script."""

CHOICES = ("board", "sheet", "knot", "rectangle")
"""Words of lists to choose from."""


def live_page() -> str:
    """The page's HTML with its words, and those that the script asks for."""
    page = (PAGE / "index.html").read_text(encoding="utf-8")
    if tag(of_catalogue=True) == tag():
        return page
    words = {text: translated(text) for text in script_words()}
    told = TOLD.sub(lambda found: found[1] + escape(translated(found[2])), page)
    spoken = json.dumps(words, ensure_ascii=False).replace("<", "\\u003c")
    return told.replace('lang="en"', f'lang="{tag(of_catalogue=True)}"', 1).replace(
        ">{}</script>", f">{spoken}</script>"
    )


def page_words() -> Iterator[str]:
    """What stands on the page itself."""
    page = (PAGE / "index.html").read_text(encoding="utf-8")
    yield from (found[2] for found in TOLD.finditer(page) if any(map(str.isalpha, found[2])))


def script_words() -> Iterator[str]:
    """What the script asks for."""
    yield from CHOICES
    for path in sorted(PAGE.glob("*.js")):
        yield from (json.loads(found[1]) for found in ASKED.finditer(path.read_text(encoding="utf-8")))
