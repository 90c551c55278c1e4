"""The splines of the rim's joints: where their slots begin and end, what is left of them in the finished ring."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians, sqrt, tan

from templategen.catalogue import translated, worded
from templategen.explain.book import Book
from templategen.explain.given import because
from templategen.explain.tongues import Reach
from templategen.table.profile.model import Profile
from templategen.table.rim import SPLINE_WALL, STOP_MARGIN


@dataclass(frozen=True, slots=True)
class ExplainedSplines:
    """The codes of the splines in the joints after each segment, none where there are none."""

    codes: tuple[str, ...]


def write_splines(book: Book, profile: Profile, reaches: Sequence[Sequence[Reach]]) -> ExplainedSplines:
    """The kinds of spline, the one that starts further in first; joint i follows segment i."""
    if profile.joints.spline == "none":
        return ExplainedSplines(())
    _rules(book)
    after = (*reaches[1:], reaches[0])
    blocked = [_is_blocked(book, one, other) for one, other in zip(reaches, after, strict=True)]
    kinds = sorted(set(blocked), key=lambda past: _start_of(book, profile, past))
    if len({_start_of(book, profile, kind) for kind in kinds}) == 1:
        kinds = kinds[:1]
    codes = {kind: "SPLINE" if len(kinds) == 1 else f"SPLINE-{'AB'[place]}" for place, kind in enumerate(kinds)}
    for kind in kinds:
        _write(book, profile, codes[kind], kind)
    return ExplainedSplines(tuple(codes.get(kind, "SPLINE") for kind in blocked))


def _rules(book: Book) -> None:
    source = "rule of this program: as much as a groove's cheek in hardwood"
    book.given("rule.spline_wall", "wood kept between a spline slot and a groove", SPLINE_WALL, "mm", source)
    source = "rule of this program: so that a stopped spline doesn't show when the ring is sawn"
    book.given("rule.stop_margin", "wood kept at a stopped spline's ends", STOP_MARGIN, "mm", source)
    wall = {"wall": "rule.spline_wall"}
    says = "a groove that ends nearer than this to a joint is in the spline's way"
    book.add("splines.near", says, "mm", "(ds + wall) / cos(mitre)", **wall)
    says = "along the joint, what the grooves beside it take"
    book.add("splines.past_groove", says, "mm", "(dg + wall) / cos(mitre)", **wall)
    book.add("splines.level", "height of the splines' middle", "mm", "T / 2")
    book.add("splines.length", "a spline across the joint, along its grain", "mm", "2 * (ds - ce)")
    book.add("splines.thickness", "a spline as planed", "mm", "st - cg")


def _is_blocked(book: Book, one: Sequence[Reach], other: Sequence[Reach]) -> bool:
    """Whether a groove beside the joint shares the slot's height and comes near it."""
    clear = book.value("rule.spline_wall") + book.value("joints.spline_thickness") / 2
    level = book.value("splines.level")
    if level + clear <= book.value("joints.groove_bottom") or level - clear >= book.value("joints.groove_top"):
        return False
    half, near = book.value("top.half_inner_length"), book.value("splines.near")
    return any(half - reach.end < near for reach in one) or any(half + reach.start < near for reach in other)


def _start_of(book: Book, profile: Profile, blocked: bool) -> float:
    start = book.value("splines.past_groove") if blocked else 0.0
    return max(start, STOP_MARGIN) if profile.joints.spline == "stopped" else start


