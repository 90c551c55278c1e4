"""The sheet for whoever gets the table, as a page: what it holds, and its HTML. No script, nothing fetched."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from html import escape

from templategen.catalogue import translated
from templategen.drawing.tidy import printable
from templategen.english import CustomerLanguage, language, spelt, spoken, tag
from templategen.output.maker_mark import MakerMark
from templategen.output.svg_style import drawing_style

STYLE = """
:root { color-scheme: light dark; }
body { font: 1rem/1.45 system-ui, sans-serif; max-width: 54rem; margin: 0 auto; padding: 1rem; }
header p { margin: 0; }
.mark { float: right; height: 4rem; max-width: 40%; margin-left: 1rem; }
figure { margin: 1rem 0; }
figure svg { width: 100%; height: auto; max-height: 70vh; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .3rem .6rem .3rem 0; border-bottom: 1px solid #8886; }
th { font-weight: 600; white-space: nowrap; }
h1 { margin: .8rem 0 .2rem; } h2 { margin: 1.2rem 0 .2rem; font-size: 1.1rem; break-after: avoid; }
ul { margin: 0; padding-left: 1.1rem; } li { break-inside: avoid; }
@media print { body { font-size: 10pt; padding: 0; } figure svg { max-height: 9cm; } }
@media print { .chapters { columns: 2; column-gap: 1cm; } }
"""


SPOKEN = re.compile(r"<(title|desc)\b.*?</\1>| aria-labelledby=\"[^\"]*\"", re.DOTALL)
"""What a drawing says of itself."""


@dataclass(frozen=True, slots=True)
class CustomerSheet:
    """What the sheet says: in which `words`, with the maker's `own` in it; `maker` is the maker's name and the lines
    below it, `facts` are rows of a word and what it is, `chapters` a heading and sentences each."""

    title: str
    maker: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    chapters: tuple[tuple[str, tuple[str, ...]], ...]
    mark: MakerMark | None = None
    words: CustomerLanguage = "the same"
    own: tuple[str, ...] = ()

    @property
    def lines(self) -> Iterator[str]:
        """All that is said, in the order in which it is read, in the customer's words."""
        said = (line for heading, lines in self.chapters for line in (heading, *lines))
        with spoken(self.words, self.own):
            told = tuple(map(spelt, (*self.maker, self.title, *(cell for row in self.facts for cell in row), *said)))
        yield from told


def customer_html(sheet: CustomerSheet, svg: str, paper: str = "A4") -> str:
    """The page, printed on `paper`; `svg` is the picture, made by our own writer."""
    name, *lines = (*sheet.maker, "")
    rows = "".join(f"<tr><th>{_said(word)}</th><td>{_said(what)}</td></tr>\n" for word, what in sheet.facts)
    chapters = "".join(_chapter(heading, lines) for heading, lines in sheet.chapters)
    head = "".join(f"<p>{_said(line)}</p>\n" for line in lines if line)
    return f"""<!doctype html>
<html lang="{tag(of_catalogue=True)}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>{_said(sheet.title)}</title>
<style>{drawing_style()}{STYLE}@page {{ size: {paper} portrait; margin: 12mm 15mm; }}
</style>
</head>
<body>
<header>
{sheet.mark.svg if sheet.mark else ""}
{f"<p><strong>{_said(name)}</strong></p>" if name else ""}
{head}<h1>{_said(sheet.title)}</h1>
</header>
<main>
<figure>{_described(svg)}</figure>
<table>
{rows}</table>
<div class="chapters">
{chapters}</div>
</main>
</body>
</html>
"""


def _described(svg: str) -> str:
    """The picture; what it says of itself is English, so elsewhere it is described by a line of the catalogue."""
    if language() == "english":
        return svg
    bare = SPOKEN.sub("", svg)
    return bare.replace("<svg ", f'<svg aria-label="{escape(translated("The table"))}" ', 1)


def _chapter(heading: str, lines: tuple[str, ...]) -> str:
    items = "".join(f"<li>{_said(line)}</li>\n" for line in lines)
    return f"<section>\n<h2>{_said(heading)}</h2>\n<ul>\n{items}</ul>\n</section>\n"


def _said(words: str) -> str:
    return escape(spelt(printable(words)))
