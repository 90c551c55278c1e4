"""Figures of the shipped packets that change only where somebody means to change them."""

from __future__ import annotations

import pytest

from templategen.packet.shipped import shipped_names
from tests.figures import changes, figures, kept
from tests.shipped_packets import packet_files


@pytest.mark.parametrize("name", shipped_names())
def test_what_is_counted_is_as_it_was(name: str) -> None:
    """Parts, work by kind and face, joints, jigs, set-ups, boards and their cost, sheets of paper, files."""
    told = changes({name: kept()[name]}, {name: figures(packet_files(name))})
    assert not told, "if that is meant, run python -m tests.figures:\n" + "\n".join(told)


def test_every_packet_is_counted() -> None:
    """No shipped profile is left out."""
    assert list(kept()) == list(shipped_names())


def test_a_change_is_told_with_both_figures() -> None:
    """One more, one gone, one new."""
    old, new = {"a": {"x": 3, "y": 1}}, {"a": {"x": 4, "z": 2}}
    assert changes(old, new) == ["a: x: was 3, is 4", "a: y: was 1, is 0", "a: z: was 0, is 2"]
    assert changes(old, old) == []
