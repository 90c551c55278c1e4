"""Dry fit, glue, and the work on what is glued: pins, sanding, finish, turning over, letting down."""

from collections.abc import Iterator

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.checks.wording import format_size
from templategen.fit.plan import RING_WAYS, Plan
from templategen.joinery.joint import JointKind
from templategen.shop.cautions import BORING, BY_HAND, DUST, HAND_SAW
from templategen.shop.finish import finish_of
from templategen.shop.gluing.listed import describe_joints
from templategen.shop.gluing.plan import GluingPlan, GluingStep
from templategen.shop.pins import pins_of
from templategen.shop.weigh import mass_kg
from templategen.table.assembly import Table
from templategen.table.glides import glides_at
from templategen.table.pins import PIN
from templategen.units import length_by_rule, length_words
from templategen.wood.glue import GLUES
from templategen.work.dry_top import DRY_TOPS, pegs_made
from templategen.work.operation import Operation

CODED = "first write each piece's code on a tongue, a tenon's cheek or a mitre: its label goes"

SAW_MARKS = "ripped edges first, with a plane or the first grit, until no saw mark is left"

LEAST_SEEN = 0.05
"""A clearance of less shows nowhere, mm."""

GRITS = (80, 100, 120)
"""Furniture outdoors is sanded no finer, or it takes too little oil."""

LIFTED_ALONE = 23.0
"""What one person may lift in the best of cases, kg (NIOSH)."""

COAT_DRIES = 24.0
"""Hours from coat to coat (labels of oils; the tin's own figure comes first)."""

INSIDE = "faces that lie inside once it is together: slats, rails and rim inside"
ALL_OVER = "top and pedestal, arrises broken"

BOTH_FACES = (
    "the top face down on blankets, two persons: its underside; then over, face up; break every arris with a stroke"
    " or two of the last grit"
)

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
    "measure": f"{_TRIED}; the ring without its last segment, which is cut to the opening",
}
"""By how the ring is closed: what can't be tried yet stays out."""

LEGS_UP = (
    "each leg shoulder home; then lay the top's rails together dry and set them on the legs' upper tenons until the"
    " glue holds: they put each leg where it must stand; all that within {closed:g} minutes of the first glue"
)

PADS_ON = (
    "turn it over, underside up; one pad after another, spread, set at its rail's end, edges level, and clamped there"
    " before the next is spread; once the glue holds turn it back, on to its feet"
)

HALF_LAID = (
    "lay the whole ring on its lines on the assembly board, upper face up, a caul over every joint; glue this half"
    " alone, the other lies dry in its place, film in the two joints between them"
)

SLID_IN = (
    "take the band off; slide each spline into its slots from the ring's outside, its marked face up, until its outer"
    " end is level with the ring's corner: a little room stays behind it for glue"
)

LEVEL_OUTSIDE = "each spline's outer end level with the ring's corner"
"""What is measured where a spline's slots run out of the ring."""

UNREACHED = (
    "then what no brush gets at once it is together: the laps' cheeks, the ends of tenons, the floors of mortises "
    "and their drain holes, the ends of the ground cross"
)

RAGS = (
    "Rags with oil can catch fire by themselves: spread them out one by one outdoors, or drown them in a closed tin."
)
LIFT = "Lift with straight backs, fingers clear of the joints as they close."
GLUE = "Gloves, eyes covered, fresh air; read the glue's own sheet first."


OUTDOORS = (
    "one finish for all of it: for wood outdoors, that soaks in and has pigment against the sun, no film, which"
    " cracks where joints move; what its maker says of {wood:word}, coats and drying comes before this plan"
)
UNDER_A_ROOF = (
    "one finish for all of it: that soaks in, clear or with pigment, no film, which cracks where joints move; what"
    " its maker says of {wood:word}, coats and drying comes before this plan"
)


def finish_kind(table: Table) -> str:
    """What finish is meant, by what the glue lets the table stand in; none is named by its maker."""
    outdoors = GLUES[table.profile.shop.glue].fit in ("outdoors", "coated")
    return said(OUTDOORS if outdoors else UNDER_A_ROOF, wood=table.profile.wood)


