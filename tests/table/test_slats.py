"""Slats: lengths, ends, hands and counts, and that they fill their fields."""

from __future__ import annotations

from collections import Counter
from itertools import combinations, pairwise
from math import atan2, cos, degrees, pi, sin, tan

import pytest
from shapely.affinity import rotate, scale
from shapely.geometry import LineString, Polygon, box
from shapely.ops import unary_union

from templategen.table.assembly import Table
from templategen.table.runs import run_on_rim
from templategen.table.seasons import board_swing
from templategen.table.slat import GRAZE, base_fields, fit_slats
from tests.table.made import RUNS, SHAPES, shaped, table_of


def field_of(table: Table, number: int, beside: float = 0.0) -> Polygon:
    """A field from its definition: the inner polygon less all rails and what is left free `beside` them, the piece
    between two arms."""
    sizes = table.sizes
    corner = sizes.inner_apothem / cos(pi / sizes.segments)
    spots = [(2 * i + 1) * pi / sizes.segments for i in range(sizes.segments)]
    inner = Polygon([(corner * cos(angle), corner * sin(angle)) for angle in spots])
    far, b = 3 * corner, table.profile.top.rail_width / 2 + beside
    rails = [rotate(box(-far, -b, far, b), i * 180 / sizes.rails, origin=(0, 0)) for i in range(sizes.rails)]
    pieces = inner.difference(unary_union(rails)).geoms
    middle = (number + 0.5) * pi / sizes.rails
    return min(pieces, key=lambda p: abs(atan2(p.centroid.y, p.centroid.x) % (2 * pi) - middle))


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("run", RUNS)
@pytest.mark.parametrize("apex", ["open", "closed"])
def test_slats_and_gaps_add_up_to_the_field(shape: tuple[int, int], run: str, apex: str) -> None:
    """Bodies and the bare strips between the bands cover a field, measured by shapely, with nothing over."""
    table = shaped(*shape, {"slats.run": run, "slats.apex": apex})
    for field in base_fields(table.sizes):
        region, slats = field_of(table, field.number), fit_slats(field, table.spacing)
        angle = slats[0].run
        far = 3 * table.sizes.radius
        bands = [
            rotate(box(-far, low, far, high), degrees(angle), origin=(0, 0)) for low, high in table.spacing.bands
        ]
        bare = region.difference(unary_union(bands)).area
        assert field.outline.area == pytest.approx(region.area, rel=1e-9)
        assert sum(slat.body.area for slat in slats) + bare == pytest.approx(region.area, rel=1e-9)
        for slat in slats:
            assert Polygon(slat.body.points).difference(region.buffer(1e-6)).area < 1e-9


@pytest.mark.parametrize("shape", SHAPES)
def test_tongues_reach_one_length_into_arms_and_rim(shape: tuple[int, int]) -> None:
    """Outlines lie in the field grown by one tongue's length, and touch its edge."""
    table = shaped(*shape)
    field, length = base_fields(table.sizes)[0], table.sizes.tongue_length
    grown = field_of(table, 0).buffer(length, join_style="mitre", mitre_limit=20)
    for slat in fit_slats(field, table.spacing):
        outline = Polygon(slat.outline.points)
        assert outline.difference(grown.buffer(1e-6)).area < 1e-6
        assert outline.exterior.distance(grown.exterior) < 1e-6


@pytest.mark.parametrize("shape", SHAPES)
def test_across_slats_grow_evenly_between_arms(shape: tuple[int, int]) -> None:
    """Between arms each is longer than the one before by 2 (w + g) tan(th / 2), its ends th / 2 off square."""
    table = shaped(*shape)
    half = pi / table.sizes.rails / 2
    slats = fit_slats(base_fields(table.sizes)[0], table.spacing)
    plain = [slat for slat in slats if {border.kind for border in slat.ends} == {"arm"}]
    assert len(plain) >= 2
    lengths = [slat.to_band.outline(slat.body).bounds.width for slat in plain]
    step = 2 * (table.spacing.width + table.spacing.gap) * tan(half)
    assert [b - a for a, b in pairwise(lengths)] == pytest.approx([step] * (len(plain) - 1))
    for slat in plain:
        flat = slat.to_band.outline(slat.body)
        slopes = [atan2(abs(e.end.x - e.start.x), abs(e.end.y - e.start.y)) for e in flat.edges]
        assert sorted(slopes)[:2] == pytest.approx([half, half])


@pytest.mark.parametrize("run", RUNS)
@pytest.mark.parametrize("shape", SHAPES)
def test_counts_add_up(shape: tuple[int, int], run: str) -> None:
    """The slats' counts are the slats of all fields, and each part is placed as often as it counts."""
    table = shaped(*shape, {"slats.run": run})
    fields = base_fields(table.sizes)
    per_turn = sum(len(fit_slats(field, table.spacing)) for field in fields)
    slats = [part for part in table.parts if part.kind == "slat"]
    assert sum(part.count for part in slats) == per_turn * table.sizes.arms // len(fields)
    placed = Counter(spot.code for spot in table.placed)
    assert {part.code: part.count for part in table.parts} == dict(placed)


