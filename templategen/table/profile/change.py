"""A profile with other values for some of its keys, from Python instead of an editor."""

from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import replace
from typing import Any

from templategen.catalogue import fault_of, translated
from templategen.errors import Fault, ProfileError
from templategen.table.profile import keys
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text
from templategen.table.profile.suggest import did_you_mean
from templategen.table.profile.workshop import FILE

WHOLE = ("stock", "measured", "woods", "values", "suit")
"""What is given as a whole: lists of entries and tables of the maker's own names."""


def changed(profile: Profile, changes: Mapping[str, object]) -> Profile:
    """`profile` with `changes`, judged as if they stood in its file: ranges, units and arithmetic are the same.

    A key is named as messages name it (`slats.gap`), with an underline (`slats_gap`), or by its own name alone where
    no other section has that (`diameter`). A bare number is in the profile's units, a size in quotes carries its own;
    None takes the key out, so that its default holds. `stock`, `measured`, `woods` and `values` are given whole.

    Raises:
        ProfileError: every fault found, as `read_profile` tells them: unknown keys, kinds, ranges, arithmetic; a
            profile that was changed by other means, which what it was read from doesn't tell.
    """
    shop = profile.workshop
    as_read = profile_from_text(profile_text(profile), profile.name, workshop=shop)
    if replace(as_read, sha256=profile.sha256, file=profile.file) != profile:
        raise ProfileError(fault_of("", "the profile isn't what was read", "change it by with_ alone"))
    return changed_as_read(profile, changes)


def changed_as_read(profile: Profile, changes: Mapping[str, object]) -> Profile:
    """The same of a profile that is known to be as it was read, which takes half of the time.

    Raises:
        ProfileError: every fault of the changes.
    """
    paths, faults = {}, []
    for name, value in changes.items():
        found = tuple(_meant(name))
        if len(found) == 1:
            paths[found[0]] = value
        else:
            faults.append(_unclear(name, found))
    if faults:
        raise ProfileError(faults)
    try:
        return replace(profile_from_text(_text(profile, paths), profile.name, workshop=profile.workshop), file="")
    except ProfileError as refusal:
        raise ProfileError(replace(fault, file="", line=0) for fault in refusal.faults) from None


def profile_text(profile: Profile) -> str:
    """The profile as TOML, to be kept in a file; comments of the file that it was read from are lost."""
    return _text(profile, {})


def _meant(name: str) -> Iterator[str]:
    """The keys that a name may stand for."""
    heads = (*(key.name for key in keys.HEAD), *WHOLE)
    if name in (*heads, *keys.KEYS) or name.startswith("values."):
        yield name
        return
    paths = [path for path in keys.KEYS if path.replace(".", "_") == name]
    yield from paths or [path for path, key in keys.KEYS.items() if key.name == name]


def _unclear(name: str, found: tuple[str, ...]) -> Fault:
    if found:
        known = [path.replace(".", "_") for path in found]
        return fault_of(name, "stands in more than one section", "write {names}", names=" or ".join(known))
    return Fault(
        name, translated("is not known"), did_you_mean(name, [*keys.KEYS, *(key.name for key in keys.KEYS.values())])
    )


def _text(profile: Profile, changes: Mapping[str, object]) -> str:
    import tomli_w

    written: dict[str, Any] = deepcopy(dict(profile.written))
    for path, value in changes.items():
        section, _, name = path.rpartition(".")
        if section == "shop" and isinstance(written.get(section), str):
            written[section] = {FILE: written[section]}
        home = written.setdefault(section, {}) if section else written
        if value is None:
            home.pop(name, None)
        else:
            home[name] = value
    try:
        return tomli_w.dumps(written)
    except (TypeError, ValueError) as trouble:
        raise ProfileError(
            fault_of("", "a value can't stand in a profile: {trouble}", "give numbers or words", trouble=trouble)
        ) from None
