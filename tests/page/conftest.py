"""One browser for the tests of a file."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from tests.page.browser import browsing


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    """The system's Chromium."""
    with browsing() as opened:
        yield opened
