"""The paper of a packet: counts, homes and whole drawings, read back from the files."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from functools import cache
from time import process_time

import pypdfium2
import pytest

from templategen.fit.plan import Plan, plan_assembly
from templategen.output.packet_json import part_json
from templategen.packet.paper import PaperFiles, paper_files
from templategen.packet.part_files import drawn_elevation, drawn_plan
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.parts.revision import part_revision
from templategen.shop.closing.study import wished
from templategen.shop.cut_list import cut_list
from templategen.shop.gluing.marks import marks_of, spans
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from templategen.units import length_figure
from tests.drawing.shipped_tables import table_of
from tests.output.test_pdf import elements
from tests.shipped_packets import packet_files, packet_folder, page_of, told_by_make


@cache
def made(name: str) -> tuple[Table, PaperFiles]:
    """A shipped table and the paper of its packet, as written."""
    files = packet_files(name)
    record = json.loads(files["packet.json"])
    homes = {part["code"]: path for part in record["parts"] for path in part["files"] if path.startswith("paper/")}
    paper = {path: data for path, data in files.items() if path.startswith("paper/")}
    return table_of(name), PaperFiles(paper, record["paper"], homes)


def plan_in_packet(name: str) -> Plan:
    """The order of assembly by which joints have their letters."""
    table = table_of(name)
    return plan_assembly(table, wished(table))


def words(data: bytes) -> str:
    """All words of a file, spaces made one."""
    pages = (page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(data))
    return " ".join(" ".join(pages).split())


@pytest.mark.parametrize("name", shipped_names())
def test_every_part_has_one_home_and_every_page_is_counted(name: str) -> None:
    """Each part is once in the file to print and once by itself, the pages told are there, and the saving adds up."""
    table, share = made(name)
    told = share.record
    assert set(share.homes) == {part.code for part in table.parts}
    codes = [
        site["code"]
        for file in told["files"]
        for one in file["spreads"]
        for site in one["parts"]
        if site["face"] == "top"
    ]
    assert sorted(codes) == sorted(share.homes)
    for file in (*told["print"], *told["files"], *told["alone"], *told["drawings"]):
        assert len(pypdfium2.PdfDocument(share.files[file["path"]])) == file["pages"]
    assert told["sheets"] == sum(file["pages"] for file in told["print"])
    assert told["saved"] == told["plain_sheets"] - told["sheets"] > 0
    assert f"{told['saved']} sheets saved" in told_by_make(name)
    assert all(path in share.files for path in share.homes.values())


@pytest.mark.parametrize("name", shipped_names())
def test_what_to_print_is_told_in_the_order_of_the_files(name: str) -> None:
    """What lies in the folder beside others, the last lines of the command and the page's section on printing tell
    the same files in the same order, each with the sheets that its pages make; all else lies in folders."""
    folder, said, page = packet_folder(name), told_by_make(name), page_of(name)
    there = sorted(path for path in (folder / "paper").iterdir() if path.is_file())
    wanted = [(f"paper/{path.name}", str(len(pypdfium2.PdfDocument(path)))) for path in there]
    assert re.findall(r"^  (paper/\S+)  (\d+) sheets?\b", said, re.MULTILINE) == wanted
    table = page[page.index('<article id="printing-rulers"') :].partition("</table>")[0]
    cells = re.findall(r"<td[^>]*>([^<]*)</td>", table)
    assert cells == [cell for place, row in enumerate(wanted, 1) for cell in (str(place), *row)]
    sheets = sum(int(count) for _, count in wanted)
    size = json.loads((folder / "packet.json").read_text(encoding="utf-8"))["paper"]["size"]
    assert f"{sheets} sheets of {size}, in this order" in said
    folders = {path.name for path in (folder / "paper").iterdir() if path.is_dir()}
    assert folders == {"one-by-one", "whole-table"}


@pytest.mark.parametrize("name", shipped_names())
def test_the_first_page_lists_every_template_with_its_pages(name: str) -> None:
    """The pages told for a template are those on whose foot its code stands."""
    table, share = made(name)
    document = pypdfium2.PdfDocument(share.files["paper/2-templates.pdf"])
    pages = [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    front = share.record["files"][0]["front"]
    listed = " ".join(pages[:front])
    for part in table.parts:
        found = re.search(rf"{part.code}, {part.count} wanted: pages? (\d+)(?: to (\d+))?", listed)
        assert found, part.code
        first, last = int(found[1]), int(found[2] or found[1])
        assert front < first <= last <= len(pages)
        assert f"{part.code} × {part.count}" in " ".join(pages[first - 1 : last])


@pytest.mark.wide
def test_each_joint_has_its_letter_on_the_first_pages_and_at_the_part() -> None:
    """Letters of joints stand on the plans, and on the templates of both parts that meet there."""
    table, share = made("towpath-inch")
    marks = marks_of(table, plan_in_packet("towpath-inch"))
    front = share.record["files"][0]["front"]
    document = pypdfium2.PdfDocument(share.files["paper/2-templates.pdf"])
    told = " ".join(document[number].get_textpage().get_text_range() for number in range(front))
    bracketed = {letter for group in re.findall(r"\(([A-Z ]+)\)", told) for letter in group.split()}
    assert bracketed == {mark.letter for mark in marks.values()}
    mitres = [mark.letter for mark in marks.values() if mark.kind == "mitre" and "RIM-C" in " ".join(mark.copies)]
    assert f"joint {spans(mitres[:1])}"[:7] in words(share.files[share.homes["RIM-C"]])


def test_headings_have_levels() -> None:
    """By the tree that a screen reader follows: H1 opens a file, H2 its chapters and, after words, each sheet."""
    files = packet_files("towpath-side")
    for path in ("paper/1-test-sheet.pdf", "paper/one-by-one/FOOT.pdf", "jigs/CAUL.pdf", "customer/sheet.pdf"):
        kinds = [kind for _, kind, _, _ in elements(files[path])]
        assert kinds[0] == "H1" and kinds.count("H1") == 1, path
    told = elements(files["paper/2-templates.pdf"])
    assert [page for page, kind, _, _ in told if kind == "H1"] == [1]
    front, pages = (made("towpath-side")[1].record["files"][0][key] for key in ("front", "pages"))
    for sheet in range(front + 1, pages + 1):
        assert [kind for page, kind, _, _ in told if page == sheet][:2] == ["H2", "Figure"]
    assert [kind for page, kind, _, _ in told if page == 1].count("H2") >= 4


@pytest.mark.parametrize("name", shipped_names())
def test_every_template_tells_what_it_is(name: str) -> None:
    """Code, count, wood, thickness and revision stand on each template, whether it is with others or by itself."""
    table, share = made(name)
    for part in table.parts:
        text = words(share.files[share.homes[part.code]])
        thick = length_figure(part.thickness, table.profile.units)
        for told in (f"{part.code} × {part.count}", f"{thick} {table.profile.units} thick", part_revision(part)):
            assert told in text, (part.code, told)
        assert all(word in text for word in part.wood.split())


def told_of(table: Table) -> dict[str, dict[str, object]]:
    """What the record tells of each part, by its code."""
    return {part.code: part_json(part, ()) for part in table.parts}


def unlike(one: object, other: object) -> bool:
    """Whether two values differ by more than the last digit; names of mates are no wood."""
    if isinstance(one, list) and isinstance(other, list):
        return len(one) != len(other) or any(unlike(*pair) for pair in zip(one, other, strict=True))
    if isinstance(one, dict) and isinstance(other, dict):
        return any(unlike(one[key], other[key]) for key in one if not key.startswith("mate"))
    return abs(one - other) > 2e-5 if isinstance(one, float) and isinstance(other, float) else one != other


@pytest.mark.parametrize(
    ("name", "old", "new", "changed"),
    [
        ("towpath-side", "[paper]", "[paper]\nscale_x = 1.004\nskew = 0.02\ntrace_offset = 1.3", set()),
        ("towpath-side", r'title = "[^"]*"', 'title = "Lock keeper\'s table"', set()),
        ("towpath-side", r"(\[slats\][^\[]*?\nthickness = )18\b", r"\g<1>18.5", {"rim-segment", "rail", "slat"}),
        ("towpath-inch", r"(\[top\][^\[]*?\nheight = )([^\n]*)", r"\g<1>28.5", {"leg"}),
    ],
)  # fmt: skip
def test_a_revision_changes_with_its_own_wood_alone(name: str, old: str, new: str, changed: set[str]) -> None:
    """Another printer or title leaves every revision; another size changes those of the parts it touches."""
    text = shipped_text(name)
    other = re.sub(old.replace("[paper]", r"\[paper\]"), new, text, count=1)
    assert other != text
    tables = [build_table(profile_from_text(one, "x")) for one in (text, other)]
    first, second = map(told_of, tables)
    assert first.keys() == second.keys()
    wood = ("wood", "size", "grain", "blank", "outline", "holes", "features")
    own = {code for code in first if any(unlike(first[code][key], second[code][key]) for key in wood)}
    assert {code for code in first if first[code]["revision"] != second[code]["revision"]} == own
    assert {tables[0].part(code).kind for code in own} == changed
    listed = [{row[0]: row[-1] for row in cut_list(table)[1]} for table in tables]
    assert listed == [{code: told["revision"] for code, told in every.items()} for every in (first, second)]


def test_a_revision_stands_on_no_last_digit() -> None:
    """Sizes of a thirty-second of an inch, which end on half a ten-thousandth of a millimetre, keep their revision
    whatever the last digit of a float; a thousandth of a millimetre doesn't."""
    part = table_of("towpath-inch").part("FOOT")
    for size in (25.4 / 32 * number for number in range(1, 200)):
        names = [part_revision(replace(part, thickness=size + off)) for off in (0.0, 3e-14, -3e-14, 0.001)]
        assert names[0] == names[1] == names[2] != names[3]


