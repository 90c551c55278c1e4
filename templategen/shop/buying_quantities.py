"""How the figures of buying come about: boards to ask for, finish, pins."""

from __future__ import annotations

from math import fsum

from templategen.explain.book import Book
from templategen.explain.total import write_total
from templategen.shop.boards import LONGER, WIDER, boards_of
from templategen.shop.finish import COVERAGE, FURTHER, MM2_PER_M2, surface
from templategen.shop.pins import PIN, SHORTER
from templategen.table.assembly import Table

PRACTICE = "shop practice, not a standard"
LABELS = "as labels state for planed wood"


def write_buying(book: Book, table: Table) -> None:
    """Boards by wood and thickness as they stand in the list, litres of finish, a pin's length."""
    _boards(book, table)
    _finish(book, table)
    source = "assumed: so that a pin never shows"
    book.given("hardware.pin_thickness", "thickness of a slat's pin", PIN, "mm", "assumed")
    book.given("hardware.pin_shorter", "how far a pin stays under the tongue's upper face", SHORTER, "mm", source)
    terms = {"cheek": "joints.groove_bottom", "tt": "joints.slat_tongue_thickness", "less": "hardware.pin_shorter"}
    book.add("hardware.pin_length", "a slat's pin at its longest", "mm", "max(0, cheek) + tt - less", **terms)


def _boards(book: Book, table: Table) -> None:
    book.given("boards.longer", "added to each part's length", LONGER, "mm", f"{PRACTICE}: 25 to 50 mm")
    book.given("boards.wider", "added to each part's width", WIDER, "mm", f"{PRACTICE}: 6 to 10 mm")
    for number, boards in enumerate(boards_of(table), 1):
        name = f"boards.{number}"
        for code in boards.codes:
            terms = {"L": f"part.{code}.length", "longer": "boards.longer"}
            terms |= {"W": f"part.{code}.width", "wider": "boards.wider"}
            says = f"board that one {code} takes, with allowances"
            book.add(f"part.{code}.rough_area", says, "mm2", "(L + longer) * (W + wider)", **terms)
        addends = [(f"part.{code}.rough_area", f"part.{code}.count") for code in boards.codes]
        write_total(book, f"{name}.area", "boards that these parts take, with allowances", "mm2", addends)
        source = "stock of the profile" if boards.stock else "thinnest that yards saw with enough to plane off"
        book.given(f"{name}.bought", f"thickness of {boards.wood} bought", boards.bought, "mm", source)
        formula, terms = "area * t * (1 + waste / 100) / 1e9", {"area": f"{name}.area", "t": f"{name}.bought"}
        says = f"{boards.wood} of that thickness to ask for"
        book.add(
            f"{name}.to_buy",
            says,
            "m3",
            formula,
            "blanks with allowances, and waste on top",
            waste="shop.waste",
            **terms,
        )


def _finish(book: Book, table: Table) -> None:
    faces = fsum(part.count * surface(part) for part in table.parts) / MM2_PER_M2
    glued = fsum(2 * joint.contact_mm2 for joint in table.joints if joint.traits.glued) / MM2_PER_M2
    measured = "measured on the finished parts, cuts with their walls"
    book.given("finish.faces", "all faces of all parts", faces, "m2", measured)
    book.given("finish.glued", "faces that glue covers, both sides of each joint", glued, "m2", measured)
    book.add(
        "finish.bare", "faces that finish goes on", "m2", "faces - glued", faces="finish.faces", glued="finish.glued"
    )
    for word, cover, further in (("most", COVERAGE[0], FURTHER[0]), ("least", COVERAGE[1], FURTHER[1])):
        book.given(f"finish.{word}.coverage", "m2 that a litre covers", cover, "", LABELS)
        book.given(f"finish.{word}.further", "by how much further a later coat goes", further, "", "rule of thumb")
        terms = {"bare": "finish.bare", "cover": f"finish.{word}.coverage", "further": f"finish.{word}.further"}
        formula = "bare / cover * (1 + (coats - 1) / further)"
        book.add(f"finish.{word}.litres", f"finish at {word}", "l", formula, coats="shop.coats", **terms)
