"""The paper that the customer's page is printed on."""

from __future__ import annotations

import pytest

from templategen.output.customer_sheet import CustomerSheet, customer_html


@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_the_page_asks_for_the_paper_that_is_at_hand(paper: str) -> None:
    """Whichever a browser would take of itself."""
    html = customer_html(CustomerSheet("Towpath table", (), (), ()), "", paper)
    assert f"@page {{ size: {paper} portrait;" in html
