"""Dry fit, glue, and the work on what is glued: pins, sanding, finish, turning over, letting down."""

from collections.abc import Iterator
from dataclasses import replace
from math import ceil

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.checks.wording import GRAVITY, format_size
from templategen.fit.plan import RING_WAYS, Plan
from templategen.shop.cautions import HAND_SAW, LIFT
from templategen.shop.gluing.advice import film_of
from templategen.shop.gluing.listed import describe_joints
from templategen.shop.gluing.plan import GluingPlan, GluingStep
from templategen.shop.pins import KNIFED_ALONG, pins_of
from templategen.shop.weigh import mass_kg
from templategen.table.assembly import Table
from templategen.table.pedestal import leg_axis
from templategen.units import length_words
from templategen.work.dry_top import DRY_TOPS, pegs_made
from templategen.work.operation import Operation
from templategen.work.surfaces import INSIDE, first_finish, sanded, stands_off

LIFTED_ALONE = 23.0
"""What one person may lift in the best of cases, kg (NIOSH)."""

LEAST_GLUE = {"mm": 1.0, "in": 2.9}
"""The least amount of glue that is stated, g: a tenth of an ounce in inch profiles."""

PROVED = {
    "lap": "faces level above and below, neighbouring ends of the rails equally far apart",
    "pad": "edges level with the rail's",
    "leg tenon": "shoulders closed all round, the rails' upper faces level",
    "mitre": "joints home, faces level, every diagonal alike",
    "spline slot": "splines home in their slots, faces level",
}
"""What to measure where something is glued, by the joint's name."""

FIRST = {
    "BASE": "the pedestal begins with it: on a flat table, the side up that its drawing shows from above",
    "RAIL": "the top begins with it: on the assembly board, face up",
}
"""What the first rail of each group is laid on."""

_TRIED = "put everything together without glue, clamps, cauls and all, in the order of the steps"
TRIED = {
    "": _TRIED,
    "halves": f"{_TRIED}; the ring as two halves laid round it, without the splines between them, which are slotted "
    "later",
    "measure": f"{_TRIED}; FILLER for the ring's last segment: where a rail's shoulder stays open a shaving off"
    f" FILLER, where a mitre does a card between it and its neighbour",
}
"""By how the ring is closed: what can't be tried yet stays out."""

WRAPPED = (
    "each spline once more wrapped in its film ({film} or thinner), with its tape: it slides in by hand and is drawn"
    " out again, else plane a shaving off it"
)
"""How splines are tried that keep their slots clear of glue."""

ON_ITS_SHEET = "its sheet shows what goes where"
"""Told of every step in the plan of work, but of the first rails'."""

LEGS_UP = (
    "the cross on its battens first, by the arms' ends, so that a clamp's jaw goes in under it, the top's rails laid"
    " together dry beside it;"
    " each leg home by mallet; then two persons set the rails on the legs' upper tenons, which put each leg where it"
    " must stand; at each leg a clamp over rail and cross, upright, waste under both jaws, until the glue holds; all"
    " that within {closed:g} minutes of the first glue"
)

LEG_TURNED = (
    "each leg left end down, its upper edge outwards, as its own sheet draws it: the other edge outwards it leans the"
    " wrong way"
)
"""How a leg that leans is turned, whose shoulders close either way: its drawing's right end is its head."""

PADS_ON = (
    "turn it over, underside up, on the battens again; one pad after another, spread, set at its rail's"
    " end[{rounded:?}, its rounded end outwards], edges level, and clamped there before the next is spread; once the"
    " glue holds turn it back, on to its feet"
)

LAST_ON = "straight inwards, both mitres at once"
"""How a segment comes that closes the ring by itself."""

HALF_LAID = (
    "lay the whole ring on its lines on the assembly board, upper face up, a caul over every joint; glue this half"
    " alone, the other lies dry in its place, film in the two joints between them"
)

CLOSED_ON = (
    (
        "two persons, one behind each half ring on the board; dry first: push both up until the tongues of all"
        " {slats} slats stand in the groove, from the middle outwards; one that catches is lifted or turned at its"
        " slat's end with a thin blade; then straight back a hand's breadth, the slats stay as they lie"
    ),
    (
        "each spreads the tenons that go into the half in front, then at its right-hand end the mitre and its spline"
        " or slot: so both joints are spread once"
    ),
    (
        "push both up level, to the tongues first and then home, by turns a little on either side, until both mitres"
        " are closed; then the band"
    ),
)
"""How two half rings close on the cross: who does what, and how the tongues are led in."""

SLID_IN = (
    "take the band off, draw the splines out; tried once more without film each slides home by hand, else scrape its"
    " slot; then one spline after another, so that the minutes count for each alone: spread the walls of its slot"
    " thin, nothing wet on the spline, which would swell it, slide it in from the ring's outside, its marked face up,"
    " until its outer end is level with the ring's corner, then spread the next"
)

LAID_ON = (
    "press it home over each leg; no clamp reaches there: lay {weight} of sand over each, on a cloth, until the glue"
    " holds"
)