def _write(book: Book, profile: Profile, code: str, blocked: bool) -> None:
    name, words = f"part.{code}", because(profile, "joints.spline")
    stopped = profile.joints.spline == "stopped"
    start, end = f"{name}.slot_start", f"{name}.slot_end"
    says = "where its slot begins along the joint, from the inner corner"
    terms = {"margin": "rule.stop_margin", "past": "splines.past_groove"}
    if stopped and blocked:
        book.add(start, says, "mm", "max(past, margin)", words, **terms)
    elif stopped:
        book.add(start, says, "mm", "margin", words, margin="rule.stop_margin")
    elif blocked:
        book.add(
            start,
            "where its slot begins along the joint, from the inner corner: past the groove",
            "mm",
            "past",
            words,
            past="splines.past_groove",
        )
    else:
        book.given(start, says, 0.0, "mm", worded("{words}: it runs out at the inner corner", words=words))
    says = "where its slot ends along the joint"
    if stopped:
        terms = {"wall": "top.wall_at_joint", "margin": "rule.stop_margin", "er": "top.edge_round"}
        book.add(end, says, "mm", "wall - margin - er", words, **terms)
    else:
        book.add(end, "where its slot ends along the joint: it runs out at the rim", "mm", "face", words)
    held = (blocked or stopped) and book.value(start) > 0
    says = "where the spline begins along the joint"
    book.add(f"{name}.start", says, "mm", "at + ce" if held else "at", at=start)
    says = "where the spline ends along the joint"
    if not stopped:
        says = "where the spline ends along the joint, before sawing"
    book.add(f"{name}.end", says, "mm", "to - ce" if stopped else "to", to=end)
    _area(book, profile, name)


def _area(book: Book, profile: Profile, name: str) -> None:
    """What is left of the spline in the finished ring: whole, or cut by the arc or by the two flats of the rim."""
    says, terms = "the spline in the finished ring, seen from above", {"L": "splines.length", "s": f"{name}.start"}
    outer = {"e": f"{name}.end"}
    sawn = profile.top.edge == "sawn"
    end = book.value("top.inner_corner") + book.value(f"{name}.end")
    at_edge, at_middle = _reaches(book, sawn)
    if end <= at_edge:
        formula, source = "L * (e - s)", "it ends inside the rim"
    elif end < at_middle:
        formula, source = (CORNERS_SAWN if sawn else CORNERS_FLAT), "the rim takes its two outer corners"
    else:
        formula, source, outer = (ACROSS_SAWN if sawn else ACROSS_FLAT), "the rim cuts it off all across", {}
    book.add(f"{name}.area", says, "mm2", formula, source, **terms, **outer)


ACROSS_SAWN = "L / 2 * sqrt(R**2 - L**2 / 4) + R**2 * asin(L / 2 / R) * pi / 180 - L * (corner + s)"
"""Under an arc: the integral of sqrt(R2 - x2) over the spline's length, less what lies below it."""

ACROSS_FLAT = "L * (A / cos(mitre) - corner - s) - L**2 / 4 * tan(mitre)"
"""Under two flats that meet on its middle."""

CORNERS_SAWN = (
    "L * (e - s) - (corner + e) * (L - 2 * sqrt(R**2 - (corner + e)**2)) + L / 2 * sqrt(R**2 - L**2 / 4)"
    " - (corner + e) * sqrt(R**2 - (corner + e)**2)"
    " + R**2 * (asin(L / 2 / R) - asin(sqrt(R**2 - (corner + e)**2) / R)) * pi / 180"
)
"""The whole less two slivers past the arc."""

CORNERS_FLAT = "L * (e - s) - (corner + e - A / cos(mitre) + L / 2 * tan(mitre))**2 / tan(mitre)"
"""The whole less two triangles past the flats."""


def _reaches(book: Book, sawn: bool) -> tuple[float, float]:
    """How far from the axis, along the joint, the ring reaches at a spline's two sides and on its middle."""
    half, radius = book.value("splines.length") / 2, book.value("top.radius")
    if sawn:
        return sqrt(radius**2 - half**2), radius
    tip = book.value("top.inner_corner") + book.value("top.joint_face")
    return tip - half * tan(radians(book.value("top.mitre"))), tip


def write_slots(book: Book, code: str, before: str, after: str) -> None:
    """A segment's two slots along its joints, each from the left end of the face as seen from outside."""
    for number, spline in ((1, before), (2, after)):
        name, at, to = f"part.{code}.spline-slot_{number}", f"part.{spline}.slot_start", f"part.{spline}.slot_end"
        says = worded("slot {number}, along its mitre from the left end as seen from outside", number=number)
        first, last = (f"{says}: {translated(does)}" for does in ("it begins", "it ends"))
        if number == 1:
            book.add(f"{name}.start", first, "mm", "at", at=at)
            book.add(f"{name}.end", last, "mm", "to", to=to)
        else:
            book.add(f"{name}.start", first, "mm", "face - to", to=to)
            book.add(f"{name}.end", last, "mm", "face - at", at=at)
