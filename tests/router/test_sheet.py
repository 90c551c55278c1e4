"""Sheets as a machine cuts them: tabs reach wood on both sides and keep off joints, faces agree, order is kept."""

from __future__ import annotations

from dataclasses import replace
from math import pi
from typing import Any

import pytest
import shapely

from templategen.drawing.clamping_layers import DATUM
from templategen.drawing.drawing import Shape, Words
from templategen.drawing.manner import Manner
from templategen.drawing.routed_notes import routed_notes
from templategen.drawing.routed_sheet import ENTRY, ORDER, TABS
from templategen.drawing.stock_sheet import stock_drawing
from templategen.drawing.tidy import tidied
from templategen.errors import StockError
from templategen.geometry.outline import Outline, circle, polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.nesting.stock import Item, Piece, Sheet
from templategen.nesting.stock import Laid as LaidOnStock
from templategen.parts.face import flat_faces
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.router.bits import Bit
from templategen.router.hold import Freed, hold
from templategen.router.sheet import Laid, Machine, SheetWork, sheet_work, turned
from templategen.router.tabs import joint_lines
from templategen.table.profile.model_of_shop import Router
from tests.drawing.flat import flat
from tests.random_profiles import tables

BIT = Bit(8.0, 40.0, 3.0)
MACHINE = Machine(BIT, (BIT,), Router())
SIZE = (620.0, 310.0)


def made(code: str, outline: Outline, holes: Any = (), features: Any = ()) -> Part:
    """A piece of sheet."""
    faces = flat_faces(outline, 12.0)
    return Part(code, code.lower(), "jig", 1, "plywood", 12.0, outline, outline, features, holes, faces)


PLATE = made("PLATE", rectangle(0, 0, 300, 160), (circle(60, 80, 20), rectangle(150, 60, 220, 100)))
WEDGE = made("WEDGE", polygon(((0, 0), (120, 0), (120, 30), (0, 12))))
COIN, TINY = made("COIN", circle(0, 0, 70)), made("TINY", circle(0, 0, 15))
SCATTERED = (
    (PLATE, Placement(20, 20)), (WEDGE, Placement(560, 20, 0.0, True)),
    (COIN, Placement(420, 200)), (TINY, Placement(40, 250)),
)  # fmt: skip
CLOSE = (
    (made("LEFT", rectangle(0, 0, 180, 130)), Placement(22, 11)),
    (made("MIDDLE", polygon(((0, 0), (150, 0), (110, 130), (0, 130)))), Placement(211, 11)),
    (made("SLANTED", polygon(((0, 0), (170, 0), (170, 130), (-40, 130)))), Placement(371, 11)),
    (made("ABOVE", rectangle(0, 0, 410, 90)), Placement(60, 150)),
)
"""Parts a bit and a millimetre apart, so that passes overlap."""


def laid(parts: Any) -> list[Laid]:
    """Parts that are finished on the machine."""
    return [Laid(part.code, part, part.outline, way, True) for part, way in parts]


def drawn(parts: Any, work: SheetWork, underside: bool = False) -> Any:
    """A clamping as it is drawn."""
    items = {part.code: Item(part.code, part.outline, 1) for part, _ in parts}
    piece = Piece("ply", *SIZE, margin=5, grain=False, mode="routed")
    sheet = Sheet(piece, 1, tuple(LaidOnStock(part.code, way) for part, way in parts))
    return stock_drawing(sheet, items, "Towpath", routed=work, underside=underside)


def left_standing(parts: Any, work: SheetWork, bit: float = 8.0) -> Any:
    """What is left low down of the sheet: the disc of a bit swept along every line that goes through, lifted wherever
    it would touch a tab; the pieces that are in one with the sheet's edge."""
    wood = shapely.box(0, 0, *SIZE)
    boxes = shapely.union_all([flat(tab.box) for tab in work.held.tabs])
    for step in work.upper:
        if step.operation.task == "outside" and not step.skin:
            middle = flat(step.operation.outline).buffer(bit / 2, quad_segs=32).exterior
            walk = middle.difference(boxes.buffer(bit / 2 - 1e-6, quad_segs=32))
            wood = wood.difference(walk.buffer(bit / 2 + 0.003, quad_segs=32))
    pieces = getattr(wood, "geoms", (wood,))
    return shapely.union_all([one for one in pieces if one.distance(shapely.box(0, 0, *SIZE).boundary) < 0.1])


