"""The keys by which a maker sets what the checks ask for."""

from templategen.table.profile.choices import Wheelchair
from templategen.table.profile.key import Key, angle, choice, length, number, section, several


def _walls(name: str, stop: float, care: float, doc: str) -> Key:
    """Two lengths: under the first a stop, under the second a caution."""
    why = "it is wood left standing"
    parts = (length("stop", stop, 0, 500, why, "stop"), length("care", care, 0, 500, why, "caution"))
    return several(name, parts, doc)


def _range(name: str, low: float, high: float, most: float, doc: str, least: float = 0) -> Key:
    """The two ends of a range of lengths."""
    why = "it is a size on a table"
    parts = (
        length("from", low, least, most, why, "least"),
        length("to", high, least, most, why, "most"),
    )
    return several(name, parts, doc)


_SHARE = "wood is crushed long before"

LIMITS = section(
    "limits",
    _walls("cheek", 3, 5, "wood beside a groove, slot or mortise"),
    _walls("mortise_floor", 4, 8, "wood under a mortise"),
    _walls("mortise_to_lap", 8, 20, "wood between a leg's mortise and the lap or the rail's end"),
    _walls("hole_side", 10, 20, "wood beside the pole hole in a lapped rail"),
    _walls("lap_left", 5, 10, "wood left where rails lap"),
    _walls("rail_web", 10, 20, "rail left between the grooves of both sides"),
    _walls("tongue_shoulder", 1, 3, "shoulder of a slat's tongue or a leg's tenon on each face"),
    _walls("spline_apart", 10, 40, "wood between the spline slots of one segment"),
    length("ring_edge", 5, 0, 100, "it is wood left standing", "from a groove's bottom to the round-over"),
    length("ring_wall", 40, 0, 500, "it is wood left standing", "caution: wood along a joint of the ring"),
    _walls("slat_width", 15, 30, "a slat where it is widest"),
    _walls("drain_gap", 2, 3, "gap between slats, as built and at the wettest"),
    _range("finger_gap", 7, 12, 200, "gaps in which a finger can be caught: a range, and a caution"),
    number("movement_factor", 1.2, 1, 3, "single boards differ by a fifth", "multiplies all movement of the wood"),
    several(
        "squeeze",
        (
            number("care_squeeze", 2, 0, 20, _SHARE, "caution"),
            number("stop_squeeze", 4, 0, 20, _SHARE, "stop"),
        ),
        "swollen rail or tenon pressed in its joint, % of its width: caution over the first, stop over the second",
    ),
    length("mitre_opening", 1.5, 0, 50, "a joint that opens is no joint", "caution: what a mitre would open if free"),
    length(
        "joint_gap",
        0.15,
        0.01,
        3,
        "a gap that wide is no glued joint",
        "caution: gap in a mitre of the ring that your glue still bridges",
    ),
    length("joint_step", 2, 0.1, 20, "it shows as a step", "caution: step at a mitre of the ring"),
    angle("refit_angle", 1, 0.01, 5, "it is a correction", "how far a re-fitted mitre may differ"),
    length("refit_length", 5, 0.1, 50, "it is a correction", "how far a re-fitted length may differ"),
    _walls("tongue_hold", 3, 5, "tongue left in its groove at the driest"),
    _walls("leg_height", 60, 150, "leg between its shoulders"),
    _range("sitting_height", 710, 865, 2000, "heights of a table to sit at; others are a note"),
    length("knee_height", 620, 0, 1500, "knees are there", "caution: room under the rails of a table to sit at"),
    length("foot_room", 250, 0, 1500, "toes and chairs are there", "caution: rim beyond the feet of such a table"),
    _range("seat_width", 600, 700, 2000, "rim for each sitter, tight and comfortable", 100),
    choice("wheelchair", "none", Wheelchair, "access rule to check by; rules differ"),
    number("tipping_force", 200, 0, 5000, "it is a hand, not a person", "caution: N at the rim that must not tip it"),
    number("lean_load", 300, 0, 5000, "it is a person leaning", "N of somebody who leans on the rim"),
    number("sitting_load", 1100, 0, 5000, "it is a person", "N of somebody who sits down on the rim"),
    several(
        "strength",
        (
            number("care_strength", 100, 1, 500, "it is all of the strength", "caution"),
            number("stop_strength", 200, 1, 500, "it is all of the strength", "stop"),
        ),
        "% of the wood's strength used by leaning, lifting, dragging: caution over the first, stop over the second",
    ),
    number("rim_load", 500, 0, 5000, "it is a load on a table", "N at the rim, for how far it sinks"),
    length("rim_sink", 6, 0, 100, "a table is stiff", "caution: how far the rim may sink under that"),
    number("wind", 10, 0, 60, "storms are no time for parasols", "m/s of wind on a parasol"),
)
