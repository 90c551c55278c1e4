"""All the set-ups of a table."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.checks.wording import shown
from templategen.explain.book import Book
from templategen.explain.given import write_given
from templategen.explain.quantities import book_of
from templategen.explain.sizes import write_sizes
from templategen.explain.slats import ExplainedSlat, write_slats
from templategen.explain.spacing import write_spacing
from templategen.parts.part import Part
from templategen.shop.boards import boards_of, is_planed
from templategen.shop.cautions import EASED, set_up_cautions
from templategen.shop.routed import finished_of
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.base import base_jobs, foot_jobs
from templategen.shop.set_ups.choose import chosen, owns
from templategen.shop.set_ups.edges import FACES
from templategen.shop.set_ups.group import grouped
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.legs import leg_jobs
from templategen.shop.set_ups.rails import rail_jobs
from templategen.shop.set_ups.rim import segment_jobs
from templategen.shop.set_ups.set_up import Job, SetUp, Side
from templategen.shop.set_ups.slats import slat_jobs
from templategen.shop.set_ups.splines import spline_jobs
from templategen.shop.set_ups.ways import SHOT_WITH, WAYS
from templategen.table.assembly import Table
from templategen.units import in_one_unit, length_by_rule


def set_ups(table: Table, tables: int = 1) -> tuple[SetUp, ...]:
    """Every set-up for so many tables, in working order."""
    return made_of(table, jobs_of(Ledger(book_of(table), table.profile), table), tables)


def made_of(table: Table, jobs: Iterable[Job], tables: int = 1) -> tuple[SetUp, ...]:
    """The set-ups of some jobs on the table's parts: brought together, each in this shop's way, with its cautions."""
    tried = _short_by_hand(table, [_tried(table, one) for one in eased_early(table, jobs)])
    made = [as_bought(table, chosen(table, one)) for one in grouped(tried, tables)]
    freed: set[str] = set()
    gone: dict[tuple[str, Side], float] = {}
    done: list[SetUp] = []
    for one in made:
        told = tuple(_thinned(table, one, gone))
        done.append(cautioned(table, replace(one, warnings=(*one.warnings, *told)), freed))
        freed |= set(cut_off(one))
    return tuple(done)


def _short_by_hand(table: Table, jobs: Sequence[Job]) -> Sequence[Job]:
    """The jobs, the ends of short pieces marked for a tenon saw where the others' are sawn by a saw in the hand: its
    guide and its sole don't fit on them."""
    shop = table.profile.shop
    short = {part.code for part in table.parts if part.size[0] < shop.holding - SAME}
    if "circular saw" not in shop.machines or not any(owns(shop, way) for way in WAYS["crosscut"][-len(SHOT_WITH) :]):
        return jobs
    sawn = [one for one in grouped(jobs) if one.operation in ("crosscut", "mitre")]
    guided = {
        (one.operation, code, one.value("angle"))
        for one in (chosen(table, one) for one in sawn)
        for code in short.intersection(one.codes if one.way == "hand-held" else ())
    }
    return [replace(one, by_hand=one.by_hand or _sawn_as(one) in guided) for one in jobs]


def _sawn_as(job: Job) -> tuple[str, str, float]:
    """What is sawn off which part at which angle, "" where that is no end."""
    angle = next((one.figure.value for one in job.shared if one.name == "angle"), 0.0)
    return job.operation if job.operation in ("crosscut", "mitre") else "", job.lays[0].code, angle


THIN = 0.45
"""A rail of which a smaller share stays at its crossing is carried on a batten: half of it is left by two rails'
laps, a third by three's."""


def _thinned(table: Table, set_up: SetUp, gone: dict[tuple[str, Side], float]) -> Iterator[str]:
    """What is minded once little of a rail is left at its crossing; `gone` is how deep each face of a part is cut
    there, and grows."""
    if set_up.operation not in ("lap", "relief"):
        return
    for lay in (lay for cut in set_up.cuts for lay in cut.lays):
        place = lay.code, lay.worked
        gone[place] = max(gone.get(place, 0.0), set_up.value("height"))
    thin: dict[str, list[str]] = {}
    for part in map(table.part, set_up.codes):
        left = part.thickness - sum(gone.get((part.code, face), 0.0) for face in FACES)
        if left < THIN * part.thickness:
            thin.setdefault(shown(left, table.profile.units), []).append(part.code)
    for told, codes in thin.items():
        yield said(
            "{parts}: only {left} stay in the middle; carried on a batten from here on, held up at both ends wherever"
            " it lies",
            parts=", ".join(codes),
            left=figured(told),
        )


BOUGHT = "measure each piece; where they differ plane all of a kind to the thinnest"

EVERY = "every piece"


def as_bought(table: Table, set_up: SetUp) -> SetUp:
    """Planing where the boards have the thickness already: nothing is over to try on, so pieces are made alike."""
    if not comes_planed(table, set_up):
        return set_up
    return replace(set_up, does=(BOUGHT,), proof=replace(set_up.proof, test_piece=EVERY))


def comes_planed(table: Table, set_up: SetUp) -> bool:
    """Whether a set-up planes what its boards have already."""
    return set_up.operation == "plane" and all(is_planed(table, table.part(code)) for code in set_up.codes)