def shape_of(outline: Polygon) -> Polygon:
    """A shape moved to the middle of its box."""
    left, low, right, high = outline.bounds
    return Polygon([(x - (left + right) / 2, y - (low + high) / 2) for x, y in outline.exterior.coords])


def alike(one: Polygon, other: Polygon) -> bool:
    """Whether two shapes are equal, as they are or turned half round."""
    return any(rotate(one, turn, origin=(0, 0)).symmetric_difference(other).area < 1e-3 for turn in (0, 180))


@pytest.mark.parametrize("run", RUNS)
@pytest.mark.parametrize("shape", SHAPES)
def test_hands_are_mirror_images_and_nothing_else_is_equal(shape: tuple[int, int], run: str) -> None:
    """Left and right mirror each other and never agree by turning; no two parts are one shape."""
    table = shaped(*shape, {"slats.run": run})
    slats = [part for part in table.parts if part.kind == "slat"]
    shapes = {part.code: shape_of(Polygon(part.outline.points)) for part in slats}
    for one, other in combinations(slats, 2):
        assert not alike(shapes[one.code], shapes[other.code])
        twins = one.code[:-1] == other.code[:-1] and one.handed and other.handed
        mirror = scale(shapes[one.code], -1, 1, origin=(0, 0))
        assert alike(mirror, shapes[other.code]) is bool(twins), (one.code, other.code)


def test_slats_without_chamfer_have_no_hands() -> None:
    """A slat whose faces are alike serves both ways round."""
    plain, eased = ({"slats.run": "along", "slats.chamfer": size, "edges.slat": size / 2} for size in (0.0, 2.0))
    assert not any(part.handed for part in table_of(plain).parts if part.kind == "slat")
    assert any(part.handed for part in table_of(eased).parts if part.kind == "slat")


def test_a_tongue_s_run_on_the_rim_ends_at_a_joint_where_it_reaches_it() -> None:
    """Measured by shapely along each segment's inner edge, anticlockwise from its middle; no two ends are alike."""
    sizes = (table := shaped(3, 12, {"slats.run": "straight"})).sizes
    half, far, seen = sizes.inner_length / 2, 2 * sizes.radius, set()
    for field in base_fields(sizes):
        for slat in fit_slats(field, table.spacing):
            for border in (one for one in slat.ends if one.kind == "rim"):
                turn = degrees(atan2(border.outward.y, border.outward.x))
                wedge = Polygon([(0, 0), (far, -far * tan(sizes.mitre)), (far, far * tan(sizes.mitre))])
                tongue = rotate(Polygon(slat.outline.points), -turn, origin=(0, 0))
                inside = tongue.intersection(wedge).intersection(box(border.distance, -far, far, far))
                found = run_on_rim(slat, border, sizes)
                if inside.is_empty or found is None:
                    assert found is None and inside.is_empty
                    continue
                ends = [
                    inside.distance(LineString([(0, 0), (far, side * far * tan(sizes.mitre))])) for side in (-1, 1)
                ]
                assert [found.from_joint, found.to_joint] == [end < 1e-6 for end in ends]
                assert found.start == pytest.approx(-half if found.from_joint else inside.bounds[1])
                assert found.end == pytest.approx(half if found.to_joint else inside.bounds[3])
                seen.add((found.from_joint, found.to_joint))
    assert {(False, False), (True, False), (False, True)} <= seen


@pytest.mark.parametrize("above", [1e-9, 1e-6, 1e-3, 0.9 * GRAZE])
def test_a_band_that_only_grazes_a_field_has_no_slat(above: float) -> None:
    """A straight band that reaches a hair past a field's apex makes no sliver; all other slats stay."""
    table = table_of({"slats.run": "straight", "slats.apex": "closed", "slats.hold": "gap"})
    apex, start = table.sizes.apex, table.sizes.half_rail
    bands = ((start, start + 20), (start + 25, apex + above), (apex + 6, apex + 60))
    spacing = type(table.spacing)(35.0, 6.0, bands)
    slats = fit_slats(base_fields(table.sizes)[1], spacing)
    assert [slat.band for slat in slats] == [bands[2]]


def test_a_slat_along_a_rail_has_no_tongue_there() -> None:
    """With a closed apex the first straight slat lies beside a rail: that is no joint. A shoulder's play is between
    them, and what the slat, pinned in its middle, swells to that side by the wettest of the year."""
    table = table_of({"slats.run": "straight", "slats.apex": "closed", "joints.shoulder_clearance": 0.7})
    assert all(joint.contact_mm2 > 0 for joint in table.joints)
    first = fit_slats(base_fields(table.sizes)[0], table.spacing)[0]
    swollen = board_swing(table.profile).wet * table.spacing.width / 2
    assert swollen > 0.3 and first.band[0] == pytest.approx(table.sizes.half_rail + 0.7 + swollen)
    assert 0 not in [border.index for border in first.ends if border.kind == "arm"]
