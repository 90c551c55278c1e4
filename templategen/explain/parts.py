"""Every part's sizes, ends, counts and depths of work, under `part.CODE.`."""

from collections.abc import Iterator, Mapping

from templategen.catalogue import translated, worded
from templategen.explain.book import Book
from templategen.explain.contacts import CROSSES
from templategen.explain.given import because
from templategen.parts.kinds import FeatureKind
from templategen.parts.part import Part
from templategen.parts.work import CountedWork, works
from templategen.table.edges import BASE_EDGE, INNER_EDGE, LOWER_EDGE, RAIL_EDGE
from templategen.table.profile.model import Profile

Terms = dict[str, str]
Depth = tuple[str, Terms, str]
"""A formula, its terms and where it comes from."""

SIZES: Mapping[str, tuple[tuple[str, Terms], tuple[str, Terms], tuple[str, Terms]]] = {
    "rim-segment": (("L", {"L": "top.outer_length"}), ("W", {}), ("T", {})),
    "rail": (("2 * (a + lt)", {}), ("2 * b", {}), ("T", {})),
    "base-rail": (("L", {"L": "base.length"}), ("w", {"w": "base.rail_width"}), ("t", {"t": "base.thickness"})),
    "foot": (("L", {"L": "base.foot_length"}), ("w", {"w": "base.rail_width"}), ("t", {"t": "base.foot_thickness"})),
    "leg": (("L", {"L": "legs.length"}), ("s", {}), ("s", {})),
}
"""Length along the grain, width and thickness by the kind of part; slats and splines have their own."""

OF_ITS_BLANK = {
    "length": "length of {code} along the grain, of its blank",
    "width": "width of {code} of its blank",
    "thickness": "thickness of {code}",
}
"""What the sizes of a part are."""

EASED = {
    "round over": "top.edge_round", "ease both long edges": "slats.chamfer", "ease the arris": "legs.corner_size",
    INNER_EDGE: "edges.rim", RAIL_EDGE: "edges.rail", LOWER_EDGE: "edges.slat", BASE_EDGE: "edges.base",
}  # fmt: skip
"""The size, by its key, of each way of easing an arris."""


def write_legs(book: Book) -> None:
    """A leg's whole length. Tenons are upright, so a raked leg's ends are parallel and slope across its width."""
    book.add("legs.lean", "lean of the legs, either way", "deg", "abs(rake)")
    says = "half a leg's shoulder, cut at the rake"
    book.add("legs.half_shoulder", says, "mm", "s / 2 / cos(lean)")
    terms = {"lt": "legs.tenon.length"}
    formula = "(h + 2 * lt) / cos(lean) + s * tan(lean)"
    if dry := "legs.dry_tenon_clearance" in book:
        terms |= {"lu": "legs.top_tenon"}
        formula = "(h + lt + lu) / cos(lean) + s * tan(lean)"
    book.add("legs.length", "a leg's blank over its tenons, from point to point", "mm", formula, **terms)
    book.add("legs.mortise_depth", "depth of a leg's mortises", "mm", "l + ce", l="legs.tenon.length")
    wide = {"w": "legs.tenon.width", "cg": "joints.tenon_clearance"}
    book.add("legs.mortise_width", "a leg's mortise along the rail", "mm", "w + cg", **wide)
    thick = {"t": "legs.tenon.thickness"}
    book.add("legs.mortise_thickness", "a leg's mortise across the rail", "mm", "t + cg", **thick)
    book.add("legs.cheek", "depth of a leg tenon's cheek cuts", "mm", "(s - t) / 2", **thick)
    if dry:
        says = "depth of a leg's mortise in the top's rails, where its tenon stays dry"
        book.add("legs.top_mortise_depth", says, "mm", "l + ce", l="legs.top_tenon")
        says = "the same mortise across the rail"
        book.add("legs.top_mortise_thickness", says, "mm", "t + cd", cd="legs.dry_tenon_clearance", **thick)


def write_work_rules(book: Book, profile: Profile) -> None:
    """Depths that parts share: rebates, laps, relief."""
    tt, slides = {"tt": "joints.tongue_thickness"}, {"tt": "joints.slat_tongue_thickness"}
    book.add("joints.tenon_over", "rebate over a rail's tenon", "mm", "T - level - tt / 2", **tt)
    book.add("joints.tenon_under", "rebate under a rail's tenon", "mm", "level - tt / 2", **tt)
    says = "rebate over a slat's tongue, and under it"
    book.add("joints.tongue_shoulder", says, "mm", "t / 2 - tt / 2", t="slats.thickness", **slides)
    feet, says = because(profile, "base.feet"), "how far a base rail is cut away between its feet"
    if profile.base.feet == "relieved":
        book.add("base.relief", says, "mm", "f", feet, f="base.foot_thickness")
    else:
        book.given("base.relief", says, 0.0, "mm", feet)
    for name, thickness, floor in (("top", "top.thickness", ""), ("base", "base.thickness", "base.relief")):
        _lap_levels(book, profile, name, thickness, floor)


def _lap_levels(book: Book, profile: Profile, name: str, thickness: str, floor: str) -> None:
    """Heights of a crossing's lap floors above the rails' undersides: each rail keeps an equal share."""
    terms, cross = {"T": thickness, "f": floor} if floor else {"T": thickness}, translated(CROSSES[name])
    for share in range(1, profile.top.rails):
        says = worded("height of lap floor {number} of the {cross} above its underside", number=share, cross=cross)
        formula = f"f + (T - f) * {share} / k" if floor else f"T * {share} / k"
        book.add(f"{name}.lap_level_{share}", says, "mm", formula, "each rail keeps an equal share", **terms)
    terms = {"w": f"{name}.rail_width", "cg": f"{name}.lap_clearance"}
    says = worded("a lap of the {cross}, square to the rail in it", cross=cross)
    book.add(f"{name}.lap_width", says, "mm", "w + cg", **terms)


