"""Pictures of jigs put together and in use: their pieces as large as they are made, every word to be read."""

from functools import cache
from math import atan2, degrees
from typing import Any, Literal

import pytest

from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words
from templategen.drawing.jig_in_use import DRAWN, is_drawn, jig_in_use
from templategen.drawing.jig_marks import JIG, JIG_EDGE
from templategen.drawing.layers import TEXT
from templategen.drawing.legible import legible
from templategen.drawing.machine_marks import WOOD
from templategen.drawing.manner import Manner
from templategen.drawing.scribed import scribed
from templategen.drawing.tones import LEADER
from templategen.english import spoken
from templategen.geometry.outline import distance_to, rectangle
from templategen.geometry.point import Point
from templategen.jigs.fences import fingers_off
from templategen.jigs.jig import Jig, jigs_that_go
from templategen.jigs.piece import shown
from templategen.jigs.push_block import push_blocks
from templategen.packet.shipped import shipped_names
from templategen.table.assembly import Table
from templategen.work.jigs import BY
from tests.drawing.test_set_up_pictures import crossed
from tests.table.made import table_of

BOLTED: dict[str, Any] = {"legs.top_joint": "bolted", "legs.base_centre_distance": 215.0}
PEGGED: dict[str, Any] = {"legs.top_joint": "draw-bored", "top.thickness": 40.0, "legs.peg": (8.0, 1.2, 11.0)}
CHANGED = {"bolted": ("towpath-dining", BOLTED), "draw-bored": ("towpath-side", PEGGED)}
"""A leaning leg under a bolt; the narrowest block that has a draw in it."""

NAMES = (*shipped_names(), *CHANGED)


@cache
def drawn(name: str, language: Literal["british", "german"] = "british") -> tuple[Table, list[Jig]]:
    """A shipped table, or one of them changed, and its jigs that have a picture."""
    shipped, changes = CHANGED.get(name, (name, {}))
    table = table_of(changes, shipped)
    with spoken(language, ()):
        return table, [jig for jig in jigs_that_go(table, BY)[0] if is_drawn(jig)]


def test_every_kind_is_drawn() -> None:
    """Of the dining table, and of one whose legs are bolted or draw-bored."""
    codes = [jig.code for name in ("towpath-dining", *CHANGED) for jig in drawn(name)[1]]
    assert {kind for kind in DRAWN if any(code.startswith(kind) for code in codes)} == set(DRAWN)


def test_letters_of_the_draw_stand_at_their_own_edges() -> None:
    """On the block's sheet RAIL and LEG stand each on its own side of the hole, which no leader crosses."""
    (jig,) = [one for one in drawn("draw-bored")[1] if one.code == "DRAW-BLOCK"]
    (plate,) = jig.parts
    marks = scribed(jig, plate, Manner(3.5))
    at = {mark.text: mark for mark in marks if isinstance(mark, Words)}
    assert at["RAIL"].box.bottom > 4 and at["LEG"].box.top < -4
    for mark in marks:
        if isinstance(mark, Stroke) and mark.layer.name.startswith("SCRIBE"):
            assert distance_to(mark.edge, Point(0, 0)) > 4 - 1e-9


def pieces(picture: Drawing) -> list[Shape]:
    """The pieces of the jig in it."""
    return [mark for mark in picture.marks if isinstance(mark, Shape) and mark.layer == JIG]


@pytest.mark.parametrize("name", NAMES)
def test_pieces_are_as_large_as_they_are_made(name: str) -> None:
    """Each has the area and the way round of a piece of the jig; a lap's block stands on edge."""
    table, jigs = drawn(name)
    for jig in jigs:
        sizes = [(part.outline.area, part.outline.length) for part in jig.parts]
        if jig.code == "STOPS":
            sizes = [(part.size[0] * part.thickness, 2 * (part.size[0] + part.thickness)) for part in jig.parts]
        found = pieces(jig_in_use(jig, table))
        assert found, jig.code
        for shape in found:
            size = shape.outline.area, shape.outline.length
            assert any(size == pytest.approx(one, rel=1e-9) for one in sizes), (jig.code, shape.part)


@pytest.mark.parametrize("language", ["british", "german"])
@pytest.mark.parametrize("name", NAMES)
def test_no_words_lie_on_others_or_on_a_line(name: str, language: Literal["british", "german"]) -> None:
    """And each picture has some; so it is in longer words."""
    table, jigs = drawn(name, language)
    for jig in jigs:
        with spoken(language, ()):
            picture = jig_in_use(jig, table)
        assert any(isinstance(mark, Words) for mark in picture.marks), jig.code
        assert not list(crossed(picture)), jig.code


