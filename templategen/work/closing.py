"""Closing the ring: which cuts wait for its last joints, and what is done before these are made."""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, cos, floor, pi

from templategen.catalogue import figured, translated, worded
from templategen.checks.describe import said
from templategen.fit.plan import Plan
from templategen.geometry.tolerance import EQUAL
from templategen.jigs.caul import Caul
from templategen.jigs.mitre_gauge import slips_of
from templategen.shop.cautions import BY_HAND, DEFER, DUST, EASED, GLUED_RING, HAND_SAW, ROUTER, of_the_way
from templategen.shop.gluing.plan import GluingPlan
from templategen.shop.set_ups import tolerances, words
from templategen.shop.set_ups.choose import chosen
from templategen.shop.set_ups.remarks import ABOUT
from templategen.shop.set_ups.run import cautioned
from templategen.shop.set_ups.set_up import Proof, Setting, SetUp
from templategen.shop.set_ups.ways import CLAMPED_UP, KNIFED_ROUND, TO_THE_LINE
from templategen.shop.trial_wood import ring_piece
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.units import length_by_rule, length_words, show_length
from templategen.work.glued import held_with, laid_on
from templategen.work.machined import machined
from templategen.work.operation import Operation
from templategen.work.trimming import trimmed

LONGER = {"mm": 1.0, "in": 0.79375}
"""How far outside its scribed line the last segment is sawn, so that it can be planed into its opening, mm."""

TURNED = {False: "saw", True: "shooting board's fence"}
"""What is set to the mitre's angle, by whether ends are sawn to a line and planed."""

WIDER = (
    "stick a slip of paper on the fence beside the cut and one {far} further out: every piece touches these alone."
    " For each {gap} that the gap is wider outside than inside, one layer of kitchen foil more (ten measure {ten})"
    " under the outer slip; wider inside, under the one at the cut; saw them anew, a little shorter. All stay"
    " for the rim"
)

Ends = Counter[tuple[str, str]]
"""How many of each part, by its code and its end."""


@dataclass(frozen=True, slots=True)
class Waiting:
    """Set-ups as they are worked: `now` at their machine's turn, `later` what waits for the ring's last joints;
    `slotted` says that ends which are still to be trimmed were cut before, slots and all."""

    now: tuple[SetUp, ...]
    later: tuple[SetUp, ...]
    slotted: bool = False


def waiting(
    table: Table, assembly: Plan, set_ups: Sequence[SetUp], tables: int, uncut: Collection[int] | None = None
) -> Waiting:
    """Which cuts wait: the slots of ends that are trimmed, and all of an end that is cut to measure; where some
    copies are cut already, of those `uncut` (by number)."""
    slots, mitres = _last_ends(table, assembly, tables, uncut)
    eased = Counter({(code, face): count for (code, _), count in mitres.items() for face in ("top", "bottom")})
    waits = {"spline slot": slots, "mitre": mitres, **dict.fromkeys(EASED, eased)}
    now: list[SetUp] = []
    later: list[SetUp] = []
    for one in set_ups:
        held = waits.get(one.operation, Counter())
        rest = _shared_out(one, held, later=False)
        kept = _shared_out(one, held, later=True)
        if kept:
            rest = _less(table, assembly, rest, held) if rest else None
            if one.operation in EASED:
                kept = _beside_a_groove(table, cautioned(table, kept, kept.codes))
            if one.operation == "mitre":
                kept = _to_the_opening(table, kept)
            if assembly.closing == "halves":
                kept = _on_the_half(table, kept)
            later.append(kept)
        now += [rest] if rest else []
    last = {index for index, _ in _ends(table, _last_mitres(table, assembly))}
    slotted = assembly.closing == "halves" and uncut is not None and not last <= set(uncut)
    return Waiting(tuple(now), tuple(later), slotted)


