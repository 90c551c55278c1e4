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


def made(kind: FeatureKind, depth: float, face: str = "top") -> Layer:
    return feature_layer(Feature(kind, face, rectangle(0, 0, 1, 1), depth, "cut"))


@pytest.mark.parametrize(("kind", "depth", "name"), [
    ("groove", 14, "TOP_GROOVE_14MM"), ("tongue", 5.05, "TOP_TONGUE_5_05MM"), ("lap", 76 / 3, "TOP_LAP_25_333MM"),
    ("mortise", 25, "TOP_MORTISE_25MM"), ("spline-slot", 28.575, "TOP_SPLINE_SLOT_28_575MM"),
    ("round-over", 8, "TOP_ROUND_OVER_8MM"), ("chamfer", 2, "TOP_CHAMFER_2MM"), ("relief", 3.9996, "TOP_RELIEF_4MM"),
])  # fmt: skip
def test_a_feature_s_layer_says_face_kind_depth_and_unit(kind: FeatureKind, depth: float, name: str) -> None:
    """The name is the trade's word and the depth to a micrometre."""
    assert made(kind, depth).name == name


@pytest.mark.parametrize(
    "layer", [*FIXED, *(made(kind, 999.999, "edge-24") for kind in ALL_KINDS)], ids=lambda v: v.name
)
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
    assert {kind for kind in ALL_KINDS if not made(kind, 5).cuts} == {"round-over", "chamfer", "bead"}


def test_depths_lose_no_digit_that_a_machine_can_set() -> None:
    """Rounding is to the nearest micrometre, in inches to a ten-thousandth; noughts at the end are left out."""
    assert [depth_code(depth, "mm") for depth in (0.5, 14, 28.575, 76 / 3)] == [
        "0_5MM",
        "14MM",
        "28_575MM",
        "25_333MM",
    ]
    assert [depth_code(depth * 25.4, "in") for depth in (1.125, 9 / 32, 2)] == ["1_125IN", "0_2812IN", "2IN"]


def test_work_alike_on_other_faces_has_layers_of_its_own() -> None:
    """Two laps of one depth, above and below, and grooves of two edges: four names."""
    faces = ("top", "bottom", "edge-1", "edge-2")
    assert {made("groove", 12.667, face).name for face in faces} == {
        "TOP_GROOVE_12_667MM", "BOTTOM_GROOVE_12_667MM", "EDGE1_GROOVE_12_667MM", "EDGE2_GROOVE_12_667MM",
    }  # fmt: skip