@pytest.mark.parametrize("parts", [SCATTERED, CLOSE])
def test_every_part_hangs_on_the_sheet_after_the_last_pass(parts: Any) -> None:
    """Cut by a disc that heeds the tabs' boxes, each part is still in one piece with the edge of the sheet."""
    work = sheet_work(laid(parts), SIZE, 12.0, MACHINE)
    firm = left_standing(parts, work)
    assert all(firm.contains(flat(one.ring).buffer(-0.1)) for one in laid(parts))
    assert set(work.skinned) == ({"TINY"} if parts is SCATTERED else set())
    shared = [tab for tab in work.held.tabs if len(tab.parts) == 2]
    assert len(work.held.tabs) >= 8 and (not shared if parts is SCATTERED else len(shared) >= 4)


def test_a_shared_tab_goes_from_part_to_part_and_no_other_pass_meets_it() -> None:
    """Both its ends lie in wood of its parts; the bit of any other part passes it by."""
    whole = laid(CLOSE)
    for tab in sheet_work(whole, SIZE, 12.0, MACHINE).held.tabs:
        box, rings = flat(tab.box), [flat(one.ring) for one in whole]
        assert all(box.intersection(rings[i]).area > 7.0 for i in tab.parts)
        assert all(box.distance(ring) >= 8.0 - 1e-6 for i, ring in enumerate(rings) if i not in tab.parts)
        assert shapely.box(0, 0, *SIZE).contains(box)


def test_parts_beside_a_skinned_one_leave_it_its_skin() -> None:
    """A disc too small for tabs amid parts that lie a bit and a millimetre away hangs on the sheet still."""
    hemmed = (
        (made("A", rectangle(0, 0, 48, 130)), Placement(22, 30)),
        (made("B", rectangle(0, 0, 60, 130)), Placement(117, 30)),
        (made("C", rectangle(0, 0, 29, 41)), Placement(79, 30)),
        (made("D", rectangle(0, 0, 29, 46)), Placement(79, 119)),
        (made("COIN", circle(0, 0, 14.4)), Placement(93.5, 95)),
    )  # fmt: skip
    work = sheet_work(laid(hemmed), SIZE, 12.0, MACHINE)
    assert "COIN" in set(work.skinned)
    firm = left_standing(hemmed, work)
    assert all(firm.contains(flat(one.ring).buffer(-0.1)) for one in laid(hemmed))


PINWHEEL = (
    (made("SOUTH", rectangle(0, 0, 150, 70)), Placement(30, 30)),
    (made("EAST", rectangle(0, 0, 70, 150)), Placement(189, 30)),
    (made("NORTH", rectangle(0, 0, 150, 70)), Placement(109, 189)),
    (made("WEST", rectangle(0, 0, 70, 150)), Placement(30, 109)),
)
"""Four parts round an island of waste, 80 mm less two passes each way."""


def pinwheel(closer: float) -> list[tuple[Part, Placement]]:
    """The same, so much nearer to each other."""
    short = rectangle(0, 0, 150 - closer, 70)
    south, north = made("SOUTH", short), made("NORTH", short)
    ways = [Placement(way.x - closer * (way.x > 100), way.y - closer * (way.y > 100)) for _, way in PINWHEEL]
    return [(part, way) for part, way in zip((south, PINWHEEL[1][0], north, PINWHEEL[3][0]), ways, strict=True)]


def test_waste_that_would_come_loose_hangs_on_tabs_or_is_told() -> None:
    """An island gets two tabs of its own, a small one too; one on which none finds room is marked as it stands."""
    for closer, bridges in ((0, 2), (42, 2), (62, 0)):
        work = sheet_work(laid(pinwheel(closer)), SIZE, 12.0, MACHINE)
        island = shapely.box(108, 108, 181 - closer, 181 - closer)
        assert sum(flat(tab.box).intersects(island) for tab in work.held.tabs) == bridges, closer
        assert len(work.held.waste) == int(not bridges), closer
    (marked,) = work.held.waste
    assert flat(marked).symmetric_difference(island).area < 2.0


