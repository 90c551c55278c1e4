"""The keys that describe the table itself: top, slats, joints, legs, base."""

from templategen.table.profile.choices import (
    Apex,
    Corner,
    Edge,
    EdgeShape,
    Feet,
    Glides,
    Hold,
    Parasol,
    Run,
    SlatFace,
    Spline,
    TopJoint,
)
from templategen.table.profile.key import choice, clearance, count, length, section, several

TOP = section(
    "top",
    length(
        "diameter", 1340, 400, 4000, "less is a stool and more can't be reached across", "across the finished rim"
    ),
    length("height", 735, 200, 1300, "that spans low tables and standing ones", "from the floor to the top face"),
    count(
        "rails", 3, 2, 3, "the crossing is a half lap or a three-way lap", "rails that cross under the rim: 2 or 3"
    ),
    count(
        "segments",
        12,
        6,
        24,
        "fewer leave short grain and more can't be closed",
        "rim segments, a multiple of 2 * rails",
    ),
    choice("edge", "sawn", Edge, "rim sawn round, or left with straight facets"),
    length(
        "thickness", 38, 12, 150, "a groove needs two cheeks and a bench saw has a limit", "of the rim and the rails"
    ),
    length("rail_width", 84, 20, 400, "a rail carries grooves on both sides", "of each rail"),
    length(
        "rim_width",
        126,
        30,
        500,
        "a rim carries a groove and its mitres",
        "of the rim's blanks, square to their long edges",
    ),
    length(
        "saw_allowance",
        5,
        0,
        50,
        "the ring is sawn round after glue-up",
        "left outside the finished circle until then",
    ),
    length("edge_round", 8, 0, 50, "it is a router bit's radius", "round-over radius, top and bottom"),
    several(
        "drip_groove",
        (
            length("from_edge", 14, 3, 100, "it lies under the rim", "from the rim's edge"),
            length("width", 6, 2, 20, "a drop bridges less", "of the groove"),
            length("depth", 0, 0, 20, "it weakens the rim", "of the groove"),
        ),
        "groove under the rim from which water drops: from the edge, width, depth (5 will do), 0 deep for none",
    ),
    length("pole_hole", 36, 0, 150, "poles are thinner", "parasol hole through the crossing, 0 for none"),
    choice("parasol", "own base", Parasol, "what holds a parasol: a base of its own, or the table"),
)

SLATS = section(
    "slats",
    choice("run", "across", Run, "how slats lie in a field between two rails"),
    length("width", 58, 10, 300, "narrower snaps and wider cups", "of each slat"),
    length("gap", 6, 3, 40, "rain must drain and a glass must stand", "between slats"),
    choice("hold", "gap", Hold, "which of the two stays as written; the other is solved"),
    choice("apex", "open", Apex, "the innermost corner of each field"),
    length("thickness", 22, 6, 100, "a slat carries a tongue at each end", "of each slat"),
    choice("face", "flush", SlatFace, "slats flush with the top, or in the middle of the rim"),
    length("chamfer", 2, 0, 15, "it only takes off the arris", "along the upper edges"),
)

JOINTS = section(
    "joints",
    length("tongue", 12, 2, 60, "thinner breaks off", "thickness of tongues and rail tenons"),
    length("groove_depth", 14, 3, 80, "a tongue needs hold", "depth of the grooves"),
    length(
        "end_clearance", 1, 0, 10, "more leaves the tongue no hold", "between a tongue's end and the groove's floor"
    ),
    length("glue_clearance", 0.1, 0, 1, "glue does not bridge more", "of a glued joint, over its thickness"),
    clearance("slide_clearance", 2, "slats rattle", "of a slat's dry tongue in its groove, over its thickness"),
    clearance("shoulder_clearance", 4, "the gap shows", "at each shoulder of a slat that meets a rail"),
    clearance("lap_clearance", 6, "the lap rocks", "of a rail in its lap, over its width"),
    clearance("tenon_clearance", 4, "the leg rocks", "of a leg's tenon in its mortise, along the rail"),
    choice("spline", "through", Spline, "loose tongue in each mitre of the rim"),
    length("spline_thickness", 10, 2, 50, "thinner breaks", "of each spline"),
    length("spline_depth", 24, 4, 120, "a spline needs hold", "into each segment"),
)

