"""Whatever a packet's folder holds, the proof ends in words, soon and without a traceback."""

from __future__ import annotations

import copy
import json
import re
from collections import Counter
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from templategen.cli import main
from templategen.output.packet_json import sealed
from templategen.packet.make import make_packet
from templategen.packet.shipped import shipped_text
from templategen.packet.write import write_packet
from templategen.proof.lists import list_differences
from templategen.proof.read_dxf import read_dxf
from templategen.proof.read_pdf import read_pdf
from templategen.proof.read_svg import read_svg
from templategen.table.profile.read import profile_from_text

Record = dict[str, Any]


@pytest.fixture(scope="module")
def packet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small packet: parts and paper."""
    made = make_packet(profile_from_text(shipped_text("towpath-side"), "towpath-side"), ("parts", "paper", "lists"))
    return write_packet(made, tmp_path_factory.mktemp("damaged") / "side")


def proved(folder: Path) -> Result:
    """The command's outcome, which must not be a traceback."""
    result = CliRunner().invoke(main, ["prove", str(folder)])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def with_record(packet: Path, record: Record) -> Path:
    """The record in place of the packet's own, its seal made to agree."""
    (packet / "packet.json").write_text(json.dumps(sealed(record)), encoding="utf-8")
    return packet


PLACES = ("parts.0.files", "parts.0.outline", "stock", "paper.files.0.path", "paper.matrix", "placed.0.at", "jigs",
          "files.0.path", "paper.files.0.spreads.0.origins", "joints.0.parts", "parts.0.faces")  # fmt: skip


@pytest.mark.parametrize("where", PLACES)
@pytest.mark.parametrize("value", [[["a"]], 10**14, None])
def test_a_share_of_another_kind_is_told(packet: Path, where: str, value: Any) -> None:
    """Lists where paths belong, words where numbers do, numbers that are huge."""
    text = (packet / "packet.json").read_text(encoding="utf-8")
    record = json.loads(text)
    *path, last = [int(step) if step.isdigit() else step for step in where.split(".")]
    holder: Any = record
    for step in path:
        holder = holder[step]
    if copy.deepcopy(holder[last]) == value:
        return
    holder[last] = value
    files = record["files"] if isinstance(record["files"], list) else []
    record["files"] = [one for one in files if not str(one.get("path")).endswith((".pdf", ".svg"))]
    try:
        assert proved(with_record(packet, record)).exit_code == 1
    finally:
        (packet / "packet.json").write_text(text, encoding="utf-8")


@pytest.mark.parametrize("number", ["1" + "0" * 400, "1e400", "-1e300", "9" * 5000])
def test_numbers_beyond_any_table_are_refused(packet: Path, number: str) -> None:
    """No reckoning is begun with them."""
    text = (packet / "packet.json").read_text(encoding="utf-8")
    (packet / "packet.json").write_text(text.replace('"count": ', f'"count": {number}, "was": ', 1), encoding="utf-8")
    try:
        assert proved(packet).exit_code == 2
    finally:
        (packet / "packet.json").write_text(text, encoding="utf-8")


@pytest.mark.wide
def test_what_was_altered_is_told_and_no_more_of_it(packet: Path) -> None:
    """A digit of the record breaks its seal, whatever else agrees; a drawing that isn't the packet's is told by its
    bytes alone; links, in a circle or out of the folder, are told and not followed."""
    record, drawing, link = packet / "packet.json", packet / "parts" / "LEG.dxf", packet / "parts" / "round"
    text, data = record.read_text(encoding="utf-8"), drawing.read_bytes()
    record.write_text(text.replace('"minutes": 1', '"minutes": 2', 1), encoding="utf-8")
    drawing.write_bytes(b"0\nEOF\n")
    link.symlink_to(packet)
    try:
        said = proved(packet).output.splitlines()
    finally:
        record.write_text(text, encoding="utf-8")
        drawing.write_bytes(data)
        link.unlink()
    assert any("was altered since it was written" in line for line in said)
    of_drawing = [line for line in said if "parts/LEG.dxf" in line]
    assert len(of_drawing) == 1 and "bytes" in of_drawing[0]
    assert any("parts/round: isn't in the record" in line for line in said)


