"""The table's year: moisture of its wood at both ends, how boards move, and what that leaves of the gaps."""

from templategen.catalogue import translated, worded
from templategen.explain.book import Book
from templategen.explain.given import because, where_set
from templategen.explain.words import symbol_words
from templategen.table.profile.model import Profile
from templategen.wood.species import SPECIES, figures_of

EMC = (
    "Hailwood and Horrobin's equation; constants of Simpson, Equilibrium moisture content of wood in outdoor "
    "locations, Forest Products Laboratory, research note 0268 (1998)"
)
STRAIGHT = "straight line from green to ovendry (Wood Handbook, Forest Products Laboratory, chapter 4)"

CONSTANTS = (
    ("water", "349 + 1.29 * t + 0.0135 * t**2"),
    ("k", "0.805 + 0.000736 * t - 0.00000273 * t**2"),
    ("k1", "6.27 - 0.00938 * t - 0.000303 * t**2"),
    ("k2", "1.91 + 0.0407 * t - 0.000293 * t**2"),
)
"""Of the equation, by the temperature in degrees Celsius."""


def write_wood(book: Book, profile: Profile) -> None:
    """The figures of the table's wood, with where they come from."""
    figures, source = figures_of(profile.wood, profile.woods), wood_source(profile, profile.wood)
    rows = (
        ("radial", figures.radial, "shrinkage along a radius, green to ovendry"),
        ("tangential", figures.tangential, "shrinkage along the growth rings, green to ovendry"),
        ("fibre_saturation", figures.fibre_saturation, "moisture above which nothing moves"),
    )
    for name, value, says in rows:
        book.given(f"wood.{name}", f"{translated(profile.wood)}: {translated(says)}", value, "%", source)
    write_density(book, profile, profile.wood)


def write_density(book: Book, profile: Profile, wood: str) -> str:
    """A wood's density; gives its quantity's name."""
    name = f"wood.{wood.replace(' ', '_')}.density"
    if name not in book:
        value = figures_of(wood, profile.woods).density
        says = worded("{wood}: density at 12 % moisture", wood=translated(wood))
        book.given(name, says, value, "kg/m3", wood_source(profile, wood))
    return name


def wood_source(profile: Profile, wood: str) -> str:
    """Where a wood's figures come from."""
    if wood in profile.woods:
        return worded("your own wood: {where}", where=where_set(profile, f"woods.{wood}"))
    row = SPECIES[wood]
    return f"{translated(row.source)} ({translated(row.status)})"


def write_moistures(book: Book, profile: Profile) -> None:
    """From the air the table lives in to what the width of its boards does over the year."""
    for name, formula in CONSTANTS:
        says = worded("{name} of the moisture equation at this temperature", name=symbol_words(name))
        book.add(f"year.{name}", says, "", formula, EMC, t="shop.temperature")
    for end in ("driest", "wettest"):
        air = "shop.humidity.driest" if end == "driest" else "shop.humidity.dampest"
        _moisture(book, end, air)
    _built(book, profile)
    _swing(book, profile)


def _moisture(book: Book, end: str, air: str) -> None:
    kh = f"year.{end}.kh"
    ends = {"end": translated(end)}
    says = worded("k times the air's humidity at the {end}", **ends)
    book.add(kh, says, "", "k * h / 100", EMC, k="year.k", h=air)
    terms = {"kh": kh, "k1": "year.k1", "k2": "year.k2", "water": "year.water"}
    formula = "1800 / water * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2))"
    book.add(f"year.{end}", worded("moisture of the wood at the {end}", **ends), "%", formula, EMC, **terms)


def _built(book: Book, profile: Profile) -> None:
    says = "moisture of the wood when the table is built"
    if profile.shop.build_moisture:
        book.add("year.built", says, "%", "m", m="shop.build_moisture")
    else:
        both = {"dry": "year.driest", "wet": "year.wettest"}
        book.add("year.built", says, "%", "(dry + wet) / 2", "shop.build_moisture = 0: half way", **both)


def _swing(book: Book, profile: Profile) -> None:
    """What a board's width does."""
    sawn, both = because(profile, "shop.sawn"), {"r": "wood.radial", "t": "wood.tangential"}
    formula = {"plain": "t", "rift": "(r + t) / 2", "quarter": "r"}[profile.shop.sawn]
    terms = {symbol: name for symbol, name in both.items() if symbol in formula}
    book.add("wood.across_face", "shrinkage across a board's face, green to ovendry", "%", formula, sawn, **terms)
    for stage in ("built", "driest", "wettest"):
        terms = {"S": "wood.across_face", "M": f"year.{stage}"}
        says = worded("size of a board, {stage}, as a share of its green size", stage=translated(stage))
        book.add(f"year.{stage}.size", says, "", "1 - S / 100 * (F - min(M, F)) / F", STRAIGHT, **terms)
    for stage in ("driest", "wettest"):
        terms = {"then": f"year.{stage}.size", "now": "year.built.size"}
        says = worded("change of a board's width from built to the {end}, as a share", end=translated(stage))
        book.add(f"year.{stage}.swing", says, "", "factor * (then / now - 1)", STRAIGHT, **terms)


def write_gaps(book: Book) -> None:
    """The gaps between slats at both ends of the year."""
    for stage in ("driest", "wettest"):
        terms = {"w": "slats.solved_width", "swing": f"year.{stage}.swing"}
        says = worded("gap between slats at the {end}, slats held on their middles", end=translated(stage))
        book.add(f"slats.gap_at_{stage}", says, "mm", "g - w * swing", **terms)
