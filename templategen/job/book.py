"""Puts a job into the workshop's file: comments, order and all else that the maker wrote stay."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from templategen.errors import Fault, ProfileError
from templategen.job.learn import Lesson, lessons
from templategen.job.planned import Planned
from templategen.job.read import Job
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text
from templategen.table.profile.read_workshop import workshop_from_text
from templategen.table.profile.workshop import Workshop

SIZED = ("length", "width", "thickness", "faults", "fault_areas")
"""Keys of an entry of stock whose bare numbers are lengths."""

LONGEST_NAME = 55


@dataclass(frozen=True, slots=True)
class Booked:
    """The workshop file's new text, what was learnt, and in words what changed on the rack."""

    text: str
    lessons: tuple[Lesson, ...]
    rack: tuple[str, ...]


def booked(plan: Planned, job: Job, workshop: Workshop) -> Booked:
    """The workshop with what the job taught, its boards taken out and its offcuts put in.

    Raises:
        ProfileError: more boards are used than lie there; the file can't be changed and still be read.
    """
    import tomlkit

    learnt = tuple(lessons(plan, job, _plain(workshop)))
    document = tomlkit.parse(workshop.text.removeprefix("\ufeff"))
    for one in learnt:
        section, _, name = one.key.partition(".")
        document.setdefault(section, tomlkit.table())[name] = _told(one, workshop)
    rack = [*_taken(document, job), *_put_in(document, plan, job, workshop)]
    text = tomlkit.dumps(document)
    _plain(workshop_from_text(text, workshop.file))
    return Booked(text, learnt, tuple(rack))


def _plain(workshop: Workshop) -> Profile:
    """The workshop's values, each judged, on a table of defaults."""
    return profile_from_text("format = 1\n", "workshop", workshop=workshop)


def _told(lesson: Lesson, workshop: Workshop) -> Any:
    """A length keeps its unit in a file that counts in inches."""
    is_length = lesson.key == "shop.length_error"
    return f"{lesson.after:g} mm" if is_length and workshop.units == "in" else lesson.after


def _taken(document: Any, job: Job) -> Iterator[str]:
    """Boards that were used leave the rack, where their number is told."""
    rack = {str(entry.get("name")): entry for entry in document.get("stock", [])}
    faults = []
    for name, used in job.boards.items():
        entry = rack.get(name)
        if entry is None or not used:
            if entry is None:
                yield f"{name}: isn't on the rack, so nothing is taken"
        elif "count" not in entry:
            yield f"{name}: the rack says no number, so nothing is taken"
        elif not isinstance(entry["count"], int) or entry["count"] < used:
            remedy = "count the boards, or put right how many were used"
            faults.append(Fault(f"boards.{name}", f"{used} used, the rack has {entry['count']}", remedy, job.file))
        else:
            entry["count"] = int(entry["count"]) - used
            yield f"{name}: {used} taken, {entry['count']} left"
    if faults:
        raise ProfileError(faults)


def _put_in(document: Any, plan: Planned, job: Job, workshop: Workshop) -> Iterator[str]:
    """Offcuts that are kept, each an entry of its own name."""
    import tomlkit

    for name in job.offcuts:
        entry, table = plan.offcuts[name], tomlkit.table()
        for key, value in entry.items():
            known = plan.profile.units == workshop.units or key not in SIZED
            table[key] = value if known else _with_unit(value, plan.profile.units)
        table["name"] = f"{name[:LONGEST_NAME]} {plan.seal[:4]}"
        if "stock" not in document:
            document["stock"] = tomlkit.aot()
        document["stock"].append(table)
        yield f"{table['name']}: put in"


def _with_unit(value: Any, units: str) -> Any:
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [_with_unit(one, units) for one in value]
    return value if isinstance(value, str | Mapping) else f"{value} {units}"


def marked(text: str, file: str) -> str:
    """A job's own text with a line that says into which file it was put, so that it isn't put in twice."""
    import tomlkit

    document = tomlkit.parse(text)
    document["booked"] = file
    return tomlkit.dumps(document)
