"""Sleds, wooden fences and packing: made where a set-up asks for one, as large as what is worked on them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from functools import cache
from math import cos, degrees, pi, radians, sin, sqrt, tan

import pytest
from shapely import LineString, Polygon
from shapely import Point as ShapelyPoint
from shapely import box as shapely_box

from templategen.drawing.bench_view import BenchView
from templategen.drawing.drawing import Shape, Stroke, words_of
from templategen.drawing.jig_in_use import jig_in_use
from templategen.drawing.machine_marks import BREAK, CUTTER, WASTE_EDGE
from templategen.drawing.manner import Manner
from templategen.drawing.set_up_picture import set_up_pictures
from templategen.fit.plan import plan_assembly
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point, polar
from templategen.jigs.angle_gauge import PAIR
from templategen.jigs.end_hold import CLEAR, DEEP, HAIR, JAW, LEAST, SCRAP, SHARE, Hold, held, hold, on_gauge
from templategen.jigs.fences import BLOCK, block_off, fence_face, tall_fence
from templategen.jigs.jig import Jig
from templategen.jigs.lap_sled import BEYOND, NECK, PAST, OverSled, lap_sled, set_back, shift_of
from templategen.jigs.packing import tongue_packing
from templategen.jigs.piece import shown
from templategen.jigs.push_block import end_sled, push_blocks
from templategen.jigs.sled import GRIP, PRESSES, PULL, Sled, sled, sled_of
from templategen.packet.page.jigs import _row_name
from templategen.packet.shipped import shipped_names
from templategen.parts.sides import end_edge, ends_of
from templategen.shop.set_ups.feed import is_closed
from templategen.shop.set_ups.grooves import BLOCKS
from templategen.shop.set_ups.set_up import Side
from templategen.table.assembly import Table
from templategen.table.pins import PIN_OF
from templategen.units import parse_length
from templategen.work.jigs import BY, jigs_of
from templategen.work.plan import WorkPlan, work_plan
from templategen.work.tools import tools_of
from tests.table.made import table_of

NAMES = ["towpath-dining", "towpath-hex", "towpath-inch", "towpath-side"]

HAND = 100.0
"""Width of a hand, mm."""

ASKED = {"sled": ("LAP-SLED", "END-SLED"), "tall fence": ("TALL-FENCE",), "FENCE-FACE": ("FENCE-FACE",)}
"""Words of a machine or a warning, and the jigs of which one is then named."""


@cache
def planned(name: str) -> tuple[Table, WorkPlan]:
    """A shipped table and its plan."""
    table = table_of({}, name)
    return table, work_plan(table, plan_assembly(table))


@pytest.mark.parametrize("name", NAMES)
def test_what_the_words_of_a_card_name_is_made(name: str) -> None:
    """Whatever jig is named anywhere in a plan, by a card or a jig's own sheet, is one of the plan's, and a sled that
    a card names stands among that card's."""
    table, plan = planned(name)
    every, _ = jigs_of(table, BY, [one.operation for one in plan.operations])
    codes, made = {one.code for one in every}, {one.code for one in plan.jigs.jigs}
    assert {"END-SLED", "LAP-SLED", "TALL-FENCE"} <= codes
    for told in (*(one.operation for one in plan.operations), *plan.jigs.jigs):
        named = codes & set(re.findall(r"[A-Z]+(?:-[A-Z0-9]+)+|[A-Z]{4,}", repr(told)))
        assert named <= made, (told, named - made)
    for one in plan.set_ups:
        named = codes & set(re.findall(r"[A-Z]+-SLED", repr((one.does, one.warnings))))
        assert named <= set(one.jigs), one


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex"])
def test_what_a_set_up_asks_for_is_a_jig_that_it_names(name: str) -> None:
    """And it is made in the first operation, before the one that uses it."""
    _, plan = planned(name)
    first, *rest = (one.operation for one in plan.operations)
    for one in rest:
        if not one.set_up:
            continue
        words = " ".join((one.set_up.machine, *one.set_up.warnings))
        for word, codes in ASKED.items():
            if word in words:
                assert set(codes).intersection(one.jigs, first.jigs), (one.does, word)
        for code in ("SLED", "PACK-TONGUE"):
            if any(f" {code}" in f" {told}" for told in (*one.set_up.does, *one.set_up.warnings)):
                assert code in one.jigs, (one.does, code)


@pytest.mark.parametrize("name", shipped_names())
def test_no_cutter_turns_next_to_a_bare_fence(name: str) -> None:
    """Where a rebate's far side is no further from the fence than the cutter is wide and 3 mm more, there is a wooden
    face, and what is measured from the fence is measured from it."""
    _, plan = planned(name)
    every = (one.operation for one in plan.operations)
    rebates = [one for one in every if one.set_up and one.does == "rebate" and one.set_up.way == "machine"]
    assert rebates
    for one in rebates:
        assert one.set_up
        faced = any("measured from the face" in told for told in one.set_up.warnings)
        assert faced == ("FENCE-FACE" in one.jigs)
        assert faced == (one.set_up.value("fence") - one.set_up.value("cutter") < 3), one.set_up.number


@pytest.mark.parametrize("name", shipped_names())
def test_a_sled_is_drawn_with_the_wooden_face_that_its_cutter_runs_at(name: str) -> None:
    """Between the cutter and the machine's own fence stands wood, in the picture too."""
    table, plan = planned(name)
    faced = {
        jig for one in plan.operations if "FENCE-FACE" in one.operation.jigs for jig in one.operation.jigs
    }.intersection(("LAP-SLED", "END-SLED"))
    assert faced
    for jig in (jig for jig in plan.jigs.jigs if jig.code in faced):
        told = {words.text for words in words_of(jig_in_use(jig, table).marks)}
        for_laps_alone = jig.code == "LAP-SLED" and "stand" not in told
        cards = [one for one in plan.operations if one.operation.does == "rebate" and jig.code in one.operation.jigs]
        every = all("FENCE-FACE" in one.operation.jigs for one in cards)
        name = "face" if every or jig.code == "END-SLED" else "face where its card has one"
        assert name in told or for_laps_alone, jig.code


@pytest.mark.parametrize("name", shipped_names())
def test_what_runs_along_the_wooden_face_finds_it_before_and_behind_the_cutter(name: str) -> None:
    """Blocks and piece together lie on it whole at either side."""
    table, plan = planned(name)
    (jig,) = (jig for jig in plan.jigs.jigs if jig.code == "FENCE-FACE")
    runs = [
        (one.wide + len(block.lying(one)) * block.back) / cos(one.lean)
        for block in push_blocks(table)
        for one in block.holds
    ]
    assert sizes(jig)["FENCE-FACE"][0] / 2 > max(runs)
    assert any("its middle over it" in line for line in jig.use)


