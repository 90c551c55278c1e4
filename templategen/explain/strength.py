"""Strength: the spring of a bolted leg by its formula, and what each case uses of the wood with what that assumes."""

from __future__ import annotations

from templategen.explain.book import Book
from templategen.explain.year import write_density
from templategen.strength.bolted import ACROSS, AT_THREAD, STEEL, WET
from templategen.strength.used import LOAD_FACTOR, used_in
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.wood.grades import CRACKED, OUTDOORS, PARTIAL, grade_of
from templategen.wood.species import figures_of

MODEL = (
    "solved as a frame of bars, no closed formula: rails, ring and legs stiff at glued joints, rails of a cross "
    "sharing only their sinking at the axis, slats carrying nothing"
)


def write_bolt_spring(book: Book, profile: Profile) -> None:
    """How far bolt, nut and rail give way for each newton, and so the leg turns for each moment."""
    steel = {"L": "legs.bolt_length", "M": "legs.bolt.thread"}
    says = "how far a bolt stretches, mm for each N"
    source = "stainless steel, EN 1993-1-4; area at the thread, ISO 898-1"
    book.add("legs.bolt_gives", says, "", f"L / ({STEEL:g} * {AT_THREAD:g} * pi / 4 * M**2)", source, **steel)
    nut = {"d": "legs.barrel_nut.diameter", "rho": write_density(book, profile, profile.wood)}
    says, source = "how far its nut beds into the leg, mm for each N", "twice K_ser of EN 1995-1-1, 7.1; wet wood"
    book.add("legs.nut_gives", says, "", f"1 / (2 * {WET:g} * rho**1.5 * d / 23)", source, **nut)
    rail = {"g": "legs.bolt_grip", "D": "legs.bolt.head", "h": "legs.bolt_hole", "E": "wood.stiffness"}
    says = "how far the rail is pressed under its washer, mm for each N"
    source = f"across the grain a {ACROSS:g}th of the stiffness along it (EN 338), spread at 45 degrees; wet wood"
    formula = f"g / ({WET:g} * 1000 * E / {ACROSS:g} * pi / 4 * ((D + g)**2 - h**2))"
    book.add("legs.rail_gives", says, "", formula, source, **rail)
    terms = {"s": "legs.section", "b": "legs.bolt_gives", "n": "legs.nut_gives", "r": "legs.rail_gives"}
    says = "moment for each radian that a bolted leg turns against its rail"
    source = "an edge of the shoulder bears half a section from the bolt; no tension from drawing up is counted"
    book.add("legs.bolt_spring", says, "N mm", "(s / 2)**2 / (b + n + r)", source, **terms)


def write_strength(book: Book, table: Table) -> None:
    """What each case uses of the strength where it uses most."""
    profile = table.profile
    grade = grade_of(profile.wood, figures_of(profile.wood, profile.woods).density)
    for used in used_in(table, book.value("stance.weight")):
        says = f"share of the wood's strength used in the case {used.case.name}, most at {used.place}"
        stands = used.case.stands
        source = (
            f"{MODEL}; class {grade.name} (EN 338) by species, boards ungraded; k_mod {OUTDOORS[stands]:g} for wet "
            f"wood and loads of {stands} term, partial factors {PARTIAL:g} and {LOAD_FACTOR:g}, {CRACKED:g} of the "
            "width in shear (EN 1995-1-1)"
        )
        book.given(f"strength.{used.case.name.replace(' ', '_')}", says, 100 * used.share, "%", source)