LEGS = section(
    "legs",
    length("section", 70, 20, 300, "thinner can't take a mortise", "of each square leg"),
    length(
        "centre_distance", 190, 20, 1800, "legs stand round the table's axis", "from the axis to the leg, at the top"
    ),
    length(
        "base_centre_distance", 190, 20, 1800, "legs stand round the table's axis", "the same at the ground cross"
    ),
    several(
        "tenon",
        (
            length("thickness", 38, 4, 200, "thinner breaks", "tenon thickness"),
            length("width", 46, 6, 280, "narrower breaks", "tenon width"),
            length("length", 24, 4, 250, "shorter has no hold", "tenon length"),
        ),
        "thickness, width, length of each leg's tenons",
    ),
    choice("corner", "rounded", Corner, "the four long edges of a leg"),
    length("corner_size", 6, 0, 80, "it is taken off each corner", "radius or chamfer of those edges"),
    choice(
        "top_joint",
        "glued",
        TopJoint,
        "how the top is held on its legs; bolted or draw-bored, it comes off again for a door or for winter",
    ),
    length("stub", 10, 4, 100, "a shorter one places no leg", "length of the dry tenons under a bolted top"),
    several(
        "bolt",
        (
            length("thread", 10, 5, 16, "bolts for furniture are M5 to M16", "thickness of the thread"),
            length("head", 30, 8, 60, "it is wider than the thread", "width of the head, or of its washer"),
            length("head_height", 8.5, 1, 15, "it is let into the rail", "height of the head with its washer"),
        ),
        "thread, width and height of the head of the bolt in each bolted leg",
    ),
    several(
        "barrel_nut",
        (
            length("diameter", 16, 6, 30, "the thread runs across it", "of the nut"),
            length("length", 24, 8, 150, "it lies inside the leg", "of the nut"),
        ),
        "diameter and length of its barrel nut (cross dowel)",
    ),
    several(
        "peg",
        (
            length("thickness", 8, 4, 25, "a thinner peg breaks", "of the peg and its holes"),
            length("draw", 1.2, 0.3, 4, "less closes nothing, more breaks the peg", "draw"),
            length("rise", 10, 4, 100, "wood must stay under it", "of its middle over the underside"),
        ),
        "thickness of the peg in each draw-bored leg, its draw, and its middle over the rails' underside",
    ),
)

BASE = section(
    "base",
    length("length", 820, 150, 3500, "it must stand and fit under the top", "of each rail of the ground cross"),
    length("rail_width", 84, 20, 400, "it takes the legs' tenons", "of each of them"),
    length("thickness", 58, 12, 250, "it is lapped at the crossing", "of each of them"),
    choice("feet", "pads", Feet, "pads under the ends, or the underside cut away between them"),
    length("foot_thickness", 12, 2, 100, "it keeps the cross off wet ground", "of a pad, or depth of the relief"),
    length("foot_length", 110, 15, 800, "it must bear the table", "of each foot along its rail"),
    length("end_round", 20, 0, 300, "it is taken off each end", "corner radius at the rails' ends, seen from above"),
    length(
        "drain_hole",
        10,
        0,
        40,
        "a wider one weakens the mortise's floor",
        "hole that lets water out of each leg's mortise, 0 for none",
    ),
    choice("glides", "none", Glides, "glides of plastic or stainless steel that keep the feet off a wet floor"),
    count("glides_each", 1, 1, 2, "a foot has an outer end and an inner one", "glides under each foot"),
    several(
        "glide",
        (
            length("diameter", 30, 10, 120, "it must bear the table and lie under its foot", "of a glide"),
            length("thickness", 5, 1, 40, "it keeps the wood off the floor", "by which it lifts the table"),
            length("length", 20, 8, 80, "it holds in end grain and side grain", "of its screw or nail"),
        ),
        "diameter and thickness of a glide, and how deep its screw or nail goes",
    ),
)

EDGES = section(
    "edges",
    choice("shape", "chamfered", EdgeShape, "how these arrises are eased"),
    length("rim", 2, 0, 15, "it only takes off the arris", "off the rim's inner edges, above and below"),
    length(
        "rail",
        2,
        0,
        15,
        "it only takes off the arris",
        "off the rails' long edges, above and below, short of the crossing",
    ),
    length("slat", 1, 0, 15, "it only takes off the arris", "off the slats' lower long edges"),
    length("base", 3, 0, 30, "it only takes off the arris", "off all edges of the ground cross and its pads"),
)