def test_a_shop_without_the_machines_has_none() -> None:
    """By hand nothing slides and no fence is wooden."""
    table = table_of({"shop.machines": ()})
    plan = work_plan(table, plan_assembly(table))
    named = {jig.code for jig in plan.jigs.jigs}
    assert named.isdisjoint({"SLED", "LAP-SLED", "END-SLED", "TALL-FENCE", "FENCE-FACE"})


def sizes(jig: Jig) -> dict[str, tuple[float, float, float]]:
    """Length, width and thickness of its pieces."""
    return {part.code: part.size for part in jig.parts}


def test_the_saws_sled_takes_the_piece_and_its_stop() -> None:
    """The slat that ends at 60 degrees: base, fence and piece all lie within it."""
    table, _ = planned("towpath-dining")
    (jig,), own = sled(table), sled_of(table)
    ((angle, codes),) = own.angles
    assert degrees(angle) == pytest.approx(60) and codes == ("SLAT-07",)
    long, wide, _ = table.part("SLAT-07").size
    box, corner = own.base.bounds, own.corner
    far = corner.x - long * cos(angle), corner.y + long * sin(angle)
    assert sizes(jig)["SLED-FENCE-1"][0] > long
    assert far[0] > box.left and far[1] + wide * cos(angle) < box.top - own.bridge
    assert own.fence(angle, codes).bounds.left > box.left


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex", "towpath-inch"])
def test_the_first_cut_in_the_sled_ends_before_the_hands(name: str) -> None:
    """It is fed up the sheet, so the far bridge meets the blade first, the guard is at the maker's side, and every
    fence's line lies before the bridge that is never cut."""
    table, _ = planned(name)
    (jig,), own = sled(table), sled_of(table)
    assert own.bridge < own.corner.y < own.base.bounds.top - own.bridge
    told = next(step for step in jig.use if step.startswith("Raise the blade"))
    assert told.index("front bridge's foot") < told.index("fence's line") < told.index("never through the back")
    for size in (200.0, 250.0, 315.0 if name != "towpath-inch" else 304.8):
        # The blade is as high as told; as it leaves the piece's upper face at the line, its front is so far ahead in
        # the base's underside.
        radius, over = size / 2, own.bridge + max(part.thickness for part in own.parts)
        front = [sqrt(radius**2 - (radius - over - 3.0 + high) ** 2) for high in (0.0, over)]
        assert own.corner.y - (front[0] - front[1]) > own.bridge + 20, size


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex", "towpath-inch"])
def test_both_hands_find_room_on_the_back_bridge_where_they_are_told_to(name: str) -> None:
    """Left of the guard, for the shortest piece at the steepest angle too: to its right hardly a finger does."""
    table, _ = planned(name)
    (jig,), own = sled(table), sled_of(table)
    told = jig.cautions[0].split(";")[0]
    assert told.endswith("Both hands on the back bridge, left of the guard")
    short = min(table.parts, key=lambda part: part.size[0])
    for made in (own, Sled(table, ((radians(80), (short.code,)),))):
        left, right = made.base.bounds.left, made.base.bounds.right
        assert -left - made.wide >= 2 * HAND > right - made.wide


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex", "towpath-inch", "towpath-side"])
def test_what_holds_a_piece_down_is_listed_for_all_that_ask_for_it(name: str) -> None:
    """Cards, their jigs' sheets and cautions name hold-down clamps; two on the sled hold twice a saw's pull."""
    table, plan = planned(name)
    jigs = {jig.code: (*jig.use, *jig.cautions) for jig in plan.jigs.jigs}
    told = {one.number: " ".join((*one.cautions, *(says for code in one.jigs for says in jigs[code])))
            for one in plan.set_ups}  # fmt: skip
    asking = [number for number, says in told.items() if "hold-down" in says]
    (row,) = [one for one in tools_of(table, plan) if one.item.startswith("hold-down clamp")]
    assert _numbers(row.use) == asking and row.count == (2 if "SLED" in jigs else 1)
    assert row.item == ("hold-down clamps" if row.count > 1 else "hold-down clamp")
    assert "two hold-down clamps" in " ".join(jigs.get("SLED", ("two hold-down clamps",)))
    assert row.count * PRESSES * GRIP >= 2 * PULL or "SLED" not in jigs


def _numbers(use: str) -> list[int]:
    """The set-ups that a row of the tool list names."""
    found: list[int] = []
    for first, last in re.findall(r"(\d+)(?: to (\d+))?", use):
        found += range(int(first), int(last or first) + 1)
    return found


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex", "towpath-inch"])
def test_the_sleds_proof_is_that_of_its_cards(name: str) -> None:
    """Two ends at 60 degrees, one turned over, never lie in line: what is measured is told, as on the card, and is
    what two such strips show when they are laid so."""
    table, plan = planned(name)
    (jig,), own = sled(table), sled_of(table)
    cards = [one for one in plan.set_ups if "SLED" in one.jigs]
    assert cards and not any("in line" in told for told in jig.proof)
    for one in cards:
        (check,) = [check for check in one.proof.checks if check.wanted]
        (told,) = [told for told in jig.proof if check.measure in told]
        number = 1 + [round(degrees(angle), 3) for angle, _ in own.angles].index(round(one.value("angle"), 3))
        wanted, off = (shown(figure.figure.value, table.profile) for figure in (check.wanted, check.tolerance))
        assert f"fence {number};" in told and told.endswith(f"{wanted} (±{off}).")
        edges = [polar(300.0, turn * (pi / 2 - radians(one.value("angle")))) for turn in (1, -1)]
        far = 304.8 / 300.0 if table.profile.units == "in" else 1.0
        assert edges[0].distance(edges[1]) * far == pytest.approx(check.wanted.figure.value, abs=0.01)


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex", "towpath-inch"])
def test_a_piece_lies_on_the_sled_as_its_card_draws_it(name: str) -> None:
    """Going from the cut to the stop the piece is on the same hand of the fence, on the sled and on the card."""
    table, plan = planned(name)
    own = sled_of(table)
    lays = [lay for one in plan.set_ups if "SLED" in one.jigs for cut in one.cuts for lay in cut.lays if lay.stop_at]
    assert lays
    for one in (one for one in plan.set_ups if "SLED" in one.jigs):
        for cut in one.cuts:
            for lay in (lay for lay in cut.lays if lay.stop_at):
                view = BenchView(one, cut, lay, table.part(lay.code), frozenset(), lambda setting: setting.name)
                way = 1.0 if view.is_right(lay.stop_at) else -1.0  # the piece lies below the fence on the card
                for angle, _ in own.angles:
                    blade = Point(0.0, 1.0)
                    assert own.along(angle).cross(blade) * Point(way, 0.0).cross(Point(0.0, -1.0)) > 0


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex", "towpath-inch", "towpath-side"])
def test_fences_hold_the_stop_wherever_it_is_told(name: str) -> None:
    """The last pass of a lap sets it a trench's width back, a slanting end lies past the piece's point: the stop's
    60 mm are on the fence all the same."""
    table, plan = planned(name)
    lap, sawn = next(iter(lap_sled(table))), next(iter(sled(table)), None)
    for one in plan.set_ups:
        for cut in one.cuts:
            if one.operation == "lap" and "LAP-SLED" in one.jigs:
                told = one.value("stop", cut) + max(one.value("width", cut) - one.value("cutter", cut), 0.0)
                assert max(sizes(lap).values())[0] - BEYOND >= told + PAST
                for lay in cut.lays:
                    view = BenchView(one, cut, lay, table.part(lay.code), frozenset(), lambda setting: setting.name)
                    assert view.is_right(lay.stop_at) is not lay.swung, lay  # the long arm; turned with the gauge
            elif sawn is not None and "SLED" in one.jigs and one.setting("stop", cut):
                assert (
                    max(sizes(sawn)[code][0] for code in sizes(sawn) if "FENCE" in code)
                    >= one.value("stop", cut) + 60
                )