def cautioned(table: Table, set_up: SetUp, freed: Collection[str]) -> SetUp:
    """The set-up with its cautions; pieces of the codes `freed` are off their strips by then."""
    shop, units = table.profile.shop, table.profile.units
    lines = set_up_cautions(set_up, table.parts, shop.holding, partial(length_by_rule, units=units), freed)
    return replace(set_up, cautions=tuple(in_one_unit(translated(line), units) for line in lines))


def cut_off(set_up: SetUp) -> Iterator[str]:
    """The codes of the pieces that come off their strips in a set-up: sawn to a stop, or one after another."""
    if set_up.operation in ("crosscut", "mitre"):
        yield from (lay.code for cut in set_up.cuts if cut.settings for lay in cut.lays)


def _tried(table: Table, job: Job) -> Job:
    """The job with the code of the test strip that it is tried on."""
    if job.proof.test_piece != tolerances.STRIP:
        return job
    strip = tolerances.strip_of(table.part(job.lays[0].code))
    return replace(job, proof=replace(job.proof, test_piece=strip))


TOLD = "on the strips as they are ripped, before an end is sawn: both long edges, from end to end"

SAME = 1e-6
"""Sizes within this are one, mm."""


def eased_early(table: Table, jobs: Iterable[Job]) -> Iterator[Job]:
    """The jobs, those marked that ease long edges before anything else is cut there: on the strip where a part is a
    slat, round whose points a bearing would run, or under `shop.holding`, and both its edges are eased from end to
    end, else on the piece while it is whole, so that a bearing meets neither groove nor shoulder. Every cut that
    follows in that face must go as deep as the edge does."""
    found = tuple(jobs)
    finished = {code for boards in boards_of(table, 1) for code in finished_of(table, boards)}
    wide = {part.code for part in table.parts if _is_wide(part)} - _worked_round(found)
    holding = table.profile.shop.holding - SAME
    early = {part.code for part in table.parts if part.kind == "slat" or part.size[0] < holding} & wide - finished
    for job in found:
        codes = {lay.code for lay in job.lays}
        if job.operation not in EASED or not codes <= wide or _size(job) > _shallowest(job, found) + SAME:
            yield job
        elif codes <= early and not job.own and _is_whole(job):
            yield replace(job, in_strip=True, warnings=(TOLD, *job.warnings))
        else:
            yield replace(job, while_whole=True)


def _worked_round(jobs: Iterable[Job]) -> set[str]:
    """The parts whose outline or underside is cut before their edges are eased, or whose ends are eased too."""
    return {
        lay.code
        for job in jobs
        for lay in job.lays
        if job.operation in ("relief", "round corner")
        or (job.operation in EASED and lay.against not in ("low", "high"))
    }


def _is_wide(part: Part) -> bool:
    """Whether what shows of the part is as wide as its blank: at a slat's tip the strip's edge is none of its own."""
    body, whole = (part.body or part.outline).bounds, part.outline.bounds
    return abs(body.bottom - whole.bottom) < SAME and abs(body.top - whole.top) < SAME


def _is_whole(job: Job) -> bool:
    """Whether both long edges are eased alike, so that a piece may lie either way round in its strip."""
    return {lay.against for lay in job.lays} == {"low", "high"} and not any(lay.stop_at for lay in job.lays)


def _size(job: Job) -> float:
    return max(one.figure.value for one in job.shared)


def _shallowest(job: Job, jobs: Sequence[Job]) -> float:
    """The least depth of what is cut in the same face later."""
    own: Mapping[str, None] = dict.fromkeys(lay.code for lay in job.lays)
    face = job.lays[0].worked
    depths = (
        one.figure.value
        for other in jobs
        if any(lay.code in own and lay.worked == face for lay in other.lays)
        for one in (*other.shared, *other.own)
        if one.name == "height"
    )
    return min(depths, default=_size(job))


def jobs_of(ledger: Ledger, table: Table) -> Iterator[Job]:
    """Every job on every part, part by part; what their figures are is written into the ledger."""
    slats = explained_slats(ledger, table)
    for part in table.parts:
        yield from jobs_of_part(ledger, table, part, slats)


def jobs_of_part(ledger: Ledger, table: Table, part: Part, slats: dict[str, ExplainedSlat]) -> Iterator[Job]:
    """The jobs on one part of the table."""
    match part.kind:
        case "rim-segment":
            return segment_jobs(ledger, table, part)
        case "spline":
            return spline_jobs(ledger, table, part)
        case "rail":
            return rail_jobs(ledger, table, part)
        case "slat":
            return slat_jobs(ledger, slats[part.code], part)
        case "leg":
            return leg_jobs(ledger, part)
        case "base-rail":
            return base_jobs(ledger, table, part)
        case "foot":
            return foot_jobs(ledger, part)
    return iter(())


def explained_slats(ledger: Ledger, table: Table) -> dict[str, ExplainedSlat]:
    """Each slat's lines and corners, by its code: of equal slats those of the one that its length is explained by."""
    book = Book()
    write_given(book, table.profile)
    write_sizes(book, table.profile)
    write_spacing(book, table.profile, table.spacing.count)
    found = {slat.name: slat for slat in write_slats(book, table.profile, table.spacing.count)}
    codes = [part.code for part in table.parts if part.kind == "slat"]
    return {code: found[_home(ledger, code)] for code in codes}


def _home(ledger: Ledger, code: str) -> str:
    """What the names of a slat's lines begin with: its length is told by them."""
    (_, length), *_ = ledger.book.pages[f"part.{code}.length"].terms
    return length.removesuffix(".length")
