"""Pictures of set-ups: what they show is where the part has it, and every word can be read."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache, partial
from itertools import combinations, pairwise
from math import atan
from typing import Literal, get_args

import pytest
from shapely.affinity import rotate, scale
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union

from templategen.drawing import machine_marks
from templategen.drawing.bench_view import BenchView, end_edge
from templategen.drawing.drawing import Drawing, Shape, Stroke, Words, words_of
from templategen.drawing.jig_marks import JIG
from templategen.drawing.layers import TEXT
from templategen.drawing.lettering import text_width
from templategen.drawing.machine_marks import CUTTER, MACHINE, PIECE_FED, WASTE, WOOD
from templategen.drawing.machine_plans import saw_off, trench
from templategen.drawing.set_up_picture import DRAWN, LINE, LONG, folded, set_up_pictures
from templategen.english import spoken
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point as Spot
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.parts.part import Part
from templategen.shop.set_ups.run import set_ups
from templategen.shop.set_ups.set_up import Lay, Operation, SetUp, Side
from templategen.shop.set_ups.words import figure, number
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from templategen.work.plan import work_plan
from tests.drawing.shipped_tables import plan_of, table_of

HAIR = 0.02
"""Figures of a set-up meet the part to this, mm."""

PLAY = 0.6
"""A lap is drawn with the play that its wood grows by, mm."""


@cache
def worked(name: str) -> tuple[Table, tuple[SetUp, ...]]:
    """A shipped table and its set-ups."""
    table = build_table(profile_from_text(shipped_text(name), name))
    return table, set_ups(table)


def views(name: str, *operations: Operation) -> Iterator[BenchView]:
    """Every lay of every cut of these operations."""
    table, ups = worked(name)
    for one in ups:
        for cut in one.cuts if one.operation in operations else ():
            for lay in cut.lays:
                yield BenchView(one, cut, lay, table.part(lay.code), frozenset(), number)


def lying(view: BenchView, x: float, y: float) -> tuple[float, float]:
    """A spot of the part as it lies: turned over about its width where its top is down, then the edge at the fence
    away from the maker."""
    x = -x if view.lay.up == "bottom" else x
    return (-x, -y) if view.lay.against == "low" else (x, y)


def test_a_raked_end_is_drawn_flat_on_the_fence_from_above() -> None:
    """The gauge's fence turns as the leg's end leans, one way for either face, and the edge along it is named."""
    table, ups = worked("towpath-hex")
    leg, rebate = table.part("LEG"), next(one for one in ups if one.operation == "rebate" and "LEG" in one.codes)
    pictures = list(set_up_pictures(rebate, ups, {"LEG": leg}, number))
    assert len(pictures) == 2
    for picture in pictures:
        over = picture.lays[0].up == "top"
        plan = min((one for one in picture.drawing.marks if isinstance(one, Shape) and one.layer is WOOD),
                   key=lambda one: one.outline.bounds.bottom).outline  # fmt: skip
        edges = [(b.x - a.x, b.y - a.y) for a, b in pairwise([*plan.points, plan.points[0]])]
        (rise,) = {round(y / x, 6) for x, y in edges if abs(x) > 1}
        ring = scale(Polygon(leg.outline.points), 1, 1 if over else -1, origin=(0, 0))
        laid = rotate(ring, atan(rise), origin=(0, 0), use_radians=True)
        tip = laid.intersection(box(laid.bounds[0] - 1, -1e4, laid.bounds[0] + 0.01, 1e4)).bounds
        assert tip[3] - tip[1] > 30  # the tenon's whole end lies flat
        at_sled = "upper edge" if over else "lower edge"
        assert any(one.text == f"LAP-SLED, {at_sled}" for one in words_of(picture.drawing.marks))
        turned = {"upper edge": "lower edge", "lower edge": "upper edge"}[at_sled]
        assert any(one.text == f"right end: {turned}" for one in words_of(picture.drawing.marks))


def test_a_channel_in_a_sole_is_drawn_from_its_hole_to_where_the_foot_ends() -> None:
    """As wide as the hole, over its middle, up to the relief's side, its depth beside it."""
    table, ups = worked("towpath-hex")
    rail, relief = table.part("BASE-LOW"), next(one for one in ups if one.operation == "relief")
    pictures = list(set_up_pictures(relief, ups, {code: table.part(code) for code in relief.codes}, number))
    assert pictures and relief.value("channel") == 5
    base = table.profile.base
    for picture in pictures:
        gone = [one.outline.bounds for one in picture.drawing.marks if isinstance(one, Shape) and one.layer is WASTE]
        wide, cut = sorted(gone, key=lambda box: -box.width)[0], min(gone, key=lambda box: box.height * box.width)
        assert cut.height == pytest.approx(base.drain_hole) and cut.centre.y == pytest.approx(wide.centre.y)
        long = base.foot_length - (rail.size[0] / 2 - table.profile.legs.base_centre_distance)
        assert cut.width == pytest.approx(long)
        assert min(abs(cut.left - wide.right), abs(cut.right - wide.left)) < 1e-6
        assert any("channel 5" in one.text for one in words_of(picture.drawing.marks))


