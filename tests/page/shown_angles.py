"""Angles as a written page shows them, and as a part's corners have them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from math import atan2, degrees, hypot

from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.parts.part import Part

UNSEEN = 0.5
"""Half a millimetre, the least a rule is divided into."""

TOLD = re.compile(r"(?:(\d+) x [^°]*|.*?)(\d[\d.]*)° off (square|the length)(?: \(gauge (\d[\d.]*)°\))?$")


def article(page: str, code: str) -> str:
    """A part's sheet."""
    return next(one for one in page.split("<article")[1:] if f'data-part="{code}"' in one.split(">", 1)[0])


def figures(sheet: str) -> dict[str, list[list[str]]]:
    """The words of each picture by the first word of its caption; a callout's lines are one."""
    found: dict[str, list[list[str]]] = {}
    for figure in re.findall(r"<figure.*?</figure>", sheet, re.S):
        caption = re.sub(r"<[^>]*>", "", figure.split("<figcaption")[1].split(">", 1)[1]).split()
        found.setdefault(caption[0].strip(";"), []).append(re.findall(r"<text[^>]*>([^<]*)</text>", figure))
    return found


def shown(words: Iterable[str]) -> Counter[str]:
    """How often each angle stands among the words, off square."""
    told: Counter[str] = Counter()
    before = ""
    for word in words:
        if found := TOLD.match(word):
            many = re.match(r"(\d+) x ", before if "," not in word else word)
            value = float(found[2]) if found[3] == "square" else 90 - float(found[2])
            assert found[3] != "square" or abs(float(found[4]) - (90 - value)) < 1e-9, word
            told[f"{value:.3f}"] += int(many[1]) if many else 1
        before = word
    return told


def slants(outline: Outline, across: bool = False) -> Counter[str]:
    """How often each angle stands in an outline, from its corners, but for edges that no rule shows; `across` where
    its length lies upright."""
    ring = outline.vertices
    ends = zip(ring, (*ring[1:], ring[0]), strict=True)
    lines = (Point(b.x - a.x, b.y - a.y) for a, b in ends if not a.bulge and hypot(b.x - a.x, b.y - a.y) > UNSEEN)
    off = (degrees(atan2(abs(line.x), abs(line.y))) for line in lines)
    angles = (90 - one if across else one for one in off)
    return Counter(f"{angle:.3f}" for angle in angles if 0.005 < angle < 89.995)


def told_as_cut(page: str, part: Part) -> None:
    """Every angle of the outline stands on the part's top face, every one of the blank on the blank."""
    found = figures(article(page, part.code))
    across = part.kind == "spline"
    assert shown(found["top"][0]) == slants(part.outline, across), part.code
    if "blank" in found:
        assert shown(found["blank"][0]) == slants(part.blank, across), part.code
