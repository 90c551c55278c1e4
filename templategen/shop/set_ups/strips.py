"""Edges of short parts, eased while the parts still hang together in a strip."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from templategen.parts.part import Part
from templategen.shop.boards import boards_of
from templategen.shop.routed import finished_of
from templategen.shop.set_ups.job import Job
from templategen.shop.set_ups.set_up import Operation
from templategen.table.assembly import Table

EASED: tuple[Operation, ...] = ("round-over", "chamfer", "bead")

TOLD = "on the strips, before pieces are cut off them: both long edges, from end to end"

SAME = 1e-6
"""Sizes within this are one, mm."""


def on_strips(table: Table, jobs: Iterable[Job]) -> Iterator[Job]:
    """The jobs, those marked that are done on strips: both long edges of a part under `shop.holding`, eased from end
    to end, where every cut that follows in that face goes as deep as the edge does."""
    found = tuple(jobs)
    finished = {code for boards in boards_of(table, 1) for code in finished_of(table, boards)}
    short = {part.code for part in table.parts if part.size[0] < table.profile.shop.holding - SAME and _is_wide(part)}
    for job in found:
        eased = job.operation in EASED and {lay.code for lay in job.lays} <= short - finished
        if eased and not job.own and _is_whole(job) and _size(job) <= _shallowest(job, found) + SAME:
            yield replace(job, in_strip=True, warnings=(TOLD, *job.warnings))
        else:
            yield job


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
