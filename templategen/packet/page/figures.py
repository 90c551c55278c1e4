"""How the figures came about: the sizes that everything else leans on, each with its formula and its source."""

from collections.abc import Mapping

from templategen.catalogue import translated
from templategen.explain.book import Quantity
from templategen.explain.words import value_in_units, worked
from templategen.output.page.content import Grid, Section, Sheet
from templategen.table.assembly import Table

SHOWN = ("top", "slats", "joints", "legs", "base")
"""What stands on the page; `templategen explain` tells every figure there is."""


WORDS = (
    "Formulas are in {units} and degrees. `templategen explain PROFILE NAME` tells the same of every figure, "
    "down to the line of the profile."
)


def figures(table: Table, known: Mapping[str, Quantity]) -> Section:
    """The figures of the whole table."""
    rows = []
    for name, quantity in known.items():
        if quantity.formula and name.partition(".")[0] in SHOWN:
            value = value_in_units(quantity.value, quantity.unit, table.profile.units)
            sum_of = worked(quantity, known, table.profile.units)
            rows.append((name, quantity.says, value, sum_of, quantity.source))
    grid = Grid(("name", "what", "is", "by", "source"), tuple(rows), figures=(2,))
    inches = table.profile.units == "in"
    units = translated("inches") if inches else translated("millimetres")
    words = translated(WORDS).format(units=units)
    return Section("figures", "How the figures came about", (Sheet("sizes", "", (words,), grids=(grid,)),))
