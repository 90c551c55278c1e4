"""The revision: a short name for the state of a profile."""

from __future__ import annotations

from templategen.table.profile.model import Profile

REVISION = 8
"""Characters of the profile's hash that name a revision."""


def revision(profile: Profile) -> str:
    """A short name for this state of the profile, from its hash."""
    return profile.sha256[:REVISION]
