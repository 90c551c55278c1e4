"""Bolt, barrel nut and their bores, from the wood's thickness and the hardware's sizes."""

from templategen.explain.book import Book
from templategen.joinery.bolt import CLEARANCE, END, SPARE, STEP, SUNK

TRADE = "tables of the trade: M8 in 9 mm, M10 in 11"
ASSUMED = "assumed"


def write_bolts(book: Book) -> None:
    """What joinery does in its own words, formula by formula."""
    thread, head, tall, nut = (
        f"legs.{name}" for name in ("bolt.thread", "bolt.head", "bolt.head_height", "barrel_nut.diameter")
    )
    book.given("legs.bolt_play", "a bolt's hole, and its head's, over its own thickness", CLEARANCE, "mm", TRADE)
    book.given("legs.bolt_sunk", "how far a bolt's head lies under the face", SUNK, "mm", ASSUMED)
    book.given("legs.bolt_spare", "bore past a bolt's tip", SPARE, "mm", ASSUMED)
    _widths(book, thread, head)
    sink = {"h": tall, "sunk": "legs.bolt_sunk"}
    book.add("legs.counterbore_depth", "depth of the counterbore for a bolt's head", "mm", "h + sunk", **sink)
    grip = {"T": "top.thickness", "sink": "legs.counterbore_depth"}
    book.add("legs.bolt_grip", "rail under a bolt's head, down to the leg's shoulder", "mm", "T - sink", **grip)
    terms = {"g": "legs.bolt_grip", "M": thread, "n": nut}
    formula = f"ceil((g + {END:g} * M + n / 2) / {STEP:g} - 1e-9) * {STEP:g}"
    source = f"a loaded end is {END:g} thicknesses of the bolt at least (EN 1995-1-1); sold in steps of {STEP:g} mm"
    book.add("legs.bolt_length", "length of a bolt under its head", "mm", formula, source, **terms)
    terms = {"L": "legs.bolt_length", "g": "legs.bolt_grip", "n": nut}
    book.add("legs.nut_below", "from the leg's shoulder to the middle of its nut", "mm", "L - g - n / 2", **terms)
    terms = {"l": "legs.stub", "d": "legs.nut_below", "n": nut, "spare": "legs.bolt_spare"}
    says = "depth of the bolt's hole from the tenon's end"
    book.add("legs.bolt_hole_depth", says, "mm", "l + d + n / 2 + spare", **terms)
    terms = {"s": "legs.section", "l": "legs.barrel_nut.length"}
    book.add("legs.cross_bore_depth", "depth of the cross bore for the nut", "mm", "(s + l) / 2", **terms)


def _widths(book: Book, thread: str, head: str) -> None:
    play = {"play": "legs.bolt_play"}
    book.add("legs.bolt_hole", "diameter of a bolt's hole", "mm", "M + play", M=thread, **play)
    book.add("legs.counterbore", "diameter of the counterbore for its head", "mm", "D + play", D=head, **play)
