"""The exploded view: every part pulled out along the way it comes home."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import hypot

from templategen.catalogue import worded
from templategen.drawing.drawing import Drawing, Mark
from templategen.drawing.hidden import Picture, Subject, pictured
from templategen.drawing.leaders import leaders
from templategen.drawing.projection import FROM_ABOVE, FROM_BELOW
from templategen.fit.bench import GROUND
from templategen.fit.plan import Plan, Step
from templategen.fit.way import opposite
from templategen.parts.face import Point3
from templategen.table.assembly import Table
from templategen.view.sight import Sight, Vector, table_bodies

SLAT_GAP, FIRST_GAP, RING_GAP, LIFT_GAP, TOP_GAP = 0.02, 0.05, 0.07, 0.07, 0.25
"""How far parts are pulled apart, as shares of the diameter: slat from slat, the first slat from the cross, the ring
and its splines from what is inside, a part lifted off another, and the top off its legs."""

LETTERS = 44.0
"""The longer side of a picture is this many capital heights."""


def explode(table: Table, plan: Plan) -> tuple[Vector, ...]:
    """How far each copy is pulled out of its place, in the order of the table's placed parts; mm.

    Without a plan (a table that locks) slats and ring go straight outwards.
    """
    work = _Explosion(table, table.profile.top.diameter)
    for step in plan.steps[:-1] if plan.steps else _fallback(table):
        work.take(step)
    work.lift_top()
    return tuple(work.shifts)


def _fallback(table: Table) -> tuple[Sequence[tuple[int, Vector]], ...]:
    """Ways out by the kinds of part alone, where nothing is planned."""
    rounds: dict[str, list[tuple[int, Vector]]] = {}
    for index, placed in enumerate(table.placed):
        kind = table.part(placed.code).kind
        out = (placed.axes[1].x, placed.axes[1].y, 0.0)
        upright = (0.0, 0.0, -1.0) if kind == "foot" else (0.0, 0.0, 1.0)
        group = placed.code if kind in ("rail", "base-rail") else kind
        rounds.setdefault(group, []).append((index, upright if group != kind or kind in GROUND else out))
    order = ("base-rail", "foot", "leg", "rail", "slat", "rim-segment", "spline")
    rank = {code: order.index(table.part(table.placed[own[0][0]].code).kind) for code, own in rounds.items()}
    return tuple(rounds[code] for code in sorted(rounds, key=lambda code: rank[code]))


@dataclass(slots=True)
class _Explosion:
    """The state while steps are pulled apart one after another."""

    table: Table
    diameter: float
    shifts: list[Vector] = field(default_factory=list)
    outward: float = 0.0
    last_kind: str = ""
    heights: dict[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.shifts = [(0.0, 0.0, 0.0)] * len(self.table.placed)

    def take(self, step: Step | Sequence[tuple[int, Vector]]) -> None:
        """Pulls the parts of one step out; parts that move in several steps are pulled as they move last."""
        moves = step if not isinstance(step, Step) else [(move.index, opposite(move.way)) for move in step.moves]
        kinds = {self._kind(index) for index, _ in moves}
        if kinds <= {"rim-segment", "spline"}:
            for kind in sorted(kinds):
                own = [index for index, _ in moves if self._kind(index) == kind]
                self._outwards(kind, [(index, self._radial(index)) for index in own])
            return
        level = [(index, way) for index, way in moves if not way[2]]
        upright = [(index, way) for index, way in moves if way[2]]
        if level:
            self._outwards("slat", level)
        if upright:
            self._upwards(upright)

    def _outwards(self, kind: str, moves: Sequence[tuple[int, Vector]]) -> None:
        if kind == "slat":
            self.outward += (SLAT_GAP if self.last_kind == "slat" else FIRST_GAP) * self.diameter
        elif kind != self.last_kind:
            self.outward += RING_GAP * self.diameter
        self.last_kind = kind
        for index, way in moves:
            self.shifts[index] = self.outward * way[0], self.outward * way[1], 0.0

    def _middle(self, index: int) -> Point3:
        """The middle of a copy's lower face, in its place."""
        placed = self.table.placed[index]
        box = self.table.part(placed.code).outline.bounds.centre
        return placed.point(box.x, box.y, 0.0)

    def _upwards(self, moves: Sequence[tuple[int, Vector]]) -> None:
        """Lifts parts clear of what was lifted before them; feet go down clear of the ground cross."""
        gap = LIFT_GAP * self.diameter
        if moves[0][1][2] < 0:
            for index, _ in moves:
                self.shifts[index] = (0.0, 0.0, -gap)
            return
        group = "ground" if self._kind(moves[0][0]) in GROUND else "top"
        tops = self.heights.get(group)
        low = min(self._span(index)[0] for index, _ in moves)
        rise = 0.0 if tops is None else max(0.0, tops + gap - low)
        for index, _ in moves:
            self.shifts[index] = (0.0, 0.0, rise)
        self.heights[group] = max(self._span(index)[1] for index, _ in moves) + rise

    def lift_top(self) -> None:
        """Lifts everything of the top clear of the exploded pedestal."""
        ground = [i for i in range(len(self.shifts)) if self._kind(i) in GROUND]
        top = [i for i in range(len(self.shifts)) if self._kind(i) not in GROUND]
        high = max(self._span(i)[1] + self.shifts[i][2] for i in ground)
        low = min(self._span(i)[0] + self.shifts[i][2] for i in top)
        rise = high + TOP_GAP * self.diameter - low
        for i in top:
            x, y, z = self.shifts[i]
            self.shifts[i] = (x, y, z + rise)

    def _kind(self, index: int) -> str:
        return self.table.part(self.table.placed[index].code).kind

    def _radial(self, index: int) -> Vector:
        """Outwards, square to the inner edge of a segment or along a spline."""
        at = self._middle(index)
        length = hypot(at.x, at.y)
        return at.x / length, at.y / length, 0.0

    def _span(self, index: int) -> tuple[float, float]:
        """Lowest and highest point of a copy in its place."""
        return height_span(self.table, index)


