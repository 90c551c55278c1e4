"""Long sums, told in stages that can be read."""

from collections.abc import Sequence

from templategen.explain.book import Book
from templategen.explain.quantity import Unit

READABLE = 12
"""Addends in one formula at most."""

Addend = tuple[str, str]
"""A quantity to add, and the quantity that it is taken times, "" for once."""


def write_total(book: Book, name: str, says: str, unit: Unit, addends: Sequence[Addend], source: str = "") -> str:
    """Writes down a sum; of many addends in stages, `NAME.sum_1` and so on."""
    size = READABLE
    while size * READABLE < len(addends):
        size *= READABLE
    if len(addends) <= READABLE:
        return _sum(book, name, says, unit, addends, source)
    stages = [addends[start : start + size] for start in range(0, len(addends), size)]
    sums: list[Addend] = []
    for number, stage in enumerate(stages, 1):
        words = f"{says}: {number}. of {len(stages)} parts of the sum"
        sums.append((write_total(book, f"{name}.sum_{number}", words, unit, stage, source), ""))
    return _sum(book, name, says, unit, sums, source)


def _sum(book: Book, name: str, says: str, unit: Unit, addends: Sequence[Addend], source: str) -> str:
    terms: dict[str, str] = {}
    sums = []
    for number, (value, times) in enumerate(addends, 1):
        terms[f"a{number}"] = value
        if times:
            terms[f"n{number}"] = times
        sums.append(f"n{number} * a{number}" if times else f"a{number}")
    if not sums:
        return book.given(name, says, 0.0, unit, source or "there are none")
    return book.add(name, says, unit, " + ".join(sums), source, **terms)
