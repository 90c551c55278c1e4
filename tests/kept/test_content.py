"""Alike values have one digest, different ones their own."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from itertools import combinations
from math import inf

import pytest

from templategen.geometry.point import Point
from templategen.kept.content import Contents, UnknownContentError
from templategen.packet.shipped import shipped_text
from templategen.table.assembly import build_table
from templategen.table.profile.read import profile_from_text


@dataclass(frozen=True)
class Board:
    """A value."""

    length: float
    width: float


@dataclass(frozen=True, slots=True)
class Sheet:
    """Another with the same fields."""

    length: float
    width: float


DIFFERENT = (
    1, 1.0, True, "1", b"1", None, (), "", b"", (1,), (1, 2), (2, 1), ((1,), 2), (1, (2,)), ("12",), ("1", "2"),
    {"a": 1, "b": 2}, {"b": 2, "a": 1}, {"a": 2, "b": 1}, 0.1, 0.1 + 1e-17 * 2, -0.0, 0.0, inf, Fraction(1, 3),
    Board(3.0, 4.0), Board(4.0, 3.0), Sheet(3.0, 4.0), Point(3.0, 4.0), (3.0, 4.0), frozenset({1}), frozenset({2}),
    partial(build_table, 1), partial(build_table, 2), build_table,
)  # fmt: skip


def test_what_differs_has_its_own_digest() -> None:
    """No two of many small values that are easily taken for each other share one."""
    contents = Contents()
    found = [(repr(one), contents.digest((one,))) for one in DIFFERENT]
    for (one, first), (other, second) in combinations(found, 2):
        assert (first == second) == (one == other and one not in ("1", "True")), (one, other)


def test_a_table_built_twice_has_one_digest() -> None:
    """Whether or not something was worked out of it meanwhile; a tenth of a micrometre more is another."""
    profile = profile_from_text(shipped_text("towpath-side"), "side")
    one, other = build_table(profile), build_table(profile_from_text(shipped_text("towpath-side"), "side"))
    for part in one.parts:
        assert part.outline.area
    assert Contents().digest(one) == Contents().digest(other)
    assert Contents().digest(one) != Contents().digest(one.with_(diameter=profile.top.diameter + 0.0001))


def test_what_is_made_on_the_way_has_none() -> None:
    """A function that holds more than its name says, an open thing: the work is done anew."""
    held = 3
    for value in (lambda: held, lambda: 3, object(), iter(())):
        with pytest.raises(UnknownContentError):
            Contents().digest([value])