def height_span(table: Table, index: int) -> tuple[float, float]:
    """Lowest and highest point of a copy in its place, mm above the floor."""
    placed = table.placed[index]
    part = table.part(placed.code)
    box = part.outline.bounds
    heights = [
        placed.point(x, y, z).z
        for x in (box.left, box.right)
        for y in (box.bottom, box.top)
        for z in (0, part.thickness)
    ]
    return min(heights), max(heights)


def exploded_drawing(table: Table, plan: Plan) -> Drawing:
    """The exploded view with the code of every part."""
    everything = range(len(table.placed))
    bodies = table_bodies(table, everything, explode(table, plan))
    subjects = [Subject(body, table.placed[i].code) for i, body in zip(everything, bodies, strict=True)]
    return labelled(worded("{title}: exploded view", title=table.profile.title), subjects, FROM_ABOVE)


def finished_drawing(table: Table, sight: Sight = FROM_ABOVE) -> Drawing:
    """The finished table as it stands, seen from above or, with FROM_BELOW, from below."""
    bodies = table_bodies(table, range(len(table.placed)))
    subjects = [Subject(body, placed.code) for body, placed in zip(bodies, table.placed, strict=True)]
    title = worded("{title} from below" if sight is FROM_BELOW else "{title} from above", title=table.profile.title)
    return Drawing(title, pictured(subjects, sight).marks)


def labelled(title: str, subjects: Sequence[Subject], sight: Sight, named: Sequence[str] | None = None) -> Drawing:
    """A picture with the codes beside it; `named` are those told, else all."""
    picture = pictured(subjects, sight)
    return Drawing(title, (*picture.marks, *codes_beside(picture, subjects, named)))


def codes_beside(
    picture: Picture, subjects: Sequence[Subject], named: Sequence[str] | None = None
) -> tuple[Mark, ...]:
    """The marks of the codes of a picture."""
    box = picture.box
    shown = [(subjects[patch.body].code, patch) for patch in picture.patches]
    if named is not None:
        shown = [(code, patch) for code, patch in shown if code in named]
    return tuple(leaders(box, shown, max(box.width, box.height) / LETTERS))
