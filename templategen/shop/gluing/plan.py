"""The gluing plan as a value: steps in order of assembly, with areas, glue, time, clamps and marks."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import count
from math import fsum

from templategen.checks.assembly import spread, stretch
from templategen.checks.gluing import glue_of, open_time
from templategen.fit.plan import Plan, Step
from templategen.geometry.tolerance import EQUAL
from templategen.joinery.joint import JOINTS, JointKind
from templategen.shop.gluing.advice import advice
from templategen.shop.gluing.hold import LAPS, Hold, glued_area, hold_of
from templategen.shop.gluing.marks import Mark, dry_in, every_mark, letters_on
from templategen.table.assembly import Table
from templategen.wood.glue import Glue

MM2_PER_M2 = 1e6

SIZING = 0.5
"""A thin first coat, as a share of the spread (assumed)."""


@dataclass(frozen=True, slots=True)
class GluingStep:
    """One step of the assembly as it is glued.

    `joints` counts the glued joints by kind, `area` is what is glued in mm2, `grams` the glue. `at_once` is how many
    joints are open at most from the first glue to the last part home, `whole` the time for all of the step, min, for
    one person; `goes` in how many goes it is glued and clamped so that none takes longer than the glue stays closed,
    and `in_a_go` the joints of the largest where one hold draws up all of it (0: each piece is held by itself).
    `hands` are so many persons that slow ones keep within the glue's times where two can. `letters` are those written
    on its joints, dry tongues too; splines go by their mitres', whose `marks` stand elsewhere. `dry` steps take no
    glue; `lets_down` is the last, which lets the closed top down on its legs.
    """

    number: int
    does: str
    adds: tuple[str, ...]
    joints: Mapping[str, int]
    area: float
    grams: float
    at_once: int
    in_a_go: int
    whole: float
    hands: int
    goes: int
    together: bool
    marks: tuple[Mark, ...]
    letters: tuple[str, ...]
    hold: Hold
    advice: tuple[str, ...]
    lets_down: bool = False

    @property
    def dry(self) -> bool:
        """Whether nothing is glued in it."""
        return not self.joints

    @property
    def minutes(self) -> float:
        """The longest stretch from the first glue to the last part home, for one person."""
        return spread(self.at_once)

    @property
    def home(self) -> tuple[float, float]:
        """The same for its hands, from middling to slow ones, min."""
        return self._by_hands(self.at_once)

    @property
    def until_held(self) -> tuple[float, float]:
        """How long all of the largest go takes, of what one hold draws up, min."""
        return self._by_hands(self.in_a_go)

    def _by_hands(self, joints: int) -> tuple[float, float]:
        low, high = stretch(joints)
        return low / self.hands, high / self.hands

    @property
    def singly(self) -> bool:
        """Whether its pieces are glued and brought home one after another, the glue's times counting for each."""
        return self.minutes < self.whole and self.goes == 1 and not self.in_a_go


@dataclass(frozen=True, slots=True)
class GluingPlan:
    """The whole plan: the glue, its times in minutes at the workshop's warmth, hours in the clamps, the steps."""

    glue: Glue
    open_time: float
    closed_time: float
    clamped: tuple[float, float]
    ring: str
    steps: tuple[GluingStep, ...]

    @property
    def grams(self) -> float:
        """Glue for the whole table."""
        return fsum(step.grams for step in self.steps)

    @property
    def area(self) -> float:
        """All glued contact, mm2."""
        return fsum(step.area for step in self.steps)

    @property
    def sessions(self) -> int:
        """How often glue is spread and clamped."""
        return sum(step.goes for step in self.steps if not step.dry)

    @property
    def in_halves(self) -> bool:
        """Whether the ring must be glued in two halves first."""
        return self.ring == "two halves"


def gluing_plan(table: Table, plan: Plan) -> GluingPlan:
    """The gluing of a table that goes together as `plan` says; no steps where its parts lock each other."""
    profile, glue = table.profile, glue_of(table.profile)
    marks = every_mark(table, plan)
    limits = open_time(profile), glue.closed_at(profile.shop.glue_temperature)
    last = max((number for number, step in enumerate(plan.steps, 1) if _mitres(table, step)), default=0)
    filled = _filled(table, plan)
    whole, lowered = (last, *_halves(table, plan), *filled), _lowered(table, plan)
    steps = (
        _step(table, number, step, marks, limits, (number in whole, number in filled, number in lowered))
        for number, step in enumerate(plan.steps, 1)
    )
    return GluingPlan(glue, *limits, glue.clamped, plan.ring, tuple(steps))


def _mitres(table: Table, step: Step) -> bool:
    """Whether a step glues mitres; the last that does closes the ring."""
    return any(table.joints[joint].kind == "mitre" for joint in step.glued)


