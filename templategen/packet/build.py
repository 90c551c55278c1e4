"""From a profile's file to a table, with every fault told by its file, line and key."""

import os
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from fractions import Fraction

from templategen.catalogue import figured
from templategen.checks.wording import shown
from templategen.english import speak
from templategen.errors import Fault, TemplategenError
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model import Profile
from templategen.table.profile.read import placed_in, read_profile
from templategen.units import decimal_figure, show_length

LENGTH = re.compile(r"(?<![\w.])(-?\d+(?:\.\d+)?) mm\b")
"""A length as refusals tell it."""


def built(path: str | os.PathLike[str], shop: str | None = None) -> Table:
    """The table of the profile at `path`, with the workshop file `shop` as `read_profile` takes it; from here on all
    is told in the language that it asks for.

    Raises:
        ProfileError: the profile can't be read.
        DesignError: the table can't be built.
    """
    profile = read_profile(path, shop)
    speak("british", language=profile.words.language)
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
        placed = [fault for fault in refusal.faults if fault.file]
        bare = [in_units(fault, profile.units) for fault in refusal.faults if not fault.file]
        found = placed_in(profile, bare)
        raise type(refusal)((*placed, *found)) from None


def in_units(fault: Fault, units: str) -> Fault:
    """A fault with its lengths in the maker's own units, where they were worked out they are all mm, and with the
    decimal sign of its language."""
    found, remedy = fault.found, fault.remedy
    if units != "mm":
        found = LENGTH.sub(lambda size: shown(float(size[1]), units), found)
        remedy = LENGTH.sub(lambda size: _offered(size[1], units), remedy)
    sign = figured if fault.kind else str
    return replace(fault, found=sign(found), remedy=sign(remedy))


def _offered(mm: str, units: str) -> str:
    """A length that would do: a fraction where it is one exactly, since it must lie inside its limits."""
    exact = show_length(Fraction(mm), units)
    return exact if "." not in exact else f"{decimal_figure(float(mm), units)} {units}"
