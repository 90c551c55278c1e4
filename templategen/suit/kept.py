"""A profile's text with other values in it; comments, order and all other arithmetic stay as the maker wrote them."""

import os
from collections.abc import Mapping

from templategen.errors import ProfileError
from templategen.suit.variant import Value
from templategen.table.profile.change import changed, profile_text
from templategen.table.profile.kept import edited
from templategen.table.profile.model import Profile
from templategen.table.profile.read_workshop import NONE
from templategen.table.profile.workshop import FILE, own_part


def text_with(profile: Profile, changes: Mapping[str, Value], folder: str = "") -> str:
    """The maker's own text where that can carry the changes, read back to be sure; else the profile written anew.
    A workshop file that it names is named so that it is found from `folder`.

    Raises:
        ProfileError: values that don't go together.
    """
    wanted = changed(profile, changes)
    try:
        text = edited(profile.text, changes)
    except ProfileError:
        text = profile_text(wanted)
    return edited(text, _found_from(profile, folder))


def _found_from(profile: Profile, folder: str) -> Mapping[str, Value]:
    """The key that names the workshop file, where it has to be named otherwise."""
    _, named = own_part(profile.written)
    if not folder or not isinstance(named, str) or named == NONE or os.path.isabs(named):
        return {}
    there = os.path.relpath(os.path.join(os.path.dirname(profile.file), named), folder)
    return {"shop" if isinstance(profile.written["shop"], str) else f"shop.{FILE}": there}
