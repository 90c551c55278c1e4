"""Test pieces of a crossing: trenched by the stops told for them they come out as they are drawn."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

import pytest
from shapely.affinity import translate
from shapely.geometry import Polygon, box

from templategen.drawing.drawing import Words
from templategen.fit.layers import part_layers
from templategen.geometry.placement import OVER
from templategen.jigs.end_hold import JAW
from templategen.jigs.lap_sled import lap_sled, set_back
from templategen.jigs.story_stick import story_sticks
from templategen.jigs.trial_piece import trial_laps, trial_tenon
from templategen.packet.page.jigs import _is_told, _picture, _piece, _sheet
from templategen.parts.part import Part
from templategen.parts.sides import tip_edge
from templategen.proof.bench.cuts import WORK
from templategen.proof.bench.piece import BenchPiece
from templategen.proof.bench.written import Cut, Lay
from templategen.shop.set_ups.run import set_ups
from templategen.shop.set_ups.set_up import SetUp
from tests.table.made import shaped, table_of

TOLD = re.compile(r"the stop for test pieces, [\d.]+ mm long: ([\d., ]+) mm")

ROUNDED = 0.06
"""Stops are told to a tenth of a millimetre."""


def passes(one: SetUp, code: str) -> Iterator[tuple[Cut, Lay]]:
    """Each pass over a rail's test piece, by the stop that is printed for it."""
    (told,) = (found for words in map(str, one.does) if (found := TOLD.fullmatch(words)))
    for cut in one.cuts:
        figures = {setting.name: setting.figure.value for setting in (*one.settings, *cut.settings)}
        for lay in (Lay(**asdict(lay)) for lay in cut.lays if lay.code == code):
            for stop in told[1].split(", "):
                yield (
                    Cut("lap", figures | {"passes": 1, "width": figures["cutter"], "stop": float(stop)}, (lay,)),
                    lay,
                )


def sawn(part: Part) -> BenchPiece:
    """A test piece as it comes off its strip, on the bench."""
    _, wide, thick = part.size
    piece = BenchPiece(thick, wide)
    piece.layers = [(0.0, thick, box(0, 0, part.size[0], wide))]
    return piece


def off(piece: BenchPiece, part: Part) -> float:
    """How much of a plan is other than drawn at the height where that is most, mm2."""
    corner = part.blank.bounds

    def at(layers: Any, height: float) -> Any:
        return next(shape for low, high, shape in layers if low <= height < high)

    drawn = [(low, high, translate(plan, -corner.left, -corner.bottom)) for low, high, plan in part_layers(part)]
    heights = [low + 0.01 for low, *_ in (*drawn, *piece.layers)]
    return max(at(drawn, one).symmetric_difference(at(piece.layers, one)).area for one in heights)


@pytest.mark.parametrize("rails", [2, 3])
def test_test_pieces_are_trenched_by_their_own_stops(rails: int) -> None:
    """Pass by pass as printed, each piece comes out as its sheet draws it; by a rail's stop the cutter finds no wood
    of it."""
    table = shaped(rails, 12)
    laps = [one for one in set_ups(table) if one.operation == "lap"]
    jigs = list(trial_laps(table))
    assert [jig.code for jig in jigs] == ["TEST-LAP", "TEST-BASE"]
    for part, code in ((part, code) for jig in jigs for part, code in zip(jig.parts, jig.serves, strict=True)):
        piece, made = sawn(part), 0
        for one in laps:
            for cut, lay in passes(one, code):
                assert cut.figures["stop"] < part.size[0] < one.value("stop", one.cuts[0])
                WORK["lap"](piece, cut, lay)
                made += 1
        assert made and off(piece, part) < ROUNDED * 8 * part.size[1], (code, off(piece, part))


@pytest.mark.parametrize("off", [-0.3, 0.0, 0.3])
@pytest.mark.parametrize("feet", ["relieved", "pads"])
@pytest.mark.parametrize("rails", [2, 3])
def test_rails_of_any_thickness_lie_flush(rails: int, feet: str, off: float) -> None:
    """However thick their boards came: where wood is told to stay the cutter is set by the thickness as it is, and so
    the two trenches of every pair of rails come to that thickness."""
    table = table_of({"top.rails": rails, "base.feet": feet})
    laps = [one for one in set_ups(table) if one.operation == "lap"]
    for jig in trial_laps(table):
        deep: dict[str, list[float]] = {"top": [], "bottom": []}
        for code in jig.serves:
            thick = table.part(code).thickness + off
            for one in laps:
                for cut in one.cuts:
                    stays = one.setting("stays", cut)
                    depth = thick - stays.figure.value if stays else one.value("height", cut)
                    for lay in (lay for lay in cut.lays if lay.code == code):
                        deep[lay.worked].append(depth)
        meet = zip(sorted(deep["top"]), sorted(deep["bottom"], reverse=True), strict=True)
        assert [sum(pair) for pair in meet] == pytest.approx([thick] * len(deep["top"]))


