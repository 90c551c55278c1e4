"""Putting it together: whether the ring will close, then a sheet for each step with its glue and its time."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import partial
from itertools import zip_longest
from math import ceil, floor

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.checks.wording import format_size
from templategen.drawing.assembly_step import step_drawings
from templategen.drawing.closing_picture import closing_picture
from templategen.drawing.drawing import Drawing
from templategen.drawing.half_trimming import end_trimmed, end_trimmed_on, half_trimmed
from templategen.drawing.last_segment import drawn_up, halves_drawn_up, scribed_over
from templategen.english import tag
from templategen.fit.plan import RING_WAYS, Plan
from templategen.geometry.tolerance import EQUAL
from templategen.output.page.content import Grid, Picture, Section, Sheet
from templategen.packet.lost import or_lost
from templategen.packet.page.links import links
from templategen.packet.page.picture import picture
from templategen.packet.page.work import SCRIBING, TRIMMING, address_of, sheet_of
from templategen.shop.closing.study import ClosingStudy
from templategen.shop.gluing.listed import describe_joints
from templategen.shop.gluing.marks import spans
from templategen.shop.gluing.plan import GluingPlan, GluingStep
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.work.as_it_stands import at_step
from templategen.work.closing import SCRIBE
from templategen.work.glued import LEAST_GLUE, besides
from templategen.work.operation import Operation, Planned
from templategen.work.plan import WorkPlan
from templategen.work.trimming import HALVES, goes_twice, is_routed

MM2_PER_CM2 = 100.0

CARE = (
    "Glue: read its own sheet first; gloves, eyes covered, fresh air.",
    "Rags with oil or finish dry spread out flat in the open, never heaped: they can catch fire by themselves.",
    "Heavy pieces: two persons lift, backs straight, fingers clear of the joints as they close.",
)
"""Where glue and weight are at hand, in our own words."""


def steps(table: Table, plan: Plan, work: WorkPlan, closing: ClosingStudy) -> Section:
    """The sheets."""
    gluing, units = work.gluing, table.profile.units
    now = [at_step(table, work, number) for number in range(1, len(plan.steps) + 1)]
    drawn = or_lost("page, pictures of the steps", lambda: tuple(step_drawings(now, plan)), None)
    pictures = drawn or (None,) * len(gluing.steps)
    sheets = _sheets(table, plan, work, dict(zip((step.number for step in gluing.steps), pictures, strict=True)))
    first = _closing(closing, plan, units)
    every = (first, _whole(gluing, work, units), *sheets)
    return Section("together", "Putting it together", every, pairs=True, language=tag(of_catalogue=True))


def _closing(study: ClosingStudy, plan: Plan, units: Units) -> Sheet:
    caption = "how far joints open with the saw's errors of angle and length, for each way of working"
    way = study.advised
    title = translated(way.title)
    words = (
        said("Planned: {reason}.", reason=study.reason(units)),
        f"{title[:1].upper()}{title[1:]}: {translated(way.does)}.",
        *(
            ()
            if plan.ring == "locked"
            else (said("The steps below are in this order: {way:word}.", way=RING_WAYS[plan.ring]),)
        ),
    )
    shown = picture(lambda: closing_picture(study, "", units), "closing", caption, True)
    return Sheet(
        "closing", "Will the ring close?", words, (shown,),
        links=links("lists/closing.csv"),
    )  # fmt: skip


def _whole(plan: GluingPlan, work: WorkPlan, units: Units) -> Sheet:
    """Glue and its times, then all that is done from the first step on, whatever else stands between the steps."""
    low, high = plan.clamped
    times = said(
        "{open:g} minutes from the first glue to the last part home, {closed:g} until the clamps must bear; then "
        "{low:g} to {high:g} hours in the clamps.",
        open=plan.open_time,
        closed=plan.closed_time,
        low=low,
        high=high,
    )
    words = (
        f"{translated(plan.glue.says)}; {translated(plan.glue.water)}.",
        times,
        said("About {grams:gram} are spread, in {goes:# go|goes}.", units, grams=plan.grams, goes=plan.sessions),
        *(("The ring is glued in two halves first.",) if plan.in_halves else ()),
    )
    first = next((at for at, one in enumerate(work.operations) if one.operation.step), len(work.operations))
    rows = tuple(_row(one, units) for one in work.operations[first:])
    grid = Grid(
        ("no.", "figures", "what", "marks", "glue", "minutes"),
        rows,
        figures=(0, 4, 5),
        ticks=True,
        to=tuple(address_of(one) for one in work.operations[first:]),
        to_at=1,
    )
    paths = links("lists/gluing.csv", "lists/marks.csv", "lists/labels.pdf")
    return Sheet("order", "Order and glue", words, grids=(grid,), cautions=CARE, links=paths)


def _row(one: Planned, units: Units) -> tuple[str, ...]:
    step = one.operation.step
    glued = (_marks(step), _grams(step, units), _minutes(step)) if step else ("", "", "")
    return str(one.number), sheet_of(one), one.operation.does, *glued


def _marks(step: GluingStep) -> str:
    letters = spans(step.letters)
    dry = translated("dry")
    return ("; ".join((dry, letters)) if letters else dry) if step.dry else letters


def _grams(step: GluingStep, units: Units) -> str:
    return "" if step.dry else format_size(max(LEAST_GLUE[units], step.grams), "gram", units)


def _minutes(step: GluingStep) -> str:
    return "" if step.dry else _from_to(step.home)


def _from_to(stretch: tuple[float, float]) -> str:
    """Minutes from a middling to a slow hand, the slow ones in full."""
    low, high = max(1, floor(stretch[0])), ceil(stretch[1] - EQUAL)
    return said("{low} to {high}", low=low, high=high) if low < high else str(high)


def _sheets(
    table: Table, plan: Plan, work: WorkPlan, pictures: Mapping[int, Drawing | None]
) -> Iterator[Sheet]:  # fmt: skip
    """One for each step, and for what comes before the last joints of the ring: half rings trimmed, or its last
    segment scribed."""
    for one, then in zip_longest(work.operations, work.operations[1:]):
        if step := one.operation.step:
            sheet = _step(work.gluing, table.profile.units, step, pictures[step.number], one)
            filled = then and then.operation.does == SCRIBE
            banded = work.gluing.in_halves and step.hold.band
            more = (_filled(table, plan),) if filled else (_banded(table, plan, step),) if banded else ()
            yield replace(sheet, pictures=(*sheet.pictures, *more))
        elif one.operation.does == HALVES:
            yield _trimming(table, one)
        elif one.operation.does == SCRIBE:
            yield _scribing(table, one)


def _filled(table: Table, plan: Plan) -> Picture:
    """How a ring is drawn up whose last segment isn't there yet."""
    last = next(move.index for step in plan.steps if step.last for move in step.moves)
    return picture(lambda: drawn_up(table, last), "drawn-up", "from above, drawn up: FILLER hatched", True, True)