def before_gluing(table: Table, assembly: Plan, gluing: GluingPlan, tables: int) -> Iterator[Operation]:
    """Everything together dry, then the finish where no brush gets later."""
    yield from pegs_made(table, tables)
    rates, parts = table.profile.rates, sum(part.count for part in table.parts) * tables
    marks = sum(len(step.marks) for step in gluing.steps)
    yield _sanded(table, "parts", INSIDE, tables, 0.7)
    yield Operation(
        "dry fit",
        "what holds each step, a pencil",
        "group",
        "all parts, in the order of the steps",
        (
            TRIED.get(assembly.closing, TRIED[""]),
            said(
                "write the letter of each joint on both parts ({marks} letters, lists/marks.csv; splines go by their "
                "mitre's), of slats' tongues too",
                marks=marks,
            ),
            (
                "on a face beside the joint, which is sanded once more at the end, a slat's on its tongue; of parts"
                " that look alike their number too, such as RIM-A 3"
            ),
            "a spline gets the letter of its mitre, at both ends, and a line on the face that lies up",
        ),
        _fits(table),
        (LIFT,),
        minutes=rates.slat_fit * parts / 2,
        persons=2,
    )
    yield Operation(
        "first finish",
        "brush and cloth",
        "parts",
        "the slats all over; the insides of the grooves that they slide in; the sides of rails and rim between slats",
        (
            finish_kind(table),
            masked(table),
            *((dry.flooded,) if (dry := DRY_TOPS.get(table.profile.legs.top_joint)) else ()),
            "flood end grain and tongues until they take no more, then grooves, with a narrow brush, then the sides",
            UNREACHED,
            "wipe off what stands after a quarter of an hour, out of the grooves too",
        ),
        "no finish on a face that will be glued",
        (RAGS,),
        minutes=rates.oil * finish_of(table, tables).bare / 0.1 * 0.5,
        wait=COAT_DRIES,
    )


def masked(table: Table) -> str:
    """What gets no finish before it is glued: each kind of glued joint, on both mates."""
    kinds = dict.fromkeys(joint.kind for joint in table.joints if joint.traits.glued)
    faces = "; ".join(_glued_faces(table, kind) for kind in kinds)
    return said("mask what is glued, for no glue holds on oil: {faces}", faces=faces)


def _glued_faces(table: Table, kind: JointKind) -> str:
    """Where the glue of one kind of joint goes."""
    match kind:
        case "half-lap" | "three-way-lap":
            return translated("the middle third of each lap's floor")
        case "rail-tenon":
            return _rail_tenons(table)
        case "leg-tenon":
            return translated("the cheeks of the legs' tenons and the walls of their mortises")
        case "mitre":
            return translated("mitres")
        case "spline":
            return translated("the slots of splines")
        case "foot":
            return translated("the pads' upper faces and their seats under the ground cross")
        case _:
            raise KeyError(kind)


def _rail_tenons(table: Table) -> str:
    """The rails' tenons, and what they are glued into: a stretch of the groove that slats slide in."""
    parts = {code for joint in table.joints if joint.kind == "rail-tenon" for code in joint.parts}
    tenons = [cut.outline.bounds for code in parts for cut in table.part(code).cuts("tenon")]
    codes = sorted(code for code in parts if table.part(code).kind == "rim-segment")
    wide = max(box.height for box in tenons)
    return said(
        "the cheeks of the rails' tenons and, where they go, the middle {wide} of the groove in {codes:all}",
        wide=figured(length_by_rule(wide, table.profile.units)), codes=codes,
    )  # fmt: skip


def _fits(table: Table) -> str:
    """What a dry fit shows: slats stand off their rails by what these swell, all else closes."""
    free = _stands_off(table)
    if not free:
        return translated(
            "every shoulder closed by hand pressure, each gap between slats as its spacer; then all apart again"
        )
    return said(
        "rails, rim and legs closed by hand pressure, slats {free} off the rails at each shoulder, each gap as its"
        " spacer; then all apart again",
        free=free,
    )


def _stands_off(table: Table) -> str:
    """What is left at each shoulder of a slat beside a rail, "" where nothing is."""
    free, units = table.sizes.clearances.shoulder, table.profile.units
    return figured(length_words(free, units)) if free > LEAST_SEEN else ""


