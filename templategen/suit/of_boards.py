"""The profile as it is asked of other boards, or for the largest table: its text with those in it, comments kept."""

import os
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from templategen.catalogue import translated, worded
from templategen.errors import Fault, ProfileError
from templategen.table.profile.kept import edited
from templategen.table.profile.model import Profile
from templategen.table.profile.model_of_shop import Stock
from templategen.table.profile.read import profile_from_text
from templategen.table.profile.read_workshop import read_workshop
from templategen.table.profile.workshop import WHOLE
from templategen.units import trimmed

AS_FAR = "40 %"
"""How far the diameter may change for the largest table of a profile without [suit]; base and legs follow it."""

WIDEST = "top.diameter"


def of_boards(profile: Profile, path: str | os.PathLike[str]) -> Profile:
    """The profile with the `[[stock]]` of a file in place of its own. Of its own, what is thicker than any there of
    its wood stays: nothing there could serve for it.

    Raises:
        ProfileError: the file can't be read or has no boards.
    """
    there = profile_from_text("format = 1\n", "boards", workshop=read_workshop(path)).stock
    if not there:
        raise ProfileError(
            Fault(WHOLE, translated("there is none"), translated("name a file with [[stock]]"), os.fspath(path))
        )
    wanted = [*there, *kept_besides(profile, there)]
    written = profile.written.get(WHOLE)
    own = len(written) if isinstance(written, list) else 0
    text = edited(profile.text, {f"{WHOLE}[{number}]": None for number in range(own, 0, -1)})
    entries = {f"{WHOLE}[{number}]": _entry(one, profile.units) for number, one in enumerate(wanted, 1)}
    return _read(profile, edited(text, entries))


def kept_besides(profile: Profile, there: Sequence[Stock]) -> Iterator[Stock]:
    """The profile's own stock that is thicker than all of its wood there."""
    for one in profile.stock:
        if all(one.thickness > other.thickness for other in there if other.wood == one.wood):
            yield one


def for_the_largest(profile: Profile) -> Profile:
    """The profile so that size counts, before all else.

    Raises:
        ProfileError: its [suit] says nothing of the diameter.
    """
    said = [one.path for one in profile.suit.variations]
    if not said:
        text = edited(edited(profile.text, dict(_following(profile))), {"suit.counts": ["size"]})
        profile = _read(profile, text.replace('\ncounts = ["size"]', f'\n"{WIDEST}" = "{AS_FAR}"\ncounts = ["size"]'))
    elif WIDEST not in said:
        remedy = worded('add "{widest}" = "{as_far}" to [suit]', widest=WIDEST, as_far=AS_FAR)
        raise ProfileError(
            Fault("suit", worded("doesn't say how far {widest} may change", widest=WIDEST), remedy, profile.file)
        )
    others = [one for one in profile.suit.counts if one != "size"]
    return _read(profile, edited(profile.text, {"suit.counts": ["size", *others]}))


def _following(profile: Profile) -> Iterator[tuple[str, str]]:
    """Sizes that keep their share of the diameter, where the maker hasn't written arithmetic of his own."""
    sizes = {
        "base.length": profile.base.length,
        "legs.centre_distance": profile.legs.centre_distance,
        "legs.base_centre_distance": profile.legs.base_centre_distance,
    }
    for key, size in sizes.items():
        section, _, name = key.partition(".")
        said = profile.written.get(section)
        if not isinstance(said, dict) or not isinstance(said.get(name), str):
            yield key, f"{WIDEST} * {trimmed(size, 4)} / {trimmed(profile.top.diameter, 4)}"


def _read(profile: Profile, text: str) -> Profile:
    return profile_from_text(text, profile.name, profile.file, profile.workshop)


def _entry(stock: Stock, units: str) -> dict[str, Any]:
    """The stock as an entry of a profile; sizes carry their unit where bare numbers would be inches."""

    def told(name: str, value: Any) -> Any:
        if isinstance(value, tuple):
            return [told(name, one) for one in value]
        return value if units == "mm" or isinstance(value, str) or name in ("count", "price") else f"{value} mm"

    left_out = {"bit", *(() if stock.mode == "routed" else ("gap",))}
    return {
        name: told(name, value) for name, value in asdict(stock).items() if name not in left_out and value is not None
    }
