"""Pictures of assembly: for each step what stands already, what comes home, and the way it comes."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import fsum, hypot

from templategen.checks.describe import said
from templategen.drawing.drawing import Drawing, Mark, Stroke
from templategen.drawing.exploded import LETTERS
from templategen.drawing.hidden import Subject, pictured
from templategen.drawing.leaders import leaders
from templategen.drawing.machine_marks import named
from templategen.drawing.projection import FROM_ABOVE, FROM_BELOW, UPSIDE_DOWN, seen_from
from templategen.drawing.tones import ADDED, MOTION, THERE
from templategen.fit.bench import GROUND, Move
from templategen.fit.plan import Plan, Step
from templategen.geometry.edge import Line
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.shop.gluing.hold import LAPS, UNDER, UNDER_FOOT
from templategen.table.assembly import Table
from templategen.view.facets import part_facets
from templategen.view.sight import Body, Sight, Vector, table_bodies

LOW = seen_from(-68.0, -14.0)
"""The eye for the top coming down on its legs: their tenons and its mortises both show."""

CLEAR = 50.0
"""A part is pictured this far short of its place, mm, and its own extent along its way more."""

FURTHEST = 260.0
"""But no further off than this, mm."""

HEAD = 0.22
"""Length of an arrow's head as a share of its shaft."""

MOST_ARROWS = 12

CROSSED = ("rail", "base-rail")
"""What lies on battens."""

BATTEN, SHARE = 40.0, 0.6
"""How wide a batten under an arm is drawn, mm, and how far out where there is no foot, as a share of the arm."""


def step_drawings(tables: Sequence[Table], plan: Plan) -> tuple[Drawing, ...]:
    """One picture for each step of the plan, in working order, of the table as its parts are at that step."""
    return tuple(step_drawing(table, plan, number) for number, table in enumerate(tables))


def step_drawing(table: Table, plan: Plan, number: int) -> Drawing:
    """The picture of step `number`, counted from 0: parts already there thin, parts added heavy, arrows homeward.

    Pads are set on the cross turned over; what else comes on from below, and the top as it meets the legs, is seen
    from below.
    """
    step = plan.steps[number]
    there, added = standing_before(table, plan, number), [move.index for move in step.moves]
    away = {move.index: pictured_off(table, move, step) for move in step.moves}
    if not there and not step.together:
        away[added[0]] = (0.0, 0.0, 0.0)
    shifts: list[Vector] = [away.get(index, (0.0, 0.0, 0.0)) for index in range(len(table.placed))]
    indexes, under = (*there, *added), _battens(table, step, (*there, *added))
    subjects = [Subject(body, named("batten under it"), THERE) for body in under] + [
        Subject(body, table.placed[index].code, ADDED if index in away else THERE)
        for index, body in zip(indexes, table_bodies(table, indexes, shifts), strict=True)
    ]
    sight = _sight(table, plan, number)
    picture = pictured(subjects, sight)
    arrows = tuple(_arrows(table, step, away, sight))
    box, seen = picture.box, () if _is_last(plan, number) else picture.patches
    told = (*range(min(1, len(under))), *range(len(under) + len(there), len(subjects)))
    shown = [(subjects[patch.body].code, patch) for patch in seen if patch.body in told]
    words = leaders(box, shown, max(box.width, box.height) / LETTERS)
    title = said("{title}: step {number}, {does}", title=table.profile.title, number=number + 1, does=step.does)
    return Drawing(title, (*picture.marks, *arrows, *words))


def _battens(table: Table, step: Step, indexes: Sequence[int]) -> list[Body]:
    """The battens that a cross lies on while its laps, its pads or its legs are glued: by the ends where these have
    feet or carry legs, under a cross turned over on what was its upper face."""
    kinds = {table.joints[number].kind for number in step.glued}
    upright = "leg-tenon" in kinds and not step.lets_down
    if not (upright or kinds.intersection((*LAPS, "foot"))):
        return []
    found, high, units = [], UNDER[table.profile.units], table.profile.units
    pads = max((part.thickness for part in table.parts if part.kind == "foot"), default=0.0)
    for index in indexes:
        part = table.part(table.placed[index].code)
        if part.kind not in CROSSED:
            continue
        box = part.outline.bounds
        footed = upright or bool(part.cuts("relief"))
        out = box.right - fsum(UNDER_FOOT[units]) / 2 if footed else box.right * SHARE
        low = part.thickness if "foot" in kinds else -high - (pads if upright else 0.0)
        for x in (-out, out):
            ring = rectangle(x - BATTEN / 2, box.bottom - BATTEN, x + BATTEN / 2, box.top + BATTEN)
            batten = replace(part, code="", outline=ring, blank=ring, thickness=high, features=(), holes=(), faces=())
            found.append(Body(part_facets(batten), table.placed[index], (0.0, 0.0, low)))
    return found


def _sight(table: Table, plan: Plan, number: int) -> Sight:
    if _is_last(plan, number):
        return LOW
    if all(table.part(move.code).kind == "foot" for move in plan.steps[number].moves):
        return UPSIDE_DOWN
    return FROM_BELOW if all(move.way[2] > 0 for move in plan.steps[number].moves) else FROM_ABOVE