UNDER_RAILS = "shoulders closed all round under every rail"
"""What is measured where the top comes down on its legs."""

LEVEL_OUTSIDE = (
    "each spline's outer end level with the ring's corner[: so laid on the face beside its slot, before glue, it"
    " begins {inset} from the inner corner]"
)
"""What is measured where a spline's slots run out of the ring."""

OVERNIGHT = 12.0
"""How long glue hardens before anything pulls at it, hours: the longest that any class of ours is clamped, but for
epoxy's upper end (shop practice)."""

HARDENS = "leave it overnight: a joint that holds isn't hard yet"

GLUE = "Gloves, eyes covered, fresh air; read the glue's own sheet first."


def before_gluing(table: Table, assembly: Plan, gluing: GluingPlan, tables: int) -> Iterator[Operation]:
    """Everything together dry, then the finish where no brush gets later."""
    yield from pegs_made(table, tables)
    rates, parts = table.profile.rates, sum(part.count for part in table.parts) * tables
    marks = sum(len(step.marks) for step in gluing.steps)
    yield sanded(table, "parts", INSIDE, tables, 0.7)
    yield Operation(
        "dry fit",
        "what holds each step, pencil and knife",
        "group",
        "all parts, in the order of the steps",
        (
            TRIED.get(assembly.closing, TRIED[""]),
            *(
                (said(WRAPPED, film=film_of(table.profile)),)
                if any(step.joints.get("mitre") and not step.joints.get("spline slot") for step in gluing.steps)
                and table.profile.joints.spline != "none"
                else ()
            ),
            said(
                "write the letter of each joint on both parts ({marks} letters; splines go by their "
                "mitre's); those of a slat's tongues stand on its drawing, at either end field by field, "
                "anticlockwise from arm 1",
                marks=marks,
            ),
            (
                "on a face beside the joint, which is sanded once more at the end, a slat's on its tongue; of parts"
                " that look alike their number too, such as RIM-A 3"
            ),
            "a spline gets the letter of its mitre, at both ends, and a line on the face that lies up",
            *((KNIFED_ALONG,) if pins_of(table).count else ()),
        ),
        _fits(table),
        (LIFT,),
        minutes=rates.slat_fit * parts / 2,
        persons=2,
    )
    yield first_finish(table, tables)


def _fits(table: Table) -> str:
    """What a dry fit shows: slats stand off their rails by what these swell, all else closes."""
    free = stands_off(table)
    if not free:
        return translated(
            "every shoulder closed by hand pressure, each gap between slats as its spacer; then all apart again"
        )
    return said(
        "rails, rim and legs closed by hand pressure, slats {free} off the rails at each shoulder, each gap as its"
        " spacer; then all apart again",
        free=free,
    )


def step_done(table: Table, gluing: GluingPlan, step: GluingStep, tables: int) -> Operation:
    """A step of the assembly as an operation."""
    rates, down = table.profile.rates, step is gluing.steps[-1]
    joints = sum(step.joints.values())
    dry = DRY_TOPS.get(table.profile.legs.top_joint) if down else None
    fitting = rates.slat_fit * sum(table.part(code).count for code in step.adds) if step.dry and not down else 0.0
    fitting += rates.cut * table.sizes.arms if dry else 0.0
    tells = [FIRST[step.adds[0].partition("-")[0]]] if _begins(table, step) else [ON_ITS_SHEET]
    if not step.dry:
        units = table.profile.units
        glue = figured(format_size(max(LEAST_GLUE[units], step.grams), "gram", units))
        if step.singly:
            tells.append(said("glue {joints}: {grams}, one after another", joints=describe_joints(step), grams=glue))
        else:
            told = (
                "glue {joints}: {grams}, in {goes} goes" if step.goes > 1 else "glue {joints}: {grams}, in {goes} go"
            )
            tells.append(said(told, joints=describe_joints(step), grams=glue, goes=step.goes))
    ready = 1 if step.hold.clamps or step.hold.band else 0
    tells += step.advice[:ready]
    heavy = down and mass_kg(table) > LIFTED_ALONE
    if down:
        tells += (dry.before,) if dry else ()
        tells.append(
            "lift the top, face up, over the legs and let it down, two persons at the least"
            if heavy
            else "lift the top, face up, over the legs and let it down"
        )
        tells += dry.home if dry else ()
        tells += (said(LAID_ON, weight=laid_on(table)),) if step.hold.weights else ()
    elif is_upright(step):
        tells += (LEG_TURNED,) if leg_axis(table.sizes).rake else ()
        tells.append(said(LEGS_UP, closed=gluing.closed_time))
    elif "pad" in step.joints:
        tells.append(said(PADS_ON, rounded=table.profile.base.end_round > 0))
    elif step.joints.get("spline slot") == 2 * sum(table.part(code).count for code in step.adds):
        tells.append(SLID_IN)
    elif "mitre" in step.joints and gluing.in_halves and step.together:
        tells += (said(CLOSED_ON[0], slats=_led_in(table)), *CLOSED_ON[1:])
    elif "mitre" in step.joints:
        alone = LAST_ON if step.joints["mitre"] == 2 else RING_WAYS[gluing.ring]
        tells.append(HALF_LAID if gluing.in_halves else alone)
    elif len(step.adds) > 1 and not step.together:
        tells.append("one after another, as the arrows show")
    return Operation(
        step.does,
        dry.tools if dry else held_with(table, step),
        "group",
        ", ".join(step.adds),
        (*tells, *step.advice[ready:]),
        _proved(table, step),
        (GLUE, LIFT) if not step.dry else (LIFT,),
        step=step,
        minutes=(rates.glue_joint * joints + fitting) * tables,
        wait=0.0 if step.dry else gluing.clamped[0],
        between=max(0, step.goes - 1) * gluing.clamped[0],
        persons=2 if heavy or step.together or step.hands > 1 or "leg tenon" in step.joints else 1,
    )