def test_a_lap_sled_is_higher_than_the_cut() -> None:
    table, _ = planned("towpath-dining")
    (jig,) = lap_sled(table)
    high = max(sizes(jig).values())[1]
    assert high > max(feature.depth for part in table.parts for feature in part.cuts("lap"))


def ring(points: Iterable[Point]) -> Polygon:
    """A shape of these corners."""
    return Polygon([tuple(point) for point in points])


def jaws(one: Hold, front: float) -> list[Polygon]:
    """What each jaw of the clamp presses, a tenth of a millimetre within."""
    spots = (-one.back, 0.1), (front, -0.1)
    return [
        ring(
            one.at(one.clamp + a, before + b)
            for a, b in ((-JAW / 2, 0.0), (JAW / 2, 0.0), (JAW / 2, in_), (-JAW / 2, in_))
        )
        for before, in_ in spots
    ]


@pytest.mark.parametrize("name", NAMES)
def test_every_end_that_a_block_carries_is_told_as_the_set_ups_cut_it(name: str) -> None:
    """Which is every end and face of a rebate on the sled that isn't too long for it."""
    table, plan = planned(name)
    asked = {
        (lay.code, lay.against, lay.worked)
        for one in plan.set_ups
        if one.operation == "rebate" and one.way == "machine"
        for cut in one.cuts
        for lay in cut.lays
        if not on_gauge(table.part(lay.code))
    }
    assert {(one.code, one.end, one.down) for one in held(table)} == asked
    (jig,) = end_sled(table)
    rows = {one.code: [row for row in jig.ways[1:] if one.code in spelled(row[0], table)] for one in held(table)}
    for one in held(table):
        turned = "as drawn" if degrees(one.lean) > 0.01 else "turned over" if degrees(one.lean) < -0.01 else ""
        told = [row[2 if one.edge == "high" else 3] for row in rows[one.code]]
        assert any(turned in cell for cell in told), (one.code, one.end, one.down)


def spelled(told: str, table: Table) -> list[str]:
    """The codes in a cell, those within a run, too."""
    order = [part.code for part in table.parts]
    found: list[str] = []
    for first, last in re.findall(r"([A-Z]+-\w+)(?: to ([A-Z]+-\w+))?|LEG", told):
        found += order[order.index(first) : order.index(last or first) + 1] if first else ["LEG"]
    return found


def test_a_run_of_codes_is_of_one_hand() -> None:
    """Left pieces aren't told through to right ones."""
    table, _ = planned("towpath-inch")
    (jig,) = end_sled(table)
    runs = re.findall(r"\w+-\d+(\w) to \w+-\d+(\w)", " ".join(row[0] for row in jig.ways))
    assert runs and all(first == last for first, last in runs)


@pytest.mark.parametrize("name", NAMES)
def test_a_clamp_finds_wood_square_to_its_jaws(name: str) -> None:
    """Block and piece are laid together: neither cuts into the other or past the fence, the jaws lie wholly on wood,
    off the cut, on faces square to their way; between two blocks enough of the piece lies in the grip."""
    table, _ = planned(name)
    for block in push_blocks(table):
        for one in block.holds:
            part = table.part(one.code)
            lies = block.lying(one)
            piece, blocks = ring(one.ring), [ring(each.points) for each in lies]
            deep = table.profile.legs.tenon[2] if part.kind == "leg" else table.sizes.tongue_length
            assert piece.area == pytest.approx(abs(part.blank.area))
            assert max(point.y for shape in (one.ring, *(each.points for each in lies)) for point in shape) < 1e-6
            assert all(each.intersection(piece).area < 1e-3 for each in blocks)
            assert piece.intersects(
                LineString([tuple(one.at(0.0, 0.0)), tuple(one.at(one.both[1], 0.0))]).buffer(0.01)
            )
            front = one.wide + (one.back if len(blocks) == 2 else 0.0)
            pressed = blocks[0], blocks[1] if len(blocks) == 2 else piece
            for jaw, wood in zip(jaws(one, front), pressed, strict=True):
                assert wood.buffer(1e-6).contains(jaw), (one.code, one.end, one.down)
                assert jaw.bounds[3] <= -(deep + CLEAR) + 0.2
            if len(blocks) == 2:
                assert one.scrap is not None and one.bears >= LEAST
                grip = ring(
                    one.at(a, b)
                    for a, b in (
                        (one.both[0], 0.0),
                        (one.both[1], 0.0),
                        (one.both[1], one.wide),
                        (one.both[0], one.wide),
                    )
                )
                assert piece.buffer(1e-6).contains(grip)
                scrap = ring(
                    one.at(one.scrap + a, b)
                    for a, b in ((0.0, 0.0), (SCRAP, 0.0), (SCRAP, one.wide), (0.0, one.wide))
                )
                assert not scrap.intersects(piece)
                for each in blocks:
                    assert each.buffer(0.01).intersection(scrap).length > SCRAP
                middle = (one.both[0] + one.both[1]) / 2
                share = (one.scrap + SCRAP / 2 - one.clamp) / (one.scrap + SCRAP / 2 - middle)
                assert SHARE - 1e-9 <= share < 1.0


