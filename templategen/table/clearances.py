"""Clearances that belong to their joint: glued, sliding or laid in, each drawn for the year unless it is set."""

from dataclasses import dataclass

from templategen.table.profile.model import Profile
from templategen.table.seasons import board_swing, seasons_of

SLIDING = 0.2
"""Play a dry tongue needs to slide by hand, before any swelling, mm."""


@dataclass(frozen=True, slots=True)
class Clearances:
    """What is left between the mates of each kind of joint, mm, measured across the joint, both sides together.

    `glue` is a glued joint's, `slide` a slat's tongue's in its groove, `lap` and `base_lap` a trench's round the rail
    in it, `tenon` a leg mortise's along its rail, `dry_tenon` across it where that stays dry;
    `shoulder` is left at each shoulder of a slat that meets a rail.
    """

    glue: float
    slide: float
    shoulder: float
    lap: float
    base_lap: float
    tenon: float
    dry_tenon: float


def clearances_of(profile: Profile) -> Clearances:
    """As the maker set them; what is left to us takes what the wood grows from built to the wettest of the year.

    A rail grows across its grain in a trench that lies along the grain and stays, half of it on each side; so does a
    leg's tenon in its mortise, and half a rail towards the shoulders of the slats beside it. A tongue whose rings lie
    across those of its groove outgrows it by the difference of the two directions.
    """
    joints, year = profile.joints, seasons_of(profile)
    wet = max(0.0, board_swing(profile).wet)
    most, least = (year.swing(pick(year.figures.radial, year.figures.tangential)).wet for pick in (max, min))
    glue, set_lap = joints.glue_clearance, joints.lap_clearance
    return Clearances(
        glue,
        _set_or(joints.slide_clearance, SLIDING + max(0.0, joints.tongue * (most - least))),
        _set_or(joints.shoulder_clearance, profile.top.rail_width / 2 * wet),
        _set_or(set_lap, max(glue, profile.top.rail_width * wet)),
        _set_or(set_lap, max(glue, profile.base.rail_width * wet)),
        _set_or(joints.tenon_clearance, max(glue, profile.legs.tenon[1] * most)),
        SLIDING + max(0.0, profile.legs.tenon[0] * (most - least)),
    )


def _set_or(size: float | None, reckoned: float) -> float:
    return reckoned if size is None else size
