"""The gluing plan as a list."""

from collections.abc import Iterator

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.checks.wording import IMPERIAL
from templategen.english import language
from templategen.shop.gluing.marks import joint_name, spans
from templategen.shop.gluing.plan import MM2_PER_M2, GluingPlan, GluingStep
from templategen.shop.listing import Cell, Listing
from templategen.table.profile.choices import Units
from templategen.units import format_mm

HEADER = [
    "step", "does", "glued_joints", "marks", "area_m2", "glue_g", "minutes", "open_minutes", "whole_minutes",
    "closed_minutes", "goes", "clamps", "cauls", "pressure_mpa", "force_n", "clamped_hours", "mind",
]  # fmt: skip


IN_INCHES = {
    "area_m2": "area_sq_ft", "glue_g": "glue_oz", "pressure_mpa": "pressure_psi", "force_n": "force_lbf",
}  # fmt: skip
"""What inch profiles have besides, by the column that it tells."""

AMERICAN = {"area_m2": ("m2", 2), "glue_g": ("gram", 1), "pressure_mpa": ("MPa", 0), "force_n": ("N", 0)}
"""Unit and decimals of each."""


def gluing_list(plan: GluingPlan, units: Units = "mm") -> Listing:
    """Header and rows: one for each step, and the whole at the end; for inch profiles American units too."""
    rows = [list(_row(plan, step)) for step in plan.steps]
    rows += [list(_whole(plan))] if rows else []
    if units != "in":
        return HEADER, rows
    return [*HEADER, *IN_INCHES.values()], [[*row, *_american(row)] for row in rows]


def _american(row: list[Cell]) -> Iterator[str]:
    """The figures of a row in the units of inch profiles."""
    between = translated(" to ")
    for column in IN_INCHES:
        low, _, high = str(row[HEADER.index(column)]).partition(between)
        unit, digits = AMERICAN[column]
        told = (f"{float(one) * IMPERIAL[unit][0]:.{digits}f}" for one in (low, high) if one)
        yield between.join(told)


def marks_list(plan: GluingPlan) -> Listing:
    """Header and rows: each letter with the joint it marks and the two copies it is written on."""
    rows: list[list[Cell]] = [
        [mark.letter, str(step.number), translated(joint_name(mark.kind)), *mark.copies]
        for step in plan.steps
        for mark in step.marks
    ]
    return ["mark", "step", "joint", "on", "and_on"], rows


def describe_joints(step: GluingStep) -> str:
    """What is glued in a step, by kind: `6 laps, 12 mitres`."""
    forms = ((f"{{count:# {name}}}", count) for name, count in step.joints.items())
    return ", ".join(said(form, count=count) for form, count in forms)


def _row(plan: GluingPlan, step: GluingStep) -> Iterator[Cell]:
    yield from (str(step.number), step.does)
    if step.dry:
        mind = "; ".join(step.advice) or translated("no glue")
        none = "none" if language() == "english" else translated("no glue")
        yield from (none, spans(step.letters), *("" for _ in HEADER[4:-1]), mind)
        return
    yield describe_joints(step)
    yield spans(step.letters)
    yield from (format_mm(step.area / MM2_PER_M2, 4), format_mm(step.grams, 1))
    yield from (format_mm(step.minutes, 0), format_mm(plan.open_time, 0))
    yield from (format_mm(step.whole, 0), format_mm(plan.closed_time, 0), str(step.goes))
    yield from (str(step.hold.clamps), str(step.hold.cauls))
    yield from (_range(step.hold.pressure, 1), _range(step.hold.force, 0) if step.hold.force[1] else "")
    yield _range(plan.clamped, 1)
    yield "; ".join(step.advice)


def _whole(plan: GluingPlan) -> Iterator[Cell]:
    """The sums, and the glue with what it is fit for."""
    glue = "{says:word}; {water:word}"
    yield from (translated("all"), said(glue, says=plan.glue.says, water=plan.glue.water), "", "")
    yield from (format_mm(plan.area / MM2_PER_M2, 4), format_mm(plan.grams, 1), "")
    yield from (format_mm(plan.open_time, 0), "", format_mm(plan.closed_time, 0), str(plan.sessions))
    yield from ("", "", "", "", _range(plan.clamped, 1), "; ".join(map(translated, _notes(plan))))


def _notes(plan: GluingPlan) -> Iterator[str]:
    if plan.in_halves:
        yield "the ring is glued in two halves first: whole it can't be closed over the tongues inside it"
    yield "for one table"
    yield "times are the least of the class; the tin's own sheet comes first"
    yield "read its safety sheet: gloves and fresh air"


def _range(pair: tuple[float, float], digits: int) -> str:
    low, high = (format_mm(value, digits) for value in pair)
    return low if low == high else f"{low}{translated(' to ')}{high}"