def test_the_short_pointed_slat_goes_between_two_blocks() -> None:
    """104 mm long, of which 35 lie across from each other: no clamp reaches it off the cutter."""
    table, _ = planned("towpath-dining")
    short = [one for one in held(table) if one.code == "SLAT-01"]
    assert len(short) == 4 and all(one.scrap is not None for one in short)
    assert all(one.scrap is None for one in held(table) if one.code != "SLAT-01")
    (jig,) = end_sled(table)
    counts = {part.code: part.count for part in jig.parts}
    assert counts == {"END-SLED-1": 4, "END-SLED-2": 2}


@pytest.mark.parametrize("name", NAMES)
def test_the_edge_of_a_block_that_leads_is_the_one_told(name: str) -> None:
    """As drawn its shorter edge is ahead, at the piece, turned over the longer one, off the block's outline alone;
    where blocks are turned over one is drawn so."""
    table, _ = planned(name)
    turned = 0
    for own in push_blocks(table):
        for one in own.holds:
            edges = [(edge.start, edge.end) for edge in own.lying(one)[0].edges]
            long = sorted((a.distance(b) for a, b in edges if abs(b.minus(a).unit.dot(one.along)) > 0.9999))
            ahead = max(edges, key=lambda edge: edge[0].plus(edge[1]).dot(one.ahead))
            leads = ahead[0].distance(ahead[1])
            assert leads == pytest.approx(long[0] if one.lean >= 0 else long[-1], abs=0.01), (one.code, one.end)
            turned += one.lean < -1e-6
    (jig,) = end_sled(table)
    told = [words.text for words in words_of(jig_in_use(jig, table).marks)]
    assert any("turned over" in one for one in told) == (turned > 0), told
    assert any("as drawn its shorter one, turned over its longer" in line for line in jig.use)


@pytest.mark.parametrize("name", NAMES)
def test_leaning_ends_are_tried_on_ends_that_lean(name: str) -> None:
    """Those of the pieces on which the saw's angle was tried, which are kept for it."""
    table, plan = planned(name)
    for one in (one for one in plan.set_ups if "END-SLED" in one.jigs):
        square = any(abs(hold.lean) < 1e-6 for hold in held(table) if hold.code in one.codes)
        assert any("ends kept from the saw's trial" in told for told in map(str, one.does)) is not square
        mitres = [str(saw.proof.test_piece) for saw in plan.set_ups if saw.operation == "mitre"]
        assert square or any("STRIP-SLAT" in told and told.endswith("and kept") for told in mitres)


@pytest.mark.parametrize("name", NAMES)
def test_an_end_is_kept_at_every_angle_that_a_block_leans_at(name: str) -> None:
    """Also where the ring's mitres, which a scrap ring proves, are sawn at that angle; and the sled's table has it: a
    jaw there is clear of the cutter, and on both long edges."""
    table, plan = planned(name)
    (jig,) = end_sled(table)
    leans = {str(at): degrees(block.lean) for at, block in enumerate(push_blocks(table), 1)}
    slats = [one for one in held(table) if table.part(one.code).kind == "slat"]
    rows = {row[1]: row for row in jig.ways if "test pieces" in row[0]}
    square = any(abs(one.lean) < 1e-6 for one in slats)
    slots = [str(told) for one in plan.set_ups if one.operation == "pin slot" for told in one.does]
    assert slots and any("tongues that were tried" in told for told in slots) is not square
    if square:
        assert not rows
        return
    assert set(rows) == {
        at for at, lean in leans.items() if any(abs(abs(degrees(s.lean)) - lean) < 1e-3 for s in slats)
    }
    for at, row in rows.items():
        lean = radians(leans[at])
        kept = [
            str(saw.proof.test_piece)
            for saw in plan.set_ups
            if saw.operation == "mitre" and abs(saw.value("angle") - leans[at]) < 1e-3
        ]
        assert any("STRIP-SLAT" in told and told.endswith("and kept") for told in kept), (at, kept)
        wide = max(table.part(one.code).size[1] for one in slats)
        for told, way in zip(row[2:], ("as drawn", "turned over"), strict=True):
            assert told.startswith(way) and "scrap" not in told
            clamp = float(re.findall(r"(\d+) mm", told)[0])
            before = wide if way == "as drawn" else DEEP
            nearest = (clamp - JAW / 2) * cos(lean) - before * sin(lean)
            assert nearest >= table.sizes.tongue_length + CLEAR - 1e-6, told
            assert clamp + JAW / 2 <= PAIR["mm"] - wide * tan(lean)


def test_a_corner_off_the_block_is_cut_again_by_its_neighbour() -> None:
    """The tip with a corner of 90 degrees: of two edges that goes first whose corner behind is the other's."""
    table, _ = planned("towpath-dining")
    free = {(one.end, one.down) for one in held(table) if one.code == "SLAT-07" and one.is_free}
    assert free == {("left-1", "bottom"), ("left-2", "top"), ("right-1", "top"), ("right-2", "bottom")}
    assert all(one.is_cut_again for one in held(table) if one.is_free)
    leans = {(one.end, one.down): round(degrees(one.lean)) for one in held(table) if one.code == "SLAT-07"}
    assert leans["left-1", "bottom"] == 30 and leans["left-1", "top"] == -30 and leans["left-2", "bottom"] == -60


