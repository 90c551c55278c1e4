"""Layers: names old readers take, line types and colours that tell the work apart."""

from __future__ import annotations

import re
from itertools import combinations
from typing import get_args

import pytest

from templategen.drawing import layers
from templategen.drawing.layer import PALETTE, Layer
from templategen.drawing.layers import depth_code, feature_layer
from templategen.geometry.outline import rectangle
from templategen.parts.feature import Feature
from templategen.parts.kinds import KINDS, FeatureKind

ALL_KINDS = get_args(FeatureKind)
FIXED = [value for value in vars(layers).values() if isinstance(value, Layer)]


def made(kind: FeatureKind, depth: float) -> Layer:
    return feature_layer(Feature(kind, "top", rectangle(0, 0, 1, 1), depth, "cut"))


@pytest.mark.parametrize(("kind", "depth", "name"), [
    ("groove", 14, "GROOVE_14_00"), ("tongue", 5.05, "TONGUE_5_05"), ("lap", 76 / 3, "LAP_25_33"),
    ("mortise", 25, "MORTISE_25_00"), ("spline-slot", 24, "SPLINE_SLOT_24_00"), ("round-over", 8, "ROUND_OVER_8_00"),
    ("chamfer", 2, "CHAMFER_2_00"), ("relief", 3.999, "RELIEF_4_00"),
])  # fmt: skip
def test_a_feature_s_layer_says_kind_and_depth(kind: FeatureKind, depth: float, name: str) -> None:
    """The name is the trade's word and the depth to a hundredth."""
    assert made(kind, depth).name == name


@pytest.mark.parametrize("layer", [*FIXED, *(made(kind, 99999.999) for kind in ALL_KINDS)], ids=lambda v: v.name)
def test_every_name_is_one_old_readers_take(layer: Layer) -> None:
    """Upper-case ASCII, at most 31 characters; colour from the palette but not yellow, weight of ISO 128."""
    assert re.fullmatch(r"[A-Z][A-Z0-9_]{0,30}", layer.name)
    assert layer.colour in PALETTE
    assert layer.colour != "yellow"
    assert layer.weight in (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0)
    assert layer.title


def test_no_two_kinds_of_work_look_alike() -> None:
    """Each kind of feature has a pair of line type and colour of its own, none that of a plain cut."""
    looks = {kind: (KINDS[kind].ink, KINDS[kind].line) for kind in ALL_KINDS}
    assert all(looks[a] != looks[b] for a, b in combinations(ALL_KINDS, 2))
    assert ("black", "continuous") not in looks.values()
    assert ("vermilion", "continuous") not in looks.values()


def test_only_lines_a_cutter_follows_are_cuts() -> None:
    """Frames, words, sizes and pictures are marked as not cut; through cuts and pockets as cut."""
    assert {layer.name for layer in FIXED if layer.cuts} == {"THROUGH_OUTSIDE", "THROUGH_INSIDE", "BLANK_OUTLINE"}
    assert {kind for kind in ALL_KINDS if not made(kind, 5).cuts} == {"round-over", "chamfer"}


def test_depths_are_written_to_the_hundredth() -> None:
    """Rounding is to the nearest hundredth, with both decimals always there."""
    assert [depth_code(depth) for depth in (0.5, 14, 25.3349, 100)] == ["0_50", "14_00", "25_33", "100_00"]
