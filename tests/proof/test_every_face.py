"""Work on any face that is drawn 0.05 mm off is found in the file alone, without a twin to hold it against."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from itertools import pairwise

import pytest

from templategen.packet.make import make_packet
from templategen.packet.shipped import shipped_text
from templategen.proof.difference import Difference
from templategen.proof.part_files import part_differences
from templategen.proof.recorded import Recorded
from templategen.table.profile.read import profile_from_text

WORKED = re.compile(
    r"GROOVE|TONGUE|TENON|MORTISE|LAP|SPLINE|HOLE|ROUND_OVER|CHAMFER|RELIEF|HIDDEN|FACE|BLANK|THROUGH"
)
OFF = 0.05

Lines = list[str]


@cache
def made(name: str) -> tuple[dict[str, bytes], dict[str, Recorded]]:
    """Files and parts of a shipped table."""
    packet = make_packet(profile_from_text(shipped_text(name), name), ("parts",))
    return dict(packet.files), {part["code"]: Recorded(part) for part in packet.record["parts"]}


def found(name: str, path: str, data: bytes) -> list[Difference]:
    """What is said of one file by itself."""
    return list(part_differences(made(name)[1][path[6:-4]], {path: data}, Counter()))


def entities(text: str) -> Iterator[tuple[int, int, str]]:
    """First line, line past the last, and layer of each entity of a DXF."""
    lines = text.split("\n")
    start = next(i for i in range(len(lines)) if lines[i] == "ENTITIES") + 1
    stops = [i for i in range(start, len(lines), 2) if lines[i].strip() == "0"]
    for first, last in pairwise(stops):
        codes = dict(zip(lines[first:last:2], lines[first + 1 : last : 2], strict=True))
        if "  8" in codes:
            yield first, last, codes["  8"]


def moved(text: str, first: int, last: int, across: float, up: float) -> bytes:
    """The file with one entity moved."""
    lines = text.split("\n")
    for i in range(first, last, 2):
        code = lines[i].strip()
        if code in ("10", "11"):
            lines[i + 1] = repr(float(lines[i + 1]) + across)
        if code in ("20", "21"):
            lines[i + 1] = repr(float(lines[i + 1]) + up)
    return "\n".join(lines).encode()


def missed(name: str, parts: str, ways: int) -> list[tuple[str, str, int]]:
    """Entities of wood and work, each moved by 0.05 mm `ways` ways in its DXF alone, of which nothing is said."""
    unseen = []
    tried = 0
    for path in sorted(path for path in made(name)[0] if re.fullmatch(rf"parts/({parts})\.dxf", path)):
        text = made(name)[0][path].decode()
        for first, last, layer in entities(text):
            if WORKED.search(layer):
                for across, up in ((OFF, 0.0), (0.0, -OFF))[tried % 2 if ways == 1 else 0 :][:ways]:
                    tried += 1
                    if not found(name, path, moved(text, first, last, across, up)):
                        unseen.append((path, layer, first))
    assert tried > 70
    return unseen


@pytest.mark.wide
def test_every_line_of_work_that_is_moved_is_found() -> None:
    """The work of a mitred segment, a lapped and grooved rail and a slat, on all faces; a blank's view that only
    stands lower is no miss."""
    unseen = missed("towpath-dining", "RIM-A|RAIL-MID|SLAT-02", 1)
    assert [one for one in unseen if one[1] != "BLANK_OUTLINE"] == []


@pytest.mark.slow
@pytest.mark.parametrize("name", ["towpath-side", "towpath-dining", "towpath-hex", "towpath-inch"])
def test_every_line_of_every_part_that_is_moved_is_found(name: str) -> None:
    """The same for all parts of the shipped tables."""
    assert [one for one in missed(name, ".*", 2) if one[1] != "BLANK_OUTLINE"] == []


@pytest.mark.wide
def test_counts_are_by_kind_and_face() -> None:
    """Every feature of the rim is measured once in each of its files."""
    files, parts = made("towpath-dining")
    measured: Counter[tuple[str, str]] = Counter()
    own = {path: data for path, data in files.items() if path.startswith("parts/RIM-A.")}
    assert not list(part_differences(parts["RIM-A"], own, measured))
    assert measured == {
        ("round-over", "top"): 2, ("round-over", "bottom"): 2, ("groove", "edge"): 2, ("spline-slot", "end"): 4,
        ("chamfer", "top"): 2, ("chamfer", "bottom"): 2,
    }  # fmt: skip


def test_a_depth_in_a_layer_s_name_is_measured() -> None:
    """A groove whose layer tells another depth isn't the groove of the record."""
    files, _ = made("towpath-dining")
    text = files["parts/RIM-A.dxf"].decode()
    assert "EDGE1_GROOVE_14MM" in text
    for other in ("EDGE1_GROOVE_15MM", "EDGE2_GROOVE_14MM", "EDGE1_GROOVE_14IN"):
        said = found("towpath-dining", "parts/RIM-A.dxf", text.replace("EDGE1_GROOVE_14MM", other).encode())
        assert any("groove on edge-1" in str(one) for one in said), said


def test_views_that_change_their_titles_are_found() -> None:
    """An end's view under the other end's name has its slot on the wrong side."""
    files, _ = made("towpath-dining")
    text = files["parts/RIM-A.dxf"].decode()
    one, other = "\nend 1 (right end)\n", "\nend 2 (left end)\n"
    assert text.count(one) == text.count(other) == 1
    swapped = text.replace(one, "\nend X\n").replace(other, one).replace("\nend X\n", other)
    assert found("towpath-dining", "parts/RIM-A.dxf", swapped.encode())
    assert found("towpath-dining", "parts/RIM-A.dxf", text.replace(one, "\nend 3 (right end)\n").encode())
    assert found("towpath-dining", "parts/RIM-A.dxf", text.replace(one, "\nend 1 (left end)\n").encode())


def test_work_that_is_drawn_twice_or_too_much_is_found() -> None:
    """A line on a layer of work that no feature has."""
    files, _ = made("towpath-dining")
    text = files["parts/RAIL-MID.dxf"].decode()
    lines = text.split("\n")
    for first, last, layer in entities(text):
        if re.search("LAP|GROOVE|HIDDEN", layer):
            doubled = "\n".join((*lines[:last], *lines[first:last], *lines[last:])).encode()
            if not layer.startswith("HIDDEN"):
                assert found("towpath-dining", "parts/RAIL-MID.dxf", doubled), layer
            less = "\n".join((*lines[:first], *lines[last:])).encode()
            assert found("towpath-dining", "parts/RAIL-MID.dxf", less), layer
