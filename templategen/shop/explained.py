"""Every figure that a sheet of this table shows, with how it came about."""

from collections.abc import Mapping

from templategen.explain.book import Book, Quantity
from templategen.explain.quantities import book_of
from templategen.explain.stance import write_strength
from templategen.fit.plan import Plan, plan_assembly
from templategen.shop.buying_quantities import write_buying
from templategen.shop.closing.study import wished
from templategen.shop.gluing.quantities import write_gluing
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.run import jobs_of
from templategen.table.assembly import Table


def explained(table: Table, plan: Plan | None = None, gluing: bool = True) -> Mapping[str, Quantity]:
    """The table's own figures and its strength, those of its set-ups, of buying and of its gluing, by name.

    `plan` spares planning the assembly again; without `gluing` it isn't needed.
    """
    book = book_of(table)
    write_strength(book, table)
    write_set_ups(book, table)
    write_buying(book, table)
    if gluing:
        write_gluing(book, table, plan or plan_assembly(table, wished(table)))
    return book.pages


def needs_gluing(name: str) -> bool:
    """Whether a figure comes from the gluing plan, which takes a while to make."""
    return name.split(".")[0] == "glue"


def write_set_ups(book: Book, table: Table) -> tuple[Quantity, ...]:
    """Writes them into the table's book; gives those written."""
    ledger = Ledger(book, table.profile)
    for _ in jobs_of(ledger, table):
        pass
    return ledger.own