def test_tabs_of_parts_that_face_each_other_stand_a_bit_apart() -> None:
    """Else the bit doesn't get between them, and the wood there is one wide tab."""
    boxes = [flat(tab.box) for tab in sheet_work(laid(CLOSE), SIZE, 12.0, MACHINE).held.tabs]
    assert all(one.distance(other) > 8.4 for i, one in enumerate(boxes) for other in boxes[:i])


def tongued(code: str, outline: Outline) -> Part:
    """A piece with a rebate all round its underside."""
    box = outline.bounds
    strips = (
        (box.left, box.bottom, box.right, box.bottom + 6), (box.left, box.top - 6, box.right, box.top),
        (box.left, box.bottom, box.left + 6, box.top), (box.right - 6, box.bottom, box.right, box.top),
    )  # fmt: skip
    over = Placement(turned_over=True)
    features = tuple(Feature("tongue", "bottom", over.outline(rectangle(*strip)), 5.0, "t") for strip in strips)
    return made(code, outline, (), features)


def test_a_part_that_nothing_would_hold_keeps_its_underside_whole() -> None:
    """Rebates all round would cut off the skin that is to hold a small part; they are left to the set-ups."""
    small = tongued("SMALL", rectangle(0, 0, 31, 24))
    work = sheet_work(laid([(small, Placement(430, 60)), SCATTERED[0]]), SIZE, 12.0, MACHINE)
    assert work.underside == () and {code for code, _ in work.unheld} == {"SMALL"} and len(work.unheld) == 4
    said = [
        mark.text
        for mark in drawn([(small, Placement(430, 60)), SCATTERED[0]], work).marks
        if isinstance(mark, Words)
    ]
    assert any("of SMALL: nothing would hold them after it" in " ".join(said) for _ in "1")


def test_a_pocket_that_runs_out_stays_on_the_sheet() -> None:
    """A part as near to the edge as its bit lets it be, open on two sides there."""
    lap = Feature("lap", "top", polygon(((0, 0), (90, 0), (70, 40), (-12, 40))), 5.0, "lap")
    part = made("EDGE", polygon(((0, 0), (150, 0), (150, 40), (-12, 40))), (), (lap,))
    work = sheet_work([Laid("EDGE", part, part.outline, Placement(23, 11), True)], SIZE, 12.0, MACHINE)
    sheet = shapely.box(1, 1, SIZE[0] - 1, SIZE[1] - 1)
    pocket = next(step for step in work.upper if step.operation.task == "pocket")
    assert sheet.covers(flat(pocket.operation.outline)) and pocket.operation.outline.bounds.bottom < 7.1


def test_no_tab_stands_where_a_mate_does() -> None:
    """Just outside each tab of a segment, rail or slat there is no part that it is joined to, in any copy's place."""
    seen = 0
    for table in list(tables(range(12)))[:5]:
        lying = {
            i: p for i, p in enumerate(table.placed) if table.part(p.code).kind in ("rim-segment", "rail", "slat")
        }
        shapes = {i: in_plan(table, placed) for i, placed in lying.items()}
        tabs = {code: tabs_alone(table.part(code)) for code in {placed.code for placed in lying.values()}}
        for joint in table.joints:
            for one, other in (joint.placed, joint.placed[::-1]):
                if one not in lying or other not in lying or joint.kind in ("half-lap", "three-way-lap"):
                    continue
                for spot in tabs[lying[one].code]:
                    at = lying[one].point(*spot, 0)
                    assert not shapes[other].contains(shapely.Point(at.x, at.y)), (lying[one].code, joint.kind)
                    seen += 1
    assert seen > 300


def tabs_alone(part: Part) -> list[tuple[float, float]]:
    """Spots 0.5 mm outside the tabs of a part on a sheet of its own."""
    ring = part.blank.anticlockwise
    sheet = rectangle(*ring.bounds.grown(40))
    held = hold([Freed(ring, tuple(joint_lines(part, ring)))], sheet, 8.0, 8.0)
    wood, found = flat(ring), []
    for tab in held.tabs:
        away = flat(tab.box).difference(wood.buffer(0.4))
        found.append(tuple(shapely.shortest_line(shapely.Point(tab.at), away).coords[1]))
    return found


def in_plan(table: Any, placed: Any) -> Any:
    """A part as it lies in the table."""
    spots = [placed.point(p.x, p.y, 0) for p in table.part(placed.code).blank.points]
    return shapely.Polygon([(p.x, p.y) for p in spots])


