"""The slats' pins and the slot in which one end of each slat may slide."""

from templategen.explain.book import Book
from templategen.explain.given import because
from templategen.table.pins import PIN, PLAY
from templategen.table.profile.model import Profile

ASSUMED = "assumed"


def write_pins(book: Book, profile: Profile) -> None:
    """What the wood beside a slat's ends moves in a year, and the slot that this asks for."""
    book.given("pins.thickness", "thickness of a slat's pin", PIN, "mm", ASSUMED)
    book.given("pins.play", "play of a pin in its slot, across it and past what the wood moves", PLAY, "mm", ASSUMED)
    both = {"d": "pins.thickness", "play": "pins.play"}
    book.add("pins.slot_width", "width of a pin's slot, and of its bit", "mm", "d + play", **both)
    year = {"dry": "year.driest.swing", "wet": "year.wettest.swing"}
    says = "how far an arm's side moves past a slat's end in a year, with the play at both shoulders"
    terms = {"cs": "joints.shoulder_clearance", "b": "top.half_rail", **year}
    book.add("pins.arm_moves", says, "mm", "2 * cs + b * (wet - dry)", **terms)
    says = "how far the rim's inner edge moves past a slat's end in a year"
    book.add("pins.rim_moves", says, "mm", "wall * (wet - dry)", wall="top.wall_at_middle", **year)
    along = profile.slats.run == "along"
    formula = "w + arm + rim" if along else "w + 2 * max(arm, rim)"
    terms = {"w": "pins.slot_width", "arm": "pins.arm_moves", "rim": "pins.rim_moves"}
    says = "length of a slot by which both of a slat's ends may move"
    book.add("pins.slot", says, "mm", formula, because(profile, "slats.run"), **terms)
    terms = {"t": "slats.thickness", "tt": "joints.slat_tongue_thickness"}
    book.add("joints.pin_slot_depth", "from a slat's upper face through its tongue", "mm", "(t + tt) / 2", **terms)
