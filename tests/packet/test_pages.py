"""The page's place in a packet: listed, the same each time, one for each table and one for all."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import replace
from hashlib import sha256
from math import atan2, degrees
from pathlib import Path
from posixpath import dirname, join, normpath
from typing import Any

import pytest

from templategen.packet.make import make_packet
from templategen.packet.page.parts import part_sheet
from templategen.packet.refit import make_refit
from templategen.packet.several import make_packets
from templategen.packet.shipped import shipped_text
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text
from tests.page.shown_angles import article, slants, told_as_cut
from tests.shipped_packets import packet_files, page_of
from tests.table.made import table_of


@pytest.fixture(autouse=True, scope="module")
def quickly() -> Iterator[None]:
    """A tenth of the usual work on layouts."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("templategen.nesting.engines.rectangles.DEFAULT_FILLS", 300)
        yield


def side() -> Profile:
    """The shipped side table."""
    return profile_from_text(shipped_text("towpath-side"), "side")


def links(page: bytes) -> set[str]:
    """What a page links to besides itself."""
    return {href for href in re.findall(r'href="([^"]+)"', page.decode()) if not href.startswith("#")}


@pytest.mark.wide
def test_the_page_alone_is_a_share() -> None:
    """Asked for by itself it comes with the record, which lists it with its hash and size."""
    packet = make_packet(side(), ("page",))
    assert set(packet.files) == {"packet.json", "profile.toml", "index.html"}
    page = packet.files["index.html"]
    told = {"path": "index.html", "sha256": sha256(page).hexdigest(), "bytes": len(page)}
    assert told in packet.record["files"] and len(packet.record["files"]) == 2
    assert links(page) == {"packet.json"}


@pytest.mark.wide
def test_a_page_for_several_tables_counts_them_all() -> None:
    """Of three tables the cut list and the parts' sheets count for three, and the head says so."""
    page = make_packet(side(), ("page", "lists"), tables=3).files["index.html"].decode()
    assert "For 3 tables" in page
    assert "4 (12 for 3 tables) to make of iroko" in page
    assert "all 12 made and measured" in page


@pytest.mark.wide
def test_every_table_has_its_page_and_all_have_one() -> None:
    """The page at the head of the folder leads to the page of each table and to the joint stock; theirs lead back;
    every link leads to a file."""
    other = replace(profile_from_text(shipped_text("towpath-side"), "other"), title="<i>Other</i>")
    both = make_packets([side(), other], ("page", "stock", "lists"))
    pages = {path: data for path, data in both.files.items() if path.endswith("index.html")}
    assert set(pages) == {"index.html", "side/index.html", "other/index.html"}
    for path, page in pages.items():
        assert {normpath(join(dirname(path), href)) for href in links(page)} <= set(both.files)
    assert {"side/index.html", "other/index.html"} <= links(pages["index.html"])
    assert "../index.html" in links(pages["side/index.html"])
    assert "side/LEG" in pages["index.html"].decode() and "<i>" not in pages["index.html"].decode()
    assert {entry["path"] for entry in both.record["files"]} == set(both.files) - {"packet.json"}


@pytest.mark.wide
def test_a_refit_has_a_page(tmp_path: Path) -> None:
    """It shows the ring and a sheet for each part still to cut, with the angles that are now cut, and links what is
    there."""
    measured = tmp_path / "measured.toml"
    measured.write_text('format = 1\n[[measured]]\npart = "RIM-A"\nplace = 1\nleft_angle = 22.8\n', encoding="utf-8")
    packet, found = make_refit(side(), measured, only=("page", "lists"))
    page = packet.files["index.html"]
    assert links(page) <= set(packet.files) and "lists/refit.csv" in links(page)
    for code in found.rebuilt.to_cut:
        assert f'id="parts-{code.lower()}"' in page.decode()
    rims = [part for part in map(found.rest.table.part, found.rebuilt.to_cut) if part.kind == "rim-segment"]
    assert any(angle not in ("22.500", "22.800") for part in rims for angle in slants(part.outline))
    for part in rims:
        told_as_cut(page.decode(), part)


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-inch"])
def test_every_angle_of_a_part_stands_on_its_sheet(name: str) -> None:
    """As many as its outline and its blank have, each with both readings, whether they find room along their edge or
    not."""
    table = table_of({}, name)
    assert sum(slants(part.outline).total() for part in table.parts) > 17
    for part in table.parts:
        told_as_cut(page_of(name), part)


