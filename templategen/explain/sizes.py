"""The sizes that follow from the profile: ring, arms, heights, tongues, legs."""

from templategen.explain.book import Book
from templategen.explain.clearances import write_clearances
from templategen.explain.given import because
from templategen.table.glides import INSIDE, glides_at, sole
from templategen.table.profile.model import Profile
from templategen.table.sizes import Sizes


def write_sizes(book: Book, profile: Profile) -> None:
    """The table's derived sizes, under the symbols' plain names."""
    write_clearances(book, profile)
    _angles(book)
    _ring(book, profile)
    _arms(book, profile)
    _tongues(book, profile)
    _heights(book, profile)


def _angles(book: Book) -> None:
    book.add("top.arms", "half rails that leave the centre", "", "2 * k", k="top.rails")
    book.add(
        "top.segments_per_field", "rim segments for each field", "", "N / arms", N="top.segments", arms="top.arms"
    )
    book.add("top.field_angle", "angle between neighbouring arms", "deg", "180 / k", k="top.rails")
    book.add("top.mitre", "mitre of the rim's segments, off square", "deg", "180 / N", N="top.segments")
    book.add("top.segment_angle", "what one segment turns", "deg", "2 * mitre", mitre="top.mitre")


def _ring(book: Book, profile: Profile) -> None:
    sawn = profile.top.edge == "sawn"
    edge = because(profile, "top.edge")
    book.add("top.radius", "finished radius of the top", "mm", "D / 2", D="top.diameter")
    if sawn:
        terms = {"R": "top.radius", "s": "top.saw_allowance"}
        book.add("top.outer_apothem", "centre to the outer edge of the blanks", "mm", "R + s", edge, **terms)
    else:
        book.add("top.outer_apothem", "centre to the flat outer edge", "mm", "R", edge, R="top.radius")
    says = "centre to the inner edge of the segments"
    book.add("top.inner_apothem", says, "mm", "A - W", A="top.outer_apothem", W="top.rim_width")
    a, mitre = {"a": "top.inner_apothem"}, {"mitre": "top.mitre"}
    outer, width = {"A": "top.outer_apothem"}, {"W": "top.rim_width"}
    book.add("top.inner_length", "a segment's inner edge", "mm", "2 * a * tan(mitre)", **a, **mitre)
    book.add("top.outer_length", "outer edge of a segment's blank", "mm", "2 * A * tan(mitre)", **outer, **mitre)
    book.add("top.joint_face", "length of the mitre before sawing", "mm", "W / cos(mitre)", **width, **mitre)
    book.add("top.inner_corner", "centre to the inner end of a joint", "mm", "a / cos(mitre)", **a, **mitre)
    corner = {"corner": "top.inner_corner", "R": "top.radius"}
    if sawn:
        book.add("top.wall_at_joint", "wood along the joint in the finished ring", "mm", "R - corner", edge, **corner)
    else:
        book.add("top.wall_at_joint", "wood along the joint", "mm", "face", edge, face="top.joint_face")
    book.add("top.wall_at_middle", "wood across the middle of a segment", "mm", "R - a", R="top.radius", **a)
    _ring_areas(book, sawn, edge)


def _ring_areas(book: Book, sawn: bool, edge: str) -> None:
    terms = {"R": "top.radius", "a": "top.inner_apothem", "N": "top.segments", "mitre": "top.mitre"}
    outer = {"A": "top.outer_apothem", "mitre": "top.mitre"}
    if sawn:
        formula = "R**2 * pi / N - a**2 * tan(mitre)"
        book.add("top.segment_area", "area of a finished segment, seen from above", "mm2", formula, edge, **terms)
    else:
        formula = "(A**2 - a**2) * tan(mitre)"
        book.add("top.segment_area", "area of a segment", "mm2", formula, edge, a="top.inner_apothem", **outer)
    says = "waste at the corner of a segment's blank, along the joint"
    book.add("top.corner_waste", says, "mm", "A / cos(mitre) - R", R="top.radius", **outer)


def _arms(book: Book, profile: Profile) -> None:
    half = {"b": "top.half_rail", "th": "top.field_angle"}
    book.add("top.half_rail", "half the width of the top's rails", "mm", "w / 2", w="top.rail_width")
    book.add("top.apex", "centre to the corner where two arm edges meet", "mm", "b / sin(th / 2)", **half)
    book.add("top.apex_along_arm", "the same corner, along the arm", "mm", "b / tan(th / 2)", **half)
    even = profile.top.segments // (2 * profile.top.rails) % 2 == 0
    says = "centre to the field's far end on its bisector, where " + ("a flat lies" if even else "a joint lies")
    end = "top.inner_apothem" if even else "top.inner_corner"
    book.add("top.field_end", says, "mm", "end", "segments_per_field " + ("even" if even else "odd"), end=end)
    book.add("top.rail_between_shoulders", "a rail between its shoulders", "mm", "2 * a", a="top.inner_apothem")


