"""What a shop signs by: letters at the joints, arms, fits, the scale bar; balloons and their parts list."""

from __future__ import annotations

from itertools import combinations, groupby
from math import atan2, pi

import pytest
import shapely

from templategen.drawing.drawing import Drawing, Shape, Stroke, Words, words_of
from templategen.drawing.elevation import CUT
from templategen.drawing.joint_letters import JOINT, pointed_of
from templategen.drawing.part_sheet import part_drawing
from templategen.drawing.place_in_table import in_plan
from templategen.drawing.plan import plan_drawing
from templategen.drawing.section import elevation_sheet
from templategen.drawing.title_block import Around, tolerance_lines
from templategen.drawing.unseen import foot_of
from templategen.drawing.view import named_face
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.packet.shipped import shipped_names
from templategen.parts.sides import RIM_SIDES, SIDES
from templategen.shop.gluing.marks import every_mark
from templategen.table.assembly import Table
from tests.drawing.shipped_tables import crossed, overlapping, plan_of, table_of

NAMES = shipped_names()


def around(table: Table, name: str, code: str) -> Around:
    """What the sheet of a part tells of its table."""
    part, marks = table.part(code), every_mark(table, plan_of(name)).values()
    return Around(pointed_of(table, part, marks), tuple(tolerance_lines(part, table.profile.joints, "mm")))


@pytest.mark.parametrize("name", NAMES)
def test_every_letter_stands_on_the_sheets_of_both_mates(name: str) -> None:
    """A glued joint's letter is told by both parts; the spans of copies hold it. Crosses lie on wood."""
    table = table_of(name)
    marks = every_mark(table, plan_of(name))
    told = {part.code: around(table, name, part.code).pointed for part in table.parts}
    order = [mark.letter for mark in marks.values()]
    for code, pointed in told.items():
        assert all(table.part(code).outline.contains(one.at, 0.01) for one in pointed)
        letters = {letter for one in pointed for letter in spelt_out(one.text, order)}
        wanted = {mark.letter for mark in marks.values() if code in {copy.partition(" ")[0] for copy in mark.copies}
                  and (mark.kind != "tongue-and-groove" or table.part(code).kind == "slat")}  # fmt: skip
        assert letters >= wanted and (letters == wanted or table.part(code).kind == "spline")


def spelt_out(text: str, order: list[str]) -> list[str]:
    """The letters of `joints K to Q, AB, arm 1`."""
    found: list[str] = []
    for run in text.replace("joints ", "").replace("joint ", "").split(", "):
        if not run.startswith("arm"):
            first, _, last = run.partition(" to ")
            found += order[order.index(first) : order.index(last or first) + 1]
    return found


def test_rails_tell_their_arms_as_they_lie() -> None:
    """The first rail lies on arms 1 and 4 of six, the others a sixth on each; the right end is the one outwards."""
    table = table_of("towpath-dining")
    for code, right, left in (("RAIL-LOW", 1, 4), ("RAIL-MID", 2, 5), ("BASE-HIGH", 3, 6)):
        arms = {one.text.rpartition("arm ")[2]: one.at.x for one in around(table, "towpath-dining", code).pointed
                if "arm" in one.text}  # fmt: skip
        assert set(arms) == {str(right), str(left)} and arms[str(right)] > 0 > arms[str(left)]
        placed = next(one for one in table.placed if one.code == code)
        assert placed.turn % (2 * pi) == pytest.approx((right - 1) * pi / 3)


def test_a_sheet_tells_fits_and_carries_a_bar_of_its_length() -> None:
    """A slat slides with the play that its tongue has; the bar measures 100 mm, or 4 in."""
    table = table_of("towpath-side")
    slat = next(part for part in table.parts if part.kind == "slat")
    play = next(feature.clearance for feature in slat.features if feature.clearance)
    (fits, general) = tolerance_lines(slat, table.profile.joints, "mm")
    assert fits.startswith(f"Fits, sliding: play {round(play, 2):g};") and "up to 6 ±0.1" in general
    for units, length in (("mm", 100.0), ("in", 101.6)):
        sheet = part_drawing(slat, "t", units=units, around=around(table, "towpath-side", slat.code))  # type: ignore[arg-type]
        bar = [m.edge.length for m in sheet.marks if isinstance(m, Stroke) and m.layer.name == "SIZE_CHECK"]
        assert max(bar) == pytest.approx(length)
        assert any(m.layer == JOINT for m in sheet.marks)


