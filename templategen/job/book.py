"""Puts a job into the workshop's file: comments, order and all else that the maker wrote stay."""

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from templategen.catalogue import translated, worded
from templategen.errors import Fault, ProfileError
from templategen.job.learn import Lesson, lessons
from templategen.job.planned import Planned
from templategen.job.read import JobDone
from templategen.table.profile.kept import edited
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text
from templategen.table.profile.read_workshop import workshop_from_text
from templategen.table.profile.workshop import JOBS, TAUGHT, WHOLE, Workshop

SIZED = ("length", "width", "thickness", "faults", "fault_areas")
"""Keys of an entry of stock whose bare numbers are lengths."""

UNCOUNTED = "{name}: the rack says no number, so nothing is taken"

NOT_THERE = "{name}: it isn't on the rack, so nothing is taken"

LONGEST_NAME = 55


@dataclass(frozen=True, slots=True)
class Booked:
    """The workshop file's new text, what was learnt, and in words what changed on the rack."""

    text: str
    lessons: tuple[Lesson, ...]
    rack: tuple[str, ...]


def booked(plan: Planned, job: JobDone, workshop: Workshop) -> Booked:
    """The workshop with what the job taught, its boards taken out and its offcuts put in.

    The file names the job from then on: one write carries all of it, so that nothing can fall between.

    Raises:
        ProfileError: it stands there already; more boards are used than lie there; the file can't be changed and
            still be read.
    """
    mark, before = f"{plan.seal}-{job.made}", workshop.written.get(JOBS, [])
    if mark in before:
        found = worded(
            "table {made} of it stands in {file} already, with all that it taught", made=job.made, file=workshop.file
        )
        remedy = worded(
            "leave this job out; or, if you have made one more since, write made = {made}", made=job.made + 1
        )
        raise ProfileError(Fault("made", found, remedy, job.file))
    learnt = tuple(lessons(plan, job, _plain(workshop)))
    changes: dict[str, Any] = {JOBS: [*before, mark], **{one.key: _as_written(one, workshop) for one in learnt}}
    changes |= {f"{TAUGHT}.{one.key}": _lesson(one, job) for one in learnt}
    rack = [*_taken(workshop, job, changes), *_put_in(plan, job, workshop, changes)]
    text = edited(workshop.text, changes)
    _plain(workshop_from_text(text, workshop.file))
    return Booked(text, learnt, tuple(rack))


def _plain(workshop: Workshop) -> Profile:
    """The workshop's values, each judged, on a table of defaults."""
    return profile_from_text("format = 1\n", "workshop", workshop=workshop)


def _as_written(lesson: Lesson, workshop: Workshop) -> Any:
    """A length keeps its unit in a file that counts in inches."""
    is_length = lesson.key == "shop.length_error"
    return f"{lesson.after:g} mm" if is_length and workshop.units == "in" else lesson.after


def _lesson(lesson: Lesson, job: JobDone) -> list[Any]:
    """For whoever asks later where the figure is from."""
    before = translated("not set") if lesson.before is None else lesson.before
    name = os.path.basename(job.file) + (worded(", table {made}", made=job.made) if job.made > 1 else "")
    return [before, float(lesson.after), name, lesson.why]


def _taken(workshop: Workshop, job: JobDone, changes: dict[str, Any]) -> Iterator[str]:
    """Boards that were used leave the rack, where their number is told."""
    rack = {str(entry.get("name")): number for number, entry in enumerate(workshop.written.get(WHOLE, ()), 1)}
    faults = []
    for name, used in job.boards.items():
        count = workshop.written[WHOLE][rack[name] - 1].get("count") if name in rack else None
        if not used:
            continue
        if count is None:
            yield worded(UNCOUNTED if name in rack else NOT_THERE, name=name)
        elif not isinstance(count, int) or count < used:
            remedy = translated("count the boards, or put right how many were used")
            faults.append(
                Fault(
                    f"boards.{name}",
                    worded("{used} used, the rack has {count}", used=used, count=count),
                    remedy,
                    job.file,
                )
            )
        else:
            changes[f"{WHOLE}[{rack[name]}].count"] = count - used
            yield worded("{name}: {used} taken, {left} left", name=name, used=used, left=count - used)
    if faults:
        raise ProfileError(faults)


def _put_in(plan: Planned, job: JobDone, workshop: Workshop, changes: dict[str, Any]) -> Iterator[str]:
    """Offcuts that are kept, each an entry of its own name."""
    there = len(workshop.written.get(WHOLE, ()))
    alike = plan.profile.units == workshop.units
    for number, name in enumerate(job.offcuts, there + 1):
        own = f"{name[:LONGEST_NAME]} {plan.seal[:4]}-{job.made}"
        entry = plan.offcuts[name]
        sized = {key: _with_unit(value, plan.profile.units) for key, value in entry.items() if key in SIZED}
        changes[f"{WHOLE}[{number}]"] = {**entry, **({} if alike else sized), "name": own}
        yield worded("{name}: put in", name=own)


def _with_unit(value: Any, units: str) -> Any:
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [_with_unit(one, units) for one in value]
    return value if isinstance(value, str | Mapping) else f"{value} {units}"
