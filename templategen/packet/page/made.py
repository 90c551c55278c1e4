"""All that a page can show: what is drawn of the table, and whatever was found and laid out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from templategen.checks.finding import Finding
from templategen.packet.lay_out import LaidStock
from templategen.packet.page.shown import Shown


@dataclass(frozen=True, slots=True)
class Made:
    """`record` is what packet.json says; `laid` is None where no stock was asked for. `elsewhere` where it is laid
    out with that of other tables, one folder up."""

    shown: Shown
    findings: Sequence[Finding]
    laid: LaidStock | None
    record: Mapping[str, Any]
    elsewhere: bool = False

    @property
    def paths(self) -> tuple[str, ...]:
        """The files beside the page, in order."""
        return tuple(entry["path"] for entry in self.record["files"])
