"""The plan for a page: the plan of the table with every part of its top laid in, so that a part can be pointed at."""

from collections.abc import Iterator, Mapping

from templategen.drawing.drawing import Drawing, Shape, words_of
from templategen.drawing.lettered_plan import with_letters
from templategen.drawing.place_in_table import in_plan
from templategen.drawing.plan import arm_numbers, plan_drawing
from templategen.drawing.tones import SHOWN
from templategen.table.assembly import Table

FROM_BELOW_UP = ("slat", "rim-segment", "rail")
"""The kinds that show from above, in the order in which they cover each other."""


LETTERS = 54.0
"""A plan on a screen is so many capital heights wide."""


SMALLER = 0.8
"""Letters of joints and numbers of arms beside them."""


def toned_plan(table: Table, letters: float = LETTERS) -> Drawing:
    """The plan, its parts in the lightest tone of wood under its lines; so many capital heights wide."""
    plan = plan_drawing(table, letters=letters, titled=False)
    return Drawing(plan.title, (*_laid_in(table), *plan.marks))


def joined_plan(table: Table, letters: Mapping[int, str]) -> Drawing:
    """The same with the letters of its glued joints, by number, and the numbers of its arms."""
    plan, height = toned_plan(table), table.profile.top.diameter / LETTERS * SMALLER
    whole = Drawing(plan.title, (*plan.marks, *arm_numbers(table, tuple(words_of(plan.marks)), height)))
    return with_letters(whole, table, letters, height)


def _laid_in(table: Table) -> Iterator[Shape]:
    """Rails in the order of their height, the lowest first, as they stand among the table's placed parts."""
    for kind in FROM_BELOW_UP:
        for placed in table.placed:
            if table.part(placed.code).kind == kind:
                yield Shape(SHOWN.tones[0], in_plan(table, placed), placed.code)
