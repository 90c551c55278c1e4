"""Every eased edge of a written packet: its solid, set-up, router file, sheet and cautions tell of the same one."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterator
from functools import cache
from typing import Any

import ezdxf
import numpy
import pytest
import shapely

from tests.shipped_packets import packet_files

NAME, HEX = "towpath-side", "towpath-hex"
TAKES = {"chamfer": 2**-0.5, "round-over": 2**0.5 - 1}
"""How far the cut passes the arris by, as a share of its size: a bevel, a quarter round."""

FACES = {"top": "top", "bottom": "underside"}
IN_THE_RING = "round over"


@cache
def record(name: str = NAME) -> Any:
    """The packet's own record."""
    return json.loads(packet_files(name)["packet.json"])


def rows(path: str, name: str = NAME) -> list[dict[str, str]]:
    """A list, row by row."""
    return list(csv.DictReader(io.StringIO(packet_files(name)[path].decode("utf-8-sig"))))


@cache
def scene(name: str) -> Any:
    """The solids that the packet's page turns."""
    found = re.search(r'<script type="application/json" id="scene">(.*?)</script>',
                      packet_files(name)["index.html"].decode(), re.S)  # fmt: skip
    assert found is not None
    return json.loads(found[1])


class Solid:
    """A part's solid on the page, by the corners of its facets."""

    def __init__(self, code: str, name: str = NAME) -> None:
        solid = scene(name)["solids"][code]
        corners = numpy.array(solid["p"]).reshape(-1, 3) / scene(name)["per_mm"]
        self.facets = [corners[numpy.array(solid["f"]).reshape(-1, 4)[:, k]] for k in range(3)]

    def off(self, arris: tuple[float, float, float]) -> float:
        """How far its surface stands off what was a sharp arris."""
        return nearest(numpy.array(arris), *self.facets)


def eased() -> Iterator[tuple[Any, Any]]:
    """Every part with each of its eased strips."""
    for part in record()["parts"]:
        for feature in part["features"]:
            if feature["kind"] in TAKES:
                yield part, feature


def ring(corners: Any, over: bool = False) -> shapely.Polygon:
    """An outline of straight edges; the side table's strips have no others but round the ground cross's ends."""
    return shapely.Polygon([(-x if over else x, y) for x, y, *_ in corners])


def along(part: Any, feature: Any) -> shapely.Geometry:
    """The wood's edge that a strip lies along, in the face's frame: its longest side there."""
    over = feature["face"] == "bottom"
    wood, strip = ring(part["outline"], over).boundary.buffer(1e-3), ring(feature["outline"])
    sides = [shapely.LineString(pair) for pair in zip(strip.exterior.coords, strip.exterior.coords[1:], strict=False)]
    return max((side for side in sides if wood.covers(side)), key=lambda side: side.length)


@pytest.mark.wide
def test_solids_are_cut_where_the_record_eases_them() -> None:
    """From the middle of each arris to the surface of the solid that the page turns it is as far as the bit takes."""
    count = 0
    for part, feature in eased():
        solid = Solid(part["code"])
        u, v = along(part, feature).interpolate(0.5, normalized=True).coords[0]
        over = feature["face"] == "bottom"
        wanted = TAKES[feature["kind"]] * feature["depth"]
        off = solid.off((-u if over else u, v, 0.0 if over else part["size"][2]))
        assert abs(off - wanted) < 0.2, (part["code"], feature["operation"])
        count += 1
    assert count > 40


def nearest(point: Any, a: Any, b: Any, c: Any) -> float:
    """How far a point is from the triangles over or under which it stands, else from those that begin half a
    millimetre beside it: two facets of a round meet where it is nearest."""
    normal = numpy.cross(b - a, c - a)
    size = numpy.linalg.norm(normal, axis=1)
    large = size > 0.1
    a, b, c, normal = a[large], b[large], c[large], normal[large] / size[large, None]
    off = ((point - a) * normal).sum(axis=1)
    foot = point - off[:, None] * normal
    inside = numpy.min(
        [
            (numpy.cross(q - p, foot - p) * normal).sum(axis=1) / numpy.linalg.norm(q - p, axis=1)
            for p, q in ((a, b), (b, c), (c, a))
        ],
        axis=0,
    )
    over = inside > 0 if (inside > 0).any() else inside > -0.5
    return float(abs(off[over]).min())


def test_set_ups_ease_what_the_record_does() -> None:
    """Each part's faces are eased by a bit of that kind and size, with the router's caution, and the ring's outer
    edge alone after it is glued."""
    told = set()
    for row in rows("lists/set-ups.csv"):
        kind = row["operation"].removeprefix("edge ")
        if kind in TAKES:
            assert row["tool"] == f"{kind} bit" and "Router: work clamped" in row["cautions"]
            for code in re.findall(r"([\w-]+) x\d+", row["parts"]):
                for up in row["up"].split(", then "):
                    size = float(row["size_mm"] or row["radius_mm"])
                    told.add((code, up, kind, size, row["operation"].startswith("edge ")))
    wanted = {
        (part["code"], FACES[f["face"]], f["kind"], f["depth"], f["operation"] == IN_THE_RING) for part, f in eased()
    }
    assert told == wanted
    plan = rows("lists/plan.csv")
    of = {row["set_up"]: row["on"] for row in plan if row["operation"].removeprefix("edge ") in TAKES}
    late = {row["set_up"] for row in plan if row["operation"].startswith("edge ")}
    assert len(late) == 1 and all((on == "group") == (number in late) for number, on in of.items())


