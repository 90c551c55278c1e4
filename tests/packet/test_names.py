"""File names, links and figures on the page: small things that every packet leans on."""

from __future__ import annotations

import pytest

from templategen.checks.finding import Finding, Level
from templategen.output.page.content import Section, Sheet
from templategen.packet.file_name import LONGEST, file_name, file_names
from templategen.packet.labelled import joint_findings_of, joint_parts, joint_places
from templategen.packet.page.glance import found, standing
from templategen.packet.page.links import linked, links
from templategen.packet.page.sizes import blank, counted, size
from templategen.packet.shipped import shipped_text
from templategen.table.assembly import build_table
from templategen.table.profile.read import profile_from_text


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("Larch, 38 mm", "larch-38-mm"),
        ("  Lärche / Ölbaum  ", "larche-olbaum"),
        ("../../etc/passwd", "etc-passwd"),
        ("板", "stock"),
        ("", "stock"),
        ("a" * LONGEST + "-b", "a" * LONGEST),
        ("a" * (LONGEST - 1) + "--b", "a" * (LONGEST - 1)),
    ],
)
def test_a_name_is_safe_on_every_system(words: str, name: str) -> None:
    """Letters, digits and hyphens in the maker's order; no hyphen at either end, even where it is cut."""
    assert file_name(words) == name


def test_names_that_come_out_alike_are_told_apart() -> None:
    """The first keeps its name, later ones are numbered from 2, past numbers that are taken; one name given twice is
    one file."""
    names = ["Oak 2", "oak", "Oak!", "oak-2", "OAK?", "oak"]
    assert file_names(names) == {"Oak 2": "oak-2", "oak": "oak", "Oak!": "oak-3", "oak-2": "oak-2-2", "OAK?": "oak-4"}


def test_only_files_that_are_there_are_linked() -> None:
    """What wasn't made is left out, in every sheet; the record and other pages stay, in their order."""
    paths = links("lists/a.csv", "packet.json", "lists/b.csv", "../index.html", "parts/C.dxf")
    section = Section("s", "S", (Sheet("one", "", links=paths), Sheet("two", "", links=links("lists/a.csv"))))
    one, two = linked(section, ["lists/b.csv", "parts/D.dxf"]).sheets
    assert one.links == links("packet.json", "lists/b.csv", "../index.html")
    assert two.links == ()


@pytest.mark.parametrize(
    ("mm", "in_mm", "in_inches", "sawn"),
    [
        (12.3456, "12.35 mm", "0.486 in", "0.486 in (about 31/64)"),
        (38.1, "38.1 mm", "1-1/2 in", "1-1/2 in"),
        (38.1004, "38.1 mm", "1-1/2 in", "1-1/2 in"),
        (38.1006, "38.1 mm", "1-1/2 in", "1-1/2 in"),
        (1270.0, "1270 mm", "50 in", "50 in"),
    ],
)
def test_sizes_are_told_in_the_units_of_the_table(mm: float, in_mm: str, in_inches: str, sawn: str) -> None:
    """Millimetres to two places; inches as a fraction where they are one to half a thousandth of a millimetre, else
    to three places, and to saw to with the nearest fraction beside."""
    assert size(mm, "mm") == blank(mm, "mm") == in_mm
    assert (size(mm, "in"), blank(mm, "in")) == (in_inches, sawn)


def test_pieces_are_counted_for_all_tables() -> None:
    """One table's number, and all of them where there are more."""
    assert (counted(7, 1), counted(7, 3)) == ("7", "7 (21 for 3 tables)")


def finding(level: Level, where: str) -> Finding:
    """A made-up finding."""
    return Finding("foot-room", level, where, 5.0 if level == "note" else 3.0, (4.0, None))


