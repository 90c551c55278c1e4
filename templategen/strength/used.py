"""How much of the wood's strength each kind of load uses, at the laps and at the legs' tenons."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from templategen.strength.frame import Frame, Solved, solve
from templategen.strength.held import Holds, holds, tension
from templategen.strength.table_frame import lap_section, straight_down, table_frame
from templategen.table.assembly import Table
from templategen.table.profile.choices import TopJoint
from templategen.wood.grades import CRACKED, OUTDOORS, PARTIAL, Grade, depth_factor, grade_of
from templategen.wood.species import figures_of

LOAD_FACTOR = 1.5
"""Partial factor of variable loads, EN 1990."""

JERK = 1.5
"""Weight that is lifted counts so many times (assumed)."""

HELD_BY: Mapping[TopJoint, str] = {"bolted": "the legs' bolts", "draw-bored": "the legs' pegs"}
"""The place in words where something else than glue holds a leg."""

Loads = Mapping[str, Sequence[float]]


@dataclass(frozen=True, slots=True)
class Case:
    """One way of loading a table; `stands` is how long ("short", "instant")."""

    name: str
    stands: str
    loads: Loads


@dataclass(frozen=True, slots=True)
class Used:
    """The place where a case asks most of the wood: a share of its design strength, 1 when all of it is used."""

    case: Case
    place: str
    share: float


def cases_of(table: Table, weight: float) -> tuple[Case, ...]:
    """Leaning, sitting, lifting at the rim by two, dragging by one edge. `weight` of the table in N.

    Two who sit opposite tip nothing, so sitting is asked on both ends of a rail; lifting by two takes half the weight
    each, half as much again for the jerk; dragging takes half the weight level.
    """
    lean, sit = table.profile.limits.lean_load, table.profile.limits.sitting_load
    one, other = "rail.0.end.near", "rail.0.end.far"
    up = straight_down(-JERK / 2 * weight)
    between = "mitre.0" if table.sizes.segments_per_field == 1 else f"ring.{table.sizes.segments_per_field // 2}"
    return (
        Case("lean", "short", {one: straight_down(lean)}),
        Case("lean between", "short", {between: straight_down(lean)}),
        Case("lift", "instant", {one: up, other: up}),
        Case("drag", "instant", {one: (0.5 * weight, 0.0, 0.0, 0.0, 0.0, 0.0)}),
        Case("sit", "instant", {one: straight_down(sit)}),
        Case(
            "sit opposite", "instant",
            {one: straight_down(sit), other: straight_down(sit)},
        ),
    )  # fmt: skip


def used_in(table: Table, weight: float) -> tuple[Used, ...]:
    """For each case the place that is used most."""
    cases, frame = cases_of(table, weight), table_frame(table)
    figures = figures_of(table.profile.wood, table.profile.woods)
    grade = grade_of(table.profile.wood, figures.density)
    solved = solve(frame, [case.loads for case in cases])
    return tuple(
        max(_shares(table, frame, case, one, grade), key=lambda used: used.share)
        for case, one in zip(cases, solved, strict=True)
    )


def _shares(table: Table, frame: Frame, case: Case, solved: Solved, grade: Grade) -> Iterator[Used]:
    """Every lap and every leg tenon: M / W against f_m k_h k_mod / 1.3, 1.5 V / (k_cr b h) against f_v likewise."""
    mod = OUTDOORS[case.stands] / PARTIAL
    for kind, place in (("rail", "the rails' crossing"), ("base", "the crossing of the ground cross")):
        lap = lap_section(table, kind)
        height = (12 * lap.about_y / lap.area) ** 0.5
        for name in (name for name in frame.bars if name.startswith(kind) and "axis" in name):
            ends = solved.forces[name]
            bends = max(abs(ends.start[4]), abs(ends.end[4])) * height / 2 / lap.about_y
            shears = 1.5 * abs(ends.start[2]) / (CRACKED * lap.area)
            share = max(bends / (grade.bending * depth_factor(height)), shears / grade.shear)
            yield Used(case, place, LOAD_FACTOR * share / mod)
    yield from (Used(case, "the legs' tenons", share) for share in _tenons(table, frame, solved, grade, mod))
    if held := holds(table, grade):
        yield Used(case, HELD_BY[table.profile.legs.top_joint], LOAD_FACTOR * _pulled(table, solved, held, mod))


def _tenons(table: Table, frame: Frame, solved: Solved, grade: Grade, mod: float) -> Iterator[float]:
    """A tenon bent along the rail and across it at once."""
    thick, wide, _ = table.profile.legs.tenon
    for name in (name for name in frame.bars if name.startswith("leg.")):
        ends = (solved.forces[name].start, solved.forces[name].end)
        for end in ends if table.sizes.is_glued_on_top else ends[:1]:
            bends = 6 * abs(end[4]) / (thick * wide**2) + 6 * abs(end[5]) / (wide * thick**2)
            yield LOAD_FACTOR * bends / (grade.bending * depth_factor(wide)) / mod


def _pulled(table: Table, solved: Solved, held: Holds, mod: float) -> float:
    """The bolt or peg that is used most; a leg's upper end pulls where the frame pulls it off its bar's start."""
    ends = (forces.end for name, forces in solved.forces.items() if name.startswith("leg."))
    return max(held.share(tension(table, end[0], (end[4], end[5])), mod) for end in ends)
