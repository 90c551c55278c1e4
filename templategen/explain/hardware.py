"""What is bought to hold the table together: the slats' pins, and what holds a top that comes off: bolts with
barrel nuts, or pegs."""

from templategen.checks.describe import said
from templategen.explain.book import Book
from templategen.explain.given import because
from templategen.explain.year import write_density
from templategen.joinery import peg
from templategen.joinery.bolt import CLEARANCE, END, SPARE, STEP, SUNK
from templategen.strength.held import ACROSS, AT_THREAD, PEG_GIVES, PEG_SHEARS, SPLITS, STEEL, WET
from templategen.table.pins import BESIDE, PIN_OF
from templategen.table.profile.model import Profile
from templategen.wood.grades import CRACKED, grade_of
from templategen.wood.species import figures_of

TRADE = "tables of the trade: M8 in 9 mm, M10 in 11"
ASSUMED = "assumed"
PRACTICE = "shop practice"
THREAD, HEAD, NUT = "legs.bolt.thread", "legs.bolt.head", "legs.barrel_nut.diameter"
PEG = {"p": "legs.peg.thickness"}
DRAW = {"d": "legs.peg.draw"}


def write_pins(book: Book, profile: Profile) -> None:
    """What the wood beside a slat's ends moves in a year, and the slot that this asks for."""
    pin = PIN_OF[profile.units]
    says = "play of a pin in its slot, across it and past what the wood moves"
    book.given("pins.thickness", "thickness of a slat's pin", pin.thick, "mm", ASSUMED)
    book.given("pins.play", says, pin.play, "mm", ASSUMED)
    says = "wood between a pin's slot and the shoulder where the tongue has room"
    book.given("pins.beside", says, BESIDE, "mm", ASSUMED)
    says = "how far inside a tongue's end, square to it, a pin stands"
    formula = "min(lt / 2, max(lt - max(rim, rail + cs) - side - d / 2, side + d / 2))"
    terms = {"rim": "edges.rim", "rail": "edges.rail", "side": "pins.beside", "d": "pins.thickness"}
    book.add("pins.from_end", says, "mm", formula, **terms)
    both = {"d": "pins.thickness", "play": "pins.play"}
    book.add("pins.slot_width", "width of a pin's slot, and of its bit", "mm", "d + play", **both)
    says = "how far an arm's side moves past a slat's end in a year, with the play at both shoulders"
    book.add("pins.arm_moves", says, "mm", "2 * cs + b * (wet - dry)")
    says = "how far the rim's inner edge moves past a slat's end in a year"
    book.add("pins.rim_moves", says, "mm", "wall * (wet - dry)", wall="top.wall_at_middle")
    formula = "w + arm + rim" if profile.slats.run == "along" else "w + 2 * max(arm, rim)"
    terms = {"w": "pins.slot_width", "arm": "pins.arm_moves", "rim": "pins.rim_moves"}
    says = "length of a slot by which both of a slat's ends may move"
    book.add("pins.slot", says, "mm", formula, because(profile, "slats.run"), **terms)
    terms = {"t": "slats.thickness", "tt": "joints.slat_tongue_thickness"}
    book.add("joints.pin_slot_depth", "from a slat's upper face through its tongue", "mm", "(t + tt) / 2", **terms)


def write_bolts(book: Book) -> None:
    """Bolt, barrel nut and their bores, from the wood's thickness and the hardware's sizes."""
    book.given("legs.bolt_play", "a bolt's hole, and its head's, over its own thickness", CLEARANCE, "mm", TRADE)
    book.given("legs.bolt_sunk", "how far a bolt's head lies under the face", SUNK, "mm", ASSUMED)
    book.given("legs.bolt_spare", "bore past a bolt's tip", SPARE, "mm", ASSUMED)
    play = {"play": "legs.bolt_play"}
    book.add("legs.bolt_hole", "diameter of a bolt's hole", "mm", "M + play", M=THREAD, **play)
    book.add("legs.counterbore", "diameter of the counterbore for its head", "mm", "D + play", D=HEAD, **play)
    sink = {"h": "legs.bolt.head_height", "sunk": "legs.bolt_sunk"}
    book.add("legs.counterbore_depth", "depth of the counterbore for a bolt's head", "mm", "h + sunk", **sink)
    says = "rail under a bolt's head, down to the leg's shoulder"
    book.add("legs.bolt_grip", says, "mm", "T - sink", sink="legs.counterbore_depth")
    terms = {"g": "legs.bolt_grip", "M": THREAD, "n": NUT}
    formula = f"ceil((g + {END:g} * M + n / 2) / {STEP:g} - 1e-9) * {STEP:g}"
    source = said(
        "a loaded end is {end:g} thicknesses of the bolt at least (EN 1995-1-1); sold in steps of {step:g} mm",
        end=END, step=STEP,
    )  # fmt: skip
    book.add("legs.bolt_length", "length of a bolt under its head", "mm", formula, source, **terms)
    terms = {"L": "legs.bolt_length", "g": "legs.bolt_grip", "n": NUT}
    book.add("legs.nut_below", "from the leg's shoulder to the middle of its nut", "mm", "L - g - n / 2", **terms)
    terms = {"l": "legs.stub", "d": "legs.nut_below", "n": NUT, "spare": "legs.bolt_spare"}
    says = "depth of the bolt's hole from the tenon's end"
    book.add("legs.bolt_hole_depth", says, "mm", "l + d + n / 2 + spare", **terms)
    says = "depth of the cross bore for the nut"
    book.add("legs.cross_bore_depth", says, "mm", "(s + l) / 2", l="legs.barrel_nut.length")


