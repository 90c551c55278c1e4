"""The set-ups for what is still to cut: parts as drawn by the drawing's figures, re-fitted ones by their own."""

from collections.abc import Iterator
from dataclasses import replace

from templategen.explain.quantities import book_of
from templategen.parts.part import Part
from templategen.shop.refit.names import rail_names, segment_names, slat_explained
from templategen.shop.refit.rebuild import Rebuilt
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.rails import rail_jobs
from templategen.shop.set_ups.rim import segment_jobs
from templategen.shop.set_ups.run import explained_slats, jobs_of_part, made_of
from templategen.shop.set_ups.set_up import Job, SetUp
from templategen.shop.set_ups.slats import slat_jobs
from templategen.shop.set_ups.splines import spline_jobs
from templategen.shop.set_ups.words import IN_THE_RING


def rest_set_ups(found: Rebuilt) -> tuple[SetUp, ...]:
    """Every set-up for the parts still to cut, in working order; what is done to the glued ring meets all of it."""
    ledger = Ledger(book_of(found.base), found.base.profile)
    return made_of(found.table, list(_jobs(ledger, found)))


def _jobs(ledger: Ledger, found: Rebuilt) -> Iterator[Job]:
    slats = explained_slats(ledger, found.base)
    ring = [part for part in found.table.parts if part.kind == "rim-segment"]
    uneven = any(not _as_drawn(found, part) or part.code not in found.to_cut for part in ring)
    for part in found.table.parts:
        first = found.base.part(found.was[part.code])
        if first.kind == "spline":
            jobs = spline_jobs(ledger, found.base, first, uneven)
        elif _as_drawn(found, part):
            jobs = jobs_of_part(ledger, found.base, first, slats)
        else:
            jobs = _own_jobs(ledger, found, part)
        for job in jobs:
            yield from _counted(job, part.code, part.count, found.to_cut.get(part.code, 0))


def _as_drawn(found: Rebuilt, part: Part) -> bool:
    """Whether the drawing's figures make it."""
    return _wood(part) == _wood(found.base.part(found.was[part.code]))


def _wood(part: Part) -> tuple[object, ...]:
    """All that its figures depend on; names of mates and of the part itself change with a re-fit."""
    work = tuple(replace(feature, mates=()) for feature in part.features)
    return part.kind, part.blank, part.outline, part.body, part.holes, part.thickness, work


def _own_jobs(ledger: Ledger, found: Rebuilt, part: Part) -> Iterator[Job]:
    """The jobs of a part that was drawn anew."""
    match part.kind:
        case "rim-segment":
            return segment_jobs(ledger, found.base, part, segment_names(ledger, found.base, part))
        case "rail":
            return rail_jobs(ledger, found.base, part, found.was[part.code], rail_names(ledger, part))
        case "slat":
            return slat_jobs(ledger, slat_explained(ledger, part), part)
    return iter(())


def _counted(job: Job, code: str, all_of_it: int, to_cut: int) -> Iterator[Job]:
    pieces = all_of_it if job.operation in IN_THE_RING else to_cut
    if pieces:
        yield replace(job, lays=tuple(replace(lay, code=code, pieces=pieces) for lay in job.lays))
