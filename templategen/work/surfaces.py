"""Surfaces: sanding, finish and what it keeps off, the slats' pins, glides under the feet."""

from collections.abc import Iterator

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.joinery.joint import JointKind
from templategen.shop.cautions import BORING, BY_HAND, DUST, LIFT
from templategen.shop.finish import finish_of
from templategen.shop.gluing.laid import LEAST_SEEN
from templategen.shop.pins import pins_of
from templategen.table.assembly import Table
from templategen.table.glides import glides_at
from templategen.units import length_by_rule, length_words
from templategen.wood.glue import GLUES
from templategen.work.dry_top import DRY_TOPS
from templategen.work.operation import Operation

CODED = "first write each piece's code on a tongue, a tenon's cheek or a mitre: its label goes"

SAW_MARKS = "ripped edges first, with a plane or the first grit, until no saw mark is left"

GRITS = (80, 100, 120)
"""Furniture outdoors is sanded no finer, or it takes too little oil."""

COAT_DRIES = 24.0
"""Hours from coat to coat (labels of oils; the tin's own figure comes first)."""

INSIDE = "faces that lie inside once it is together: slats, rails and rim inside"

ALL_OVER = "top and pedestal, arrises broken"

BOTH_FACES = (
    "the top face down and the pedestal feet up on blankets, two persons: their undersides; then both over; break"
    " every arris with a stroke or two of the last grit"
)

TURNED_OVER = (
    "the top face down and the pedestal feet up on clean blankets, two persons: undersides and feet; then both over,"
    " on to battens: face, rim and legs"
)

UNREACHED = (
    "then what no brush gets at once it is together: the laps' cheeks, the ends of tenons, the floors of mortises "
    "and their drain holes, the ends of the ground cross"
)

RAGS = (
    "Rags with oil can catch fire by themselves: spread them out one by one outdoors, or drown them in a closed tin."
)

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


def first_finish(table: Table, tables: int) -> Operation:
    """The finish where no brush gets later; what is glued stays bare."""
    rates = table.profile.rates
    return Operation(
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
    into: dict[str, list[str]] = {}
    for joint in (one for one in table.joints if one.kind == "rail-tenon"):
        wide = max(cut.outline.bounds.height for code in joint.parts for cut in table.part(code).cuts("tenon"))
        codes = into.setdefault(figured(length_by_rule(wide, table.profile.units)), [])
        codes += [code for code in joint.parts if table.part(code).kind == "rim-segment" and code not in codes]
    grooves = [said("{codes:all} {wide}", wide=wide, codes=codes) for wide, codes in into.items()]
    return said(
        "the cheeks of the rails' tenons and, where they go, the middle of each groove: {grooves:all}",
        grooves=grooves,
    )


def stands_off(table: Table) -> str:
    """What is left at each shoulder of a slat beside a rail, "" where nothing is."""
    free, units = table.sizes.clearances.shoulder, table.profile.units
    return figured(length_words(free, units)) if free > LEAST_SEEN else ""


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
                    if (free := stands_off(table))
                    else ()
                ),
                *pins.tells(units),
            ),
            "each slat still slides a hair at its slotted end",
            (BORING, LIFT),
            minutes=2 * rates.cut * pins.count * tables,
            persons=2,
        )
    yield sanded(table, "group", ALL_OVER, tables, 0.3)
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
             TURNED_OVER,
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


def sanded(table: Table, on: str, what: str, tables: int, share: float) -> Operation:
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