def _tongues(book: Book, profile: Profile) -> None:
    depth = {"dg": "joints.groove_depth", "ce": "joints.end_clearance"}
    book.add("joints.tongue_length", "how far tongues and rail tenons stand out", "mm", "dg - ce", **depth)
    thick = {"tt": "joints.tongue", "cg": "joints.glue_clearance"}
    book.add("joints.tongue_thickness", "a rail's tenon as cut", "mm", "tt - cg", **thick)
    thick = {"tt": "joints.tongue", "cs": "joints.slide_clearance"}
    book.add("joints.slat_tongue_thickness", "a slat's tongue as cut", "mm", "tt - cs", **thick)
    terms = {"T": "top.thickness", "t": "slats.thickness"}
    face, says = because(profile, "slats.face"), "height of the slats' middle above the rails' underside"
    if profile.slats.face == "centred":
        book.add("slats.level", says, "mm", "T / 2", face, T="top.thickness")
    else:
        book.add("slats.level", says, "mm", "T - t / 2", face, **terms)
    groove = {"level": "slats.level", "tt": "joints.tongue"}
    book.add("joints.groove_bottom", "height of the groove's lower cheek", "mm", "level - tt / 2", **groove)
    book.add("joints.groove_top", "height of the groove's upper cheek", "mm", "level + tt / 2", **groove)
    pushed = {"lt": "joints.tongue_length"}
    book.add("top.arm_edge", "an arm's edge from its middle, towards the arm", "mm", "-b", b="top.half_rail")
    shoulders = {"b": "top.half_rail", "cs": "joints.shoulder_clearance"}
    book.add("top.arm_line", "the shoulders beside an arm, from its middle", "mm", "-b - cs", **shoulders)
    says = "the ends of tongues in an arm, from its middle, towards the arm"
    book.add("top.arm_tongue_line", says, "mm", "lt - b - cs", **shoulders, **pushed)
    says = "centre to the ends of tongues in the rim"
    book.add("top.rim_tongue_line", says, "mm", "a + lt", a="top.inner_apothem", **pushed)


def _glided(book: Book, profile: Profile, pads: bool) -> None:
    """How far glides, and pads where there are any, lift the base rails; where the outermost glides stand."""
    why = f"{because(profile, 'base.glides')}, {because(profile, 'base.feet')}"
    terms = {"g": "base.glide.thickness"} | ({"f": "base.foot_thickness"} if pads else {})
    book.add("base.foot_height", "how far the feet lift the base rails", "mm", " + ".join(terms), why, **terms)
    says, at, size = "axis to the middle of the outermost glides", glides_at(Sizes(profile))[0], profile.base.glide[0]
    terms, formula = (
        {"L": "base.length", "e": "edges.base", "d": "base.glide.diameter"},
        f"L / 2 - e - {INSIDE:g} - d / 2",
    )
    if at < sole(Sizes(profile))[1] - size / 2:
        terms, formula = terms | {"F": "base.foot_length"}, f"L / 2 - F + e + {INSIDE:g} + d / 2"
    book.add("base.glide_distance", says, "mm", formula, **terms)


def _heights(book: Book, profile: Profile) -> None:
    top = {"H": "top.height", "T": "top.thickness"}
    book.add("top.underside", "floor to the underside of the top's rails", "mm", "H - T", **top)
    feet = because(profile, "base.feet")
    pads = profile.base.feet == "pads"
    says = "how far pads lift the base rails"
    if profile.base.glides != "none":
        _glided(book, profile, pads)
    elif pads:
        book.add("base.foot_height", says, "mm", "f", feet, f="base.foot_thickness")
    else:
        book.given("base.foot_height", says, 0.0, "mm", f"{feet}: the rail itself is relieved")
    thick = {"foot": "base.foot_height", "t": "base.thickness"}
    book.add("base.top", "floor to the upper side of the base rails", "mm", "foot + t", **thick)
    between = {"under": "top.underside", "base": "base.top"}
    book.add("legs.height", "leg between its shoulders, upright", "mm", "under - base", **between)
    lean = {"r1": "legs.centre_distance", "r0": "legs.base_centre_distance", "h": "legs.height"}
    book.add("legs.rake", "lean of the legs, outwards going up", "deg", "atan((r1 - r0) / h)", **lean)
    book.add("legs.axis_length", "leg along its axis between its shoulders", "mm", "h / cos(rake)",
             h="legs.height", rake="legs.rake")  # fmt: skip
