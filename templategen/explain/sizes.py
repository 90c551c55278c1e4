"""The sizes that follow from the profile: clearances, ring, arms, tongues, heights, legs."""

from templategen.catalogue import translated, worded
from templategen.explain.book import Book
from templategen.explain.contacts import CROSSES
from templategen.explain.given import because
from templategen.explain.year import STRAIGHT, write_moistures, write_wood
from templategen.table.clearances import SLIDING
from templategen.table.glides import INSIDE, glides_at, sole
from templategen.table.profile.model import Profile
from templategen.table.sizes import Sizes

LEFT_TO_US = "the setting is auto: what it grows by the wettest of the year"
SWINGS = {"r": "year.wettest.radial_swing", "t": "year.wettest.tangential_swing"}
"""What wood moves to the wettest of the year, along its growth rings' radius and along the rings."""


def write_sizes(book: Book, profile: Profile) -> None:
    """The table's derived sizes, under the symbols' plain names."""
    write_wood(book, profile)
    write_moistures(book, profile)
    _clearances(book, profile)
    _angles(book)
    _ring(book, profile)
    _arms(book, profile)
    _tongues(book, profile)
    _heights(book, profile)


def _clearances(book: Book, profile: Profile) -> None:
    """What each joint is given: as set, or reckoned from the wood and the year."""
    joints = profile.joints
    for name in ("radial", "tangential"):
        _swing(book, name)
    if joints.slide_clearance is None:
        _sliding_play(book)
        says = "play of a slat's tongue in its groove, over its thickness"
        formula = "play + tt * (max(r, t) - min(r, t))"
        book.add("joints.slide_clearance", says, "mm", formula, LEFT_TO_US, play="joints.sliding_play", **SWINGS)
    if joints.shoulder_clearance is None:
        says = "play at each shoulder of a slat that meets a rail"
        book.add("joints.shoulder_clearance", says, "mm", "w / 2 * max(0, wet)", LEFT_TO_US, w="top.rail_width")
    for cross in ("top", "base"):
        says = worded("play of a rail in a lap of the {cross}, over its width", cross=translated(CROSSES[cross]))
        if joints.lap_clearance is None:
            formula, width = "max(cg, w * max(0, wet))", f"{cross}.rail_width"
            book.add(f"{cross}.lap_clearance", says, "mm", formula, LEFT_TO_US, w=width)
        else:
            book.add(f"{cross}.lap_clearance", says, "mm", "c", c="joints.lap_clearance")
    if joints.tenon_clearance is None:
        says, formula = "play of a leg's tenon in its mortise, along the rail", "max(cg, w * max(r, t))"
        book.add("joints.tenon_clearance", says, "mm", formula, LEFT_TO_US, w="legs.tenon.width", **SWINGS)
    if profile.legs.top_joint != "glued":
        _sliding_play(book)
        says, formula = "play of a leg's dry tenon across the top's rail", "play + t0 * (max(r, t) - min(r, t))"
        terms = {"play": "joints.sliding_play", "t0": "legs.tenon.thickness", **SWINGS}
        book.add("legs.dry_tenon_clearance", says, "mm", formula, **terms)
        upper = "legs.stub" if profile.legs.top_joint == "bolted" else "legs.tenon.length"
        book.add("legs.top_tenon", "length of the legs' dry upper tenons", "mm", "l", l=upper)


def _swing(book: Book, direction: str) -> None:
    """What wood does from built to the wettest in one direction of its rings."""
    then, now = (f"(1 - S / 100 * (F - min({when}, F)) / F)" for when in ("then", "now"))
    says = worded("{direction} change from built to the wettest, as a share", direction=translated(direction))
    terms = {"S": f"wood.{direction}", "now": "year.built", "then": "year.wettest"}
    name = f"year.wettest.{direction}_swing"
    book.add(name, says, "", f"factor * ({then} / {now} - 1)", STRAIGHT, **terms)


def _sliding_play(book: Book) -> None:
    if "joints.sliding_play" not in book:
        says = "play a dry tongue needs to slide by hand"
        book.given("joints.sliding_play", says, SLIDING, "mm", "trade practice")


def _angles(book: Book) -> None:
    book.add("top.arms", "half rails that leave the centre", "", "2 * k")
    book.add("top.segments_per_field", "rim segments for each field", "", "N / arms")
    book.add("top.field_angle", "angle between neighbouring arms", "deg", "180 / k")
    book.add("top.mitre", "mitre of the rim's segments, off square", "deg", "180 / N")
    book.add("top.segment_angle", "what one segment turns", "deg", "2 * mitre")


