"""The areas of the joints: wood that faces wood, by closed formulas."""

from templategen.catalogue import translated, worded
from templategen.explain.book import Book
from templategen.table.profile.model import Profile

ROUND_OFF = "2 * (1 - pi / 4) * r**2"
"""What the round-overs of both faces take off the area of a mitre."""

CROSSES = {"top": "top cross", "base": "base cross"}
"""What the rails' crossings are called."""

INNER = {"rounded": "2 * (1 - pi / 4) * e**2 / cos(mitre)", "chamfered": "e**2 / cos(mitre)"}
"""What easing the rim's two inner edges takes off a mitre, which crosses them at an angle."""

PAST_THE_THIRD = "2 * (w / 6 * sqrt(hole**2 / 4 - w**2 / 36) + hole**2 / 4 * asin(w / 3 / hole) * pi / 180)"
"""The part of a pole hole, wider than a third of the rail, that falls in the rail's middle third."""


def write_contacts(book: Book, profile: Profile, joints: frozenset[tuple[str, bool]]) -> None:
    """Each kind of joint's area; `joints` are the rim's: the spline's code, and whether a groove runs out there."""
    for code, grooved in sorted(joints):
        _mitre(book, profile, code, grooved)
    for cross, width in (("top", "top.rail_width"), ("base", "base.rail_width")):
        _laps(book, profile, cross, width)
    terms = {"t": "legs.tenon.thickness", "w": "legs.tenon.width", "l": "legs.tenon.length"}
    book.add("joint.leg_tenon.contact", "the four cheeks of a leg's tenon", "mm2", "2 * (t + w) * l", **terms)
    if profile.legs.top_joint != "glued":
        says, formula = "the four cheeks of a leg's tenon in the top, which stay dry", "2 * (t + w) * l"
        terms["l"] = "legs.top_tenon"
        if bored := profile.legs.top_joint == "draw-bored":
            terms["p"] = "legs.peg_taken"
        name = f"joint.{profile.legs.top_joint.replace('-', '_')}_tenon.contact"
        book.add(name, says, "mm2", f"{formula} - 2 * p" if bored else formula, **terms)
    if profile.base.feet == "pads":
        terms = {"L": "base.foot_length", "w": "base.rail_width", "r": "base.end_round"}
        says = "a pad under its rail: two rounded corners are missing"
        book.add("joint.foot.contact", says, "mm2", "L * w - (2 - pi / 2) * r**2", **terms)


def mitre_name(code: str, grooved: bool) -> str:
    """The quantity of a mitre's area."""
    spline = code.casefold() or "plain"
    return f"joint.mitre.{spline}{'.grooved' if grooved else ''}.contact"


def _mitre(book: Book, profile: Profile, code: str, grooved: bool) -> None:
    inner = INNER[profile.edges.shape]
    terms = {"wall": "top.wall_at_joint", "r": "top.edge_round", "e": "edges.rim"}
    formula, says = (
        f"wall * T - {ROUND_OFF} - {inner}",
        translated("a mitre in the finished ring, less its eased edges"),
    )
    if code:
        terms |= {"end": f"part.{code}.slot_end", "at": f"part.{code}.slot_start"}
        formula += " - (min(end, wall) - at) * st"
        says += translated(", less the spline's slot")
    shared = {symbol: quantity for symbol, quantity in terms.items() if symbol not in ("wall", "r")}
    if profile.top.drip_groove[2] > 0:
        terms |= {"wd": "top.drip_groove.width", "dd": "top.drip_groove.depth"}
        formula += " - wd * dd" if profile.top.edge == "sawn" else " - wd * dd / cos(mitre)"
        says += translated(", less the drip groove")
    groove = " - tt * dg / cos(mitre)" if grooved else ""
    if grooved:
        says += translated(", less the groove that runs out there")
    book.add(mitre_name(code, grooved), says, "mm2", formula + groove, **terms)
    # As it is glued: the blank's whole face, its inner edges eased.
    formula = f"face * T - {inner}" + (" - (end - at) * st" if code else "") + groove
    name = mitre_name(code, grooved).replace(".contact", ".glued")
    book.add(name, "the same mitre as it is glued, before sawing and rounding", "mm2", formula, **shared)


def _laps(book: Book, profile: Profile, cross: str, width: str) -> None:
    """Neighbours in height share the whole rhomb; lowest and highest of three two tips outside the middle one."""
    named = translated(CROSSES[cross])
    says = worded("lap floor between neighbours in height of the {cross}, less the pole hole", cross=named)
    book.add(f"joint.{cross}_lap.contact", says, "mm2", "w**2 / sin(th) - pi * hole**2 / 4", w=width)
    says = worded("the middle third of that floor of the {cross}, across the rail, which alone is glued", cross=named)
    hole = PAST_THE_THIRD if profile.top.pole_hole > book.value(width) / 3 else "pi * hole**2 / 4"
    book.add(f"joint.{cross}_lap.glued", says, "mm2", f"w**2 / sin(th) / 3 - {hole}", w=width)
    if profile.top.rails == 3:
        says = "lap floor between the lowest and the highest rail of the {cross}: two tips of 60°"
        formula = "2 * (w - lap / 2)**2 * tan(30)"
        name, says = f"joint.{cross}_lap.outer.contact", worded(says, cross=named)
        book.add(name, says, "mm2", formula, w=width, lap=f"{cross}.lap_width")
        says = worded("what of these tips of the {cross} is glued", cross=named)
        book.given(f"joint.{cross}_lap.outer.glued", says, 0.0, "mm2", "they lie far from the middle, and stay dry")
