"""How the table stands: the load that tips it, a parasol in wind, how far the rim sinks, what its wood bears."""

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.explain.book import Book
from templategen.explain.given import because
from templategen.explain.year import wood_source
from templategen.strength.used import LOAD_FACTOR, used_in
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.wood.grades import CRACKED, OUTDOORS, PARTIAL, grade_of
from templategen.wood.species import figures_of

MODEL = (
    "solved as a frame of bars, no closed formula: rails, ring and legs stiff at glued joints, rails of a cross "
    "sharing only their sinking at the axis, slats carrying nothing"
)
WIND = (
    "0.61 v2 on 0.7 m² of side for a width of 2.7 m, others in proportion to their area; drag 1.2, 2.1 m above "
    "the ground"
)


def write_stance(book: Book, profile: Profile) -> None:
    """Tipping at the rim's edge on the feet as built, wind on a parasol, sinking of the rim."""
    _tipping(book, profile)
    if profile.top.pole_hole > 0:
        _parasol(book)
    _sinking(book, profile)


def _tipping(book: Book, profile: Profile) -> None:
    says = "weight of the table at its driest, from its mass at 12 % moisture"
    book.add("stance.weight", says, "N", "m * 9.81 * (100 + M) / 112", m="table.mass", M="year.driest")
    if profile.base.glides != "none":
        says = "axis to the line over which the table tips, half way between two glides"
        formula, terms = "g * cos(th / 2) + d / 2", {"g": "base.glide_distance", "d": "base.glide.diameter"}
        book.add("stance.reach", says, "mm", formula, "outermost points of two glides", **terms)
    else:
        _on_feet(book)
    odd = profile.top.segments // (2 * profile.top.rails) % 2
    formula = "R / cos(mitre)" if profile.top.edge == "faceted" and odd else "R"
    says = "axis to the rim's edge, square to that line"
    book.add("stance.rim", says, "mm", formula, because(profile, "top.edge"))
    if book.value("stance.rim") > book.value("stance.reach"):
        terms = {"W": "stance.weight", "a": "stance.reach", "R": "stance.rim"}
        says, source = "load at the rim's edge that lifts the far feet", "moments about the tipping line"
        book.add("stance.tipping_force", says, "N", "W * a / (R - a)", source, **terms)


def _on_feet(book: Book) -> None:
    feet = {"L": "base.length", "w": "base.rail_width", "r": "base.end_round"}
    says = "axis to the line over which the table tips, half way between two feet with rounded corners"
    formula = "(L / 2 - r) * cos(th / 2) + (w / 2 - r) * sin(th / 2) + r"
    book.add("stance.reach", says, "mm", formula, "outermost points of two neighbouring feet", **feet)


def _parasol(book: Book) -> None:
    book.add("parasol.width", "width of a parasol, 600 mm past the table all round", "mm", "D + 2 * 600")
    terms = {"v": "limits.wind", "c": "parasol.width"}
    formula = "0.61 * v**2 * 1.2 * 0.7 * (c / 2700)**2 * 2.1 * 1000"
    book.add("parasol.moment", "moment of the wind on it at the ground", "N mm", formula, WIND, **terms)
    terms = {"W": "stance.weight", "a": "stance.reach"}
    book.add("parasol.held", "moment that the table alone stands", "N mm", "W * a", **terms)


def _sinking(book: Book, profile: Profile) -> None:
    value, source = figures_of(profile.wood, profile.woods).stiffness, wood_source(profile, profile.wood)
    book.given("wood.stiffness", "stiffness of the wood along the grain, dry", value, "GPa", source)
    formula = "b * T**3 / 12 - 2 * dg * (tt**3 / 12 + tt * (level - T / 2)**2)"
    says = "second moment of a rail between its grooves"
    book.add("stance.rail_second_moment", says, "mm4", formula, b="top.rail_width")
    says = "rim beyond the legs' outer face"
    book.add("stance.overhang", says, "mm", "R - c - s / 2", c="legs.centre_distance")
    if book.value("stance.overhang") > 0:
        terms = {"F": "limits.rim_load", "L": "stance.overhang", "I": "stance.rail_second_moment"}
        formula = "F * L**3 / (3 * 0.8 * 1000 * E * I)"
        source = "a bar held at one end; wet wood keeps 0.8 of its stiffness"
        book.add("stance.rim_sinks", "how far the rim sinks", "mm", formula, source, **terms)


def write_strength(book: Book, table: Table) -> None:
    """What each case uses of the wood's strength where it uses most, with what that assumes."""
    profile = table.profile
    grade = grade_of(profile.wood, figures_of(profile.wood, profile.woods).density)
    for used in used_in(table, book.value("stance.weight")):
        stands, case = used.case.stands, translated(used.case.name)
        says = "share of the wood's strength used in the case {case}, most at {place:word}"
        source = said(
            "{model:word}; class {grade} (EN 338) by species, boards ungraded; k_mod {mod:g} for wet wood and loads "
            "of {term:word}, partial factors {partial:g} and {load:g}, {cracked:g} of the width in shear "
            "(EN 1995-1-1)",
            model=MODEL, grade=grade.name, mod=OUTDOORS[stands], term=f"{stands} term", partial=PARTIAL,
            load=LOAD_FACTOR, cracked=CRACKED,
        )  # fmt: skip
        says = said(says, case=case, place=used.place)
        book.given(f"strength.{used.case.name.replace(' ', '_')}", says, 100 * used.share, "%", source)
