"""How many slats, how wide, how far apart, and where each band runs."""

from templategen.explain.book import Book
from templategen.explain.given import because
from templategen.table.profile.model import Profile


def write_spacing(book: Book, profile: Profile, count: int) -> None:
    """The `count` slats of a field: their width, gap and each one's two edges."""
    run = profile.slats.run
    if run == "along":
        _span_along(book, profile)
    else:
        _span_from_apex(book, profile)
    _solve(book, profile, count)
    for number in range(1, count + 1):
        _band(book, run, number)


def _span_from_apex(book: Book, profile: Profile) -> None:
    run, apex = because(profile, "slats.run"), because(profile, "slats.apex")
    if profile.slats.run == "across":
        start, end, where = "top.apex", "top.field_end", "along the field's bisector"
    else:
        flat = profile.top.segments % 4 == 0
        end = "top.inner_apothem" if flat else "top.inner_corner"
        start, where = "top.half_rail", "beside the first rail"
    terms, formula = {"start": start}, "start"
    if profile.slats.run == "straight" and profile.slats.apex == "closed":
        terms, formula = terms | {"cs": "joints.shoulder_clearance"}, "start + cs"
    book.add("slats.start", f"where slats begin, {where}", "mm", formula, run, **terms)
    book.add("slats.end", f"where slats end, {where}", "mm", "end", run, end=end)
    book.add("slats.span", "what slats and gaps fill", "mm", "end - start", end="slats.end", start="slats.start")
    extra = 1.0 if profile.slats.apex == "open" else 0.0
    says = "gaps that there are more than slats"
    book.given("slats.extra_gaps", says, extra, "", f"{apex}: " + ("a gap first" if extra else "a slat first"))
    terms = {"e": "slats.extra_gaps", "g": "slats.gap", "w": "slats.width"}
    book.add("slats.rounded_count", "slats, rounded", "", "round((span - e * g) / (w + g))", run, **terms)


def _span_along(book: Book, profile: Profile) -> None:
    run, apex = because(profile, "slats.run"), because(profile, "slats.apex")
    says = "how far a field reaches sideways of its bisector: its corner between arm and rim"
    book.add("slats.half_span", says, "mm", "a * sin(th / 2) - b * cos(th / 2)", run)
    book.add("slats.span", "what slats and gaps fill", "mm", "2 * half", half="slats.half_span")
    book.given("slats.extra_gaps", "gaps that there are more than slats", 1.0, "", f"{run}: a gap at both sides")
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
    if holds_width:
        book.add("slats.solved_width", "width of a slat", "mm", "w", hold, w="slats.width")
        terms["w"] = "slats.width"
        book.add("slats.solved_gap", "gap between slats", "mm", "(span - n * w) / (n + e)", hold, **terms)
    else:
        terms["g"] = "slats.gap"
        book.add("slats.solved_width", "width of a slat", "mm", "(span - (n + e) * g) / n", hold, **terms)
        book.add("slats.solved_gap", "gap between slats", "mm", "g", hold, g="slats.gap")
    book.add("slats.pitch", "from one slat to the next", "mm", "w + g", w="slats.solved_width")
    if profile.slats.run == "across":
        says = "how much longer each slat is than the one before, between arms"
        book.add("slats.growth", says, "mm", "2 * pitch * tan(th / 2)")


def _count(book: Book, count: int) -> None:
    """The number of slats, by its difference from the rounded one."""
    more = count - round(book.value("slats.rounded_count"))
    says = "slats side by side"
    if more:
        says += ": the number nearest to that which leaves room, and gaps that drain and catch no finger all year"
    formula = "n" if not more else f"n {'+' if more > 0 else '-'} {abs(more)}"
    book.add("slats.count", says, "", formula, n="slats.rounded_count")


def _band(book: Book, run: str, number: int) -> None:
    """A slat's two edges, from the table's axis square to its run."""
    low = f"slats.{number}.low"
    if run == "along":
        formula, terms = f"g - half + {number - 1} * pitch", {"half": "slats.half_span"}
    else:
        formula, terms = f"start + e * g + {number - 1} * pitch", {"start": "slats.start", "e": "slats.extra_gaps"}
    from_axis = "measured from the table's axis, square to its run"
    book.add(low, f"the nearer edge of slat {number}, {from_axis}", "mm", formula, **terms)
    book.add(f"slats.{number}.behind", f"the same, outwards from slat {number}", "mm", "-low", low=low)
    both = {"low": low, "w": "slats.solved_width"}
    book.add(f"slats.{number}.high", f"its further edge, {from_axis}", "mm", "low + w", **both)
