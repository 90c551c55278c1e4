"""Joints in detail: a section through each kind of joint, close to, with the sizes of what is cut."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import pi, radians, sin

from templategen.catalogue import translated
from templategen.drawing.drawing import Drawing, Mark, Stroke, Words, marks_box
from templategen.drawing.elevation import CUT, HATCH
from templategen.drawing.hatch import hatch, styles
from templategen.drawing.joint_planes import ENTERING, INSIDE, Window, plane_of
from templategen.drawing.layer import Layer
from templategen.drawing.layers import DIMENSION, VIEW_TITLE
from templategen.drawing.leaders import leaders, spaced
from templategen.drawing.manner import Manner
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.point import Point
from templategen.joinery.joint import Joint
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.view.shade import Patch
from templategen.view.slice import Slice, slices

BREAK = Layer("DETAIL_BREAK", "where the detail leaves off", "black", "dotted", 0.18)

LETTERS = 34.0
"""A detail's window is this many capital heights wide."""

HATCHES = 30.0
"""And so many hatch lines."""

CORNER = sin(radians(8.0))
"""Corners that turn by less than this are of a round."""

ON = 0.02
"""Corners nearer to the window's edge than this are where the detail leaves off, mm."""

WORDS = {
    "tongue-and-groove": "tongue in groove",
    "rail-tenon": "rail tenon in the groove of the ring",
    "leg-tenon": "leg tenon in its mortise",
    "bolted-tenon": "short tenon of the leg, dry, and the hole of its bolt",
    "draw-bored-tenon": "leg tenon, dry, and the holes of its peg, offset by the draw",
    "half-lap": "half lap",
    "three-way-lap": "three-way lap",
    "mitre": "mitre, cut level through the spline",
    "spline": "spline across the mitre",
    "foot": "foot under the ground rail",
}


def part_details(table: Table, part: Part) -> tuple[Drawing, ...]:
    """A detail of each kind of joint that the part has with each kind of mate."""
    found: dict[tuple[str, str], Drawing] = {}
    for joint in table.joints:
        if part.code in joint.parts:
            mate = table.part(joint.parts[1 - joint.parts.index(part.code)]).kind
            if (joint.kind, mate) not in found:
                found[joint.kind, mate] = detail(table, joint, part.code)
    return tuple(found.values())


def detail(table: Table, joint: Joint, code: str) -> Drawing:
    """The section through one joint, in millimetres about the joint; `code` is the part whose sheet it stands on."""
    plane, window = plane_of(table, joint, code)
    width = max(window[2] - window[0], window[3] - window[1])
    manner = Manner(width / LETTERS, units=table.profile.units)
    faces = slices(table, plane, window)
    marks: list[Mark] = [*_hatched(table, faces, width / HATCHES), *_outlined(table, faces, window)]
    told = faces if joint.kind == "spline" else [face for face in faces if face.index in joint.placed]
    marks += _sized(told, marks_box(marks), window, manner, joint.kind in ENTERING)
    shown = [(table.placed[face.index].code, _patch(face)) for face in faces]
    marks += leaders(marks_box(marks), shown, manner.height, left_only=True)
    title = f"{translated(' and ').join(joint.parts)}: {translated(WORDS[joint.kind])}"
    box = marks_box(marks)
    marks.append(Words(VIEW_TITLE, Point(box.left, box.top + manner.height * 1.5), manner.height * 1.15, title))
    return Drawing(title, tuple(marks))


def _hatched(table: Table, faces: Sequence[Slice], gap: float) -> Iterator[Mark]:
    for face, style in zip(faces, styles([face.rings for face in faces]), strict=True):
        for line in hatch(face.rings, style, gap):
            yield Stroke(HATCH, line, table.placed[face.index].code)