def test_whole_drawings_come_tiled_on_a_roll_and_on_one_page() -> None:
    """Plan and elevation are there three ways; one page is one page, larger than the table."""
    table, share = made("towpath-side")
    for name in ("plan", "elevation"):
        for kind in ("", "-roll", "-one-page"):
            assert f"paper/whole-table/{name}{kind}.pdf" in share.files
        document = pypdfium2.PdfDocument(share.files[f"paper/whole-table/{name}-one-page.pdf"])
        assert len(document) == 1
        assert document[0].get_width() / 72 * 25.4 > table.profile.top.diameter


def test_tiles_hold_the_table_and_no_words_beside_it() -> None:
    """A parts list at true size would take sheets for itself: it stands on the roll, the arms' numbers on both."""
    table, share = made("towpath-side")
    rail = next(part for part in table.parts if part.kind == "rail")
    size = f"{rail.size[0]:g} x {rail.size[1]:g} x {rail.size[2]:g} mm"
    for name in ("plan", "elevation"):
        on = {
            kind: pypdfium2.PdfDocument(share.files[f"paper/whole-table/{name}{kind}.pdf"]) for kind in ("", "-roll")
        }
        told = {kind: " ".join(page.get_textpage().get_text_bounded() for page in on[kind]) for kind in on}
        assert size in told["-roll"] and size not in told[""]
        assert ("arm 1" in told[""]) == (name == "plan") and "arm 1" in told["-roll"]


def test_paper_is_the_same_bytes_each_time_in_a_second_or_two() -> None:
    """Two makings agree in every byte, and all thinking about where pages lie is quickly done."""
    table, share = made("towpath-side")
    start = process_time()
    order = plan_in_packet("towpath-side")
    again = paper_files(table, order, drawn_plan(table, order), drawn_elevation(table))
    assert again.files == share.files and process_time() - start < 6