@pytest.mark.parametrize("rails", [2, 3])
def test_how_deep_a_test_piece_is_trenched_from_below_stands_under_it(rails: int) -> None:
    """It is drawn from above, so that these trenches bear no letter."""
    for jig in trial_laps(table_of({"top.rails": rails})):
        for part in jig.parts:
            caption = _picture(jig, part, "mm").caption
            below = [cut.depth for cut in part.features_on("bottom")]
            assert ("from below: " in caption) == bool(below), part.code
            assert all(f"{round(deep, 2):g} mm" in caption for deep in below), caption


@pytest.mark.parametrize("rails", [2, 3])
def test_how_deep_each_trench_of_the_bases_test_pieces_is_stands_with_them(rails: int) -> None:
    """Three are drawn, and of bands from below that aren't all as deep each bears its depth, inside it; two are
    halved like the rails', their depths from above and below in the row of each."""
    (jig,) = [one for one in trial_laps(table_of({"top.rails": rails})) if one.code == "TEST-BASE"]
    rows = [row for grid in _sheet((jig,), "mm", ()).grids for row in grid.rows]
    for part in jig.parts:
        assert _is_told(jig, part) == (rails == 3), part.code
        if rails == 2:
            (cut,) = part.features
            side = "above" if cut.face == "top" else "below"
            (row,) = [row for row in rows if row[0] == part.code]
            assert f"from {side}: {round(cut.depth, 2):g} mm deep" in row[1]
    for part in (part for one in trial_laps(table_of({"top.rails": 3})) for part in one.parts[2:]):
        words = [mark for mark in _piece(jig, part, "mm").marks if isinstance(mark, Words)]
        for lap in part.features_on("bottom"):
            inside = [one for one in words if one.text == f"{round(lap.depth, 2):g}"]
            assert any(OVER.outline(lap.outline).contains(one.box.centre) for one in inside), part.code


def test_where_the_test_mortise_begins_stands_at_its_set_up() -> None:
    """The rails' own stops lie past the test piece's far end."""
    table = shaped(3, 12)
    mortise = next(part for jig in trial_tenon(table) for part in jig.parts if part.code == "TEST-MORTISE")
    feature = mortise.features[0].outline.bounds
    told = {str(one) for set_up in set_ups(table) if set_up.operation == "mortise" for one in set_up.does}
    begins = f"{feature.left - mortise.outline.bounds.left:g} mm"
    assert any("TEST-MORTISE" in one and begins in one for one in told), told


@pytest.mark.parametrize("apart", [165.0, 225.0])
def test_the_test_tenon_is_raked_as_a_leg(apart: float) -> None:
    """A gauge that stands square by a test piece with a square end is wrong for a leg."""
    table = table_of({"legs.centre_distance": apart}, name="towpath-hex")
    (jig,) = trial_tenon(table)
    leg, test = (Polygon(part.outline.points) for part in (table.part("LEG"), jig.parts[0]))
    low, high = tip_edge(table.part("LEG").outline, "right")
    assert abs(high.x - low.x) > 2.0
    ends = [one.intersection(box(one.bounds[2] - 80, -1e3, one.bounds[2] + 1, 1e3)) for one in (leg, test)]
    own, tried = (translate(one, -one.bounds[2], -one.bounds[1]) for one in ends)
    assert own.symmetric_difference(tried).area < 0.1


def test_each_mortise_is_tried_on_a_piece_of_its_own_section() -> None:
    """What is told where the test mortise begins names the piece that the set-up's strip gives: as wide and as thick
    as the parts in hand, its mortise as far from the fence as theirs."""
    table = shaped(3, 12)
    pieces = {part.code: part for jig in trial_tenon(table) for part in jig.parts}
    named = set()
    for one in (one for one in set_ups(table) if one.operation == "mortise"):
        (code,) = {found[0] for words in one.does if (found := re.search(r"TEST-MORTISE[-A-Z]*", str(words)))}
        trial, (feature,) = pieces[code], pieces[code].features
        named.add(code)
        for part in map(table.part, one.codes):
            assert (trial.size[1], trial.thickness) == (pytest.approx(part.size[1]), part.thickness), code
        edge = feature.outline.bounds.bottom - trial.outline.bounds.bottom
        assert edge == pytest.approx(one.value("edge")), code
    assert named == {"TEST-MORTISE", "TEST-MORTISE-BASE"}


