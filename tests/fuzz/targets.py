"""What is fuzzed: each target takes any bytes and raises only where the program is wrong."""

from __future__ import annotations

import contextlib
import struct
from collections.abc import Callable
from fractions import Fraction
from functools import cache
from math import cos, isfinite, pi, sin

from templategen.errors import GeometryError, OutputError, TemplategenError, UnitError
from templategen.expression import Quantity, evaluate
from templategen.geometry.clip import clip_disc, clip_half_plane
from templategen.geometry.offset import offset
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point, Vertex
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from templategen.units import inch_fraction, parse_angle, parse_length, show_length

KEYS = (
    "top.diameter", "top.height", "top.rails", "top.segments", "top.edge", "top.thickness", "top.rail_width",
    "top.rim_width", "top.saw_allowance", "top.edge_round", "top.pole_hole", "slats.run", "slats.width", "slats.gap",
    "slats.hold", "slats.apex", "slats.thickness", "slats.face", "slats.chamfer", "joints.tongue",
    "joints.groove_depth", "joints.end_clearance", "joints.glue_clearance", "joints.spline",
    "joints.spline_thickness", "joints.spline_depth", "legs.section", "legs.centre_distance",
    "legs.base_centre_distance", "legs.corner", "legs.corner_size", "base.length", "base.rail_width",
    "base.thickness", "base.feet", "base.foot_thickness", "base.foot_length", "base.end_round",
)  # fmt: skip
WORDS = ("sawn", "faceted", "across", "along", "straight", "width", "gap", "open", "closed", "flush", "centred")
WORDS += ("through", "stopped", "none", "rounded", "chamfered", "square", "pads", "relieved")


def profile(data: bytes) -> None:
    """Any text as a profile: a profile or a refusal."""
    try:
        profile_from_text(data.decode("utf-8", "replace"), "fuzz")
    except TemplategenError as refusal:
        assert all(str(fault) for fault in refusal.faults)


def table(data: bytes) -> None:
    """Any values under known keys: a table whose rings close, or a refusal."""
    lines: dict[str, str] = {}
    for place in range(0, len(data) - 3, 4):
        key = KEYS[data[place] % len(KEYS)]
        number = int.from_bytes(data[place + 1 : place + 3], "big") / 16
        pick = data[place + 3]
        value = f'"{WORDS[pick % len(WORDS)]}"' if pick & 1 else str(int(number) if pick & 2 else number)
        lines[key] = f"{key} = {value}"
    try:
        built = build_table(profile_from_text("format = 1\n" + "\n".join(lines.values()), "fuzz"))
    except TemplategenError:
        return
    for part in built.parts:
        assert part.outline.area > 0 and isfinite(part.outline.area), part.code
        assert part.count > 0


@cache
def _drawn() -> Table:
    return build_table(profile_from_text("format = 1\n[top]\nrails = 2\nsegments = 8\n", "fuzz"))


def measured(data: bytes) -> None:
    """Any text as sizes found on the bench: sizes or a refusal."""
    from templategen.shop.refit.read import bench_from_text

    try:
        bench_from_text(_drawn(), data.decode("utf-8", "replace"))
    except TemplategenError as refusal:
        assert all(str(fault) for fault in refusal.faults)


def size(data: bytes) -> None:
    """Any text as a length or an angle; what is read is written back and read the same."""
    text = data.decode("utf-8", "replace")
    with contextlib.suppress(UnitError):
        assert isfinite(parse_angle(text))
    for units in ("mm", "in"):
        try:
            length = parse_length(text, units)
        except UnitError:
            continue
        assert abs(length) <= 1_000_000
        shown = show_length(length, units)
        assert shown
        fraction, error = inch_fraction(length)
        assert abs(error) <= 25.4 / 128 + 1e-9, fraction


def expression(data: bytes) -> None:
    """Any text as arithmetic: a bounded, exact value or a refusal."""

    def lookup(name: str) -> Quantity:
        return Quantity(Fraction(len(name)), "length")

    try:
        value = evaluate(data.decode("utf-8", "replace"), "mm", lookup)
    except UnitError:
        return
    assert value.kind in ("length", "angle", "number")
    assert abs(value.amount) <= 1_000_000_000


def outline(data: bytes) -> None:
    """Star-shaped outlines of lines and arcs: what is cut in two keeps its area, what grows holds the outline."""
    if len(data) < 16:
        return
    count = 3 + data[0] % 8
    rest = data[7:]
    reach = [10.0 + rest[i % len(rest)] / 4 for i in range(count)]
    bends = [(rest[(i + count) % len(rest)] % 41 - 20) / 100 for i in range(count)]
    turn = 2 * pi / count
    ring = Outline(
        tuple(
            Vertex(r * cos(turn * i), r * sin(turn * i), bend)
            for i, (r, bend) in enumerate(zip(reach, bends, strict=True))
        )
    )
    x, y, angle = struct.unpack("<hhH", data[1:7])
    at, way = Point(x / 500, y / 500), Point(cos(angle / 10_000), sin(angle / 10_000))
    area, slack = abs(ring.area), 1e-6 * (ring.length + 1) * ring.length
    try:
        sides = [clip_half_plane(ring, at, side) for side in (way, Point(-way.x, -way.y))]
        if area > 1 and ring.area > 0:
            kept = sum(piece.area for side in sides for piece in side)
            assert abs(kept - ring.area) <= slack, (kept, ring.area)
        radius = 5.0 + (angle % 700) / 10
        parts = [clip_disc(ring, at, radius, keep) for keep in ("inside", "outside")]
        assert all(isfinite(piece.area) for part in parts for piece in part)
        grown = offset(ring, 0.5 + (angle % 50) / 10, "rounded")
        assert sum(piece.area for piece in grown) >= ring.area - slack
    except GeometryError:
        return


def files(data: bytes) -> None:
    """Any bytes as a file of a packet: lines or a refusal."""
    from templategen.proof.read_dxf import read_dxf
    from templategen.proof.read_pdf import read_pdf
    from templategen.proof.read_svg import read_svg

    for read in (read_dxf, read_svg, lambda content: list(read_pdf(content))):
        try:
            read(data)
        except (OutputError, GeometryError):
            continue


TARGETS: dict[str, Callable[[bytes], None]] = {
    "profile": profile, "table": table, "measured": measured, "size": size, "expression": expression,
    "outline": outline, "files": files,
}  # fmt: skip
