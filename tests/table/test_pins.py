"""Pins of the slats: their slots lie in the tongue and let the pin go as far as the wood moves."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, radians, sin, tan

import pytest
from shapely import Point, Polygon, box

from templategen.catalogue import figured
from templategen.fit.plan import plan_assembly
from templategen.geometry.refine import fine_polyline
from templategen.packet.page.year import HELD
from templategen.packet.shipped import shipped_names
from templategen.parts.part import Part
from templategen.parts.volume import volume
from templategen.shop.pins import BLOCK, GUIDED, SHORTER, Pins, pins_of
from templategen.shop.set_ups.run import set_ups
from templategen.shop.set_ups.words import figure
from templategen.table.assembly import Table
from templategen.table.pins import PIN_OF, ends_move, pin_from_end, pinned_ends, slot_length
from templategen.units import length_by_rule, parse_length
from templategen.work.plan import work_plan
from templategen.work.tools import tools_of
from tests.table.made import table_of

PIN, ROUND = PIN_OF["mm"].thick, PIN_OF["mm"].slot

TABLES: dict[str, dict[str, object]] = {
    "across": {"joints.groove_depth": 15.0},
    "along": {"slats.run": "along", "slats.apex": "closed", "joints.groove_depth": 16.0, "shop.sawn": "quarter"},
    "straight": {"slats.run": "straight", "shop.humidity": (48.0, 71.0), "joints.groove_depth": 17.0},
}


def slotted(table: Table) -> list[Part]:
    """The slats that have a slot."""
    return [part for part in table.parts if part.cuts("pin-slot")]


@pytest.mark.parametrize("name", TABLES)
def test_pins_find_room_in_their_slots_all_year(name: str) -> None:
    """A pin moved by what both ends move, told once more, stays in its slot or leaves by the tongue's end; the slot
    itself stays in the tongue."""
    table = table_of(TABLES[name])
    arm, rim = ends_move(table.sizes)
    assert slot_length(table.sizes) - ROUND == pytest.approx(arm + rim if name == "along" else 2 * max(arm, rim))
    assert len(slotted(table)) >= 3
    for part in slotted(table):
        assert part.body is not None
        (slot,) = part.cuts("pin-slot")
        ring = Polygon(fine_polyline(slot.outline.anticlockwise, 0.001))
        tongue = Polygon(part.outline.points).difference(Polygon(part.body.points).buffer(1e-6))
        assert ring.difference(tongue.buffer(0.01)).area < 0.01, part.code
        _, right = pinned_ends(part.body, part.outline, table.sizes.tongue_length, PIN_OF["mm"])
        at, far = right.inside(pin_from_end(table.sizes)), part.outline.bounds.right + 30
        open_slot = ring.union(box(right.middle.x, right.middle.y - ROUND / 2, far, right.middle.y + ROUND / 2))
        reach = (slot_length(table.sizes) - ROUND) / 2
        inmost = slot.outline.bounds.left + PIN / 2 + (ROUND - PIN) / 2
        for moved in (max(-reach, inmost - at.x), 0.0, reach):
            pin = Point(at.x + moved, at.y).buffer(PIN / 2)
            assert pin.difference(open_slot.buffer(0.02)).area < 0.01, (part.code, moved)


def test_a_slot_takes_its_own_wood_once() -> None:
    """A part's volume goes down by a half circle and what lies between that and the tongue's end."""
    table = table_of(TABLES["along"])
    for part in slotted(table):
        (slot,) = part.cuts("pin-slot")
        low, high, top, _ = slot.outline.vertices
        plain = ((low.x + high.x) / 2 - top.x) * ROUND + pi * ROUND**2 / 8
        assert slot.outline.area == pytest.approx(plain)
        without = Part(**{**vars(part), "features": tuple(f for f in part.features if f is not slot)})
        assert volume(without) - volume(part) == pytest.approx(plain * table.sizes.slat_groove.tongue_thickness)


def test_ends_too_narrow_take_no_pin() -> None:
    """An end needs three pins' width; a slat with one such end alone has no slot."""
    from templategen.geometry.outline import polygon

    body, outline = polygon(((10, 0), (90, 0), (90, 11), (10, 40))), polygon(((0, 0), (100, 0), (100, 11), (0, 40)))
    assert [end.way for end in pinned_ends(body, outline, 10.0, PIN_OF["mm"])] == [-1]


