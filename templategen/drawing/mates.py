"""Mates: which part meets a part where, told from the table as it stands together."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import cos, sin

from templategen.catalogue import worded
from templategen.drawing.place_in_table import in_plan
from templategen.drawing.unseen import foot_of
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.joinery.joint import JOINTS, JointKind
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.shop.gluing.marks import spans
from templategen.table.assembly import Table
from templategen.table.placed import Placed

SAME_CENTRE = 0.01
"""Copies that see the table's centre nearer together than this agree on it, mm."""


INWARDS = 45.0
"""From the end of an upright part to what is said of its joint, mm."""


@dataclass(frozen=True, slots=True)
class Meeting:
    """A place of a part, in its own frame, the codes of what meets it there over all copies, the joints' letters."""

    at: Point
    kind: str
    codes: tuple[str, ...]
    letters: str = ""


Spot = tuple[int, int, JointKind]


def meetings(table: Table, part: Part, letters: Mapping[int, str]) -> tuple[Meeting, ...]:
    """Where the part is met, each place once. `letters` are those of the glued joints."""
    if not any(_lies(placed) for placed in table.placed if placed.code == part.code):
        return tuple(_at_ends(table, part, letters))
    parts = {one.code: one for one in table.parts}
    found: dict[Spot, set[str]] = defaultdict(set)
    marked: dict[Spot, list[str]] = defaultdict(list)
    spots: dict[Spot, Point] = {}
    places: dict[str, tuple[Point, ...]] = {}
    seen: dict[tuple[object, ...], list[Spot]] = {}
    for number, index, other, kind in _joints_of(table, part.code):
        mate = table.placed[other]
        if not _lies(table.placed[index]):
            continue
        back = _way(table.placed[index]).inverse
        way = _way(mate).then(back)
        alike = (mate.code, kind, round(way.x, 3), round(way.y, 3), round(cos(way.turn), 6), round(sin(way.turn), 6))
        if kind not in places:
            places[kind] = tuple(_places(part, kind))
        if alike not in seen:
            seen[alike] = []
            there = way.outline(parts[mate.code].outline) if _lies(mate) else back.outline(in_plan(table, mate))
            box = there.bounds.grown(1.0)
            for at in places[kind]:
                near = box.left < at.x < box.right and box.bottom < at.y < box.top
                if near and there.contains(at, 1.0):
                    key = (round(at.x), round(at.y), kind)
                    seen[alike].append(key)
                    spots[key] = at
                    found[key].add(mate.code)
        for key in seen[alike]:
            marked[key] += [letters[number]] if number in letters else []
    return tuple(
        Meeting(spots[key], key[2], tuple(sorted(codes)), spans(dict.fromkeys(marked[key])) if marked[key] else "")
        for key, codes in sorted(found.items())
    )


def _at_ends(table: Table, part: Part, letters: Mapping[int, str]) -> Iterator[Meeting]:
    """Where an upright part is met, once at each end; its x runs up."""
    box = part.outline.bounds
    for x, is_top in ((box.left + INWARDS, False), (box.right - INWARDS, True)):
        met = {
            number: table.placed[other].code
            for number, index, other, _ in _joints_of(table, part.code)
            if (table.placed[other].at.z > table.placed[index].at.z) == is_top
        }
        if met:
            marked = spans(dict.fromkeys(letters[number] for number in met if number in letters))
            yield Meeting(Point(x, box.centre.y), "leg-tenon", tuple(sorted(set(met.values()))), marked)


def centre_in(table: Table, code: str) -> Point | None:
    """The table's centre in the part's own frame, where its copies agree."""
    seen = [_way(placed).inverse.point(Point(0, 0)) for placed in table.placed if placed.code == code]
    flat = all(_lies(placed) for placed in table.placed if placed.code == code)
    if not seen or not flat or any(one.distance(seen[0]) > SAME_CENTRE for one in seen):
        return None
    return seen[0]


def _joints_of(table: Table, code: str) -> Iterator[tuple[int, int, int, JointKind]]:
    """The joint's position, own copy, mate's copy, kind of joint."""
    for number, joint in enumerate(table.joints):
        for own, other in ((0, 1), (1, 0)):
            if joint.parts[own] == code:
                yield number, joint.placed[own], joint.placed[other], joint.kind


def _lies(placed: Placed) -> bool:
    return abs(abs(placed.axes[2].z) - 1.0) < 1e-9


def _way(placed: Placed) -> Placement:
    return Placement(placed.at.x, placed.at.y, placed.turn, placed.turned_over)


def _places(part: Part, kind: JointKind) -> Iterator[Point]:
    """Points of the part at which a joint of that kind may be."""
    if kind == "mitre":
        for face in part.faces:
            if face.name.startswith("end-"):
                yield foot_of(face).point_at(0.3)
    for feature in part.features:
        if feature.kind == JOINTS[kind].cuts.get(part.kind):
            yield from _points_of(part, feature)


def _points_of(part: Part, feature: Feature) -> Iterator[Point]:
    """Points in plan inside the wood that a mate fills: the middle of the work, or along it where it is long."""
    box = feature.outline.bounds
    if feature.is_flat:
        sign = -1.0 if feature.face == "bottom" else 1.0
        yield Point(sign * box.centre.x, box.centre.y)
        if feature.kind == "tongue":
            for corner in feature.outline.points:
                x, y = box.centre.plus(corner.minus(box.centre), 0.5)
                if feature.outline.contains(Point(x, y)):
                    yield Point(sign * x, y)
        return
    face = part.face(feature.face)
    count = max(1, min(12, round(box.width / 40)))
    for index in range(count):
        point = face.point(box.left + box.width * (index + 0.5) / count, box.centre.y, feature.depth / 2)
        yield Point(point.x, point.y)


def spoken(codes: tuple[str, ...]) -> str:
    """The codes in few words: those of one family by its name alone."""
    families = {code.partition("-")[0] for code in codes}
    if len(codes) > 2 or (len(codes) > 1 and families == {"RAIL"}):
        return ", ".join(worded("{family}S", family=family) for family in sorted(families))
    return ", ".join(codes)