def _less(table: Table, assembly: Plan, set_up: SetUp, held: Ends) -> SetUp:
    """A set-up less the ends that wait, which it tells; what fills the place of a segment that does is sawn in it."""
    told = replace(set_up, warnings=(*set_up.warnings, *_uncut(table, assembly, set_up, held)))
    if assembly.closing != "measure" or set_up.operation != "mitre":
        return told
    return replace(told, filler=(next(iter(held))[0], max(held.values())))


def _beside_a_groove(table: Table, set_up: SetUp) -> SetUp:
    """An edge eased after all else: a bit's bearing drops into a groove that is cut beside it by then."""
    parts = map(table.part, set_up.codes)
    beside = [min(part.thickness - cut.outline.bounds.top, cut.outline.bounds.bottom)
              for part in parts for cut in part.cuts("groove")]  # fmt: skip
    if set_up.way == "by hand" or not beside:
        return set_up
    near = figured(length_by_rule(min(beside), table.profile.units, 1, 32))
    return replace(set_up, does=(*set_up.does, said(BEARING, near=near)))


BEARING = "its bearing within {near} of the face: further in it drops into the groove"


def _on_the_half(table: Table, set_up: SetUp) -> SetUp:
    """The set-up for the ends of a half ring, which is too large to go on a machine."""
    made = chosen(table, set_up, glued=True)
    driven = made.way == "hand-held"
    own = (ROUTER, GLUED_RING, DUST, DEFER) if driven else (HAND_SAW, GLUED_RING, *BY_HAND)
    units = table.profile.units
    wide, apart = (figured(length_by_rule(size, units)) for size in BALK[units])
    stood = said(STOOD, high=figured(length_by_rule(half_high(table), units)), apart=apart)
    if not driven:
        return replace(made, does=(stood, *made.does), cautions=own)
    alone = worded(CLAMPED_UP, **ABOUT[units])
    told = (said(BALKED, wide=wide, thick=apart), *(line for line in made.does if line != alone))
    return replace(made, does=(stood, *told), cautions=own, on_half=True)


STOOD = (
    "stand the half ring, {high} high, on its arch on a firm box, both ends up, level and {apart} over the bench's"
    " top, held to its front in a vice or by a bar clamp at each arm that reaches under the top to its back edge; a"
    " second person holds it by the arch"
)
"""How a half ring is held while its ends are slotted: they lie in one line."""

BALK: Mapping[Units, tuple[float, float]] = {"mm": (100.0, 30.0), "in": (101.6, 31.75)}
"""How wide the balks are that carry a router's base beside those ends, and how thick: so far the ends stand over the
bench's top that they lie on (shop practice), mm."""

BALKED = (
    "the face that the guide runs on away from the bench; behind each end lay a balk of scrap, {thick} thick,"
    " {wide} or wider, on the bench's top against the ring, so level with the end, a router's base longer at both"
    " its corners, screwed down or clamped where that doesn't come: the base stands on both"
)
"""What carries a router there, which would tip over an end alone."""


