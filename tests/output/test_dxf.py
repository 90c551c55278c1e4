"""The DXF writer, read back by a reader of our own, by ezdxf and by GDAL."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from math import hypot, isclose
from pathlib import Path
from typing import get_args

import pytest

from templategen.drawing.drawing import Drawing, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.drawing.layers import THROUGH_OUTSIDE
from templategen.drawing.part_sheet import part_drawing
from templategen.errors import OutputError
from templategen.geometry.edge import Line, arc_round
from templategen.geometry.outline import Outline, circle, rectangle
from templategen.geometry.point import Point, Vertex
from templategen.output.dxf import Version, dxf_bytes, escaped
from tests.drawing import samples
from tests.gdal import layered
from tests.output.group_codes import Entity, entities, header, layers, names, pairs

VERSIONS: tuple[Version, ...] = get_args(Version)
CODES = {"R12": "AC1009", "R2000": "AC1015", "R2010": "AC1024", "R2018": "AC1032"}
PARTS = {make.__name__: make() for make in samples.ALL}
DRAWINGS = {name: part_drawing(part, "Towpath table") for name, part in PARTS.items()}
FILES = {(name, v): dxf_bytes(drawing, v) for name, drawing in DRAWINGS.items() for v in VERSIONS}
TEXT = Layer("TEXT", "words")

every_file = pytest.mark.parametrize(("name", "version"), FILES, ids=lambda value: value)
every_version = pytest.mark.parametrize("version", VERSIONS)


def outside(content: bytes) -> Entity:
    (only,) = [entity for entity in entities(content) if entity.layer == "THROUGH_OUTSIDE"]
    return only


@every_file
def test_the_outside_has_the_coordinates_of_the_part(name: str, version: Version) -> None:
    """The one THROUGH_OUTSIDE contour is the part's outline, vertex by vertex and bulge by bulge."""
    found, outline = outside(FILES[name, version]), PARTS[name].outline
    assert found.closed
    assert len(found.points) == len(outline)
    for point, vertex in zip(found.points, outline, strict=True):
        assert point == pytest.approx(list(vertex), abs=1e-9)


@every_file
def test_the_outside_encloses_the_area_of_the_part(name: str, version: Version) -> None:
    """Shoelace and circle segments over the written digits give the exact area to a millionth."""
    assert outside(FILES[name, version]).area == pytest.approx(PARTS[name].outline.area, abs=1e-6)


@every_file
def test_every_closed_shape_is_one_closed_entity(name: str, version: Version) -> None:
    """Shapes become closed polylines of the version's own kind, circles CIRCLE, and nothing else is closed."""
    drawing, found = DRAWINGS[name], names(FILES[name, version])
    circles = sum(shape.outline.circle is not None for shape in drawing.shapes)
    assert found["CIRCLE"] == circles
    assert found["POLYLINE" if version == "R12" else "LWPOLYLINE"] == len(drawing.shapes) - circles
    assert set(found) <= {"CIRCLE", "POLYLINE", "LWPOLYLINE", "LINE", "ARC", "TEXT"}
    assert all(e.closed for e in entities(FILES[name, version]) if e.points)


@every_file
def test_nothing_is_short_doubled_or_unreal(name: str, version: Version) -> None:
    """No edge is under 0.01 mm, no edge of cut lines is there twice, every number is finite."""
    content = FILES[name, version]
    seen: set[tuple[object, ...]] = set()
    for entity in entities(content):
        for (x0, y0, bulge), (x1, y1, _) in entity.sides if entity.points else []:
            assert hypot(x1 - x0, y1 - y0) >= 0.01
            ends = sorted(((round(x0, 5), round(y0, 5)), (round(x1, 5), round(y1, 5))))
            key = (*ends, round(abs(bulge), 6))
            assert key not in seen
            seen.add(key)
    for code, value in pairs(content):
        if 10 <= code <= 59 or 210 <= code <= 239:
            assert float(value) - float(value) == 0


@every_file
def test_ezdxf_reads_it_without_repairs(name: str, version: Version, tmp_path: Path) -> None:
    """A strict reader finds no error and nothing to fix, and the version asked for."""
    import ezdxf

    path = tmp_path / "part.dxf"
    path.write_bytes(FILES[name, version])
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert document.dxfversion == CODES[version]
    used = {entity.dxf.layer for entity in document.modelspace()}
    assert all(layer in document.layers for layer in used)


