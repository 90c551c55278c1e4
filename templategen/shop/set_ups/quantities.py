"""The quantities that set-ups add to those of a table, for `explain`."""

from templategen.explain.book import Book
from templategen.explain.quantity import Quantity
from templategen.shop.set_ups.jobs import jobs_of
from templategen.shop.set_ups.ledger import Ledger
from templategen.table.assembly import Table


def write_set_ups(book: Book, table: Table) -> tuple[Quantity, ...]:
    """Writes them into the table's book; gives those written."""
    ledger = Ledger(book, table.profile)
    for _ in jobs_of(ledger, table):
        pass
    return ledger.own
