"""A maker who traces and saws by the written files alone: the ring that comes of it, held to the written cauls."""

from __future__ import annotations

import json
import re
from itertools import pairwise
from math import cos, hypot, pi, sin
from pathlib import Path

import ezdxf
import numpy as np
import pytest
import shapely
from click.testing import CliRunner
from shapely import affinity

from templategen.cli import main
from templategen.packet.shipped import shipped_text
from templategen.proof.read_pdf import Ink, read_pdf

PENCIL = 1.4
"""From the edge that is traced to the middle of the lead, mm."""

TRUE = 0.02
"""What a file's figures may be off, mm."""

RADIUS, SEGMENTS = 280.0, 8


@pytest.fixture(scope="module")
def packet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The side table with a round rim, blanks left 3 mm over, patterns and the pencil's path."""
    text = shipped_text("towpath-side")
    for old, new in (
        ('edge = "faceted"', 'edge = "sawn"'), ("rim_width = 80", "rim_width = 104"),
        ("saw_allowance = 0", "saw_allowance = 3"), ("[paper]", f"[paper]\ntrace_offset = {PENCIL}"),
    ):  # fmt: skip
        assert old in text
        text = text.replace(old, new)
    folder = tmp_path_factory.mktemp("traced")
    (folder / "round.toml").write_text(text + '\n[jigs]\npatterns = "all"\n', encoding="utf-8")
    made = ["make", str(folder / "round.toml"), "-o", str(folder / "out"), "--only", "paper,jigs"]
    result = CliRunner().invoke(main, made)
    assert result.exit_code in (0, 1), result.output
    return folder / "out"


def areas(ink: Ink, layer: str) -> list[shapely.Polygon]:
    """What a layer's lines enclose."""
    lines = shapely.linestrings(ink.chords[layer].reshape(-1, 2, 2)) if layer in ink.chords else []
    return [one for one in shapely.polygonize([shapely.union_all(lines)]).geoms if len(lines)]


def templates(packet: Path) -> dict[str, tuple[int, Ink, shapely.Point]]:
    """Of each rim segment to print: how many are wanted, the drawing it is on, where its name stands."""
    found = {}
    for ink in read_pdf((packet / "paper/2-templates.pdf").read_bytes()).drawings.values():
        for word in (word for words in ink.lettered.values() for word in words):
            if named := re.fullmatch(r"(RIM-\w+) × (\d+)", word.text):
                found[named[1]] = int(named[2]), ink, shapely.Polygon(word.corners).centroid
    return found


def pattern(packet: Path, code: str) -> shapely.Polygon:
    """The edge of the sheet pattern that names the part."""
    jigs = json.loads((packet / "packet.json").read_text(encoding="utf-8"))["jigs"]
    (jig,) = [jig for jig in jigs if jig["code"].startswith("PATTERN") and code in jig["serves"]]
    return outlines(packet / f"jigs/{jig['code']}.dxf")


def outlines(path: Path) -> shapely.Polygon:
    """The largest piece that a DXF cuts out, true arcs in chords."""
    lines = ezdxf.readfile(path).modelspace().query('LWPOLYLINE[layer=="THROUGH_OUTSIDE"]')
    rings = [[(at.x, at.y) for at in ezdxf.path.make_path(line).flattening(0.001)] for line in lines]
    return max((shapely.Polygon(ring) for ring in rings), key=lambda one: one.area)


def sawn(path: shapely.Polygon) -> shapely.Polygon:
    """What is left when the saw keeps the pencil's distance inside its line."""
    return path.buffer(-PENCIL, join_style="mitre")


def closed_up(blank: shapely.Polygon) -> tuple[shapely.Polygon, float, tuple[float, float, float]]:
    """A segment as it lies in the ring, its outer edge up: the axis at the origin, where its two mitres meet; the
    angle between these; and how it came there."""
    edges = straight(blank)
    outer = max(edges, key=lambda edge: hypot(*edge[1]))
    across = np.array([-outer[1][1], outer[1][0]]) / hypot(*outer[1])
    mitres = [edge for edge in edges if abs(edge[1] @ across) > 0.5 * hypot(*edge[1])]
    assert len(mitres) == 2
    axis = crossing(*mitres)
    turn = pi / 2 - np.arctan2(*(outer[0] + outer[1] / 2 - axis)[::-1])
    angle = np.arccos(abs(mitres[0][1] @ mitres[1][1]) / hypot(*mitres[0][1]) / hypot(*mitres[1][1]))
    return carried(blank, axis[0], axis[1], turn), float(angle), (axis[0], axis[1], turn)


def carried(shape: shapely.Geometry, x: float, y: float, turn: float) -> shapely.Geometry:
    """Moved so that (x, y) comes to the origin, then turned about it."""
    return affinity.rotate(affinity.translate(shape, -x, -y), turn, origin=(0, 0), use_radians=True)


def straight(area: shapely.Polygon) -> list[tuple[np.ndarray, np.ndarray]]:
    """Start and run of every side, sides that go on as one."""
    points = np.array(area.simplify(0.001).exterior.coords)
    return [(a, b - a) for a, b in pairwise(points) if hypot(*(b - a)) > 5.0]


