"""What a gluing step tells besides its joints: what lies ready, how glue is spread, what draws the joints up."""

from collections.abc import Mapping, Sequence
from math import ceil

from templategen.catalogue import figured, translated
from templategen.checks.assembly import minutes, stretch
from templategen.checks.describe import said
from templategen.checks.gluing import glue_of
from templategen.fit.plan import Step
from templategen.joinery.joint import JOINTS, JointKind
from templategen.shop.gluing.hold import UNDER_FOOT, Hold, glued_area, opening_told, under_told
from templategen.shop.gluing.laid import slats_laid
from templategen.shop.gluing.marks import spans
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.table.profile.model import Profile
from templategen.units import length_by_rule, length_words

SHORT_OF_SLOT = {"mm": 5.0, "in": 4.7625}
"""How far glue keeps off a slot that a spline slides into later, mm: what a mitre presses out stays short of it."""

FILM = 0.2
"""The thickness of a film round a spline as a share of its play: film for food is as thin (assumed)."""

FILLED = (
    "from one side of the opening round to the other; FILLER last, dry, film round both its ends; then the cauls at"
    " all {count} corners: no clamp across the open ring, which it would spread"
)
"""How a ring is drawn up before its last segment is there."""


def advice(
    table: Table, step: Step, kinds: Mapping[int, JointKind], goes: Sequence[Sequence[str]], hold: Hold,
    limits: tuple[float, float], filled: bool, lowered: bool,
) -> list[str]:  # fmt: skip
    """Advice for a step, in the order it is needed; `goes` are the letters of the joints of each, `lowered` says that
    the step before it has left rails on battens."""
    parts = {part.code: part for part in table.parts}
    told = [_ready(hold, table.profile.units)] if kinds else []
    added = {parts[move.code].kind for move in step.moves}
    told += (translated(BATTENS_OUT),) if lowered else ()
    if "slat" in added and "rim-segment" not in added and not kinds:
        told += slats_laid(table)
    laps = [joint for joint, kind in kinds.items() if JOINTS[kind].glued == "lap"]
    if laps:
        told.append(_batten_words(table, step))
        told.append(_lap_words(table, laps))
    if "foot" in kinds.values() and not glue_of(table.profile).sizes:
        told.append("of each pad spread one face and wipe the other with a damp cloth")
    if "mitre" in kinds.values():
        told.append(
            "size the mitres with a thin coat and let it go dull, then spread: the minutes count from there"
            if glue_of(table.profile).sizes
            else "of each mitre spread one face and wipe the other with a damp cloth"
        )
        if table.profile.joints.spline != "none" and "spline" not in kinds.values():
            told.append(
                said(
                    "glue stops {short} short of a slot; before its caul goes on, its own spline slides in dry, "
                    "level with the ring's corner, under the caul's notch, wrapped once in film of {film} or "
                    "thinner, a tape along its edges round its inner end to draw it by",
                    short=figured(length_words(SHORT_OF_SLOT[table.profile.units], table.profile.units)),
                    film=film_of(table.profile),
                )
            )
        told.append("plastic sheet under the joints; check flat with winding sticks and every diagonal alike")
    if filled:
        told.append(said(FILLED, count=hold.cauls))
    if hold.band:
        told.append(_band_words(hold, table.profile.units))
    if minutes(step) > limits[0]:
        told.append("it takes longer than the glue stays open: use a slower glue, or a second pair of hands")
    elif len(goes) == 1 and stretch(step.at_once)[1] > limits[0]:
        told.append(
            said(
                "no time to spare: two persons spread at once, or take a glue that stays open {needed} minutes or "
                "longer",
                needed=ceil(stretch(step.at_once)[1]),
            )
        )
    elif len(goes) > 1:
        told.append(_go_words(goes, hold))
    return [*map(translated, told)]


UNDER_ARMS = (
    "lift the rails: a batten under each arm, {high}, off the crossing, until the glue holds: room for the clamp's"
    " lower jaw"
)
UNDER_FEET = (
    "lift the rails: a batten under each arm, {high}, below its foot, {near} to {far} from the end, until the glue"
    " holds: room for the clamp's lower jaw"
)
"""Where battens lie: under feet all at one height, for what is between them was taken off."""

