"""Parts as layers against the same parts as volumes."""

from __future__ import annotations

import pytest

from templategen.fit.layers import part_layers, placed_layers
from templategen.fit.way import DOWN, UP, Copy, in_the_way, level
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.parts.volume import volume
from templategen.table.assembly import build_table
from templategen.table.profile.read import profile_from_text

shapely = pytest.importorskip("shapely")


@pytest.mark.parametrize("name", shipped_names())
def test_layers_add_up_to_the_part(name: str) -> None:
    """Areas of a flat part's layers times their heights are its volume with sharp edges."""
    for part in build_table(profile_from_text(shipped_text(name), name)).parts:
        if part.kind != "leg" and not any(f.kind in ("round-over", "chamfer") for f in part.features):
            total = sum((high - low) * plan.area for low, high, plan in part_layers(part))
            assert total == pytest.approx(volume(part), rel=3e-4), part.code


def test_layers_stand_where_the_part_stands() -> None:
    """The layers of every copy reach from the floor to the top, and a leg's from mortise to mortise."""
    table = build_table(profile_from_text(shipped_text("towpath-hex"), "hex"))
    layers = [placed_layers(table.part(spot.code), spot) for spot in table.placed]
    heights = [z for stack in layers for layer in stack for z in (layer.low, layer.high)]
    assert min(heights) == 0 and max(heights) == pytest.approx(table.profile.top.height)
    leg = next(stack for stack, spot in zip(layers, table.placed, strict=True) if spot.code == "LEG")
    span = max(layer.high for layer in leg) - min(layer.low for layer in leg)
    assert span == pytest.approx(table.sizes.leg_height + 2 * table.profile.legs.tenon[2])


def block(index: int, box: tuple[float, float, float, float], low: float, high: float) -> Copy:
    """A made-up block."""
    from templategen.fit.layers import Layer

    return Copy(index, f"B{index}", "slat", (Layer(low, high, shapely.box(*box)),))


def test_a_block_is_in_the_way_only_ahead_and_at_its_height() -> None:
    """A block blocks the way towards it, not the way back, nor above it, nor past it with a rub."""
    one, ahead = block(0, (0, 0, 10, 10), 0, 5), block(1, (50, 0, 60, 10), 2, 9)
    beside, over = block(2, (0, 10, 10, 20), 0, 5), block(3, (2, 2, 8, 8), 5, 9)
    assert in_the_way(one, ahead, level(0.0), 100) and not in_the_way(one, ahead, level(3.141592653589793), 100)
    assert not in_the_way(one, beside, level(0.0), 100)
    assert not in_the_way(one, over, level(0.0), 100)
    assert in_the_way(one, over, UP, 100) and not in_the_way(one, over, DOWN, 100)
    assert not in_the_way(one, ahead, level(0.0), 30)


def test_a_thin_block_is_not_jumped_over() -> None:
    """A sweep meets a block far thinner than any step would be."""
    one, thin = block(0, (0, 0, 10, 10), 0, 5), block(1, (500, -50, 500.5, 50), 0, 5)
    assert in_the_way(one, thin, level(0.0), 1000)


def test_a_slanting_way_is_refused() -> None:
    """A way that is neither level nor upright raises."""
    one = block(0, (0, 0, 1, 1), 0, 1)
    with pytest.raises(ValueError, match="neither level nor upright"):
        in_the_way(one, one, (1.0, 0.0, 1.0), 10)
