"""Packets of several tables and of a re-fit are held against their profiles like single ones, under a true seal."""

from __future__ import annotations

import json
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from templategen.output.packet_json import dumps, sealed
from templategen.packet.build import built
from templategen.packet.proved import proved
from templategen.packet.refit import MEASURED_FILE, make_refit
from templategen.packet.several import make_packets
from templategen.packet.shipped import shipped_text
from templategen.packet.write import write_packet
from templategen.table.profile.read import profile_from_text, read_profile

Record = dict[str, Any]


def resealed(folder: Path, change: Callable[[Record], None], path: str = "", data: bytes = b"") -> None:
    """The record changed, and a file as well, as if what wrote them were wrong: hashes and seal agree."""
    record = json.loads((folder / "packet.json").read_text())
    change(record)
    if path:
        (folder / path).write_bytes(data)
        for entry in record["files"]:
            if entry["path"] == path:
                entry |= {"sha256": sha256(data).hexdigest(), "bytes": len(data)}
    (folder / "packet.json").write_text(dumps(sealed(record)))


@pytest.fixture(scope="module")
def refitted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A re-fit of the side table after one segment came out long."""
    folder = tmp_path_factory.mktemp("refit")
    profile = folder / "side.toml"
    profile.write_text(shipped_text("towpath-side"))
    length = round(built(profile).sizes.inner_length + 0.3, 2)
    bench = folder / "bench.toml"
    bench.write_text(f'format = 1\n[[measured]]\npart = "RIM-A"\nleft_angle = 22.6\nlength = "{length} mm"\n')
    packet, _ = make_refit(read_profile(profile), bench, only=("parts", "lists"))
    return write_packet(packet, folder / "rest")


@pytest.mark.wide
def test_a_refit_is_held_against_profile_and_measures(refitted: Path) -> None:
    """True as written; a gap and the measures themselves are found when they are changed."""
    assert proved(refitted).true, proved(refitted).differences
    kept = {path: path.read_bytes() for path in refitted.rglob("*") if path.is_file()}

    def gap(record: Record) -> None:
        record["refit"]["gaps"][0] += 0.06

    bench = (refitted / MEASURED_FILE).read_bytes().replace(b"22.6", b"22.4")
    for change, path, data in ((gap, "", b""), (lambda _: None, MEASURED_FILE, bench)):
        resealed(refitted, change, path, data)
        assert not proved(refitted).true, path or change
        for one, was in kept.items():
            one.write_bytes(was)


@pytest.mark.wide
def test_stock_of_several_is_held_against_their_profiles(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """True as written; a price on the shared stock and a figure in a list of all are found."""
    monkeypatch.setattr("templategen.nesting.engines.rectangles.DEFAULT_FILLS", 60)
    text = shipped_text("towpath-side")
    profiles = [
        profile_from_text(text.replace("diameter = 560", f"diameter = {size}"), f"t{size}") for size in (560, 568)
    ]
    folder = write_packet(make_packets(profiles, ("stock", "lists")), tmp_path / "out")
    assert proved(folder).true, proved(folder).differences

    def price(record: Record) -> None:
        record["stock"][0]["price"] += 1.0

    kept = (folder / "packet.json").read_bytes()
    resealed(folder, price)
    assert not proved(folder).true
    (folder / "packet.json").write_bytes(kept)
    rows = (folder / "lists/cut-list.csv").read_bytes()
    other = rows.replace(b"RIM-A", b"RIM-Z", 1)
    assert other != rows
    resealed(folder, lambda _: None, "lists/cut-list.csv", other)
    assert any(one.file == "lists/cut-list.csv" for one in proved(folder).differences)
