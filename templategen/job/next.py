"""The next table of the kind: a workshop as a job would leave it, for one packet, its file untouched."""

import os
from dataclasses import dataclass, replace
from pathlib import Path

from templategen.catalogue import translated, worded
from templategen.errors import Fault, ProfileError
from templategen.job.book import Booked, booked
from templategen.job.planned import planned
from templategen.job.read import read_job
from templategen.table.profile.load import source_from_file, toml_values
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text
from templategen.table.profile.read_workshop import workshop_from_text
from templategen.table.profile.workshop import WHOLE


@dataclass(frozen=True, slots=True)
class Next:
    """A profile on the workshop that a job teaches, what it taught, and which of its lessons the table doesn't heed,
    since it sets those keys itself."""

    profile: Profile
    booked: Booked
    unheeded: tuple[str, ...]


def after_job(profile: Profile, path: str | os.PathLike[str]) -> Next:
    """The profile as it is read when the job in the file at `path` is known.

    Raises:
        ProfileError: the job can't be read, or stands in a workshop file already.
        OutputError: its packet isn't where it says.
    """
    source = source_from_file(path)
    named = toml_values(source).get("folder")
    if not isinstance(named, str) or not named:
        raise ProfileError(
            Fault(
                "folder",
                translated("doesn't say where the packet is"),
                translated('write folder = "packet"'),
                source.file,
            )
        )
    plan = planned(Path(source.file).parent / named)
    job = read_job(path, plan)
    shop = profile.workshop or workshop_from_text("format = 1\n", "")
    found = booked(plan, job, shop)
    told = worded("{shop}, and {file}", shop=shop.file or translated("no workshop file"), file=source.file)
    workshop = replace(workshop_from_text(found.text, shop.file), file=told)
    read = profile_from_text(profile.text, profile.name, profile.file, workshop)
    return Next(read, found, tuple(_unheeded(read, found)))


def _unheeded(profile: Profile, found: Booked) -> list[str]:
    """Keys that the table sets itself; its own stock stands for the whole rack."""

    def is_set(key: str) -> bool:
        section, _, name = key.partition(".")
        said = profile.written.get(section)
        return isinstance(said, dict) and name in said

    keys = [one.key for one in found.lessons if is_set(one.key)]
    return [*keys, WHOLE] if found.rack and WHOLE in profile.written else keys
