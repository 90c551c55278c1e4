"""A maker's mark is the path that was written, whoever reads it; what can't be read is refused by its place."""

from __future__ import annotations

import re

import pytest
from svgelements import Close, CubicBezier, Line, Move, Path, QuadraticBezier

from templategen.errors import ProfileError
from templategen.output.maker_mark import mark_of

HERON = (
    "m3 4.5 10,-2.5 5 1 l-1.5.5 2e0-3V9.25 h-6.5q-2 7-7.25 1.5 Z m2 1.5 c1 0 2.5 1 2 3 L4,8z C 1 2 3 4 5 6.5 H9 V1z"
)


@pytest.mark.parametrize("path", [HERON, HERON.replace("q", "Q").replace("m2", "M2"), "M0 0H4V3.5z"])
def test_every_step_ends_where_another_reader_has_it_end(path: str) -> None:
    other = [one for one in Path(path) if isinstance(one, Move | Line | CubicBezier | QuadraticBezier | Close)]
    mark = mark_of(path)
    assert len(other) == len(mark.steps)
    for (name, at), segment in zip(mark.steps, other, strict=True):
        if name == "Z":
            assert isinstance(segment, Close)
            continue
        assert at[-2:] == pytest.approx((segment.end.x, segment.end.y))
        if isinstance(segment, QuadraticBezier):
            (a, b), (u, v) = (segment.start.x, segment.start.y), (segment.control.x, segment.control.y)
            middle = [(p + 3 * q + 3 * r + s) / 8 for p, q, r, s in zip((a, b), at[:2], at[2:4], at[4:], strict=True)]
            assert middle == pytest.approx([(a + 2 * u + at[4]) / 4, (b + 2 * v + at[5]) / 4])


def test_page_and_paper_fill_the_same_outline() -> None:
    """On paper y grows upwards, and the mark hangs from its upper left corner."""
    mark = mark_of("M10 20 h30 v-15 z")
    assert mark.box == (10, 5, 30, 15)
    assert 'viewBox="10 5 30 15"' in mark.svg and "M10 20L40 20L40 5Z" in mark.svg
    assert mark.code(100, 250, 5).split("\n") == [
        "100.000 245.000 m", "110.000 245.000 l", "110.000 250.000 l", "h", "f*",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("path", "told"),
    [("L1 2z", "L can't"), ("M1 2A3 3 0 0 1 5 6z", "A can't"), ("M1 2 L4 x", "x can't"), ("M1 2 L4", "its end can't"),
     ("M1 2 Z 4 5", "4 can't"), ("M1 2H9z", "encloses nothing"), ("", "encloses nothing"), ("<svg>", "< can't"),
     ('M1 2 L4 5"/><script>', '" can\'t')],
)  # fmt: skip
def test_what_is_no_path_is_refused(path: str, told: str) -> None:
    with pytest.raises(ProfileError, match=rf"maker\.mark: {re.escape(told)}.*"):
        mark_of(path)