def test_the_page_says_how_the_table_stands() -> None:
    """The gravest level speaks, wherever it stands in the list; several tables are told."""
    note, caution, stop = finding("note", "a"), finding("caution", "b"), finding("stop", "c")
    assert standing([note, caution, stop, note], 1).startswith("Not ready to cut")
    assert standing([note, caution], 1).startswith("It goes together; read")
    assert (
        standing([note], 1)
        == standing([], 1)
        == "Calculated, checked and found to fit: nothing to settle before cutting."
    )
    beyond = Finding("foot-room", "note", "d", 3.0, (4.0, None))
    assert standing([beyond], 1) == "Calculated, checked and found to fit; see below."
    assert standing([note], 4).endswith(
        "For 4 tables: stock, set-ups and lists are for all of them, drawings and steps for one."
    )


def test_notes_stand_apart_from_what_is_to_settle() -> None:
    """Stops and cautions in one sheet, in their order, notes in another; no sheet for notes where there are none."""
    table = build_table(profile_from_text(shipped_text("towpath-side"), "side"))
    note, caution, stop = finding("note", "a"), finding("caution", "b"), finding("stop", "c")
    settle, inform = found(table, [stop, caution, note]).sheets
    assert [row[:2] for row in settle.grids[0].rows] == [("stop", "c"), ("caution", "b")]
    assert settle.grids[0].rows[0][2:] == (
        "rim beyond the feet; toes and chair legs come in further",
        "3 mm, at least 4 mm is wanted",
    )
    assert settle.grids[0].levels == ("stop", "caution")
    assert [row[:2] for row in inform.grids[0].rows] == [("note", "a")]
    (alone,) = found(table, [caution]).sheets
    assert alone.name == "settle" and not alone.words
    short = Finding("short-pieces", "note", "c", 46.0, (300.0, None), {"kinds": 2, "parts": ("FOOT", "SPLINE")})
    beyond = Finding("foot-room", "note", "d", 3.0, (4.0, None))
    beware, do = found(table, [short, beyond]).sheets
    assert beware.grids[0].rows[0][1] == "d" and not beware.words and do.grids[0].rows[0][1] == "c"
    (besides,) = found(table, [short]).sheets
    assert besides.name == "do"
    (nothing,) = found(table, []).sheets
    assert nothing.words and not nothing.grids


RECORD = {
    "parts": [
        {
            "code": "LEG", "files": ["parts/LEG.dxf", "paper/one-by-one/LEG.pdf"],
            "features": [{"kind": "tenon", "mate": "RAIL", "mates": ["RAIL", "BASE"]}, {"kind": "hole", "mate": ""}],
        }
    ],
    "placed": [{"code": "LEG", "at": [1, 2, 3]}, {"code": "RAIL", "at": [4, 5, 6]}],
    "joints": [{"kind": "leg-tenon", "parts": ["RAIL", "LEG"], "placed": [1, 0]}],
    "assembly": [{"step": 2, "adds": ["RAIL", "LEG"], "moves": [{"placed": 1, "code": "RAIL"}]}],
    "findings": [{"level": "note", "where": "slats.gap"}],
}  # fmt: skip


def test_a_record_within_another_keeps_its_own_codes_and_places() -> None:
    """Codes and paths carry the label, sides keep their order, places and steps count on; the record is as it was."""
    (part,) = joint_parts("side", RECORD)
    assert part["code"] == "side/LEG" and part["files"] == ["side/parts/LEG.dxf", "side/paper/one-by-one/LEG.pdf"]
    assert part["features"][0]["mate"] == "side/RAIL" and part["features"][0]["mates"] == ["side/RAIL", "side/BASE"]
    assert part["features"][1] == {"kind": "hole", "mate": ""}
    told = joint_places("side", RECORD, 11, 5)
    assert [one["code"] for one in told["placed"]] == ["side/LEG", "side/RAIL"]
    assert told["joints"] == [{"kind": "leg-tenon", "parts": ["side/RAIL", "side/LEG"], "placed": [12, 11]}]
    (step,) = told["assembly"]
    assert step["step"] == 7 and step["adds"] == ["side/RAIL", "side/LEG"]
    assert step["moves"] == [{"placed": 12, "code": "side/RAIL"}]
    assert joint_findings_of("side", RECORD["findings"])[0]["where"] == "side: slats.gap"
    assert RECORD["placed"][0]["code"] == "LEG"