def crossing(one: tuple[np.ndarray, np.ndarray], other: tuple[np.ndarray, np.ndarray]) -> np.ndarray:
    """Where the lines of two sides cross."""
    share, _ = np.linalg.solve(np.column_stack((one[1], -other[1])), other[0] - one[0])
    return one[0] + share * one[1]


def ring_of(segments: list[shapely.Polygon]) -> shapely.Polygon:
    """Segments laid mitre to mitre, one after the other round the axis, and glued."""
    turned = [affinity.rotate(one, 360 * i / len(segments), origin=(0, 0)) for i, one in enumerate(segments)]
    for one, other in zip(turned, turned[1:] + turned[:1], strict=True):
        assert one.intersection(other).area < 0.5 and one.distance(other) < TRUE
    return shapely.union_all([one.buffer(0.02) for one in turned])


def light_under(caul: shapely.Polygon, ring: shapely.Polygon) -> float:
    """The widest gap, or the deepest bite, between the written caul's two seats and the ring, mm."""
    edges = sorted(straight(caul), key=lambda edge: edge[0][1] + edge[1][1] / 2)
    seats = [edge for edge in edges if abs(edge[1][1]) > 0.05 * hypot(*edge[1]) and abs(edge[1][0]) > 1.0]
    assert len(seats) == 2
    corner, half = crossing(*seats), pi / SEGMENTS
    ends = [point for start, run in seats for point in (start, start + run / 2, start + run)]
    outer = max(hypot(*at) for at in ring.exterior.coords)
    worst = 0.0
    for joint in range(SEGMENTS):
        turn = (2 * joint + 1) * half
        for x, y in (at - corner for at in ends):
            spot = shapely.Point(cos(turn) * x - sin(turn) * (y + outer), sin(turn) * x + cos(turn) * (y + outer))
            worst = max(worst, ring.exterior.distance(spot))
    return worst


@pytest.mark.wide
def test_what_is_traced_by_paper_and_by_pattern_is_one_ring_that_seats_the_cauls(packet: Path) -> None:
    """Every segment, traced along the pencil's printed path and sawn inside it, or by a pencil round the pattern, is
    the same blank; all of them close to a ring on which each caul seats. Sawn too early to the last line, none is."""
    blanks, early = list[shapely.Polygon](), list[shapely.Polygon]()
    caul = outlines(packet / "jigs/CAUL.dxf")
    for code, (count, ink, at) in templates(packet).items():
        (paper,) = [area for area in areas(ink, "TRACE") if area.contains(at)]
        (first,) = [area for area in areas(ink, "BLANK_OUTLINE") if area.contains(at)]
        blank, angle, way = closed_up(sawn(paper))
        assert angle == pytest.approx(2 * pi / SEGMENTS, abs=1e-4)
        for other in (first, pattern(packet, code).buffer(PENCIL, join_style="mitre")):
            assert blank.hausdorff_distance(closed_up(other)[0]) < TRUE
        later = carried(shapely.union_all(shapely.linestrings(ink.chords["THROUGH_OUTSIDE"].reshape(-1, 2, 2))), *way)
        arc = later.intersection(blank.buffer(TRUE))
        spots = np.array([point for line in arc.geoms for point in line.coords])
        assert np.abs(np.hypot(*spots.T) - RADIUS).max() < TRUE and len(spots) > 40
        blanks += [blank] * count
        early += [blank.intersection(shapely.Point(0, 0).buffer(RADIUS, 200))] * count
    assert len(blanks) == SEGMENTS
    ring = ring_of(blanks)
    assert len(ring.interiors) == 1 and light_under(caul, ring) < 0.05
    assert light_under(caul, ring_of(early)) > 1.0
    finished = shapely.Point(0, 0).buffer(RADIUS, 200).difference(shapely.Polygon(ring.interiors[0]).buffer(TRUE))
    assert ring.buffer(TRUE).contains(finished)


@pytest.mark.wide
def test_each_line_says_when_it_is_sawn(packet: Path) -> None:
    """On the printed segment a leader runs from "saw first" to the blank's line, another from "saw when the ring is
    glued" to the arc."""
    for _, ink, at in templates(packet).values():
        (blank,) = [area for area in areas(ink, "BLANK_OUTLINE") if area.contains(at)]
        for layer, words, line in (
            ("SAW_FIRST", "1 saw first", "BLANK_OUTLINE"), ("SAW_LATER", "2 saw when", "THROUGH_OUTSIDE"),
        ):  # fmt: skip
            inside = [word for word in ink.lettered[layer] if blank.contains(shapely.Polygon(word.corners))]
            told = [word for word in inside if word.text.startswith(words)]
            assert len(told) == 1
            lines = shapely.linestrings(ink.chords[line].reshape(-1, 2, 2))
            (tip,) = [
                shapely.Point(leader[2:]) for leader in ink.chords[layer]
                if shapely.Polygon(told[0].corners).distance(shapely.Point(leader[:2])) < 3.0
            ]  # fmt: skip
            assert shapely.distance(tip, lines).min() < TRUE
