"""What stands at the foot of the page."""

from __future__ import annotations

import pytest

from templategen.output.page.content import Page
from templategen.output.page.render import page_html


@pytest.mark.parametrize("at_machines", [True, False])
def test_guards_are_told_of_where_there_are_machines(at_machines: bool) -> None:
    """In a shop of hand tools none stands on any."""
    html = page_html(Page("Towpath table", "", "1", "key", (), at_machines=at_machines))
    foot = html[html.index("<footer") :]
    assert ("Guards on." in foot) is at_machines
    assert "a competent person come before this page" in foot and "screening checks" in foot