def standing_before(table: Table, plan: Plan, number: int) -> tuple[int, ...]:
    """The copies that stand on the bench when step `number` begins: those of its sub-assembly that have come home.

    What is glued up apart and joins later (a half ring) is on a bench of its own, with what was glued to it before.
    """
    step = plan.steps[number]
    if _is_last(plan, number):
        return tuple(sorted(_moved(plan.steps[:number]) - {move.index for move in step.moves}))
    later = _moved(plan.steps[number + 1 : -1])
    if {move.index for move in step.moves} & later:
        met = {index for joint in step.glued for index in table.joints[joint].placed}
        return tuple(sorted(_moved([one for one in plan.steps[:number] if _moved([one]) & met])))
    ground = _is_ground(table, step.moves[0].index)
    now = {move.index for move in step.moves} | later
    return tuple(sorted(i for i in _moved(plan.steps[:number]) - now if _is_ground(table, i) == ground))


def _is_last(plan: Plan, number: int) -> bool:
    return number == len(plan.steps) - 1


def _moved(steps: Sequence[Step]) -> set[int]:
    return {move.index for step in steps for move in step.moves}


def _is_ground(table: Table, index: int) -> bool:
    return table.part(table.placed[index].code).kind in GROUND


def pictured_off(table: Table, move: Move, step: Step) -> Vector:
    """Where a part is pictured from its place: back along its way; what comes home together that way is one piece."""
    pace = move.pace if step.together else 1.0
    one = [other for other in step.moves if other.way == move.way] if step.together else [move]
    far = pace * min(FURTHEST, CLEAR + max(_extent(table, other.index, other.way) for other in one))
    if step.together and step.along[2]:
        far = FURTHEST * 0.7
    return -far * move.way[0], -far * move.way[1], -far * move.way[2]


def _extent(table: Table, index: int, way: Vector) -> float:
    """How long a copy is along a direction, mm."""
    placed = table.placed[index]
    part = table.part(placed.code)
    along = [fsum(p * w for p, w in zip(placed.point(v.x, v.y, z), way, strict=True))
             for v in part.outline for z in (0.0, part.thickness)]  # fmt: skip
    return max(along) - min(along)


def _arrows(table: Table, step: Step, away: dict[int, Vector], sight: Sight) -> Iterator[Mark]:
    """An arrow for each part that moves by itself; for a whole top one over each joint that it closes."""
    if step.together and step.along[2]:
        ends = [_joint_top(table, number, away) for number in step.glued][:MOST_ARROWS]
        shift = next(iter(away.values()))
        tails = [_moved_by(end, shift) for end in ends]
    else:
        told = _with_arrows(table, away)
        ends = [_middle(table, index) for index in told]
        tails = [_moved_by(end, away[index]) for end, index in zip(ends, told, strict=True)]
    for tail, end in zip(tails, ends, strict=True):
        yield from motion(Point(*sight.at(tail)), Point(*sight.at(end)))


def _moved_by(point: Vector, shift: Vector) -> Vector:
    return point[0] + shift[0], point[1] + shift[1], point[2] + shift[2]


def _with_arrows(table: Table, away: dict[int, Vector]) -> list[int]:
    """The copies that get an arrow: all, or of many the first of each code, of very many the first that comes each
    way."""
    first = {table.placed[index].code: index for index in reversed(away)}
    for told in (list(away), sorted(first.values())):
        if len(told) <= MOST_ARROWS:
            return told
    ways = {_way(far): index for index, far in reversed(away.items())}
    return sorted(ways.values())


def _way(far: Vector) -> tuple[float, ...]:
    return tuple(round(part / max(1.0, hypot(*far)), 3) for part in far)


def _joint_top(table: Table, number: int, away: dict[int, Vector]) -> Vector:
    """The middle of the upper end of the part that stays, of a joint."""
    index = next(i for i in table.joints[number].placed if i not in away)
    placed = table.placed[index]
    part = table.part(placed.code)
    corners = [placed.point(v.x, v.y, z) for v in part.outline for z in (0.0, part.thickness)]
    high = max(corner.z for corner in corners)
    end = [corner for corner in corners if corner.z > high - 1.0]
    return fsum(c.x for c in end) / len(end), fsum(c.y for c in end) / len(end), high


def _middle(table: Table, index: int) -> Vector:
    """The middle of a copy in its place."""
    placed = table.placed[index]
    part = table.part(placed.code)
    box = part.outline.bounds.centre
    return tuple(placed.point(box.x, box.y, part.thickness / 2))  # type: ignore[return-value]


def motion(tail: Point, tip: Point) -> Iterator[Mark]:
    """An arrow with one head; none where the way runs into the picture."""
    if tail.distance(tip) < 1.0:
        return
    yield Stroke(MOTION, Line(tail, tip))
    back = tail.minus(tip).times(HEAD)
    for turn in (-0.35, 0.35):
        yield Stroke(MOTION, Line(tip.plus(back.turned(turn)), tip))