def _outlined(table: Table, faces: Sequence[Slice], window: Window) -> Iterator[Mark]:
    """Outlines of the faces; where the window leaves off, a light line."""
    for face in faces:
        for ring in face.rings:
            for one, other in pairwise((*ring, ring[0])):
                layer = BREAK if on_edge(one, other, window) else CUT
                yield Stroke(layer, Line(Point(*one), Point(*other)), table.placed[face.index].code)


def on_edge(one: Sequence[float], other: Sequence[float], window: Window) -> bool:
    """Whether a line lies along the window's edge."""
    left, bottom, right, top = window
    return any(
        abs(one[k] - at) < ON and abs(other[k] - at) < ON for k, at in ((0, left), (0, right), (1, bottom), (1, top))
    )


def _sized(
    faces: Sequence[Slice], drawn: Bounds, window: Window, manner: Manner, from_shoulder: bool
) -> Iterator[Mark]:
    """Distances of the joint's corners from its lowest and its leftmost one, below and to the right of the wood."""
    stops = [Point(*point) for face in faces for ring in face.rings for point in _corners(ring, window)]
    if from_shoulder:
        stops = [stop for stop in stops if stop.x > -INSIDE]
    if not stops:
        return
    low = Point(0.0, drawn.bottom), Point(1.0, 0.0), Point(0.0, -1.0)
    right = Point(drawn.right, 0.0), Point(0.0, 1.0), Point(1.0, 0.0)
    yield from _ruler([stop.x for stop in stops], *low, manner)
    yield from _ruler([stop.y for stop in stops], *right, manner)


def _ruler(values: Sequence[float], foot: Point, along: Point, out: Point, manner: Manner) -> Iterator[Mark]:
    """Figures that count from the least of the values, each on a line bent to where it has room."""
    height, told = manner.height, sorted({manner.figure(value - min(values)): value for value in values}.values())
    for value, place in zip(told, spaced(told, height * 1.45), strict=True):
        path = [
            foot.plus(along, at).plus(out, off * height) for at, off in ((value, 0.4), (value, 1.6), (place, 2.8))
        ]
        yield from (Stroke(DIMENSION, Line(one, other)) for one, other in pairwise(path))
        text = manner.figure(value - told[0])
        if along.x:
            at = path[-1].plus(Point(height * 0.5, -height * 0.3))
            yield Words(DIMENSION, at, height, text, "end", pi / 2)
        else:
            yield Words(DIMENSION, path[-1].plus(Point(height * 0.3, -height / 2)), height, text)


def _corners(ring: Sequence[tuple[float, float]], window: Window) -> Iterator[tuple[float, float]]:
    """The true corners of a ring, those of the window and of rounds left out."""
    left, bottom, right, top = window
    for (px, py), (x, y), (nx, ny) in zip((ring[-1], *ring[:-1]), ring, (*ring[1:], ring[0]), strict=True):
        if min(x - left, right - x, y - bottom, top - y) < ON:
            continue
        before, after = Point(x - px, y - py).unit, Point(nx - x, ny - y).unit
        if abs(before.cross(after)) > CORNER:
            yield x, y


def _patch(face: Slice) -> Patch:
    """A face as a leader sees it: its size and a point inside."""
    xs, ys = zip(*face.rings[0], strict=True)
    area = (max(xs) - min(xs)) * (max(ys) - min(ys))
    return Patch(face.index, face.rings, (0.0, 0.0, 1.0), area, _inside(face))


def _inside(face: Slice) -> tuple[float, float]:
    """The middle of the longest line inside a face, among slanting ones, which miss its corners."""
    xs, ys = zip(*face.rings[0], strict=True)
    lines = list(hatch(face.rings, (1, 1.0), max(max(xs) - min(xs), max(ys) - min(ys)) / 15))
    if not lines:
        return face.rings[0][0]
    longest = max(line.length for line in lines)
    middle = min((line for line in lines if line.length > longest * 0.7), key=lambda line: line.start.x).point_at(0.5)
    return middle.x, middle.y