def test_a_slot_is_as_wide_as_a_drill_of_the_makers_measure() -> None:
    """In inches drills are sold by 32nds: the set-up and the list of tools name one bit, and the slot is so wide."""
    table = table_of(name="towpath-inch")
    plan = work_plan(table, plan_assembly(table, ("stop",)), 1)
    (one,) = (one for one in plan.set_ups if one.operation == "pin slot")
    (tool,) = (tool for tool in tools_of(table, plan) if tool.item == "bit" and str(one.number) in tool.use.split())
    told = figure(one.settings[0], "in")
    assert tool.size.startswith(f"{told} across") and one.value("width") * 32 / 25.4 == pytest.approx(8)
    for part in slotted(table):
        slot = part.cuts("pin-slot")[0].outline
        assert slot.bounds.height >= one.value("width") - 1e-6


@pytest.mark.parametrize("name", shipped_names())
def test_slots_are_bored_with_the_longer_edge_at_the_fence(name: str) -> None:
    """The tip that touches the stop lies on it then, and no slat hangs over a fence by most of its length."""
    table, seen = table_of(name=name), set[str]()
    for lay in (lay for one in set_ups(table) if one.operation == "pin slot" for cut in one.cuts for lay in cut.lays):
        box, points = table.part(lay.code).outline.bounds, table.part(lay.code).outline.points
        along = {}
        for side, height in (("low", box.bottom), ("high", box.top)):
            on_it = [point.x for point in points if abs(point.y - height) < 1e-6]
            along[side] = max(on_it) - min(on_it)
        assert along[lay.against] >= max(along.values()) - 1e-6, lay.code
        seen.add(lay.against)
    assert "high" in seen


@pytest.mark.parametrize("name", shipped_names())
def test_pins_stand_where_the_slats_line_meets_the_gauged_one(name: str) -> None:
    """Every pin's place in its tongue lies on the line along its slat and as far inside the edge of its
    rail or rim as told; carried square to a slanting shoulder from its middle the bit would meet no slot."""
    table, pins, strayed = table_of(name=name), pins_of(table_of(name=name)), []
    sizes, bored = table.sizes, 0
    for copy in table.placed:
        part = table.part(copy.code)
        if part.kind != "slat" or part.body is None:
            continue
        tongue = sizes.tongue_length
        for end in pinned_ends(part.body, part.outline, tongue, PIN_OF[table.profile.units]):
            spot, mark = end.inside(pin_from_end(sizes)), end.middle
            at, along = copy.point(spot.x, spot.y, 0), copy.point(mark.x, mark.y, 0)
            assert spot.y == mark.y
            assert min(abs(inside - told) for inside, told in _insides(table, pins, at.x, at.y)) < 0.01, part.code
            bored += 1
            reach = (along.x - at.x) ** 2 + (along.y - at.y) ** 2
            strayed.append(max(0.0, reach - pin_from_end(sizes) ** 2) ** 0.5)
    assert bored == pins.count
    assert max(strayed) > PIN_OF[table.profile.units].slot / 2
    plan = work_plan(table, plan_assembly(table), 1)
    (tried,) = (one.operation.tells for one in plan.operations if one.operation.does == "dry fit")
    assert any("along each slat's underside cut a knife line" in told for told in tried)


@pytest.mark.parametrize("name", (*shipped_names(), "wide"))
def test_a_pins_hole_keeps_off_the_eased_edge_and_in_its_tongue(name: str) -> None:
    """A millimetre of the rail's or the rim's underside lies between an eased edge and the hole, or the bit's point
    would begin on the slope; as much wood stays at the tongue's end, which comes first where there isn't both."""
    table = table_of({"edges.rail": 3.0}, "towpath-side") if name == "wide" else table_of(name=name)
    sizes, pins, edges = table.sizes, pins_of(table), table.profile.edges
    half, deep = PIN_OF[table.profile.units].thick / 2, pin_from_end(sizes)
    lands = pins.from_rail - half - edges.rail, pins.from_rim - half - edges.rim
    assert deep - half >= 1.0 - 1e-9 and (name == "wide" or min(lands) >= 1.0 - 1e-9), lands
    assert deep == pytest.approx(3.0) if name == "wide" else deep <= sizes.tongue_length / 2


