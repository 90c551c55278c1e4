"""What the checks ask of a table, as the maker may set it."""

from dataclasses import dataclass

from templategen.table.profile.choices import Wheelchair

Pair = tuple[float, float]
"""Two limits: beyond the first is a stop, between them a caution; for a range its ends."""


@dataclass(frozen=True, slots=True)
class Limits:
    """Screening figures, mm unless said: pairs are (stop, caution) or the ends of a range.

    `movement_factor` multiplies all movement; `squeeze` is in % of a part's width, `strength` in % of the wood's;
    forces and loads in N; `wind` in m/s; `refit_angle` in radians; `wheelchair` names the rule to check by, or is
    "none".
    """

    cheek: Pair
    mortise_floor: Pair
    mortise_to_lap: Pair
    hole_side: Pair
    lap_left: Pair
    rail_web: Pair
    tongue_shoulder: Pair
    spline_apart: Pair
    ring_edge: float
    ring_wall: float
    slat_width: Pair
    drain_gap: Pair
    finger_gap: Pair
    movement_factor: float
    squeeze: Pair
    mitre_opening: float
    joint_gap: float
    joint_step: float
    refit_angle: float
    refit_length: float
    tongue_hold: Pair
    leg_height: Pair
    sitting_height: Pair
    knee_height: float
    foot_room: float
    seat_width: Pair
    wheelchair: Wheelchair
    tipping_force: float
    lean_load: float
    sitting_load: float
    strength: Pair
    rim_load: float
    rim_sink: float
    wind: float