def write_bolt_spring(book: Book, profile: Profile) -> None:
    """How far bolt, nut and rail give way for each newton, and so the leg turns for each moment."""
    says = "how far a bolt stretches, mm for each N"
    source = "stainless steel, EN 1993-1-4; area at the thread, ISO 898-1"
    formula = f"L / ({STEEL:g} * {AT_THREAD:g} * pi / 4 * M**2)"
    book.add("legs.bolt_gives", says, "", formula, source, L="legs.bolt_length", M=THREAD)
    nut = {"d": NUT, "rho": write_density(book, profile, profile.wood)}
    says, source = "how far its nut beds into the leg, mm for each N", "twice K_ser of EN 1995-1-1, 7.1; wet wood"
    book.add("legs.nut_gives", says, "", f"1 / (2 * {WET:g} * rho**1.5 * d / 23)", source, **nut)
    rail = {"g": "legs.bolt_grip", "D": HEAD, "h": "legs.bolt_hole"}
    says = "how far the rail is pressed under its washer, mm for each N"
    source = "across the grain a {share:g}th of the stiffness along it (EN 338), spread at 45°; wet wood"
    formula = f"g / ({WET:g} * 1000 * E / {ACROSS:g} * pi / 4 * ((D + g)**2 - h**2))"
    book.add("legs.rail_gives", says, "", formula, said(source, share=ACROSS), **rail)
    terms = {"b": "legs.bolt_gives", "n": "legs.nut_gives", "r": "legs.rail_gives"}
    says = "moment for each radian that a bolted leg turns against its rail"
    source = "an edge of the shoulder bears half a section from the bolt; no tension from drawing up is counted"
    book.add("legs.bolt_spring", says, "N mm", "(s / 2)**2 / (b + n + r)", source, **terms)


def write_pegs(book: Book) -> None:
    """Both holes of a peg, and the peg."""
    says, source = "from a leg's shoulder to the middle of its peg's hole", "nearer to the shoulder by the draw"
    book.add("legs.peg_in_tenon", says, "mm", "r - d", source, r="legs.peg.rise", **DRAW)
    terms = {"w": "top.rail_width", "m": "legs.top_mortise_thickness"}
    book.add("legs.peg_cheek", "what of a rail a peg goes through beside the mortise", "mm", "(w - m) / 2", **terms)
    says = "from a leg's side through its tenon"
    book.add("legs.peg_bore", says, "mm", "(s + t) / 2", t="legs.tenon.thickness")
    book.given("legs.peg_head", "how far a peg's thick end stays out", peg.HEAD, "mm", PRACTICE)
    says = "length of a peg's taper, which comes out at the far side"
    book.add("legs.peg_tip", says, "mm", f"{peg.TIP:g} * p", PRACTICE, **PEG)
    source = "it enters the tenon's hole freely"
    book.add("legs.peg_tip_thickness", "thickness of a peg's tip", "mm", "p - 2 * d", source, **PEG, **DRAW)
    terms = {"w": "top.rail_width", "tip": "legs.peg_tip", "head": "legs.peg_head"}
    book.add("legs.peg_length", "length of a peg", "mm", "w + tip + head", **terms)
    says = "what the two holes of a peg take of one cheek that would touch: circles that overlap"
    lens = "2 * (p**2 / 4 * acos(d / p) * pi / 180 - d / 2 * sqrt(p**2 / 4 - d**2 / 4))"
    book.add("legs.peg_taken", says, "mm2", f"pi * p**2 / 2 - {lens}", **PEG, **DRAW)


def write_peg_spring(book: Book, profile: Profile) -> None:
    """How far a leg turns for each moment, and what its peg bears: itself, the tenon's end, the rail."""
    terms = {**PEG, "rho": write_density(book, profile, profile.wood)}
    says = "moment for each radian that a pegged leg turns against its rail"
    source = (
        "two planes of shear, each {share:g} of K_ser for steel (EN 1995-1-1, 7.1), which is assumed; wet wood; "
        "an edge of the shoulder bears half a section from the peg; nothing of the draw is counted"
    )
    formula = f"(s / 2)**2 * 2 * {PEG_GIVES:g} * {WET:g} * rho**1.5 / 23 * p"
    book.add("legs.peg_spring", says, "N mm", formula, said(source, share=PEG_GIVES), **terms)
    source = "oak in two planes of shear; DIN 1052:2008, chapter 15, from memory and for thicker pegs: not verified"
    book.add("legs.peg_bears", "what a peg bears, characteristic", "N", f"2 * {PEG_SHEARS:g} * p**2", source, **PEG)
    grade = grade_of(profile.wood, figures_of(profile.wood, profile.woods).density)
    says, source = (
        "characteristic strength in shear, N/mm2",
        said("class {grade} (EN 338) by species", grade=grade.name),
    )
    book.given("wood.shear", says, grade.shear, "MPa", source)
    terms = {"l": "legs.tenon.length", "i": "legs.peg_in_tenon", "t": "legs.tenon.thickness", "f": "wood.shear"}
    says, formula = "what the tenon's end bears in front of its peg", f"2 * {CRACKED:g} * (l - i) * t * f"
    source = said("two planes of shear, {share:g} for checks", share=CRACKED)
    book.add("legs.peg_end_bears", says, "N", formula, source, **terms)
    terms = {"c": "legs.peg_cheek", "r": "legs.peg.rise"}
    says, formula = "what a rail's cheeks bear under a peg", f"{SPLITS:g} * 2 * c * sqrt(r / (1 - r / T))"
    book.add("legs.peg_rail_bears", says, "N", formula, "split across the grain: EN 1995-1-1, 8.1.4", **terms)
