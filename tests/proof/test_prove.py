"""A packet read back: the shipped ones are true, and every way of falsifying one is found and named."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from click.testing import CliRunner

from templategen.cli import main
from templategen.packet.make import make_packet
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.packet.write import write_packet
from templategen.proof.run import prove
from templategen.table.assembly import build_table
from templategen.table.profile.read import profile_from_text
from tests.shipped_packets import packet_files, packet_folder

Record = dict[str, Any]


@pytest.fixture(scope="module")
def whole() -> Path:
    """A packet as it is written; tests alter copies."""
    return packet_folder("towpath-side")


@pytest.fixture
def packet(whole: Path, tmp_path: Path) -> Path:
    """A copy to be falsified."""
    return Path(shutil.copytree(whole, tmp_path / "packet"))


def altered_record(folder: Path, change: Callable[[Record], None]) -> None:
    """Changes the record and writes it back."""
    path = folder / "packet.json"
    record = json.loads(path.read_text(encoding="utf-8"))
    change(record)
    path.write_text(json.dumps(record, ensure_ascii=False), encoding="utf-8")


def owned_up(folder: Path) -> None:
    """Puts the true hashes of all files in the record, so that only measuring can find what is wrong."""

    def change(record: Record) -> None:
        for file in record["files"]:
            data = (folder / file["path"]).read_bytes()
            file.update(bytes=len(data), sha256=sha256(data).hexdigest())

    altered_record(folder, change)


def differences(folder: Path) -> list[str]:
    """What the proof says."""
    return [str(difference) for difference in prove(folder).differences]


@pytest.mark.parametrize("name", shipped_names())
def test_shipped_packets_are_true(name: str) -> None:
    """Every file of every shipped profile measures what its record says."""
    proof = prove(packet_folder(name))
    assert proof.true, proof.differences
    assert proof.files == proof.measured["by their bytes"] == len(packet_files(name)) - 1
    parts = build_table(profile_from_text(shipped_text(name), name)).parts
    assert proof.measured["by every face of their parts"] == 2 * len(parts)
    faces = {(f.kind, f.face.partition("-")[0]) for part in parts for f in part.features}
    assert faces - set(proof.work) <= {("hole", "top")}


def test_the_command_says_that_a_packet_is_true(tmp_path: Path) -> None:
    """And by how many files it was measured; of a share as of all."""
    made = make_packet(profile_from_text(shipped_text("towpath-side"), "towpath-side"), ("lists",))
    result = CliRunner().invoke(main, ["prove", str(write_packet(made, tmp_path / "lists"))])
    assert result.exit_code == 0, result.output
    assert f"{len(made.files) - 1} files" in result.output and "all as the record says" in result.output


@pytest.mark.wide
def test_bytes_and_paths_are_held_against_the_record(packet: Path, tmp_path: Path) -> None:
    """A byte changed in one file of every kind names that file, and no other; what is missing and what doesn't belong
    is named; a path that climbs out is refused as missing, and nothing outside is opened."""
    changed = (
        "parts/LEG.dxf",
        "parts/LEG.svg",
        "paper/one-by-one/LEG.pdf",
        "lists/cut-list.csv",
        "drawings/plan.svg",
    )
    for name in changed:
        path = packet / name
        data = path.read_bytes()
        middle = len(data) // 2
        path.write_bytes(data[:middle] + bytes([data[middle] ^ 1]) + data[middle + 1 :])
    (packet / "parts" / "FOOT.svg").unlink()
    (packet / "parts" / "EXTRA.dxf").write_text("0\nEOF\n", encoding="ascii")
    (tmp_path / "secret.dxf").write_text("0\nEOF\n", encoding="ascii")
    outside = {"path": "parts/../../secret.dxf", "sha256": "0" * 64, "bytes": 6}
    altered_record(packet, lambda record: record["files"].append(outside))
    found = differences(packet)
    assert {said.partition(": was altered")[0] for said in found if ": was altered" in said} == {
        *changed,
        "packet.json",
    }
    assert "parts/FOOT.svg: is missing" in found
    assert "parts/EXTRA.dxf: isn't in the record" in found
    assert any("secret.dxf: is missing" in said for said in found)


def moved_in_dxf(path: Path) -> None:
    """The first outline's first vertex 0.05 mm further right."""
    text = path.read_text(encoding="ascii")
    start = text.index("LWPOLYLINE", text.index("ENTITIES"))
    place = text.index("\n 10\n", start) + len("\n 10\n")
    end = text.index("\n", place)
    path.write_text(text[:place] + repr(float(text[place:end]) + 0.05) + text[end:], encoding="ascii")


