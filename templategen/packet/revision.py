"""The revision of a profile: a short name for the state of all that is drawn."""

from templategen.parts.revision import REVISION
from templategen.table.profile.model import Profile


def revision(profile: Profile) -> str:
    """A short name for this state of the profile, from its hash."""
    return profile.sha256[:REVISION]