def test_holes_are_sawn_from_both_faces_and_drains_led_out() -> None:
    """No hole saw is as long as a base rail is thick, and a flat floor shuts a hole in a sole; not one that comes out
    between the feet."""
    for table, shut in ((table_of(name="towpath-hex"), True), (table_of(name="towpath-dining"), False)):
        told = {name: " ".join(str(words) for one in set_ups(table) if one.operation == name for words in one.does)
                for name in ("bore", "drain", "relief")}  # fmt: skip
        assert "from both faces" in told["bore"] and ("channel" in told["relief"]) == shut


def test_which_trial_a_test_tenon_is_cut_off_is_told_where_legs_are_raked() -> None:
    """Strips' ends are square: a raked tenon is cut off the pieces that the legs' ends were tried on."""
    raked, plumb = (table_of({"legs.centre_distance": apart}, name="towpath-hex") for apart in (165.0, 195.0))
    for table, leans in ((raked, True), (plumb, False)):
        (jig,) = trial_tenon(table)
        assert any("raked end" in one and "upper edge" in one for one in jig.use) == leans, jig.use


@pytest.mark.parametrize("rails", [2, 3])
def test_both_ends_of_a_test_piece_are_left_for_clamps(rails: int) -> None:
    """What its sheet says that no pass cuts is as long as it says, and holds a clamp as far off as the sled's sheet
    asks; without a sled nothing is said of it."""
    table = shaped(rails, 12)
    (sled,) = lap_sled(table)
    (clear,) = {float(found[1]) for one in sled.use if (found := re.search(r"at least ([\d.]+) mm clear", one))}
    for jig in trial_laps(table):
        (told,) = {float(found[1]) for one in jig.cautions if (found := re.search(r"the last ([\d.]+) mm", one))}
        assert told >= clear + JAW
        for part in jig.parts:
            for _, _, plan in part_layers(part):
                ends = box(-1e4, -1e4, part.blank.bounds.left + told, 1e4)
                assert plan.intersection(ends).area == pytest.approx(told * part.size[1])
                ends = box(part.blank.bounds.right - told, -1e4, 1e4, 1e4)
                assert plan.intersection(ends).area == pytest.approx(told * part.size[1])
    by_hand = table_of({"shop.machines": ("planer", "bandsaw")})
    assert not any("LAP-SLED" in one for jig in trial_laps(by_hand) for one in jig.cautions)


@pytest.mark.parametrize("name", ["towpath-side", "towpath-hex"])
def test_a_trench_by_hand_in_an_end_without_corners_goes_by_the_stick(name: str) -> None:
    """Rounded ends leave no corner to measure from along an edge: the lines told are the trench's sides on it."""
    table = table_of({"shop.machines": ("planer", "bandsaw")}, name)
    sticks = {code: jig for jig in story_sticks(table) for code in jig.serves}
    seen = 0
    for one in (one for one in set_ups(table) if one.operation == "lap" and one.way != "machine"):
        for lay in (lay for cut in one.cuts for lay in cut.lays):
            part, stick = table.part(lay.code), sticks[lay.code]
            face = "top" if lay.worked == "top" else "underside"
            told = [str(words) for words in one.does if re.match(f"{lay.code}(, {face})?: that end", str(words))]
            assert bool(told) == bool(set_back(part)) and all(stick.code in words for words in told)
            letters = re.findall(r"\b[s-z]\b", " ".join(told))
            ends = {"lower": part.blank.bounds.bottom, "upper": part.blank.bounds.top}
            sides = {
                end: {
                    round(-x if lap.face == "bottom" else x, 3)
                    for lap in part.cuts("lap")
                    if abs(lap.depth - one.value("height")) < 1e-6 and lap.face == lay.worked
                    for x, y in lap.outline.points if abs(y - at) < 1e-6
                }
                for end, at in ends.items()
            }  # fmt: skip
            if told and table.sizes.rails > 2:
                assert len(letters) in (2, 4)
                lines = {
                    (letter, end): round(line.edge.start.x, 3)
                    for line in stick.scribes
                    for letter in letters
                    for end in ends
                    if f"lap {letter} {end}" in line.words
                }
                on_it = {letter for (letter, end), x in lines.items() if x in sides[end]}
                assert on_it == set(letters), (lay, told, lines, sides)
            seen += bool(told)
    assert seen