def step_done(table: Table, gluing: GluingPlan, step: GluingStep, tables: int) -> Operation:
    """A step of the assembly as an operation."""
    rates, down = table.profile.rates, step is gluing.steps[-1]
    joints = sum(step.joints.values())
    dry = DRY_TOPS.get(table.profile.legs.top_joint) if down else None
    fitting = rates.slat_fit * sum(table.part(code).count for code in step.adds) if step.dry and not down else 0.0
    fitting += rates.cut * table.sizes.arms if dry else 0.0
    tells = [FIRST[step.adds[0].partition("-")[0]]] if _begins(table, step) else ["its sheet shows what goes where"]
    if not step.dry:
        units = table.profile.units
        glue = figured(format_size(max(LEAST_GLUE[units], step.grams), "gram", units))
        told = "glue {joints}: {grams}, in {goes} goes" if step.goes > 1 else "glue {joints}: {grams}, in {goes} go"
        tells.append(said(told, joints=describe_joints(step), grams=glue, goes=step.goes))
    heavy = down and mass_kg(table) > LIFTED_ALONE
    if down:
        tells += (dry.before,) if dry else ()
        tells.append(
            "lift the top, face up, over the legs and let it down, two persons at the least"
            if heavy
            else "lift the top, face up, over the legs and let it down"
        )
        tells += dry.home if dry else ()
    elif "leg tenon" in step.joints:
        tells.append(said(LEGS_UP, closed=gluing.closed_time))
    elif "pad" in step.joints:
        tells.append(PADS_ON)
    elif step.joints.get("spline slot") == 2 * sum(table.part(code).count for code in step.adds):
        tells.append(SLID_IN)
    elif "mitre" in step.joints:
        tells.append(HALF_LAID if gluing.in_halves and not step.together else RING_WAYS[gluing.ring])
    elif len(step.adds) > 1 and not step.together:
        tells.append("one after another, as the arrows show")
    return Operation(
        step.does,
        dry.tools if dry else held_with(step),
        "group",
        ", ".join(step.adds),
        (*tells, *step.advice),
        _proved(table, step),
        (GLUE, LIFT) if not step.dry else (LIFT,),
        step=step,
        minutes=(rates.glue_joint * joints + fitting) * tables,
        wait=0.0 if step.dry else gluing.clamped[0],
        persons=2 if heavy or step.together else 1,
    )


def _begins(table: Table, step: GluingStep) -> bool:
    """Whether a step lays the first rail of the pedestal or of the top, which meets nothing yet."""
    return step.dry and {table.part(code).kind for code in step.adds} <= {"rail", "base-rail"}


def _proved(table: Table, step: GluingStep) -> str:
    """What proves a step, by what is glued in it."""
    free = _stands_off(table)
    if step.dry and free and {table.part(code).kind for code in step.adds} == {"slat"}:
        return said("each shoulder {free} off its rail, each gap as its spacer", free=free)
    if step.dry:
        return translated("it lies flat and doesn't rock" if _begins(table, step) else "every shoulder home")
    through = table.profile.joints.spline == "through"
    told = "; ".join(
        translated(LEVEL_OUTSIDE) if name == "spline slot" and through else translated(PROVED[name])
        for name in PROVED
        if name in step.joints
    )
    return told or translated("joints home")


def held_with(step: GluingStep) -> str:
    """What a step is driven or held together with."""
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


