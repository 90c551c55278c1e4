"""Sheets, share and stock of the jigs: words, files, paper and nesting."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
import shapely
from shapely.geometry import Polygon

from templategen.drawing.jig_sheet import jig_sheet
from templategen.fit.plan import plan_assembly
from templategen.jigs.jig import KINDS, jigs_that_go
from templategen.packet.build import built
from templategen.packet.jig_files import jig_files
from templategen.packet.jigs import JigPlan, plan_jigs
from templategen.packet.lay_out import lay_out, stock_findings
from templategen.packet.paper import NO_PAPER
from templategen.packet.record import record
from templategen.packet.shipped import shipped_folder
from templategen.packet.supply import Order, joint_supplies
from templategen.shop.gluing.plan import gluing_plan
from templategen.table.assembly import Table, build_table
from templategen.work.jigs import BY, JigsUsed
from tests.jigs.written import tables


@pytest.fixture(scope="module")
def dining() -> Table:
    """The shipped table with sheet for jigs."""
    return built(shipped_folder() / "towpath-dining.toml")


def test_every_jig_says_how_it_is_proved(dining: Table) -> None:
    """Each jig has pieces, figures, a proof before use, steps and a caution; codes of pieces are its own."""
    jigs = jigs_that_go(dining, BY)[0]
    codes = [part.code for part in JigPlan(jigs, ()).pieces]
    assert len(codes) == len(set(codes)) and not set(codes) & {part.code for part in dining.parts}
    for jig in jigs:
        assert jig.parts and jig.proof and jig.use and jig.cautions, jig.code
        assert jig.figures or jig.code.startswith("TEST-"), jig.code
        assert all(part.kind in KINDS for part in jig.parts)
        known = {part.code for part in jig.parts}
        assert {scribe.part for scribe in jig.scribes} <= known
        assert {figure.part for figure in jig.figures} <= {"", *known}


def test_spans_measure_what_the_figures_say() -> None:
    """A distance given between two points is the distance of those points."""
    for table in tables(range(200, 240), most=3):
        for jig in jigs_that_go(table, BY)[0]:
            for figure in jig.figures:
                if figure.span and figure.unit == "mm":
                    assert figure.span[0].distance(figure.span[1]) == pytest.approx(figure.value, abs=1e-9), (
                        figure.name
                    )


def test_words_of_a_sheet_stay_apart(dining: Table) -> None:
    """Below and above the pieces no line of text runs into another or out of the frame."""
    for jig in jigs_that_go(dining, BY)[0]:
        drawing = jig_sheet(jig, dining.profile.title).drawing
        frame = next(shape for shape in drawing.shapes if shape.layer.name == "FRAME").outline.bounds
        lines = [m for m in drawing.marks if hasattr(m, "text") and m.layer.name == "TEXT" and m.anchor == "start"]
        for words in lines:
            box = words.box
            assert box.left >= frame.left and box.bottom >= frame.bottom and box.top <= frame.top, words.text


def only(table: Table, *codes: str) -> JigPlan:
    """The table's jigs of these codes."""
    return JigPlan(tuple(jig for jig in jigs_that_go(table, BY)[0] if jig.code in codes), ())


def test_hostile_titles_are_drawn_plainly(dining: Table, tmp_path: Path) -> None:
    """Markup and right-to-left marks in the title corrupt no file."""
    title = '</svg><script>"&\u202etitle'
    table = replace(dining, profile=replace(dining.profile, title=title))
    share = jig_files(table, only(table, "SPACERS", "BEVEL"))
    for path, data in share.files.items():
        assert data
        if path.endswith(".svg"):
            assert b"<script>" not in data


def test_share_writes_each_jig_and_tells_of_it(dining: Table) -> None:
    """Every jig has DXF, SVG and paper; the record has its pieces among the parts and their files exist."""
    plan = only(dining, "PIVOT", "SPACERS", "STICK-1")
    share = jig_files(dining, plan)
    codes = ("PIVOT", "SPACERS", "STICK-1")
    assert set(share.files) == {f"jigs/{code}.{kind}" for code in codes for kind in ("dxf", "svg", "pdf")}
    order = plan_assembly(dining)
    told = record(dining, order, gluing_plan(dining, order), (), share.files, NO_PAPER, None, share)
    parts = {part["code"]: part for part in told["parts"]}
    for jig in told["jigs"]:
        for piece in jig["pieces"]:
            assert parts[piece["code"]]["kind"] in KINDS
            assert set(parts[piece["code"]]["files"]) <= set(share.files)
    assert jig_files(dining, plan).files == share.files, "a second run gives other bytes"