@pytest.mark.parametrize("name", NAMES)
def test_no_edge_leaves_a_tip_unbacked_at_a_finished_shoulder(name: str) -> None:
    """In the order of the card's lays: where the cutter comes out the long edge is at the block, or the edge that it
    comes out on is cut after it, or has no tongue and is knifed by the jig's table. Found from the outlines alone."""
    table, plan = planned(name)
    (jig,) = end_sled(table)
    orders: dict[tuple[str, Side], list[Side]] = {}
    for one in (one for one in plan.set_ups if "END-SLED" in one.jigs):
        for lay in (lay for cut in one.cuts for lay in cut.lays):
            orders.setdefault((lay.code, lay.worked), []).append(lay.against)
    for (code, down), order in orders.items():
        blank, tips = table.part(code).blank, 0
        for at, end in enumerate(order):
            corner = corner_behind(blank, end, down)
            sides = {side: end_edge(blank, side) for side in (*ends_of(blank), "low", "high")}
            near = {side: LineString([tuple(p) for p in edge]) for side, edge in sides.items() if edge}
            if min(near[side].distance(ShapelyPoint(*corner)) for side in ("low", "high")) < HAIR:
                continue
            beside = [
                side for side, line in near.items() if side != end and line.distance(ShapelyPoint(*corner)) < 1e-6
            ]
            if beside and beside[0] in order:
                tips += 1
                assert beside[0] in order[at + 1 :], (code, down, order)
            told = " ".join(" ".join(row) for row in jig.ways[1:] if code in spelled(row[0], table))
            assert not beside or ("first" if beside[0] in order else "knifed") in told
        assert (code, name) != ("SLAT-07", "towpath-dining") or tips == 2


def corner_behind(blank: Outline, end: str, down: str) -> Point:
    """The corner of an end's edge at which the cutter comes out: with the end at the fence the piece is pushed to the
    left, so that facing outwards it is the right one, where the edge starts as the outline runs; seen from below, the
    top down, it is the other."""
    edge = end_edge(blank, end)
    assert edge
    return edge[0] if down == "bottom" else edge[1]


def test_the_card_tells_the_edges_of_an_end_in_their_order() -> None:
    """Which differs by end and by face."""
    table, plan = planned("towpath-dining")
    parts = {part.code: part for part in table.parts}
    (one,) = [one for one in plan.set_ups if "END-SLED" in one.jigs]
    told = [picture.says for picture in set_up_pictures(one, (), parts, lambda setting: setting.name)]
    left, right = "edge from below of the left end", "edge from below of the right end"
    for says, (first, second) in zip(told, (("first", "second"), ("second", "first")), strict=True):
        assert f"SLAT-07: {second} {left}, then {first} {left}, {first} {right}, then {second} {right}" in says


def test_a_piece_without_two_edges_across_from_each_other_is_cut_by_hand() -> None:
    """A slat as short as its rebates are long: no block holds it."""
    table, _ = planned("towpath-dining")
    part = table.part("SLAT-01")
    assert hold(part, "left", "top", table.sizes.tongue_length) is not None
    assert hold(part, "left", "top", 30.0) is None


@pytest.mark.parametrize("name", NAMES)
def test_long_rails_and_legs_go_on_the_mitre_gauge(name: str) -> None:
    """Told so on the card, with a stand; none is led by its end and a block."""
    table, plan = planned(name)
    long = {part.code for part in table.parts if part.cuts("tongue", "tenon") and on_gauge(part)}
    assert bool(long) is (name != "towpath-side")
    assert long.isdisjoint(one.code for one in held(table))
    for one in plan.set_ups:
        if one.operation == "rebate" and long & set(one.codes):
            assert "LAP-SLED" in one.jigs and "END-SLED" not in one.jigs
            assert any("LAP-SLED" in told and "stand" in told for told in one.does)


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex"])
def test_a_swung_gauge_has_its_fence_turned(name: str) -> None:
    """Then the stop stands on the other side of the cutter; both rooms lie in the fence, apart from each other."""
    table, plan = planned(name)
    swung = [
        lay for one in plan.set_ups if "LAP-SLED" in one.jigs for cut in one.cuts for lay in cut.lays if lay.swung
    ]
    (jig,) = lap_sled(table)
    assert swung and any("its long end and the stop on that side" in told for told in jig.use)
    high = sizes(jig)["LAP-SLED-FENCE"][1]
    assert high > 2 * max(feature.depth for part in table.parts for feature in part.cuts("lap"))


@pytest.mark.parametrize("name", NAMES)
def test_what_comes_down_on_a_cutter_has_a_tall_fence(name: str) -> None:
    """Every groove and slot over a cutter names it, as a jig and in words."""
    _, plan = planned(name)
    found = [one for one in plan.set_ups if one.operation in ("groove", "spline slot") and one.way == "machine"]
    assert found
    for one in found:
        assert "TALL-FENCE" in one.jigs
        assert "tall fence" in one.machine or any("TALL-FENCE" in told for told in one.warnings)


@pytest.mark.parametrize("name", NAMES)
def test_a_block_reaches_past_its_clamp(name: str) -> None:
    """A whole jaw bears on its front, and wood is left beside it."""
    table, _ = planned(name)
    assert all(one.clamp + JAW < block.front for block in push_blocks(table) for one in block.holds)


def test_blocks_are_higher_than_the_cut_and_one_for_each_angle() -> None:
    table, _ = planned("towpath-dining")
    (jig,) = end_sled(table)
    deepest = max(f.depth for part in table.parts if part.kind == "slat" for f in part.cuts("tongue"))
    assert [round(one.value) for one in jig.figures if one.unit == "deg"] == [30, 60]
    assert all(part.count * part.thickness > deepest for part in jig.parts)


def test_a_fence_backs_two_thirds_of_what_stands_at_it() -> None:
    table, _ = planned("towpath-dining")
    (jig,) = tall_fence(table)
    standing = max(part.size[0] for part in table.parts if part.cuts("spline-slot"))
    assert standing * 2 / 3 <= sizes(jig)["TALL-FENCE-FACE"][1] <= standing * 2 / 3 + 5


@pytest.mark.parametrize("name", NAMES)
def test_what_presses_down_tips_no_piece_off_the_cutter(name: str) -> None:
    """At its front block a piece that was let down still stands under the middle of what the fingers press on; else
    the sheet tells from where on a soft push block presses before them."""
    table, plan = planned(name)
    (jig,), scale = tall_fence(table), 25.4 if table.profile.units == "in" else 1.0
    for one in (one for one in plan.set_ups if "TALL-FENCE" in one.jigs and one.operation == "groove"):
        for cut in (cut for cut in one.cuts if is_closed(cut)):
            (told,) = [line for line in jig.use if "presses down" in line]
            found = re.findall(r"([\d./-]+) (?:mm|in)\b", told)
            off, *alone = (float(sum(map(Fraction, size.split("-")))) * scale for size in found)
            for part in map(table.part, cut.codes):
                (groove,) = part.cuts("groove")
                past = (part.size[0] - part.face(groove.face).outline.bounds.width) / 2
                upper = part.size[0] - one.value("front", cut)  # behind the cutter as the piece comes to its block
                firm = upper - past - (off + upper) / 2 > 0
                assert bool(alone) != firm, (name, part.code)
                if alone:
                    upper += alone[0]
                    assert upper - past - (off + upper) / 2 > 0 and "a soft push block ahead of the cutter" in told


