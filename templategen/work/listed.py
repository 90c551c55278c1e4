"""The plan of work as a list."""

from templategen.catalogue import translated
from templategen.units import format_mm
from templategen.work.plan import WorkPlan

Cell = str | float

HEADER = [
    "operation_number", "day", "operation", "way", "on", "works_on", "set_up", "step", "persons", "minutes",
    "wait_hours", "tells", "measure", "cautions", "jigs",
]  # fmt: skip


def plan_list(plan: WorkPlan) -> tuple[list[str], list[list[Cell]]]:
    """Header and rows: one for each operation, then the whole."""
    rows: list[list[Cell]] = []
    for one in plan.operations:
        work = one.operation
        rows.append([
            str(one.number), str(one.day), work.does, work.way, work.on, work.works_on, one.set_up,
            one.step, str(work.persons), format_mm(work.minutes, 0),
            format_mm(work.wait, 0) if work.wait else "", "; ".join(work.tells), work.measure,
            " ".join(map(translated, work.cautions)), ", ".join(work.jigs),
        ])  # fmt: skip
    whole = f"{plan.minutes / 60:.0f} hours of work over {plan.days} working days, for {plan.tables} table(s)"
    return HEADER, [*rows, ["all", str(plan.days), whole, *[""] * 6, format_mm(plan.minutes, 0), *[""] * 5]]
