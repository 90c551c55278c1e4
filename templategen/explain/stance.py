"""How the table stands: the load that tips it, a parasol in wind, how far the rim sinks."""

from templategen.explain.book import Book
from templategen.explain.given import because
from templategen.explain.year import wood_source
from templategen.table.profile.model import Profile
from templategen.wood.species import figures_of


def write_stance(book: Book, profile: Profile) -> None:
    """Tipping at the rim's edge on the feet as built, wind on a parasol, sinking of the rim."""
    _tipping(book, profile)
    if profile.top.pole_hole > 0:
        _parasol(book)
    _sinking(book, profile)


def _tipping(book: Book, profile: Profile) -> None:
    says = "weight of the table at its driest, from its mass at 12 % moisture"
    mass = {"m": "table.mass", "M": "year.driest"}
    book.add("stance.weight", says, "N", "m * 9.81 * (100 + M) / 112", **mass)
    if profile.base.glides != "none":
        says = "axis to the line over which the table tips, half way between two glides"
        terms = {"g": "base.glide_distance", "d": "base.glide.diameter", "th": "top.field_angle"}
        book.add("stance.reach", says, "mm", "g * cos(th / 2) + d / 2", "outermost points of two glides", **terms)
    else:
        _on_feet(book)
    edge, says = because(profile, "top.edge"), "axis to the rim's edge, square to that line"
    odd = profile.top.segments // (2 * profile.top.rails) % 2
    if profile.top.edge == "faceted" and odd:
        book.add("stance.rim", says, "mm", "R / cos(mitre)", edge, R="top.radius", mitre="top.mitre")
    else:
        book.add("stance.rim", says, "mm", "R", edge, R="top.radius")
    if book.value("stance.rim") > book.value("stance.reach"):
        terms = {"W": "stance.weight", "a": "stance.reach", "R": "stance.rim"}
        says, source = "load at the rim's edge that lifts the far feet", "moments about the tipping line"
        book.add("stance.tipping_force", says, "N", "W * a / (R - a)", source, **terms)


def _on_feet(book: Book) -> None:
    feet = {"L": "base.length", "w": "base.rail_width", "r": "base.end_round", "th": "top.field_angle"}
    says = "axis to the line over which the table tips, half way between two feet with rounded corners"
    formula = "(L / 2 - r) * cos(th / 2) + (w / 2 - r) * sin(th / 2) + r"
    book.add("stance.reach", says, "mm", formula, "outermost points of two neighbouring feet", **feet)


def _parasol(book: Book) -> None:
    says = "width of a parasol, 600 mm past the table all round"
    book.add("parasol.width", says, "mm", "D + 2 * 600", D="top.diameter")
    source = (
        "0.61 v2 on 0.7 m2 of side for a width of 2.7 m, others in proportion to their area; drag 1.2, 2.1 m above "
        "the ground"
    )
    terms = {"v": "limits.wind", "c": "parasol.width"}
    formula = "0.61 * v**2 * 1.2 * 0.7 * (c / 2700)**2 * 2.1 * 1000"
    book.add("parasol.moment", "moment of the wind on it at the ground", "N mm", formula, source, **terms)
    if "stance.reach" in book:
        terms = {"W": "stance.weight", "a": "stance.reach"}
        book.add("parasol.held", "moment that the table alone stands", "N mm", "W * a", **terms)


def _sinking(book: Book, profile: Profile) -> None:
    says = "stiffness of the wood along the grain, dry"
    value = figures_of(profile.wood, profile.woods).stiffness
    book.given("wood.stiffness", says, value, "GPa", wood_source(profile, profile.wood))
    terms = {"b": "top.rail_width", "T": "top.thickness", "dg": "joints.groove_depth", "tt": "joints.tongue"}
    says = "second moment of a rail between its grooves"
    formula = "b * T**3 / 12 - 2 * dg * (tt**3 / 12 + tt * (level - T / 2)**2)"
    book.add("stance.rail_second_moment", says, "mm4", formula, level="slats.level", **terms)
    says = "rim beyond the legs' outer face"
    terms = {"R": "top.radius", "c": "legs.centre_distance", "s": "legs.section"}
    book.add("stance.overhang", says, "mm", "R - c - s / 2", **terms)
    if book.value("stance.overhang") > 0:
        terms = {
            "F": "limits.rim_load",
            "L": "stance.overhang",
            "E": "wood.stiffness",
            "I": "stance.rail_second_moment",
        }
        source = "a bar held at one end; wet wood keeps 0.8 of its stiffness"
        book.add(
            "stance.rim_sinks", "how far the rim sinks", "mm", "F * L**3 / (3 * 0.8 * 1000 * E * I)", source, **terms
        )