def _ring(book: Book, profile: Profile) -> None:
    sawn, edge = profile.top.edge == "sawn", because(profile, "top.edge")
    book.add("top.radius", "finished radius of the top", "mm", "D / 2")
    if sawn:
        says, allowance = "centre to the outer edge of the blanks", "top.saw_allowance"
        book.add("top.outer_apothem", says, "mm", "R + s", edge, s=allowance)
    else:
        book.add("top.outer_apothem", "centre to the flat outer edge", "mm", "R", edge)
    book.add("top.inner_apothem", "centre to the inner edge of the segments", "mm", "A - W")
    book.add("top.inner_length", "a segment's inner edge", "mm", "2 * a * tan(mitre)")
    book.add("top.outer_length", "outer edge of a segment's blank", "mm", "2 * A * tan(mitre)")
    book.add("top.joint_face", "length of the mitre before sawing", "mm", "W / cos(mitre)")
    book.add("top.inner_corner", "centre to the inner end of a joint", "mm", "a / cos(mitre)")
    if sawn:
        book.add("top.wall_at_joint", "wood along the joint in the finished ring", "mm", "R - corner", edge)
    else:
        book.add("top.wall_at_joint", "wood along the joint", "mm", "face", edge)
    book.add("top.wall_at_middle", "wood across the middle of a segment", "mm", "R - a")
    if sawn:
        says, formula = "area of a finished segment, seen from above", "R**2 * pi / N - a**2 * tan(mitre)"
    else:
        says, formula = "area of a segment", "(A**2 - a**2) * tan(mitre)"
    book.add("top.segment_area", says, "mm2", formula, edge)
    says = "waste at the corner of a segment's blank, along the joint"
    book.add("top.corner_waste", says, "mm", "A / cos(mitre) - R")


def _arms(book: Book, profile: Profile) -> None:
    book.add("top.half_rail", "half the width of the top's rails", "mm", "w / 2", w="top.rail_width")
    book.add("top.apex", "centre to the corner where two arm edges meet", "mm", "b / sin(th / 2)")
    book.add("top.apex_along_arm", "the same corner, along the arm", "mm", "b / tan(th / 2)")
    even = profile.top.segments // (2 * profile.top.rails) % 2 == 0
    says = "centre to the field's far end on its bisector, where a joint lies"
    if even:
        says = "centre to the field's far end on its bisector, where a flat lies"
    end = "top.inner_apothem" if even else "top.inner_corner"
    source = "segments_per_field even" if even else "segments_per_field odd"
    book.add("top.field_end", says, "mm", "end", source, end=end)
    book.add("top.rail_between_shoulders", "a rail between its shoulders", "mm", "2 * a")


def _tongues(book: Book, profile: Profile) -> None:
    book.add("joints.tongue_length", "how far tongues and rail tenons stand out", "mm", "dg - ce")
    book.add("joints.tongue_thickness", "a rail's tenon as cut", "mm", "tt - cg")
    book.add("joints.slat_tongue_thickness", "a slat's tongue as cut", "mm", "tt - cs", cs="joints.slide_clearance")
    face, says = because(profile, "slats.face"), "height of the slats' middle above the rails' underside"
    if profile.slats.face == "centred":
        book.add("slats.level", says, "mm", "T / 2", face)
    else:
        book.add("slats.level", says, "mm", "T - t / 2", face, t="slats.thickness")
    book.add("joints.groove_bottom", "height of the groove's lower cheek", "mm", "level - tt / 2")
    book.add("joints.groove_top", "height of the groove's upper cheek", "mm", "level + tt / 2")
    book.add("top.arm_edge", "an arm's edge from its middle, towards the arm", "mm", "-b")
    book.add("top.arm_line", "the shoulders beside an arm, from its middle", "mm", "-b - cs")
    says = "the ends of tongues in an arm, from its middle, towards the arm"
    book.add("top.arm_tongue_line", says, "mm", "lt - b - cs")
    book.add("top.rim_tongue_line", "centre to the ends of tongues in the rim", "mm", "a + lt")


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
    book.add("top.underside", "floor to the underside of the top's rails", "mm", "H - T")
    feet, says = because(profile, "base.feet"), "how far pads lift the base rails"
    pads = profile.base.feet == "pads"
    if profile.base.glides != "none":
        _glided(book, profile, pads)
    elif pads:
        book.add("base.foot_height", says, "mm", "f", feet, f="base.foot_thickness")
    else:
        book.given("base.foot_height", says, 0.0, "mm", worded("{feet}: the rail itself is relieved", feet=feet))
    thick = {"foot": "base.foot_height", "t": "base.thickness"}
    book.add("base.top", "floor to the upper side of the base rails", "mm", "foot + t", **thick)
    between = {"under": "top.underside", "base": "base.top"}
    book.add("legs.height", "leg between its shoulders, upright", "mm", "under - base", **between)
    away = {"r1": "legs.centre_distance", "r0": "legs.base_centre_distance"}
    book.add("legs.rake", "lean of the legs, outwards going up", "deg", "atan((r1 - r0) / h)", **away)
    book.add("legs.axis_length", "leg along its axis between its shoulders", "mm", "h / cos(rake)")
