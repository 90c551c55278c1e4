"""The re-fit as a list: what to cut, how far each piece slides, what stays open, what was measured."""

from collections.abc import Iterator
from math import degrees

from templategen.catalogue import figured, meant, translated, worded
from templategen.parts.sides import of_a_piece
from templategen.shop.listing import Cell, Listing
from templategen.shop.refit.rebuild import copies_of
from templategen.shop.refit.refit import Refit
from templategen.shop.refit.ring import designed
from templategen.shop.refit.settle import named
from templategen.units import MM_PER_INCH, angle_words, format_mm

HEADER = ("about", "code", "place", "figure", "value", "unit", "drawn", "what_to_do")

ABOUT = {"shoulder": "shoulder of a rail"}
"""What a translator is asked for what rows are about, where that means something else elsewhere."""

Row = tuple[str, str, str, str, float | None, str, float | None, str]
"""One line; angles in degrees, lengths in mm."""


def refit_list(found: Refit) -> Listing:
    """Header and rows; lengths to 0.01 mm (and 0.001 in for inch profiles), angles to 0.001 degrees."""
    rows = [*_parts(found), *_ring(found), *_joints(found), *_shoulders(found), *_measured(found)]
    inches = found.drawn.profile.units == "in"
    header = [*HEADER[:5], *(["value_in"] if inches else []), *HEADER[5:]]
    return header, [list(_cells(row, inches)) for row in rows]


def _cells(row: Row, inches: bool) -> Iterator[Cell]:
    about, code, place, figure, value, unit, drawn, does = row
    yield from (meant(about, ABOUT.get(about, about)), code, place, translated(figure))
    yield _cell(value, unit)
    if inches:
        yield float(format_mm(value / float(MM_PER_INCH), 3)) if unit == "mm" and value is not None else ""
    yield "°" if unit == "deg" else translated(unit)
    yield _cell(drawn, unit)
    yield does


def _cell(value: float | None, unit: str) -> Cell:
    """The number with its unit's digits, as a number, so that one below 0 isn't taken for words."""
    if value is None:
        return ""
    return float(format_mm(value, {"mm": 2, "deg": 3}[unit])) if unit in ("mm", "deg") else round(value)


def _parts(found: Refit) -> Iterator[Row]:
    """Every part still to cut, new shapes first."""
    rebuilt = found.rest
    new = set(rebuilt.new)
    for code in sorted(rebuilt.to_cut, key=lambda code: code not in new):
        count = rebuilt.to_cut[code]
        first = rebuilt.was[code]
        name = rebuilt.table.part(code).name
        told = "{name}: cut {count}, instead of {first}" if code in new else "cut {count}, as drawn"
        does = worded(told, name=name, count=count, first=first)
        yield "part", code, "", "to cut", float(count), "pieces", None, does
    if found.end is not None:
        ((code, place),) = found.recut
        end = of_a_piece(f"{found.end.side} end")
        does = worded("first try this: saw its {end} alone to that angle, then measure and re-fit again", end=end)
        yield "part", code, str(place), end, degrees(found.end.angle), "deg", None, does
        taken = translated("what that takes")
        yield "part", code, str(place), "inner edge shorter", found.end.inner, "mm", None, taken
        yield "part", code, str(place), "outer edge shorter", found.end.outer, "mm", None, taken
    for copy in found.recut:
        does = translated("cut it anew, or the ring can't close")
        yield "part", copy[0], str(copy[1]), "recut", 1.0, "pieces", None, does


def _ring(found: Refit) -> Iterator[Row]:
    """Each place of the ring: what its segment measures and how far it slides."""
    drawn = designed(found.drawn.sizes)
    pairs = zip(found.seated.closed.pieces, found.seated.slides, strict=True)
    table = found.rebuilt.table
    for number, (piece, slide) in enumerate(pairs, 1):
        code, place = table.placed[number - 1].code, str(number)
        edge = translated("inner edge, as cut" if piece.cut else "inner edge, to cut")
        off = translated("off square, as cut" if piece.cut else "off square, to cut")
        yield "segment", code, place, "length", piece.length, "mm", drawn.length, edge
        left, right = degrees(piece.left), degrees(piece.right)
        yield "segment", code, place, "left angle", left, "deg", degrees(drawn.left), off
        yield "segment", code, place, "right angle", right, "deg", degrees(drawn.right), off
        way = "outwards" if slide > 0.005 else "inwards" if slide < -0.005 else "stays"
        arm, rest = divmod(number - 1, found.drawn.sizes.segments_per_field)
        along = worded("along arm {arm}" if rest == 0 else "along its middle line", arm=arm + 1)
        yield "segment", code, place, "slide", slide, "mm", 0.0, f"{translated(way)}, {along}"


def _joints(found: Refit) -> Iterator[Row]:
    closed = found.seated.closed
    limits = found.rebuilt.table.profile.limits
    count = len(closed.pieces)
    codes = [placed.code for placed in found.rebuilt.table.placed[:count]]
    for number, (joint, gap) in enumerate(zip(closed.joints, closed.gaps, strict=True), 1):
        after = number % count + 1
        place, both = (
            worded("{first} to {last}", first=number, last=after),
            f"{codes[number - 1]} / {codes[after - 1]}",
        )
        held = "within what glue bridges" if gap <= limits.joint_gap else "wider than glue bridges"
        side = "closed" if gap < 0.005 else "open outside" if joint.wedge > 0 else "open inside"
        yield "joint", both, place, "gap", gap, "mm", 0.0, f"{translated(side)}; {translated(held)}"
        step = joint.slide
        told = "flush" if abs(step) < 0.005 else "segment {number} stands further out"
        does = worded(told, number=after if step > 0 else number)
        yield "joint", both, place, "step", abs(step), "mm", 0.0, does
    does = translated("one standard deviation of the measuring")
    yield "joint", "", "", "gap known to", found.sure, "mm", None, does


def _shoulders(found: Refit) -> Iterator[Row]:
    for one in found.shoulders:
        off = "stands off the rim" if one.gap > 0 else "too long: trim it"
        does = off if abs(one.gap) > 0.005 else "meets the rim"
        arm = worded("arm {arm}", arm=one.arm + 1)
        yield "shoulder", one.copy[0], arm, "gap", one.gap, "mm", 0.0, translated(does)


def _measured(found: Refit) -> Iterator[Row]:
    """What was measured, balanced where sizes depend on each other."""
    for copy in sorted(found.settled.cut, key=lambda copy: copies_of(found.drawn).index(copy)):
        sizes = found.settled.sizes.get(copy, {})
        if not sizes:
            yield "cut", *_place(copy), "as drawn", None, "", None, worded("{copy} is cut", copy=named(copy))
        for name, best in sizes.items():
            angle = name.endswith("angle")
            value = degrees(best.value) if angle else best.value
            sure = degrees(best.accuracy) if angle else best.accuracy
            unit = "deg" if angle else "mm"
            told = worded(
                "measured, to {size}", size=figured(angle_words(sure) if angle else f"{format_mm(sure, 3)} {unit}")
            )
            yield "cut", *_place(copy), name.replace("_", " "), value, unit, None, told


def _place(copy: tuple[str, int]) -> tuple[str, str]:
    return copy[0], str(copy[1])
