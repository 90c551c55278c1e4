"""From a profile's file to a table, with every fault told by its file, line and key."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from templategen.errors import TemplategenError
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model import Profile
from templategen.table.profile.read import locate_faults, read_profile


def built(path: str | os.PathLike[str]) -> Table:
    """The table of the profile at `path`.

    Raises:
        ProfileError: the profile can't be read.
        DesignError: the table can't be built.
    """
    profile = read_profile(path)
    with with_places(profile):
        return build_table(profile)


@contextmanager
def with_places(profile: Profile) -> Iterator[None]:
    """Adds the profile's file and line to the faults of whatever is refused inside."""
    try:
        yield
    except TemplategenError as refusal:
        if not profile.file or all(fault.file for fault in refusal.faults):
            raise
        text = Path(profile.file).read_text(encoding="utf-8")
        placed = [fault for fault in refusal.faults if fault.file]
        found = locate_faults(text, profile.file, [fault for fault in refusal.faults if not fault.file])
        raise type(refusal)((*placed, *found)) from None