@pytest.mark.wide
def test_between_relieved_feet_all_files_ease_the_same_edges() -> None:
    """On the floor of the relief, from past the foot to short of the laps: solid, set-up, router file."""
    part = next(one for one in record(HEX)["parts"] if one["code"] == "BASE-LOW")
    straight = (one for one in part["features"] if one["kind"] in ("relief", "lap") or "floor" in one)
    works = [(one, ring(one["outline"], one["face"] == "bottom").bounds) for one in straight]
    (relief,) = [(one["depth"], box) for one, box in works if one["kind"] == "relief"]
    lap = max(box[2] for one, box in works if one["kind"] == "lap")
    found = [(one, box) for one, box in works if "floor" in one]
    assert len(found) == 4 and {one["floor"] for one, _ in found} == {relief[0]}
    solid, half = Solid(part["code"], HEX), part["size"][0] / 2
    for feature, box in found:
        size, ends = feature["depth"], sorted((abs(box[0]), abs(box[2])))
        assert ends[0] == pytest.approx(lap + 10) and ends[1] == pytest.approx(relief[1][2] - 10 - size)
        u, v = along(part, feature).interpolate(0.5, normalized=True).coords[0]
        assert abs(solid.off((-u, v, relief[0])) - size / 2**0.5) < 0.2
        (row,) = [one for one in rows("lists/set-ups.csv", HEX) if one["start_mm"] and "BASE-LOW x1" in one["parts"]]
        assert [float(row[name]) for name in ("size_mm", "start_mm", "stop_mm")] == pytest.approx(
            [size, half - ends[1], half - ends[0]], abs=0.005
        )
    drawing = ezdxf.read(io.StringIO(packet_files(HEX)["router/BASE-LOW-bottom.dxf"].decode()))  # type: ignore[attr-defined]
    layer = f"EASED_EDGE_{relief[0]:g}MM"
    lines = [
        (one.dxf.start.x - half, one.dxf.end.x - half) for one in drawing.modelspace().query(f'*[layer=="{layer}"]')
    ]
    wanted = sorted((box[0], box[2]) for _, box in found)
    assert numpy.allclose(sorted((min(line), max(line)) for line in lines), wanted, rtol=0, atol=1e-6)


def test_router_files_show_what_is_eased_afterwards() -> None:
    """Lines on the wood's edges, as long as the strips, and a note of kind and size; what no line shows is told."""
    checked = 0
    for part in record()["parts"]:
        paths = [path for path in packet_files(NAME) if path.startswith(f"router/{part['code']}-")]
        for path in paths:
            face = "top" if path.endswith("-top.dxf") else "bottom"
            drawing = ezdxf.read(io.StringIO(packet_files(NAME)[path].decode()))  # type: ignore[attr-defined]
            words = " ".join(text.dxf.text for text in drawing.modelspace().query("TEXT"))
            here = [f for f in part["features"] if f["kind"] in TAKES and f["face"] == face]
            shown = [f for f in here if f["operation"] != IN_THE_RING]
            drawn = drawing.modelspace().query('*[layer=="EASED_EDGE"]')
            lengths = sum(length_of(entity) for entity in drawn)
            strips = sum(ring(f["outline"]).area / f["depth"] for f in shown)
            assert abs(lengths - strips) <= 0.03 * strips + sum(2 * f["depth"] for f in shown), path
            for f in shown:
                assert re.search(rf"{f['kind']} of {f['depth']:g} mm along EASED_EDGE", words), path
            others = {f["face"] for f in part["features"] if f["kind"] in TAKES} - {face}
            if len(paths) == 1 and others:
                assert re.search(rf"Not for this machine: .*{others.pop()}", words), path
            checked += len(shown)
    assert checked > 25


def length_of(entity: Any) -> float:
    """Of a line or an arc."""
    if entity.dxftype() == "LINE":
        return float(entity.dxf.start.distance(entity.dxf.end))
    turn = (entity.dxf.end_angle - entity.dxf.start_angle) % 360
    return float(numpy.radians(turn) * entity.dxf.radius)


def test_sheets_of_eased_parts_carry_the_caution() -> None:
    """Where a router eases a part, its sheet says how it is held and that the bit is changed unplugged."""
    for part, _ in eased():
        sheet = packet_files(NAME)[f"parts/{part['code']}.svg"].decode()
        assert "unplugged while the bit is changed" in re.sub(r"<[^>]*>|\s+", " ", sheet).replace("  ", " ")
