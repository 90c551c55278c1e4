"""The shipped tables and their plans, built once for all tests of pictures, and text boxes by a font's own widths."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import combinations
from math import cos, sin

import shapely
from reportlab.pdfbase.pdfmetrics import stringWidth

from templategen.drawing.drawing import Drawing, Mark, Words
from templategen.fit.plan import Plan, plan_assembly
from templategen.packet.shipped import shipped_text
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text


@lru_cache(maxsize=8)
def table_of(name: str) -> Table:
    """A shipped table."""
    return build_table(profile_from_text(shipped_text(name), name))


@lru_cache(maxsize=8)
def plan_of(name: str) -> Plan:
    """Its plan of assembly."""
    return plan_assembly(table_of(name))


def text_shape(words: Words) -> shapely.Polygon:
    """Where the words stand, by the widths of Helvetica, whose capitals are 0.716 of its size high."""
    width = stringWidth(words.text, "Helvetica", words.height / 0.716)
    before = {"start": 0.0, "middle": 0.5, "end": 1.0}[words.anchor]
    c, s = cos(words.turn), sin(words.turn)
    corners = ((-before, 0.0), (1 - before, 0.0), (1 - before, words.height), (-before, words.height))
    return shapely.Polygon(
        [(words.at.x + c * u * width - s * v, words.at.y + s * u * width + c * v) for u, v in corners]
    )


def overlapping(drawing: Drawing) -> Iterator[tuple[str, str]]:
    """Pairs of words that stand on each other."""
    words = [mark for mark in drawing.marks if isinstance(mark, Words) and mark.text.strip()]
    for one, other in combinations(words, 2):
        if text_shape(one).intersection(text_shape(other)).area > 1e-3:
            yield one.text, other.text


def crossed(marks: Sequence[Mark]) -> Iterator[tuple[str, str]]:
    """Words that a line runs through, each with the line's layer; a hair of the letters' edge may be touched."""
    lines = [(mark.layer.name, edge) for mark in marks if not isinstance(mark, Words) for edge in mark.edges]
    tree = shapely.STRtree([shapely.LineString([edge.point_at(i / 12) for i in range(13)]) for _, edge in lines])
    for words in (mark for mark in marks if isinstance(mark, Words) and mark.text.strip()):
        for found in tree.query(text_shape(words).buffer(-words.height / 16), predicate="intersects"):
            yield words.text, lines[found][0]
