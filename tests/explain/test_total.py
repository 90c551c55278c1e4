"""Long sums are told in stages, whatever their length."""

from __future__ import annotations

import pytest

from templategen.explain.book import READABLE, Book, write_total


@pytest.mark.parametrize("many", [0, 1, READABLE, READABLE + 1, READABLE**2, READABLE**2 + 1, 2000])
def test_a_sum_of_many_is_the_sum(many: int) -> None:
    """Any number of addends comes to their sum, in formulas of twelve addends at most."""
    book = Book()
    twice = book.given("twice", "how often", 2.0, "", "made up")
    addends = [(book.given(f"part.{i}", "one", 0.25 * i, "kg", "made up"), twice) for i in range(many)]
    name = write_total(book, "all", "all of them", "kg", addends)
    assert name == "all" and book.value("all") == pytest.approx(sum(0.5 * i for i in range(many)))
    assert max(len(quantity.terms) for quantity in book) <= 2 * READABLE


def test_nothing_is_written_twice() -> None:
    """A second quantity of one name is refused, so that no story can change under another."""
    book = Book()
    book.given("one", "one", 1.0, "", "made up")
    with pytest.raises(KeyError, match="written twice"):
        book.given("one", "another", 2.0, "", "made up")


def test_a_formula_can_only_look_back() -> None:
    """A term that isn't written yet is refused: nothing can go in a circle."""
    with pytest.raises(KeyError):
        Book().add("one", "one", "", "x", x="one")