@every_version
def test_gdal_reads_the_same_outline(version: Version, tmp_path: Path) -> None:
    """GDAL, which steps arcs finely, sees one polygon of the part's area on the outside layer."""
    pytest.importorskip("pyogrio")
    path = tmp_path / "segment.dxf"
    path.write_bytes(FILES["rim_segment", version])
    (ring,) = [shape for name, shape in layered(path) if name == "THROUGH_OUTSIDE"]
    assert ring.area == pytest.approx(PARTS["rim_segment"].outline.area, abs=2e-3)


@every_version
def test_the_header_says_unit_and_extents(version: Version) -> None:
    """Millimetres, metric, and the exact box of the lines; R12 has no unit to set."""
    said, box = header(FILES["rim_segment", version]), DRAWINGS["rim_segment"].bounds
    assert said["$EXTMIN"][:2] == pytest.approx((box.left, box.bottom), abs=1e-9)
    assert said["$EXTMAX"][:2] == pytest.approx((box.right, box.top), abs=1e-9)
    if version == "R12":
        assert "$INSUNITS" not in said
    else:
        assert (said["$INSUNITS"], said["$MEASUREMENT"]) == ((4.0,), (1.0,))


@every_version
def test_inches_are_millimetres_over_25_4(version: Version) -> None:
    """Every outline coordinate and the extents are divided by 25.4, the area by its square."""
    content = dxf_bytes(DRAWINGS["rim_segment"], version, "in")
    outline = PARTS["rim_segment"].outline
    assert outside(content).area * 25.4**2 == pytest.approx(outline.area, abs=1e-4)
    for point, vertex in zip(outside(content).points, outline, strict=True):
        assert point == pytest.approx([vertex.x / 25.4, vertex.y / 25.4, vertex.bulge], abs=1e-9)
    said = header(content)
    assert said["$EXTMAX"][0] == pytest.approx(DRAWINGS["rim_segment"].bounds.right / 25.4, abs=1e-9)
    if version != "R12":
        assert (said["$INSUNITS"], said["$MEASUREMENT"]) == ((1.0,), (0.0,))


@every_version
def test_layers_carry_line_type_and_colour(version: Version) -> None:
    """Each layer used is in the table, with a line type that is defined and true colour from R2004 on."""
    content = FILES["rail", version]
    table = layers(content)
    for layer in DRAWINGS["rail"].layers:
        row = table[layer.name]
        assert row.text(6).upper().replace("_", "-") == layer.line_type.upper()
        if version in ("R2010", "R2018") and layer.colour == "orange":
            assert int(row.text(420)) == 0xE69F00
        assert 0 < int(row.text(62)) < 256
    defined = {value for code, value in pairs(content) if code == 2}
    assert {"DASHED", "LONG_DASH_DOT", "LONG_DASH_DOUBLE_DOT"} <= defined


@every_version
@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_same_drawing_gives_the_same_bytes(version: Version, units: str) -> None:
    """Two runs in one process are equal, whatever was written in between."""
    first = dxf_bytes(DRAWINGS["slat"], version, units)  # type: ignore[arg-type]
    dxf_bytes(DRAWINGS["leg"], "R2018")
    assert dxf_bytes(DRAWINGS["slat"], version, units) == first  # type: ignore[arg-type]


SCRIPT = """
import hashlib, os, sys
from templategen.output.dxf import dxf_bytes
from templategen.drawing.part_sheet import part_drawing
from tests.drawing.samples import slat
import templategen.output.svg
assert "ezdxf" not in sys.modules and "svgwrite" not in sys.modules
print(hashlib.sha256(dxf_bytes(part_drawing(slat(), "Towpath table"))).hexdigest())
assert os.environ.get("XDG_CACHE_HOME") == os.environ.get("WAS")
"""


