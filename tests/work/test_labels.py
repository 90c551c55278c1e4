"""Labels: one for every piece, the letter of every glued joint on both of its parts, splines too."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from pypdfium2 import PdfDocument

from templategen.output.pdf_labels import HIGH, labels_pdf
from templategen.table.assembly import Table
from templategen.work.labels import Label, labels_of
from templategen.work.plan import WorkPlan
from tests.table.made import table_of
from tests.work.test_plan import planned


def labelled(tables: int = 1) -> tuple[Table, WorkPlan, tuple[Label, ...]]:
    """A lopsided table, its plan, and the labels."""
    table, _, plan = planned(tables=tables)
    return table, plan, labels_of(table, plan)


def lettered(label: Label) -> set[str]:
    """The letters on a label."""
    return {told for told, *_ in label.joints} - {"slats"}


def test_every_piece_has_one_and_every_joint_two() -> None:
    """As many labels as copies in all tables; each letter stands on the two copies that meet there, and on the spline
    between them; that of a dry tongue on its slat."""
    table, plan, labels = labelled(2)
    assert [label.name for label in labels] == [label.name for label in labels[: len(table.placed)]] * 2
    assert Counter(label.table for label in labels) == {1: len(table.placed), 2: len(table.placed)}
    first = {label.name: lettered(label) for label in labels[: len(table.placed)]}
    for mark in (mark for step in plan.gluing.steps for mark in step.marks):
        found = {name for name, letters in first.items() if mark.letter in letters}
        others = found - set(mark.copies)
        if mark.kind == "tongue-and-groove":
            assert found == {name for name in mark.copies if name.startswith("SLAT")}, mark
            continue
        assert set(mark.copies) <= found, mark
        assert len(others) == (mark.kind == "mitre") and all(name.startswith("SPLINE") for name in others)


def test_slats_lie_where_their_letters_say() -> None:
    """A slat between two rails has a letter at either end, and a rail as many slats on each edge of either half."""
    table, _, labels = labelled()
    assert sum(len(lettered(label)) for label in labels if label.name.startswith("SLAT")) == sum(
        joint.kind == "tongue-and-groove" for joint in table.joints
    )
    for label in labels:
        told = [where for _, where, mate in label.joints if mate.startswith("tongue with RAIL")]
        if label.name.startswith("SLAT") and len(told) == 2:
            assert set(told) == {"left end", "right end"}, label
        if label.name.startswith("RAIL"):
            assert ("slats", f"{4 * table.slats_per_field} letters", "on its drawing") in label.joints


def test_an_end_is_named_as_the_drawing_lies() -> None:
    """Every segment's left mitre meets the right one of the next, walking round against the clock."""
    table, _, labels = labelled()
    ends = {(label.name, where): mate for label in labels if label.name.startswith("RIM")
            for _, where, mate in label.joints if "mitre" in mate}  # fmt: skip
    assert len(ends) == 2 * table.sizes.segments
    for (name, where), mate in ends.items():
        other = mate.removeprefix("mitre with ")
        assert ends[other, "right end" if where == "left end" else "left end"] == f"mitre with {name}"


def test_they_are_printed_whole() -> None:
    """Every name stands on the pages as often as it has labels, with its letters."""
    table, _, labels = labelled()
    words = "\n".join(page.get_textpage().get_text_bounded()
                      for page in PdfDocument(labels_pdf(labels, table.profile.paper, "x")))  # fmt: skip
    lines = words.replace("\r", "").split("\n")
    for label in labels:
        assert lines.count(label.name) == 1, label.name
    assert sum("arrow to" in line for line in lines) == len(labels)
    told = [line for line in lines if " with " in line or ": both ends" in line or "slats: " in line]
    assert len(told) == sum(len(label.joints) for label in labels) and not any("…" in line for line in lines)


@pytest.mark.parametrize("lines", [3, 8, 11, 14])
def test_a_long_line_goes_on_below_and_all_stand_inside_the_box(lines: int) -> None:
    """Nothing is cut off or left out, however much there is; the lowest stands clear of the line to cut along."""
    edge = "obere Kante wie gezeichnet; rechte Feder geschlitzt"
    joints = tuple((f"A{number}", "left end", f"Feder mit RAIL-{number}") for number in range(lines))
    label = Label("SLAT-01 1", "Leiste 1, Lärche", 1, "Oberseite", edge, joints)
    paper = table_of().profile.paper
    (page,) = PdfDocument(labels_pdf([label], paper, "x"))
    text = page.get_textpage()
    words = " ".join(text.get_text_bounded().split())
    assert "…" not in words and edge in words and all(mate in words for *_, mate in joints)
    lowest = min(text.get_charbox(at)[1] for at in range(text.count_chars()) if text.get_text_range(at, 1).strip())
    foot = page.get_height() * 25.4 / 72 - paper.margin - HIGH
    assert lowest * 25.4 / 72 > foot + 1.5


@pytest.mark.parametrize("size", ["A4", "letter"])
def test_seven_rows_stand_on_a_page_and_none_hangs_over_a_slat(size: str) -> None:
    """Fourteen to a page; a label is no higher than the narrowest slat of a shipped table is wide."""
    label = Label("SLAT-01 1", "slat", 1, "top face", "upper edge", ())
    table = table_of(name="towpath-side")
    assert len(PdfDocument(labels_pdf([label] * 14, replace(table.profile.paper, size=size), "x"))) == 1
    assert min(part.blank.bounds.height for part in table.parts if part.kind == "slat") > HIGH
