"""What is on a layer that isn't shown isn't drawn."""

from __future__ import annotations

import pytest

from templategen.proof.read_dxf import _layers


def layer(name: str, **codes: str) -> list[tuple[int, str]]:
    """A layer's record: codes by `_62` and so on."""
    return [(0, "LAYER"), (2, name), *((int(code[1:]), value) for code, value in codes.items())]


@pytest.mark.parametrize(
    ("codes", "shown"),
    [
        ({}, True),
        ({"_62": "3", "_70": "0", "_290": "1"}, True),
        ({"_70": "64"}, True),
        ({"_62": "-3"}, False),
        ({"_70": "1"}, False),
        ({"_70": "4"}, False),
        ({"_70": "65"}, False),
        ({"_290": "0"}, False),
    ],
)
def test_layers_off_frozen_locked_or_unprinted_are_not_shown(codes: dict[str, str], shown: bool) -> None:
    """Each flag by itself, beside a layer that is shown."""
    assert _layers([*layer("PLAIN", _62="7"), *layer("ODD", **codes)]) == {"PLAIN"} | ({"ODD"} if shown else set())
