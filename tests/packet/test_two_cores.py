"""What the second core does is nothing that the first waits for before its own work is done."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from templategen.packet.make import IN_ORDER, ON_SECOND_CORE
from templategen.packet.pipeline import Stage
from templategen.packet.share_files import FILES


def needed(stage: Stage[Any]) -> Iterator[Stage[Any]]:
    """The stage and all that it is made of."""
    yield stage
    for one in stage.of:
        yield from needed(one)


def test_the_first_core_waits_for_nothing_of_the_second() -> None:
    """Until the files are gathered: one stage in common, and all of its work stands still till the other is done."""
    own = [stage for _, _, stage in IN_ORDER]
    before = own[: own.index(FILES)]
    assert len(before) >= 5
    for stage in before:
        assert not {one.name for one in needed(stage)} & {one.name for one in ON_SECOND_CORE}, stage.name
    assert {one.name for one in ON_SECOND_CORE} & {one.name for one in needed(FILES)}
