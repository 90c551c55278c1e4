"""The title block of a part's sheet: what it is, how true, from where sizes count, at which scale."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import get_args

from templategen.catalogue import figured, translated, worded
from templategen.drawing.drawing import Mark, Shape, Stroke, Words, marks_box
from templategen.drawing.joint_letters import Pointed
from templategen.drawing.layers import FRAME, SIZE_CHECK, TEXT
from templategen.drawing.lettering import LINE_FEED
from templategen.drawing.manner import Manner
from templategen.geometry.edge import Line
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.jigs.angle_gauge import ANGLE
from templategen.parts.kinds import FeatureKind
from templategen.parts.part import Part, PartKind
from templategen.shop.set_ups.tolerances import ISO_MEDIUM, LEVEL, end_borne, fit_borne
from templategen.table.profile.choices import Machine, Units
from templategen.table.profile.model import Joints

FITS: Mapping[FeatureKind, str] = {
    "tenon": "glued", "mortise": "glued", "spline-slot": "glued", "groove": "sliding", "tongue": "sliding",
    "lap": "laid in",
}  # fmt: skip
"""How the mates of each kind of work go together."""

MIDDLES: Mapping[PartKind, str] = {
    "rail": "the arm's middle line and the table's axis",
    "base-rail": "the arm's middle line and the table's axis",
    "rim-segment": "the segment's middle, which runs to the table's axis",
    "leg": "the leg's middle line",
}
"""What the long centre lines of a part stand for."""

RUN_OUT = "Open pockets are drawn past the edge of the wood."

SIDES = "Edges and ends are seen from outside, the top face up."

SQUARE = 0.005
"""Edges nearer to square or to the length than this have no angle to tell, as a sine."""


@dataclass(frozen=True, slots=True)
class Around:
    """What a part's sheet tells of the table around it: joints and arms to point at, tolerances, the shop's
    machines."""

    pointed: tuple[Pointed, ...] = ()
    tolerances: tuple[str, ...] = ()
    machines: tuple[Machine, ...] = get_args(Machine)


def header(part: Part, title: str, revision: str, manner: Manner, tolerances: Sequence[str], scale: str) -> list[str]:
    """The lines of the block."""
    size = manner.sizes(*part.size)
    number = worded("{count} to make", count=part.count) + (hand_words(part.handed) if part.kind != "slat" else "")
    lines = [
        title,
        f"{part.code}  {part.name}, {number}",
        worded("{wood}; blank {size}, length along the grain", wood=translated(part.wood), size=size),
        *map(translated, part.notes),
        worded("{scale}, figures in {unit}.", scale=scale, unit=manner.unit_name)
        + (f" {translated(RUN_OUT)}" if manner.overrun else ""),
        worded("Sizes count from the ringed corner of a view, its lower left{middles}.", middles=_middles(part)),
        translated(SIDES) if any(face.name not in ("top", "bottom") for face in part.worked_faces) else "",
        *tolerances,
        worded("Revision {revision}", revision=revision) if revision else "",
    ]
    return [line for line in lines if line.strip()]


def _middles(part: Part) -> str:
    if part.kind not in MIDDLES:
        return ""
    return worded("; long centre lines: {what}", what=translated(MIDDLES[part.kind]))


HANDS = {"left": ", left hand", "right": ", right hand"}


def hand_words(hand: str) -> str:
    """Which of two mirrored parts it is, "" where there is no other."""
    return translated(HANDS[hand]) if hand else ""


def boxed(marks: Sequence[Mark], lines: Sequence[str], height: float) -> list[Mark]:
    """The marks with the block over them, in a frame of its own."""
    box = marks_box(marks)
    at = box.top + height * 4
    words: list[Mark] = [
        Words(TEXT, Point(box.left, at + i * height * LINE_FEED), height, line)
        for i, line in enumerate(reversed(lines))
    ]
    return [*marks, Shape(FRAME, rectangle(*marks_box(words).grown(height))), *reversed(words)]


def tolerance_lines(part: Part, joints: Joints, units: Units) -> Iterator[str]:
    """How far off sizes may be: by the fit of each joint of the part, and in general."""
    manner = Manner(1.0, units=units, by_machine=True)
    plays: dict[str, dict[str, None]] = {}
    if part.kind == "spline":
        plays["glued"] = {manner.figure(joints.glue_clearance): None}
    for feature in part.features:
        fit = FITS.get(feature.kind)
        if fit and feature.clearance:
            plays.setdefault(fit, {})[manner.figure(feature.clearance)] = None
    told = [
        worded("{fit}: play {sizes}", fit=translated(fit), sizes=translated(" or ").join(own))
        for fit, own in plays.items()
    ]
    if told:
        across, deep = manner.figure(fit_borne(joints.glue_clearance)), manner.figure(end_borne(joints.end_clearance))
        laid = worded(", laps ±{size}", size=manner.figure(LEVEL)) if "laid in" in plays else ""
        yield worded(
            "Fits, {fits}; each ±{across} across, depths ±{deep}{laid}.", fits="; ".join(told), across=across,
            deep=deep, laid=laid,
        )  # fmt: skip
    longest = max(part.size)
    rows = [row for row, before in zip(ISO_MEDIUM, (0.0, *(most for most, _ in ISO_MEDIUM)), strict=False)
            if before < longest]  # fmt: skip
    general = ", ".join(f"{manner.figure(most)} ±{manner.figure(off)}" for most, off in rows)
    yield worded("All else by ISO 2768-1 m: up to {sizes}{angles}.", sizes=general, angles=_angles(part))


def _angles(part: Part) -> str:
    """How far off its angles may be: a ring adds up those of its mitres, so they are proved together."""
    rings = (part.outline, *(one.outline for one in part.features if not one.traits.arris))
    if part.kind == "rim-segment":
        return translated("; mitres as a ring of scraps closes")
    ways = (edge.direction_at(0) for ring in rings for edge in ring.edges if isinstance(edge, Line))
    slanting = any(min(abs(way.x), abs(way.y)) > SQUARE for way in ways)
    return worded("; angles ±{angle}°", angle=figured(f"{ANGLE:g}")) if slanting else ""


BAR: Mapping[Units, tuple[float, int, int]] = {"mm": (100.0, 10, 100), "in": (101.6, 4, 4)}
"""The scale bar at full size: how long in mm, in how many steps, and its length in the unit."""


def scale_bar(at: Point, units: Units, height: float, scale: str, times: float = 1) -> tuple[Mark, ...]:
    """A bar with its left end at `at`, whose length is told; `times` as long where the sheet is drawn smaller."""
    full, steps, told = BAR[units]
    length = full * times
    ticks = [Point(at.x + length * step / steps, at.y) for step in range(steps + 1)]
    marks: list[Mark] = [Stroke(SIZE_CHECK, Line(at, ticks[-1]))]
    for step, foot in enumerate(ticks):
        tall = height if step in (0, steps) or step * 2 == steps else height / 2
        marks.append(Stroke(SIZE_CHECK, Line(foot, foot.plus(Point(0, tall)))))
    marks.append(Words(SIZE_CHECK, Point(at.x, at.y - height * 1.5), height, f"{told * times:g} {units}, {scale}"))
    return tuple(marks)