def write_sizes_of(book: Book, part: Part, slat: str, count: tuple[str, Terms, str]) -> None:
    """Size, ends and count of a part; `slat` names the slat that it is, if it is one."""
    code = part.code
    for name, (formula, terms) in zip(("length", "width", "thickness"), _size_formulas(part, slat), strict=True):
        book.add(f"part.{code}.{name}", worded(OF_ITS_BLANK[name], code=code), "mm", formula, **terms)
    _write_ends(book, part, slat)
    says, (formula, terms, source) = worded("how many of {code} a table takes", code=code), count
    if formula:
        book.add(f"part.{code}.count", says, "", formula, source, **terms)
    else:
        book.given(f"part.{code}.count", says, part.count, "", source)
    for work in works(part):
        _write_work(book, part, work)


def _size_formulas(part: Part, slat: str) -> tuple[tuple[str, Terms], ...]:
    if slat:
        thick = ("t", {"t": "slats.thickness"})
        return ("L", {"L": f"{slat}.length"}), ("w", {"w": f"{slat}.width"}), thick
    if part.kind == "spline":
        start, end = f"part.{part.code}.start", f"part.{part.code}.end"
        width = ("end - start", {"end": end, "start": start})
        return ("L", {"L": "splines.length"}), width, ("t", {"t": "splines.thickness"})
    return SIZES[part.kind]


def _write_ends(book: Book, part: Part, slat: str) -> None:
    """The angles off square of the blank's ends; square ends have none."""
    names = ["top.mitre"] if part.kind == "rim-segment" else list(_slat_angles(book, slat))
    if [round(book.value(name), 2) for name in names] == [0.0]:
        return
    for place, name in enumerate(names, 1):
        says = worded("angle off square of an end of {code}", code=part.code)
        book.add(f"part.{part.code}.end_angle_{place}", says, "deg", "angle", angle=name)


def _slat_angles(book: Book, slat: str) -> Iterator[str]:
    place = 1
    while slat and f"{slat}.end_angle_{place}" in book:
        yield f"{slat}.end_angle_{place}"
        place += 1


def work_name(code: str, work: CountedWork) -> str:
    """How the quantities of one kind of work to one depth begin: `part.RAIL-MID.lap`, its second depth `...lap_b`."""
    letter = f"_{'abcdefghijklmnopqrstuvwxyz'[work.place - 1]}" if work.place > 1 else ""
    return f"part.{code}.{work.kind}{letter}"


def _write_work(book: Book, part: Part, work: CountedWork) -> None:
    name = work_name(part.code, work)
    kind, counted = translated(work.kind), translated(work.first.traits.counted)
    says = worded("{kind} on {code}: how often", kind=kind, code=part.code)
    source = worded("counted on the finished part: {what}", what=counted)
    book.given(f"{name}.count", says, work.count, "", source)
    if work.depth is not None:
        formula, terms, source = _depth(part, work)
        if (part.kind, work.kind) == ("rail", "mortise") and "legs.top_mortise_depth" in book:
            terms = {"d": "legs.top_mortise_depth"}
        says = worded("{kind} on {code}: how deep", kind=kind, code=part.code)
        book.add(f"{name}.depth", says, "mm", formula, source, **terms)


OF_LEGS: Mapping[FeatureKind, str] = {"tenon": "legs.cheek", "peg-hole": "legs.peg_bore"}
"""How deep a leg's own work is, by its quantity."""


def _depth(part: Part, work: CountedWork) -> Depth:
    """How deep, by kind of part and work."""
    if work.kind == "lap":
        return _lap_depth(part, work)
    if (part.kind, work.kind) == ("rail", "tenon"):
        return "d", {"d": "joints.tenon_over"}, translated("from the top face")
    if part.kind == "leg" and work.kind in OF_LEGS:
        symbol, name = "d", OF_LEGS[work.kind]
    elif work.first.traits.arris:
        symbol, name = "e", EASED[work.first.operation]
    else:
        symbol, name = work.first.traits.depth
    return symbol, {symbol: name}, ""


def _lap_depth(part: Part, work: CountedWork) -> Depth:
    """From the top face down to the floor that the rail keeps, or from the bottom up to it."""
    cross = "top" if part.kind == "rail" else "base"
    position = part.code.rsplit("-", 1)[1]
    laps = part.cuts("lap")
    deepest = position == "HIGH" and len(laps) > 1 and work.first is laps[0]
    level = 2 if deepest or (position == "MID" and work.first.face == "top") else 1
    terms = {"level": f"{cross}.lap_level_{level}"}
    if work.first.face == "top":
        return "T - level", {"T": f"{cross}.thickness", **terms}, translated("from the top face")
    return "level", terms, translated("from the underside")


def write_volume(book: Book, part: Part, density: str) -> None:
    """A part's volume, measured on its finished shape, and its mass."""
    from templategen.parts.volume import volume

    name = f"part.{part.code}"
    source = "measured on the finished shape: its outline less its holes, by its thickness, less what each cut takes"
    says = worded("wood in one finished {code}", code=part.code)
    book.given(f"{name}.volume", says, volume(part), "mm3", source)
    terms = {"V": f"{name}.volume", "density": density}
    says = worded("mass of one {code}", code=part.code)
    book.add(f"{name}.mass", says, "kg", "V * density / 1e9", **terms)