def test_every_operation_is_drawn() -> None:
    """None is forgotten."""
    assert set(DRAWN) == set(get_args(Operation))


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-side"])
def test_the_blade_stands_on_the_edge_that_it_makes(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """With nothing left out of the picture, the blade's line runs along the finished edge of the part."""
    monkeypatch.setattr(machine_marks, "MOST", 1e9)
    seen = 0
    for view in views(name, "mitre"):
        (blade,) = (mark.edge for mark in saw_off(view) if isinstance(mark, Stroke) and mark.layer == CUTTER)
        edge = end_edge(view.part.blank, view.lay.worked)
        assert edge is not None
        way = LineString([blade.start, blade.end])
        for point in edge:
            assert way.distance(Point(lying(view, *point))) < HAIR, (view.lay, point)
        seen += 1
    assert seen > 8


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-inch", "towpath-side"])
def test_a_strip_of_stops_stands_between_the_fence_and_the_slats(name: str) -> None:
    """Where a set-up is worked along it, and nowhere else: its lower side is where the pieces lie, its left end runs
    on along the blade, since that has sawn it, and it is named."""
    plan, seen = work_plan(table_of(name), plan_of(name)), 0
    parts = {part.code: part for part in table_of(name).parts}
    for one in (one for one in plan.set_ups if one.operation in ("crosscut", "mitre")):
        strip = [code for code in one.jigs if code.startswith("STOP-STRIP")]
        for picture in set_up_pictures(one, (), parts, number, table_of(name).profile.shop.holding):
            marks = picture.drawing.marks
            shapes = [mark for mark in marks if isinstance(mark, Shape)]
            drawn = [mark.outline for mark in shapes if mark.layer is JIG]
            assert len(drawn) == len(strip)
            for code, outline in zip(strip, drawn, strict=True):
                wood = max((mark.outline for mark in shapes if mark.layer is WOOD), key=lambda ring: ring.area)
                rooms = (mark.outline.bounds for mark in shapes if mark.layer is MACHINE)
                fence = max(rooms, key=lambda room: room.width)
                (blade,) = (mark.edge for mark in marks if isinstance(mark, Stroke) and mark.layer is CUTTER)
                assert outline.bounds.bottom == pytest.approx(wood.bounds.top)
                assert outline.bounds.top == pytest.approx(fence.bottom)
                ends = sorted(outline.points)[:2]
                way = LineString([blade.start, blade.end])
                assert all(way.distance(Point(*end)) < HAIR for end in ends)
                assert [words.text for words in words_of(marks)].count(code) == 1
                seen += 1
    assert seen >= 3


def laps(part: Part, lay: Lay) -> Iterator[Polygon]:
    """The laps of the worked face, in the part's frame."""
    over = -1 if lay.worked == "bottom" else 1
    for lap in part.features_on(lay.worked):
        if lap.kind == "lap":
            yield Polygon([(over * x, y) for x, y in lap.outline.points])


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-side"])
def test_a_trench_lies_where_a_lap_does(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each trench lies within the laps of its face and fills a good part of them: it leans to the right side."""
    monkeypatch.setattr(machine_marks, "MOST", 1e9)
    for view in views(name, "lap"):
        first = next(m for m in trench(view) if isinstance(m, Shape) and m.layer == WASTE)
        band = Polygon(first.outline.points)
        meant = [Polygon([lying(view, *spot) for spot in one.exterior.coords]) for one in laps(view.part, view.lay)]
        assert band.difference(unary_union(meant).buffer(PLAY)).area < 0.02 * band.area, view.lay


@pytest.mark.parametrize("language", ["british", "german"])
@pytest.mark.parametrize("name", shipped_names())
def test_words_stand_clear(name: str, language: Literal["british", "german"]) -> None:
    """No words lie on others, and no line crosses any, in the units in which they are told, nor in longer words; off
    strips, too, and none makes a picture twice as wide."""
    with spoken(language, ()):
        table, ups = worked.__wrapped__(name)
        parts, shown_in = {part.code: part for part in table.parts}, partial(figure, units=table.profile.units)
        for place, one in enumerate(ups):
            pictures = list(set_up_pictures(one, ups[:place], parts, shown_in, table.profile.shop.holding))
            assert pictures, one.operation
            for shown in pictures:
                assert not list(crossed(shown.drawing)), shown.drawing.title
                assert max(len(words.text) for words in words_of(shown.drawing.marks)) <= LONG


def test_long_words_stand_in_two_lines_and_what_is_under_them_gives_way() -> None:
    """Each about the middle of the place; no figure leaves its unit, nothing above moves."""
    long = "85.25 mm wide, 30° against the square of the fence (gauge 60°)"
    above, told, under = (Words(TEXT, Spot(0, y), 2, text, "middle") for y, text in ((9, "a"), (5, long), (0, "b")))
    first, upper, lower, last = folded((above, told, under))
    assert isinstance(upper, Words) and isinstance(lower, Words)
    assert (first, last) == (above, under.placed(Placement(0, -2 * LINE)))
    assert f"{upper.text} {lower.text}" == long and abs(len(upper.text) - len(lower.text)) < 8
    assert (upper.at, lower.at) == (told.at, told.placed(Placement(0, -2 * LINE)).at)
    assert folded((above, under)) == (above, under)


@pytest.mark.parametrize("name", shipped_names())
def test_the_next_edge_of_an_end_is_sawn_on_a_piece_that_lacks_the_last_one(name: str) -> None:
    """What a mitre has taken off is gone in every later picture of its set-up: corners lie where the edge ends."""
    table, ups = worked(name)
    parts = {part.code: part for part in table.parts}
    for place, one in enumerate(ups):
        gone: dict[str, list[Side]] = {}
        for shown in set_up_pictures(one, ups[:place], parts, number) if one.operation == "mitre" else ():
            (first, *_), part = shown.lays, parts[shown.code]
            view = BenchView(one, one.cuts[0], first, part, frozenset(), number)
            lies = [
                lying(view, *spot) for side in gone.get(shown.code, ()) for spot in end_edge(part.blank, side) or ()
            ]
            pieces = [m for m in shown.drawing.marks if isinstance(m, Shape) and m.layer in (WOOD, WASTE)]
            spots = {round(p.y, 6) for m in pieces for p in m.outline.points}
            assert all(round(y, 6) in spots for _, y in lies), (shown.drawing.title, gone)
            gone.setdefault(shown.code, []).extend(lay.worked for lay in shown.lays if lay.code == shown.code)


def crossed(drawing: Drawing) -> Iterator[tuple[str, str]]:
    """Words that others or a line run through."""
    inks = [(mark.text, letters_of(mark)) for mark in drawing.marks if isinstance(mark, Words)]
    lines = [
        (mark.layer.name, LineString([edge.start, edge.point_at(0.5), edge.end]))
        for mark in drawing.marks
        if not mark.layer.filled
        for edge in mark.edges
        if edge.length > 0
    ]
    for (one, a), (other, b) in combinations(inks, 2):
        if a.intersection(b).area > 0:
            yield one, other
    for text, room in inks:
        yield from ((text, layer) for layer, line in lines if line.intersects(room))


def letters_of(words: Words) -> Polygon:
    """The letters of words as they are turned, a little narrower than the room they are given."""
    long = text_width(words.text, words.height) * 0.97
    left = words.at.x - long * {"start": 0.0, "middle": 0.5, "end": 1.0}[words.anchor]
    level = box(left, words.at.y, left + long, words.at.y + words.height)
    return rotate(level, words.turn, origin=tuple(words.at), use_radians=True)


@pytest.mark.parametrize("name", shipped_names())
def test_nothing_stands_beside_the_end_where_a_shoulder_falls_off(name: str) -> None:
    """The block that the end is pushed along ends before the blade, the second cut's fence is at the other edge:
    nothing of the machine touches the waste. The length lies to the left of either end, away from the column."""
    for view in views(name, "shoulder"):
        if view.set_up.way != "machine":
            continue
        shapes = [mark for mark in DRAWN["shoulder"](view) if isinstance(mark, Shape)]
        off, bar = (Polygon(next(s for s in shapes if s.layer == layer).outline.points) for layer in (WASTE, WOOD))
        beside = [Polygon(s.outline.points) for s in shapes if s.layer == MACHINE]
        assert off.centroid.x > bar.centroid.x
        assert not any(one.distance(off) < HAIR for one in beside)
        assert sum(one.distance(bar) < HAIR for one in beside) == 2


def test_a_shoulder_sawn_by_hand_lies_as_its_part_is_drawn() -> None:
    """A left end's waste is on the left: there is no column that the length must go away from."""
    text = shipped_text("towpath-side").replace("[shop]\n", "[shop]\nmachines = []\n")
    table = build_table(profile_from_text(text, "hands"))
    parts, seen = {part.code: part for part in table.parts}, set[str]()
    for one in (one for one in set_ups(table) if one.operation == "shoulder"):
        for shown in set_up_pictures(one, (), parts, number):
            shapes = [mark for mark in shown.drawing.marks if isinstance(mark, Shape)]
            off, bar = (
                Polygon(next(s for s in shapes if s.layer == layer).outline.points) for layer in (WASTE, WOOD)
            )
            end = shown.lays[0].against
            seen.add(end)
            assert (off.centroid.x < bar.centroid.x) == (end == "left")
    assert "left" in seen


def test_hand_tools_are_drawn_without_a_machine() -> None:
    """No fence, stop, table or blade; sizes, how the piece lies and angles stay. What is cut lies up."""
    text = shipped_text("towpath-side").replace("[shop]\n", "[shop]\nmachines = []\n")
    table = build_table(profile_from_text(text, "hands"))
    parts, words, layers = {part.code: part for part in table.parts}, set[str](), set[str]()
    for one in set_ups(table):
        for shown in set_up_pictures(one, (), parts, number):
            words |= {mark.text for mark in shown.drawing.marks if isinstance(mark, Words)}
            layers |= {mark.layer.name for mark in shown.drawing.marks if isinstance(mark, (Shape, Stroke))}
    assert not any(word in text.split() for text in words for word in ("fence", "table", "blade", "(gauge"))
    assert "stop" not in words
    assert not layers & {machine_marks.MACHINE.name, machine_marks.MACHINE_EDGE.name}
    assert {"22.5° off square", "top up", "60.83 mm wide", "inner edge up"} <= words
    assert not any(text.endswith(" down") for text in words)


@pytest.mark.parametrize("name", ["towpath-inch", "towpath-side"])
def test_a_groove_is_led_to_a_picture_of_its_own_shape_and_stops(name: str) -> None:
    """No rail goes by the picture of a segment, no groove that starts at the end by one that starts at a stop."""
    table, ups = worked(name)
    parts, seen = {part.code: part for part in table.parts}, 0
    for one in ups:
        for shown in set_up_pictures(one, (), parts, number) if one.operation == "groove" else ():
            stops = [[own.name for own in cut.settings] for lay in shown.lays for cut in one.cuts if lay in cut.lays]
            assert all(own == stops[0] for own in stops)
            assert len({parts[lay.code].kind for lay in shown.lays}) == 1
            seen += 1
    assert seen > 4


def test_a_router_in_the_hand_is_moved_so_that_its_bit_draws_the_guide_to_the_wood() -> None:
    """The guide's face looks at the maker, so it is moved to the right; its base stands between a block at either
    end, each as far off as the base is from the bit's side there."""
    table, ups = worked("towpath-hex")
    parts = {part.code: part for part in table.parts}
    (slot, *_) = (one for one in ups if one.operation == "spline slot" and one.way == "hand-held")
    for shown in set_up_pictures(slot, (), parts, number):
        marks, across = shown.drawing.marks, [one for one in shown.drawing.marks if isinstance(one, Stroke)]
        (feed, *_) = (one.edge for one in across if one.layer is PIECE_FED)
        assert feed.end.x > feed.start.x + 1
        bit = [one.edge.start.x for one in across if one.layer is CUTTER]
        cut = max((one.outline.bounds for one in marks if isinstance(one, Shape) and one.layer is WASTE),
                  key=lambda box: box.right - box.left)  # fmt: skip
        assert min(bit) == pytest.approx(cut.left)
        level = [one.outline.bounds for one in marks if isinstance(one, Shape) and one.layer is MACHINE]
        base = max((box for box in level if box.left < min(bit) and max(bit) < box.right), key=lambda box: box.bottom)
        left, right = sorted(
            (box.right, box.left) for box in level if abs(box.bottom - base.bottom) < 1e-6 and box != base
        )
        assert left[0] == pytest.approx(base.left)
        assert right[1] - cut.right == pytest.approx(base.right - max(bit))
        (worked_up, against) = (Spot(1, 0) if shown.lays[0].worked == "right" else Spot(-1, 0)), shown.lays[0].against
        outer = (
            next(one.at.x for one in marks if isinstance(one, Words) and one.text.startswith("far end")) < cut.left
        )
        right_hand = Spot(0, -1 if outer else 1)  # which way of the part lies to the right
        toward = right_hand.x * worked_up.y - right_hand.y * worked_up.x
        assert (toward > 0) == (against == "top"), "the guide's face is the one that is seen"


@pytest.mark.parametrize("name", ["towpath-side", "towpath-hex"])
def test_what_comes_off_a_strip_to_a_line_is_no_waste(name: str) -> None:
    """The piece lies past the blade, as long as it is apart from the next; hatched is the strip's own end alone."""
    drawn = [view for view in views(name, "mitre") if view.has("apart") and not view.lay.stop_at]
    assert drawn
    for view in drawn:
        marks = list(saw_off(view))
        strip, piece = (mark.outline.bounds for mark in marks if isinstance(mark, Shape) and mark.layer is WOOD)
        (gone,) = (mark.outline.bounds for mark in marks if isinstance(mark, Shape) and mark.layer is WASTE)
        way = 1 if view.is_right(view.lay.worked) else -1
        assert way * strip.centre.x < way * piece.centre.x < way * gone.centre.x
        told = [mark.text for mark in marks if isinstance(mark, Words)]
        assert view.figure("apart") in told and "strip, clamped" in told and "piece" in told