def two_faced(over: bool = False) -> tuple[list[Laid], Outline, Outline]:
    """A lopsided part with a lap on its top and a mortise in its underside, and these two in plan."""
    lap, mortise = rectangle(40, 30, 90, 80), rectangle(130, 20, 150, 47)
    features = (
        Feature("lap", "top", lap, 5.25, "lap"),
        Feature("mortise", "bottom", Placement(turned_over=True).outline(mortise), 7.5, "mortise"),
    )
    part = made("BOTH", polygon(((0, 0), (230, 0), (230, 90), (60, 110), (0, 110))), (), features)
    return [Laid("BOTH", part, part.outline, Placement(114, 70, 0.3, over), True)], lap, mortise


@pytest.mark.parametrize("over", [False, True])
def test_both_faces_lie_on_each_other_once_the_sheet_is_turned(over: bool) -> None:
    """Turned over about the middle line along X, what the first clamping cuts lies where the part has it."""
    lying, lap, mortise = two_faced(over)
    work = sheet_work(lying, SIZE, 12.0, MACHINE)
    (under,) = [step for step in work.underside if step.operation.task == "pocket"]
    upper = next(step for step in work.upper if step.operation.task == "pocket")
    wanted = (lap, mortise) if over else (mortise, lap)
    assert [under.operation.depth, upper.operation.depth] == ([5.25, 7.5] if over else [7.5, 5.25])
    back = polygon([(p.x, SIZE[1] - p.y) for p in under.operation.outline.points])
    for found, plan in zip((back, upper.operation.outline), wanted, strict=True):
        assert flat(found).symmetric_difference(flat(lying[0].way.outline(plan))).area < 1e-6
    assert [step.operation.task for step in work.underside] == ["pin-hole", "pin-hole", "pocket"]


def test_pins_stand_on_the_turning_line_unlike_and_clear_of_every_pass() -> None:
    """A sheet turned about its other middle line, or end for end, doesn't go on them."""
    lying, *_ = two_faced()
    work = sheet_work(lying, SIZE, 12.0, MACHINE)
    one, other = sorted(pin.bounds.centre for pin in work.pins)
    assert one.y == other.y == SIZE[1] / 2
    assert abs(one.x - (SIZE[0] - other.x)) >= 3.9
    assert all(flat(pin).distance(flat(lying[0].ring)) >= 8.0 + 3.0 - 0.01 for pin in work.pins)
    assert all(min(pin.bounds.left, SIZE[0] - pin.bounds.right) >= 2.99 for pin in work.pins)
    over = turned(SIZE[1])
    assert [over.outline(pin).bounds.centre for pin in work.pins] == [
        pytest.approx(p.bounds.centre) for p in work.pins
    ]
    drawing = drawn([(lying[0].part, lying[0].way)], work, underside=True)
    assert len([s for s in drawing.shapes if s.layer.name == "BOTTOM_PIN_HOLE_22MM"]) == 2


def test_a_sheet_without_room_for_pins_is_refused_with_what_would_do() -> None:
    """The part reaches from end to end."""
    features = (Feature("lap", "bottom", rectangle(-90, 30, -40, 80), 5.0, "lap"),)
    part = made("LONG", rectangle(0, 0, 598, 280), (), features)
    with pytest.raises(StockError, match=r"no room for two pins.*22 mm at the left end and 26 mm"):
        sheet_work([Laid("LONG", part, part.outline, Placement(11, 11), True)], SIZE, 12.0, MACHINE)


@pytest.mark.parametrize(("held_by", "tabs", "skinned"), [("skin", 0, 4), ("vacuum", 2, 1), ("screws", 8, 1)])
def test_work_is_held_as_the_profile_says(held_by: Any, tabs: int, skinned: int) -> None:
    """A skin under all; suction for what is large enough, the rest by tabs or a skin; screws besides the tabs."""
    work = sheet_work(laid(SCATTERED), SIZE, 12.0, replace(MACHINE, router=Router(held_by=held_by)))
    assert len(list(work.skinned)) == skinned and len(work.held.tabs) >= tabs
    cuts = shapely.union_all([flat(one.ring).buffer(8.0) for one in laid(SCATTERED)])
    assert (len(work.screws) >= 4) is (held_by == "screws")
    assert all(flat(screw).distance(cuts) >= 6.0 - 0.01 for screw in work.screws)


