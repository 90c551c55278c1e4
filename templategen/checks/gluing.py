"""The glue as findings: whether it is fit for the weather, warm enough, and how long it stays open."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.checks.finding import Finding, Level
from templategen.checks.levels import noted
from templategen.table.profile.model import Profile
from templategen.wood.glue import FITNESS, GLUES, Glue

DEMANDS: dict[str, Level] = {"indoors": "stop", "sheltered": "caution"}
"""How grave it is for an outdoor table when its glue is fit for no more."""


def glue_of(profile: Profile) -> Glue:
    """The class of glue that the profile names."""
    return GLUES[profile.shop.glue]


def open_time(profile: Profile) -> float:
    """Minutes that the glue stays open: as the maker read on the tin, else the least of its class, by the warmth of
    the workshop."""
    return profile.shop.open_time or glue_of(profile).open_at(profile.shop.glue_temperature)


def glue_findings(profile: Profile) -> Iterator[Finding]:
    """What the glue is fit for, and whether it may be used this cold."""
    glue, warmth = glue_of(profile), profile.shop.glue_temperature
    rank = float(FITNESS.index(glue.fit))
    fit = ", ".join(name for name, other in GLUES.items() if other.fit in ("outdoors", "coated"))
    if glue.fit in DEMANDS:
        says = f"the glue, {glue.says}, isn't fit for outdoors ({glue.water})"
        why = f"rain and sun open its joints, and a table that comes apart drops what stands on it; {fit} are fit"
        yield Finding(DEMANDS[glue.fit], "shop.glue", says, rank, (None, 1.0), "", why)
    elif glue.fit == "coated":
        why = f"{glue.water}; bare wood left in the weather is beyond its class, so keep the finish up"
        yield noted("shop.glue", f"glue fit for outdoors under a finish: {glue.says}", rank, (None, 1.0), "", why)
    if warmth < glue.coldest:
        says = f"wood at gluing is colder than {glue.says} takes"
        why = "cold glue chalks and holds little; warm the wood itself, not just the air, or use another glue"
        yield Finding("caution", "shop.glue_temperature", says, warmth, (glue.coldest, None), "C", why)
