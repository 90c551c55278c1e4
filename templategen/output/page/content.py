"""What a page holds, before it is HTML: sections of sheets, sheets of words, pictures and lists.

All words are plain text; only a picture's `svg` is markup, made by our own writer.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

LONG = 32
"""Letters of a cell that needs room."""

COMMON = 0.3
"""A caution on more than this share of a chapter's sheets is general."""

Level = Literal["stop", "caution", "note", ""]


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing with the line under it. `least` is how wide it must be for its smallest letters to read, in pixels of
    a style sheet (0 where it has none), `ratio` its width by its height. `large` ones stand by themselves."""

    svg: str
    caption: str
    large: bool = False
    least: int = 0
    ratio: float = 1.0


@dataclass(frozen=True, slots=True)
class Grid:
    """A list in columns. `figures` are the places of columns of numbers; `parts` is the part that each row concerns,
    `levels` how grave each row is, `ticks` whether rows can be ticked off; rows are as long as the heading. `to` is
    for each row the address within the page that its cell in column `to_at` leads to, "" for none; `language` its tag
    where that isn't the page's."""

    heading: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    caption: str = ""
    figures: tuple[int, ...] = ()
    parts: tuple[str, ...] = ()
    levels: tuple[Level, ...] = ()
    ticks: bool = False
    to: tuple[str, ...] = ()
    to_at: int = 0
    language: str = ""

    @property
    def wordy(self) -> bool:
        """Whether rows hold whole sentences: in the hand each is shown by itself, cell under cell."""
        return len(self.heading) > 2 and any(len(cell) > LONG for row in self.rows for cell in row)


@dataclass(frozen=True, slots=True)
class Fold:
    """More for who asks: a heading, and lines that open under it."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """What belongs together. `part` is the code of the part it is about, `steps` are told in order, `ticks` are steps
    to tick off, `short` ones too, in columns, `links` files beside the page (path, words), `mind` what can
    hurt, in print alone. What `holds` one of the things that a day `needs` is printed with that day."""

    name: str
    title: str
    words: tuple[str, ...] = ()
    pictures: tuple[Picture, ...] = ()
    grids: tuple[Grid, ...] = ()
    steps: tuple[str, ...] = ()
    ticks: tuple[str, ...] = ()
    short: tuple[str, ...] = ()
    folds: tuple[Fold, ...] = ()
    cautions: tuple[str, ...] = ()
    links: tuple[tuple[str, str], ...] = ()
    part: str = ""
    raw: str = ""
    mind: str = ""
    holds: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """A chapter of the page; `name` is its address within the page. `cautions` hold for all of it, `pairs` says that
    sheets stand in two columns on paper, `language` is its tag where that isn't the page's."""

    name: str
    title: str
    sheets: tuple[Sheet, ...]
    cautions: tuple[str, ...] = ()
    pairs: bool = False
    language: str = ""

    @property
    def headed(self) -> Section:
        """What stands as a caution on more than a few sheets is told once, at the chapter's head."""
        counts = Counter(line for sheet in self.sheets for line in sheet.cautions)
        often = tuple(line for line, count in counts.items() if count > max(1.0, COMMON * len(self.sheets)))
        sheets = (
            replace(sheet, cautions=tuple(line for line in sheet.cautions if line not in often))
            for sheet in self.sheets
        )
        return replace(self, sheets=tuple(sheets), cautions=tuple(dict.fromkeys((*self.cautions, *often))))


@dataclass(frozen=True, slots=True)
class Page:
    """The whole page. `key` tells one table from another where ticks are kept; `paper` is what it is printed on,
    `scene` what the turning picture needs, `at_machines` whether any is worked at."""

    title: str
    standing: str
    revision: str
    key: str
    sections: tuple[Section, ...]
    paper: str = "A4"
    scene: Mapping[str, object] = field(default_factory=dict)
    at_machines: bool = True