@pytest.mark.parametrize("name", NAMES)
def test_blocks_stand_on_the_tall_fence(name: str) -> None:
    """Its middle over the cutter, each block that a groove starts or ends at is clamped to the face."""
    table, plan = planned(name)
    (jig,) = tall_fence(table)
    told = [
        one.value(block, cut)
        for one in plan.set_ups if one.operation == "groove" and "TALL-FENCE" in one.jigs
        for cut in one.cuts for block in BLOCKS if one.setting(block, cut)
    ]  # fmt: skip
    assert sizes(jig)["TALL-FENCE-FACE"][0] / 2 >= max(told, default=0.0) + BLOCK - 1e-6
    assert max(map(block_off, table.parts)) == pytest.approx(max(told, default=0.0))


def test_sizes_that_nothing_dictates_are_read_off_a_rule() -> None:
    """In an inch profile quarters of an inch."""
    table, _ = planned("towpath-inch")
    jigs = (*lap_sled(table), *tall_fence(table), *sled(table), *fence_face(table))
    for part in (part for jig in jigs for part in jig.parts):
        for one in part.size[:2]:
            assert one / 6.35 == pytest.approx(round(one / 6.35)), (part.code, part.size)
    for one in (one for block in push_blocks(table) for one in (block.back, block.front)):
        assert one / 6.35 == pytest.approx(round(one / 6.35))


def test_packing_is_as_thick_as_the_cut_is_deep() -> None:
    table, _ = planned("towpath-dining")
    (tongues,) = tongue_packing(table)
    assert [part.thickness for part in tongues.parts] == [
        pytest.approx(table.part("SLAT-01").cuts("tongue")[0].depth)
    ]


@pytest.mark.parametrize("name", shipped_names())
def test_packing_under_a_slanting_tongue_keeps_clear_of_the_stop(name: str) -> None:
    """The tongue's tip touches the stop, no more than half a slat from the slot's middle: packing as wide as the slat
    would meet it there. It still lies under the bit and beside it."""
    table = table_of(name=name)
    (tongues,) = tongue_packing(table)
    least = min(part.size[1] for part in table.parts if part.cuts("pin-slot"))
    for part in tongues.parts:
        assert 3 * PIN_OF[table.profile.units].slot <= min(part.size[:2]) <= least / 2 + 3


@pytest.mark.parametrize("name", shipped_names())
def test_the_lap_sleds_stop_reaches_the_end_itself(name: str) -> None:
    """Rails come to it with tenons cut and corners rounded: it stands further off its fence than these are set back,
    or it would stop a shoulder."""
    table = table_of(name=name)
    for jig in lap_sled(table):
        (stop,) = [part for part in jig.parts if part.code == "LAP-SLED-STOP"]
        for rail in (part for part in table.parts if part.cuts("lap")):
            end = [p.y for p in rail.outline.points if abs(p.x - rail.outline.bounds.right) < 1e-6]
            assert stop.count * stop.thickness >= rail.blank.bounds.top - max(end) + 10, (name, rail.code)


def test_the_gauge_of_a_slanting_lap_is_set_by_a_triangle_that_its_card_names() -> None:
    """Three rails cross 30 degrees off square; two cross square, and need none."""
    table, plan = planned("towpath-dining")
    laps = [one for one in plan.set_ups if one.operation == "lap"]
    angles = {round(figure.value, 6) for jig in plan.jigs.jigs if jig.code == "SLAT-GAUGE" for figure in jig.figures}
    assert laps and all("SLAT-GAUGE" in one.jigs and round(one.value("angle"), 6) in angles for one in laps)
    (jig,) = lap_sled(table)
    assert "SLAT-GAUGE" in jig.use[0] and any(told.startswith("The machine's own fence off") for told in jig.use)
    (jig,) = lap_sled(planned("towpath-side")[0])
    assert "SLAT-GAUGE" not in " ".join(jig.use) and "square" in jig.use[0]


def test_the_sled_tells_its_runner_and_how_its_parts_stand() -> None:
    """No width of a slot is known, so it is measured; fences lie flat, bridges and guard stand on edge; coarse paper
    and a hold-down hold the piece, for the teeth pull it off its stop."""
    table, _ = planned("towpath-dining")
    (jig,) = sled(table)
    told = " ".join((*jig.use, *jig.cautions))
    for words in (
        "Measure the slot",
        "stand on edge",
        "lies flat",
        "from below, off the cut",
        "paper",
    ):
        assert words in told


def test_two_slivers_fall_off_where_a_groove_is_cut_before_the_cheek() -> None:
    """Of rails, not of legs."""
    _, plan = planned("towpath-dining")
    for one in (one for one in plan.set_ups if one.operation == "shoulder"):
        assert any("two slivers" in told for told in one.does) is one.codes[0].startswith("RAIL")


def test_packing_isn_t_made_before_there_is_wood_for_it() -> None:
    """It comes off a strip, as test pieces do; no jig is told to be taken off both ways at its ends."""
    _, plan = planned("towpath-dining")
    first = plan.operations[0].operation
    assert "PACK-TONGUE" not in first.jigs
    assert any(told.startswith("not yet") and "PACK-TONGUE" in told for told in first.tells)
    (corner,) = [jig for jig in plan.jigs.jigs if jig.code == "LEG-CORNER"]
    told = " ".join((*corner.use, *corner.cautions))
    assert ("end to end" in told) is not ("short of the ends" in told)


def test_what_no_picture_tells_of_a_piece_stands_in_its_row() -> None:
    """A block is made from its words alone: a strip, an end off square, the shorter edge's length; glued pieces and
    packing say how they are made."""
    _, plan = planned("towpath-hex")
    jigs = {jig.code: jig for jig in plan.jigs.jigs}
    for part in jigs["END-SLED"].parts:
        told = _row_name(jigs["END-SLED"], part, "mm")
        wide, angle, front = (float(one) for one in re.findall(r"[\d.]+", told)[:3])
        box, lean = part.outline.bounds, radians(angle)
        assert part.outline.area == pytest.approx(wide * (front + wide * tan(lean) / 2), rel=1e-4)
        assert box.width == pytest.approx(wide / cos(lean) + front * sin(lean), abs=0.01) and "glued" in told
    for code, piece in (("LAP-SLED", "LAP-SLED-STOP"), ("SLED", "SLED-FENCE-1"), ("PACK-TONGUE", "PACK-TONGUE")):
        (part,) = [one for one in jigs[code].parts if one.code == piece]
        assert part.notes and all(note in _row_name(jigs[code], part, "mm") for note in part.notes)