def after_gluing(table: Table, tables: int) -> Iterator[Operation]:
    """Pins, sanding and finish of the top, before it comes down on its legs."""
    rates, units, pins = table.profile.rates, table.profile.units, pins_of(table)
    drills = {"drill", "drill press"}.intersection(table.profile.shop.machines)
    if pins.count:
        yield Operation(
            "bore and pin",
            "drill with a stop, hammer" if drills else "brace and bit with a stop, hammer",
            "group",
            said("{count} slat pins", count=pins.count * tables),
            (
                "lay the top face down on blankets, two persons, a board under the slats",
                *(
                    (said("push each slat until it stands {free} off every rail that it meets", free=free),)
                    if (free := _stands_off(table))
                    else ()
                ),
                pins.sentence(units),
                said(
                    "a {thick} bit, its stop {long} from the point; a spacer beside each slat",
                    thick=length_by_rule(PIN, units, 0, 32),
                    long=figured(length_by_rule(pins.depth, units)),
                ),
                "flood the holes with finish, which reaches no tongue later; drive the pins flush, no glue",
            ),
            "each slat still slides a hair at its slotted end",
            (BORING, LIFT),
            minutes=rates.cut * pins.count * tables,
            persons=2,
        )
    yield _sanded(table, "group", ALL_OVER, tables, 0.3)
    dry = DRY_TOPS.get(table.profile.legs.top_joint)
    coats, area = table.profile.shop.coats, finish_of(table, tables).bare
    for coat in range(1, coats + 1):
        yield Operation(
            f"finish, coat {coat} of {coats}",
            "brush and cloth",
            "group",
            "top and pedestal",
            ("mask the legs' upper tenons and their mortises in the rails: they are glued last"
             if dry is None else dry.again,
             "end grain and feet first, again until they take no more",
             "the top face down on clean blankets, two persons: its underside; then over on to battens: face and rim",
             "wipe off what stands after a quarter of an hour"),
            "nothing stands in grooves or between slats",
            (RAGS,),
            minutes=rates.oil * area / 0.1 * 0.5,
            wait=COAT_DRIES,
            persons=2,
        )  # fmt: skip


FIXED_WITH = {
    (True, True): "drill with a stop, screwdriver", (True, False): "drill with a stop, hammer",
    (False, True): "brace and bit with a stop, screwdriver", (False, False): "brace and bit with a stop, hammer",
}  # fmt: skip
"""What glides are fixed with, by whether there is a drill and whether they are screwed."""


def glides_fixed(table: Table, tables: int) -> Iterator[Operation]:
    """Glides under the finished feet, before the top comes down."""
    base, units = table.profile.base, table.profile.units
    outs = glides_at(table.sizes)
    if not outs:
        return
    screwed, count = base.glides == "screwed", len(outs) * table.sizes.arms * tables
    deep = figured(length_by_rule(base.glide[2], units))
    ends = translated(" and ").join(figured(length_by_rule(base.length / 2 - out, units)) for out in outs)
    bored = (
        "bore for each screw, as wide as its core, {deep} deep"
        if screwed
        else "bore for each nail, half as wide, {deep} deep"
    )
    drills = "drill" in table.profile.shop.machines
    yield Operation(
        "fix the glides",
        FIXED_WITH[drills, screwed],
        "group",
        said("{count} glides", count=count),
        (
            "turn the pedestal over on to blankets, two persons, its feet up",
            said(
                "mark the middle of each glide on the middle of its foot's width, {ends} from the foot's outer end",
                ends=ends,
            ),
            said(bored, deep=deep),
            "flood the holes and the soles round them with finish until they take no more, and let it dry",
            (
                "screw each glide home; it lies flat and covers no drain hole"
                if screwed
                else "drive each glide home; it lies flat and covers no drain hole"
            ),
        ),
        "the pedestal back on its feet: no wood touches the floor, and nothing rocks",
        (BORING, LIFT),
        minutes=table.profile.rates.cut * 2 * count,
        persons=2,
    )


def _sanded(table: Table, on: str, what: str, tables: int, share: float) -> Operation:
    rates, area = table.profile.rates, finish_of(table, tables).bare
    grits = ", ".join(f"P{grit}" for grit in GRITS)
    return Operation(
        "sand",
        (
            "sander, paper round a block where it doesn't reach"
            if "sander" in table.profile.shop.machines
            else "paper round a block"
        ),
        "parts" if on == "parts" else "group",
        what,
        (*((CODED,) if on == "parts" else ()), SAW_MARKS,
         said("grits {grits}, each until the marks of the one before are gone", grits=grits),
         "keep off joint faces and tongues" if on == "parts" else BOTH_FACES),
        "no scratch across the grain in slanting light",
        (DUST if "sander" in table.profile.shop.machines else BY_HAND[0],),
        minutes=rates.sand * area / 0.1 * len(GRITS) * share,
        persons=1 if on == "parts" else 2,
    )  # fmt: skip