def test_inside_is_cut_before_outside_and_small_before_large() -> None:
    """The numbers count every contour once, holes first, each kind by rising area; the bit enters in the waste."""
    work = sheet_work(laid(SCATTERED), SIZE, 12.0, MACHINE)
    drawing = drawn(SCATTERED, work)
    numbers = [int(mark.text) for mark in drawing.marks if isinstance(mark, Words) and mark.layer is ORDER]
    assert numbers == [1, 2, 3, 4, 5, 6]
    tasks = [step.operation.task for step in work.upper]
    areas = [abs(step.operation.outline.area) for step in work.upper]
    assert tasks == ["inside"] * 2 + ["outside"] * 4
    assert areas[:2] == sorted(areas[:2]) and areas[2:] == sorted(areas[2:])
    kept = shapely.union_all([flat(one.ring) for one in laid(SCATTERED)])
    entries = [s.outline.bounds.centre for s in drawing.shapes if s.layer is ENTRY]
    assert len(entries) == 4
    assert all(kept.distance(shapely.Point(at)) == pytest.approx(4.0, abs=0.02) for at in entries)


def test_no_machine_follows_the_marks_and_the_zero_lies_in_the_corner() -> None:
    """Tabs, entries, order and zero are on layers that don't cut, and are still there once tidied."""
    work = sheet_work(laid(CLOSE), SIZE, 12.0, MACHINE)
    drawing = drawn(CLOSE, work)
    marks = {layer.name: layer for layer in drawing.layers}
    assert all(not marks[layer.name].cuts for layer in (TABS, ENTRY, ORDER, DATUM))
    boxes = [s for s in tidied(drawing).marks if isinstance(s, Shape) and s.layer is TABS]
    assert len(boxes) == len(work.held.tabs)
    (ring,) = [s for s in drawing.shapes if s.layer is DATUM]
    assert ring.outline.circle is not None and ring.outline.circle[0] == (0.0, 0.0)


def test_blanks_and_skins_have_layers_of_their_own() -> None:
    """THROUGH_OUTSIDE is a finished outline cut through, and nothing else."""
    lying = [*laid(SCATTERED[:3]), *(replace(one, finished=False) for one in laid(SCATTERED[3:]))]
    lying += [
        Laid("ROD", made("ROD", rectangle(0, 0, 150, 60)), rectangle(-5, -5, 155, 65), Placement(430, 80), False)
    ]
    work = sheet_work(lying, SIZE, 12.0, MACHINE)
    drawing = drawn([(one.part, one.way) for one in lying], work)
    on = {shape.part: shape.layer.name for shape in drawing.shapes if shape.part}
    assert on == {
        "PLATE": "THROUGH_OUTSIDE", "WEDGE": "THROUGH_OUTSIDE", "COIN": "THROUGH_OUTSIDE",
        "TINY": "TOP_BLANK_11_5MM", "ROD": "BLANK_OUTLINE",
    }  # fmt: skip


@pytest.mark.parametrize("blank", [True, False])
@pytest.mark.parametrize("planed", [True, False])
def test_what_comes_finished_is_told_of_others_only_beside_blanks(blank: bool, planed: bool) -> None:
    """Jigs on a sheet are no parts: no plan of work leaves out what is done to them."""
    lying = laid(SCATTERED)
    work = sheet_work([replace(lying[0], finished=not blank), *lying[1:]], SIZE, 12.0, MACHINE)
    told = [line for line in routed_notes(work, False, Manner(3.5), planed) if "come finished" in line]
    first = ("All others" if blank else "All") if planed else "Pieces"
    assert [line.startswith(f"{first} come finished: ") for line in told] == [True]
    assert all(("plan of work" in line) == planed for line in told)


def test_what_a_bit_leaves_in_a_notch_is_told() -> None:
    """A notch 6 mm wide stays full under an 8 mm bit; its corners are told as one piece of wood."""
    comb = polygon(((0, 0), (100, 0), (100, 60), (53, 60), (53, 40), (47, 40), (47, 60), (0, 60)))
    work = sheet_work([Laid("COMB", made("COMB", comb), comb, Placement(60, 60, pi / 7), True)], SIZE, 12.0, MACHINE)
    (step,) = work.upper
    left = sum(abs(one.area) for one in step.operation.left)
    assert 100.0 < left < 120.0
