"""The paper of a packet: counts, homes and whole drawings, read back from the files."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from time import process_time

import pypdfium2
import pytest
from click.testing import CliRunner

from templategen.cli import main
from templategen.drawing.template import template
from templategen.packet.paper import PaperFiles, paper_files
from templategen.packet.part_files import drawn_elevation, drawn_plan
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text


@cache
def made(name: str) -> tuple[Table, PaperFiles]:
    """A shipped table and its paper."""
    table = build_table(profile_from_text(shipped_text(name), name))
    return table, paper_files(table, drawn_plan(table), drawn_elevation(table))


def words(data: bytes) -> str:
    """All words of a file, spaces made one."""
    pages = (page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(data))
    return " ".join(" ".join(pages).split())


@pytest.mark.parametrize("name", shipped_names())
def test_every_part_has_one_home_and_every_page_is_counted(name: str) -> None:
    """Each part's template is on just one file, the pages told are the pages there, and the saving adds up."""
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
    for file in (*told["files"], *told["drawings"]):
        assert len(pypdfium2.PdfDocument(share.files[file["path"]])) == file["pages"]
    assert told["sheets"] == sum(file["pages"] for file in told["files"])
    assert told["saved"] == told["plain_sheets"] - told["sheets"] > 0


@pytest.mark.parametrize("name", shipped_names())
def test_every_legend_is_on_paper(name: str) -> None:
    """No line that explains a template's letters is lost for want of room, and each template is named."""
    table, share = made(name)
    for part in table.parts:
        one, text = template(part, table), words(share.files[share.homes[part.code]])
        assert part.code in text
        for line in one.legend:
            assert " ".join(line.split()[:3]) in text, (part.code, line)


def test_whole_drawings_come_tiled_on_a_roll_and_on_one_page() -> None:
    """Plan and elevation are there three ways; one page is one page, larger than the table."""
    table, share = made("towpath-dining")
    for name in ("plan", "elevation"):
        for kind in ("", "-roll", "-one-page"):
            assert f"paper/{name}{kind}.pdf" in share.files
        document = pypdfium2.PdfDocument(share.files[f"paper/{name}-one-page.pdf"])
        assert len(document) == 1
        assert document[0].get_width() / 72 * 25.4 > table.profile.top.diameter


def test_paper_is_the_same_bytes_each_time() -> None:
    """Two makings agree in every byte."""
    table, share = made("towpath-side")
    assert paper_files(table, drawn_plan(table), drawn_elevation(table)).files == share.files


def test_sixty_pages_take_about_a_second() -> None:
    """Well over a hundred pages, with all thinking about where they lie, take a few seconds at the very most."""
    table, _ = made("towpath-dining")
    start = process_time()
    paper_files(table, drawn_plan(table), drawn_elevation(table))
    assert process_time() - start < 8


def test_make_prints_the_sheets_and_the_saving(tmp_path: Path) -> None:
    """The command says how many sheets the templates take and what is saved; the record says where each part is."""
    profile = tmp_path / "towpath-side.toml"
    profile.write_text(shipped_text("towpath-side"), encoding="utf-8")
    result = CliRunner().invoke(main, ["make", str(profile), "-o", str(tmp_path / "out"), "--only", "paper"])
    assert result.exit_code in (0, 1), result.output
    told = json.loads((tmp_path / "out" / "packet.json").read_text(encoding="utf-8"))
    assert f"templates on {told['paper']['sheets']} sheets of A4" in result.output
    assert f"{told['paper']['saved']} saved" in result.output
    for part in told["parts"]:
        (home,) = [path for path in part["files"] if path.startswith("paper/")]
        assert (tmp_path / "out" / home).is_file()