def _banded(table: Table, plan: Plan, step: GluingStep) -> Picture:
    """How one half ring, or both together, are drawn up."""
    told = translated(BOTH_HALVES if step.together else ONE_HALF)
    own = {move.index for move in plan.steps[step.number - 1].moves if move.index < table.sizes.segments}
    drawn = partial(halves_drawn_up, table, () if step.together else own)
    return picture(drawn, f"step-{step.number}-drawn-up", told, projected=True)


ONE_HALF = "from above, drawn up; the half that lies dry hatched"
BOTH_HALVES = "from above, drawn up"


def _scribing(table: Table, planned: Planned) -> Sheet:
    """How the last segment lies over its opening while it is scribed."""
    shown = picture(lambda: scribed_over(table), SCRIBING, "from above; hatched is what goes", True, True)
    return _between(planned, SCRIBING, (shown,), translated("last segment scribed"))


def _trimming(table: Table, planned: Planned) -> Sheet:
    """How half rings lie while their ends are trimmed."""
    shown = [picture(lambda: half_trimmed(table), "trim-halves", SEEN_FROM_ABOVE, True, True)]
    if is_routed(table):
        shown.append(picture(lambda: end_trimmed(table), "trim-halves-across", SEEN_ALONG, projected=True))
    if goes_twice(table):
        shown.append(picture(lambda: end_trimmed_on(table), "trim-halves-on", IN_THE_SECOND, projected=True))
    return _between(planned, TRIMMING, tuple(shown), translated("half rings trimmed"))


