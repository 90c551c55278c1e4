"""The fuzzing targets on their kept corpus and on random bytes; longer campaigns run apart."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.fuzz.targets import KEYS, TARGETS

CORPUS = Path(__file__).parent / "corpus"
SEEDS = sorted(path for path in CORPUS.rglob("*") if path.is_file())


@pytest.mark.parametrize("path", SEEDS, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_kept_inputs_break_nothing(path: Path) -> None:
    """Each input that was worth keeping is answered or refused."""
    TARGETS[path.parent.name](path.read_bytes())


def test_every_target_has_a_corpus() -> None:
    """No target goes without kept inputs, and none is kept for a target that is gone."""
    assert {path.parent.name for path in SEEDS} == set(TARGETS)


@pytest.mark.parametrize("name", sorted(set(TARGETS) - {"table"}))
@settings(max_examples=150, deadline=None)
@given(data=st.binary(max_size=200))
def test_random_bytes_break_nothing(name: str, data: bytes) -> None:
    """Any bytes are answered or refused."""
    TARGETS[name](data)


@settings(max_examples=40, deadline=None)
@given(data=st.lists(st.tuples(st.integers(0, len(KEYS) - 1), st.binary(min_size=3, max_size=3)), max_size=6))
def test_random_values_break_no_table(data: list[tuple[int, bytes]]) -> None:
    """Any values under known keys give a table or a refusal."""
    TARGETS["table"](b"".join(bytes([key]) + rest for key, rest in data))
