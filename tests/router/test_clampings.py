"""Files for the router, cut once more: no wood left but what is told, none missing, both faces agreed."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from itertools import pairwise

import pytest

from templategen.errors import GeometryError
from templategen.packet.router_files import clamping_files
from templategen.packet.shipped import shipped_names
from templategen.parts.part import Part
from templategen.router.clamping import clampings
from templategen.router.findings import reach_findings
from templategen.table.assembly import Table
from tests.random_profiles import tables
from tests.router.cut import files_of, said_of, with_bit, wrong_in
from tests.table.made import table_of

CHOSEN = {"towpath-dining": ("RAIL-HIGH",), "towpath-hex": ("SLAT-01L", "SLAT-03", "LEG")}
"""Laps in two depths, hooked shoulders, tenons smaller than their bars, slanting ends of both hands."""


@cache
def shop(name: str, bit: float, longer: float | None = None) -> Table:
    """A shipped table for a shop with one long bit."""
    return with_bit(table_of(name=name), bit, longer)


@pytest.mark.parametrize("bit", [6.0, 8.0, 12.0])
@pytest.mark.parametrize("name", CHOSEN)
def test_what_is_cut_is_the_part(name: str, bit: float) -> None:
    """Lopsided parts of two tables, both faces, with three bits."""
    table = shop(name, bit)
    for code in CHOSEN[name]:
        files = files_of(table.part(code), table.profile)
        assert files and said_of(table.part(code), files) == []


def test_a_hole_too_small_for_the_bit_is_bored_by_hand() -> None:
    """A drain of 10 mm and a bit of 12: marked and told; were it not, it would be wood that is left."""
    table = shop("towpath-dining", 12.0)
    part = table.part("BASE-MID")
    files = files_of(part, table.profile)
    (path,) = [path for path, data in files.items() if b"_OUTSIDE_" in data]
    assert said_of(part, files) == [] and b"too small for any bit: bored by hand" in files[path]
    said = fails(part, files, path, lambda data: without(data, "BORED_HOLE"))
    assert any("leaves wood 10.00 x 10.00" in one and "of a hole" in one for one in said), said


@pytest.mark.slow
@pytest.mark.parametrize("bit", [6.0, 8.0, 12.0])
@pytest.mark.parametrize("name", shipped_names())
def test_every_part_of_the_shipped_tables_is_cut_true(name: str, bit: float) -> None:
    """With waste for pins and without."""
    assert wrong_in(shop(name, bit)) == []
    assert wrong_in(shop(name, bit, 80.0)) == []


@pytest.mark.slow
def test_random_tables_are_cut_true() -> None:
    """Two hundred, each with one of three bits, every third with waste for pins."""
    made = 0
    for number, table in enumerate(tables(range(260))):
        wrong = wrong_in(with_bit(table, (6.0, 8.0, 12.0)[number % 3], (None, 80.0)[number % 2]))
        assert wrong == [], (table.profile.title, wrong)
        made += 1
    assert made >= 200


@pytest.mark.parametrize("version", ["R12", "R2000", "R2010", "R2018"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_version_and_unit_is_cut_alike(version: str, units: str) -> None:
    """Pins in the waste; depths and bits are told in the file's unit."""
    table = shop("towpath-side", 8.0, 80.0).with_(dxf_version=version, dxf_units=units)
    part = table.part("RAIL-HIGH")
    files = files_of(part, table.profile)
    assert len(files) == 2 and said_of(part, files) == []
    told = units.upper().encode()
    assert all(re.search(rb"\n(?:TOP|BOTTOM)_TENON_[\d_]+" + told + rb"\r?\n", data) for data in files.values())


@pytest.mark.parametrize("kind", ["corner", "edge"])
def test_corners_are_relieved_where_the_profile_asks(kind: str) -> None:
    """Then nothing is squared by hand, and a relief that stands elsewhere is found."""
    table = shop("towpath-side", 8.0).with_(dxf_corner_relief=kind)
    part = table.part("RAIL-HIGH")
    files = files_of(part, table.profile)
    assert said_of(part, files) == [] and not any(b"_BY_HAND_" in data for data in files.values())
    path = next(path for path, data in files.items() if b"_CORNER_RELIEF_" in data)
    relief = layer_like(files[path], r"\w+_CORNER_RELIEF_\w+")
    assert any("at no corner" in one for one in fails(part, files, path, lambda data: moved(data, relief, 3.0)))


def rail(longer: float | None = None) -> tuple[Part, dict[str, bytes]]:
    """A rail with work on both faces, and its files."""
    table = shop("towpath-side", 8.0, longer)
    return table.part("RAIL-HIGH"), files_of(table.part("RAIL-HIGH"), table.profile)


