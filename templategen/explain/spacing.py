"""How many slats, how wide, how far apart, and where each band runs."""

from templategen.catalogue import translated, worded
from templategen.explain.book import Book
from templategen.explain.given import because
from templategen.table.profile.model import Profile

ALONG_BISECTOR = (
    "where slats begin, along the field's bisector", "where slats end, along the field's bisector",
)  # fmt: skip
BESIDE_RAIL = "where slats begin, beside the first rail", "where slats end, beside the first rail"


def write_spacing(book: Book, profile: Profile, count: int) -> None:
    """The `count` slats of a field: their width, gap and each one's two edges."""
    run = profile.slats.run
    if run == "along":
        _span_along(book, profile)
    else:
        _span_from_apex(book, profile)
    _solve(book, profile, count)
    for number in range(1, count + 1):
        _band(book, profile, number)


def _span_from_apex(book: Book, profile: Profile) -> None:
    run, apex = because(profile, "slats.run"), because(profile, "slats.apex")
    if profile.slats.run == "across":
        start, end, places = "top.apex", "top.field_end", ALONG_BISECTOR
    else:
        flat = profile.top.segments % 4 == 0
        end = "top.inner_apothem" if flat else "top.inner_corner"
        start, places = "top.half_rail", BESIDE_RAIL
    terms, formula = {"start": start}, "start"
    beside = profile.slats.lie_along_a_rail
    if beside:
        terms, formula = terms | {"cs": "joints.shoulder_clearance"}, "start + cs"
    book.add("slats.start", places[0], "mm", formula, run, **terms)
    book.add("slats.end", places[1], "mm", "end", run, end=end)
    book.add("slats.span", "what slats and gaps fill", "mm", "end - start", end="slats.end", start="slats.start")
    if beside:
        says = "the share of its width by which a slat pinned in its middle swells towards the rail beside it"
        book.add("slats.beside", says, "", "max(0, wet) / 2", run)
    extra = 1.0 if profile.slats.apex == "open" else 0.0
    says, first = "gaps that there are more than slats", translated("a gap first" if extra else "a slat first")
    book.given("slats.extra_gaps", says, extra, "", f"{apex}: {first}")
    terms = {"e": "slats.extra_gaps", "g": "slats.gap", "w": "slats.width"}
    formula = "round((span - e * g) / (w + g))"
    if beside:
        terms, formula = terms | {"sb": "slats.beside"}, "round((span - e * g - sb * w) / (w + g))"
    book.add("slats.rounded_count", "slats, rounded", "", formula, run, **terms)


def _span_along(book: Book, profile: Profile) -> None:
    run, apex = because(profile, "slats.run"), because(profile, "slats.apex")
    says = "how far a field reaches sideways of its bisector: its corner between arm and rim"
    book.add("slats.half_span", says, "mm", "a * sin(th / 2) - b * cos(th / 2)", run)
    book.add("slats.span", "what slats and gaps fill", "mm", "2 * half", half="slats.half_span")
    source = worded("{run}: a gap at both sides", run=run)
    book.given("slats.extra_gaps", "gaps that there are more than slats", 1.0, "", source)
    odd = 0.0 if profile.slats.apex == "open" else 1.0
    says = "1 where a slat lies on the bisector, 0 where a gap does"
    book.given("slats.on_bisector", says, odd, "", apex)
    terms = {"g": "slats.gap", "w": "slats.width", "odd": "slats.on_bisector"}
    formula = "2 * round(((span - g) / (w + g) - odd) / 2) + odd"
    book.add("slats.rounded_count", "slats, rounded to the nearest that leaves the bisector so", "", formula, **terms)


def _solve(book: Book, profile: Profile, count: int) -> None:
    """Width and gap: the one that isn't held is solved so that slats and gaps fill the span."""
    hold = because(profile, "slats.hold")
    holds_width = profile.slats.hold == "width"
    _count(book, count)
    terms = {"n": "slats.count", "e": "slats.extra_gaps"}
    slats = "n"
    if profile.slats.lie_along_a_rail:
        terms, slats = terms | {"sb": "slats.beside"}, "(n + sb)"
    if holds_width:
        book.add("slats.solved_width", "width of a slat", "mm", "w", hold, w="slats.width")
        terms["w"] = "slats.width"
        book.add("slats.solved_gap", "gap between slats", "mm", f"(span - {slats} * w) / (n + e)", hold, **terms)
    else:
        terms["g"] = "slats.gap"
        book.add("slats.solved_width", "width of a slat", "mm", f"(span - (n + e) * g) / {slats}", hold, **terms)
        book.add("slats.solved_gap", "gap between slats", "mm", "g", hold, g="slats.gap")
    book.add("slats.pitch", "from one slat to the next", "mm", "w + g", w="slats.solved_width")
    if profile.slats.run == "across":
        says = "how much longer each slat is than the one before, between arms"
        book.add("slats.growth", says, "mm", "2 * pitch * tan(th / 2)")


def _count(book: Book, count: int) -> None:
    """The number of slats, by its difference from the rounded one."""
    more = count - round(book.value("slats.rounded_count"))
    says = (
        "slats side by side: the number nearest to that which leaves room, and gaps that drain and catch no finger "
        "all year" if more else "slats side by side"
    )  # fmt: skip
    formula = "n" if not more else f"n {'+' if more > 0 else '-'} {abs(more)}"
    book.add("slats.count", says, "", formula, n="slats.rounded_count")


def _band(book: Book, profile: Profile, number: int) -> None:
    """A slat's two edges, from the table's axis square to its run."""
    low = f"slats.{number}.low"
    if profile.slats.run == "along":
        formula, terms = f"g - half + {number - 1} * pitch", {"half": "slats.half_span"}
    else:
        formula, terms = f"start + e * g + {number - 1} * pitch", {"start": "slats.start", "e": "slats.extra_gaps"}
    if profile.slats.lie_along_a_rail:
        formula, terms = f"{formula} + sb * w", terms | {"sb": "slats.beside", "w": "slats.solved_width"}
    says = worded(
        "the nearer edge of slat {number}, measured from the table's axis, square to its run", number=number
    )
    book.add(low, says, "mm", formula, **terms)
    says = worded("the same, outwards from slat {number}", number=number)
    book.add(f"slats.{number}.behind", says, "mm", "-low", low=low)
    both = {"low": low, "w": "slats.solved_width"}
    says = "its further edge, measured from the table's axis, square to its run"
    book.add(f"slats.{number}.high", says, "mm", "low + w", **both)