def _between(planned: Planned, name: str, shown: tuple[Picture, ...], tick: str) -> Sheet:
    """The sheet of what is done between two steps."""
    done = planned.operation
    told = (f"{line[:1].upper()}{line[1:]}." for line in map(translated, (*done.tells, done.measure)))
    title = said("{does} (plan: {place})", does=done.told_does, place=planned.number)
    return Sheet(
        name, f"{title[:1].upper()}{title[1:]}", tuple(told), shown,
        ticks=(tick,), cautions=tuple(map(translated, done.cautions)),
    )  # fmt: skip


SEEN_FROM_ABOVE = "from above, both ends towards whoever trims them; hatched is what goes, drawn larger than it is"
SEEN_ALONG = "an end seen along the batten's edge, in the first pass"
IN_THE_SECOND = "the same in the second go, the blocks behind it"


def _step(plan: GluingPlan, units: Units, step: GluingStep, drawing: Drawing | None, planned: Planned) -> Sheet:
    caption = "what is there is thin, what is added heavy; arrows show the way in"
    shown = (picture(drawing, f"step-{step.number}", caption, True, True),) if drawing else ()
    jigs = planned.operation.jigs
    by = (said("Jigs: {jigs}.", jigs=", ".join(jigs)),) if jigs else ()
    title = said("Step {number}: {does} (plan: {place})", number=step.number, does=step.does, place=planned.number)
    return Sheet(
        f"step-{step.number}", title,
        (*_words(plan, units, step), *_told(planned.operation), *by),
        shown, ticks=(said("step {number} done", number=step.number),),
    )  # fmt: skip


def _words(plan: GluingPlan, units: Units, step: GluingStep) -> Iterator[str]:
    if step.dry:
        yield translated("Nothing is glued in this step.")
        if step.letters:
            yield said("Letter to letter: {letters}.", letters=spans(step.letters))
    else:
        letters = spans(step.letters)
        area = format_size(step.area / MM2_PER_CM2, "cm2", units)
        glued = {"joints": describe_joints(step), "letters": letters, "grams": _grams(step, units), "area": area}
        yield said("Glued: {joints}; marks {letters}. {grams} of glue on {area}.", **glued)
        yield said(SINGLY if step.singly else TIMES[step.in_a_go > 0], **_times(plan, step))
        if step.hands > 1:
            yield translated("Two persons spread at once.")


TIMES = {
    False: "Minutes from glue to home: {home} of {open:g}.",
    True: "Minutes from glue to home: {home} of {open:g} for a piece with {at_once:# joint}, {held} for a go's "
    "{in_a_go}; all drawn up by {closed:g}.",
}
"""What is told of a step's times, by whether one hold draws up all of it."""

SINGLY = "Minutes from glue to home: {home} of {open:g} for each, one after another."


def _times(plan: GluingPlan, step: GluingStep) -> dict[str, str | float]:
    return {
        "at_once": step.at_once,
        "in_a_go": step.in_a_go,
        "home": _from_to(step.home),
        "open": plan.open_time,
        "held": _from_to(step.until_held),
        "closed": plan.closed_time,
    }


def _told(done: Operation) -> Iterator[str]:
    """All else that the plan of work tells of the step, so that one who reads its sheet alone misses nothing."""
    for line in map(translated, besides(done)):
        yield f"{line[:1].upper()}{line[1:]}."
    if done.measure:
        yield said("Measure: {measure:word}.", measure=done.measure)