def entity(data: str, layer: str) -> tuple[int, int]:
    """From where to where in the lines of a DXF the first entity on a layer stands."""
    lines = data.split("\n")
    start = lines.index("ENTITIES")
    kinds = [i for i in range(start, len(lines) - 1) if lines[i].strip() == "0"]
    for first, last in pairwise(kinds):
        if any(lines[i].strip() == "8" and lines[i + 1].strip() == layer for i in range(first + 2, last - 1)):
            return first, last
    raise LookupError(layer)


def moved(data: bytes, layer: str, by: float, column: str = "10") -> bytes:
    """The first entity on a layer moved along X (or another column)."""
    lines = data.decode().split("\n")
    first, last = entity(data.decode(), layer)
    for i in range(first, last - 1):
        if lines[i].strip() == column:
            lines[i + 1] = str(float(lines[i + 1]) + by)
    return "\n".join(lines).encode()


def moved_corner(data: bytes, layer: str) -> bytes:
    """The first two corners of an outline exchanged."""
    lines = data.decode().split("\n")
    first, last = entity(data.decode(), layer)
    places = [i for i in range(first, last - 1) if lines[i].strip() == "10"]
    for along in (1, 3):
        one, other = places[0] + along, places[1] + along
        lines[one], lines[other] = lines[other], lines[one]
    return "\n".join(lines).encode()


def without(data: bytes, layer: str) -> bytes:
    """A file without the first entity on a layer."""
    lines = data.decode().split("\n")
    first, last = entity(data.decode(), layer)
    return "\n".join(lines[:first] + lines[last:]).encode()


def layer_like(data: bytes, pattern: str) -> str:
    """A layer of the file."""
    found = re.search(rf"\n({pattern})\r?\n", data.decode())
    assert found, pattern
    return found[1]


def fails(part: Part, files: dict[str, bytes], path: str, change: Callable[[bytes], bytes]) -> list[str]:
    """What is said of a file that was changed."""
    other = change(files[path])
    assert other != files[path]
    return said_of(part, {**files, path: other})


def test_a_pocket_that_is_off_is_found() -> None:
    """A lap moved by 0.05 mm leaves wood on one side and takes it on the other."""
    part, files = rail()
    lap = layer_like(files["router/RAIL-HIGH-bottom.dxf"], r"BOTTOM_LAP_\w+")
    said = fails(part, files, "router/RAIL-HIGH-bottom.dxf", lambda data: moved(data, lap, 0.05))
    assert any("leaves wood" in one for one in said) and any("takes wood" in one for one in said), said


def test_what_a_bit_leaves_must_be_told() -> None:
    """Without the marks of corners to be squared the corners of a mortise are wood that is left."""
    part, files = rail()
    for path in files:
        if b"_BY_HAND_" in files[path]:
            hand = layer_like(files[path], r"\w+_BY_HAND_\w+")
            said = fails(part, files, path, lambda data, hand=hand: without(data, hand))
            assert any("leaves wood" in one for one in said), said
            return
    raise AssertionError("no corner is squared by hand")


def test_pins_and_recess_must_agree() -> None:
    """Pins 0.03 mm off their holes, a recess of another place or shape, no line to turn over about."""
    part, files = rail(80.0)
    path = "router/RAIL-HIGH-bottom.dxf"
    assert any("pins stand" in one for one in fails(part, files, path, lambda data: moved(data, "PINS", 0.03)))
    assert any("turning over" in one for one in fails(part, files, path, lambda data: without(data, "TURN_LINE")))
    part, files = rail()
    laid = fails(part, files, path, lambda data: without(data, "RECESS"))
    assert any("RECESS isn't drawn once" in one for one in laid), laid


def test_bits_passes_and_depths_are_measured() -> None:
    """A wider bit than is drawn for leaves wood; passes that don't come to the depth, a depth not the record's."""
    part, files = rail()
    path = "router/RAIL-HIGH-top.dxf"
    wider = fails(part, files, path, lambda data: re.sub(rb"8 mm bit, (\d+ passes.*TENON)", rb"12 mm bit, \1", data))
    assert any("leaves wood" in one for one in wider), wider
    passes = fails(part, files, path, lambda data: re.sub(rb"(\d) passes of", rb"1\1 passes of", data))
    assert any("passes told" in one for one in passes), passes
    retold = ((b"TENON_5_05MM", b"TENON_5_15MM"), (b"2.525 mm", b"2.575 mm"))
    deeper = fails(part, files, path, lambda data: data.replace(*retold[0]).replace(*retold[1]))
    assert any("takes wood" in one or "leaves wood" in one for one in deeper), deeper