def test_raked_legs_tell_their_angles() -> None:
    """Shoulders, ends and cheeks of a tenon that leans in its leg."""
    table = table_of({"legs.base_centre_distance": 291.0})
    leg = next(part for part in table.parts if part.kind == "leg")
    assert slants(leg.outline).total() == 10
    sheet = part_sheet(table, leg)
    told = "".join(f"<figure>{one.svg}<figcaption>{one.caption}</figcaption></figure>" for one in sheet.pictures)
    told_as_cut(f'<article data-part="{leg.code}">{told}', leg)


@pytest.mark.wide
def test_an_angle_is_told_the_same_wherever_it_is_told() -> None:
    """Cut list, part sheet, set-ups and boards tell the angles of each part's ends as saw and gauge read them."""
    files, page = packet_files("towpath-dining"), page_of("towpath-dining")
    listed = {row["code"]: angles(row["ends"]) for row in rows(files["lists/cut-list.csv"])}
    assert sum(map(bool, listed.values())) > 8
    for row in rows(files["lists/set-ups.csv"]):
        if row["operation"] == "mitre":
            told = f"{float(row['angle_deg']):g}° off square (gauge {float(row['gauge_deg']):g}°)"
            for code in re.findall(r"([A-Z0-9-]+) x\d", row["parts"]):
                assert told in listed[code], (code, told)
    for code, wanted in listed.items():
        shown = set(angles(article(page, code).partition("<details")[0]))
        assert wanted <= shown, code
    boards = page.partition('id="stock"')[2].partition("</section>")[0]
    assert boards.count("mitre, ") > 9
    record = json.loads(files["packet.json"])
    assert angles(boards) == set(slanting(record["stock"], listed))
    assert angles(boards) <= set().union(*listed.values())
    assert " off square" not in re.sub(TOLD, "", boards)


def slanting(pieces: Iterable[Mapping[str, Any]], codes: Collection[str]) -> Iterator[str]:
    """How far off square each slanting end of what is sawn out for some parts is, in the words of a page."""
    for blank in (one for piece in pieces for code, one in piece["sawn_out"].items() if code in codes):
        ring = [(x, y) for x, y, _ in blank["outline"]]
        for (x0, y0), (x1, y1) in zip(ring, (*ring[1:], ring[0]), strict=True):
            off = degrees(atan2(abs(x1 - x0), abs(y1 - y0)))
            if 0.01 < off < 89.99:
                yield f"{round(off, 2):g}° off square (gauge {round(90 - off, 2):g}°)"


TOLD = re.compile(r"\d[\d.]*° off square \(gauge \d[\d.]*°\)")


def angles(text: str) -> set[str]:
    """The angles told in a text, each with its two readings."""
    return set(TOLD.findall(text))


def rows(file: bytes) -> list[dict[str, str]]:
    """The rows of a list."""
    return list(csv.DictReader(io.StringIO(file.decode())))


@pytest.mark.wide
def test_sizes_that_matter_are_told_directly() -> None:
    """By the profile: every hole's diameter and middle, the mortises' middles, what tenons leave, how laps cross."""
    table, page = table_of(), page_of("towpath-dining")
    profile = table.profile
    leg, rail = article(page, "LEG"), article(page, "RAIL-MID")
    assert f"leaves {profile.legs.tenon[0]:g} mm of the thickness, play {profile.joints.glue_clearance:g} mm" in leg
    half = table.part("RAIL-MID").outline.bounds.width / 2
    side = profile.top.rail_width / 2
    assert (
        f"hole right through, diameter {profile.top.pole_hole:g} mm, middle {half:g} from the left, {side:g}" in rail
    )
    left, right = (f"{half + way * profile.legs.centre_distance:g}" for way in (-1, 1))
    assert re.search(rf"mortise, [^;]*middles {left} and {right} from the left, {side:g} from below", rail)
    lap = next(one for one in table.part("RAIL-MID").features if one.kind == "lap")
    wide = f"{profile.top.rail_width + lap.clearance:.2f}"
    assert f"mm deep, {wide} mm wide, 30° off square (gauge 60°), play {lap.clearance:.2f} mm across" in rail
    for part in table.parts:
        for hole in part.holes:
            assert hole.circle is not None
            assert f"diameter {2 * hole.circle[1]:g} mm" in article(page, part.code)