def moved_in_svg(path: Path) -> None:
    """A vertex of the outline 0.05 mm further right."""
    text = path.read_text(encoding="utf-8")
    step = re.compile(r"L (-?[\d.]+)").search(text, text.index('data-layer="THROUGH_OUTSIDE"'))
    assert step is not None
    moved = f"L {float(step.group(1)) + 0.05:.6f}"
    path.write_text(text[: step.start()] + moved + text[step.end() :], encoding="utf-8")


def shrunk(path: Path) -> None:
    """Its pages at 97 %, their size as it was."""
    document, small = pypdfium2.PdfDocument(path.read_bytes()), pypdfium2.PdfDocument.new()
    for index, page in enumerate(document):
        thing = document.page_as_xobject(index, small).as_pageobject()
        thing.set_matrix(pypdfium2.PdfMatrix().scale(0.97, 0.97))
        target = small.new_page(*page.get_size())
        target.insert_obj(thing)
        target.gen_content()
    small.save(path)


def test_what_is_drawn_and_told_otherwise_is_measured(packet: Path) -> None:
    """Whatever the hashes say: a vertex 0.05 mm off in a DXF and on a layer of work in an SVG, a page shrunk though
    its size is right, a page told to be larger, a piece shifted on its board, a part made too seldom and one taken
    out of the record, which the table, the joints and the stock miss."""
    moved_in_dxf(packet / "parts" / "LEG.dxf")
    moved_in_svg(packet / "parts" / "RIM-B.svg")
    shrunk(packet / "paper" / "one-by-one" / "RIM-A.pdf")

    def change(record: Record) -> None:
        parts = {part["code"]: part for part in record["parts"]}
        board = next(one for one in record["stock"] if one["placements"][0]["code"] == "RIM-A")
        record["paper"]["files"][0]["spreads"][0]["page_size"][0] += 87.0
        board["placements"][0]["x"] += 0.1
        parts["LEG"]["count"] -= 1
        record["parts"].remove(parts["FOOT"])

    altered_record(packet, change)
    owned_up(packet)
    found = differences(packet)
    assert any(said.startswith("parts/LEG.dxf: LEG, outline on top: lies 0.05") for said in found), found
    assert any(said.startswith("parts/RIM-B.svg: RIM-B, outline on top: lies 0.0") for said in found)
    assert any(said.startswith("paper/one-by-one/RIM-A.pdf: ") for said in found)
    assert any("page A1: measures" in said for said in found)
    assert any(said.startswith("stock/") and "RIM-A" in said and "lies 0.1" in said for said in found), found
    assert any(re.search(r"LEG: is made \d times, stands in it \d times", said) for said in found)
    assert any("FOOT: stands in the table, but isn't among the parts" in said for said in found)
    assert any(said.startswith("packet.json: FOOT: meets others") for said in found)
    assert any("is printed, but isn't among the parts" in said for said in found)


def test_a_record_that_breaks_its_schema_is_told_where(packet: Path) -> None:
    """The place in the record is named."""

    def change(record: Record) -> None:
        record["parts"][0]["size"] = [1, 2]

    altered_record(packet, change)
    (said,) = differences(packet)
    assert "parts.0.size" in said


@pytest.mark.parametrize("text", ["", "[]", "{", '{"format": NaN}', "\x00", "[" * 100_000])
def test_what_is_no_packet_is_refused(text: str, tmp_path: Path) -> None:
    """Exit 2 and a plain line, whatever stands in the file."""
    (tmp_path / "packet.json").write_text(text, encoding="utf-8")
    result = CliRunner().invoke(main, ["prove", str(tmp_path)])
    assert result.exit_code == 2, result.output
    assert result.exception is None or isinstance(result.exception, SystemExit)
    assert CliRunner().invoke(main, ["prove", str(tmp_path / "nowhere")]).exit_code == 2
