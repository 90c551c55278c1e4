"""The quantities that set-ups add to those of a table, for `explain`."""

from __future__ import annotations

from templategen.explain.book import Book
from templategen.explain.quantities import book_of
from templategen.explain.quantity import Quantity
from templategen.shop.set_ups.jobs import jobs_of
from templategen.shop.set_ups.ledger import Ledger
from templategen.table.assembly import Table


def set_up_quantities(table: Table) -> tuple[Quantity, ...]:
    """Those that only set-ups have; each stands after those it uses."""
    return write_set_ups(book_of(table), table)


def write_set_ups(book: Book, table: Table) -> tuple[Quantity, ...]:
    """Writes them into the table's book; gives those written."""
    ledger = Ledger(book, table.profile)
    for _ in jobs_of(ledger, table):
        pass
    return ledger.own
