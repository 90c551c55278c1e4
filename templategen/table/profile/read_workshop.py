"""Reads a workshop file, and finds the one that holds for a profile: named by the command, by the profile, or the
maker's own in the system's folder for settings."""

import os
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from templategen.catalogue import fault_of, translated, worded
from templategen.errors import Fault, ProfileError
from templategen.table.profile import keys
from templategen.table.profile.choices import Units
from templategen.table.profile.load import Source, source_from_file, source_from_text, toml_values
from templategen.table.profile.locate import line_of, lines_of, locate_faults
from templategen.table.profile.resolve import described
from templategen.table.profile.suggest import did_you_mean
from templategen.table.profile.workshop import FILE, JOBS, NAMED, SECTIONS, TAUGHT, WHOLE, Workshop, own_part
from templategen.units import printable

NONE = "none"
"""Named in place of a file: no workshop file at all."""

OWN = "workshop.toml"
"""The maker's own file, in the folder that the system keeps for settings."""

AS_WRITTEN = "leave it as templategen job writes it, or take it out"

SURROUNDINGS = "TEMPLATEGEN_SHOP"
"""A variable of the surroundings that names another file as the maker's own, or none."""


def workshop_for(source: Source, written: Mapping[str, Any], given: str | None) -> Workshop | None:
    """The workshop of a profile: the one `given`, else that which the profile names, else the maker's own.

    Raises:
        ProfileError: it can't be read, or holds what is no business of a workshop.
    """
    _, named = own_part(written)
    if named is not None and (not isinstance(named, str) or not named.strip()):
        found = worded("{raw} stands here", raw=described(named))
        raise _in_profile(source, found, 'name the workshop file, such as "my-shop.toml", or "none"')
    if given is not None:
        return None if given == NONE else read_workshop(given)
    if isinstance(named, str):
        beside = os.path.join(os.path.dirname(source.file), named)
        return None if named == NONE else _named(source, beside)
    own = own_file()
    named_outside = bool(os.environ.get(SURROUNDINGS))
    return read_workshop(own) if own and (named_outside or os.path.lexists(own)) else None


def own_file() -> str:
    """Where the maker's own workshop file lies, or would; "" where none is wanted."""
    there = os.environ.get(SURROUNDINGS, "")
    if there:
        return "" if there == NONE else there
    from platformdirs import user_config_path

    return str(user_config_path("templategen", appauthor=False) / OWN)


def read_workshop(path: str | os.PathLike[str]) -> Workshop:
    """The workshop file at `path`.

    Raises:
        ProfileError: with its file and line whatever is wrong with it as a whole; single values are judged with the
            profile that uses them.
    """
    return _workshop(source_from_file(path))


def workshop_from_text(text: str, file: str) -> Workshop:
    """A workshop file given as text; `file` is only named in messages.

    Raises:
        ProfileError: as `read_workshop`.
    """
    return _workshop(source_from_text(text, file, file))


def _workshop(source: Source) -> Workshop:
    written = toml_values(source)
    faults = locate_faults(source.text, source.file, _out_of_place(written))
    if faults:
        raise ProfileError(faults)
    units: Units = "in" if written.get("units") == "in" else "mm"
    return Workshop(source.file, source.whole, source.sha256, units, written, lines_of(source.text))


def _out_of_place(written: Mapping[str, Any]) -> Iterator[Fault]:
    """What a workshop file lacks, and what it may not hold."""
    if "format" not in written:
        yield fault_of("format", "is missing", "add format = 1 as the first line")
    elif written["format"] != keys.FORMAT or isinstance(written["format"], bool):
        yield fault_of(
            "format", "{raw} is not a format known here", "write format = 1", raw=described(written["format"])
        )
    if written.get("units", "mm") not in keys.UNITS:
        yield fault_of("units", "{raw} is not known here", '"mm" or "in" is wanted', raw=described(written["units"]))
    known = ("format", "units", JOBS, TAUGHT, *SECTIONS, *NAMED, WHOLE)
    for name in written:
        if name in known:
            continue
        if name in keys.TOP_LEVEL:
            yield fault_of(name, "belongs to a table, not to the workshop", "move it into the table's profile")
        else:
            yield Fault(name, translated("is not known"), did_you_mean(name, known))
    jobs = written.get(JOBS, [])
    if not isinstance(jobs, list) or not all(isinstance(one, str) for one in jobs):
        yield Fault(JOBS, worded("{raw} stands here", raw=described(jobs)), translated(AS_WRITTEN))
    if not _are_lessons(written.get(TAUGHT, {})):
        yield Fault(TAUGHT, worded("{raw} stands here", raw=described(written[TAUGHT])), translated(AS_WRITTEN))
    shop = written.get("shop")
    if isinstance(shop, str) or (isinstance(shop, dict) and FILE in shop):
        where = "shop" if isinstance(shop, str) else f"shop.{FILE}"
        yield fault_of(
            where, "names another file, and this is the workshop's own", "write all that is the shop's here"
        )
    yield from _unsaid_woods(written.get(WHOLE))


def _are_lessons(told: object) -> bool:
    """Whether it is what jobs write: a list of four for each key of some sections."""
    sections = list(told.values()) if isinstance(told, dict) else [None]
    lessons = [one for section in sections if isinstance(section, dict) for one in section.values()]
    return all(isinstance(section, dict) for section in sections) and all(
        isinstance(one, list) and len(one) == 4 and isinstance(one[1], float) for one in lessons
    )


def _unsaid_woods(stock: object) -> Iterator[Fault]:
    """Boards must say of what wood they are: tables of any wood are laid out on them."""
    for number, one in enumerate(stock if isinstance(stock, list) else (), 1):
        if isinstance(one, dict) and "wood" not in one and one.get("kind", "board") == "board":
            remedy = translated('say it of every board of a workshop, such as wood = "european larch"')
            yield Fault(f"{WHOLE}[{number}].wood", translated("is missing"), remedy)


def _named(source: Source, path: str) -> Workshop:
    """The file that a profile names; one that can't be opened is told where it is named."""
    try:
        return read_workshop(path)
    except ProfileError as refusal:
        (fault, *_) = refusal.faults
        if fault.line or fault.where:
            raise
        remedy = worded("{remedy}, or name another with --shop", remedy=fault.remedy)
        raise _in_profile(source, f"{printable(path)}: {fault.found}", remedy) from None


def _in_profile(source: Source, found: str, remedy: str) -> ProfileError:
    where = f"shop.{FILE}" if line_of(source.text, f"shop.{FILE}") != line_of(source.text, "shop") else "shop"
    return ProfileError(replace(Fault(where, found, remedy), file=source.file, line=line_of(source.text, where)))