@pytest.mark.wide
def test_home_and_settings_files_are_left_alone(tmp_path: Path) -> None:
    """A fresh process writes the same bytes, keeps out of HOME and ignores broken settings of the DXF library."""
    home, elsewhere = tmp_path / "home", tmp_path / "cwd"
    (home / ".config" / "ezdxf").mkdir(parents=True)
    elsewhere.mkdir()
    for place in (home / ".config" / "ezdxf" / "ezdxf.ini", elsewhere / "ezdxf.ini"):
        place.write_bytes(b"\xff\xfenot a settings file [[[")
    before = sorted(home.rglob("*"))
    root = Path(__file__).parents[2]
    environment = {k: v for k, v in os.environ.items() if not k.startswith(("XDG_", "EZDXF"))}
    environment |= {"HOME": str(home), "PYTHONPATH": str(root), "PYTHONDONTWRITEBYTECODE": "1"}
    environment["EZDXF_CONFIG_FILE"] = str(elsewhere / "ezdxf.ini")
    run = subprocess.run(
        [sys.executable, "-c", SCRIPT], cwd=elsewhere, env=environment, capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stderr
    import hashlib

    assert run.stdout.strip() == hashlib.sha256(FILES["slat", "R2000"]).hexdigest()
    assert sorted(home.rglob("*")) == before
    assert sorted(path.name for path in elsewhere.iterdir()) == ["ezdxf.ini"]


def hostile() -> Iterator[str]:
    yield "line one\nline two\r\n  0\nEOF"
    yield "%%d %%%%u \\U+0041 ^J ^M\x00\x1b\x85\u2028"
    yield "é Ø 桌 \U0001d11e \ud800 <b>&amp;"
    yield "x" * 5000
    yield "\u00e9" * 300


@every_version
@pytest.mark.parametrize("title", [*hostile()], ids=["breaks", "commands", "letters", "long", "long accents"])
def test_no_title_breaks_the_file(version: Version, title: str, tmp_path: Path) -> None:
    """Whatever the maker types, the file reads, the geometry is untouched and text stays on one short line."""
    import ezdxf

    part = replace(PARTS["slat"], name=title, code="SL", wood=title, notes=(title,))
    content = dxf_bytes(part_drawing(part, title, title), version)
    path = tmp_path / "hostile.dxf"
    path.write_bytes(content)
    audit = ezdxf.readfile(path).audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert outside(content).area == pytest.approx(part.outline.area, abs=1e-6)
    texts = [entity.text(1) for entity in entities(content) if entity.name == "TEXT"]
    assert all(text and len(text) <= 250 and "%%" not in text for text in texts)
    if version in ("R12", "R2000"):
        assert content.isascii()


@pytest.mark.parametrize(
    ("version", "expected"), [("R12", "Sl\\U+00E4tt"), ("R2000", "Sl\\U+00E4tt"), ("R2018", "Slätt")]
)
def test_letters_beyond_ascii_survive(version: Version, expected: str) -> None:
    """Old versions carry them as \\U+XXXX, new ones as UTF-8."""
    drawing = Drawing("t", (Shape(THROUGH_OUTSIDE, rectangle(0, 0, 9, 9)), Words(TEXT, Point(0, 0), 5, "Slätt")))
    assert [e.text(1) for e in entities(dxf_bytes(drawing, version)) if e.name == "TEXT"] == [expected]


def test_letters_that_old_versions_have_no_number_for_are_marks() -> None:
    """Up to four digits they have one."""
    assert escaped("a\uffff", True) == "a\\U+FFFF" and escaped("a\U00010000b", True) == "a?b"
    assert escaped("a\U00010000b", False) == "a\U00010000b"


@every_version
@pytest.mark.parametrize("sweep", [2.0, -2.0, 3.1, -0.4])
def test_arc_strokes_run_anticlockwise_between_their_ends(version: Version, sweep: float) -> None:
    """An ARC starts and ends where the stroke does, in either order, and turns by its sweep."""
    from math import cos, radians, sin

    arc = arc_round(Point(10, -5), 30, 5.9, sweep)
    (found,) = entities(dxf_bytes(Drawing("t", (Stroke(THROUGH_OUTSIDE, arc),)), version))
    first, last = found.number(50), found.number(51)
    assert (last - first) % 360 == pytest.approx(abs(sweep) * 180 / 3.141592653589793, abs=1e-6)
    ends = [(10 + 30 * cos(radians(a)), -5 + 30 * sin(radians(a))) for a in (first, last)]
    wanted = [arc.start, arc.end] if sweep > 0 else [arc.end, arc.start]
    for end, point in zip(ends, wanted, strict=True):
        assert end == pytest.approx(point, abs=1e-7)


@pytest.mark.parametrize("wrong", [float("nan"), float("inf"), -float("inf"), 1e300])
def test_numbers_that_are_none_are_refused(wrong: float) -> None:
    """NaN, infinity and absurd sizes raise our error and never reach a file."""
    ring = circle(0, 0, 5)
    for mark in (
        Stroke(THROUGH_OUTSIDE, Line(Point(0, wrong), Point(1, 1))),
        Words(TEXT, Point(0, 0), wrong, "a"),
        Words(TEXT, Point(wrong, 0), 5, "a"),
    ):
        with pytest.raises(OutputError, match="no number"):
            dxf_bytes(Drawing("t", (Shape(THROUGH_OUTSIDE, ring), mark)))


def test_shapes_out_of_reach_are_refused() -> None:
    """An outline thousands of kilometres out is an error, not a file."""
    with pytest.raises(OutputError, match="no number"):
        dxf_bytes(Drawing("t", (Shape(THROUGH_OUTSIDE, circle(1e10, 0, 5)),)))


def test_a_layer_that_old_readers_refuse_is_refused() -> None:
    """Layer names are upper-case ASCII of at most 31 characters, or nothing is written."""
    for name in ("lower", "É", "A" * 32, "", "A B"):
        with pytest.raises(OutputError, match="layer"):
            dxf_bytes(Drawing("t", (Shape(Layer(name, ""), circle(0, 0, 5)),)))


def test_an_empty_drawing_is_refused() -> None:
    """A drawing of words alone has no extents and is an error in the maker's words."""
    with pytest.raises(OutputError, match="shows no line"):
        dxf_bytes(Drawing("t", (Words(TEXT, Point(0, 0), 5, "a"),)))


def test_full_circles_of_any_number_of_arcs_are_circles() -> None:
    """Two halves or four quarters of one circle are written as one CIRCLE of that radius."""
    quarter = 2**0.5 - 1
    four = Outline(tuple(Vertex(x + 3, y, quarter) for x, y in ((7, 0), (0, 7), (-7, 0), (0, -7))))
    for ring in (four, circle(3, 0, 7)):
        (found,) = entities(dxf_bytes(Drawing("t", (Shape(THROUGH_OUTSIDE, ring),))))
        assert found.name == "CIRCLE"
        assert isclose(found.number(40), 7, abs_tol=1e-9)
        assert (found.number(10), found.number(20)) == pytest.approx((3, 0), abs=1e-9)


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_the_library_s_settings_are_put_back(version: Version) -> None:
    """Writing leaves the DXF library's global options as they were, even when it fails."""
    dxf_bytes(DRAWINGS["slat"], version)
    import ezdxf

    with pytest.raises(OutputError):
        dxf_bytes(Drawing("t", (Shape(Layer("x", ""), circle(0, 0, 5)),)), version)
    assert ezdxf.options.write_fixed_meta_data_for_testing is False


DRAW = """
import sys, os
before = dict(os.environ)
from templategen.drawing.drawing import Drawing, Shape
from templategen.drawing.layers import FRAME
from templategen.geometry.outline import rectangle
from templategen.output.dxf import dxf_bytes
sys.stdout.buffer.write(dxf_bytes(Drawing("x", (Shape(FRAME, rectangle(0, 0, 30, 20)),))))
assert os.environ == before
"""


def test_settings_of_the_library_change_nothing(tmp_path: Path) -> None:
    """Neither files in the home and working folders nor variables are heard, and nothing is written anywhere."""
    root = str(Path(__file__).parents[2])
    plain = {"PATH": os.environ["PATH"], "PYTHONPATH": root, "TMPDIR": str(tmp_path / "tmp")}
    ini = "[core]\nload_proxy_graphics = nonsense\nsupport_dirs = /none\nfont_cache_directory = /none\n[broken"
    for folder in ("home/.config/ezdxf", "xdg/ezdxf", "work", "tmp"):
        (tmp_path / folder).mkdir(parents=True)
        if folder != "tmp":
            (tmp_path / folder / "ezdxf.ini").write_text(ini, encoding="utf-8")
    loud = {"HOME": str(tmp_path / "home"), "XDG_CONFIG_HOME": str(tmp_path / "xdg"), "EZDXF_TEST_FILES": "/none",
            "XDG_CACHE_HOME": str(tmp_path / "xdg"), "EZDXF_CONFIG_FILE": str(tmp_path / "work" / "ezdxf.ini"),
            "EZDXF_DISABLE_C_EXT": "nonsense"}  # fmt: skip
    before = sorted(tmp_path.rglob("*"))
    made = [
        subprocess.run(
            [sys.executable, "-c", DRAW], cwd=tmp_path / "work", env=plain | more, capture_output=True, check=False
        )
        for more in ({}, {"HOME": "/none"}, loud)
    ]
    assert [run.stderr for run in made] == [b""] * 3 and made[0].stdout.startswith(b"  0\nSECTION")
    assert made[0].stdout == made[1].stdout == made[2].stdout
    assert sorted(tmp_path.rglob("*")) == before