def every_jig(table: Table) -> JigPlan:
    """All jigs that there are for a table, whatever its plan of work is worked by."""
    return plan_jigs(table, JigsUsed(*jigs_that_go(table, BY)))


def test_paper_of_a_jig_carries_its_pieces(dining: Table) -> None:
    """The paper names every piece of the jig and has the pages that its size asks for; words along
    one laid upright are read backwards."""
    pdfplumber = pytest.importorskip("pdfplumber")
    (jig,) = (jig for jig in jigs_that_go(dining, BY)[0] if jig.code == "PIVOT")
    share = jig_files(dining, JigPlan((jig,), ()))
    with pdfplumber.open(BytesIO(share.files["jigs/PIVOT.pdf"])) as pdf:
        words = " ".join(page.extract_text() for page in pdf.pages)
        area = sum(part.outline.bounds.width * part.outline.bounds.height for part in jig.parts)
        assert len(pdf.pages) >= area / (210 * 297)
    for part in jig.parts:
        assert part.code in words or part.code[::-1] in words, part.code


def test_jigs_nest_on_their_sheet(dining: Table) -> None:
    """Every piece of every jig lies on the sheet, inside its margins, a router bit from its neighbours."""
    pieces = tuple(part for part in every_jig(dining).pieces if part.wood == "plywood")
    bare = replace(dining, parts=())
    laid = lay_out(bare, jigs=pieces)
    assert not laid.unplaced and not laid.unserved and laid.sheets
    rings = {part.code: part.outline for part in pieces}
    placed = 0
    for one in laid.sheets:
        shapes = []
        for item in one.sheet.laid:
            ring = item.placement.outline(rings[item.code])
            chain = [edge.point_at(i / 24) for edge in ring.edges for i in range(24)]
            shapes.append(Polygon(chain))
        room = shapely.box(5, 5, one.sheet.piece.length - 5, one.sheet.piece.width - 5)
        assert all(room.buffer(1e-6).covers(shape) for shape in shapes)
        tree = shapely.STRtree(shapes)
        near = tree.query(shapes, predicate="dwithin", distance=dining.profile.shop.router_bit - 0.05)
        assert all(a == b for a, b in zip(*near, strict=True))
        placed += len(shapes)
    assert placed == sum(part.count for part in pieces)


def test_jigs_are_made_once_for_several_tables(dining: Table) -> None:
    """Ten tables need ten times the parts and the jigs once."""
    pieces = every_jig(dining).pieces
    groups, _ = joint_supplies([Order(dining, 10, jigs=pieces)], dining.profile.stock)
    count = {item.code: item.count for supply in groups for item in supply.items}
    assert count["LEG"] == 60 and count["TRAMMEL"] == 1


def test_without_sheet_the_jigs_are_a_note() -> None:
    """A profile without sheet gets a note and nothing worse; its own parts are nested all the same."""
    table = built(shipped_folder() / "towpath-side.toml")
    pieces = tuple(part for part in every_jig(table).pieces if part.wood == "plywood")
    bare = replace(table, parts=())
    laid = lay_out(bare, jigs=pieces)
    assert {part.code for part in laid.unserved} == {part.code for part in pieces}
    found = stock_findings([Order(table, jigs=pieces)], table.profile.stock, laid)
    assert [finding.level for finding in found] == ["note"] and "plywood 12 mm" in found[0].says


def test_jig_that_the_tools_cant_make_is_left_out_and_told(dining: Table) -> None:
    """A pin that comes through costs the jigs that turn on it, not the packet."""
    table = build_table(replace(dining.profile, jigs=replace(dining.profile.jigs, pin_depth=15.0)))
    plan = every_jig(table)
    found = plan.left_out
    made = {jig.code for jig in plan.jigs}
    assert made.isdisjoint({"PIVOT", "TRAMMEL"}) and "CAUL" in made
    assert [finding.where for finding in found] == ["jigs.pin_depth"] and found[0].level == "note"