def test_an_outline_that_is_off_or_missing_is_found() -> None:
    """A corner of the outline 0.05 mm off, and an outline that stops short of the skin."""
    part, files = rail()
    path = "router/RAIL-HIGH-top.dxf"
    outline = layer_like(files[path], r"TOP_OUTSIDE_\w+")
    assert fails(part, files, path, lambda data: moved(data, outline, 0.05, "20"))
    shallow = fails(part, files, path, lambda data: data.replace(outline.encode(), b"TOP_OUTSIDE_14MM"))
    assert any("doesn't go through" in one or "passes" in one for one in shallow), shallow


def test_work_of_the_other_face_doesn_t_stand_in_a_file() -> None:
    """A layer of the bottom in the file of the top."""
    part, files = rail()
    path = "router/RAIL-HIGH-top.dxf"
    said = fails(part, files, path, lambda data: data.replace(b"TOP_TENON", b"BOTTOM_TENON"))
    assert any("isn't work of the face that is up" in one for one in said), said


def test_the_second_face_is_registered_by_pins_where_there_is_waste() -> None:
    """Pins stand in the waste, clear of the bit and off the middle, and the outline is cut last."""
    for longer, pins in ((80.0, 2), (None, 0)):
        table = shop("towpath-side", 8.0, longer)
        first, second = clampings(table.part("RAIL-HIGH"), table.profile)
        assert len(first.pins) == len(second.pins) == pins
        assert second.recess == (not pins) and not first.recess
        cut = first if not pins else second
        assert cut.operations[-1].task == "outside" and cut.frees is not None
        if pins:
            box = first.piece.bounds
            assert [pin.bounds.centre.x for pin in first.pins] == pytest.approx(
                [box.width - pin.bounds.centre.x for pin in reversed(first.pins)]
            )
            assert abs(first.pins[0].bounds.centre.y - box.height / 2) > 5


def test_a_file_that_would_not_come_to_the_part_is_not_written(monkeypatch: pytest.MonkeyPatch) -> None:
    """Were corners forgotten that the bit leaves, the file would be refused."""
    table = shop("towpath-side", 8.0)
    assert clamping_files(table.profile, table.part("RAIL-LOW"))
    monkeypatch.setattr("templategen.router.operation.left_by", lambda *_, **__: ())
    with pytest.raises(GeometryError, match=r"RAIL-LOW, top: the outline's bit leaves wood 3\.61 x 3\.61"):
        clamping_files(table.profile, table.part("RAIL-LOW"))


def test_a_line_that_crosses_itself_is_refused_in_words() -> None:
    """Whatever stands in a file, the proof ends in words."""
    part, files = rail()
    path = "router/RAIL-HIGH-bottom.dxf"
    lap = layer_like(files[path], r"BOTTOM_LAP_\w+")
    with pytest.raises(ValueError, match="crosses itself"):
        fails(part, files, path, lambda data: moved_corner(data, lap))


def test_notes_tell_the_dangers_and_defer() -> None:
    """Holding, pieces that fly, the bit's length, dust, the manual; and no feed or speed in figures."""
    _, files = rail()
    assert sum(b"by suction or by tape" in data and b"hangs on tabs" in data for data in files.values()) == 1
    for data in files.values():
        text = data.decode()
        for word in ("clamp", "fly", "cutting length", "dust", "manual", "competent person"):
            assert word in text, word
        assert not re.search(r"rpm|m/min|mm/min", text)


def test_what_no_bit_reaches_is_told() -> None:
    """A post of 45 mm and a bit of 25: nothing through it in the files, a note of how deep a bit must cut, and a stop
    where the wood is cut by nothing but the router."""
    table = table_of(name="towpath-side")
    assert all(one.thick and one.frees is None for one in clampings(table.part("LEG"), table.profile))
    (note,) = reach_findings(table)
    assert note.level == "note" and note.measured == pytest.approx(45 - 0.5) and note.wanted == (None, 25.0)
    assert re.search(r"27.5.mm for RIM-A, RIM-B, RAIL-LOW, RAIL-HIGH; 39.5.mm for BASE-.*; 44.5.mm for LEG$", note.do)
    routed = table.with_(stock=[{"name": "planks", "length": 2000, "width": 200, "thickness": 45, "mode": "routed"}])
    assert [one.level for one in reach_findings(routed)] == ["stop"]
    assert list(reach_findings(table.with_(router_bits=[[12, 60, 5]]))) == []
