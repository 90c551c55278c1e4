"""The glue as findings: whether it is fit for the weather, warm enough, and how long it stays open."""

from collections.abc import Iterator

from templategen.checks.finding import Finding, Level
from templategen.checks.levels import at_least, noted
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
    fit = tuple(name for name, other in GLUES.items() if other.fit in ("outdoors", "coated"))
    if glue.fit in DEMANDS:
        fields = {"glue": glue.says, "water": glue.water, "fit": fit}
        yield Finding("glue-unfit", DEMANDS[glue.fit], "shop.glue", rank, (None, 1.0), fields)
    elif glue.fit == "coated":
        yield noted("glue-under-finish", "shop.glue", rank, (None, 1.0), glue=glue.says, water=glue.water)
    if warmth < glue.coldest:
        limits = None, glue.coldest
        yield at_least("glue-cold", "shop.glue_temperature", warmth, limits, glue=glue.says)