@pytest.mark.parametrize("name", shipped_names())
def test_a_hole_bored_by_hand_meets_its_slot(name: str) -> None:
    """Rule, gauge and prick half a millimetre off, the block's hole two degrees out of square: the pin still slides.
    The bit reaches through block, cheek and tongue, a rule lies level, and a hole that missed is told."""
    table = table_of(name=name)
    pins, pin, units = pins_of(table), PIN_OF[table.profile.units], table.profile.units
    assert 0.5 + pins.depth * tan(radians(1)) <= pin.play / 2 + 0.1
    assert 0.0 < pins.filled < pins.depth - table.sizes.slat_groove.tongue_thickness + SHORTER
    assert pins.reach(units) == pytest.approx(pins.depth + GUIDED * pin.thick)
    told = " ".join(pins.tells(units))
    for size in (table.sizes.slat_underside, pins.from_rail, pins.from_rim, pins.depth, pins.filled):
        assert figured(length_by_rule(size, units)) in told
    assert f"as high as the block + {figured(length_by_rule(pins.depth, units))}" in told
    plan = work_plan(table, plan_assembly(table, ("stop",)), 1)
    named = {tool.item: tool for tool in tools_of(table, plan) if tool.use == "slat pins"}
    bit, dowels = named["bit"], named["a few dowels"]
    assert dowels.size.startswith(length_by_rule(pin.thick, units, 0, 32)) and "hard wood" in dowels.size
    assert "glue a hard-wood dowel" in told, "a bit goes through wood again, along no pin of steel"
    _, deep = bit.size.split(", cutting ")
    assert pins.reach(units) <= parse_length(deep.removesuffix(" deep"), "mm") <= pins.reach(units) + 2
    names = [one.operation.does for one in plan.operations]
    assert names.index("dry fit") < names.index("first finish")


@pytest.mark.parametrize("name", shipped_names())
def test_the_block_for_pins_is_held_without_a_clamp(name: str) -> None:
    """Deep inside a top that lies face down no clamp reaches under a rail: tape and a hand hold the block, that hand
    100 mm off the bit, still on the block; nothing else in its row or that list asks for a clamp there."""
    table = table_of(name=name)
    units = table.profile.units
    told = " ".join(pins_of(table).tells(units))
    long, off = BLOCK[units]
    assert long >= off + 40 and off >= 100 and "clamp" not in told
    assert (
        "taped along the rail or the rim" in told
        and f"the hand on the block {figured(length_by_rule(off, units))} off" in told
    )
    plan = work_plan(table, plan_assembly(table, ("stop",)), 1)
    assert any("double-sided tape" in tool.size for tool in tools_of(table, plan))


@pytest.mark.parametrize("name", shipped_names())
def test_a_slots_round_end_keeps_off_the_shoulder(name: str) -> None:
    """A bit half a millimetre astray bites nothing out of the shoulder's edge, which shows beside the rail; and the
    pin, as near to the shoulder as that comes to it when its play closes, still finds room."""
    table = table_of(name=name)
    pin, sizes = PIN_OF[table.profile.units], table.sizes
    for part in slotted(table):
        assert part.body is not None
        (slot,) = part.cuts("pin-slot")
        ring, body = Polygon(fine_polyline(slot.outline.anticlockwise, 0.001)), Polygon(part.body.points)
        assert ring.distance(body) >= 0.99, part.code
        _, right = pinned_ends(part.body, part.outline, sizes.tongue_length, pin)
        home = sizes.clearances.shoulder * right.longer
        at = right.inside(pin_from_end(sizes))
        assert at.x - home - pin.thick / 2 >= slot.outline.bounds.left, part.code


@pytest.mark.parametrize("name", shipped_names())
def test_a_slat_is_pinned_off_its_middle_where_an_end_has_two_edges_alone(name: str) -> None:
    """As the page on the table's year tells."""
    table, off = table_of(name=name), 0
    for part in (one for one in table.parts if one.kind == "slat"):
        body = part.body or part.outline
        for end in pinned_ends(body, part.outline, table.sizes.tongue_length, PIN_OF[table.profile.units]):
            ways = {-1: lambda rise: rise < -0.01, 1: lambda rise: rise > 0.01}
            edges = [e for e in part.outline.anticlockwise.edges if ways[end.way](e.end.y - e.start.y)]
            strays = abs(end.middle.y - part.size[1] / 2) > 0.01
            assert len(edges) > 1 or not strays, part.code
            off += strays
    assert off and "of two edges at an end is pinned off it" in HELD


def _insides(table: Table, pins: Pins, x: float, y: float) -> Iterator[tuple[float, float]]:
    """How far inside the edges of rails and rim a spot lies, square to them, and how far it is told to lie there."""
    for copy in table.placed:
        kind, turn = table.part(copy.code).kind, copy.turn
        dx, dy = x - copy.at.x, y - copy.at.y
        across, along = dy * cos(turn) - dx * sin(turn), dx * cos(turn) + dy * sin(turn)
        if kind == "rail":
            yield table.sizes.half_rail - abs(across), pins.from_rail
        elif kind == "rim-segment" and abs(along) < table.sizes.outer_length / 2:
            yield across, pins.from_rim