def half_high(table: Table) -> float:
    """How high a half ring stands on its arch, its ends up, mm, before it is sawn round."""
    sizes = table.sizes
    return sizes.outer_apothem / (1.0 if sizes.segments // 2 % 2 else cos(pi / sizes.segments))


def _to_the_opening(table: Table, set_up: SetUp) -> SetUp:
    """The last segment's free end, sawn along its scribed line: no stop, and no ring of scrap tells if it fits."""
    outside = figured(length_by_rule(LONGER[table.profile.units], table.profile.units, 0, 32))
    check = replace(set_up.proof.checks[-1], measure=translated("the sawn end runs along the scribed line"))
    lined = replace(set_up, cuts=tuple(replace(cut, settings=_as_drawn(cut.settings)) for cut in set_up.cuts))
    made = cautioned(table, lined.told("angle", lambda _: translated(START)), set_up.codes)
    told = said(ALONG_THE_LINE, outside=outside)
    of_lengths = [worded(one, **ABOUT[table.profile.units]) for one in (KNIFED_ROUND, TO_THE_LINE)]
    made = replace(made, does=tuple(one for one in made.does if one not in of_lengths))
    return replace(made, kerf_side=translated(OUTSIDE), warnings=(told,), proof=Proof(tolerances.FIRST, (check,)))


def _as_drawn(settings: Iterable[Setting]) -> tuple[Setting, ...]:
    """What a stop would be set to, told as a length on the piece that is only nearly so."""
    length = ((one, replace(one, name="length", says=translated(NEARLY))) for one in settings)
    return tuple(drawn if one.name == "stop" else one for one, drawn in length)


START = "off square, as drawn: then turned to the scribed line"

NEARLY = "along the outer edge as drawn, so about what the line shows; nothing is set to it"

OUTSIDE = "on the waste side of the scribed line"

ALONG_THE_LINE = (
    "no stop: the piece clamped, its scribed line up, the blade {outside} outside that line at both edges, whatever"
    " angle it asks; so much is planed off as it is fitted"
)


def _uncut(table: Table, assembly: Plan, set_up: SetUp, held: Ends) -> Iterator[str]:
    """What is told of ends that wait, by how the ring is closed; of a segment that closes it, what stands for it."""
    if assembly.closing == "halves":
        yield said(HALF_ENDS, ends=_describe(held))
        return
    if set_up.operation in EASED:
        yield said(STAYS_SHARP, code=next(iter(held))[0])
        return
    both = len(held) > 1
    code, count = next(iter(held))[0], max(held.values())
    yield said(BOTH_LEFT if both else RIGHT_LEFT, code=code, count=count)
    if set_up.operation == "mitre":
        hangs = table.part(code).size[0] < table.profile.shop.holding
        yield said(KEEPS_ITS_REST, strip=hangs)
        step = FREE[table.profile.units]
        free = floor(Caul(table.sizes).free / step + EQUAL) * step
        yield said(FILLER_SAWN, count=count, free=figured(length_by_rule(free, table.profile.units, 0)))
        if table.part(code).cuts("groove"):
            clear = ceil(table.profile.joints.groove_depth / step) * step + step
            yield said(FILLER_BACK, off=figured(length_by_rule(clear, table.profile.units)))


HALF_ENDS = (
    "leave uncut for now: {ends}; mark them, they come to the ends of the half rings, whose first and last "
    "segments are slotted at one end each, and are slotted once those are trimmed"
)

BOTH_LEFT = "leave uncut for now: both ends of the marked {code}"

RIGHT_LEFT = "leave uncut for now: the right end of {count} {code}; mark the piece, it closes the ring"

STAYS_SHARP = "leave the marked {code} sharp for now: it is scribed by its inner arrises"

KEEPS_ITS_REST = "it keeps all its wood there[{strip:?}: the last off its strip, with what is left of that]"

FILLER_SAWN = (
    "saw {count} off SCRAP-RING's rest as long as the other segments: FILLER, which stands in its"
    " place till then; plane both its ends a little round across their width, so that it presses in their middles;"
    " two screws into the middle {free} of its outer edge, free when the ring is drawn up, heads standing out, to"
    " draw it by"
)

FILLER_BACK = "plane {off} off FILLER's inner edge: by then tongues stand in its place, which its groove would take"

FREE: Mapping[Units, float] = {"mm": 1.0, "in": 25.4 / 16}
"""What that is told in steps of, never more than it is, mm."""


def _last_ends(table: Table, assembly: Plan, tables: int, uncut: Collection[int] | None) -> tuple[Ends, Ends]:
    """The ends whose slots wait, and those that are sawn to measure."""
    none: Ends = Counter()
    if assembly.closing == "halves":
        ends = _ends(table, _last_mitres(table, assembly))
        return Counter(_counted(table, _of(ends, uncut), tables)), none
    if assembly.closing != "measure":
        return none, none
    (last,) = next(step.moves for step in assembly.steps if step.last)
    both = list(_of([(last.index, "left"), (last.index, "right")], uncut))
    return Counter(_counted(table, both, tables)), Counter(_counted(table, both[1:], tables))


def _of(ends: Iterable[tuple[int, str]], uncut: Collection[int] | None) -> Iterator[tuple[int, str]]:
    """Those of copies that aren't cut yet."""
    return (end for end in ends if uncut is None or end[0] in uncut)


def _last_mitres(table: Table, assembly: Plan) -> Iterator[int]:
    """The mitres that are glued from the first of the last stages on."""
    at = next((place for place, step in enumerate(assembly.steps) if step.last), len(assembly.steps))
    for step in assembly.steps[at:]:
        yield from (joint for joint in step.glued if table.joints[joint].kind == "mitre")


def _ends(table: Table, mitres: Iterable[int]) -> Iterator[tuple[int, str]]:
    """Both copies of each mitre, with the end that it is at: an end lies where the other segment is."""
    for number in mitres:
        one, other = table.joints[number].placed
        for own, mate in ((one, other), (other, one)):
            here, there = table.placed[own], table.placed[mate]
            along = here.axes[0]
            right = (there.at[0] - here.at[0]) * along.x + (there.at[1] - here.at[1]) * along.y > 0
            yield own, "right" if right else "left"


def _counted(table: Table, ends: Iterable[tuple[int, str]], tables: int) -> dict[tuple[str, str], int]:
    found = Counter((table.placed[index].code, end) for index, end in ends)
    return {end: count * tables for end, count in found.items()}


def _shared_out(set_up: SetUp, held: Ends, later: bool) -> SetUp | None:
    """The set-up with the pieces that wait, or with all others; None where it has none."""
    cuts = []
    for cut in set_up.cuts:
        lays = []
        for lay in cut.lays:
            waiting = min(held[lay.code, lay.worked], lay.pieces)
            if pieces := waiting if later else lay.pieces - waiting:
                lays.append(replace(lay, pieces=pieces))
        cuts += [replace(cut, lays=tuple(lays))] if lays else []
    return replace(set_up, cuts=tuple(cuts)) if cuts else None


def _describe(held: Ends) -> str:
    return ", ".join(said(WHOSE[end], count=count, code=code) for (code, end), count in held.items())


WHOSE = {"left": "the left end of {count} {code}", "right": "the right end of {count} {code}"}


_ALONG = (
    "along the lines of the assembly board, upper faces down, since those must come level, inner corners together,"
    " and draw it up dry; its codes are for a ring that lies face up: turned over they go round the other way"
)
LYING: Mapping[str, str] = {
    "": f"lay the whole ring {_ALONG}",
    "halves": f"lay the whole ring {_ALONG}; the joints between the half rings may stand open: trimmed later",
    "measure": f"lay the ring, FILLER for its last segment, {_ALONG}; a joint beside FILLER may stand open, where"
    f" another does for want of length a card goes between FILLER and its neighbour",
}
"""How the ring is laid dry, by how it is closed."""


def dry_ring(table: Table, assembly: Plan, glue: GluingPlan, tables: int) -> Operation:
    """The ring laid dry before its mitres are slotted, held as it will be glued."""
    held = next((held_with(table, step) for step in glue.steps if "mitre" in step.joints), "clamps")
    units = table.profile.units
    gap = figured(show_length(table.profile.limits.joint_gap, units))
    tells = (
        LYING.get(assembly.closing, LYING[""]),
        "number the segments in their order on the underside, which lies up",
        "where light shows plane a shaving off, and try again",
        "slot nothing before it closes: a slot follows its mitre",
    )
    there = table.sizes.segments - (assembly.closing == "measure")
    many = said("{count} rim segments", count=there * tables)
    return Operation(
        RING_LAID, said("assembly board, {held:word}, block plane", held=held), "parts", many,
        tells, said("no joint open wider than {gap}, faces level", gap=gap), (HAND_SAW,),
        minutes=table.profile.rates.mitre * table.sizes.segments * tables,
    )  # fmt: skip


def mitring(table: Table, set_ups: Iterable[SetUp]) -> SetUp | None:
    """The set-up that mitres the ring's segments."""
    rim = {part.code for part in table.parts if part.kind == "rim-segment"}
    return next((one for one in set_ups if one.operation == "mitre" and rim.intersection(one.codes)), None)


def scrap_ring(table: Table, mitre: SetUp, set_ups: Sequence[SetUp]) -> Operation:
    """A ring of scrap, before any good segment is mitred; the `set_ups` are tried on its pieces."""
    segments = table.sizes.segments
    long = length_by_rule(ring_piece(table, set_ups), table.profile.units, 0, 4)
    mitre_at = next(figured(words.number(one)) for one in mitre.settings if one.name == "angle")
    turned = TURNED[mitre.is_marked]
    minded = (next(of_the_way(mitre)),)
    gap = figured(length_words(mitre.proof.checks[0].tolerance.figure.value, table.profile.units))
    tells = (
        said(
            "set the {turned:word} to {angle} off square and cut {count:# piece} of SCRAP-RING, as wide as the rim,"
            " all to one length, {long} or longer when it closes",
            turned=turned, angle=mitre_at, count=segments, long=long,
        ),
        "lay them in a ring, all joints drawn closed but one, and measure the gap of that one at both ends",
        said(WIDER, **slips_of(table.sizes)),
    )  # fmt: skip
    return Operation(
        "scrap ring", mitre.machine, "parts", said("{count:# piece} of scrap", count=segments), tells,
        said("the last gap no wider than {gap}", gap=gap), minded, minutes=2 * table.profile.rates.set_up,
    )  # fmt: skip


def before_last(table: Table, assembly: Plan, held: Waiting, tables: int) -> Iterator[Operation]:
    """What is done before the ring's last joints are made, then the set-ups that waited for it."""
    if assembly.closing == "halves":
        yield trimmed(table, tables, held.slotted)
    if assembly.closing == "measure":
        yield _scribed(table, assembly)
    for one in held.later:
        later = machined(table, one, tables)
        yield replace(later, on="group", persons=2) if assembly.closing == "halves" else later
        if assembly.closing == "measure" and one.operation == "mitre":
            yield _fitted(table, assembly)


def _scribed(table: Table, assembly: Plan) -> Operation:
    """The last segment's length and bevel, off the opening itself: nothing is measured, no tongue is in the way."""
    (last,) = next(step.moves for step in assembly.steps if step.last)
    tells = (
        "draw FILLER out by its screws, scrape glue off both ends of the opening and off the faces beside it",
        said(LAID_OVER, code=last.code, weight=laid_on(table)),
        "where the sawn end doesn't stand over its neighbour's mitre all along plane it first",
        KNIFED,
    )  # fmt: skip
    return Operation(
        SCRIBE, "sandbag, small square, steel rule, straightedge, knife", "parts",
        said("{code}, one a table", code=last.code), tells,
        "laid on once more the line's ends stand over both corners", (), minutes=table.profile.rates.set_up,
    )  # fmt: skip


SCRIBE, RING_LAID = "scribe the last segment", "dry ring"

LAID_OVER = (
    "lay the marked {code} face up on the ring, across the opening: its inner edge plumb over both inner corners, its"
    " sawn end over its neighbour's mitre; a sandbag of {weight} on it"
)

KNIFED = (
    "a steel rule on end against the inner corner of the other neighbour's end, a small square upright against the"
    " outer: knife both places on the piece's lower arrises, join them across its underside by a straightedge"
)


def _fitted(table: Table, assembly: Plan) -> Operation:
    """The last segment, sawn too long, planed into the opening."""
    (last,) = next(step.moves for step in assembly.steps if step.last)
    return Operation(
        "fit the last segment", "block plane", "parts", said("{code}, one a table", code=last.code),
        ("plane the sawn end down to the line and on, the bevel kept, until the piece slides in by hand",),
        "both joints close by hand, no light through either", (HAND_SAW,),
        minutes=4 * table.profile.rates.mitre,
    )  # fmt: skip
