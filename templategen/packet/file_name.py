"""File names from the maker's words."""

import re
import unicodedata
from collections.abc import Iterable

LONGEST = 48
"""Characters kept of a name."""


def file_name(words: str) -> str:
    """Letters, digits and hyphens only, safe on every system; "stock" where nothing is left."""
    plain = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode()
    return re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-")[:LONGEST].strip("-").lower() or "stock"


def file_names(names: Iterable[str]) -> dict[str, str]:
    """A file name for each of several names, different ones for different names."""
    taken: dict[str, str] = {}
    for name in names:
        if name in taken:
            continue
        base = stem = file_name(name)
        number = 2
        while stem in taken.values():
            stem = f"{base}-{number}"
            number += 1
        taken[name] = stem
    return taken