def _halves(table: Table, plan: Plan) -> list[int]:
    """The steps that glue a half ring by itself: it is drawn up as a whole ring, the other half dry in its place."""
    if plan.ring != "two halves":
        return []
    return [number for number, step in enumerate(plan.steps, 1) if _mitres(table, step) and not step.together]


def _filled(table: Table, plan: Plan) -> list[int]:
    """The steps that glue a ring but for its last segment: drawn up as a whole ring, what fills its place dry in it;
    clamps across an open ring would spread it."""
    if plan.closing != "measure":
        return []
    return [number for number, step in enumerate(plan.steps, 1) if _mitres(table, step) and not step.last]


def _lowered(table: Table, plan: Plan) -> list[int]:
    """The step that follows the top's laps, whose rails still lie on battens."""
    laid = [
        number
        for number, step in enumerate(plan.steps, 1)
        for joint in (table.joints[index] for index in step.glued)
        if joint.kind in LAPS and table.part(joint.parts[0]).kind == "rail"
    ]
    return [number + 1 for number in laid[-1:]]


def _step(
    table: Table, number: int, step: Step, marks: Mapping[int, Mark], limits: tuple[float, float],
    ring: tuple[bool, bool, bool],
) -> GluingStep:  # fmt: skip
    """`ring` says whether the step draws up a whole ring, whether what fills the last place is in that, and whether
    the rails lie on battens as it begins."""
    closes, filled, lowered = ring
    kinds = {joint: table.joints[joint].kind for joint in step.glued}
    hold = hold_of(table, kinds, closes, step.lets_down)
    one_hold = not step.together and (hold.band or "leg-tenon" in kinds.values())
    pieces = _pieces(table, step)
    goes = _goes(pieces, limits, filled) if one_hold else pieces and [step.glued]
    in_a_go = max(map(len, goes)) if one_hold else 0
    hands = 2 if stretch(step.at_once)[1] > limits[0] or stretch(in_a_go)[1] > limits[1] else 1
    letters, dry = letters_on(table, step.glued, marks), dry_in(table, step)
    told = [letters_on(table, joints, marks) for joints in goes]
    return GluingStep(
        number,
        step.does,
        tuple(sorted({move.code for move in step.moves})),
        dict(Counter(JOINTS[kind].glued for joint, kind in kinds.items() if glued_area(table, table.joints[joint]))),
        fsum(glued_area(table, table.joints[joint]) for joint in kinds),
        grams(table, kinds),
        step.at_once,
        in_a_go,
        spread(len(kinds)),
        hands,
        len(goes),
        step.together,
        tuple(marks[joint] for joint in (*step.glued, *dry) if joint in marks),
        (*letters, *(marks[joint].letter for joint in dry)),
        hold,
        tuple(advice(table, step, kinds, told, hold, limits, filled, lowered)),
        step.lets_down,
    )


def _pieces(table: Table, step: Step) -> list[Sequence[int]]:
    """The joints that each of a step's pieces closes as it comes home, in that order."""
    turn = {move.index: place for place, move in enumerate(step.moves)}
    closed: dict[int, list[int]] = {}
    for joint in step.glued:
        closed.setdefault(max(turn.get(index, -1) for index in table.joints[joint].placed), []).append(joint)
    return [closed[place] for place in sorted(closed)]


def _goes(pieces: Sequence[Sequence[int]], limits: tuple[float, float], filled: bool) -> list[Sequence[int]]:
    """The joints of each of the goes in which one hold draws up the pieces: as few as the glue gives time for, as
    even as whole pieces let them be. Where what fills the last place comes in too, film round it, and all cauls
    after that, the last part of a go is home while its first glue is still open, by slow hands too."""

    def in_time(joints: int) -> bool:
        low, high = stretch(joints)
        return low <= limits[1] + EQUAL and (not filled or high <= limits[0] + EQUAL)

    least = max(map(len, pieces))
    most = next(joints for joints in count(least) if not in_time(joints + 1))
    fewest = len(_filled_up(pieces, most))
    return next(goes for goes in map(partial(_filled_up, pieces), count(least)) if len(goes) == fewest)


def _filled_up(pieces: Sequence[Sequence[int]], most: int) -> list[Sequence[int]]:
    """The pieces' joints one go after another, none with more than `most`."""
    goes: list[Sequence[int]] = [()]
    for joints in pieces:
        if len(goes[-1]) + len(joints) > most and goes[-1]:
            goes.append(())
        goes[-1] = (*goes[-1], *joints)
    return goes


def grams(table: Table, kinds: Mapping[int, JointKind]) -> float:
    """Glue for some joints, g: spread on one face of each; mitres are sized first with a glue that does that."""
    sizing = SIZING if glue_of(table.profile).sizes else 0.0
    shares = {joint: 1 + (sizing if JOINTS[kind].sized else 0.0) for joint, kind in kinds.items()}
    area = fsum(glued_area(table, table.joints[joint]) * share for joint, share in shares.items())
    return area / MM2_PER_M2 * table.profile.shop.spread