@pytest.mark.parametrize("name", ["towpath-hex", "towpath-inch"])
def test_the_sleds_picture_tells_where_cut_and_fences_lie(name: str) -> None:
    """From the base's left edge the cut and each fence's far end, from its back where fences begin and end."""
    table, plan = planned(name)
    jig, own, units = next(one for one in plan.jigs.jigs if one.code == "SLED"), sled_of(table), table.profile.units
    told = {words.text for words in words_of(jig_in_use(jig, table).marks)}
    box, manner = own.base.bounds, Manner(1.0, units=units)
    wanted = [-box.left, own.corner.y]
    for angle, codes in own.angles:
        end = own.corner.plus(own.along(angle), own.long(codes))
        wanted += [end.x - box.left, end.y]
    assert {manner.figure(one) for one in wanted} <= told


def test_nothing_holds_a_rail_nearer_to_the_cutter_than_told() -> None:
    """Clamps, screws and hands have the fence's wood there: the near end is further off than they may come."""
    _, plan = planned("towpath-hex")
    (jig,) = [one for one in plan.jigs.jigs if one.code == "LAP-SLED"]
    assert any("hands 100 mm" in step for step in jig.use)
    box = jig.parts[0].outline.bounds
    assert -box.left >= 100 + 60 and box.right >= 100 + 60


@pytest.mark.parametrize("name", shipped_names())
def test_every_cut_on_the_lap_sled_meets_fresh_wood(name: str) -> None:
    """Cut by cut as its sheet lists them, all laps and reliefs in their order: what was cut before at that edge and
    place was no higher and at the same angle; places are further apart than the cutter's room is wide, and at the
    last the fence still backs the piece past the cutter. Where one room does for all nothing is listed."""
    table, plan = planned(name)
    on_it = [one for one in plan.set_ups if one.operation in ("lap", "relief") and "LAP-SLED" in one.jigs]
    (jig,) = [one for one in plan.jigs.jigs if one.code == "LAP-SLED"]
    listed = [row for row in jig.ways[1:] if "machine's fence" not in row[-1]]
    cuts = [
        (one, swung, high)
        for one in on_it
        for swung in (False, True)
        for high in dict.fromkeys(
            one.value("height", cut) for cut in one.cuts for lay in cut.lays if lay.swung == swung
        )
    ]
    assert any("edge of the fence lies down" in told for told in jig.use) == bool(jig.ways)
    if not listed:
        heights = [high for _, _, high in cuts]
        assert heights == sorted(heights) and len({one.value("angle") for one, *_ in cuts}) == 1
        return
    assert len(listed) == len(cuts) and any("how far past the cutter" in told for told in jig.use)
    thick, layers = table.profile.jigs.thickness, jig.parts[0].count
    rooms: dict[tuple[str, float], list[tuple[float, bool, float]]] = {}
    for (one, swung, high), (pieces, height, gauge, edge, place) in zip(cuts, listed, strict=True):
        angle, at = one.value("angle"), float(place.split()[0])
        assert all(code in one.codes for code in pieces.split(", "))
        assert float(height.split()[0]) == pytest.approx(high, abs=0.01)
        assert gauge == ("swung" if swung else "as set" if angle else "square")
        before = rooms.setdefault((edge, at), [])
        assert all((a, s) == (angle, swung) and h <= high + 1e-6 for a, s, h in before), (pieces, height)
        before.append((angle, swung, high))
        wide = one.value("cutter") / cos(radians(angle)) + thick * layers * tan(radians(angle))
        assert all(abs(at - other) > wide for own, other in rooms if own == edge and other != at)
        assert at >= CLEAR + JAW


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex", "towpath-inch", "towpath-side"])
def test_every_end_on_the_lap_sled_is_backed_by_fresh_wood(name: str) -> None:
    """Tenons of long pieces are cut where the fence ends at the machine's: what was cut there before in the edge that
    lies down was no higher and at that angle, or nothing. Where every cut is so, none is listed."""
    table, plan = planned(name)
    jigs = [one for one in plan.jigs.jigs if one.code == "LAP-SLED"]
    rows = [row for jig in jigs for row in jig.ways[1:] if "machine's fence" in row[-1]]
    ends = [
        (one, high)
        for one in plan.set_ups
        if one.operation == "rebate" and "LAP-SLED" in one.jigs
        for high in dict.fromkeys(
            one.value("height", cut) for cut in one.cuts if any(on_gauge(table.part(code)) for code in cut.codes)
        )
    ]
    heights = [high for _, high in ends]
    if heights == sorted(heights) and len({one.value("angle") for one, _ in ends if one.setting("angle")}) == 0:
        assert not rows and name == "towpath-side"
        return
    if name == "towpath-inch":
        assert not rows and heights[:2] == sorted(heights[:2]) and heights[2] < heights[1]
        assert any(told.startswith("LEG on the fence's other edge") for told in jigs[0].use), (
            "one turn needs no table"
        )
        return
    assert len(rows) == len(ends)
    before: dict[str, list[tuple[float, float]]] = {}
    for (one, high), (pieces, height, gauge, edge, _) in zip(ends, rows, strict=True):
        angle = one.value("angle") if one.setting("angle") else 0.0
        assert set(pieces.split(", ")) <= set(one.codes) and gauge == ("as its card tells" if angle else "square")
        told = parse_length(height, table.profile.units)
        assert told == pytest.approx(high, abs=0.01)
        assert all(was <= told + 1e-6 and at == angle for was, at in before.get(edge, [])), pieces
        before.setdefault(edge, []).append((told, angle))


def test_an_end_sled_row_names_the_test_pieces_edge() -> None:
    """A piece kept from the trial has a sharp corner at each end, at one long edge or at both: which edge counts as
    the upper one hangs on the end at hand."""
    told = [row[0] for jig in planned("towpath-dining")[1].jigs.jigs if jig.code == "END-SLED" for row in jig.ways]
    tried = [line for line in told if "test pieces" in line]
    assert tried and all("the edge that ends in the sharp corner there as the upper one" in line for line in tried)


