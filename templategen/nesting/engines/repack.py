"""Squeeze all parts onto a given set of pieces: take a few up, fill them again, keep what lays more."""

from collections import defaultdict
from collections.abc import Callable, Sequence
from math import fsum

from templategen.nesting.engines.block import Demand
from templategen.nesting.engines.job import NestingJob, Used

TRIES = 4
"""Fillings from which the fullest is taken each time a piece is filled again."""

SECTIONS, SECTION_TRIES = 0.5, 1
"""How often, and from how many fillings, sections are taken instead."""

LIFTED = (1, 2, 2, 3)
"""How many pieces are taken up at once."""

FRESH = 12
"""Sets up to this size start from empty pieces, larger ones from the layout at hand."""

State = tuple[list[Used], Demand]
"""A layout under way: the pieces in use, and the copies not yet laid."""


def squeeze(job: NestingJob, start: State, fills: int) -> State:
    """The fullest layout found on the pieces of `start` within `fills` fillings, and what found no place."""
    sheets, left = list(start[0]), start[1]
    allowed = job.fills - fills
    missing = job.value_of(left)
    while missing > 0 and job.fills > allowed:
        picked = job.random.sample(range(len(sheets)), min(job.random.choice(LIFTED), len(sheets)))
        trial, rest = _filled_again(job, sheets, picked, left)
        short = job.value_of(rest)
        if short <= missing:
            sheets, left, missing = trial, rest, short
    return sheets, left


def begin(job: NestingJob, kinds: Sequence[int], known: Sequence[Used]) -> State:
    """Pieces of `kinds`, filled afresh or as in the layout at hand."""
    if len(kinds) <= FRESH:
        sheets = [Used(kind, (), 0.0, 0.0) for kind in kinds]
        return sheets, _refill(job, sheets, job.random.sample(range(len(kinds)), len(kinds)), job.demand)
    at_hand: dict[int, list[Used]] = defaultdict(list)
    for used in sorted(known, key=lambda used: used.area):
        at_hand[used.kind].append(used)
    sheets = [at_hand[kind].pop() if at_hand[kind] else Used(kind, (), 0.0, 0.0) for kind in kinds]
    return sheets, job.demand.without(laid for used in sheets for laid in used.laid)


def _filled_again(job: NestingJob, sheets: Sequence[Used], picked: Sequence[int], left: Demand) -> State:
    """The layout with the sheets picked taken up and filled again, with their own parts and those not yet laid."""
    trial = list(sheets)
    return trial, _refill(job, trial, picked, left.with_back(laid for i in picked for laid in sheets[i].laid))


def _refill(job: NestingJob, sheets: list[Used], picked: Sequence[int], demand: Demand) -> Demand:
    """Fill the sheets picked, one after another, and tell what is left."""
    for index in picked:
        if job.random.random() < SECTIONS and job.sectioned:
            trials = [job.sections(sheets[index].kind, demand) for _ in range(SECTION_TRIES)]
        else:
            trials = [job.shaken(sheets[index].kind, demand) for _ in range(TRIES)]
        sheets[index] = max(trials, key=lambda used: used.worth * job.random.uniform(0.97, 1.03))
        demand = demand.without(sheets[index].laid)
    return demand


def gather_offcuts(job: NestingJob, state: State, fills: int) -> State:
    """The same pieces, or fewer, with the parts drawn together so that one piece is left as empty as can be."""
    sheets, left = state
    allowed = job.fills - fills
    while len(sheets) > 1 and job.fills > allowed:
        picked = job.random.sample(range(len(sheets)), 2)
        trial, rest = _filled_again(job, sheets, picked, left)
        if job.area_of(rest) <= job.area_of(left) and _fullness(job, trial) >= _fullness(job, sheets):
            sheets, left = [used for used in trial if used.laid], rest
    return sheets, left


def draw_together(job: NestingJob, state: State, fills: int, useful: Callable[[Used], float]) -> State:
    """The same pieces, the emptiest filled anew with its own parts, so that its offcut is the most useful."""
    sheets, left = list(state[0]), state[1]
    if not sheets:
        return state
    last = min(range(len(sheets)), key=lambda i: (sheets[i].area / job.size(sheets[i].kind), i))
    own = Demand().with_back(sheets[last].laid)
    best, allowed = useful(sheets[last]), job.fills - fills
    turn = 0
    while job.fills > allowed:
        turn += 1
        trial = job.steady(sheets[last].kind, own, turn) if turn % 2 else job.shaken(sheets[last].kind, own)
        if len(trial.laid) == len(sheets[last].laid) and (found := useful(trial)) > best:
            sheets[last], best = trial, found
    return sheets, left


def _fullness(job: NestingJob, sheets: Sequence[Used]) -> float:
    return fsum((used.area / job.size(used.kind)) ** 2 for used in sheets)
