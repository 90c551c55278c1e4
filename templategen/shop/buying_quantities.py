"""How the figures of buying come about: boards to ask for, finish, pins."""

from math import fsum

from templategen.catalogue import translated, worded
from templategen.explain.book import Book, write_total
from templategen.parts.part import Part
from templategen.shop.boards import boards_of, rough_in
from templategen.shop.finish import COVERAGE, FURTHER, MM2_PER_M2, surface
from templategen.shop.gluing.hold import bonded_area
from templategen.shop.pins import SHORTER
from templategen.shop.rough import SQUARED, Rough, first_lean
from templategen.table.assembly import Table

PRACTICE = "shop practice, not a standard"
LABELS = "as labels state for planed wood"


def write_buying(book: Book, table: Table) -> None:
    """Boards by wood and thickness as they stand in the list, litres of finish, a pin's length."""
    _boards(book, table)
    _finish(book, table)
    source = "assumed: so that a pin never shows"
    book.given("hardware.pin_shorter", "how far a pin stays under the tongue's upper face", SHORTER, "mm", source)
    terms = {"cheek": "joints.groove_bottom", "tt": "joints.slat_tongue_thickness", "less": "hardware.pin_shorter"}
    book.add("hardware.pin_length", "a slat's pin at its longest", "mm", "max(0, cheek) + tt - less", **terms)


def _boards(book: Book, table: Table) -> None:
    book.given("rough.squared", "trimmed between two pieces of a strip", SQUARED, "mm", PRACTICE)
    for number, boards in enumerate(boards_of(table), 1):
        name, wood = f"boards.{number}", translated(boards.wood)
        for code in boards.codes:
            _rough(book, table, table.part(code))
        addends = [(f"part.{code}.rough_area", f"part.{code}.rough_count") for code in boards.codes]
        write_total(book, f"{name}.area", "boards that these parts take, with allowances", "mm2", addends)
        source = "stock of the profile" if boards.stock else "thinnest that yards saw with enough to plane off"
        says = worded("thickness of {wood} bought", wood=wood)
        book.given(f"{name}.bought", says, boards.bought, "mm", source)
        how = "as sawn, where it is bought planed"
        says = worded("thickness by which {wood} is reckoned", wood=wood)
        book.given(f"{name}.sawn", says, boards.sawn, "mm", how)
        formula, terms = "area * t * (1 + waste / 100) / 1e9", {"area": f"{name}.area", "t": f"{name}.sawn"}
        says = worded("{wood} of that thickness to ask for", wood=wood)
        source = "blanks with allowances, and waste on top"
        book.add(f"{name}.to_buy", says, "m3", formula, source, waste="shop.waste", **terms)


def _rough(book: Book, table: Table, part: Part) -> None:
    """What is sawn out for one kind of part: a longer and wider blank, or a strip of several."""
    shop, name = table.profile.shop, f"part.{part.code}"
    rough = rough_in(table.profile, part)
    each = rough.pieces // rough.layers
    size = "short" if part.size[0] <= 1000 else "middle" if part.size[0] <= 2000 else "long"
    terms, code = {"L": f"{name}.length"}, {"code": part.code}
    if part.blank.bounds.width < shop.holding:
        says = worded("pieces of {code} on a strip", **code)
        book.given(f"{name}.on_a_strip", says, each, "", "strips as alike as can be")
        says = worded("how far its first end leans, as a share of its width: {code}", **code)
        book.given(f"{name}.first_lean", says, first_lean(part), "", "measured on the blank")
        terms |= {"lean": f"{name}.first_lean", "kerf": "shop.saw_kerf", "sq": "rough.squared"}
        says, formula = worded("what each {code} takes of its strip", **code), "L + kerf * sqrt(1 + lean**2) + sq"
        book.add(f"{name}.apart", says, "mm", formula, **terms)
        terms = {"n": f"{name}.on_a_strip", "each": f"{name}.apart", "lean": f"{name}.first_lean"}
        terms |= {"W": f"{name}.width", "more": f"shop.wider.{size}", "hold": "shop.strip_end", "fed": "shop.holding"}
        formula = "max(fed, n * each + lean * (W + more) + hold)"
        book.add(f"{name}.rough_length", worded("strip of {code} as sawn out", **code), "mm", formula, **terms)
        terms = {"count": f"{name}.count", "n": f"{name}.on_a_strip", "deep": _layers(book, part, rough)}
        book.add(f"{name}.rough_count", worded("strips of {code}", **code), "", "ceil(count / (n * deep))", **terms)
    else:
        terms |= {"more": "shop.longer", "lean": f"{name}.rough_lean"}
        lean = rough.length - part.size[0] - shop.longer
        says = worded("what its leaning ends gain over the width added: {code}", **code)
        book.given(f"{name}.rough_lean", says, lean, "mm", "measured on the blank")
        book.add(f"{name}.rough_length", worded("one {code} as sawn out", **code), "mm", "L + more + lean", **terms)
        terms = {"count": f"{name}.count", "deep": _layers(book, part, rough)}
        book.add(f"{name}.rough_count", worded("blanks of {code}", **code), "", "ceil(count / deep)", **terms)
    terms = {"W": f"{name}.width", "more": f"shop.wider.{size}"}
    book.add(f"{name}.rough_width", worded("its width as sawn out: {code}", **code), "mm", "W + more", **terms)
    terms = {"L": f"{name}.rough_length", "W": f"{name}.rough_width"}
    book.add(f"{name}.rough_area", worded("board that it takes: {code}", **code), "mm2", "L * W", **terms)


def _layers(book: Book, part: Part, rough: Rough) -> str:
    """How many lie on top of each other in a board; gives the quantity's name."""
    name, source = f"part.{part.code}.rough_layers", "thicknesses, kerfs and faces that the board holds"
    says = worded("{code} on top of each other in its board", code=part.code)
    book.given(name, says, rough.layers, "", source)
    return name


def _finish(book: Book, table: Table) -> None:
    faces = fsum(part.count * surface(part) for part in table.parts) / MM2_PER_M2
    glued = fsum(2 * bonded_area(table, joint) for joint in table.joints if joint.traits.glued) / MM2_PER_M2
    measured = "measured on the finished parts, cuts with their walls"
    book.given("finish.faces", "all faces of all parts", faces, "m2", measured)
    book.given("finish.glued", "faces that glue covers, both sides of each joint", glued, "m2", measured)
    both = {"faces": "finish.faces", "glued": "finish.glued"}
    book.add("finish.bare", "faces that finish goes on", "m2", "faces - glued", **both)
    for word, cover, further in (("most", COVERAGE[0], FURTHER[0]), ("least", COVERAGE[1], FURTHER[1])):
        book.given(f"finish.{word}.coverage", "m2 that a litre covers", cover, "", LABELS)
        book.given(f"finish.{word}.further", "by how much further a later coat goes", further, "", "rule of thumb")
        terms = {"bare": "finish.bare", "cover": f"finish.{word}.coverage", "further": f"finish.{word}.further"}
        formula = "bare / cover * (1 + (coats - 1) / further)"
        book.add(
            f"finish.{word}.litres",
            "finish at most" if word == "most" else "finish at least",
            "l",
            formula,
            coats="shop.coats",
            **terms,
        )
