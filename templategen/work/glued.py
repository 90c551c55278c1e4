"""Dry fit, glue, and the work on what is glued: pins, sanding, finish, turning over, letting down."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.shop.cautions import BORING, DUST
from templategen.shop.finish import finish_of
from templategen.shop.gluing.listed import joints_told
from templategen.shop.gluing.plan import GluingPlan, GluingStep
from templategen.shop.pins import pins_of
from templategen.shop.weigh import mass_kg
from templategen.table.assembly import Table
from templategen.work.operation import Operation

GRITS = (80, 100, 120)
"""Furniture outdoors is sanded no finer, or it takes too little oil."""

LIFTED_ALONE = 23.0
"""What one person may lift in the best of cases, kg (NIOSH)."""

COAT_DRIES = 24.0
"""Hours from coat to coat (labels of oils; the tin's own figure comes first)."""

RAGS = (
    "Rags with oil can catch fire by themselves: spread them out one by one outdoors, or drown them in a closed tin."
)
LIFT = "Lift with straight backs, fingers clear of the joints as they close."
GLUE = "Gloves, eyes covered, fresh air; read the glue's own sheet first."


def before_gluing(table: Table, gluing: GluingPlan, tables: int) -> Iterator[Operation]:
    """Everything together dry, then the finish where no brush gets later."""
    rates, parts = table.profile.rates, sum(part.count for part in table.parts) * tables
    marks = sum(len(step.marks) for step in gluing.steps)
    yield Operation(
        "dry fit",
        "clamps, pencil",
        "group",
        "all parts, in the order of the steps",
        (
            "put everything together without glue, clamps and all, in the order of the steps",
            f"write the letter of each joint on both parts ({marks} letters, lists/marks.csv)",
            "a spline gets the letter of its mitre, on both halves",
        ),
        "every shoulder closed by hand pressure; the ring's last joint closes without force",
        (LIFT,),
        minutes=rates.slat_fit * parts / 2,
        persons=2,
    )
    yield _sanded(
        table, "parts", "faces that lie inside once it is together: slats, rails and rim inside", tables, 0.7
    )
    yield Operation(
        "first finish",
        "brush and cloth",
        "parts",
        "tongues, grooves of the slats, sides of slats and rails",
        ("mask every face that is glued", "flood tongues and grooves that slide and the sides that slats hide later"),
        "no finish on a face that will be glued",
        (RAGS, DUST),
        minutes=rates.oil * finish_of(table, tables).bare / 0.1 * 0.5,
        wait=COAT_DRIES,
    )


def step_done(table: Table, gluing: GluingPlan, step: GluingStep, tables: int) -> Operation:
    """A step of the assembly as an operation."""
    rates, down = table.profile.rates, step is gluing.steps[-1]
    joints = sum(step.joints.values())
    fitting = rates.slat_fit * sum(table.part(code).count for code in step.adds) if step.dry else 0.0
    tells = ["its sheet shows what goes where"]
    if not step.dry:
        tells.append(
            f"glue {joints_told(step)}: {step.grams:.0f} g, in {step.goes} go{'es' if step.goes > 1 else ''}"
        )
    heavy = down and mass_kg(table) > LIFTED_ALONE
    if down:
        tells.append(f"turn it over and let it down with {2 if heavy else 1} or more persons")
    return Operation(
        step.does,
        f"{step.hold.clamps} clamps, {step.hold.cauls} cauls" if not step.dry else "mallet and block",
        "group",
        ", ".join(step.adds),
        (*tells, *step.advice),
        "joints home, face to face level, diagonals alike" if not step.dry else "every shoulder home",
        (GLUE, LIFT) if not step.dry else (LIFT,),
        step=step,
        minutes=(rates.glue_joint * joints + fitting) * tables,
        wait=0.0 if step.dry else gluing.clamped[0],
        persons=2 if heavy or step.together else 1,
    )


def after_gluing(table: Table, tables: int) -> Iterator[Operation]:
    """Pins, sanding and finish of the top, before it comes down on its legs."""
    rates, pins = table.profile.rates, pins_of(table)
    if pins.count:
        yield Operation(
            "bore and pin",
            "drill with a stop, hammer",
            "group",
            f"{pins.count * tables} slat pins",
            (
                "turn the top over on blankets, two persons, the slats held up by a board",
                pins.sentence,
                f"set the drill's stop so that it ends {pins.length:.1f} mm deep at most, never through the face",
            ),
            "each slat still slides a hair at its right end",
            (BORING, LIFT),
            minutes=rates.cut * pins.count * tables,
            persons=2,
        )
    yield _sanded(table, "group", "the top, its rim and arrises", tables, 0.3)
    coats, area = table.profile.shop.coats, finish_of(table, tables).bare
    for coat in range(1, coats + 1):
        yield Operation(
            f"finish, coat {coat} of {coats}",
            "brush and cloth",
            "group",
            "top and pedestal",
            ("end grain and feet first, again until they take no more; then undersides, then faces",
             "wipe off what stands after a quarter of an hour"),
            "nothing stands in grooves or between slats",
            (RAGS,),
            minutes=rates.oil * area / 0.1 * 0.5,
            wait=COAT_DRIES,
        )  # fmt: skip


def _sanded(table: Table, on: str, what: str, tables: int, share: float) -> Operation:
    rates, area = table.profile.rates, finish_of(table, tables).bare
    return Operation(
        "sand",
        "sander, or paper round a block" if "sander" in table.profile.shop.machines else "paper round a block",
        "parts" if on == "parts" else "group",
        what,
        (f"grits {', '.join(f'P{grit}' for grit in GRITS)}, each until the marks of the one before are gone",
         "keep off joint faces and tongues"),
        "no scratch across the grain in slanting light",
        (DUST,),
        minutes=rates.sand * area / 0.1 * len(GRITS) * share,
    )  # fmt: skip
