"""Whoever follows the plan to its end finds in the list of tools all that a sentence of it names."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from templategen.checks.describe import describe
from templategen.drawing.manner import Manner
from templategen.drawing.view import blank_view
from templategen.english import spoken
from templategen.packet.page.print_check import AT_FULL_SIZE
from templategen.packet.shipped import shipped_names
from templategen.packet.stages import FINDINGS, WORK
from templategen.packet.table_stages import TABLE, begun
from templategen.work.plan import WorkPlan
from templategen.work.tools import tools_of
from tests.table.made import profile_of

NOUNS = (
    "clamp", "bar clamp", "hold-down clamp", "vice", "mallet", "hammer", "screwdriver", "block plane", "router plane",
    "jointer plane", "shooting board", "spokeshave", "chisel", "scraper", "file", "tenon saw", "rip saw", "bow saw",
    "drill with a stop", "brace", "knife", "pencil", "straightedge", "steel rule", "rule", "winding stick", "caliper",
    "depth gauge", "feeler", "brush", "cloth", "film", "foil", "paper", "cork", "blanket", "glove", "sandbag",
    "luggage scale", "rod", "dowel", "push stick", "push block", "featherboard", "batten", "balk", "box", "screw",
    "nail", "band", "sticker", "corner guard", "compass", "string", "needle", "syringe", "spatula", "roller",
    "moisture meter", "hollow chisel", "bench stop", "tape", "wax", "rope", "shim",
)  # fmt: skip
"""Things of the trade that a sentence may ask for, whether the shipped plans do or not."""

INSTEAD = {"bench stop": "clamp"}
"""What is told as the other of two."""

OTHERWISE = {
    r"\bon stands\b|\ba stand under\b|boards or stands": "stands",
    r"\bgauged\b": "marking gauge",
    r"measure the moisture": "moisture meter",
    r"on packing|packed up by": "to pack up by",
    r"sticks overnight": "stickers",
    r"closed (?:metal )?can": "can with a lid",
    r"board (?:under the slats|clamped under it)": "waste board",
    r"mallet and block": "a block to drive with",
    r"level with the end at each of its corners|clamp a block into that, level with the end": "end block",
    r"a block pressing it there|a block as tall as the piece": "block at the fence",
    r"bored square near one end of a block": "block to bore through",
    r"straight piece .* bears the rule": "to pack up by",
}
"""How a sentence asks for something without its name, and what is listed for it."""


def told(work: WorkPlan) -> Iterator[str]:
    """All that the plan, its cards, its steps and the sheets of its jigs say."""
    for planned in work.operations:
        one = planned.operation
        yield from (one.way, *one.tells, one.measure, *one.cautions)
    for set_up in work.set_ups:
        yield from (set_up.machine, *set_up.does, *set_up.warnings, *set_up.cautions)
    for step in work.gluing.steps:
        yield from step.advice
    for jig in work.jigs.jigs:
        yield from (*jig.use, *jig.proof, *jig.cautions)


@pytest.mark.parametrize("name", shipped_names())
def test_what_a_sentence_names_stands_in_the_list(name: str) -> None:
    """One or many: a word of the plan that is a tool's, and each way of asking for one without its name."""
    worked = begun(profile_of(name=name))
    rows = tools_of(worked[TABLE], worked[WORK])
    listed = "; ".join(f"{row.item}, {row.size}" for row in rows)
    named = 0
    for line in map(str, told(worked[WORK])):
        for noun in NOUNS:
            if re.search(rf"\b{noun}(?:e?s)?\b(?!-)", re.sub(r"[A-Z]{2,}[A-Z0-9-]*", "", line)):
                named += 1
                assert re.search(rf"\b{INSTEAD.get(noun, noun)}(?:e?s)?\b", listed), (noun, line)
        for asks, item in OTHERWISE.items():
            assert not re.search(asks, line) or item in listed, (item, line)
    assert named > 100


@pytest.mark.parametrize("name", shipped_names())
def test_scrap_of_a_size_is_listed_in_that_size(name: str) -> None:
    """Wherever a sentence tells how large a batten, a balk, packing, an offcut or a block of scrap is, a row has that
    length; and each row of scrap has all three of its sizes in words."""
    worked = begun(profile_of(name=name))
    table, work = worked[TABLE], worked[WORK]
    rows = [row for row in tools_of(table, work) if row.scrap]
    size = r"(\d[\d./-]* ?(?:mm|in))\b"
    asks = (
        rf"a batten under each arm, {size} high", rf"on packing (?:of )?{size}", rf"slats(?: packed)? up by {size}",
        rf"balk of scrap, {size} thick, {size} or wider", rf"block of scrap, {size} high and {size} long",
        rf"on an offcut {size} long and {size} wide", rf"two scraps of {size}", rf"straight piece {size} thick",
        rf"straight batten {size} or longer, {size} wide and {size} thick",
    )  # fmt: skip
    found = 0
    for line in map(str, told(work)):
        for one in (one for ask in asks for one in re.findall(ask, line, re.IGNORECASE)):
            wanted = (one,) if isinstance(one, str) else one
            found += 1
            figures = [each.split()[0] for each in wanted]
            assert any(set(figures) <= set(re.findall(r"\d[\d./-]*", row.size)) for row in rows), line
    assert found >= 4
    for row in rows:
        assert len(re.findall(r"\d[\d./-]*", row.size)) == 3 and row.count, row


@pytest.mark.parametrize("name", shipped_names())
def test_a_sentence_names_a_file_only_where_it_is_printed(name: str) -> None:
    """Who stands at the bench has the book: what is in a folder, a key of the profile or a layer is told in words."""
    worked = begun(profile_of(name=name))
    table, work = worked[TABLE], worked[WORK]
    findings = [describe(one, table.profile.units) for one in worked[FINDINGS]]
    lines = [*map(str, told(work)), *(f"{one.says} {one.why} {one.do}" for one in findings), AT_FULL_SIZE]
    lines += [note for part in table.parts for view in (blank_view(part, Manner(2.5)),) for note in view.notes]
    named = r"\b(?:stock|lists|jigs|customer|parts|paper|router)/[\w.-]*|\[\w+\]|\b\w+_(?:error|OUTLINE)\b"
    files = {file for line in lines for file in re.findall(named, line)}
    assert files == {"lists/labels.pdf"}


@pytest.mark.parametrize("language", ["english", "german"])
@pytest.mark.parametrize("name", shipped_names())
def test_one_and_many_have_their_own_form(name: str, language: str) -> None:
    """A row of one reads as one, a row of several as several: the same thing in another number differs, except where
    the language has one form for both."""
    worked = begun(profile_of(name=name))
    with spoken("german" if language == "german" else "british", ()):
        rows = [row for row in tools_of(worked[TABLE], worked[WORK]) if row.count]
    for row in rows:
        if language == "english" and "band" not in row.item.split():
            first = row.item.split(" of ")[0].split(" to ")[0].split(" at ")[0]
            assert first.endswith("s") == (row.count > 1), row
        if language == "german":
            assert row.item not in ("Zwinge", "Leiste", "Sandsack", "Kantholz") or row.count == 1, row
            assert row.item not in ("Zwingen", "Sandsäcke", "Kanthölzer") or row.count > 1, row
