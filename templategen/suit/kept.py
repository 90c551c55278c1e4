"""A profile's text with other values in it; comments, order and all other arithmetic stay as the maker wrote them."""

from __future__ import annotations

from collections.abc import Mapping

from templategen.errors import ProfileError
from templategen.suit.variant import Value
from templategen.table.profile.change import changed, profile_text
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text


def text_with(profile: Profile, changes: Mapping[str, Value]) -> str:
    """The maker's own text where that can carry the changes, read back to be sure; else the profile written anew.

    Raises:
        ProfileError: values that don't go together.
    """
    wanted = changed(profile, changes)
    try:
        text = _edited(profile.text.removeprefix("\ufeff"), changes)
        read = profile_from_text(text, profile.name, workshop=profile.workshop)
    except (ProfileError, TypeError):
        return profile_text(wanted)
    return text if read.written == wanted.written else profile_text(wanted)


def _edited(text: str, changes: Mapping[str, Value]) -> str:
    """The text with some keys set; TypeError where a section is no table."""
    import tomlkit

    document = tomlkit.parse(text)
    for path, value in changes.items():
        section, _, name = path.rpartition(".")
        home = document.setdefault(section, tomlkit.table()) if section else document
        home[name] = value
    return tomlkit.dumps(document)