BATTENS_OUT = "first take out the battens: the rails lie on the board"
"""What comes between the top's laps, glued on battens, and all that the board's lines and packing are for."""


def _batten_words(table: Table, step: Step) -> str:
    """Where the battens lie while laps are glued."""
    units = table.profile.units
    if not _footed(table, step):
        return said(UNDER_ARMS, high=under_told(units))
    near, far = (length_by_rule(one, units) for one in UNDER_FOOT[units])
    return said(UNDER_FEET, high=under_told(units), near=figured(near), far=figured(far))


def _footed(table: Table, step: Step) -> bool:
    """Whether what a step adds stands on feet, relieved between them."""
    return any(table.part(table.placed[move.index].code).cuts("relief") for move in step.moves)


def _lap_words(table: Table, laps: Sequence[int]) -> str:
    """Which floors of laps are spread; what meets in two tips beside the middle one of three rails stays dry."""
    seats = [table.joints[joint] for joint in laps if not glued_area(table, table.joints[joint])]
    if not seats:
        return translated(
            "glue the middle third of each lap's floor alone, the cheeks dry: a rail swells across its trench; as "
            "much play on both sides, so that neighbouring ends stand equally far apart"
        )
    under = seats[0].parts[0]
    middle = next(code for joint in laps for code in table.joints[joint].parts if code not in seats[0].parts)
    return said(
        "glue the middle third of the floor on {middle} alone, the cheeks and the two three-cornered seats on "
        "{under} dry: a rail swells across its trench; as much play on both sides, so that neighbouring ends stand "
        "equally far apart",
        middle=middle,
        under=under,
    )


def film_of(profile: Profile) -> str:
    """How thick the film round a spline is at most, in words: both layers leave most of its play in the slot."""
    return figured(length_words(profile.joints.glue_clearance * FILM, profile.units))


def _ready(hold: Hold, units: Units) -> str:
    """What is laid ready before any glue is spread."""
    if hold.clamps:
        return said(
            "lay {count:# clamp} ready, {opening}, set as at the dry fit; letter to letter",
            count=hold.clamps,
            opening=opening_told(hold, units),
        )
    if hold.band:
        return said(
            "lay the band and {count:# caul} ready, set as at the dry fit; letter to letter", count=hold.cauls
        )
    return translated("letter to letter")


def _go_words(goes: Sequence[Sequence[str]], hold: Hold) -> str:
    """How to glue a step that takes longer than the glue stays open: which letters in which go."""
    each = translated(", then ").join(map(spans, goes))
    return said(
        "in {goes} goes ({each}), the other joints dry in their places, the band left on each until the glue holds: "
        "else the first sets before the last is home"
        if hold.band
        else "in {goes} goes ({each}), one after another, each clamped until the glue holds: else the first sets "
        "before the last is home",
        goes=len(goes),
        each=each,
    )


def _band_words(hold: Hold, units: Units) -> str:
    """Whether a band will do, and what else would."""
    low, high = hold.force
    wanted = translated("a band round the cauls, just drawn home")
    if high > 0 and low <= 0:
        return said(
            "a band round the cauls, drawn until glue shows along every joint, never over {high:N}", units, high=high
        )
    if high > 0:
        wanted = said("a band round the cauls drawn to {low:N} to {high:N}", units, low=low, high=high)
    if not hold.band_pressure:
        return said(
            "{wanted}; count the tension that its maker tells for the ratchet, not the load that the band bears, and "
            "take as many bands as together reach the least of that"
            if units == "in"
            else "{wanted}; the label on its ratchet tells the pull (STF, in daN: tens of newtons): take as many "
            "bands as together reach the least of that",
            wanted=wanted,
        )
    if hold.band_is_enough:
        return said("{wanted}; yours is strong enough", wanted=wanted)
    return said(
        "wedges between the cauls and their stops on the assembly board press the ring: your band gives only "
        "{pressure:MPa}",
        units,
        pressure=hold.band_pressure,
    )