@pytest.mark.parametrize("name", shipped_names())
def test_a_neck_stays_between_the_rooms_of_both_edges_of_the_long_fence(name: str) -> None:
    """All listed cuts taken out of the fence's outline, those at its other edge with the fence turned over in its
    plane as the sheet tells, cutters aslant through both layers: thinned by half the neck that is told, it still is
    one piece from the short end to the stop. A clamp pulls on that end."""
    table, plan = planned(name)
    (jig,) = [one for one in plan.jigs.jigs if one.code == "LAP-SLED"]
    box, lean = jig.parts[0].outline.bounds, pi / 2 - pi / table.sizes.rails
    across = table.profile.shop.groove_cutter / cos(lean)
    ends = max(one.value("fence") for one in plan.set_ups if one.operation == "rebate")
    for through in (0.0, jig.parts[0].count * table.profile.jigs.thickness):
        left = Polygon([(point.x, point.y) for point in jig.parts[0].outline.points])
        for _, height, gauge, edge, place in jig.ways[1:]:
            past = ends if "machine's fence" in place else float(place.split()[0])
            at = box.left + past + (through * tan(lean) if gauge in ("as set", "swung") else 0.0)
            low, high = (
                (0.0, float(height.split()[0])) if edge == "1" else (box.top - float(height.split()[0]), box.top)
            )
            left = left.difference(shapely_box(at - across, low, at, high))
        neck = min(NECK, box.height)
        thinned = left.buffer(-neck / 2 + 1e-3, join_style="mitre")
        pieces = [one for one in getattr(thinned, "geoms", [thinned]) if one.bounds[2] - one.bounds[0] > 2 * neck]
        assert len(pieces) == 1, [one.bounds for one in pieces]
        assert pieces[0].bounds[0] < box.left + neck and pieces[0].bounds[2] > box.right - neck
    if jig.ways:
        assert any(f"a neck of {shown(NECK, table.profile)} or more" in told for told in jig.use)


def test_more_rooms_want_a_longer_end_past_the_cutter() -> None:
    """Ever lower cuts take fresh wood each; the last still has its clamp 100 mm off the cutter."""
    table = table_of(name="towpath-dining")
    cuts = [OverSled(("RAIL-LOW",), 40.0 - 5 * at, 60.0, False) for at in range(5)]
    (jig,) = lap_sled(table, cuts)
    places = [float(row[-1].split()[0]) for row in jig.ways[1:]]
    assert len(set(places)) == 5 and min(places) >= 100 and max(places) == -jig.parts[0].outline.bounds.left


def test_a_relief_is_cut_with_its_fence_fresh_trenches_filled_and_the_piece_turned() -> None:
    """Both feet are cut from their own end at the one stop, which turns the piece; a low cut last of all wants fresh
    wood at the fence, and trenches in its face are filled."""
    table, plan = planned("towpath-hex")
    (one,) = [one for one in plan.set_ups if one.operation == "relief"]
    told = " ".join(map(str, one.does))
    open_below = [code for code in one.codes if any(lap.face == "bottom" for lap in table.part(code).cuts("lap"))]
    assert open_below and f"{', '.join(open_below)}: first fill the trenches" in told
    assert one.value("height") == 10.0 and "heads sunk 15 mm or more" in told, "five over the cutter"
    assert "fresh wood of LAP-SLED's fence" in told and "turn the piece end for end" in told
    out = next(one for one in map(str, one.does) if "stands out" in one)
    assert float(out.split(" mm")[0].split()[-1]) >= max(map(set_back, map(table.part, one.codes))) + 10
    for cut in one.cuts:
        for code in cut.codes:
            ways = {(lay.against, lay.stop_at) for lay in cut.lays if lay.code == code}
            assert ways == {("low", "left"), ("high", "right")}


@pytest.mark.parametrize("name", shipped_names())
def test_an_end_on_the_mitre_gauge_tells_which_fence_it_comes_to(name: str) -> None:
    """The wooden face stays on the fence or goes by what the set-up says; a strip that spaces passes is neither too
    thin to reach the shoulder nor so thick that it leaves a ridge."""
    _, plan = planned(name)
    rebates = [one for one in plan.set_ups if one.operation == "rebate" and one.way == "machine"]
    for one in rebates:
        told = " ".join((*one.does, *one.warnings))
        if "on the mitre gauge with LAP-SLED" in told:
            assert ("measured from the face" in told) != ("no wooden face" in told), one.number
        for row in one.settings:
            if "one more strip" in row.says:
                assert "this thick or more, less than the cutter is wide" in row.says


@pytest.mark.parametrize("name", shipped_names())
def test_rooms_for_the_cutter_are_drawn_where_the_words_put_them(name: str) -> None:
    """Rolled over, the long end where it was, the fence's other edge lies over the cutter; shifted, both edges beside
    it: three rooms besides the one that is being cut."""
    table, _ = planned(name)
    (jig,) = lap_sled(table)
    box, cutter = jig.parts[0].outline.bounds, table.profile.shop.groove_cutter
    shapes = [one for one in jig_in_use(jig, table).marks if isinstance(one, Shape) and one.layer is WASTE_EDGE]
    rooms = [(r.bounds.left, r.bounds.bottom, r.bounds.right, r.bounds.top) for r in (one.outline for one in shapes)]
    shifted = -shift_of(table)
    assert sorted((round(right, 6), top == box.top) for _, _, right, top in rooms) == sorted(
        [(0.0, True), (round(shifted, 6), False), (round(shifted, 6), True)]
    )
    assert all(right - left == pytest.approx(cutter) for left, _, right, _ in rooms)
    assert box.left < shifted - cutter


@pytest.mark.parametrize("name", shipped_names())
def test_the_wooden_face_goes_on_beyond_the_cutter_on_the_end_sleds_picture(name: str) -> None:
    """The cutter comes in its middle: where the picture ends on the far side of it, fence and face are broken off."""
    table, plan = planned(name)
    (jig,) = (one for one in plan.jigs.jigs if one.code == "END-SLED")
    marks = jig_in_use(jig, table).marks
    broken = [one.edge for one in marks if isinstance(one, Stroke) and one.layer is BREAK]
    cutters = [one.outline.bounds for one in marks if isinstance(one, Shape) and one.layer is CUTTER]
    assert len(broken) == 2 * len(cutters)
    for cutter in cutters:
        beyond = [cutter.left - edge.end.x for edge in broken if edge.end.x < cutter.left]
        assert beyond and min(beyond) < cutter.width * 2