LOOP = b"""%PDF-1.6
1 0 obj
<< /Type /Catalog /Pages 2 0 R >>
endobj
2 0 obj
<< /Type /Pages /Count 1000000 /Kids [ 2 0 R 2 0 R ] >>
endobj
trailer
<< /Root 1 0 R /Size 3 >>
startxref
0
%%EOF
"""


@pytest.mark.parametrize("data", [LOOP, LOOP.replace(b"2 0 R 2 0 R", b""), b"", b"%PDF", b"\0" * 9000, LOOP * 50])
def test_pages_that_lead_in_a_circle_are_refused(data: bytes) -> None:
    """Neither endless nor a traceback."""
    with pytest.raises(Exception, match="can't be read as PDF"):
        read_pdf(data)


def test_a_stream_that_unpacks_without_end_is_refused() -> None:
    """A few kilobytes that stand for gigabytes."""
    import zlib

    packed = zlib.compress(b" " * 70_000_000, 9)
    told = b"%%PDF-1.6\n1 0 obj\n<< /Filter [ /FlateDecode ] /Length %d >>\nstream\n" % len(packed)
    with pytest.raises(Exception, match="unpacks without end"):
        read_pdf(told + packed + b"endstream\nendobj\n%%EOF\n")


EMPTY = b"0\nSECTION\n2\nHEADER\n0\nENDSEC\n0\nEOF\n"


@pytest.mark.parametrize(
    "data", [b"", b"0", b"0\nSECTION\n", b"\xff" * 999, EMPTY, EMPTY * 9, b"9" * 9999 + b"\nX\n"]
)
def test_broken_drawings_are_refused(data: bytes) -> None:
    """DXF and SVG alike."""
    for read, kind in ((read_dxf, "DXF"), (read_svg, "SVG")):
        with pytest.raises(Exception, match=f"can't be read as {kind}"):
            read(data)


def test_nested_elements_without_end_are_refused() -> None:
    """An SVG of fifty thousand groups in each other."""
    with pytest.raises(Exception, match="can't be read as SVG"):
        read_svg(b'<svg xmlns="http://www.w3.org/2000/svg">' + b"<g>" * 50_000 + b"</g>" * 50_000 + b"</svg>")


def test_a_long_cell_is_told() -> None:
    """A list whose cell is longer than a reader of lists takes."""

    class One:
        def read(self, path: str) -> bytes | None:
            return b"code,count\n" + b"x" * 200_000 + b",1\n" if path.endswith("cut-list.csv") else None

    said = list(list_differences({"parts": [], "stock": []}, One(), Counter()))  # type: ignore[arg-type]
    assert len(said) == 1 and "can't be read" in said[0].says


@pytest.mark.wide
def test_the_kept_profile_must_be_the_record_s(packet: Path) -> None:
    """Another profile in its place, hashes and all, makes another table."""
    text, profile = (packet / "packet.json").read_text(encoding="utf-8"), (packet / "profile.toml").read_bytes()
    record = json.loads(text)
    other = re.sub(rb"diameter = (\d+)", lambda match: b"diameter = %d" % (int(match[1]) + 4), profile, count=1)
    assert other != profile
    (packet / "profile.toml").write_bytes(other)
    digest = sha256(other).hexdigest()
    record["profile_sha256"] = digest
    for file in record["files"]:
        if file["path"] == "profile.toml":
            file.update(sha256=digest, bytes=len(other))
    try:
        said = proved(with_record(packet, record)).output
        assert "table.diameter" in said
    finally:
        (packet / "packet.json").write_text(text, encoding="utf-8")
        (packet / "profile.toml").write_bytes(profile)