@pytest.mark.parametrize("name", NAMES)
def test_each_balloon_leads_to_the_part_of_its_number(name: str) -> None:
    """In the plan to a copy seen from above, in the elevation to a cut face; the list tells number and code. No line
    runs through words or crosses another balloon's."""
    table = table_of(name)
    numbers = {str(number): part.code for number, part in enumerate(table.parts, 1)}
    plan, elevation = plan_drawing(table, "r"), elevation_sheet(table, "r")
    copies = {code: [in_plan(table, one) for one in table.placed if one.code == code] for code in numbers.values()}
    faces = {code: [m.outline for m in elevation.marks if isinstance(m, Shape) and m.layer == CUT and m.part == code]
             for code in numbers.values()}  # fmt: skip
    for drawing, wood in ((plan, copies), (elevation, faces)):
        told = [m.text for m in drawing.marks if isinstance(m, Words) and m.layer.name == "ITEM_NUMBER"]
        assert all(any(text.startswith(f"{number}  {code}  ") for text in told) for number, code in numbers.items())
        ends = list(led(drawing))
        assert {number for number, _ in ends} == {n for n, code in numbers.items() if wood[code]}
        assert all(any(one.contains(at, 0.01) for one in wood[numbers[number]]) for number, at in ends)
        lines = [shapely.LineString([m.edge.start, m.edge.end]) for m in drawing.marks
                 if isinstance(m, Stroke) and m.layer.name == "ITEM_NUMBER"]  # fmt: skip
        assert not any(one.intersects(other) for one, other in combinations(lines, 2))
        assert not [*crossed(drawing.marks), *overlapping(drawing)]
    assert sum(m.text.startswith("arm ") for m in words_of(plan.marks)) == table.sizes.arms


def led(drawing: Drawing) -> list[tuple[str, Point]]:
    """Each balloon's number and where its line ends."""
    marks = [m for m in drawing.marks if m.layer.name == "ITEM_NUMBER"]
    numbers = {m.part: m.text for m in marks if isinstance(m, Words) and m.part}
    return [(numbers[m.part], m.edge.end) for m in marks if isinstance(m, Stroke)]


@pytest.mark.parametrize("name", NAMES)
def test_the_rims_rounds_are_true_arcs_in_its_section(name: str) -> None:
    """Two quarter rounds to a side, of the radius asked for; the whole face is the slice's within its chords."""
    table = table_of(name)
    cut = [m for m in elevation_sheet(table, "r").marks if isinstance(m, Shape) and m.layer == CUT]
    rims = [m.outline for m in cut if table.part(m.part).kind == "rim-segment"]
    assert len(rims) == 2
    for rim in rims:
        arcs = [edge for edge in rim.edges if hasattr(edge, "radius")]
        assert [arc.radius for arc in arcs] == pytest.approx([table.profile.top.edge_round] * 2)
        assert shapely.Polygon([edge.point_at(i / 30) for edge in rim.edges for i in range(30)]).is_valid


@pytest.mark.parametrize("name", shipped_names())
def test_edges_are_called_as_set_ups_call_them(name: str) -> None:
    """The view of an edge or an end has the name that cards and labels use beside its own, of the side it lies on."""
    seen = 0
    for part in table_of(name).parts:
        box, sides = part.outline.bounds, RIM_SIDES if part.kind == "rim-segment" else SIDES
        for face in part.worked_faces:
            if face.name in ("top", "bottom"):
                continue
            foot = foot_of(face).bounds.centre
            far = {
                "low": abs(foot.y - box.bottom), "high": abs(foot.y - box.top),
                "left": abs(foot.x - box.left), "right": abs(foot.x - box.right),
            }  # fmt: skip
            pair = ("low", "high") if face.name.startswith("edge") else ("left", "right")
            nearer = min(pair, key=lambda side: far[side])
            assert named_face(part, face) == f"{face.name.replace('-', ' ')} ({sides[nearer]})"
            seen += 1
    assert seen > 3


@pytest.mark.parametrize("name", NAMES)
def test_a_slats_letters_stand_field_by_field_at_both_its_ends(name: str) -> None:
    """The plan says so at the dry fit: of the list in the packet nothing is wanted. Field by field from arm 1
    anticlockwise, the left end's and the right end's letter are those of one copy."""
    table = table_of(name)
    mates = {mark.letter: mark.copies for mark in every_mark(table, plan_of(name)).values()}
    for code in (part.code for part in table.parts if part.kind == "slat"):
        copies = [placed for placed in table.placed if placed.code == code]
        spots = (Placement(one.at.x, one.at.y, one.turn, one.turned_over) for one in copies)
        middles = [spot.point(table.part(code).outline.bounds.centre) for spot in spots]
        turns = [atan2(at.y, at.x) % (2 * pi) for at in middles]
        assert turns == sorted(turns)
        numbers = [str(number) for number in range(1, len(copies) + 1)] if len(copies) > 1 else [code]
        for one in around(table, name, code).pointed:
            letters = one.text.replace("joints ", "").replace("joint ", "").split(", ")
            own = [next(copy for copy in mates[letter] if copy.startswith(code)) for letter in letters]
            assert [copy.rpartition(" ")[2] for copy, _ in groupby(own)] == numbers, (code, one.text)
