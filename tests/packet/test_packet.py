"""The packet as written: the contract's files, sizes read back by other libraries, the same bytes each time."""

from __future__ import annotations

import csv
import json
import re
from collections import Counter
from hashlib import sha256
from math import hypot
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from templategen.checks.describe import said
from templategen.cli import main
from templategen.drawing.cut_words import cut_words
from templategen.jigs.jig import KINDS
from templategen.packet.make import make_packet
from templategen.packet.page.buy import cut_list
from templategen.packet.page.glance import _facts as glance_facts
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.packet.stages import LAID, WORK
from templategen.packet.table_stages import CHECKED, TABLE, begun
from templategen.packet.write import write_packet
from templategen.shop.rough import rough_of, rough_size
from templategen.table.profile.read import profile_from_text
from tests.gdal import layered
from tests.shipped_packets import packet_files, packet_folder
from tests.table.made import TIGHT, profile_of

pytest.importorskip("pyogrio")


def record(folder: Path) -> dict[str, Any]:
    """The packet's record."""
    return json.loads((folder / "packet.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", shipped_names())
def test_record_lists_every_file_with_its_hash(name: str) -> None:
    """packet.json names just the files there are, with their size and SHA-256."""
    folder = packet_folder(name)
    listed = {file["path"]: file for file in record(folder)["files"]}
    there = {str(p.relative_to(folder)) for p in folder.rglob("*") if p.is_file()} - {"packet.json"}
    assert set(listed) == there
    for path, file in listed.items():
        data = (folder / path).read_bytes()
        assert (len(data), sha256(data).hexdigest()) == (file["bytes"], file["sha256"])


@pytest.mark.parametrize("name", shipped_names())
def test_counts_agree_with_places_and_stock(name: str) -> None:
    """Each part is placed in the table, and laid on stock, exactly as often as it is counted; so are the jigs' pieces
    where there is sheet for them."""
    told = record(packet_folder(name))
    counts = {part["code"]: part["count"] for part in told["parts"] if part["kind"] not in KINDS}
    jigs = {part["code"]: part["count"] for part in told["parts"] if part["kind"] in KINDS}
    placed = [spot["code"] for spot in told["placed"]]
    laid = pieces_laid(told)
    assert {code: placed.count(code) for code in set(placed)} == counts
    assert {code: laid[code] for code in set(laid) - set(jigs)} == counts
    assert jigs
    assert all(laid[code] == jigs[code] for code in set(laid) & set(jigs))
    assert told["unplaced"] == {}


def pieces_laid(told: Any) -> Counter[str]:
    """Pieces by code on all boards and sheets: a strip holds several."""
    laid: Counter[str] = Counter()
    for sheet in told["stock"]:
        for spot in sheet["placements"]:
            laid[spot["code"]] += sheet["sawn_out"].get(spot["code"], {}).get("pieces", 1)
    return laid


def shell(path: Path, layer: str) -> list[Any]:
    """Outlines on a layer of a DXF, read by GDAL with arcs finely stepped."""
    return [shape for name, shape in layered(path) if name == layer]


@pytest.fixture(scope="module")
def worked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Parts of the table that was worked by hand: seven slats of 58 mm, shoulders against their rails."""
    profile = profile_of(TIGHT | {"slats.hold": "width"})
    return write_packet(make_packet(profile, ("parts",)), tmp_path_factory.mktemp("worked") / "packet")


@pytest.mark.wide
def test_worked_figures_come_out_of_the_written_dxf(worked: Path) -> None:
    """The dining table's segment, slats and rails measure as worked by hand when GDAL reads their DXF."""
    parts = worked / "parts"
    (blank,) = shell(parts / "RIM-A.dxf", "BLANK_OUTLINE")
    xs = sorted(x for x, _ in blank.exterior.coords[:-1])
    assert xs[2] - xs[1] == pytest.approx(294.208213, abs=1e-6)
    assert xs[3] - xs[0] == pytest.approx(361.731410, abs=1e-6)
    (segment,) = shell(parts / "RIM-A.dxf", "THROUGH_OUTSIDE")
    assert segment.area == pytest.approx(36761.590635, rel=1e-7)
    tongues = (105.511, 180.999, 256.488, 331.976, 407.465, 482.954, 511.771)
    for number, length in enumerate(tongues, 1):
        (slat,) = shell(parts / f"SLAT-{number:02d}.dxf", "THROUGH_OUTSIDE")
        assert slat.bounds[2] - slat.bounds[0] == pytest.approx(length, abs=5e-4)


@pytest.mark.wide
def test_slat_bodies_come_out_of_the_written_dxf(worked: Path) -> None:
    """What a slat's outline leaves outside its tongue rebates is as long as worked by hand."""
    parts = worked / "parts"
    bodies = (75.489, 150.977, 226.466, 301.954, 377.443, 452.931, 476.254)
    for number, length in enumerate(bodies, 1):
        path = parts / f"SLAT-{number:02d}.dxf"
        (slat,) = shell(path, "THROUGH_OUTSIDE")
        for rebate in shell(path, "TOP_TONGUE_5_05MM"):
            slat = slat.difference(rebate)
        slat = max(getattr(slat, "geoms", [slat]), key=lambda piece: piece.area)
        assert slat.bounds[2] - slat.bounds[0] == pytest.approx(length, abs=5e-4)


@pytest.mark.wide
def test_worked_figures_come_out_of_the_record(worked: Path) -> None:
    """packet.json holds the worked figures to its last digit."""
    told = record(worked)
    assert told["table"]["inner_apothem"] == 549.0
    assert told["table"]["slats_per_field"] == 7 and told["table"]["slat_gap"] == 7.375
    parts = {part["code"]: part for part in told["parts"]}
    inner_left, inner_right, outer_right, outer_left = parts["RIM-A"]["blank"]
    assert inner_right[0] - inner_left[0] == pytest.approx(294.208213, abs=1e-6)
    assert outer_right[0] - outer_left[0] == pytest.approx(361.731410, abs=1e-6)
    face = hypot(outer_right[0] - inner_right[0], outer_right[1] - inner_right[1])
    assert face == pytest.approx(130.444799, abs=1e-6)
    body = [x for x, _, _ in parts["SLAT-07"]["body"]]
    assert max(body) - min(body) == pytest.approx(476.254, abs=5e-4)


def test_only_some_shares_are_made(tmp_path: Path) -> None:
    """--only lists writes the lists and the record and nothing else; an unknown share is refused."""
    profile = str(packet_folder("towpath-side").parent / "towpath-side.toml")
    result = CliRunner().invoke(main, ["make", profile, "-o", str(tmp_path / "p"), "--only", "lists"])
    assert result.exit_code == 0
    there = {str(p.relative_to(tmp_path / "p")) for p in (tmp_path / "p").rglob("*") if p.is_file()}
    assert {"packet.json", "lists/cut-list.csv", "lists/buy-list.csv", "lists/set-ups.csv"} <= there
    assert all(path.startswith("lists/") for path in there - {"packet.json", "profile.toml"})
    for share in ("jig", "everything", ""):
        refused = CliRunner().invoke(main, ["make", profile, "-o", str(tmp_path / "q"), "--only", share])
        assert refused.exit_code == 2 and not (tmp_path / "q").exists()


@pytest.mark.wide
def test_inch_lists_show_fractions_and_their_error() -> None:
    """The inch table's cut list holds 64ths of an inch whose error, added back, gives the exact size."""
    with (packet_folder("towpath-inch") / "lists/cut-list.csv").open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert rows
    for row in rows:
        words = row["length_in"].removesuffix(" in").split("-")
        whole = sum(eval_fraction(word) for word in words)
        exact = float(row["length_mm"])
        assert whole * 25.4 - float(row["length_in_error_mm"]) == pytest.approx(exact, abs=0.006)
        assert abs(float(row["length_in_error_mm"])) <= 25.4 / 128 + 1e-9


def eval_fraction(word: str) -> float:
    """A whole number or a fraction."""
    top, _, bottom = word.partition("/")
    return int(top) / int(bottom or 1)


@pytest.mark.wide
def test_shortage_is_a_stop_and_still_written(tmp_path: Path) -> None:
    """Too little stock exits 1, names what is left over, and writes a packet marked as not settled."""
    text = shipped_text("towpath-dining").replace("count = 6", "count = 1")
    profile = tmp_path / "short.toml"
    profile.write_text(text, encoding="utf-8")
    result = CliRunner().invoke(main, ["make", str(profile), "-o", str(tmp_path / "p"), "--only", "stock"])
    assert result.exit_code == 1
    told = record(tmp_path / "p")
    assert told["unplaced"] and told["settled"] is False
    stop = next(finding for finding in told["findings"] if finding["level"] == "stop")
    assert stop["where"] == "stock" and "RIM" in stop["says"]


@pytest.mark.wide
def test_five_lines_make_a_whole_table(tmp_path: Path) -> None:
    """A profile of a few lines makes a packet from the defaults and says that it lists no stock."""
    profile = tmp_path / "short.toml"
    profile.write_text('format = 1\ntitle = "Terrace"\n[top]\ndiameter = 1200\n', encoding="utf-8")
    result = CliRunner().invoke(
        main, ["make", str(profile), "-o", str(tmp_path / "p"), "--only", "parts", "--only", "lists"]
    )
    assert result.exit_code == 0, result.output
    assert "lists no stock" in result.stdout
    assert {one.name for one in (tmp_path / "p").iterdir()} >= {"parts", "lists"}, (
        "each --only adds to the one before"
    )


def test_nothing_is_written_when_the_table_cannot_be_built(tmp_path: Path) -> None:
    """An impossible design leaves an earlier packet untouched and makes no folder."""
    profile = tmp_path / "bad.toml"
    profile.write_text("format = 1\n[top]\nrim_width = 40\n", encoding="utf-8")
    old = tmp_path / "p"
    old.mkdir()
    (old / "packet.json").write_text("{}", encoding="utf-8")
    result = CliRunner().invoke(main, ["make", str(profile), "-o", str(old)])
    assert result.exit_code == 2
    assert [p.name for p in tmp_path.iterdir()] == ["bad.toml", "p"] or {p.name for p in tmp_path.iterdir()} == {
        "bad.toml",
        "p",
    }
    assert (old / "packet.json").read_text(encoding="utf-8") == "{}"


@pytest.mark.wide
def test_a_length_in_inches_is_never_followed_by_in() -> None:
    """`5/32 in in the middle` reads as a misprint."""
    for path, data in packet_files("towpath-inch").items():
        if path.endswith((".html", ".csv", ".json", ".svg")):
            assert not re.findall(r"\d in in [^<]{0,30}", data.decode()), path


def test_rough_sizes_are_rounded_once() -> None:
    """The plan tells the length and the width to saw out as the cut list on the page does, and cuts as both."""
    worked = begun(profile_from_text(shipped_text("towpath-inch"), "inch"), ("stock",))
    table, plan = worked[TABLE], worked[WORK]
    (grid,) = cut_list(table, 1).grids
    told = "\n".join(
        line for one in plan.operations for line in one.operation.tells if one.operation.does == "saw out"
    )
    for row in grid.rows:
        long, wide = str(row[-1]).split(", ")[-1].removesuffix(" in").split(" x ")
        assert re.search(rf"^{row[0]}: .*, {re.escape(long)} in long, {re.escape(wide)} in wide$", told, re.M), row
    stops = {
        line.rpartition("stop at ")[2]
        for one in worked[LAID].sheets
        for line in cut_words(one.cuts, one.settings, table.profile.units)
    }
    blanks = [rough_of(table.profile.shop, part) for part in table.parts if part.kind == "slat"]
    assert sum(rough_size(blank.length, "in") in stops for blank in blanks) > len(blanks) / 2


@pytest.mark.parametrize("name", shipped_names())
def test_head_and_finding_weigh_the_same(name: str) -> None:
    """The table's mass is rounded once, and then told in the maker's unit."""
    worked = begun(profile_from_text(shipped_text(name), name))
    table, findings = worked[TABLE], worked[CHECKED]
    units, found = table.profile.units, next(one for one in findings if one.kind == "mass")
    told = said("about {mass:kg}; two persons lift it", units, mass=found.measured)
    assert told in dict(glance_facts(table, 1, findings)).values()