def test_words_that_find_no_room_on_what_they_name_are_led_out_of_there() -> None:
    """Short ones stay where they are, longer ones go aside on the same area, those that are too long for it stand
    beside the picture on a line from it; other words and lines keep clear of them."""
    area = rectangle(0, 0, 30, 12)
    under = (Shape(JIG, area), Shape(JIG_EDGE, area))

    def told(text: str, x: float) -> tuple[Mark, ...]:
        return legible((*under, Words(TEXT, Point(x, 5), 4, text, "middle")))[len(under) :]

    assert told("base", 15) == (Words(TEXT, Point(15, 5), 4, "base", "middle"),)
    (aside,) = told("base", 4)
    assert isinstance(aside, Words) and aside.at.y == 5 and 4 < aside.at.x < 12
    line, dot, words = told("slide at its stop", 15)
    assert isinstance(line, Stroke) and isinstance(dot, Shape) and isinstance(words, Words)
    assert area.contains(line.edge.start) and not area.contains(line.edge.end)
    assert not area.bounds.meets(words.box) and words.height == 4 and words.layer == TEXT


@pytest.mark.parametrize("name", NAMES)
def test_what_presses_down_is_drawn_where_it_is_told(name: str) -> None:
    """Beside the tall fence's end, its fingers on the piece's upper edge; nothing where no piece is let down."""
    table, jigs = drawn(name)
    for jig in (one for one in jigs if one.code == "TALL-FENCE"):
        texts = {mark.text for mark in jig_in_use(jig, table).marks if isinstance(mark, Words)}
        let_down = any("presses down" in line for line in jig.use)
        assert let_down is ("featherboard" in texts)
        assert not let_down or shown(fingers_off(table), table.profile) in texts
        assert all(f"upper edge, {shown(fingers_off(table), table.profile)}" in line
                   for line in jig.use if "presses down" in line)  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_a_segment_is_drawn_on_its_mitre(name: str) -> None:
    """Its push block's slanting end under it, as that piece is drawn; the face is led to."""
    table, jigs = drawn(name)
    for jig in (one for one in jigs if one.code == "TALL-FENCE"):
        marks = jig_in_use(jig, table).marks
        pushed = [one for one in pieces(Drawing("", marks)) if one.part == "TALL-FENCE-PUSH"]
        assert len(pushed) == any(part.cuts("spline-slot") for part in table.parts)
        own = next(part.outline for part in jig.parts if part.code == "TALL-FENCE-PUSH")
        for one in pushed:
            box = one.outline.bounds
            shifted = [(point.x - box.left, point.y - box.bottom) for point in one.outline.points]
            assert [size for spot in shifted for size in spot] == pytest.approx(
                [size for point in own.points for size in point]
            )
        assert any(isinstance(mark, Stroke) and mark.layer is LEADER for mark in marks)


@pytest.mark.parametrize("name", NAMES)
def test_blocks_in_use_are_told_as_the_list_has_them(name: str) -> None:
    """Block, piece and scrap by letters; which block, and whether it lies as drawn or turned over."""
    table, jigs = drawn(name)
    for jig in (one for one in jigs if one.code == "END-SLED"):
        texts = [mark.text for mark in jig_in_use(jig, table).marks if isinstance(mark, Words)]
        told = [text for text in texts if text.startswith("a block ")]
        assert told and texts.count("a") == texts.count("b") == len(told)
        for text in told:
            number = int(text.split()[2].strip(","))
            lean = push_blocks(table)[number - 1].lean
            assert lean == 0 or "as drawn, b" in text or "turned over, b" in text
            assert any(code in text for code in jig.serves)


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-inch", "towpath-side"])
def test_a_slat_comes_to_the_strips_stop_as_its_card_has_it(name: str) -> None:
    """The end at the stop slants as that of the slat itself does: square where its card draws it so."""
    table, jigs = drawn(name)
    for jig in (one for one in jigs if one.code.startswith("STOP-STRIP")):
        part = max(map(table.part, jig.serves), key=lambda part: part.size[0])
        (slat,) = [mark.outline for mark in jig_in_use(jig, table).marks
                   if isinstance(mark, Shape) and mark.layer == WOOD]  # fmt: skip
        slants = []
        for edge in slat.edges:
            (x, y), (far, up) = edge.start, edge.end
            if abs(up - y) > 1e-6:
                slants.append(degrees(atan2(abs(far - x), abs(up - y))))
        own = [off for edge in part.outline.edges if (off := 90 - abs(degrees(
            atan2(edge.end.y - edge.start.y, abs(edge.end.x - edge.start.x))))) < 89]  # fmt: skip
        assert sorted(slants) == pytest.approx([min(own), jig.angle]), jig.code