def _led_in(table: Table) -> int:
    """How many slats have tongues in the ring's groove."""
    return len({
        index
        for joint in table.joints
        if {table.part(code).kind for code in joint.parts} == {"slat", "rim-segment"}
        for index in joint.placed
        if table.part(table.placed[index].code).kind == "slat"
    })  # fmt: skip


def besides(done: Operation) -> tuple[str, ...]:
    """What is told of a step besides what its own sheet shows of it: what goes where, what is glued with how much."""
    assert done.step is not None
    shown = (done.tells[0] == ON_ITS_SHEET) + (not done.step.dry)
    return done.tells[shown:]


def overnight(glued: Operation) -> Operation:
    """A step that a plane, a saw or a load follows: its glue hardens first."""
    if glued.step is None or glued.step.dry:
        return glued
    return replace(glued, wait=max(glued.wait, OVERNIGHT), tells=(*glued.tells, HARDENS))


def _begins(table: Table, step: GluingStep) -> bool:
    """Whether a step lays the first rail of the pedestal or of the top, which meets nothing yet."""
    return step.dry and {table.part(code).kind for code in step.adds} <= {"rail", "base-rail"}


def _proved(table: Table, step: GluingStep) -> str:
    """What proves a step, by what is glued in it."""
    free = stands_off(table)
    if step.dry and free and {table.part(code).kind for code in step.adds} == {"slat"}:
        return said("each shoulder {free} off its rail, each gap as its spacer", free=free)
    if step.hold.weights:
        return translated(UNDER_RAILS)
    if step.dry:
        return translated("it lies flat and doesn't rock" if _begins(table, step) else "every shoulder home")
    through = table.profile.joints.spline == "through"
    told = "; ".join(
        _level_outside(table) if name == "spline slot" and through else translated(PROVED[name])
        for name in PROVED
        if name in step.joints
    )
    return told or translated("joints home")


def _level_outside(table: Table) -> str:
    """Where splines lie that run out of the ring, told so that it can be tried while they aren't in their slots."""
    long = {round(part.blank.bounds.height, 3) for part in table.parts if part.kind == "spline"}
    inset = figured(length_words(table.sizes.joint_face - long.pop(), table.profile.units)) if len(long) == 1 else ""
    return said(LEVEL_OUTSIDE, inset=inset)


def is_upright(step: GluingStep) -> bool:
    """Whether a step sets legs up on the cross, which lies on battens for it."""
    return "leg tenon" in step.joints and not step.lets_down


def laid_on(table: Table) -> str:
    """What is laid over each leg, in words: its share of the sandbags that the table is tried with afterwards."""
    each = 2 * tried_with(table) // table.sizes.arms
    return figured(format_size(each, "kg", table.profile.units))


def tried_with(table: Table) -> int:
    """The weight that the finished table's rim is tried with, and its feet are held down with, kg: half of the bags
    that were laid over its legs, all alike."""
    bags = table.sizes.arms // 2
    return bags * ceil(table.profile.limits.lean_load / GRAVITY / bags)


def held_with(table: Table, step: GluingStep) -> str:
    """What a step is driven or held together with."""
    if step.hold.weights:
        return said("{count} sandbags of {weight}", count=step.hold.weights, weight=laid_on(table))
    held = [said("{count:# clamp}", count=step.hold.clamps)] if step.hold.clamps else []
    held += [said("{count:# caul}", count=step.hold.cauls)] if step.hold.cauls else []
    held += [translated("wedges on the board" if step.hold.wedged else "a band")] if step.hold.band else []
    return ", ".join(held) if held and not step.dry else translated("mallet and block")


def levelled(table: Table, tables: int) -> Operation:
    """The glued top's joints, before anything runs on its faces."""
    return Operation(
        "level the joints",
        "scraper, block plane",
        "group",
        "the top, both faces",
        (
            "scrape glue off while it is rubbery, or chisel it off hard; never wipe it into the pores",
            "plane each mitre and each lap level, from either side towards the joint, never on across it",
            "turn the top face down, two persons, and the same there; then turn it back, face up",
        ),
        "a straightedge across each joint shows no light, on both faces",
        (HAND_SAW, LIFT),
        minutes=table.profile.rates.cut * table.sizes.segments * 2 * tables,
        persons=2,
    )
