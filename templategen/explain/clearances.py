"""The clearances of each kind of joint: as set, or reckoned from the wood and the year."""

from templategen.explain.book import Book
from templategen.explain.year import STRAIGHT, write_moistures, write_wood
from templategen.table.clearances import SLIDING
from templategen.table.profile.model import Profile

LEFT_TO_US = "the setting is auto: what it grows by the wettest of the year"

SLIDING_SAYS = "play a dry tongue needs to slide by hand"


def write_clearances(book: Book, profile: Profile) -> None:
    """The wood, the year, and what each joint is given for it."""
    write_wood(book, profile)
    write_moistures(book, profile)
    for name in ("radial", "tangential"):
        _swing(book, name)
    joints, wet, glue = profile.joints, {"wet": "year.wettest.swing"}, {"cg": "joints.glue_clearance"}
    if joints.slide_clearance is None:
        book.given("joints.sliding_play", SLIDING_SAYS, SLIDING, "mm", "trade practice")
        swings = {"r": "year.wettest.radial_swing", "t": "year.wettest.tangential_swing"}
        says = "play of a slat's tongue in its groove, over its thickness"
        terms = {"play": "joints.sliding_play", "tt": "joints.tongue", **swings}
        formula = "play + tt * (max(r, t) - min(r, t))"
        book.add("joints.slide_clearance", says, "mm", formula, LEFT_TO_US, **terms)
    if joints.shoulder_clearance is None:
        says = "play at each shoulder of a slat that meets a rail"
        terms = {"w": "top.rail_width", **wet}
        book.add("joints.shoulder_clearance", says, "mm", "w / 2 * max(0, wet)", LEFT_TO_US, **terms)
    for cross in ("top", "base"):
        says = f"play of a rail in a lap of the {cross} cross, over its width"
        if joints.lap_clearance is None:
            terms = {"w": f"{cross}.rail_width", **glue, **wet}
            book.add(f"{cross}.lap_clearance", says, "mm", "max(cg, w * max(0, wet))", LEFT_TO_US, **terms)
        else:
            book.add(f"{cross}.lap_clearance", says, "mm", "c", c="joints.lap_clearance")
    if joints.tenon_clearance is None:
        says = "play of a leg's tenon in its mortise, along the rail"
        terms = {"w": "legs.tenon.width", "r": "year.wettest.radial_swing", "t": "year.wettest.tangential_swing"}
        book.add("joints.tenon_clearance", says, "mm", "max(cg, w * max(r, t))", LEFT_TO_US, **glue, **terms)
    if profile.legs.top_joint != "glued":
        _dry_tenon(book)


def _dry_tenon(book: Book) -> None:
    name = "joints.sliding_play"
    if name not in book:
        book.given(name, SLIDING_SAYS, SLIDING, "mm", "trade practice")
    terms = {"r": "year.wettest.radial_swing", "t": "year.wettest.tangential_swing", "play": name}
    says = "play of a leg's dry tenon across the top's rail"
    formula = "play + t0 * (max(r, t) - min(r, t))"
    book.add("legs.dry_tenon_clearance", says, "mm", formula, t0="legs.tenon.thickness", **terms)


def _swing(book: Book, direction: str) -> None:
    """What wood does from built to the wettest in one direction of its rings."""
    terms = {"S": f"wood.{direction}", "F": "wood.fibre_saturation", "now": "year.built", "then": "year.wettest"}
    then, now = (f"(1 - S / 100 * (F - min({when}, F)) / F)" for when in ("then", "now"))
    says = f"{direction} change from built to the wettest, as a share"
    name = f"year.wettest.{direction}_swing"
    book.add(name, says, "", f"factor * ({then} / {now} - 1)", STRAIGHT, factor="limits.movement_factor", **terms)
