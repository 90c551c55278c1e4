"""A profile's text with other values in it; comments, order and all other arithmetic stay as the maker wrote them."""

from __future__ import annotations

import re
from collections.abc import Mapping

from templategen.errors import ProfileError
from templategen.suit.variant import Value
from templategen.table.profile.change import changed, profile_text
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text

ENTRY = r"^(\s*{name}\s*=\s*)(\"[^\"]*\"|'[^']*'|[^#\r\n]*?)([ \t]*(?:#.*)?)$"
"""A key with a value on one line, and the remark behind it."""


def text_with(profile: Profile, changes: Mapping[str, Value]) -> str:
    """The maker's own text where that can carry the changes, read back to be sure; else the profile written anew.

    Raises:
        ProfileError: values that don't go together.
    """
    wanted = changed(profile, changes)
    text = profile.text.removeprefix("\ufeff")
    for path, value in changes.items():
        section, _, name = path.rpartition(".")
        text = _set(text, section, name, _toml(value))
    try:
        read = profile_from_text(text, profile.name, workshop=profile.workshop)
    except ProfileError:
        return profile_text(wanted)
    return text if read.written == wanted.written else profile_text(wanted)


def _toml(value: Value) -> str:
    return f'"{value}"' if isinstance(value, str) else str(value)


def _set(text: str, section: str, name: str, value: str) -> str:
    """The text with one key of a section set; a section that isn't there is added at the end."""
    lines = text.split("\n")
    start = next((n for n, line in enumerate(lines) if re.match(rf"\s*\[\s*{section}\s*\]", line)), None)
    if start is None:
        return text.rstrip("\n") + f"\n\n[{section}]\n{name} = {value}\n"
    end = next((n for n in range(start + 1, len(lines)) if re.match(r"\s*\[", lines[n])), len(lines))
    for number in range(start + 1, end):
        found = re.match(ENTRY.format(name=re.escape(name)), lines[number].rstrip("\r"))
        if found:
            lines[number] = f"{found[1]}{value}{found[3]}"
            return "\n".join(lines)
    return "\n".join([*lines[: start + 1], f"{name} = {value}", *lines[start + 1 :]])
